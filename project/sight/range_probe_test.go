// SPDX-License-Identifier: MIT

package sight

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// A probe says what RangeFor says, wherever the loudspeakers are moved, and moves
// within its bound never make a pair hold. What one of the two leaves open is
// left out.
func TestRangeProbeAgreesWithRange(t *testing.T) {
	holds, breaks, open, moved := 0, 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		d := crowdedHall(t)
		d.Seating.Main = project.MainPosition{At: project.PointOf(place.MainPoint(d))}
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "moves"), 1))
		p, err := NewRangeProbe(d, WholeRange())
		if err != nil {
			t.Fatal(err)
		}
		main := place.MainPoint(d)
		for range 3 {
			k := r.IntN(len(d.Speakers))
			d.Speakers[k].At.Z = unit.Length(0.5 + 2.4*r.Float64())
			d.Speakers[k].At.X += unit.Length(0.2 * (r.Float64() - 0.5))
			placed := place.OneSpeaker(d, d.Speakers[k], main)
			p.Move(k, placed)
			want, err := Range(t.Context(), d)
			if err != nil {
				t.Fatal(err)
			}
			for i := range want.Seats {
				for j := range want.Speakers {
					q, bound := p.Shortfall(i, j)
					w := want.Pair(i, j)
					switch {
					case q.Judged != w.Judged:
						t.Fatalf("seat %d loudspeaker %d: judged %v, by RangeFor %v", i, j, q.Judged, w.Judged)
					case !q.Judged:
					case !q.Certified || !w.Certified:
						open++
					case q.Holds != w.Holds:
						t.Fatalf("seat %d loudspeaker %d: %+v, RangeFor has %+v", i, j, q, *w)
					case q.Holds:
						holds++
						if bound != 0 {
							t.Fatalf("seat %d loudspeaker %d holds, and is %v m short", i, j, bound)
						}
					default:
						breaks++
					}
					if again, b := p.Known(i, j); b > 0 && (b != bound || again.Worst != q.Worst) {
						t.Fatalf("seat %d loudspeaker %d: %+v %v, then %+v %v", i, j, q, bound, again, b)
					}
					if bound < 1e-4 || j != k {
						continue
					}
					for range 3 {
						// A straight move leaves the turn of the box aside.
						l := d.Speakers[k]
						l.Aim = project.Aim{Fixed: true}
						az, el, _ := geometry.AzEl(placed.Axis)
						l.Aim.Azimuth, l.Aim.Elevation = unit.FromRadians(az), unit.FromRadians(el)
						off := geometry.Direction(7*r.Float64(), 3*(r.Float64()-0.5)).Mul(bound * (0.2 + 0.79*r.Float64()))
						l.At = project.PointOf(l.At.Vec().Add(off))
						p.Move(k, place.OneSpeaker(d, l, main))
						if q := p.Worst(i, k); q.Holds {
							t.Fatalf("seat %d loudspeaker %d holds after %v, less than the bound %.4f m", i, k, off, bound)
						}
						moved++
					}
					p.Move(k, placed)
				}
			}
		}
	})
	t.Logf("%d hold, %d break, %d open, %d moved within their bound", holds, breaks, open, moved)
	if holds == 0 || breaks == 0 || moved == 0 || open > (holds+breaks)/20 {
		t.Errorf("%d hold, %d break, %d open, %d moved", holds, breaks, open, moved)
	}
}

// Views too; and looking far finds lower bounds up to there.
func TestRangeProbeViewsAndLooksFar(t *testing.T) {
	d := demo(t, "large")
	want, err := Range(t.Context(), d)
	if err != nil {
		t.Fatal(err)
	}
	p, err := NewRangeProbe(d, WholeRange())
	if err != nil {
		t.Fatal(err)
	}
	for i := range want.Views {
		if v, w := p.View(i), &want.Views[i]; v.Holds != w.Holds || v.Certified != w.Certified || p.Result().Views[i] != v {
			t.Errorf("seat %d: %+v, RangeFor has %+v", i, v, *w)
		}
	}
	far := float64(d.Criteria.Margin)
	p.Look(far, 0)
	for i := range want.Seats {
		for k := range want.Speakers {
			w := want.Pair(i, k)
			if q, _ := p.Shortfall(i, k); w.Holds && (!q.Holds || math.Abs(q.Lower-w.Lower) > 0.002) { // the brackets' tolerance
				t.Errorf("seat %d loudspeaker %d: %+v, RangeFor has %+v", i, k, q, *w)
			}
		}
	}
}
