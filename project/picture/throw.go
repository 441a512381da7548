// SPDX-License-Identifier: MIT

package picture

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
)

// Throw is what a raster asks of the lens where it stands.
type Throw struct {
	Distance float64 // from the lens to the plane of the screen
	Ratio    float64 // of Distance to the width of the raster, without anamorphic lens
	// Up and Right are the shift: how far the middle of the raster lies above the axis of
	// the lens and to the right of it, as seen from the seats, in shares of the whole
	// raster's height and width.
	Up, Right float64
	// Use is the part of the shift there is that this takes, both ways together: 1 is at
	// the limit, infinite where the lens has none.
	Use float64
}

// rounding is what a ratio or a share may be over its limit, of limits typed in three digits.
const rounding = 1e-6

// throw returns what a raster asks of the lens of the design; the zero Throw where the lens
// does not stand before the screen.
func (r *Result) throw(raster Raster) Throw {
	d := r.Design
	at := d.Projector.At
	t := Throw{Distance: float64(at.X - d.Screen.Distance)}
	if !(t.Distance > 0) {
		return Throw{}
	}
	t.Ratio = t.Distance / (raster.Width / raster.Widened)
	t.Up = (raster.Middle - float64(at.Z)) / raster.Height
	t.Right = (raster.Across - float64(at.Y)) / raster.Width
	t.Use = shiftUse(&r.Model, t.Up, t.Right)
	return t
}

// shiftUse returns which part of the shift of a lens so much up and so much to the right is.
func shiftUse(m *project.ProjectorModel, up, right float64) float64 {
	a, b := part(up, m.ShiftUp), part(right, m.ShiftRight)
	switch m.ShiftShape {
	case project.ShiftEllipse:
		return math.Hypot(a, b)
	case project.ShiftDiamond:
		return a + b
	}
	return max(a, b)
}

// ShiftRange returns the corners of what the middle of the raster of a shape, an index in
// r.Shapes, can be shifted to on the screen plane from where the lens stands: four of a
// rectangle or a diamond, many of an ellipse; none where the lens does not stand before the
// screen or cannot shift.
func (r *Result) ShiftRange(shape int) []geometry.Vec {
	m := &r.Model
	if !r.before() || m.ShiftUp == 0 && m.ShiftRight == 0 {
		return nil
	}
	raster := &r.Shapes[shape].Fills[r.Chosen()].Raster
	lens := r.Design.Projector.At.Vec()
	at := func(right, up float64) geometry.Vec {
		return geometry.Vec{X: float64(r.Design.Screen.Distance), Y: lens.Y + right*m.ShiftRight*raster.Width, Z: lens.Z + up*m.ShiftUp*raster.Height}
	}
	switch m.ShiftShape {
	case project.ShiftEllipse:
		const n = 48
		out := make([]geometry.Vec, n)
		for i := range out {
			up, right := math.Sincos(2 * math.Pi * float64(i) / n)
			out[i] = at(right, up)
		}
		return out
	case project.ShiftDiamond:
		return []geometry.Vec{at(1, 0), at(0, 1), at(-1, 0), at(0, -1)}
	}
	return []geometry.Vec{at(1, 1), at(-1, 1), at(-1, -1), at(1, -1)}
}

func part(v, most float64) float64 {
	if math.Abs(v) <= rounding {
		return 0
	}
	return math.Abs(v) / most // infinite of none
}

// left returns which part of the shift one way is left when that part of the other is
// taken; less than 0 when that alone is too much.
func left(m *project.ProjectorModel, taken float64) float64 {
	switch {
	case taken > 1+rounding:
		return -1
	case m.ShiftShape == project.ShiftEllipse:
		return math.Sqrt(max(0, 1-taken*taken))
	case m.ShiftShape == project.ShiftDiamond:
		return max(0, 1-taken)
	}
	return 1
}

