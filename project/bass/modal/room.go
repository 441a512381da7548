// SPDX-License-Identifier: MIT

package modal

import (
	"cmp"
	"math"
	"slices"

	"earline/project/air"
)

// Room is a rectangular room with one corner in the origin: Length along x,
// Width along y, Height along z, in metres.
type Room struct {
	Length, Width, Height float64
	// Speed is the speed of sound in m/s; 0 is that at 20 degrees Celsius.
	Speed float64
}

// Kind is how many pairs of opposite surfaces a mode runs between.
type Kind int

// The kinds of mode. Still is the even pressure of the whole room at 0 Hz.
const (
	Still Kind = iota
	Axial
	Tangential
	Oblique
)

// String returns the word for the kind.
func (k Kind) String() string {
	switch k {
	case Still:
		return "still"
	case Axial:
		return "axial"
	case Tangential:
		return "tangential"
	case Oblique:
		return "oblique"
	}
	return "?"
}

// Mode is one way in which the air of a rectangular room swings: P half waves
// along its length, Q along its width, R along its height.
type Mode struct {
	P, Q, R   int
	Frequency float64 // Hz
}

// Kind returns the kind of the mode by the count of its indices that are not 0.
func (m Mode) Kind() Kind {
	return Kind(min(m.P, 1) + min(m.Q, 1) + min(m.R, 1))
}

func (r Room) speed() float64 {
	if r.Speed == 0 {
		return air.Speed20
	}
	return r.Speed
}

// side returns the length along an axis: x 0, y 1, z 2.
func (r Room) side(axis int) float64 { return [...]float64{r.Length, r.Width, r.Height}[axis] }

// Volume returns the volume, in cubic metres.
func (r Room) Volume() float64 { return r.Length * r.Width * r.Height }

// surface returns the area of all six surfaces, in square metres.
func (r Room) surface() float64 {
	return 2 * (r.Length*r.Width + r.Length*r.Height + r.Width*r.Height)
}

// edges returns the length of all twelve edges, in metres.
func (r Room) edges() float64 { return 4 * (r.Length + r.Width + r.Height) }

// Modes returns the modes of the rigid room at or below upTo hertz, by
// frequency, those of one frequency by P, then Q, then R, without the still one.
// Formula: f = c/2 sqrt((P/L)^2 + (Q/W)^2 + (R/H)^2) (Rayleigh, The Theory of
// Sound, 267).
func (r Room) Modes(upTo float64) []Mode {
	var modes []Mode
	h := r.speed() / 2
	// The largest index along an axis, with one more tried against rounding.
	most := func(l, left float64) int { return int(math.Sqrt(max(0, left))*l/h) + 1 }
	for p := 0; p <= most(r.Length, upTo*upTo); p++ {
		fx := h * float64(p) / r.Length
		for q := 0; q <= most(r.Width, upTo*upTo-fx*fx); q++ {
			fy := h * float64(q) / r.Width
			for n := 0; n <= most(r.Height, upTo*upTo-fx*fx-fy*fy); n++ {
				fz := h * float64(n) / r.Height
				if f := math.Sqrt(fx*fx + fy*fy + fz*fz); f > 0 && f <= upTo {
					modes = append(modes, Mode{p, q, n, f})
				}
			}
		}
	}
	slices.SortFunc(modes, func(a, b Mode) int {
		return cmp.Or(cmp.Compare(a.Frequency, b.Frequency), a.P-b.P, a.Q-b.Q, a.R-b.R)
	})
	return modes
}

// Count returns how many modes a room of this size has below f hertz on
// average, the still one not counted. Formula: 4 pi V f^3/(3 c^3) + pi S
// f^2/(4 c^2) + E f/(8 c), with S the surface and E the length of all edges
// (Kuttruff, Room Acoustics, ch. 3; Maa 1939).
func (r Room) Count(f float64) float64 {
	k := f / r.speed()
	return 4*math.Pi/3*r.Volume()*k*k*k + math.Pi/4*r.surface()*k*k + r.edges()*k/8
}

// Density returns the number of modes per hertz at f hertz on average: the slope
// of Count. Formula: 4 pi V f^2/c^3 + pi S f/(2 c^2) + E/(8 c).
func (r Room) Density(f float64) float64 {
	c := r.speed()
	k := f / c
	return (4*math.Pi*r.Volume()*k*k + math.Pi/2*r.surface()*k + r.edges()/8) / c
}

// Schroeder returns the frequency, in hertz, above which modes overlap so far
// that single ones can no longer be told apart: 2000 sqrt(T60/V), with T60 in
// seconds and the volume in cubic metres (Schroeder and Kuttruff 1962). It holds
// for a room of any shape.
func Schroeder(t60, volume float64) float64 { return 2000 * math.Sqrt(t60/volume) }

// Bandwidth returns the width of a mode between its half-power points, in hertz:
// d/pi with d = 3 ln 10/T60, which is 2.2/T60.
func Bandwidth(t60 float64) float64 { return rate(t60) / math.Pi }

// rate returns the rate of decay of the amplitude, in 1/s: after t60 seconds it
// is a thousandth.
func rate(t60 float64) float64 { return 3 * math.Ln10 / t60 }
