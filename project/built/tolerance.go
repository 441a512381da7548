// SPDX-License-Identifier: MIT

package built

import (
	"context"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/setout"
	"earline/project/sight"
)

// The tolerance of what set-out gives none for, common practice without a source.
const angleTolerance = 5 // degrees, of an aim

// tolerate gives the measures of the items their tolerances: of a loudspeaker that was
// measured those of set-out, of all else what is usually left for building. r is the
// audit of d.
func tolerate(ctx context.Context, d *project.Design, r *sight.Result, std practice.Standard, items []Item) error {
	speakers := map[string]*Item{}
	for i := range items {
		it := &items[i]
		usualTolerance(d, it)
		if it.Place.Kind == place.SpeakerItem && it.Measured() {
			speakers[it.ID] = it
		}
	}
	if len(speakers) == 0 {
		return nil
	}
	list, err := setout.Of(ctx, r, std)
	if err != nil {
		return err
	}
	for i := range list.Items {
		out := &list.Items[i]
		it := speakers[out.ID]
		if it == nil || out.Tolerance == nil {
			continue
		}
		t := out.Tolerance
		ways := r.Ways(it.Place.Index)
		for n, reach := range []setout.Reach{t.Up, t.Down, t.Left, t.Right} {
			it.limit(ways[n].Toward, reach.Distance)
		}
		if into := inward(d, d.Speakers[it.Place.Index]); t.In != nil && t.Out != nil {
			it.limit(into, t.In.Distance)
			it.limit(into.Neg(), t.Out.Distance)
		}
	}
	return nil
}

// limit notes that an item may be off by so much in a direction.
func (it *Item) limit(toward geometry.Vec, most float64) {
	for k := range it.Measures {
		m := &it.Measures[k]
		switch along := axis(m.Quantity).Dot(toward); {
		case along > mostly:
			m.More = most
		case along < -mostly:
			m.Less = most
		}
	}
}

// usualTolerance gives an item what is usually left for building.
func usualTolerance(d *project.Design, it *Item) {
	usual := practice.Of(d).BuildAllowance().Accepted.Least()
	for k := range it.Measures {
		m := &it.Measures[k]
		m.Less, m.More = usual, usual
		if m.Quantity.Angle() {
			m.Less, m.More = angleTolerance, angleTolerance
		}
	}
}

const mostly = 0.9 // cosine of 26 degrees: one direction is along another

// axis is the direction in which a length grows.
func axis(q Quantity) geometry.Vec {
	switch q {
	case FromScreen:
		return geometry.Vec{X: 1}
	case FromLeft:
		return geometry.Vec{Y: 1}
	case Height:
		return geometry.Vec{Z: 1}
	}
	return geometry.Vec{}
}
