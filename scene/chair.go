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
		if m.Index == nil {
			m.grow(len(s.seats)*len(whole.Pos)/3, len(s.seats)*len(whole.Index)/3)
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
	c := coverOf(s.coats.chairs.RGB)
	for _, part := range seat.ChairParts() {
		if drawn == headrestOnly && part.Kind != place.HeadrestPart {
			continue
		}
		p, h := room.to(part.Box.Center, part.Box.Basis), part.Box.Half
		switch part.Kind {
		case place.PanPart:
			_, _, up := raised(seat)
			pan(p, h, c, seat.Chair.Footrest > 0 && !up, s.o.Client)
		case place.BackPart:
			back(p, h, c, s.o.Client)
		case place.HeadrestPart:
			if drawn != noHeadrest {
				headrest(p, h, c, s.o.Client)
			}
		case place.ArmPart:
			armrest(p, h, c, part.Box.Center.Y > 0, s.o.Client)
		}
	}
	if drawn != headrestOnly {
		footrest(room, seat, c, s.o.Client)
	}
	if s.o.Bare {
		return m
	}
	// Less light reaches the foot of a chair.
	top := float64(seat.Chair.PanHeight)
	m.recolour(func(v geometry.Vec, c RGB) RGB { return c.times(0.50 + 0.50*step(0, top, v.Z)) })
	return m
}

// inner returns half less d on every side.
func inner(half geometry.Vec, d float64) geometry.Vec {
	return geometry.Vec{X: max(half.X-d, half.X/2), Y: max(half.Y-d, half.Y/2), Z: max(half.Z-d, half.Z/2)}
}

// cover is what a chair is covered with: the colour of its cushions, of what is behind and
// below them, and of the piping round them.
type cover struct{ soft, dark, piping RGB }

// coverOf returns a cover by the colour of its cushions.
func coverOf(c RGB) cover { return cover{c, c.times(0.61), c.mix(RGB{1, 1, 1}, 0.14)} }

// pad is a cushion under this cover.
func (c cover) pad(half geometry.Vec, corner, round, crown float64, welt bool) pad {
	return pad{half: half, corner: corner, round: round, crown: crown, welt: welt, c: c.soft, rim: c.piping}
}

// ahead returns p turned so that its W looks ahead and its U up.
func (p pen) ahead(x, y, z float64) pen {
	return p.to(geometry.Vec{X: x, Y: y, Z: z}, geometry.Basis{U: geometry.Vec{Z: 1}, V: geometry.Vec{Y: 1}, W: geometry.Vec{X: -1}})
}

// pan draws a plinth, the body of the seat with the footrest folded before it, and the
// cushion.
func pan(p pen, h geometry.Vec, c cover, folded, fine bool) {
	top := min(0.19, h.Z) // height of the cushion, metres
	foot := min(0.04, h.Z/3)
	p.by(0.02, 0, foot-h.Z).crate(geometry.Vec{X: h.X * 0.85, Y: h.Y * 0.97, Z: foot}, rubber.mix(walnutDark, 0.5))
	body := h.Z - top/2 - 0.03
	if body > 0.02 {
		p.by(0.012, 0, 0.03-top/2).crate(geometry.Vec{X: h.X - 0.012, Y: h.Y - 0.002, Z: body}, c.dark)
		if folded && fine && body > 0.06 {
			p.ahead(0.012-h.X, 0, 0.03-top/2).pad(c.pad(geometry.Vec{X: body - 0.012, Y: h.Y - 0.012, Z: 0.012}, 0.03, 0.014, 0.003, false), fine)
		}
	}
	p.by(0, 0, h.Z-top/2).pad(c.pad(inner(geometry.Vec{X: h.X, Y: h.Y, Z: top / 2}, 0.001), 0.06, 0.055, 0.016, true), fine)
}

