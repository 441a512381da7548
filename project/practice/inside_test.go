// SPDX-License-Identifier: MIT

package practice

import (
	"math"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/projecttest"
	"earline/project/sight"
)

// What is turned past straight behind is held to the range there.
func TestAzimuthIsTurnedToItsRange(t *testing.T) {
	if v := turned(-179, nominal(180)); v != 181 {
		t.Errorf("-179° about 180° is %v", v)
	}
}

// Horizontal angles. Source: viewing.tsv VW-037, VW-041, VW-049, VW-065 (closed
// form 2 atan(W/2D)), supplement.tsv SUP-VIEW-angle-off (off-axis seat).
func TestPictureWidth(t *testing.T) {
	for _, c := range []struct {
		id                 string
		width, dist, aside float64
		want, tol          float64
	}{
		{"VW-037", 1, 1.0, 0, 53.1301, 1e-4},
		{"VW-041", 1, 1.4, 0, 39.3076, 1e-4},
		{"VW-049", 16.0 / 9, 3, 0, 33.0087, 1e-4},
		{"VW-065", 1, 1.37374, 0, 40, 1e-3},
		{"SUP-VIEW-angle-off", 3, 3.5, 1.2, 42.547, 1e-3},
	} {
		p := picture{geometry.V(0.5, 2, 1.5), geometry.V(0, c.width/2, 0), geometry.V(0, 0, 0.5)}
		geomtest.Within(t, c.id, p.across(geometry.V(0.5+c.dist, 2+c.aside, 1.1)), c.want, c.tol)
		geomtest.Within(t, c.id+" from the other side", p.across(geometry.V(0.5+c.dist, 2-c.aside, 1.1)), c.want, c.tol)
	}
	p := picture{middle: geometry.V(1, 0, 0), right: geometry.V(0, 1, 0)}
	if !math.IsNaN(p.across(geometry.V(1, 0, 0))) || !math.IsNaN(p.above(geometry.V(0.5, 0, 0), 1)) {
		t.Error("an angle from behind the picture")
	}
}

// Look-up angle. Source: supplement.tsv SUP-VIEW-topangle-1 and
// SUP-VIEW-topangle-min.
func TestLookUp(t *testing.T) {
	p := picture{middle: geometry.V(0, 0, 1)}
	geomtest.Within(t, "SUP-VIEW-topangle-1", p.above(geometry.V(2.5, 0, 1.1), 2.3), 25.641, 1e-3)
	geomtest.Within(t, "SUP-VIEW-topangle-min", p.above(geometry.V(1.7138, 0, 1.1), 2.3), 35, 2e-3)
}

// C values. Source: sightlines.tsv SL-017 to SL-020 (closed form), and the
// printed millimetres of the study in supplement.tsv SUP-SIGHT-study-25ft-L2,
// -L6 and -10ft-L2, -L6 (tread 0.6096 m, riser 0.295275 m).
func TestCValue(t *testing.T) {
	for _, c := range []struct {
		id                    string
		d, r, n, t, want, tol float64
	}{
		{"SL-017", 3.5, 0.42, 0.2, 1.8, -0.010566, 1e-6},
		{"SL-018", 3.5, 0.42, 0.3977142857, 1.8, 0.12, 1e-6},
		{"SL-019", 3.5, 0, 0.18, 1.8, 0.118868, 1e-6},
		{"SL-020", 3.5, -0.2, 0, 1.8, 0.067925, 1e-6},
		{"SUP-SIGHT-study-25ft-L2", 8.0796, 1.2, 0.295275, 0.6096, 0.190, 0.0005},
		{"SUP-SIGHT-study-25ft-L6", 10.518, 2.3811, 0.295275, 0.6096, 0.149, 0.0005},
		{"SUP-SIGHT-study-10ft-L2", 3.5076, 1.2, 0.295275, 0.6096, 0.074, 0.0005},
		{"SUP-SIGHT-study-10ft-L6", 5.946, 2.3811, 0.295275, 0.6096, 0.046, 0.0005},
	} {
		focus := 0.7
		front := geometry.V(0.5+c.d, 1, focus+c.r)
		back := front.Add(geometry.V(c.t, 0, c.n))
		geomtest.Within(t, c.id, cClear(front, back, 0.5, focus), c.want, c.tol)
	}
}

// Planes made by hand: a tilted one is found exactly; a tent over a square of
// four, 0.5 m high, lies 0.4 m above the plane that fits best and lifts it 0.1.
func TestPlaneByHand(t *testing.T) {
	var tilted []geometry.Vec
	for _, q := range [][2]float64{{0.5, 1}, {0.5, 2.8}, {0.5, 4.6}, {3.6, 0}, {3.8, 5.6}, {5.2, 0}, {5.3, 5.6}} {
		tilted = append(tilted, geometry.V(q[0], q[1], 1.1+0.2*q[0]-0.03*q[1]))
	}
	p, ok := fitPlane(tilted)
	want, _ := geometry.V(-0.2, 0.03, 1).Unit()
	if !ok {
		t.Fatal("no plane")
	}
	geomtest.WithinVec(t, "normal", p.normal, want, 1e-12)
	for _, q := range tilted {
		geomtest.Within(t, "point of the plane", p.off(q), 0, 1e-12)
	}
	geomtest.Within(t, "0.3 m square off the plane", p.off(tilted[3].Add(want.Mul(0.3))), 0.3, 1e-12)

	tent := []geometry.Vec{geometry.V(0, 0, 0), geometry.V(2, 0, 0), geometry.V(2, 2, 0), geometry.V(0, 2, 0), geometry.V(1, 1, 0.5)}
	p, _ = fitPlane(tent)
	geomtest.Within(t, "corner of the tent", p.off(tent[0]), -0.1, 1e-12)
	geomtest.Within(t, "top of the tent", p.off(tent[4]), 0.4, 1e-12)

	// Loudspeakers in one line at the screen: the plane is level behind them.
	p, _ = fitPlane([]geometry.Vec{geometry.V(0.4, 1, 1), geometry.V(0.4, 2, 1), geometry.V(0.4, 3, 1)})
	geomtest.WithinVec(t, "normal over a line", p.normal, geometry.V(0, 0, 1), 1e-12)
	p, _ = fitPlane([]geometry.Vec{geometry.V(1, 2, 3)})
	geomtest.WithinVec(t, "normal over a point", p.normal, geometry.V(0, 0, 1), 1e-12)
	if _, ok := fitPlane(nil); ok {
		t.Error("a plane through nothing")
	}
}

