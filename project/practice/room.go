// SPDX-License-Identifier: MIT

package practice

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

func (c *checker) seatWall() {
	if len(c.poly) < 3 {
		return
	}
	b := c.std.SeatWall()
	for n := range c.rows {
		least, at, grade := math.Inf(1), -1, Good
		var seats []int // of that grade
		for _, i := range c.rows[n].seats {
			ear := c.ear(i)
			v := c.poly.Distance(geometry.Vec2{X: ear.X, Y: ear.Y})
			if g := b.Grade(v); g > grade {
				grade, seats = g, nil
			}
			if b.Grade(v) == grade {
				seats = append(seats, i)
			}
			if v < least-1e-9 {
				least, at = v, i
			}
		}
		if at < 0 {
			continue
		}
		m := c.graded(least, b)
		m.Rows, m.Seats = []int{c.rows[n].index}, seats
		if grade == Good {
			m.Seats = []int{at}
		}
		m.Text = c.seatWords(at) + " has the head " + c.show(least) + " from the wall" + c.asksBands(b, m.Grade)
		ear := c.ear(at)
		m.Mark = Mark{Kind: DistanceMark, From: ear, To: c.wallFoot(ear), Label: c.show(least)}
	}
}

func (c *checker) seatLoudspeaker() {
	for i := range c.r.Seats {
		ear := c.ear(i)
		near, v := -1, math.Inf(1)
		for k := range c.r.Speakers {
			if d := c.directions[k].at.Dist(ear); d < v && !c.r.Speakers[k].Spec.Subwoofer() {
				near, v = k, d
			}
		}
		if near < 0 {
			continue
		}
		m := c.remark(v, c.lim)
		m.Seats, m.Speakers = []int{i}, []int{near}
		m.Text = c.seatWords(i) + " is " + c.show(v) + " from " + c.speaker(near) + c.asks(c.lim)
		m.Mark = Mark{Kind: DistanceMark, From: ear, To: c.directions[near].at, Label: c.show(v)}
	}
}

// obstacles returns what stands on the floor of a row at the height where people
// walk: the outline, features, and the chairs of other rows.
func (c *checker) obstacles(n int) []geometry.Polygon {
	const body = 1.9 // m, as tall as people
	floor := float64(c.rows[n].Riser)
	out := []geometry.Polygon{c.poly}
	for _, f := range c.d.Room.Features {
		low, high := float64(f.At.Z), float64(f.At.Z+f.Height)
		if (f.Kind == project.Column || f.Kind == project.Stage) && low < floor+body && high > floor+stepIn {
			out = append(out, f.Box().Outline())
		}
	}
	for k := range c.rows {
		if k == n {
			continue
		}
		for _, i := range c.rows[k].seats {
			out = append(out, c.r.Seats[i].Outline(1))
		}
	}
	return out
}

// free returns how far it is from p along y, to the left for side -1 or the
// right for +1, to the nearest of obstacles; infinite when there is none.
func free(p geometry.Vec2, side float64, obstacles []geometry.Polygon) float64 {
	least := math.Inf(1)
	for _, o := range obstacles {
		for i := range o {
			a, b := o.Edge(i)
			if a.X > b.X {
				a, b = b, a
			}
			if p.X < a.X || p.X > b.X {
				continue
			}
			ends := []float64{a.Y, b.Y}
			if b.X > a.X {
				ends = []float64{a.Y + (b.Y-a.Y)*(p.X-a.X)/(b.X-a.X)}
			}
			for _, y := range ends {
				if d := (y - p.Y) * side; d >= 0 && d < least {
					least = d
				}
			}
		}
	}
	return least
}

