// SPDX-License-Identifier: MIT

package picture

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// Beam is what the lens lights on its way: the pyramid from the lens to the raster of one
// shape, black bars and all. It is a geometry.Convex.
type Beam struct {
	Lens    geometry.Vec
	Corners [4]geometry.Vec // of the raster: left top, right top, right bottom, left bottom
	// faces are the unit normals, outwards, of the planes through the lens: above, to the
	// right, below, to the left.
	faces [4]geometry.Vec
}

// Face is a side of a Beam.
type Face uint8

// The faces.
const (
	Above Face = iota
	ToTheRight
	Below
	ToTheLeft
)

func newBeam(lens geometry.Vec, screenX float64, raster Frame) Beam {
	b := Beam{Lens: lens}
	middle := geometry.Vec{X: screenX, Y: raster.Across, Z: raster.Middle}
	right, up := geometry.Vec{Y: raster.Width / 2}, geometry.Vec{Z: raster.Height / 2}
	b.Corners = [4]geometry.Vec{middle.Sub(right).Add(up), middle.Add(right).Add(up), middle.Add(right).Sub(up), middle.Sub(right).Sub(up)}
	for i := range b.faces {
		n, _ := b.Corners[i].Sub(lens).Cross(b.Corners[(i+1)%4].Sub(lens)).Unit()
		if n.Dot(middle.Sub(lens)) > 0 {
			n = n.Neg()
		}
		b.faces[i] = n
	}
	return b
}

// Support implements geometry.Convex.
func (b *Beam) Support(n geometry.Vec) (reach float64, at geometry.Vec) {
	at, reach = b.Lens, n.Dot(b.Lens)
	for _, c := range b.Corners {
		if r := n.Dot(c); r > reach {
			at, reach = c, r
		}
	}
	return reach, at
}

// Lower returns the height at which the lower edge of b passes so far from the screen wall.
func (b *Beam) Lower(x float64) float64 {
	foot := b.Corners[Below]
	return b.Lens.Z + (foot.Z-b.Lens.Z)*(b.Lens.X-x)/(b.Lens.X-foot.X)
}

// into returns how far s stands in b: the least way square to a face of b that takes it
// out, and that face. ok is false when b passes it.
func (b *Beam) into(s *geometry.Solid) (depth float64, face Face, ok bool) { return b.past(s, false) }

// past is into, but of what stands on the floor, which leaves the beam by no way over it.
func (b *Beam) past(s *geometry.Solid, stands bool) (depth float64, face Face, ok bool) {
	const (
		touch = 0.001 // m: what is so little in it throws no shadow that is seen
		tol   = 1e-6  // m
	)
	depth = math.Inf(1)
	from := s.Bound().Center.Sub(b.Lens)
	for i, n := range b.faces {
		switch d := s.Reach(n) - n.Dot(from); {
		case d <= touch:
			return 0, 0, false
		case d < depth && !(stands && Face(i) == Above):
			depth, face = d, Face(i)
		}
	}
	if geometry.Distance(b, s, geometry.Vec{}, touch, tol).Upper > 0 {
		return 0, 0, false
	}
	return depth, face, true
}

// Obstacle is what stands in the beam of one shape.
type Obstacle struct {
	// Part is what it is; of somebody who stands, their row and seat.
	Part     place.Part
	Standing bool
	Shape    int     // index in Result.Shapes, of the one in whose beam it stands most
	Depth    float64 // square to the face of the beam that it is nearest to
	Face     Face
	// Upright is how far it would have to come down, or up where Face is Above, to be
	// clear; infinite for the sides.
	Upright float64
	// ClearAt is the least height of the lens at which the beam of every shape passes over
	// it; not a number where no height under the ceiling does, or Face is not Below.
	ClearAt float64
	thing   int // in the Around that found it
}

// Beams returns the beam of each shape as d fills the screen, in the order of
// Result.Shapes; none without a projector whose lens stands before the screen.
func Beams(d *project.Design) []Beam {
	r := Optics(d)
	if !r.before() {
		return nil
	}
	return r.beams(d.Projector.At.Vec())
}

// before reports whether there is a lens and it stands before the screen.
func (r *Result) before() bool {
	return r.Projected && r.Design.Projector.At.X > r.Design.Screen.Distance
}

// beams returns the beam of each shape as the design fills the screen.
func (r *Result) beams(lens geometry.Vec) []Beam {
	out := make([]Beam, len(r.Shapes))
	for i := range r.Shapes {
		out[i] = newBeam(lens, float64(r.Design.Screen.Distance), r.Shapes[i].Fills[r.Chosen()].Raster.Frame)
	}
	return out
}

// beam finds what stands in the beam of any shape: the parts of the room, then who stands.
func (r *Result) beam(room *place.Room) {
	if !r.before() {
		return
	}
	lens := r.Design.Projector.At.Vec()
	around := AroundOf(room)
	r.InBeam = around.In(r.beams(lens))
	for i := range r.InBeam {
		if o := &r.InBeam[i]; o.Face == Below {
			o.ClearAt = r.clearAt(lens, around.things[o.thing].solids)
		}
	}
}

// clearAt returns the least height of the lens at which every beam passes over all that, up
// to the ceiling; NaN where none does.
func (r *Result) clearAt(lens geometry.Vec, below []geometry.Solid) float64 {
	clear := func(z float64) bool {
		at := lens
		at.Z = z
		for _, b := range r.beams(at) {
			for i := range below {
				if _, _, ok := b.into(&below[i]); ok {
					return false
				}
			}
		}
		return true
	}
	lo, hi := lens.Z, r.Design.Room.Slopes().At(lens.X, lens.Y)
	if !(hi > lo) || !clear(hi) {
		return math.NaN()
	}
	const fine = 1e-4 // m
	for hi-lo > fine {
		if mid := (lo + hi) / 2; clear(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}
