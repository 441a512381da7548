// SPDX-License-Identifier: MIT

package practice

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project/sight"
)

// picture is the picture as seen from an eye before it.
type picture struct {
	middle, right, up geometry.Vec // half edges
}

func (c *checker) picture() picture {
	m, r, u := c.d.Screen.Picture()
	return picture{m, r, u}
}

// across returns the angle, degrees, between the left and the right edge seen in
// plan from eye; NaN for an eye not before the picture.
func (p picture) across(eye geometry.Vec) float64 {
	return geometry.Across(eye.X-p.middle.X, eye.Y-p.middle.Y, p.right.Y) / unit.Degree
}

// above returns the angle, degrees, upwards from the level of eye to the height
// z of the picture's plane, straight ahead; NaN for an eye not before it.
func (p picture) above(eye geometry.Vec, z float64) float64 {
	d := eye.X - p.middle.X
	if !(d > 0) {
		return math.NaN()
	}
	return math.Atan((z-eye.Z)/d) / unit.Degree
}

// perRow measures every seat by f and remarks on the worst seat of each row; more
// is whether more is worse.
func (c *checker) perRow(lim Limits, more bool, f func(seat int) float64, tell func(m *Remark, seat int, v float64)) {
	for n := range c.rows {
		w := worst{lim: lim}
		for _, i := range c.rows[n].seats {
			w.add(i, f(i), more)
		}
		if !w.any {
			continue
		}
		m := c.remark(w.value, lim)
		m.Seats, m.Rows = w.places(), []int{c.rows[n].index}
		tell(m, w.at, w.value)
	}
}

func (c *checker) pictureWhole() {
	lim := c.lim
	if lim.Min != nil {
		lim = Limits{Min: new(float64), Max: lim.Max}
		*lim.Min = *c.lim.Min - 1e-6 // the audit's own rounding
	}
	c.perRow(lim, false, func(i int) float64 { return c.r.Views[i].Visible }, func(m *Remark, i int, v float64) {
		view := &c.r.Views[i]
		m.Limits = c.lim
		m.Text = c.seatWords(i) + " sees " + c.show(math.Floor(v*1000+1e-3)/1000) + " of the picture"
		if !m.OK && view.Blocker != sight.NoPart {
			m.Text += ": " + c.r.WordsFrom(i, view.Blocker) + " hides most of the rest"
		}
		m.Text += c.asks(c.lim)
		m.Mark = Mark{Kind: DistanceMark, At: view.Enter, From: view.Eye, To: view.Hidden, Label: c.show(v)}
	})
}

func (c *checker) pictureMargin() {
	lim := c.lim
	if !c.limitOverridden {
		lim = atLeast(float64(c.d.Criteria.PictureMargin))
	}
	c.perRow(lim, false, func(i int) float64 {
		if c.r.Views[i].Nearby == sight.NoPart {
			return math.NaN() // nothing near, or not before the picture at all
		}
		return c.r.Views[i].Clearance
	}, func(m *Remark, i int, v float64) {
		view := &c.r.Views[i]
		what := c.r.WordsFrom(i, view.Nearby)
		if v < 0 {
			m.Text = c.seatWords(i) + " sees the lower edge past " + what + ", which stands " + c.show(-v) + " in the way" + c.asks(lim)
		} else {
			m.Text = c.seatWords(i) + " sees the lower edge " + c.show(v) + " clear of " + what + c.asks(lim)
		}
		m.Mark = Mark{Kind: DistanceMark, At: view.Nearest, From: view.Eye, To: view.Toward, Label: c.show(v)}
	})
}

// cClear returns the C value: how high above the eye in front the line from the
// eye behind to the focus passes. C = D(N+R)/(D+T) - R with D from the eye in
// front to the focus, R that eye above the focus, N the rise and T the way from
// eye to eye (Plus Maths stadium sightline sheet). NaN where the eyes are not
// one behind the other before the focus.
func cClear(front, back geometry.Vec, focusX, focusZ float64) float64 {
	d, r := front.X-focusX, front.Z-focusZ
	t, n := back.X-front.X, back.Z-front.Z
	if !(d > 0) || !(t > 0) {
		return math.NaN()
	}
	return d*(n+r)/(d+t) - r
}