// aisles remarks on the wider aisle of every row, of those on platforms or of
// the others.
func (c *checker) aisles(stepped bool) {
	for n := range c.rows {
		r := &c.rows[n]
		if (r.Riser > 0) != stepped || len(c.poly) < 3 {
			continue
		}
		others := c.obstacles(n)
		var width [2]float64
		var from [2]geometry.Vec2
		for k, side := range [2]float64{-1, 1} {
			seat := r.seats[0]
			if side > 0 {
				seat = r.seats[len(r.seats)-1]
			}
			p := c.r.Seats[seat].Outline(1) // its left side, then its right side
			a, b := p[0], p[1]
			if side > 0 {
				a, b = p[3], p[2]
			}
			width[k] = math.Inf(1)
			for _, t := range [3]float64{0, 0.5, 1} {
				q := a.Add(b.Sub(a).Mul(t))
				if w := free(q, side, others); w < width[k] {
					width[k], from[k] = w, q
				}
			}
		}
		k, side := 0, -1.0
		if width[1] > width[0] {
			k, side = 1, 1
		}
		var m *Remark
		var asks string
		if stepped {
			m = c.codified(width[k], c.code.Aisle)
			asks = c.asksCode(c.code.Aisle)
		} else {
			m = c.remark(width[k], c.lim)
			asks = c.asks(c.lim)
		}
		m.Rows = []int{r.index}
		m.Text = rowWords(r.index) + " has an aisle of " + c.show(width[k]) + " at its wider end" + asks
		at := geometry.Vec{X: from[k].X, Y: from[k].Y, Z: float64(r.Riser)}
		m.Mark = Mark{Kind: DistanceMark, From: at, To: at.Add(geometry.Vec{Y: side * width[k]}), Label: c.show(width[k])}
	}
}

func (c *checker) aisle()        { c.aisles(false) }
func (c *checker) aisleStepped() { c.aisles(true) }

// standing returns the area where people of row n stand and walk, from wall to
// wall: its platform, or on the floor from in front of their feet to the backs.
func (c *checker) standing(r *row) geometry.Polygon {
	const feet = 0.6 // m before the seat pan
	if box, ok := place.Platform(c.d, r.index); ok {
		return box.Outline()
	}
	lo, hi := c.poly.Bounds()
	front := max(float64(r.Distance-r.chair.PanDepth)-feet, lo.X)
	back := min(float64(r.Distance), hi.X)
	if !(back > front) || !(hi.Y > lo.Y) {
		return nil
	}
	return geometry.Polygon{{X: front, Y: lo.Y}, {X: back, Y: lo.Y}, {X: back, Y: hi.Y}, {X: front, Y: hi.Y}}
}

func (c *checker) headroom() {
	for n := range c.rows {
		r := &c.rows[n]
		area := c.standing(r)
		if len(area) < 3 {
			continue
		}
		floor := float64(r.Riser)
		least, at, what := math.Inf(1), area[0], "the ceiling"
		for _, p := range area { // the ceiling is a plane: lowest at a corner
			if h := c.d.Room.CeilingAt(p.X, p.Y) - floor; h < least {
				least, at = h, p
			}
		}
		for _, f := range c.d.Room.Features {
			if f.Kind != project.Soffit && f.Kind != project.Light && f.Kind != project.Vent {
				continue
			}
			p := f.Box().Outline()
			for i := range area {
				a, b := area.Edge(i)
				p = p.ClipHalf(a, geometry.Vec2{X: a.Y - b.Y, Y: b.X - a.X})
			}
			if h := float64(f.At.Z) - floor; len(p) > 2 && math.Abs(p.Area()) > 1e-4 && h < least { // a square centimetre
				least, what = h, f.Words()
				at = p[0].Add(p[len(p)/2].Sub(p[0]).Mul(0.5))
			}
		}
		m := c.codified(least, c.code.Headroom)
		m.Rows = []int{r.index}
		m.Text = rowWords(r.index) + " has " + c.show(least) + " of headroom under " + what + c.asksCode(c.code.Headroom)
		foot := geometry.Vec{X: at.X, Y: at.Y, Z: floor}
		m.Mark = Mark{Kind: DistanceMark, From: foot, To: foot.Add(geometry.Vec{Z: least}), Label: c.show(least)}
	}
}

// doorway is the geometry of a door: hinge and latch side of the opening on the
// wall, directions along the leaf and into the room.
type doorway struct {
	hinge, along, into geometry.Vec2
	leaf, base         float64
}

