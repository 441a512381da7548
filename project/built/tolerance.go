// SPDX-License-Identifier: MIT

package built

import (
	"context"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
)

// Tolerances of what sight sets none for, common practice without a source.
const angleTolerance = 5 // degrees, of an aim

// tolerate gives the measures of the items their tolerances: of a loudspeaker how far
// it may be off before somebody sees less of it; of all else what is usually left for
// building. r is the audit of d.
func tolerate(ctx context.Context, d *project.Design, r *sight.Result, items []Item) error {
	for i := range items {
		it := &items[i]
		usualTolerance(d, it)
		if it.Place.Kind != place.SpeakerItem || !it.Measured() {
			continue
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		for _, l := range sight.Tolerance(d, r, it.Place.Index).Limits {
			for k := range it.Measures {
				m := &it.Measures[k]
				switch along := axis(m.Quantity).Dot(l.Toward); {
				case along > mostly:
					m.More = l.Max
				case along < -mostly:
					m.Less = l.Max
				}
			}
		}
	}
	return nil
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
