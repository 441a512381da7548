// SPDX-License-Identifier: MIT

package sound

import (
	"math"

	"earline/project"
)

// StandardPressure is the reference pressure of ISO 9613-1:1993, kPa: exact by
// definition. The document gives no pressure, so this is used.
const StandardPressure = 101.325

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

// SpeedOfSound returns that of air at t degrees Celsius, metres a second:
// c = 343.2 sqrt(T/293.15) (ISO 9613-1:1993, Annex A).
func SpeedOfSound(t float64) float64 { return 343.2 * math.Sqrt((t+273.15)/293.15) }

// Attenuation returns what air takes from a pure tone of frequency f, hertz, dB
// a metre, at t degrees Celsius, relative humidity rh in per cent and pressure
// kPa: ISO 9613-1:1993, equations 3 to 5 and B.2, B.3. The standard states 10 %
// accuracy for -20 to 50 degrees, below 200 kPa, a molar concentration of water
// vapour of 0.05 to 5 %, and 4e-4 to 10 Hz/Pa (above 40 Hz at sea level).
func Attenuation(f, t, rh, pressure float64) float64 {
	const (
		t0     = 293.15 // K, reference temperature
		triple = 273.16 // K, triple point of water
	)
	kelvin := t + 273.15
	p := pressure / StandardPressure
	saturation := math.Pow(10, -6.8346*math.Pow(triple/kelvin, 1.261)+4.6151)
	h := rh * saturation / p // molar concentration of water vapour, per cent
	rel := kelvin / t0
	oxygen := p * (24 + 4.04e4*h*(0.02+h)/(0.391+h))
	nitrogen := p / math.Sqrt(rel) * (9 + 280*h*math.Exp(-4.170*(math.Pow(rel, -1./3)-1)))
	return 8.686 * f * f * (1.84e-11/p*math.Sqrt(rel) + math.Pow(rel, -2.5)*
		(0.01275*math.Exp(-2239.1/kelvin)/(oxygen+f*f/oxygen)+
			0.1068*math.Exp(-3352.0/kelvin)/(nitrogen+f*f/nitrogen)))
}

// EnergyAttenuation returns the coefficient m, 1/m, by which the energy of sound
// falls, from an attenuation in dB a metre: m = alpha / (10 lg e) (ISO 354:2003,
// 8.1.2.1).
func EnergyAttenuation(alpha float64) float64 { return alpha / (10 * math.Log10E) }

// air is the room's air made ready for the loops.
type air struct {
	speed float64                      // m/s
	loss  [project.OctaveCount]float64 // dB/m
}

func airOf(a project.Air) air {
	a = a.OrUsual()
	out := air{speed: SpeedOfSound(a.Temperature)}
	for o, f := range Midbands() {
		out.loss[o] = Attenuation(f, a.Temperature, a.Humidity, StandardPressure)
	}
	return out
}
