// SPDX-License-Identifier: MIT

// Package unit holds the quantities that cross a package boundary - lengths and
// angles - and reads and writes them as people do: metric or imperial.
//
// A Length is metres. An angle is written in Degrees wherever a person meets
// it (file, window, report); formulas use bare radians obtained by Radians.
package unit

import "math"

// Length is a length in metres.
type Length float64

// Lengths of one unit. The inch is exact: 25.4 mm (international yard and pound
// agreement, 1959).
const (
	Metre      Length = 1
	Centimetre Length = 0.01
	Millimetre Length = 0.001
	Inch       Length = 0.0254
	Foot       Length = 0.3048
)

// Metres returns l as a bare number of metres.
func (l Length) Metres() float64 { return float64(l) }

// Degrees is an angle in degrees, kept as people wrote it so that a document
// goes round unchanged.
type Degrees float64

// Degree is one degree in radians: formulas are written x * Degree, and give back
// degrees as x / Degree. It is a float64 and no Degrees, so that the two cannot be
// mixed up.
const Degree float64 = math.Pi / 180

// Radians returns d in radians.
func (d Degrees) Radians() float64 { return float64(d) * math.Pi / 180 }

// FromRadians returns r radians as degrees.
func FromRadians(r float64) Degrees { return Degrees(r * 180 / math.Pi) }
