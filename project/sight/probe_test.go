// SPDX-License-Identifier: MIT

package sight

import (
	"math/rand/v2"
	"testing"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// A probe says what an audit says, wherever the loudspeakers are moved, and
// moves within its bound never make a pair clear.
func TestProbeAgreesWithAudit(t *testing.T) {
	const seed = 17
	r := rand.New(rand.NewPCG(seed, seed))
	bounded := 0
	for room := range 12 {
		d := hall(1+r.IntN(3), 1+r.IntN(5), 2+2*r.IntN(4))
		d.Criteria.Margin = unit.Length(0.08 * r.Float64())
		d.Models[0].Flush = r.IntN(2) == 0
		d.Room.Features = []project.Feature{{Kind: project.Soffit, At: project.Point{X: 4.5, Y: 0.15, Z: 2.6}, Length: 9, Width: 0.3, Height: 0.4}}
		p := NewProbe(d)
		for range 6 {
			k := r.IntN(len(d.Speakers))
			d.Speakers[k].At.Z = unit.Length(0.3 + 2.6*r.Float64())
			d.Speakers[k].At.X += unit.Length(0.4 * (r.Float64() - 0.5))
			main := place.MainPoint(d)
			p.Move(k, place.OneSpeaker(d, d.Speakers[k], main))
			want := audit(t, d)
			for i := range want.Seats {
				for j := range want.Speakers {
					q, bound := p.Shortfall(i, j)
					if w := want.Pair(i, j); q.Verdict != w.Verdict || q != *w.Deciding() {
						t.Fatalf("seed %d room %d: seat %d loudspeaker %d: %+v, the audit has %+v", seed, room, i, j, q, *w.Deciding())
					}
					if q.Verdict == Clear && bound != 0 {
						t.Fatalf("seed %d room %d: clear, but %.4f m short", seed, room, bound)
					}
					if bound < 1e-4 || j != k {
						continue
					}
					bounded++
					for range 4 {
						// A straight move leaves the turn of the box aside.
						l := d.Speakers[k]
						l.Aim = project.Aim{Fixed: true}
						az, el, _ := geometry.AzEl(want.Speakers[k].Axis)
						l.Aim.Azimuth, l.Aim.Elevation = unit.FromRadians(az), unit.FromRadians(el)
						off := geometry.Direction(7*r.Float64(), 3*(r.Float64()-0.5)).Mul(bound * (0.2 + 0.79*r.Float64()))
						l.At = project.PointOf(l.At.Vec().Add(off))
						p.Move(k, place.OneSpeaker(d, l, main))
						if q := p.Path(i, k); q.Verdict == Clear {
							t.Fatalf("seed %d room %d: seat %d is clear after %v, less than the bound %.4f m", seed, room, i, off, bound)
						}
					}
					p.Move(k, place.OneSpeaker(d, d.Speakers[k], main))
				}
			}
		}
	}
	if bounded < 50 {
		t.Fatalf("only %d bounds looked at", bounded)
	}
}