// back draws a shell and, in front of it, cushions that meet at seams.
func back(p pen, h geometry.Vec, c cover, fine bool) {
	p.by(h.X*0.48, 0, 0).bevel(geometry.Vec{X: h.X * 0.51, Y: h.Y - 0.001, Z: h.Z - 0.001}, min(0.045, h.X*0.5), skin{face: c.dark, puff: 0.12})
	// A panel set into the back of the shell.
	rear := p.to(geometry.Vec{X: h.X - 0.0005}, geometry.WorldBasis())
	field(rear, 0, -h.Y*0.72, h.Y*0.72, -h.Z*0.75, h.Z*0.78, 0.016, c.dark.times(1.12), c.dark.times(1.55))
	seams := []float64{-1, -0.10, 1}
	if fine {
		seams = []float64{-1, -0.36, 0.28, 1}
	}
	for i := range len(seams) - 1 {
		from, to := h.Z*seams[i], h.Z*seams[i+1]
		half := geometry.Vec{X: (to - from) / 2, Y: h.Y - 0.003, Z: h.X * 0.62}
		p.ahead(half.Z-h.X, 0, (from+to)/2).pad(c.pad(inner(half, 0.0005), 0.045, 0.032, 0.018, false), fine)
	}
}

// headrest draws a pillow on its carrier.
func headrest(p pen, h geometry.Vec, c cover, fine bool) {
	p.by(h.X*0.62, 0, 0).bevel(geometry.Vec{X: h.X * 0.37, Y: h.Y - 0.008, Z: h.Z - 0.006}, min(0.025, h.X*0.3), skin{face: c.soft, puff: 0.2})
	half := geometry.Vec{X: h.Z, Y: h.Y, Z: h.X * 0.68}
	p.ahead(half.Z-h.X, 0, 0).pad(c.pad(inner(half, 0.001), min(0.055, h.Z*0.6), min(0.042, h.X*0.7), min(0.020, h.X*0.4), true), fine)
}

// armrest draws a side panel and a pad on it, with a cup's place in the right one.
func armrest(p pen, h geometry.Vec, c cover, right, fine bool) {
	high := min(0.045, h.Z/2)
	p.by(0.01, 0, -high).bevel(geometry.Vec{X: h.X - 0.01, Y: h.Y - 0.003, Z: h.Z - high}, 0.012, plainSkin(c.dark.mix(c.soft, 0.2)))
	p.by(0, 0, h.Z-high-0.001).pad(c.pad(inner(geometry.Vec{X: h.X, Y: h.Y, Z: high}, 0.001), 0.04, min(0.03, h.Y*0.6), 0, false), fine)
	if r := min(0.044, h.Y-0.012); right && r > 0.02 && h.X > 0.2 {
		p.of(Metal).by(-h.X+r+0.06, 0, h.Z-0.0012).lathe([]turning{
			{r: r, z: 0.001, c: bronze.times(0.9)}, {r: r * 0.84, z: 0.001, c: bronze}, {r: 0, z: -0.02, c: rubber}}, 10, 0.04)
	}
}

// footrest draws the footrest where the chair is far enough back to raise it.
func footrest(room pen, seat place.Seat, c cover, fine bool) {
	top, reach, ok := raised(seat)
	if !ok {
		return
	}
	front := -float64(seat.Chair.PanDepth)
	sin, cos := math.Sincos(-0.10)
	lean := geometry.Basis{U: geometry.Vec{X: cos, Z: sin}, V: geometry.Vec{Y: 1}, W: geometry.Vec{X: -sin, Z: cos}}
	half := geometry.Vec{X: reach/2 - 0.01, Y: float64(seat.Chair.PanWidth)/2 - 0.015, Z: 0.05}
	p := room.to(geometry.Vec{X: front - reach/2, Z: top - half.Z}, lean)
	p.by(0, 0, -0.035).bevel(geometry.Vec{X: half.X, Y: half.Y, Z: 0.015}, 0.008, plainSkin(c.dark))
	p.by(0, 0, 0.015).pad(c.pad(geometry.Vec{X: half.X, Y: half.Y, Z: 0.035}, 0.05, 0.032, 0.010, true), fine)
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
