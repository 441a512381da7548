// SPDX-License-Identifier: MIT

package practice

import (
	"math"
	"strconv"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// row is a row that has seats, with its extent.
type row struct {
	project.Row
	index       int // of the design's rows
	chair       project.Chair
	seats       []int // of the audit's seats, from the left
	eye         geometry.Vec
	left, right float64 // y of the outer sides of its chairs
	thigh       float64 // back to knee of a sitter of the size for others
}

// findRows fills in rows: those that have seats.
func (c *checker) findRows() {
	for i := range c.r.Seats {
		s := &c.r.Seats[i]
		if s.Row < 1 || s.Row > len(c.d.Seating.Rows) {
			continue
		}
		if n := len(c.rows); n == 0 || c.rows[n-1].index != s.Row-1 {
			c.rows = append(c.rows, row{Row: c.d.Seating.Rows[s.Row-1], index: s.Row - 1, chair: s.Chair,
				left: math.Inf(1), right: math.Inf(-1), thigh: c.other.In(*s).Thigh})
		}
		r := &c.rows[len(c.rows)-1]
		r.seats = append(r.seats, i)
		for _, p := range s.Outline(1) {
			r.left, r.right = min(r.left, p.Y), max(r.right, p.Y)
		}
	}
	for n := range c.rows {
		r := &c.rows[n]
		for _, i := range r.seats {
			r.eye = r.eye.Add(c.r.Bodies[i].Eye().Mul(1 / float64(len(r.seats))))
		}
	}
}

// ear returns the point between the ears in seat i.
func (c *checker) ear(i int) geometry.Vec {
	b := &c.r.Bodies[i]
	return b.Ear()
}

// backReach returns how far a chair reaches behind the line where pan and back
// meet, its back reclined by angle, radians.
func backReach(chair project.Chair, angle float64) float64 {
	thick, high := float64(chair.BackThickness), float64(chair.BackHeight)
	sin, cos := math.Sincos(angle)
	reach := max(thick*cos+high*sin, thick*cos, 0)
	if h := float64(chair.Headrest); h > 0 {
		// As the chair's headrest: it tips half as far and is 0.7 as thick.
		s2, c2 := math.Sincos(angle / 2)
		reach = max(reach, high*sin+0.7*thick*c2+max(h*s2, 0))
	}
	return reach
}

// ahead returns the index in c.rows of the row in front of row n: the nearest whose
// chairs overlap with it across the room; -1 when none does.
func (c *checker) ahead(n int) int {
	const apart = 0.2 // m: less is the same row in two parts
	best := -1
	r := &c.rows[n]
	for k := range c.rows {
		f := &c.rows[k]
		if float64(r.Distance-f.Distance) < apart || f.right <= r.left || r.right <= f.left {
			continue
		}
		if best < 0 || f.Distance > c.rows[best].Distance {
			best = k
		}
	}
	return best
}

// between remarks on every row that has one in front of it. f returns the ends of
// the measured distance, front and back, as x.
func (c *checker) between(what string, f func(front, back *row) (from, to float64, ok bool)) {
	for n := range c.rows {
		k := c.ahead(n)
		if k < 0 {
			continue
		}
		back, front := &c.rows[n], &c.rows[k]
		from, to, ok := f(front, back)
		if !ok {
			continue
		}
		v := to - from
		m := c.remark(v, c.lim)
		m.Rows, m.Seats = []int{front.index, back.index}, back.seats
		m.Text = rowWords(back.index) + " has " + c.show(v) + " " + what + " to " + rowWords(front.index) + c.asks(c.lim)
		at := geometry.Vec{X: from, Y: float64(back.Centre + back.Stagger), Z: float64(back.Riser) + 0.3} // where knees are
		m.Mark = Mark{Kind: DistanceMark, From: at, To: geometry.Vec{X: to, Y: at.Y, Z: at.Z}, Label: c.show(v)}
	}
}

func (c *checker) rowPitch() {
	c.between("from back to back", func(front, back *row) (float64, float64, bool) {
		return float64(front.Distance), float64(back.Distance), true
	})
}

// behind returns where row r ends, its backs reclined as they stand.
func (r *row) behind() float64 { return float64(r.Distance) + backReach(r.chair, r.Recline.Radians()) }

func (c *checker) rowPassage() {
	c.between("of passage", func(front, back *row) (float64, float64, bool) {
		return front.behind(), float64(back.Distance - back.chair.PanDepth), true
	})
}

func (c *checker) rowKnees() {
	c.between("before the knees", func(front, back *row) (float64, float64, bool) {
		return front.behind(), float64(back.Distance) - back.thigh, true
	})
}

func (c *checker) rowFootrest() {
	c.between("before its footrests, all reclined,", func(front, back *row) (float64, float64, bool) {
		reach := back.chair.Footrest
		return float64(front.Distance) + backReach(front.chair, front.chair.MaxRecline.Radians()),
			float64(back.Distance - back.chair.PanDepth - reach), reach > 0
	})
}

// level returns the height of the floor at (x, y): of the highest platform of another
// row there, but no higher than below.
func (c *checker) level(x, y float64, not int, below float64) float64 {
	const hair = 1e-9 // m, rounding
	z := 0.0
	for i, r := range c.d.Seating.Rows {
		if h := float64(r.Riser); i != not && h > z && h < below {
			if box, ok := place.Platform(c.d, i); ok && math.Abs(x-box.Center.X) <= box.Half.X && math.Abs(y-box.Center.Y) <= box.Half.Y+hair {
				z = h
			}
		}
	}
	return z
}

// stepIn is how far beyond a platform's edge the level beside it is measured,
// metres.
const stepIn = 0.05

// climb returns, for a row on a platform, its front edge, the level before it
// and how many steps lead up; ok is false where none do. Of flights that are drawn the
// one with the highest steps counts, else as many steps as it takes at the front.
func (c *checker) climb(i int) (edge geometry.Vec, low float64, n int, ok bool) {
	box, ok := place.Platform(c.d, i)
	if !ok {
		return edge, 0, 0, false
	}
	most := c.code.Step.Most()
	if !(most > 0) {
		return edge, 0, 0, false
	}
	high := 2 * box.Half.Z
	edge = geometry.Vec{X: box.Center.X - box.Half.X, Y: box.Center.Y, Z: high}
	if flights := place.Flights(c.d, i); len(flights) > 0 {
		worst := flights[0]
		for _, f := range flights {
			if f.Rise > worst.Rise {
				worst = f
			}
		}
		return edge, worst.Base, worst.Risers, true
	}
	low = c.level(edge.X-stepIn, edge.Y, i, high)
	// A tenth of a millimetre more is not another step.
	steps := math.Ceil((high - low - 1e-4) / most)
	if !(steps >= 1) {
		return edge, low, 0, false
	}
	return edge, low, int(min(steps, 1000)), true
}

// stairs calls f for every platform with steps up to it, and places the remark that it
// makes.
func (c *checker) stairs(f func(platform string, rise float64, n int) *Remark) {
	for i := range c.d.Seating.Rows {
		edge, low, n, ok := c.climb(i)
		if !ok {
			continue
		}
		m := f("the platform of "+rowWords(i)+" ", edge.Z-low, n)
		m.Rows = []int{i}
		m.Mark = Mark{Kind: DistanceMark, From: geometry.Vec{X: edge.X, Y: edge.Y, Z: low}, To: edge, Label: c.show(m.Measured)}
	}
}

func (c *checker) stepHeight() {
	c.stairs(func(platform string, rise float64, n int) *Remark {
		v := rise / float64(n)
		m := c.codified(v, c.code.Step)
		m.Text = platform + "is one step of " + c.show(v)
		if n > 1 {
			m.Text = platform + "is " + c.length(rise) + " up, " + strconv.Itoa(n) + " steps of " + c.show(v)
		}
		m.Text += c.asksCode(c.code.Step)
		return m
	})
}

func (c *checker) steps() {
	c.stairs(func(platform string, rise float64, n int) *Remark {
		m := c.remark(float64(n), c.lim)
		m.Text = platform + "is one step up"
		if n > 1 {
			m.Text = platform + "is " + c.length(rise) + " up: " + strconv.Itoa(n) + " steps, " + strconv.Itoa(n-1) + " of them intermediate"
		}
		m.Text += c.asks(c.lim)
		return m
	})
}

func (c *checker) handrail() {
	c.stairs(func(platform string, rise float64, n int) *Remark {
		b := Band{atMost(c.code.rail(rise / float64(n))), c.code.RailSource}
		if c.limitOverridden {
			b = Band{c.lim, houseStandard}
		}
		m := c.codified(float64(n), b)
		m.Text = platform + "is " + strconv.Itoa(n) + " steps up" + c.asksCode(b) + " without a handrail"
		return m
	})
}

func (c *checker) guard() {
	for i := range c.d.Seating.Rows {
		box, ok := place.Platform(c.d, i)
		if !ok {
			continue
		}
		lo, hi := c.poly.Bounds()
		high := 2 * box.Half.Z
		drop, edge, low := 0.0, box.Center, high
		for _, side := range [2]float64{-1, 1} {
			x := box.Center.X + side*box.Half.X
			beyond := x + side*stepIn
			if beyond < lo.X || beyond > hi.X {
				continue // against the wall
			}
			z := c.level(beyond, box.Center.Y, i, math.Inf(1))
			if high-z > drop {
				drop, low, edge = high-z, z, geometry.Vec{X: x, Y: box.Center.Y, Z: high}
			}
		}
		for _, side := range [2]float64{-1, 1} { // of an island
			given := c.d.Seating.Rows[i].Left > 0
			if side > 0 {
				given = c.d.Seating.Rows[i].Right > 0
			}
			y := box.Center.Y + side*box.Half.Y
			if !given || !c.poly.Contains(geometry.Vec2{X: box.Center.X, Y: y + side*stepIn}) {
				continue
			}
			z := c.level(box.Center.X, y+side*stepIn, i, math.Inf(1))
			if high-z > drop {
				drop, low, edge = high-z, z, geometry.Vec{X: box.Center.X, Y: y, Z: high}
			}
		}
		m := c.codified(drop, c.code.Guard)
		m.Rows = []int{i}
		m.Text = "the platform of " + rowWords(i) + " drops " + c.show(drop) + " at its edge" + c.asksCode(c.code.Guard) + " without a guard"
		m.Mark = Mark{Kind: DistanceMark, From: geometry.Vec{X: edge.X, Y: edge.Y, Z: low}, To: edge, Label: c.show(drop)}
	}
}
