// SPDX-License-Identifier: MIT

package practice

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/system"
)

// heard is a channel as it is heard at the main listening position, beside the bands
// that it is held to, in one direction: azimuth or elevation, degrees.
type heard struct {
	*channel
	v       float64 // turned to where the bands are
	bands   Bands
	nominal string  // "nominal 90°, no range published", where nobody gives a range
	tape    float64 // by how much the bands were widened, degrees
	judged  bool
}

// widen lets h be off its bands by the rule's allowance, or the house's; about a nominal
// direction by the house's alone.
func (c *checker) widen(h *heard) {
	if (h.nominal == "" || c.limitOverridden) && c.lim.Max != nil {
		h.tape = max(*c.lim.Max, 0)
		h.bands = h.bands.widened(h.tape)
	}
}

func (h *heard) grade() Grade { return h.bands.Grade(h.v) }

// out returns how far h is out of what is good.
func (h *heard) out() float64 {
	return max(h.bands.Good.Least()-h.v, h.v-h.bands.Good.Most(), 0)
}

// channelOf returns the channel of that label in the system judged by; else, for a
// label that this has not, the first of all systems that has it.
func (c *checker) channelOf(label string) (ch system.Channel, own, ok bool) {
	if ch, ok = c.judgedBy.Channel(label); ok {
		return ch, true, true
	}
	for _, s := range c.all {
		if ch, ok = s.Channel(label); ok {
			return ch, false, true
		}
	}
	return ch, false, false
}

// turned returns v turned by whole turns to where it is nearest to what is good.
func turned(v float64, b Bands) float64 {
	best, at := math.Inf(1), v
	for _, t := range [3]float64{v, v - 360, v + 360} {
		if by := max(b.Good.Least()-t, t-b.Good.Most(), 0); by < best {
			best, at = by, t
		}
	}
	return at
}

func nominalWords(v float64) string {
	return "nominal " + unit.Degrees(v).String() + ", no range published"
}

// upright is the elevation near which azimuth has no meaning, degrees.
const upright = 80

func (c *checker) azimuth() {
	list := make([]heard, len(c.groups))
	for i := range c.groups {
		h := &list[i]
		h.channel = &c.groups[i]
		h.judged = c.azimuthOf(h)
	}
	c.tell(list, "azimuth", "", func(h *heard, m *Remark) {
		m.Mark.From, m.Mark.To = c.toward(m.Limits.Least(), h.el, h.dist), c.toward(m.Limits.Most(), h.el, h.dist)
		m.Mark.Normal = geometry.Vec{Z: 1}
	})
}

// azimuthOf fills in the azimuth of a channel and what it is held to.
func (c *checker) azimuthOf(h *heard) bool {
	g := h.channel
	ch, _, ok := c.channelOf(g.label)
	if !ok || ch.LFE() || math.Abs(g.el) >= upright || ch.Elevation >= upright || c.judgedAsSurround(g) {
		return false
	}
	b := c.std.Azimuth(ch)
	if !ch.AzimuthRange.Given() && b.Good.Source == common {
		h.nominal = nominalWords(ch.Azimuth)
	}
	h.bands = b
	c.widen(h)
	h.v = turned(g.az, h.bands)
	return true
}

func (c *checker) elevation() {
	list := make([]heard, len(c.groups))
	for i := range c.groups {
		h := &list[i]
		h.channel = &c.groups[i]
		h.judged = c.elevationOf(h)
	}
	c.tell(list, "elevation", "", func(h *heard, m *Remark) {
		m.Mark.From, m.Mark.To = c.toward(h.az, m.Limits.Least(), h.dist), c.toward(h.az, m.Limits.Most(), h.dist)
		m.Mark.Normal = geometry.Direction((h.az+90)*unit.Degree, 0)
	})
}

// elevationOf fills in the elevation of a channel and what it is held to.
func (c *checker) elevationOf(h *heard) bool {
	layer := c.layer(h.channel)
	ch, _, known := c.channelOf(h.label)
	if !known && layer == NoLayer {
		return false
	}
	b := c.std.ElevationOf(layer, ch)
	if known && !ch.ElevationRange.Given() && b.Good.Source == common && (layer == NoLayer || c.std.published()) {
		h.nominal = nominalWords(ch.Elevation)
	}
	h.bands, h.v = b, h.el
	c.widen(h)
	return true
}

// layer returns the layer of a channel: that of its first loudspeaker.
func (c *checker) layer(g *channel) Layer {
	return LayerIn(c.d, c.d.Speakers[g.speakers[0]])
}

