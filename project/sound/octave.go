// SPDX-License-Identifier: MIT

package sound

import (
	"math"

	"earline/project"
	"earline/project/air"
)

// Midbands returns the exact middles of project.Octaves, hertz: 1000 times a
// power of 10^0.3 (IEC 61260-1), 63.096 Hz to 7943.3 Hz.
func Midbands() [project.OctaveCount]float64 {
	var out [project.OctaveCount]float64
	for o := range out {
		out[o] = 1000 * math.Pow(10, 0.3*float64(o-kilohertz))
	}
	return out
}

// kilohertz is the index of the 1 kHz octave; octave o is 2^(o-kilohertz) kHz.
const kilohertz = 4

// roomAir is the air of a room, worked out once for each octave.
type roomAir struct {
	speed float64                      // m/s
	loss  [project.OctaveCount]float64 // dB/m
}

func airOf(a project.Air) roomAir {
	a = a.OrUsual()
	out := roomAir{speed: air.Speed(a.Temperature)}
	for o, f := range Midbands() {
		out.loss[o] = air.Attenuation(f, a.Temperature, a.Humidity, air.StandardPressure)
	}
	return out
}