// door returns the doorway of f. Left and right are as seen from inside the room by
// someone who faces the door.
func (c *checker) door(f project.Feature) (doorway, bool) {
	at := geometry.Vec2{X: float64(f.At.X), Y: float64(f.At.Y)}
	edge, foot := c.poly.Nearest(at)
	into := c.poly.InwardNormal(edge)
	if into == (geometry.Vec2{}) {
		return doorway{}, false
	}
	w := doorway{into: into, leaf: max(float64(f.Length), float64(f.Width)), base: float64(f.At.Z)}
	w.along = geometry.Vec2{X: -into.Y, Y: into.X} // to the right
	if f.Swing == project.InRight || f.Swing == project.OutRight {
		w.along = w.along.Mul(-1)
	}
	w.hinge = foot.Sub(w.along.Mul(w.leaf / 2))
	return w, true
}

func (c *checker) doorSwing() {
	for _, f := range c.d.Room.Features {
		if f.Kind != project.Door || f.Swing != project.InLeft && f.Swing != project.InRight {
			continue
		}
		w, ok := c.door(f)
		if !ok {
			continue
		}
		// A quarter of a disc: whatever reaches into its corner counts by its
		// distance from the hinge.
		least, what := math.Inf(1), ""
		var rows, seats []int
		see := func(p geometry.Polygon) bool {
			p = p.ClipHalf(w.hinge, w.along).ClipHalf(w.hinge, w.into)
			if len(p) < 3 {
				return false
			}
			v := p.Distance(w.hinge) - w.leaf
			if p.Contains(w.hinge) {
				v = -w.leaf
			}
			if v < least {
				least = v
				return true
			}
			return false
		}
		for i := range c.r.Seats {
			if see(c.r.Seats[i].Outline(1)) {
				what, seats, rows = "the chair of "+c.seatWords(i), []int{i}, nil
			}
		}
		const sill = 0.02 // m that a leaf clears
		for i, r := range c.d.Seating.Rows {
			if box, ok := place.Platform(c.d, i); ok && float64(r.Riser) > w.base+sill && see(box.Outline()) {
				what, seats, rows = "the platform of "+rowWords(i), nil, []int{i}
			}
		}
		m := c.remark(least, c.lim)
		m.Seats, m.Rows = seats, rows
		m.Text = f.Words() + " swings past " + what + " by " + c.show(least) + c.asks(c.lim)
		if least < 0 {
			m.Text = f.Words() + " strikes " + what + " by " + c.show(-least) + c.asks(c.lim)
		}
		hinge := geometry.Vec{X: w.hinge.X, Y: w.hinge.Y, Z: w.base}
		m.Mark = Mark{Kind: ArcMark, At: hinge, Normal: geometry.Vec{Z: 1}, Label: c.show(least),
			From: hinge.Add(geometry.Vec{X: w.along.X, Y: w.along.Y}.Mul(w.leaf)),
			To:   hinge.Add(geometry.Vec{X: w.into.X, Y: w.into.Y}.Mul(w.leaf))}
	}
}

func (c *checker) doorSpace() {
	for _, f := range c.d.Room.Features {
		if f.Kind != project.Door {
			continue
		}
		w, ok := c.door(f)
		if !ok {
			continue
		}
		least, seat, at := math.Inf(1), -1, w.hinge
		latch := w.hinge.Add(w.along.Mul(w.leaf))
		for i := range c.r.Seats {
			p := c.r.Seats[i].Outline(1).ClipHalf(w.hinge, w.along).ClipHalf(latch, w.along.Mul(-1))
			if len(p) < 3 || math.Abs(p.Area()) < 1e-6 {
				continue
			}
			for _, q := range p.ClipHalf(w.hinge, w.into) {
				if v := q.Sub(w.hinge).Dot(w.into); v < least {
					least, seat, at = v, i, q
				}
			}
		}
		if seat < 0 {
			continue // free right through
		}
		m := c.remark(least, c.lim)
		m.Seats = []int{seat}
		m.Text = f.Words() + " has " + c.show(least) + " of free floor to the chair of " + c.seatWords(seat) + c.asks(c.lim)
		end := geometry.Vec{X: at.X, Y: at.Y, Z: w.base}
		m.Mark = Mark{Kind: DistanceMark, From: end.Sub(geometry.Vec{X: w.into.X, Y: w.into.Y}.Mul(least)), To: end, Label: c.show(least)}
	}
}