// tell remarks on every channel of list that is judged, in one remark for the two of a
// pair that are off alike.
func (c *checker) tell(list []heard, what, after string, mark func(*heard, *Remark)) {
	told := make([]bool, len(list))
	for i := range list {
		h := &list[i]
		if !h.judged || told[i] {
			continue
		}
		both := []*heard{h}
		if j := c.alike(list, i); j >= 0 {
			told[j] = true
			if both = append(both, &list[j]); list[j].side > 0 {
				both[0], both[1] = both[1], both[0]
			}
		}
		c.tellOf(both, what, after, mark)
	}
}

// alike returns the partner of list[i] if it is as far off as that; -1 for none.
func (c *checker) alike(list []heard, i int) int {
	const apart = 2 // degrees: more is for the rules of symmetry to tell
	h := &list[i]
	if h.grade() == Good || h.side == 0 {
		return -1
	}
	for j := range list {
		o := &list[j]
		if j != i && o.judged && o.label == mirrored(h.label) && o.grade() == h.grade() && math.Abs(o.out()-h.out()) < apart {
			return j
		}
	}
	return -1
}

// tellOf remarks on a channel, or on the two of a pair.
func (c *checker) tellOf(both []*heard, what, after string, mark func(*heard, *Remark)) {
	h := both[0]
	for _, o := range both[1:] {
		if o.out() > h.out()+1e-9 {
			h = o
		}
	}
	m := c.graded(h.v, h.bands)
	var values []string
	for _, o := range both {
		m.Speakers = append(m.Speakers, o.speakers...)
		v := o.v
		if what == "azimuth" {
			v = math.Remainder(v, 360)
		}
		values = append(values, c.show(v))
	}
	if len(values) == 2 && values[0] == values[1] {
		values = values[:1]
	}
	if rest, ok := strings.CutPrefix(what, "stand"); ok && len(both) == 1 {
		what = "stands" + rest
	}
	m.Text = namesOf(both) + " " + what + " " + strings.Join(values, " and ") + after
	asked := h.bands.widened(-h.tape)
	switch {
	case h.nominal == "":
		m.Text += c.asksBands(asked, m.Grade)
	case m.Grade == Good:
		m.Text += ", " + h.nominal
	default:
		m.Text += ", " + h.nominal + ", " + unit.Degrees(nominalAccepted).String() + " off is accepted"
	}
	if m.Grade == Good && !asked.Good.Holds(h.v) {
		m.Text += ", " + unit.Degrees(h.tape).String() + " beyond is accepted"
	}
	if m.Grade == Beyond && !h.bands.Limit.Holds(h.v) && asked.Limit.Most() > asked.Accepted.Most() && h.v > asked.Limit.Most() {
		m.Text += ", and nobody should go beyond " + c.limit(*asked.Limit.Max)
	}
	m.Mark = Mark{Kind: ArcMark, At: c.r.Main, Label: c.show(h.v)}
	mark(h, m)
	if what == "elevation" {
		c.weighRaise(both, h, m)
		for _, o := range both {
			c.heights[o.label] = *m
		}
	}
}

// namesOf names the channels: "M+090 (2 loudspeakers) and M-090".
func namesOf(both []*heard) string {
	var names []string
	for _, o := range both {
		name := o.label
		if n := len(o.speakers); n > 1 {
			name += " (" + strconv.Itoa(n) + " loudspeakers)"
		}
		names = append(names, name)
	}
	return strings.Join(names, " and ")
}

// bedRaise compares the elevation of sides and rears with the mean of the fronts; what
// the rule on elevation reproves or settles it does not tell again.
func (c *checker) bedRaise() {
	front, n := 0.0, 0.0
	for i := range c.groups {
		if g := &c.groups[i]; c.layer(g) == Front {
			front, n = front+g.el, n+1
		}
	}
	if n == 0 {
		return
	}
	front /= n
	list := make([]heard, len(c.groups))
	for i := range c.groups {
		h := &list[i]
		h.channel = &c.groups[i]
		e, told := c.heights[h.label]
		layer := c.layer(h.channel)
		h.judged = (layer == Side || layer == Rear) && !(told && (!e.OK || e.Settled != ""))
		h.v, h.bands = h.el-front, c.std.Raise()
	}
	c.tell(list, "stand", " above the loudspeakers at the screen", func(h *heard, m *Remark) {
		at := c.directions[h.speakers[0]].at
		m.Mark = Mark{Kind: AngleMark, At: c.r.Main, From: c.toward(h.az, front, h.dist), To: at, Label: c.show(h.v)}
	})
}

