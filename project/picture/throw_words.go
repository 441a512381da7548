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
	if text := r.outside(); text != "" {
		out = append(out, text)
	}
	for i := range r.Shapes {
		s := &r.Shapes[i]
		f := &s.Fills[k]
		t := f.Throw
		if !(t.Distance > 0) {
			return []string{fmt.Sprintf("The lens does not stand before the screen: it is %s from the screen wall, the screen %s.", r.show(float64(r.Design.Projector.At.X)), r.show(float64(r.Design.Screen.Distance)))}
		}
		if !t.ZoomFits(&r.Model) {
			out = append(out, fmt.Sprintf("%s asks for a throw ratio of %.3f, the lens has %.4g to %.4g. %s.", s.Called, t.Ratio, r.Model.ThrowMin, r.Model.ThrowMax,
				r.zoomWords()))
		}
		if !t.ShiftFits() {
			out = append(out, fmt.Sprintf("%s asks for a shift of %s: more than the lens has (%.4g %% of height, %.4g %% of width, %s). %s.", s.Called, t.ShiftWords(),
				100*r.Model.ShiftUp, 100*r.Model.ShiftRight, r.Model.ShiftShape, r.shiftWords()))
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

// outside says where the lens stands beyond walls, floor or ceiling, and not behind a port;
// empty where it does not.
func (r *Result) outside() string {
	p, room := r.Design.Projector, r.Design.Room
	if p.Mount == project.PortMount {
		return ""
	}
	x, y, z := float64(p.At.X), float64(p.At.Y), float64(p.At.Z)
	ceiling, at, poly := room.CeilingAt(x, y), geometry.Vec2{X: x, Y: y}, room.Polygon()
	switch {
	case !poly.Contains(at):
		wall, _ := poly.Nearest(at)
		return fmt.Sprintf("The lens is outside the room, %s beyond the %s: only one behind a port may be.", r.show(poly.Distance(at)), room.WallName(wall+1))
	case z < 0:
		return fmt.Sprintf("The lens is %s below the floor: it must be in the room.", r.show(-z))
	case z > ceiling:
		return fmt.Sprintf("The lens is %s above the ceiling, which is %s high there: only one behind a port may be.", r.show(z-ceiling), r.show(ceiling))
	}
	return ""
}

// zoomWords says where the zoom of the lens reaches all shapes.
func (r *Result) zoomWords() string {
	all := r.Stands[r.Chosen()]
	if all.FromWall.None() {
		return fmt.Sprintf("No place serves all shapes: they ask for a zoom of %.3f, the lens has %.3f", all.Zoom, r.Model.ThrowMax/r.Model.ThrowMin)
	}
	here := r.InRoom(all)
	if !here.FromWall.None() {
		return "It may stand " + r.fromWall(here)
	}
	must, endless := "It would have to stand "+r.fromWall(all), Span{math.Inf(-1), math.Inf(1)}
	if room := r.InRoom(Stand{endless, endless, endless, 0, false}).FromWall; all.FromWall.From > room.To {
		return must + ", and the room lets it stand at most " + r.show(room.To)
	}
	return must + ", where there is no room for it"
}

// shiftWords says where the shift of the lens reaches all shapes.
func (r *Result) shiftWords() string {
	s := r.InRoom(r.Stands[r.Chosen()])
	var ways []string
	if !s.Height.None() {
		ways = append(ways, r.high(s))
	}
	if !s.FromLeft.None() {
		ways = append(ways, r.fromLeft(s))
	}
	if len(ways) == 0 {
		return "Neither another height nor another distance from the left wall mends that by itself"
	}
	return "With all else as it is the lens may stand " + strings.Join(ways, ", or ")
}

func (r *Result) fromWall(s Stand) string {
	return r.span(s.FromWall, "%s from the screen wall", "at no distance from the screen wall")
}
func (r *Result) fromLeft(s Stand) string {
	return r.span(s.FromLeft, "%s from the left wall", "at no distance from the left wall")
}
func (r *Result) high(s Stand) string { return r.span(s.Height, "%s high", "at no height") }

// span says a range of places, or that there is none.
func (r *Result) span(s Span, some, none string) string {
	if s.None() {
		return none
	}
	from, to := r.show(s.From), r.show(s.To)
	if from != to {
		from += " to " + to
	}
	return fmt.Sprintf(some, from)
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
	s, where := r.InRoom(r.Stands[r.Chosen()]), "with its cabinet in the room, "
	if r.Design.Projector.Mount == project.PortMount {
		where = "behind its port as in the room, "
	}
	out := []string{fmt.Sprintf("The lens may stand, for all shapes, %sand with all else as it is: %s; %s; %s.", where, r.fromWall(s), r.high(s), r.fromLeft(s))}
	if s.Memory {
		out = append(out, fmt.Sprintf("Zoom and shift differ from shape to shape (zoom by %.4f): the lens must remember them.", s.Zoom))
	}
	return out
}

func upper(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
