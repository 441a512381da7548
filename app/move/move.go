// SPDX-License-Identifier: MIT

// Package move works out where something goes that is dragged in a drawing:
// along which axes, by which steps, and what it snaps to. It changes nothing by
// itself and knows no window.
package move

import (
	"fmt"
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/pair"
	"earline/project/place"
	"earline/scene"
)

// Move is one item on its way, from where it stood when it was taken hold of.
type Move struct {
	d     *project.Design
	item  place.Item
	axes  scene.Axes
	start geometry.Vec
	rail  *rail      // what a flush loudspeaker slides along; nil for none
	pair  *pair.Pair // it moves as one of a pair; nil for alone
}

// Grip is how one drags.
type Grip struct {
	// Reach is how near the pointer must come to something to snap to it, metres.
	Reach float64
	// Other is whether the key for the other way is down: it moves a row up and
	// down instead of back and forth where a section shows both, and everything
	// else by coarse steps.
	Other bool
}

// Step is where the item goes.
type Step struct {
	Label  string // names the edit
	Edit   func(*project.Design)
	Guides []scene.Dim // to what it snapped
}

// Start takes hold of an item of d, which must not change any more, in a drawing
// that shows those axes. ok is false when there is no such item, or when it has
// no way to go in that drawing.
func Start(d *project.Design, it place.Item, axes scene.Axes) (m *Move, ok bool) {
	m = &Move{d: d, item: it, axes: axes}
	switch it.Kind {
	case place.SpeakerItem:
		if it.Index < 0 || it.Index >= len(d.Speakers) {
			return nil, false
		}
		l := d.Speakers[it.Index]
		m.start = l.At.Vec()
		m.rail = railOf(d, l)
	case place.RowItem:
		if it.Index < 0 || it.Index >= len(d.Seating.Rows) {
			return nil, false
		}
		r := d.Seating.Rows[it.Index]
		m.start = geometry.V(float64(r.Distance), float64(r.Centre+r.Stagger), float64(r.Riser))
	case place.ScreenItem:
		s := d.Screen
		m.start = geometry.V(float64(s.Distance), float64(s.Centre), float64(s.Bottom))
	case place.ProjectorItem:
		if !d.Projector.Given() {
			return nil, false
		}
		m.start = d.Projector.At.Vec()
	default:
		return nil, false
	}
	return m, m.start.Finite()
}

// Pair moves the partner along as the mirror image; of loudspeakers only.
func (m *Move) Pair(p pair.Pair) {
	if p.Kind == place.SpeakerItem && m.item == (place.Item{Kind: p.Kind, Index: p.One}) {
		m.pair = &p
	}
}

// Item returns what is on its way.
func (m *Move) Item() place.Item { return m.item }

// Axes returns the axes of the drawing.
func (m *Move) Axes() scene.Axes { return m.axes }

// To returns where the item goes when the pointer has gone by, in the room
// frame, since it took hold.
func (m *Move) To(by geometry.Vec, g Grip) Step {
	if !by.Finite() {
		by = geometry.Vec{}
	}
	switch m.item.Kind {
	case place.RowItem:
		return m.row(by, g)
	case place.ScreenItem:
		return m.screen(by, g)
	case place.ProjectorItem:
		return m.projector(by, g)
	}
	return m.speaker(by, g)
}

// grid returns the step to which places are rounded, metres: in round numbers
// of the units that are shown.
func (m *Move) grid(coarse bool) float64 {
	switch metric := m.d.Units != project.Imperial; {
	case metric && coarse:
		return 0.05
	case metric:
		return 0.01
	case coarse:
		return 2 * float64(unit.Inch)
	}
	return float64(unit.Inch) / 2
}

