// SPDX-License-Identifier: MIT

package add

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/pair"
	"earline/project/place"
)

// usual are the positions that rooms fill first, most usual first: label of Rec.
// ITU-R BS.2051, azimuth and elevation in degrees. U stands at 30 to 55 there; 45
// is only where to begin.
var usual = []struct {
	label  string
	az, el unit.Degrees
}{
	{"M+030", 30, 0}, {"M-030", -30, 0}, {"M+000", 0, 0},
	{"M+110", 110, 10}, {"M-110", -110, 10}, {"M+090", 90, 10}, {"M-090", -90, 10},
	{"M+135", 135, 10}, {"M-135", -135, 10}, {"U+045", 45, 45}, {"U-045", -45, 45},
	{"U+135", 135, 45}, {"U-135", -135, 45}, {"U+090", 90, 45}, {"U-090", -90, 45},
	{"M+060", 60, 5}, {"M-060", -60, 5}, {"M+180", 180, 10},
}

// Loudspeaker returns the first usual loudspeaker that d does not have, of the model
// most used in its layer, at the free place nearest to its direction from the main
// position, on what its direction meets there; where its partner is in place, as its
// mirror image if it can be. When d has them all it is a copy of the last. The error
// says in one line why there is no place for it.
func Loudspeaker(d *project.Design) (project.Loudspeaker, error) {
	if len(d.Models) == 0 {
		return project.Loudspeaker{}, errors.New("there is no loudspeaker model to add")
	}
	taken := map[string]bool{}
	for _, l := range d.Speakers {
		taken[l.Label] = true
	}
	pick := usual[len(usual)-1]
	for _, u := range usual {
		if !taken[u.label] {
			pick = u
			break
		}
	}
	l := project.Loudspeaker{Label: pick.label, Model: model(d, pick.label)}
	if taken[l.Label] {
		l.Copy = FreeCopy(d, l.Label)
	}
	f := newFinder(d)
	if at, ok := f.opposite(l); ok {
		return at, nil
	}
	return f.near(l, pick.az, pick.el)
}

// Beside returns a copy of loudspeaker i, its mirror image if nothing is there, else
// at the free place nearest beside it.
func Beside(d *project.Design, i int) (project.Loudspeaker, error) {
	l := d.Speakers[i]
	l.Copy = FreeCopy(d, l.Label)
	f := newFinder(d)
	b := place.OneSpeaker(d, l, f.main)
	for _, n := range []float64{1, 2, 3, 4} {
		for _, side := range []float64{1, -1} {
			c := l
			const gap = 0.05 // m, so that they are seen to be two
			by := b.Front.V.Mul(side * n * (float64(b.Spec.Width) + gap))
			c.At = point(l.At.Vec().Add(by))
			if f.reason(c) == "" {
				return c, nil
			}
		}
	}
	az, el, ok := geometry.AzEl(l.At.Vec().Sub(f.main))
	if !ok {
		return l, fmt.Errorf("there is no free place beside %s", d.Speakers[i].Name())
	}
	return f.near(l, unit.FromRadians(az), unit.FromRadians(el))
}

// model returns the model most used in the layer of a label (M, U, B ...), else the
// model most used; never a subwoofer where there is anything else.
func model(d *project.Design, label string) string {
	layer, all := map[string]int{}, map[string]int{}
	for _, l := range d.Speakers {
		all[l.Model]++
		if l.Label[:1] == label[:1] {
			layer[l.Model]++
		}
	}
	best, rank := d.Models[0].ID, -1
	for _, m := range d.Models {
		if n := 1000*layer[m.ID] + all[m.ID]; !m.Subwoofer() && n > rank {
			best, rank = m.ID, n
		}
	}
	return best
}

// FreeCopy returns the first letter, from b, that no loudspeaker of that label has as
// its copy.
func FreeCopy(d *project.Design, label string) string {
	taken := map[string]bool{}
	for _, l := range d.Speakers {
		if l.Label == label {
			taken[l.Copy] = true
		}
	}
	for c := 'b'; c <= 'z'; c++ {
		if !taken[string(c)] {
			return string(c)
		}
	}
	for n := 2; ; n++ {
		if c := fmt.Sprintf("copy %d", n); !taken[c] {
			return c
		}
	}
}

// opposite returns l as the mirror image of its partner; ok is false when there is no
// partner, or something in the way.
func (f *finder) opposite(l project.Loudspeaker) (project.Loudspeaker, bool) {
	for _, o := range f.d.Speakers {
		if o.Label != pair.Label(l.Label) || o.Label == l.Label || o.Copy != l.Copy {
			continue
		}
		for _, line := range pair.Lines(f.d) {
			c := pair.Speaker(o, line)
			c.Label, c.Tuning = l.Label, project.Tuning{}
			if f.reason(c) == "" {
				return c, true
			}
		}
	}
	return l, false
}

// near returns l at the free place nearest to a direction from the main position.
func (f *finder) near(l project.Loudspeaker, az, el unit.Degrees) (project.Loudspeaker, error) {
	first := ""
	for _, off := range turns() {
		c, ok := f.meet(l, az+off.az, el+off.el)
		if !ok {
			continue
		}
		why := f.reason(c)
		if why == "" {
			return c, nil
		}
		if first == "" {
			first = why
		}
	}
	if first == "" {
		first = "it would be outside the room"
	}
	return l, fmt.Errorf("there is no free place for %s within 15° of where it belongs: %s", l.Name(), first)
}

type turn struct{ az, el unit.Degrees }

// turns returns by how much a direction may be off, the least first: up to 15° aside,
// and up or down by as much. M-layer loudspeakers stand at 0 to 5° there (Rec. ITU-R
// BS.2051-3, Table 1, from memory); people hang them higher.
func turns() []turn {
	var out []turn
	for _, a := range []unit.Degrees{0, 3, -3, 6, -6, 9, -9, 12, -12, 15, -15} {
		for _, e := range []unit.Degrees{0, 5, -5, 10, -10, 15, -15} {
			out = append(out, turn{a, e})
		}
	}
	size := func(t turn) float64 { return math.Abs(float64(t.az)) + math.Abs(float64(t.el)) }
	slices.SortStableFunc(out, func(a, b turn) int {
		switch x, y := size(a), size(b); {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	return out
}
