// SPDX-License-Identifier: MIT

package picture

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// Result is what there is to say of the picture of a design.
type Result struct {
	Design *project.Design
	// Projected is whether there is a projector. Without one nothing is said of light,
	// pixels and lens; what light each shape takes is said for an imager of 16:9.
	Projected bool
	Model     project.ProjectorModel
	// New and Aged are the light that the projector sends to the screen, lumens.
	New, Aged float64
	// Imager is the width of the imager divided by its height.
	Imager float64
	Screen Frame // the picture that the screen is made for
	Shapes []Shape
	Seats  []Seat
	Rows   []Row
	InBeam []Obstacle // what stands in the beam: parts of the room, then who stands up
	Stands [3]Stand   // where the lens may stand, for each of Fills
	Main   Seat       // the main position; Row and Number are 0
	Veils  []string   // which loudspeakers the mask of a shape hangs before, in words
}

// Fills are the ways to fill the screen that are compared, in the order of Shape.Fills.
func Fills() [3]project.Fill {
	return [3]project.Fill{project.Zoom, project.Anamorphic, project.Scaled}
}

// Shape is one shape of picture.
type Shape struct {
	project.Aspect
	Called  string
	Picture Frame
	// Border is how much of the screen's own picture is left on each side, to be masked;
	// less than 0 where this one reaches beyond it.
	Border Sides
	Fills  [3]Filled
}

// Sides are lengths at left and right, each, and above and below, each.
type Sides struct{ Across, Upright float64 }

// Filled is a shape as one way of filling the screen shows it.
type Filled struct {
	Fill   project.Fill
	Raster Raster
	Used   float64 // share of imager and light
	// Wide and High are the pixels of the imager that make the picture.
	Wide, High int
	// New and Aged are the luminance of white, cd/m², seen along the normal of the screen.
	New, Aged float64
	Throw     Throw
	// Needed is the light, lumens at the screen, for the first of References from the
	// main position.
	Needed float64
}

// Seat is the picture as somebody sees it.
type Seat struct {
	Row, Number int
	Eye         geometry.Vec
	// Before is whether the eye is in front of the picture; else the rest says nothing.
	Before bool
	// Angle is between the normal of the screen and the line from its middle to the eye,
	// degrees.
	Angle float64
	Gain  float64 // of the screen towards it
}

// Row is the fineness of the picture from the middle of a row.
type Row struct {
	Row      int
	Distance float64 // from the screen to the eye
	Views    []View  // by shape
}

// View is a shape of picture seen from a row.
type View struct {
	Across  float64 // angle between its left and right edge, degrees
	Heights float64 // distance in heights of the picture
	// PixelsPerDegree is the mean across the picture, for each of Fills; 0 without a
	// projector.
	PixelsPerDegree [3]float64
}

// Of works out the picture of d.
func Of(d *project.Design) *Result { return In(place.Of(d)) }

// In is Of where the room of the design is at hand.
func In(room *place.Room) *Result {
	r := begin(room.Design)
	r.Main = r.seat(room.Main)
	for i := range room.Bodies {
		s := r.seat(room.Bodies[i].Eye())
		s.Row, s.Number = room.Seats[i].Row, room.Seats[i].Number
		r.Seats = append(r.Seats, s)
	}
	r.shapes()
	r.rows()
	r.Veils = r.veils(room)
	if r.Projected {
		r.beam(room)
	}
	return r
}

// begin returns what is known of d before any shape.
func begin(d *project.Design) *Result {
	const wide = 16.0 / 9 // the imager where there is no projector
	r := &Result{Design: d, Imager: wide, Screen: screenFrame(d)}
	if d.Projector.Given() {
		r.Model, r.Projected = d.ProjectorModel(d.Projector.Model)
	}
	if r.Projected {
		r.New = r.Model.Light * r.Model.Calibrated * d.Projector.Passed()
		r.Aged = r.New * r.Model.Aged
		r.Imager = float64(r.Model.PixelsWide) / float64(r.Model.PixelsHigh)
	}
	return r
}

// Optics is Of without anybody in the room and without obstacles: light, pixels, zoom and
// shift alone. It takes microseconds.
func Optics(d *project.Design) *Result {
	r := begin(d)
	r.shapes()
	return r
}

