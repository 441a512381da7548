// SPDX-License-Identifier: MIT

package sight

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// steady returns d with every loudspeaker aimed where it is, so that shifting
// one does not turn it.
func steady(d *project.Design) *project.Design {
	c := d.Clone()
	for k, p := range place.Speakers(d) {
		az, el, _ := geometry.AzEl(p.Axis)
		c.Speakers[k].Aim = project.Aim{Fixed: true, Azimuth: unit.Degrees(az * 180 / math.Pi), Elevation: unit.Degrees(el * 180 / math.Pi)}
	}
	return c
}

func shifted(d *project.Design, k int, v geometry.Vec) *project.Design {
	c := d.Clone()
	c.Speakers[k].At = project.PointOf(c.Speakers[k].At.Vec().Add(v))
	return c
}

// worsened returns how many pairs of loudspeaker k have a worse verdict in b.
func worsened(a, b *Result, k int) (n int) {
	for i := range a.Seats {
		if v := a.Pair(i, k).Verdict; v != NotJudged && b.Pair(i, k).Verdict > v {
			n++
		}
	}
	return n
}

// checkLimits holds every limit of loudspeaker k against plain audits of the
// shifted design: nothing worse just before it nor at steps on the way there,
// something worse just after.
func checkLimits(t interface {
	Failer
	Fatalf(string, ...any)
}, d *project.Design, r *Result, k int) {
	for _, l := range Tolerance(d, r, k).Limits {
		at := func(h float64) int { return worsened(r, audit(t, shifted(d, k, l.Toward.Mul(h))), k) }
		if n := at(max(l.Max-0.5e-3, 0)); n > 0 {
			t.Fatalf("%s %s: %+v, but %d pairs are worse half a millimetre before", d.Speakers[k].Name(), l.Way, l, n)
		}
		for s := range 5 {
			if n := at(l.Max * float64(s) / 5); n > 0 {
				t.Fatalf("%s %s: %+v, but %d pairs are worse at %v", d.Speakers[k].Name(), l.Way, l, n, l.Max*float64(s)/5)
			}
		}
		if l.Over {
			if l.Max != MostMisplaced {
				t.Fatalf("%s %s: over %v", d.Speakers[k].Name(), l.Way, l.Max)
			}
			continue
		}
		// Past a wall's face the loudspeaker soon counts as flush in it, and is clear again:
		// the worse stretch may be shorter than a millimetre.
		worse := 0
		for _, past := range []float64{0.3e-3, 0.5e-3, 0.75e-3, 1e-3} {
			worse += at(l.Max + past)
		}
		if worse == 0 {
			t.Fatalf("%s %s: %+v, but nothing is worse within a millimetre", d.Speakers[k].Name(), l.Way, l)
		}
		if l.From != r.Pair(l.Seat, k).Verdict || l.To <= l.From {
			t.Fatalf("%s %s: from %v to %v, the seat is %v", d.Speakers[k].Name(), l.Way, l.From, l.To, r.Pair(l.Seat, k).Verdict)
		}
	}
}

// In random rooms the limits are where the plain audit changes its verdict.
func TestToleranceInRandomRooms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := hall(rapid.IntRange(1, 3).Draw(t, "rows"), rapid.IntRange(1, 4).Draw(t, "seats"), 4)
		for k := range d.Speakers {
			s := &d.Speakers[k]
			s.At.Z = unit.Length(rapid.Float64Range(0.5, 2.8).Draw(t, "z"))
			s.At.X = unit.Length(rapid.Float64Range(0.4, 8.6).Draw(t, "x"))
			s.Mount = rapid.SampledFrom([]project.Mount{project.OnWall, project.OnCeiling, project.OnFloor, project.BehindScreen}).Draw(t, "mount")
		}
		d.Models[0].Flush = rapid.Bool().Draw(t, "flush")
		if d.Models[0].Flush { // the wall, not the model, must stay the same
			for k := range d.Speakers {
				d.Speakers[k].Mount = project.OnCeiling
			}
		}
		if rapid.Bool().Draw(t, "concave") {
			d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 9, Y: 6}, {X: 6, Y: 6}, {X: 6, Y: 5.2}, {X: 3, Y: 5.2}, {X: 3, Y: 6}, {X: 0, Y: 6}}
		}
		if rapid.Bool().Draw(t, "column") {
			d.Room.Features = []project.Feature{{Kind: project.Column, At: project.Point{X: unit.Length(rapid.Float64Range(1, 8).Draw(t, "fx")), Y: unit.Length(rapid.Float64Range(0.1, 1.5).Draw(t, "fy"))},
				Length: 0.3, Width: 0.3, Height: 3, Turn: unit.Degrees(rapid.Float64Range(0, 90).Draw(t, "turn"))}}
		}
		d = steady(d)
		checkLimits(t, d, audit(t, d), rapid.IntRange(0, 3).Draw(t, "speaker"))
	})
}

