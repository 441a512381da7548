// SPDX-License-Identifier: MIT

package settle

import (
	"math"
	"slices"

	"earline/project"
	"earline/project/fit"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
)

// gatherer puts what was found under its causes.
type gatherer struct {
	r    *sight.Result
	d    *project.Design
	kept *practice.Result
	all  []*Cause
}

// cause returns the cause of that family and subject, a new one at first.
func (g *gatherer) cause(f Family, subject string) *Cause {
	id := f.String()
	if subject != "" {
		id += " " + subject
	}
	for _, c := range g.all {
		if c.ID == id {
			return c
		}
	}
	c := &Cause{ID: id, Family: f, Seat: None, Speaker: None}
	g.all = append(g.all, c)
	return c
}

// findings are what cannot be built: a cause for each thing, or for the loudspeakers of
// a layer.
func (g *gatherer) findings() {
	for _, f := range fit.Findings(g.d) {
		it := f.Item()
		name := f.Where
		if it.Kind == place.SpeakerItem {
			name = layerOf(g.d.Speakers[it.Index].Label)
		}
		c := g.cause(Build, name)
		c.Severity = practice.Must
		c.Findings = append(c.Findings, f)
		if it.Kind == place.SpeakerItem {
			c.Speakers = append(c.Speakers, it.Index)
		}
	}
}

// flight are the rules about the steps of one flight.
var flight = []string{"step-height", "steps", "handrail"}

// remarks puts every remark that falls short under its cause.
func (g *gatherer) remarks() {
	if g.kept == nil {
		return
	}
	for i := range g.kept.Remarks {
		m := &g.kept.Remarks[i]
		if m.OK {
			continue
		}
		f := familyOf(m.Rule)
		subject, layer := "", ""
		switch f {
		case Driver, Height, Direction:
			if len(m.Speakers) > 0 {
				layer = layerOf(g.r.Speakers[m.Speakers[0]].Label)
				subject = layer
			}
		case Safety:
			subject = m.Rule
			if slices.Contains(flight, m.Rule) {
				subject = "steps"
			}
		case Fit:
			subject = m.Rule
			if len(m.Speakers) > 0 {
				subject += " " + layerOf(g.r.Speakers[m.Speakers[0]].Label)
			}
		}
		c := g.cause(f, subject)
		c.layer = layer
		c.Severity = max(c.Severity, m.Severity)
		c.Remarks = append(c.Remarks, m)
		c.Seats = append(c.Seats, m.Seats...)
		for _, k := range m.Speakers {
			if layer == "" || layerOf(g.r.Speakers[k].Label) == layer { // not the heights that a bed is near to
				c.Speakers = append(c.Speakers, k)
			}
		}
		c.Rows = append(c.Rows, m.Rows...)
	}
}

// pictures are who misses some of the picture, whatever rules are on.
func (g *gatherer) pictures() {
	worst := math.Inf(-1)
	for i := range g.r.Views {
		v := &g.r.Views[i]
		if v.Verdict != sight.Blocked {
			continue
		}
		c := g.cause(Picture, "")
		c.Seats = append(c.Seats, i)
		// What is hidden from above or beside is as deep as the strip of the picture lost.
		depth := max(-v.Clearance, (1-v.Visible)*g.d.Screen.Height())
		c.block(i, depth)
		if depth > worst+1e-9 {
			worst, c.Seat = depth, i
		}
	}
}

// paths are the paths of sound that are blocked or tight, whatever rules are on.
func (g *gatherer) paths() {
	for i := range g.r.Seats {
		for k := range g.r.Speakers {
			p := g.r.Pair(i, k)
			if p.Verdict != sight.Blocked && p.Verdict != sight.Tight {
				continue
			}
			layer := layerOf(g.r.Speakers[k].Label)
			c := g.cause(Driver, layer)
			c.layer = layer
			c.Seats, c.Speakers = append(c.Seats, i), append(c.Speakers, k)
			c.Severity = max(c.Severity, practice.Should)
			now := p.Deciding()
			if p.Verdict == sight.Blocked {
				c.block(i, -now.Clearance)
			}
			// The worst path of a cause: blocked before tight, then the deepest.
			if c.Seat != None {
				was := g.r.Pair(c.Seat, c.Speaker)
				if was.Verdict > p.Verdict || was.Verdict == p.Verdict && was.Deciding().Clearance <= now.Clearance+1e-9 {
					continue
				}
			}
			c.Seat, c.Speaker = i, k
		}
	}
}

// fold puts under a cause what follows from it: loudspeakers that hang high for the
// sake of sight and are still not clear hang high for that, and no lower place would do.
func (g *gatherer) fold() {
	for _, c := range g.all {
		if c.Family != Driver || c.layer == "" {
			continue
		}
		at := slices.IndexFunc(g.all, func(f *Cause) bool { return f.Family == Height && f.layer == c.layer })
		if at < 0 || c.layer == "front" || c.layer == "height" {
			continue
		}
		h := g.all[at]
		kept := &Cause{ID: h.ID, Family: Height, layer: h.layer, Seat: None, Speaker: None}
		var raised []*practice.Remark
		for _, m := range h.Remarks {
			if tooHigh(m) {
				raised = append(raised, m)
				continue
			}
			kept.Remarks = append(kept.Remarks, m)
			kept.Severity = max(kept.Severity, m.Severity)
			kept.Seats, kept.Speakers, kept.Rows = append(kept.Seats, m.Seats...), append(kept.Speakers, m.Speakers...), append(kept.Rows, m.Rows...)
		}
		if len(raised) == 0 {
			continue
		}
		if h.Remarks = raised; len(kept.Remarks) > 0 {
			g.all[at] = kept
		} else {
			g.all = slices.Delete(g.all, at, at+1)
		}
		g.finish(h, nil)
		c.Folded = append(c.Folded, h)
		g.fold() // g.all has changed
		return
	}
}

// tooHigh reports whether a remark on height says that a loudspeaker of the bed hangs
// too high, or too near to the heights.
func tooHigh(m *practice.Remark) bool {
	return m.Rule == "separation" || m.Limits.Max != nil && m.Measured > *m.Limits.Max
}