// shapes works out each shape and each way to fill the screen with it.
func (r *Result) shapes() {
	all := shapes(r.Design)
	frames := make([]Frame, len(all))
	for i, a := range all {
		frames[i] = held(r.Screen, r.Design.Picture.Held, a.Aspect)
		r.Shapes = append(r.Shapes, Shape{Aspect: a, Called: name(a), Picture: frames[i], Border: r.borders(frames[i])})
	}
	gain := r.Design.Screen.Gain
	for k, fill := range Fills() {
		for i, raster := range rasters(frames, fill, r.Imager, r.Design.Projector.Widened()) {
			f := Filled{Fill: fill, Raster: raster, Used: raster.Used(frames[i]), Needed: Flux(References()[0].White, r.mainGain(), raster.Area())}
			if r.Projected {
				f.Wide = pixels(r.Model.PixelsWide, frames[i].Width, raster.Width)
				f.High = pixels(r.Model.PixelsHigh, frames[i].Height, raster.Height)
				f.Throw = r.throw(raster)
				f.New, f.Aged = Luminance(r.New, gain, raster.Area()), Luminance(r.Aged, gain, raster.Area())
			}
			r.Shapes[i].Fills[k] = f
		}
		if r.Projected {
			r.Stands[k] = r.stand(k)
		}
	}
}

// border returns what is left on either side of a part of a whole; 0 within rounding.
func border(whole, part float64) float64 {
	const rounding = 1e-9 // m
	if left := (whole - part) / 2; math.Abs(left) > rounding {
		return left
	}
	return 0
}

// seat returns what an eye sees, but for the shapes.
func (r *Result) seat(eye geometry.Vec) Seat {
	middle := geometry.Vec{X: float64(r.Design.Screen.Distance), Y: r.Screen.Across, Z: r.Screen.Middle}
	to := eye.Sub(middle)
	s := Seat{Eye: eye, Before: to.X > 0}
	if s.Before {
		s.Angle = geometry.Angle(to, geometry.Vec{X: 1}) / unit.Degree
		s.Gain = gainAt(r.Design, s.Angle)
	}
	return s
}

// mainGain returns the gain of the screen towards the main position.
func (r *Result) mainGain() float64 {
	if !r.Main.Before {
		return r.Design.Screen.Gain
	}
	return r.Main.Gain
}

// Toward returns the luminance l, cd/m² along the normal, as the eye of s sees it.
func (r *Result) Toward(s *Seat, l float64) float64 {
	if !s.Before {
		return 0
	}
	return l * s.Gain / r.Design.Screen.Gain
}

// Chosen returns the index, in Shape.Fills, of the way in which the design fills the
// screen: by zoom where there is no projector.
func (r *Result) Chosen() int {
	for k, fill := range Fills() {
		if fill == r.Design.Projector.Fill {
			return k
		}
	}
	return 0
}

// rows works out the pictures from the seat of each row that is nearest to the middle of
// the picture.
func (r *Result) rows() {
	best := map[int]*Seat{}
	for i := range r.Seats {
		s := &r.Seats[i]
		off := func(s *Seat) float64 { return math.Abs(s.Eye.Y - r.Screen.Across) }
		if b := best[s.Row]; s.Before && (b == nil || off(s) < off(b)-1e-9) {
			best[s.Row] = s
		}
	}
	for n := range r.Design.Seating.Rows {
		s := best[n+1]
		if s == nil {
			continue
		}
		row := Row{Row: n + 1, Distance: s.Eye.X - float64(r.Design.Screen.Distance)}
		for i := range r.Shapes {
			shape := &r.Shapes[i]
			v := View{Heights: row.Distance / shape.Picture.Height,
				Across: geometry.Across(row.Distance, s.Eye.Y-r.Screen.Across, shape.Picture.Width/2) / unit.Degree}
			for k := range shape.Fills {
				v.PixelsPerDegree[k] = float64(shape.Fills[k].Wide) / v.Across
			}
			row.Views = append(row.Views, v)
		}
		r.Rows = append(r.Rows, row)
	}
}
