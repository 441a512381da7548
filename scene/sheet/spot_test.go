// SPDX-License-Identifier: MIT

package sheet

import (
	"math"
	"testing"

	"earline/project/file"
	"earline/project/practice"
	"earline/project/setout"
	"earline/project/sight"
	"earline/scene/drawing"
)

// A loudspeaker is marked on a sheet that names it, beside its name there; everything is
// marked on its sheet.
func TestAMarkIsBesideTheNameOfWhatItMarks(t *testing.T) {
	const beside = 60 // mm: how far labels go for a free place
	for _, name := range []string{"small", "large", "two-row"} {
		d, ok := file.Demo(name)
		if !ok {
			t.Fatal(name)
		}
		r := sight.Audit(d)
		l, err := setout.Of(t.Context(), r, practice.Standard{})
		if err != nil {
			t.Fatal(err)
		}
		s := newSet(&r.Room, l, Options{})
		s.sheets()
		for i := range l.Items {
			it := &l.Items[i]
			spot := s.spot(it)
			p := s.pages[spot.Sheet].page
			at := drawing.Pt((spot.Box.X0+spot.Box.X1)/2, (spot.Box.Y0+spot.Box.Y1)/2)
			if at.X < 0 || at.Y < 0 || at.X > p.sheet.Paper.Width || at.Y > p.sheet.Paper.Height {
				t.Errorf("%s: %s is marked at %v, off the paper", name, it.Name, at)
			}
			if it.Kind != setout.Speaker {
				continue
			}
			near := math.Inf(1)
			for _, n := range p.named {
				if n.item == it.ID {
					q := nearestOn(n.box, at)
					near = min(near, math.Hypot(q.X-at.X, q.Y-at.Y))
				}
			}
			if near > beside {
				t.Errorf("%s: %s is marked %.0f mm from its name on %q", name, it.Name, near, p.sheet.Title)
			}
		}
	}
}
