// SPDX-License-Identifier: MIT

package drawing

import "math"

// Arc is a part of a circle. Angles are in degrees from the x axis, anticlockwise as
// one sees it, y being down.
type Arc struct {
	Centre Point
	Radius float64
	From   float64
	Sweep  float64 // how far it goes on from there; 360 or more is the circle
}

// Circle returns a whole circle.
func Circle(centre Point, radius float64) Arc { return Arc{centre, radius, 0, 360} }

// Whole tells whether a is a circle.
func (a Arc) Whole() bool { return math.Abs(a.Sweep) >= 360 }

// At returns the point of the circle at an angle.
func (a Arc) At(degrees float64) Point {
	s, c := math.Sincos(degrees * math.Pi / 180)
	return Pt(a.Centre.X+a.Radius*c, a.Centre.Y-a.Radius*s)
}

// Points returns a as a line of which no point is farther than within from it.
func (a Arc) Points(within float64) []Point {
	sweep := max(-360, min(360, a.Sweep))
	// A chord over the angle t is r (1 - cos t/2) off its arc.
	step := 60.0
	if within < a.Radius {
		step = min(step, 2*180/math.Pi*math.Acos(1-within/a.Radius))
	}
	n := max(1, int(math.Ceil(math.Abs(sweep)/max(step, 0.5))))
	line := make([]Point, n+1)
	for i := range line {
		line[i] = a.At(a.From + sweep*float64(i)/float64(n))
	}
	return line
}
