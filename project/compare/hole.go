// SPDX-License-Identifier: MIT

package compare

import (
	"fmt"
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// Web is the least that must stand between two cut-outs, metres. Common practice, no
// source.
const Web = 0.030

// Rect is a cut-out on its surface, metres: along a wall from its first corner and up
// from the floor; under the ceiling x and y.
type Rect struct{ From, To, Low, High float64 }

// Area returns the area of r, square metres.
func (r Rect) Area() float64 { return max(r.To-r.From, 0) * max(r.High-r.Low, 0) }

// Meet returns what r and o share; it has no area where they are apart.
func (r Rect) Meet(o Rect) Rect {
	return Rect{max(r.From, o.From), min(r.To, o.To), max(r.Low, o.Low), min(r.High, o.High)}
}

// gap returns how far o is from r, the greater of the two ways along the axes, below
// 0 where they overlap.
func (r Rect) gap(o Rect) float64 {
	return max(o.From-r.To, r.From-o.To, o.Low-r.High, r.Low-o.High)
}

// within reports whether r lies in o, to a millimetre.
func (r Rect) within(o Rect) bool {
	return r.From >= o.From-same && r.To <= o.To+same && r.Low >= o.Low-same && r.High <= o.High+same
}

// same is by how much cut-outs may differ and still be one, m: a millimetre.
const same = 0.001

// HoleFate is what becomes of a cut-out.
type HoleFate uint8

// The fates of cut-outs.
const (
	Cut     HoleFate = iota // cut new
	Patched                 // closed
	Covered                 // overlaps a new one or leaves no web beside it: a plate over both
	Widened                 // cut larger, in its place
	Kept
)

var holeWords = [...]string{"cut new", "patch", "cover", "cut larger", "stays"}

// String returns the word for f.
func (f HoleFate) String() string { return holeWords[min(f, Kept)] }

// Hole is a cut-out of the earlier room, or a new one.
type Hole struct {
	Surface string // "left wall", "ceiling"
	Wall    int    // counted from 1; 0 is the ceiling
	Name    string // of its loudspeaker
	Rect    Rect
	Fate    HoleFate
	// With is the loudspeaker of the new cut-out that one that is Covered is too near
	// to, Overlap what both share; it has no area where only the web is missing.
	With    string
	Overlap Rect
}

// Words says what is to be done, lengths as show prints them.
func (h Hole) Words(show func(float64) string) string {
	size := func(r Rect) string { return show(r.To-r.From) + " × " + show(r.High-r.Low) }
	switch {
	case h.Fate == Patched:
		place := fmt.Sprintf("%s along the wall, %s up", show(h.Rect.From), show(h.Rect.Low))
		if h.Wall == 0 {
			place = fmt.Sprintf("%s from the screen wall, %s from the left", show(h.Rect.From), show(h.Rect.Low))
		}
		return fmt.Sprintf("patch %s, %.3f m², from %s", size(h.Rect), h.Rect.Area(), place)
	case h.Fate == Covered && h.Overlap.Area() > 0:
		return fmt.Sprintf("overlaps the new cut-out of %s by %s: a cover plate over both, or more than %s between them", h.With, size(h.Overlap), show(Web))
	case h.Fate == Covered:
		return fmt.Sprintf("less than %s to the new cut-out of %s: a cover plate over both, or move it", show(Web), h.With)
	case h.Fate == Cut:
		return "cut new, " + size(h.Rect)
	}
	return h.Fate.String()
}

// cutouts returns the cut-outs of a design, on the walls of outline: those of the room
// as it was, so that those of two designs can be laid over each other.
func cutouts(d *project.Design, in *project.Room) []Hole {
	var out []Hole
	outline := in.Polygon()
	for _, sp := range place.Speakers(d) {
		if !sp.Spec.Flush || sp.Mount != project.OnWall && sp.Mount != project.OnCeiling {
			continue
		}
		w, h := float64(sp.Spec.CutoutW), float64(sp.Spec.CutoutH)
		if w == 0 {
			w = float64(sp.Spec.Width)
		}
		if h == 0 {
			h = float64(sp.Spec.Height)
		}
		at := sp.At.Vec()
		hole := Hole{Surface: "ceiling", Name: sp.Name()}
		x, y := at.X, at.Y
		if sp.Mount == project.OnWall {
			edge, _ := outline.Nearest(geometry.Vec2{X: at.X, Y: at.Y})
			a, b := outline.Edge(edge)
			along := b.Sub(a)
			hole.Wall, hole.Surface = edge+1, in.WallName(edge+1)
			x, y = geometry.Vec2{X: at.X, Y: at.Y}.Sub(a).Dot(along)/along.Len(), at.Z
		} else if math.Abs(sp.Front.V.Y) > math.Abs(sp.Front.V.X) {
			w, h = h, w // its width runs across the room
		}
		hole.Rect = Rect{x - w/2, x + w/2, y - h/2, y + h/2}
		out = append(out, hole)
	}
	return out
}

// holes says what becomes of the cut-outs of was, and which are new.
func holes(was, is *project.Design) []Hole {
	before, after := cutouts(was, &was.Room), cutouts(is, &was.Room)
	kept := make([]bool, len(after))
	for i := range before {
		h := &before[i]
		h.Fate = Patched
		for k, n := range after {
			if n.Wall != h.Wall {
				continue
			}
			// What serves again outweighs what stands too near.
			switch inside := h.Rect.within(n.Rect); {
			case inside && n.Rect.within(h.Rect):
				h.Fate, h.With, h.Overlap, kept[k] = Kept, "", Rect{}, true
			case inside && h.Fate != Kept:
				h.Fate, h.With, h.Overlap, kept[k] = Widened, n.Name, Rect{}, true
			case !inside && h.Fate == Patched && h.Rect.gap(n.Rect) < Web:
				h.Fate, h.With, h.Overlap = Covered, n.Name, h.Rect.Meet(n.Rect)
			}
		}
	}
	for k, n := range after {
		if !kept[k] {
			before = append(before, n)
		}
	}
	return before
}

// lengths returns how lengths are shown in those units.
func lengths(u project.Units) func(float64) string {
	return func(v float64) string { return unit.Length(v).Format(u != project.Imperial) }
}

// Caution is said wherever holes are listed.
const Caution = "Before opening or closing a wall or ceiling: find out what runs in it and what it carries. Fire-rated and load-bearing parts, and mains cables, are for licensed trades; local code decides."
