// SPDX-License-Identifier: MIT

package picture

import (
	"fmt"
	"math"
	"strings"

	"earline/geometry"
	"earline/project"
)

// lens says what of zoom and shift the lens cannot do, and where it would have to stand.
func (r *Result) lens() (out []string) {
	k := r.Chosen()
	stand := r.Stands[k]
	if r.outside() {
		out = append(out, "The lens is outside the room: only one behind a port may be.")
	}
	for i := range r.Shapes {
		s := &r.Shapes[i]
		f := &s.Fills[k]
		t := f.Throw
		if !(t.Distance > 0) {
			return []string{"The lens does not stand before the screen."}
		}
		if !t.ZoomFits(&r.Model) {
			out = append(out, fmt.Sprintf("%s asks for a throw ratio of %.3f, the lens has %.4g to %.4g. %s.", s.Called, t.Ratio, r.Model.ThrowMin, r.Model.ThrowMax,
				r.zoomWords(stand)))
		}
		if !t.ShiftFits() {
			out = append(out, fmt.Sprintf("%s asks for a shift of %s: more than the lens has (%.4g %% of height, %.4g %% of width, %s). With all else as it is the lens may stand %s high, or %s from the left wall.", s.Called, t.ShiftWords(),
				100*r.Model.ShiftUp, 100*r.Model.ShiftRight, r.Model.ShiftShape, r.span(stand.Height), r.span(stand.FromLeft)))
		}
		if tilt, ok := r.Tilted(f); ok {
			far, near := "top", "bottom"
			if tilt.Lower {
				far, near = near, far
			}
			out = append(out, fmt.Sprintf("Tilted by %.1f° instead, the projector would make %s %.3f times as wide at the %s as at the %s: keystone, which no scaling mends without losing pixels. Nothing here counts with it.",
				tilt.Tilt, s.Called, tilt.Ratio, far, near))
		}
	}
	return out
}

// outside reports whether the lens stands beyond walls, floor or ceiling, and not behind a
// port.
func (r *Result) outside() bool {
	p, room := r.Design.Projector, r.Design.Room
	x, y, z := float64(p.At.X), float64(p.At.Y), float64(p.At.Z)
	return p.Mount != project.PortMount && (!room.Polygon().Contains(geometry.Vec2{X: x, Y: y}) || z < 0 || z > room.CeilingAt(x, y))
}

// zoomWords says where the zoom of the lens reaches all shapes.
func (r *Result) zoomWords(s Stand) string {
	if s.FromWall.None() {
		return fmt.Sprintf("No place serves all shapes: they ask for a zoom of %.3f, the lens has %.3f", s.Zoom, r.Model.ThrowMax/r.Model.ThrowMin)
	}
	return "It may stand " + r.span(s.FromWall) + " from the screen wall"
}

// span says a range of places.
func (r *Result) span(s Span) string {
	if s.None() {
		return "nowhere"
	}
	return r.show(s.From) + " to " + r.show(s.To)
}

// ShiftWords says the shift of t: "36.5 % down, 2.0 % left".
func (t Throw) ShiftWords() string {
	var parts []string
	for _, w := range []struct {
		v        float64
		more, no string
	}{{t.Up, "up", "down"}, {t.Right, "right", "left"}} {
		const seen = 0.0005 // of a share, as it is printed
		if math.Abs(w.v) < seen {
			continue
		}
		way := w.more
		if w.v < 0 {
			way = w.no
		}
		parts = append(parts, fmt.Sprintf("%.1f %% %s", 100*math.Abs(w.v), way))
	}
	if len(parts) == 0 {
		return "none"
	}
	return strings.Join(parts, ", ")
}

// StandWords says where the lens may stand and what it must remember, a sentence each.
func (r *Result) StandWords() []string {
	if !r.Projected {
		return nil
	}
	s := r.Stands[r.Chosen()]
	out := []string{fmt.Sprintf("The lens may stand, for all shapes and with all else as it is: %s from the screen wall; %s high; %s from the left wall.",
		r.span(s.FromWall), r.span(s.Height), r.span(s.FromLeft))}
	if s.Memory {
		out = append(out, fmt.Sprintf("Zoom and shift differ from shape to shape (zoom by %.4f): the lens must remember them.", s.Zoom))
	}
	return out
}

func upper(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