// ZoomFits and ShiftFits are whether the lens of m can do t.
func (t Throw) ZoomFits(m *project.ProjectorModel) bool {
	return t.Ratio >= m.ThrowMin*(1-rounding) && t.Ratio <= m.ThrowMax*(1+rounding)
}

// ShiftFits is whether the shift of t is within that of the lens.
func (t Throw) ShiftFits() bool { return t.Use <= 1+rounding }

// Span is a range of places; From is over To where there is none.
type Span struct{ From, To float64 }

// None reports whether no place is in s.
func (s Span) None() bool { return !(s.From <= s.To) }

// Stand is where the lens may stand for all shapes with one way to fill the screen, one
// direction at a time: the other two as they are.
type Stand struct {
	FromWall Span // from the screen wall
	FromLeft Span // from the left wall
	Height   Span // above the floor
	// Zoom is the greatest throw ratio over the least that the shapes ask for.
	Zoom float64
	// Memory is whether zoom or shift differ from shape to shape.
	Memory bool
}

// stand works out where the lens may stand for the kth of Fills.
func (r *Result) stand(k int) Stand {
	all := Span{math.Inf(-1), math.Inf(1)}
	s := Stand{FromWall: all, FromLeft: all, Height: all}
	m, screen := &r.Model, float64(r.Design.Screen.Distance)
	cut := func(s *Span, from, to float64) { s.From, s.To = max(s.From, from), min(s.To, to) }
	narrow, wide := math.Inf(1), 0.0
	for i := range r.Shapes {
		f := &r.Shapes[i].Fills[k]
		w, t := f.Raster.Width/f.Raster.Widened, f.Throw
		narrow, wide = min(narrow, w), max(wide, w)
		cut(&s.FromWall, screen+m.ThrowMin*w, screen+m.ThrowMax*w)
		up := left(m, part(t.Right, m.ShiftRight)) * m.ShiftUp * f.Raster.Height
		cut(&s.Height, f.Raster.Middle-up, f.Raster.Middle+up)
		side := left(m, part(t.Up, m.ShiftUp)) * m.ShiftRight * f.Raster.Width
		cut(&s.FromLeft, f.Raster.Across-side, f.Raster.Across+side)
		first := r.Shapes[0].Fills[k].Throw
		const same = 0.001 // of ratio and of raster: a pixel or two
		s.Memory = s.Memory || math.Abs(t.Ratio/first.Ratio-1) > same || math.Abs(t.Up-first.Up) > same || math.Abs(t.Right-first.Right) > same
	}
	s.Zoom = wide / narrow
	return s
}

// Keystone is the picture of a projector that is tilted because its lens is not shifted
// far enough.
type Keystone struct {
	Tilt  float64 // degrees
	Ratio float64 // width of the far edge of the picture over that of the near one
	// Lower is whether the lower edge is the far one.
	Lower bool
}

// keystone returns the keystone of a tilt of that many degrees at that distance:
// (P + h sin t) / (P - h sin t), h half the height of the raster (closed form).
func keystone(tilt, distance, height float64) float64 {
	lean := height / 2 * math.Sin(tilt*unit.Degree)
	return (distance + lean) / (distance - lean)
}

// Tilted returns the keystone that f would have if what its lens cannot shift up or down
// were had by tilting the projector; ok is false where the shift up and down is within
// the lens's, and where that to the side alone is not.
func (r *Result) Tilted(f *Filled) (k Keystone, ok bool) {
	part := left(&r.Model, part(f.Throw.Right, r.Model.ShiftRight))
	over := math.Abs(f.Throw.Up) - part*r.Model.ShiftUp
	if !(f.Throw.Distance > 0) || part < 0 || over <= rounding {
		return Keystone{}, false
	}
	k.Tilt = math.Atan(over*f.Raster.Height/f.Throw.Distance) / unit.Degree
	k.Ratio = keystone(k.Tilt, f.Throw.Distance, f.Raster.Height)
	k.Lower = f.Throw.Up < 0
	return k, true
}