// CValue is the C value of a row over the one in front of it: see cClear.
type CValue struct {
	Row   int     `json:"row"`   // of the design's rows, from 1
	Front int     `json:"front"` // the row in front of it
	Clear float64 `json:"c_value_m"`
}

// cValues measures the rows that have one in front of them.
func (c *checker) cValues() {
	p := c.picture()
	foot := p.middle.Sub(p.up)
	for n := range c.rows {
		if f := c.ahead(n); f >= 0 {
			if v := cClear(c.rows[f].eye, c.rows[n].eye, foot.X, foot.Z); !math.IsNaN(v) && !math.IsInf(v, 0) {
				c.out.CValues = append(c.out.CValues, CValue{c.rows[n].index + 1, c.rows[f].index + 1, v})
			}
		}
	}
}

func (c *checker) pictureAngle(lim Limits, more bool) {
	p := c.picture()
	c.perRow(lim, more, func(i int) float64 { return p.across(c.r.Views[i].Eye) }, func(m *Remark, i int, v float64) {
		m.Text = c.seatWords(i) + " sees the picture " + c.show(v) + " wide" + c.asks(lim)
		eye := c.r.Views[i].Eye
		m.Mark = Mark{Kind: AngleMark, At: eye, From: p.middle.Sub(p.right), To: p.middle.Add(p.right), Label: c.show(v)}
	})
}

func (c *checker) pictureAngleLeast() { c.pictureAngle(c.lim, false) }

// WidePicture is the shape, to 1, from which a picture counts as wide to the rule on the
// greatest angle across. No source: common practice.
const WidePicture = 2.3

// pictureAngleMost judges wide pictures only: its source gives the angle for 2.39:1.
func (c *checker) pictureAngleMost() {
	if c.d.Screen.Aspect >= WidePicture || c.limitOverridden {
		c.pictureAngle(c.lim, true)
	}
}

// pictureHeightsMain says how many picture heights the main position is away, and how
// wide it sees the picture.
func (c *checker) pictureHeightsMain() {
	p := c.picture()
	eye := c.r.Main
	for n := range c.rows {
		if c.rows[n].index == c.d.Seating.Main.Row-1 {
			eye = c.rows[n].eye
		}
	}
	d := eye.X - p.middle.X
	if !(p.up.Z > 0) || !(d > 0) {
		return
	}
	v := d / (2 * p.up.Z)
	m := c.remark(v, c.lim)
	m.Text = "the main listening position sits " + c.show(v) + " picture heights away and sees the picture " + degrees(p.across(eye)) + " wide" + c.asks(c.lim)
	m.Mark = Mark{Kind: AngleMark, At: eye, From: p.middle.Sub(p.right), To: p.middle.Add(p.right), Label: c.show(v)}
}

func (c *checker) lookUp(what string, at geometry.Vec) {
	p := c.picture()
	c.perRow(c.lim, true, func(i int) float64 { return p.above(c.r.Views[i].Eye, at.Z) }, func(m *Remark, i int, v float64) {
		m.Text = c.seatWords(i) + " looks up " + c.show(v) + " to the " + what + " of the picture" + c.asks(c.lim)
		eye := c.r.Views[i].Eye
		ahead := geometry.Vec{X: at.X, Y: eye.Y, Z: eye.Z}
		m.Mark = Mark{Kind: AngleMark, At: eye, From: ahead, To: geometry.Vec{X: at.X, Y: eye.Y, Z: at.Z}, Label: c.show(v)}
	})
}

func (c *checker) lookUpTop() {
	p := c.picture()
	c.lookUp("top", p.middle.Add(p.up))
}

