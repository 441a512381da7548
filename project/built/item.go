// SPDX-License-Identifier: MIT

package built

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/bs2051"
	"earline/project/place"
)

// Quantity is one of the things to measure of an Item.
type Quantity uint8

// The quantities.
const (
	FromScreen Quantity = iota // from the screen wall, x = 0
	FromLeft                   // from the left wall, y = 0
	Height                     // shown against the laser line
	Turn                       // of a loudspeaker's axis, as project.Aim.Azimuth; of a feature
	Tilt                       // of a loudspeaker's axis, as project.Aim.Elevation
	Width
)

var quantityWords = [...]string{"from screen wall", "across", "height", "turn", "tilt", "width"}

// String returns how lists call it.
func (q Quantity) String() string { return quantityWords[min(int(q), len(quantityWords)-1)] }

// Angle reports whether it is in degrees; else it is a length.
func (q Quantity) Angle() bool { return q == Turn || q == Tilt }

// Item is a thing that can be measured.
type Item struct {
	ID       string // as project.Measured.Of
	Name     string // "M+090 left side", "Row 2"
	Place    place.Item
	Measures []Measure
}

// Measure is one quantity of an Item.
type Measure struct {
	Quantity Quantity
	Planned  float64 // metres in the room frame, or degrees
	Measured float64 // the same; not set unless Known
	Known    bool
	// Less and More are by how much it may be less or more than planned; see tolerance.go.
	Less, More float64
}

// Off is how far it was measured from where it is planned: positive for more.
func (m *Measure) Off() float64 {
	if !m.Known {
		return 0
	}
	return away(m.Quantity, m.Measured, m.Planned)
}

// away is how far a value is from another; angles go round.
func away(q Quantity, v, from float64) float64 {
	if q != Turn {
		return v - from
	}
	return math.Remainder(v-from, 360)
}

// Within reports whether it is within its tolerance.
func (m *Measure) Within() bool { return m.within(m.Off()) }

func (m *Measure) within(off float64) bool {
	least := m.Quantity.same()
	return off >= -m.Less-least && off <= m.More+least
}

// same is by how much two figures may differ that stand for one: half of the tenth of
// a millimetre or degree in which they are shown.
func (q Quantity) same() float64 {
	const half = 0.0501 // and a little, for what computing adds
	if q.Angle() {
		return half
	}
	return half / 1000
}

// same reports whether it was measured where it is planned, or not at all.
func (m *Measure) same() bool { return math.Abs(m.Off()) <= m.Quantity.same() }

// Deviates reports whether anything of it was measured elsewhere than it is planned.
func (it *Item) Deviates() bool {
	return slices.ContainsFunc(it.Measures, func(m Measure) bool { return !m.same() })
}

// Measured reports whether anything of it was measured.
func (it *Item) Measured() bool {
	return slices.ContainsFunc(it.Measures, func(m Measure) bool { return m.Known })
}

func (it *Item) planned(q Quantity) float64 {
	for i := range it.Measures {
		if it.Measures[i].Quantity == q {
			return it.Measures[i].Planned
		}
	}
	return 0
}

// of returns what it is in d: a pointer to a row, feature, loudspeaker, the projector or
// the screen.
func (it *Item) of(d *project.Design) any {
	switch i := it.Place.Index; it.Place.Kind {
	case place.RowItem:
		return &d.Seating.Rows[i]
	case place.FeatureItem:
		return &d.Room.Features[i]
	case place.SpeakerItem:
		return &d.Speakers[i]
	case place.ProjectorItem:
		return &d.Projector
	}
	return &d.Screen
}

