// SPDX-License-Identifier: MIT

package project

import (
	"math"

	"earline/geometry/unit"
)

// Volts is the voltage of Model.Sensitivity: 1 W into 8 ohm, nearly.
const Volts = 2.83

// UsualImpedance stands for an impedance that is not known, ohms.
const UsualImpedance = 8

// Space is what a loudspeaker radiates into while its sensitivity is measured.
type Space string

// The spaces. In the bass a loudspeaker in a large wall or on the ground gives twice
// the pressure that it gives in the free field.
const (
	FreeField Space = "free field"
	HalfSpace Space = "half space"
)

// Load returns the nominal impedance, ohms, UsualImpedance where it is not known.
func (m Model) Load() float64 {
	if m.Impedance > 0 {
		return m.Impedance
	}
	return UsualImpedance
}

// SensedIn returns in what space m's sensitivity holds. Where nothing is said flush
// models are taken as measured in half space, others in the free field (common
// practice, no source).
func (m Model) SensedIn() Space {
	switch {
	case m.Space != "":
		return m.Space
	case m.Flush:
		return HalfSpace
	}
	return FreeField
}

// BassSensitivity returns m's level in the bass at 1 m for 2.83 V in the free field,
// dB SPL: 20 lg 2 below a sensitivity that holds in half space, where an image as
// strong as the source adds to it in phase.
func (m Model) BassSensitivity() float64 {
	if m.SensedIn() == HalfSpace {
		return m.Sensitivity - 20*math.Log10(2)
	}
	return m.Sensitivity
}

// Displacement returns the volume that m's subwoofer drivers move at their peak
// excursion, one way, m3: the area of each radiating face times the excursion; 0 where
// that is not known.
func (m Model) Displacement() float64 {
	area := 0.0
	for _, d := range m.Drivers {
		if d.Band == Sub {
			area += math.Pi / 4 * float64(d.Diameter) * float64(d.Diameter)
		}
	}
	return area * m.Excursion * float64(unit.Millimetre)
}
