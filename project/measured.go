// SPDX-License-Identifier: MIT

package project

import (
	"cmp"
	"slices"
)

// MeasuredSound is what was measured of the sound of the finished or existing room. It
// alters nothing of the plan; bass takes the decay in place of what it would compute.
type MeasuredSound struct {
	On    string      `json:"measured_on,omitempty"` // a date, 2026-11-29; empty for not known
	Decay []ThirdTime `json:"decay,omitempty"`       // by thirds of an octave, ascending
	// Responses are of the loudspeakers at the seats.
	Responses []Response `json:"responses,omitempty"`
	// Noise is that at the main position with all that runs during a film, the projector
	// too: dB in NoiseOctaves octaves from 31.5 Hz to 8 kHz; empty for not measured.
	Noise []float64 `json:"noise_db,omitempty"`
}

// ThirdTime is how long sound takes to fall by 60 dB in one third of an octave.
type ThirdTime struct {
	Hz   float64 `json:"hz"`    // one of Thirds
	Time float64 `json:"t60_s"` // seconds
}

// NoiseOctaves is how many octaves noise is measured in: those of 31.5 Hz to 8 kHz.
const NoiseOctaves = OctaveCount + 1

// Given reports whether anything was measured, or said of it.
func (m MeasuredSound) Given() bool {
	return m.On != "" || len(m.Decay)+len(m.Responses)+len(m.Noise) > 0
}

// Time returns the measured time in a third, seconds; 0 where none was measured.
func (m MeasuredSound) Time(hz float64) float64 {
	for _, t := range m.Decay {
		if t.Hz == hz {
			return t.Time
		}
	}
	return 0
}

// SetTime puts a time, seconds, in a third, or takes it out where it is 0.
func (m *MeasuredSound) SetTime(hz, seconds float64) {
	i, there := slices.BinarySearchFunc(m.Decay, hz, func(t ThirdTime, hz float64) int { return cmp.Compare(t.Hz, hz) })
	switch {
	case there && seconds == 0:
		m.Decay = slices.Delete(m.Decay, i, i+1)
	case there:
		m.Decay[i].Time = seconds
	case seconds != 0:
		m.Decay = slices.Insert(m.Decay, i, ThirdTime{hz, seconds})
	}
	if len(m.Decay) == 0 {
		m.Decay = nil
	}
}

// clone returns a copy of m that shares nothing with it.
func (m MeasuredSound) clone() MeasuredSound {
	m.Decay, m.Responses = slices.Clone(m.Decay), cloneResponses(m.Responses)
	m.Noise = slices.Clone(m.Noise)
	return m
}