func (c *checker) lookUpMiddle() { c.lookUp("middle", c.picture().middle) }

func (c *checker) seatTurn() {
	p := c.picture()
	c.perRow(c.lim, true, func(i int) float64 {
		eye, facing := c.r.Views[i].Eye, c.r.Seats[i].Basis.U.Neg()
		if !(eye.X > p.middle.X) {
			return math.NaN()
		}
		to := p.middle.Sub(eye)
		return geometry.Angle(geometry.Vec{X: facing.X, Y: facing.Y}, geometry.Vec{X: to.X, Y: to.Y}) / unit.Degree
	}, func(m *Remark, i int, v float64) {
		m.Text = c.seatWords(i) + " faces " + c.show(v) + " beside the middle of the picture" + c.asks(c.lim)
		eye := c.r.Views[i].Eye
		d := eye.X - p.middle.X
		m.Mark = Mark{Kind: AngleMark, At: eye, From: eye.Sub(c.r.Seats[i].Basis.U.Mul(d)),
			To: geometry.Vec{X: p.middle.X, Y: p.middle.Y, Z: eye.Z}, Label: c.show(v)}
	})
}

func (c *checker) offAxis() {
	p, b := c.picture(), c.std.OffAxis()
	for n := range c.rows {
		w := worst{lim: b.Good.Limits}
		for _, i := range c.rows[n].seats {
			if eye := c.r.Views[i].Eye; eye.X > p.middle.X {
				w.add(i, math.Atan2(math.Abs(eye.Y-p.middle.Y), eye.X-p.middle.X)/unit.Degree, true)
			}
		}
		if !w.any {
			continue
		}
		m := c.graded(w.value, b)
		m.Seats, m.Rows = w.places(), []int{c.rows[n].index}
		m.Text = c.seatWords(w.at) + " sits " + c.show(w.value) + " off the picture's normal" + c.asksBands(b, m.Grade)
		eye := c.r.Views[w.at].Eye
		m.Mark = Mark{Kind: AngleMark, At: p.middle, From: geometry.Vec{X: eye.X, Y: p.middle.Y, Z: p.middle.Z},
			To: geometry.Vec{X: eye.X, Y: eye.Y, Z: p.middle.Z}, Label: c.show(w.value)}
	}
}

func (c *checker) pictureHeights() {
	p := c.picture()
	if !(p.up.Z > 0) {
		return
	}
	for n := range c.rows {
		eye := c.rows[n].eye
		d := eye.X - p.middle.X
		if !(d > 0) {
			continue
		}
		v := d / (2 * p.up.Z)
		m := c.remark(v, c.lim)
		m.Rows, m.Seats = []int{c.rows[n].index}, c.rows[n].seats
		m.Text = rowWords(c.rows[n].index) + " sits " + c.show(v) + " picture heights away" + c.asks(c.lim)
		m.Mark = Mark{Kind: DistanceMark, From: eye, To: geometry.Vec{X: p.middle.X, Y: eye.Y, Z: eye.Z}, Label: c.show(v)}
	}
}

func (c *checker) pictureBottom() {
	p := c.picture()
	bottom := p.middle.Z - p.up.Z
	for n := range c.rows {
		if c.ahead(n) >= 0 {
			continue
		}
		eye := c.rows[n].eye
		v := bottom - eye.Z
		m := c.remark(v, c.lim)
		m.Rows, m.Seats = []int{c.rows[n].index}, c.rows[n].seats
		where := " above"
		if v < 0 {
			where = " below"
		}
		m.Text = "the picture's lower edge is " + c.show(math.Abs(v)) + where + " the eyes of " + rowWords(c.rows[n].index) + c.asks(c.lim)
		at := geometry.Vec{X: p.middle.X, Y: p.middle.Y, Z: eye.Z}
		m.Mark = Mark{Kind: DistanceMark, From: at, To: geometry.Vec{X: at.X, Y: at.Y, Z: bottom}, Label: c.show(v)}
	}
}
