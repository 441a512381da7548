// SPDX-License-Identifier: MIT

package practice

import (
	"math"
	"strconv"
	"strings"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project/system"
)

// heard is a channel as it is heard at the main listening position, beside the bands
// that it is held to, in one direction: azimuth or elevation, degrees.
type heard struct {
	*channel
	v       float64 // turned to where the bands are
	bands   Bands
	nominal string // "nominal 90°, no range published", where nobody gives a range
	judged  bool
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

func (c *checker) azimuth() {
	// Near the vertical azimuth has no meaning.
	const upright = 80 // degrees
	list := make([]heard, len(c.groups))
	for i := range c.groups {
		g := &c.groups[i]
		h := &list[i]
		h.channel = g
		ch, _, ok := c.channelOf(g.label)
		if !ok || ch.LFE() || math.Abs(g.el) >= upright || ch.Elevation >= upright || c.judgedAsSurround(g) {
			continue
		}
		b := c.std.Azimuth(ch)
		if !ch.AzimuthRange.Given() && b.Good.Source == common {
			h.nominal = nominalWords(ch.Azimuth)
		}
		h.bands = b.widened(c.tape(h.nominal))
		h.v, h.judged = turned(g.az, h.bands), true
	}
	c.tell(list, "azimuth", func(h *heard, m *Remark) {
		m.Mark.From, m.Mark.To = c.toward(m.Limits.Least(), h.el, h.dist), c.toward(m.Limits.Most(), h.el, h.dist)
		m.Mark.Normal = geometry.Vec{Z: 1}
	})
}

func (c *checker) elevation() {
	list := make([]heard, len(c.groups))
	for i := range c.groups {
		h := &list[i]
		h.channel = &c.groups[i]
		h.judged = c.elevationOf(h)
	}
	c.tell(list, "elevation", func(h *heard, m *Remark) {
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
	h.bands, h.v = b.widened(c.tape(h.nominal)), h.el
	return true
}

// layer returns the layer of a channel: that of its first loudspeaker.
func (c *checker) layer(g *channel) Layer {
	return LayerIn(c.d, c.d.Speakers[g.speakers[0]])
}

// tell remarks on every channel of list that is judged, in one remark for the two of a
// pair that are off alike.
func (c *checker) tell(list []heard, what string, mark func(*heard, *Remark)) {
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
		c.tellOf(both, what, mark)
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
func (c *checker) tellOf(both []*heard, what string, mark func(*heard, *Remark)) {
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
	m.Text = namesOf(both) + " " + what + " " + strings.Join(values, " and ")
	tape := c.tape(h.nominal)
	asked := h.bands.widened(-tape)
	switch {
	case h.nominal == "" || c.limitOverridden && tape == 0:
		m.Text += c.asksBands(asked, m.Grade)
	case m.Grade == Good:
		m.Text += ", " + h.nominal
	default:
		m.Text += ", " + h.nominal + ", " + unit.Degrees(nominalAccepted).String() + " off is accepted"
	}
	if m.Grade == Good && !asked.Good.Holds(h.v) {
		m.Text += ", " + unit.Degrees(tape).String() + " beyond is accepted"
	}
	m.Mark = Mark{Kind: ArcMark, At: c.r.Main, Label: c.show(h.v)}
	mark(h, m)
	if what == "elevation" {
		c.weighRaise(both, h, m)
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

// tape returns how far bands are widened: by the rule's allowance or the house's, and
// by the house's alone where the bands are about a nominal direction.
func (c *checker) tape(nominal string) float64 {
	if nominal != "" && !c.limitOverridden || c.lim.Max == nil {
		return 0
	}
	return max(*c.lim.Max, 0)
}
