// SPDX-License-Identifier: MIT

package sight_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/projecttest"
	"earline/project/sight"
)

// In rooms that have what rooms have too, nobody of the range is blocked where
// the plan is said to hold for all of it. Slow way: the plain audit of some
// companies, each row reclined as one.
func TestRangeHoldsInRooms(t *testing.T) {
	const rooms, companies = 200, 12
	var found tally
	held := 0
	for seed := range uint64(rooms) {
		d := projecttest.Rooms{Seats: 6, Speakers: 5}.Room(seed)
		d.Seating.Main = project.MainPosition{At: project.PointOf(place.MainPoint(d))} // no aim changes
		res, err := sight.Range(t.Context(), d)
		if err != nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewPCG(seed, 10))
		pick := func(lo, hi float64) float64 { // the ends are where things break
			switch r.IntN(3) {
			case 0:
				return lo
			case 1:
				return hi
			}
			return lo + (hi-lo)*r.Float64()
		}
		for range companies {
			c := d.Clone()
			who := &c.Seating.Sitters
			who.Listener, who.Others = pick(res.Options.Low, res.Options.High), pick(res.Options.Low, res.Options.High)
			for i := range c.Seating.Rows {
				chair, _ := c.Chair(c.Seating.Rows[i].Chair)
				c.Seating.Rows[i].Recline = unit.Degrees(pick(float64(chair.MinRecline), float64(chair.MaxRecline)))
			}
			a := sight.Audit(c)
			for i := range a.Seats {
				for k := range a.Speakers {
					p, q := res.Pair(i, k), a.Pair(i, k)
					if !p.Judged || !p.Holds {
						continue
					}
					held++
					if q.Verdict == sight.Blocked {
						found.add(seed, "pair", fmt.Sprintf("holds for all, but P%.0f among P%.0f: %s", who.Listener, who.Others, a.Sentence(i, k, c.Units)))
					}
				}
				if v := &res.Views[i]; v.Judged && v.Holds {
					held++
					if a.Views[i].Verdict == sight.Blocked {
						found.add(seed, "picture", fmt.Sprintf("holds for all, but P%.0f among P%.0f: %s", who.Listener, who.Others, a.PictureSentence(i, c.Units)))
					}
				}
			}
		}
	}
	found.report(t, rooms)
	if held < 1000 {
		t.Errorf("%d answers looked at", held)
	}
}