// frontHeight says how high on the picture the fronts behind it stand.
func (c *checker) frontHeight() {
	p := c.picture()
	if !c.d.Screen.Transparent || !(p.up.Z > 0) {
		return
	}
	bottom, high := p.middle.Z-p.up.Z, 2*p.up.Z
	list := make([]heard, len(c.groups))
	at := func(h *heard) geometry.Vec {
		sp := &c.r.Speakers[h.speakers[0]]
		if i := sp.Spec.Deciding(); i >= 0 && i < len(sp.Drivers) {
			return sp.Drivers[i].Center
		}
		return sp.At.Vec()
	}
	for i := range c.groups {
		h := &list[i]
		h.channel = &c.groups[i]
		h.judged = c.layer(h.channel) == Front && c.d.Speakers[h.speakers[0]].Mount == project.BehindScreen
		h.v, h.bands = (at(h).Z-bottom)/high, c.std.FrontHeight()
	}
	c.tell(list, "stand at", " of the picture's height", func(h *heard, m *Remark) {
		q := at(h)
		m.Mark = Mark{Kind: DistanceMark, From: geometry.Vec{X: p.middle.X, Y: q.Y, Z: bottom}, To: geometry.Vec{X: p.middle.X, Y: q.Y, Z: q.Z}, Label: c.show(h.v)}
	})
}

// gap finds the widest gap between neighbours of the bed, round the main position.
func (c *checker) gap() {
	widest := func(az []float64) (gap, from float64) {
		slices.Sort(az)
		for i := range az {
			next := az[(i+1)%len(az)]
			if i == len(az)-1 {
				next += 360
			}
			if g := next - az[i]; g > gap+1e-9 {
				gap, from = g, az[i]
			}
		}
		return gap, from
	}
	var az, nominal []float64
	wides := false
	for i := range c.groups {
		if g := &c.groups[i]; strings.HasPrefix(g.label, "M") {
			wides = wides || LayerOf(g.label) == Wide
			for _, k := range g.speakers {
				az = append(az, c.directions[k].az)
			}
		}
	}
	for _, ch := range c.judgedBy.Channels {
		if strings.HasPrefix(ch.Label, "M") {
			nominal = append(nominal, ch.Azimuth)
		}
	}
	if len(az) < 2 {
		return
	}
	most := c.lim.Most()
	if !c.limitOverridden {
		if wides {
			most = gapWithWides
		}
		if len(nominal) > 1 {
			g, _ := widest(nominal)
			most = max(most, g)
		}
	}
	v, from := widest(az)
	m := c.remark(v, atMost(most))
	for k := range c.directions {
		if h := &c.directions[k]; h.layer == "M" && (math.Abs(h.az-from) < 1e-9 || math.Abs(math.Remainder(h.az-from-v, 360)) < 1e-9) {
			m.Speakers = append(m.Speakers, k)
		}
	}
	m.Text = "the widest gap of the bed at the main listening position is " + c.show(v) + ", from " + c.plain(math.Remainder(from, 360), 0) + " to " + c.plain(math.Remainder(from+v, 360), 0) + c.asks(m.Limits)
	m.Mark = Mark{Kind: AngleMark, At: c.r.Main, From: c.toward(from, 0, 1), To: c.toward(from+v, 0, 1), Label: c.show(v)}
}

// gapWithWides is the widest gap of a bed with wides, degrees: common practice.
const gapWithWides = 60

// behindAbove says how far behind the ears of the last row the rearmost height is, where
// the labels have one behind.
func (c *checker) behindAbove() {
	if len(c.rows) == 0 {
		return
	}
	last := &c.rows[0]
	for n := range c.rows {
		if c.rows[n].Distance > last.Distance {
			last = &c.rows[n]
		}
	}
	rearmost, found := -1, false
	for k := range c.directions {
		if h := &c.directions[k]; h.layer == "U" || h.layer == "UH" {
			found = found || h.named > 90
			if rearmost < 0 || h.at.X > c.directions[rearmost].at.X+1e-9 {
				rearmost = k
			}
		}
	}
	if !found {
		return
	}
	ear := math.Inf(-1)
	for _, i := range last.seats {
		ear = max(ear, c.ear(i).X)
	}
	at := c.directions[rearmost].at
	v := at.X - ear
	m := c.remark(v, c.lim)
	m.Rows, m.Speakers = []int{last.index}, []int{rearmost}
	m.Text = c.speaker(rearmost) + ", the rearmost height, is " + c.show(math.Abs(v)) + " behind the ears of " + rowWords(last.index) + c.asks(c.lim)
	if !m.OK {
		m.Text = rowWords(last.index) + " has nothing behind and above it: " + c.speaker(rearmost) + ", the rearmost height, is " + c.show(math.Abs(v)) + " ahead of its ears"
	}
	m.Mark = Mark{Kind: DistanceMark, From: geometry.Vec{X: ear, Y: at.Y, Z: at.Z}, To: at, Label: c.show(v)}
}
