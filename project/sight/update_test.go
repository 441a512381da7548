// SPDX-License-Identifier: MIT

package sight_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"earline/project"
	"earline/project/place"
	"earline/project/projecttest"
	"earline/project/sight"
)

// moved returns d with loudspeaker k elsewhere: a little, far, or exchanged with
// where another room has one; now and then with another aim.
func moved(r *rand.Rand, d *project.Design, k int) *project.Design {
	c := d.Clone()
	l := &c.Speakers[k]
	switch r.IntN(3) {
	case 0:
		v := l.At.Vec()
		v.X += 0.2 * (r.Float64() - 0.5)
		v.Y += 0.2 * (r.Float64() - 0.5)
		v.Z += 0.2 * (r.Float64() - 0.5)
		l.At = project.PointOf(v)
	case 1:
		_, hi := d.Room.Polygon().Bounds()
		v := l.At.Vec()
		v.X, v.Y, v.Z = hi.X*r.Float64(), hi.Y*r.Float64(), 2.5*r.Float64()
		l.At = project.PointOf(v)
	default:
		l.At = d.Speakers[r.IntN(len(d.Speakers))].At
	}
	if r.IntN(4) == 0 {
		l.Aim = project.Aim{Fixed: true, Azimuth: 180}
	}
	return c
}

// In rooms that have what rooms have, answering again after loudspeakers were
// moved - by Update, by a Probe - is auditing again.
func TestAnsweringAgainIsAuditing(t *testing.T) {
	const rooms = 200
	var found tally
	for seed := range uint64(rooms) {
		d := projecttest.Room(seed)
		r := rand.New(rand.NewPCG(seed, 9))
		was, probe := sight.Audit(d), sight.NewProbe(d)
		for range 4 {
			ks := r.Perm(len(d.Speakers))[:1+r.IntN(2)]
			for _, k := range ks {
				d = moved(r, d, k)
			}
			want, got := sight.Audit(d), sight.Update(was, d, ks...)
			differ(d, want, got, same{}, func(what, figures string) { found.add(seed, "update: "+what, figures) })
			if want.Count != got.Count || want.PictureCount != got.PictureCount {
				found.add(seed, "update: counts", fmt.Sprint(want.Count, want.PictureCount, got.Count, got.PictureCount))
			}
			for _, k := range ks {
				probe.Move(k, place.OneSpeaker(d, d.Speakers[k], place.MainPoint(d)))
			}
			for i := range want.Seats {
				for k := range want.Speakers {
					w := want.Pair(i, k)
					p, q := w.Deciding(), probe.Path(i, k)
					if w.Verdict != q.Verdict || w.Verdict != sight.NotJudged && *p != q {
						found.add(seed, "probe", fmt.Sprintf("seat %d loudspeaker %d: %+v, the audit has %+v", i, k, q, *p))
					}
				}
			}
			was = got
		}
	}
	found.report(t, rooms)
}
