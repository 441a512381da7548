// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project/place"
)

// chairs draws every chair.
func (s *painter) chairs() {
	m := &Mesh{Name: "chairs", OneSided: true}
	m.grow(len(s.seats)*620, len(s.seats)*700)
	var whole, bare Mesh // of the current row; bare has no headrest
	row := -1
	for i, seat := range s.seats {
		if s.o.Bare {
			if seat.Row != row {
				row = seat.Row
				whole, bare = s.chair(seat, headrestOnly), s.chair(seat, noHeadrest)
			}
			m.stamp(&bare, seat.Ref, seat.Basis, RGB{}, 0)
			head := &Mesh{Name: "chairs", OneSided: true, Seat: i + 1}
			head.stamp(&whole, seat.Ref, seat.Basis, RGB{}, 0)
			s.add(head)
			continue
		}
		if seat.Row != row {
			row = seat.Row
			whole, bare = s.chair(seat, wholeChair), Mesh{}
		}
		tint := 0.0
		if i == s.o.Seat {
			tint = 0.30
		}
		t := &whole
		if i == s.o.FromSeat {
			bare = s.chair(seat, noHeadrest)
			t = &bare
		}
		m.stamp(t, seat.Ref, seat.Basis, s.ink.Selected, tint)
	}
	s.add(m)
}

// drawnChair is what is drawn of a chair.
type drawnChair uint8

const (
	wholeChair drawnChair = iota
	noHeadrest
	headrestOnly
)

// chair draws one chair in its own frame: x back, y right, z up from where the
// pan meets the back, at the platform. All of it but the raised footrest stays
// within the solids of place.Seat.ChairParts.
func (s *painter) chair(seat place.Seat, drawn drawnChair) Mesh {
	seat.Ref, seat.Basis = geometry.Vec{}, geometry.WorldBasis()
	m := Mesh{}
	m.grow(620, 700)
	room := m.pen().of(s.coats.chairs.made())
	up := s.upholstery()
	soft := skin{face: up.face, edge: up.piping, puff: 0.22}
	for _, part := range seat.ChairParts() {
		if drawn == headrestOnly && part.Kind != place.HeadrestPart {
			continue
		}
		p, h := room.to(part.Box.Center, part.Box.Basis), part.Box.Half
		switch part.Kind {
		case place.PanPart:
			pan(p, h, soft, up)
		case place.BackPart:
			back(p, h, soft, up)
		case place.HeadrestPart:
			if drawn != noHeadrest {
				p.cushion(inner(h, 0.002), min(0.055, h.X*0.8, h.Z*0.6), soft)
			}
		case place.ArmPart:
			arm(p, h, part.Box.Center.Y > 0, up)
		}
	}
	if drawn != headrestOnly {
		footrest(room, seat, soft)
	}
	if s.o.Bare {
		return m
	}
	// Less light reaches the foot of a chair.
	top := float64(seat.Chair.PanHeight)
	m.recolour(func(v geometry.Vec, c RGB) RGB { return c.times(0.50 + 0.50*step(0, top, v.Z)) })
	return m
}

// upholstery is the colours of what a chair is covered with.
type upholstery struct{ face, shell, piping RGB }

// upholstery returns those of the chairs' finish.
func (s *painter) upholstery() upholstery {
	c := s.coats.chairs.RGB
	return upholstery{face: c, shell: c.times(0.68), piping: c.times(1.22)}
}

// inner returns half less d on every side.
func inner(half geometry.Vec, d float64) geometry.Vec {
	return geometry.Vec{X: max(half.X-d, half.X/2), Y: max(half.Y-d, half.Y/2), Z: max(half.Z-d, half.Z/2)}
}