// Items returns what can be measured of d, with what was: the picture, the
// loudspeakers, the rows, what is built in, the projector. Everything in d must have an id, as it has
// in files that were read and in every state of a history. Tolerances are not set.
func Items(d *project.Design) []Item {
	var out []Item
	add := func(id, name string, kind place.ItemKind, index int, measures ...Measure) {
		known := d.AsBuilt.Of(id)
		for i := range measures {
			m := &measures[i]
			m.Measured, m.Known = value(&known, m.Quantity)
		}
		out = append(out, Item{id, name, place.Item{Kind: kind, Index: index}, measures})
	}
	length := func(q Quantity, v unit.Length) Measure { return Measure{Quantity: q, Planned: float64(v)} }
	s := d.Screen
	add(project.PictureID, "Picture", place.ScreenItem, 0,
		length(FromScreen, s.Distance), length(FromLeft, s.Centre), length(Height, s.Bottom), length(Width, s.Width))
	for k, sp := range place.Speakers(d) {
		all := []Measure{length(FromScreen, sp.At.X), length(FromLeft, sp.At.Y), length(Height, sp.At.Z)}
		if !sp.Spec.Flush && !sp.Spec.Subwoofer() { // a flush one lies in its wall; a subwoofer's axis means nothing
			turn, tilt := float64(sp.Aim.Azimuth), float64(sp.Aim.Elevation)
			if !sp.Aim.Fixed {
				az, el, _ := geometry.AzEl(sp.Axis)
				turn, tilt = float64(unit.FromRadians(az)), float64(unit.FromRadians(el))
			}
			all = append(all, Measure{Quantity: Turn, Planned: turn}, Measure{Quantity: Tilt, Planned: tilt})
		}
		if sp.Spec.Flush { // how deep it lies the wall says, unless somebody measured it
			into, known := inward(d, sp.Loudspeaker), d.AsBuilt.Of(sp.ID)
			all = slices.DeleteFunc(all, func(m Measure) bool {
				_, given := value(&known, m.Quantity)
				return !given && math.Abs(axis(m.Quantity).Dot(into)) > mostly
			})
		}
		name := sp.Name()
		if means := strings.TrimSuffix(bs2051.Means(sp.Label), ", ear level"); means != "" {
			name += " " + means
		}
		add(d.Speakers[k].ID, name, place.SpeakerItem, k, all...)
	}
	for i, r := range d.Seating.Rows {
		all := []Measure{length(FromScreen, r.Distance), length(FromLeft, r.Centre+r.Stagger)}
		if r.Riser > 0 {
			all = append(all, length(Height, r.Riser))
		}
		add(r.ID, fmt.Sprintf("Row %d", i+1), place.RowItem, i, all...)
	}
	for i, f := range d.Room.Features {
		all := []Measure{length(FromScreen, f.At.X), length(FromLeft, f.At.Y)}
		if f.At.Z > 0 {
			all = append(all, length(Height, f.At.Z))
		}
		if f.Turn != 0 {
			all = append(all, Measure{Quantity: Turn, Planned: float64(f.Turn)})
		}
		known := d.AsBuilt.Of(f.ID)
		_, given := value(&known, Width)
		if opening := f.Kind == project.Door || f.Kind == project.Window; !opening || f.Width > f.Length || given {
			all = append(all, length(Width, f.Across())) // else it is how thick the leaf is
		}
		add(f.ID, f.Words(), place.FeatureItem, i, all...)
	}
	if p := d.Projector; p.Given() {
		add(project.ProjectorID, "Projector, lens", place.ProjectorItem, 0,
			length(FromScreen, p.At.X), length(FromLeft, p.At.Y), length(Height, p.At.Z))
	}
	return out
}

// inward returns the normal of what carries a loudspeaker.
func inward(d *project.Design, l project.Loudspeaker) geometry.Vec {
	switch l.Mount {
	case project.OnCeiling:
		return d.Room.CeilingNormal(float64(l.At.X), float64(l.At.Y))
	case project.OnFloor:
		return geometry.Vec{Z: 1}
	case project.BehindScreen:
		return geometry.Vec{X: 1}
	}
	n := d.Room.WallNormal(geometry.Vec2{X: float64(l.At.X), Y: float64(l.At.Y)})
	return geometry.Vec{X: n.X, Y: n.Y}
}

// value returns what m says of a quantity.
func value(m *project.Measured, q Quantity) (v float64, known bool) {
	if p := lengthOf(m, q); p != nil {
		if *p != nil {
			return float64(**p), true
		}
		return 0, false
	}
	if p := angleOf(m, q); *p != nil {
		return float64(**p), true
	}
	return 0, false
}

// lengthOf returns where m keeps a length; nil for an angle.
func lengthOf(m *project.Measured, q Quantity) **unit.Length {
	switch q {
	case FromScreen:
		return &m.X
	case FromLeft:
		return &m.Y
	case Height:
		return &m.Z
	case Width:
		return &m.Width
	}
	return nil
}

func angleOf(m *project.Measured, q Quantity) **unit.Degrees {
	if q == Turn {
		return &m.Turn
	}
	return &m.Tilt
}

// Enter notes what was measured of one quantity of the thing with that id, in metres
// of the room frame or degrees; nil takes it out again. It edits d.AsBuilt alone.
func Enter(d *project.Design, id string, q Quantity, v *float64) {
	m := d.AsBuilt.Of(id)
	if p := lengthOf(&m, q); p != nil {
		*p = nil
		if v != nil {
			l := unit.Length(*v)
			*p = &l
		}
	} else {
		p := angleOf(&m, q)
		*p = nil
		if v != nil {
			a := unit.Degrees(*v)
			*p = &a
		}
	}
	d.AsBuilt.Set(m)
}