// No other plane has a smaller sum of squared heights.
func TestPlaneIsTheBest(t *testing.T) {
	rnd := geomtest.Rand(t)
	for range 200 {
		points := make([]geometry.Vec, 4+rnd.IntN(8))
		for i := range points {
			points[i] = geomtest.Point(rnd, 3)
		}
		p, _ := fitPlane(points)
		sum := func(dz, sx, sy float64) float64 {
			s := 0.0
			for _, q := range points {
				d := q.Sub(p.center)
				h := d.Z + (p.normal.X*d.X+p.normal.Y*d.Y)/p.normal.Z - dz - sx*d.X - sy*d.Y
				s += h * h
			}
			return s
		}
		best := sum(0, 0, 0)
		for range 20 {
			if s := sum(geomtest.Between(rnd, -0.1, 0.1), geomtest.Between(rnd, -0.1, 0.1), geomtest.Between(rnd, -0.1, 0.1)); s < best-1e-9 {
				t.Fatalf("a plane nearby has %v, the best %v", s, best)
			}
		}
	}
}

// backReach is the rearmost corner of the chair's own solids.
func TestBackReachIsTheChairs(t *testing.T) {
	rnd := geomtest.Rand(t)
	for range 200 {
		length := func(lo, hi float64) unit.Length { return unit.Length(geomtest.Between(rnd, lo, hi)) }
		chair := project.Chair{ID: "c", PanHeight: 0.45, PanDepth: 0.5, PanWidth: 0.55, HeadrestWidth: 0.3,
			BackHeight: length(0.1, 1), BackThickness: length(0.01, 0.4), Headrest: length(0, 0.3)}
		angle := geomtest.Between(rnd, 0, math.Pi/2)
		s := place.Seat{Row: 1, Number: 1, Basis: geometry.WorldBasis(), Chair: chair, Recline: angle}
		want := 0.0
		for _, p := range s.ChairParts() {
			if p.Kind == place.BackPart || p.Kind == place.HeadrestPart {
				b := p.Box
				x := b.Center.X + b.Half.X*math.Abs(b.Basis.U.X) + b.Half.Y*math.Abs(b.Basis.V.X) + b.Half.Z*math.Abs(b.Basis.W.X)
				want = max(want, x)
			}
		}
		geomtest.Within(t, "reach", backReach(chair, angle), want, 1e-12)
	}
}

func TestParseLabels(t *testing.T) {
	for _, c := range []struct {
		label, layer string
		side, named  float64
	}{
		{"M+030", "M", 1, 30}, {"U-045", "U", -1, 45}, {"M+SC", "M", 1, 15}, {"M-SC", "M", -1, 15},
		{"M+000", "M", 0, 0}, {"UH+180", "UH", 0, 180}, {"T+000", "T", 0, 0}, {"B-045", "B", -1, 45},
		{"LFE1", "", 0, 0}, {"", "", 0, 0}, {"+", "", 0, 0}, {"M+", "", 0, 0}, {"M+999", "", 0, 0}, {"X+030", "", 0, 0},
	} {
		layer, side, named := parse(c.label)
		if layer != c.layer || side != c.side || named != c.named {
			t.Errorf("%q: %q %v %v", c.label, layer, side, named)
		}
	}
}

// At the height that is said to do, everyone who sees a loudspeaker still does, as
// clearly as the margin asks: the room is built so and audited afresh.
func TestTheHeightThatSightNeedsDoes(t *testing.T) {
	lowered := 0
	for seed := range uint64(150) {
		d := projecttest.Room(seed)
		if d.Validate() != nil {
			continue
		}
		r := sight.Audit(d)
		c := newChecker(d, r, Standard{})
		for k := range d.Speakers {
			if r.Speakers[k].Spec.Subwoofer() {
				continue
			}
			low := d.Clone()
			low.Speakers[k].At.Z = unit.Length(c.people().of(k).height)
			if low.Speakers[k].At.Z < d.Speakers[k].At.Z {
				lowered++
			}
			after := sight.Audit(low)
			for i := range r.Seats {
				was, is := r.Pair(i, k).Deciding(), after.Pair(i, k).Deciding()
				if was == nil || was.Verdict != sight.Clear && was.Verdict != sight.Tight {
					continue
				}
				const rounding = 2e-9 // m
				if is.Verdict == sight.Blocked || is.Clearance < min(was.Clearance, float64(d.Criteria.Margin))-rounding {
					t.Errorf("seed %d, seat %d, %s: %v with %.4f m at %v, %v with %.4f m at %v", seed, i, d.Speakers[k].Name(),
						was.Verdict, was.Clearance, d.Speakers[k].At.Z, is.Verdict, is.Clearance, low.Speakers[k].At.Z)
				}
			}
		}
	}
	if lowered < 20 {
		t.Errorf("only %d are needed lower", lowered)
	}
}