// pan draws a plinth, the body of the seat and its cushion.
func pan(p pen, h geometry.Vec, soft skin, up upholstery) {
	top := min(0.19, h.Z) // height of the cushion, metres
	foot := min(0.04, h.Z/3)
	p.by(0.02, 0, foot-h.Z).crate(geometry.Vec{X: h.X * 0.85, Y: h.Y * 0.97, Z: foot}, rubber.mix(walnutDark, 0.5))
	body := h.Z - top/2 - 0.03
	if body > 0.02 {
		p.by(0.012, 0, 0.03-top/2).crate(geometry.Vec{X: h.X - 0.012, Y: h.Y - 0.002, Z: body}, up.shell)
	}
	p.by(0, 0, h.Z-top/2).cushion(inner(geometry.Vec{X: h.X, Y: h.Y, Z: top / 2}, 0.001), 0.06, soft)
}

// back draws a shell and, in front of it, two cushions that meet at the seam above
// the small of the back.
func back(p pen, h geometry.Vec, soft skin, up upholstery) {
	p.by(h.X*0.48, 0, 0).bevel(geometry.Vec{X: h.X * 0.51, Y: h.Y - 0.001, Z: h.Z - 0.001}, min(0.045, h.X*0.5), skin{face: up.shell, puff: 0.12})
	// A panel set into the back of the shell.
	rear := p.to(geometry.Vec{X: h.X - 0.0005}, geometry.WorldBasis())
	field(rear, 0, -h.Y*0.72, h.Y*0.72, -h.Z*0.75, h.Z*0.78, 0.016, up.shell.times(1.12), up.shell.times(1.55))
	split := -0.08 * h.Z
	front := geometry.Vec{X: h.X * 0.62, Y: h.Y - 0.004}
	low, high := front, front
	low.Z, high.Z = (split+h.Z)/2-0.002, (h.Z-split)/2-0.002
	x := -h.X + front.X + 0.001
	p.by(x, 0, (split-h.Z)/2).bevel(low, min(0.04, h.X*0.5), soft)
	p.by(x, 0, (split+h.Z)/2).cushion(high, min(0.05, h.X*0.5), soft)
}

// arm draws a side panel and a pad on it, with a cup's place in the right one.
func arm(p pen, h geometry.Vec, right bool, up upholstery) {
	pad := min(0.045, h.Z/2)
	p.by(0.01, 0, -pad).bevel(geometry.Vec{X: h.X - 0.01, Y: h.Y - 0.003, Z: h.Z - pad}, 0.012, plainSkin(up.shell.mix(up.face, 0.25)))
	p.by(0, 0, h.Z-pad).bevel(inner(geometry.Vec{X: h.X, Y: h.Y, Z: pad}, 0.001), min(0.028, h.Y*0.6), skin{face: up.face, puff: 0.25})
	if r := min(0.044, h.Y-0.012); right && r > 0.02 && h.X > 0.2 {
		p.of(Metal).by(-h.X+r+0.06, 0, h.Z-0.0012).lathe([]turning{
			{r: r, z: 0.001, c: bronze.times(0.9)}, {r: r * 0.84, z: 0.001, c: bronze}, {r: 0, z: -0.02, c: rubber}}, 10, 0.04)
	}
}

// footrest draws the footrest where the chair is far enough back to raise it.
func footrest(room pen, seat place.Seat, soft skin) {
	top, reach, ok := raised(seat)
	if !ok {
		return
	}
	c := seat.Chair
	front := -float64(c.PanDepth)
	sin, cos := math.Sincos(-0.10)
	lean := geometry.Basis{U: geometry.Vec{X: cos, Z: sin}, V: geometry.Vec{Y: 1}, W: geometry.Vec{X: -sin, Z: cos}}
	half := geometry.Vec{X: reach/2 - 0.01, Y: float64(c.PanWidth)/2 - 0.015, Z: 0.05}
	room.to(geometry.Vec{X: front - reach/2, Z: top - half.Z}, lean).bevel(half, 0.035, soft)
}

// raised returns the height of the raised footrest's top above the platform and
// how far it reaches in front of the pan. ok is false when the chair has none or is
// too upright for it.
func raised(seat place.Seat) (top, reach float64, ok bool) {
	c := seat.Chair
	reach = float64(c.Footrest)
	if reach < 0.08 || seat.Recline < 25*unit.Degree {
		return 0, 0, false
	}
	return float64(c.PanHeight) - 0.05, reach, true
}