// On the demos too: several drivers a box, flush fronts, soffits.
func TestToleranceOnTheDemos(t *testing.T) {
	for _, name := range demos {
		d := steady(demo(t, name))
		r := audit(t, d)
		for k := range d.Speakers {
			checkLimits(t, d, r, k)
			t.Logf("%s %s: %s", name, d.Speakers[k].Name(), Tolerance(d, r, k).Words(project.Metric))
		}
	}
}

// A room that is its own mirror image has limits that are: left is right.
func TestToleranceMirrored(t *testing.T) {
	d := hall(3, 5, 16)
	r := audit(t, d)
	judged := 0
	for k := 0; k < 16; k += 2 {
		if r.Speakers[k].Mount != project.OnWall {
			continue
		}
		a, b := Tolerance(d, r, k).Limits, Tolerance(d, r, k+1).Limits
		for n, m := range [4]int{0, 1, 3, 2} {
			// The two searches stop within 0.25 mm before the same place.
			if math.Abs(a[n].Max-b[m].Max) > 0.25e-3 || a[n].Over != b[m].Over || a[n].To != b[m].To {
				t.Errorf("%s: %+v, mirrored %+v", r.Speakers[k].Name(), a[n], b[m])
			}
			judged++
		}
	}
	if judged == 0 {
		t.Error("nothing compared")
	}
}

// A worked example by hand: a loudspeaker straight above one seat's head, low
// ceiling; nothing is in the way within half a metre but the ceiling above it.
func TestToleranceUpToTheCeiling(t *testing.T) {
	d := hall(1, 1, 0)
	d.Speakers = []project.Loudspeaker{{Label: "M+030", Model: "m", Mount: project.OnWall, At: project.Point{X: 0.1, Y: 1, Z: 2.8}}}
	d = steady(d)
	r := audit(t, d)
	l := Tolerance(d, r, 0).Limits[0]
	// 0.2 m from the driver's middle to the ceiling; its upper rim is there first.
	disc := r.Speakers[0].Drivers[0]
	want := 0.2 - disc.Radius*math.Hypot(disc.Normal.X, disc.Normal.Y)
	if l.Way != "up" || l.Over || math.Abs(l.Max-want) > 0.25e-3 || l.Blocker != ShellPart || l.To != Tight {
		t.Errorf("got %+v, want up %.4f m, tight by the room", l, want)
	}
	if got := r.LimitSentence(l, project.Metric); got != "up 188 mm, then row 1 seat 1 goes from clear to tight by the room's wall" {
		t.Error(got)
	}
}

// Odd questions have no answer and do no harm.
func TestToleranceOfNothing(t *testing.T) {
	d := hall(1, 1, 4)
	r := audit(t, d)
	for _, k := range []int{-1, 4} {
		if got := Tolerance(d, r, k).Limits; got != nil {
			t.Errorf("loudspeaker %d: %v", k, got)
		}
	}
	before := *r.Pair(0, 0)
	Tolerance(d, r, 0)
	if r.Pair(0, 0).Paths[0] != before.Paths[0] {
		t.Error("the audit was changed")
	}
	d.Models[0].Drivers[0].Band = project.Sub
	if got := Tolerance(d, audit(t, d), 0).Limits; got != nil {
		t.Errorf("a subwoofer: %v", got)
	}
}

func BenchmarkTolerance(b *testing.B) {
	d := demo(b, "large")
	r := Audit(d)
	b.ReportAllocs()
	for b.Loop() {
		for k := range d.Speakers {
			Tolerance(d, r, k)
		}
	}
}