// settle returns where a coordinate goes that stood at from and is pulled to
// raw: to the nearest mark within reach, else to the grid. A pull of less than
// half a step moves nothing, so that what stands between two steps stays.
func settle(from, raw, step, reach float64, marks []mark) (to float64, met *mark) {
	best := reach
	for i, k := range marks {
		if gap := math.Abs(k.at - raw); gap < best {
			best, met = gap, &marks[i]
		}
	}
	switch {
	case math.Abs(raw-from) < step/2:
		return from, nil
	case met != nil:
		return met.at, met
	}
	return math.Round(math.Round(raw/step)*step*1e7) / 1e7, nil // free of the dust of binary fractions
}

func (m *Move) speaker(by geometry.Vec, g Grip) Step {
	l := m.d.Speakers[m.item.Index]
	step := m.grid(g.Other)
	to, axes := m.start, m.axes
	if m.rail != nil {
		axes = m.rail.axes(axes)
	}
	var met []*mark
	pull := func(on bool, at *float64, by float64, along func(geometry.Vec) float64) {
		if !on {
			return
		}
		var k *mark
		*at, k = settle(*at, *at+by, step, g.Reach, m.marks(l, along))
		if k != nil {
			met = append(met, k)
		}
	}
	pull(axes.X, &to.X, by.X, func(v geometry.Vec) float64 { return v.X })
	pull(axes.Y, &to.Y, by.Y, func(v geometry.Vec) float64 { return v.Y })
	pull(axes.Z, &to.Z, by.Z, func(v geometry.Vec) float64 { return v.Z })
	if m.rail != nil {
		to = m.rail.hold(to, by, step, m.axes)
	}
	i := m.item.Index
	out := Step{
		Label:  "move " + l.Name(),
		Edit:   func(d *project.Design) { d.Speakers[i].At = project.PointOf(to) },
		Guides: guides(met, to),
	}
	if p := m.pair; p != nil {
		out.Label += " and " + m.d.Speakers[p.Other].Name()
		image := project.PointOf(to)
		image.Y = pair.Across(image.Y, p.Line)
		out.Edit = func(d *project.Design) {
			d.Speakers[i].At, d.Speakers[p.Other].At = project.PointOf(to), image
		}
		out.Guides = append(out.Guides, scene.Dim{From: image.Vec(), To: to, Text: m.d.Speakers[p.Other].Name() + " moves as its mirror image", Guide: true})
	}
	return out
}

func (m *Move) row(by geometry.Vec, g Grip) Step {
	i := m.item.Index
	n := i + 1
	if m.axes.Z && (g.Other || !m.axes.X) {
		z, _ := settle(m.start.Z, m.start.Z+by.Z, m.grid(false), 0, nil)
		z = max(z, 0)
		verb := "raise"
		if z < m.start.Z {
			verb = "lower"
		}
		return Step{Label: fmt.Sprintf("%s row %d", verb, n), Edit: func(d *project.Design) {
			r := &d.Seating.Rows[i]
			r.Riser = unit.Length(z)
			if z > 0 && r.Front+r.Back == 0 {
				// A platform under the chairs and the feet before them; only
				// where to begin.
				r.Front, r.Back = 0.9, 0.6
			}
		}}
	}
	x, met := settle(m.start.X, m.start.X+by.X, m.grid(g.Other), g.Reach, m.rowMarks(i))
	step := Step{
		Label: fmt.Sprintf("move row %d", n),
		Edit:  func(d *project.Design) { d.Seating.Rows[i].Distance = unit.Length(x) },
	}
	if met != nil {
		step.Guides = guides([]*mark{met}, geometry.V(x, m.start.Y, m.start.Z))
	}
	return step
}

func (m *Move) screen(by geometry.Vec, g Grip) Step {
	step := m.grid(g.Other)
	to := m.start
	if m.axes.X {
		to.X, _ = settle(to.X, to.X+by.X, step, 0, nil)
	}
	if m.axes.Z {
		to.Z, _ = settle(to.Z, to.Z+by.Z, step, 0, nil)
	}
	return Step{Label: "move the screen", Edit: func(d *project.Design) {
		d.Screen.Distance, d.Screen.Bottom = unit.Length(to.X), unit.Length(to.Z)
	}}
}
