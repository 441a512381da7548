// SPDX-License-Identifier: MIT

package compare_test

import (
	"context"
	"math"
	"os"
	"testing"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/compare"
	"earline/project/file"
	"earline/project/practice"
	"earline/project/solve"
)

func open(t testing.TB, name string) *project.Design {
	t.Helper()
	data, err := os.ReadFile("../../testdata/rooms/" + name)
	if err != nil {
		t.Fatal(err)
	}
	d, err := file.Decode(data, name)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func find(t *testing.T, r *compare.Result, name string) compare.Thing {
	t.Helper()
	for _, x := range r.Things {
		if x.Name == name {
			return x
		}
	}
	t.Fatalf("no %s", name)
	return compare.Thing{}
}

func hole(t *testing.T, all []compare.Hole, name string, fate compare.HoleFate) compare.Hole {
	t.Helper()
	for _, h := range all {
		if h.Name == name && h.Fate == fate {
			return h
		}
	}
	t.Fatalf("no hole of %s that is %v among %v", name, fate, all)
	return compare.Hole{}
}

// A design compared with itself: everything stays, every hole is kept, nothing is
// better or worse.
func TestNothingChangesBetweenADesignAndItself(t *testing.T) {
	d := open(t, "room-b.earline")
	r := compare.Of(d, d, practice.Standard{})
	if n := r.Count(); n[compare.Stays] != len(r.Things) {
		t.Errorf("fates %v of %d things", n, len(r.Things))
	}
	for _, h := range r.Holes {
		if h.Fate != compare.Kept {
			t.Errorf("hole of %s: %v", h.Name, h.Fate)
		}
	}
	for _, f := range r.Facts {
		if f.Better != 0 || f.Was != f.Is {
			t.Errorf("%+v", f)
		}
	}
}

// raised returns room B with its left side, 0.235 x 0.375 m of cut-out, higher up.
func raised(t *testing.T, by float64) (was, is *project.Design, std practice.Standard) {
	was = open(t, "room-b.earline")
	for i := range was.Models {
		if was.Models[i].ID == "in-wall" {
			was.Models[i].CutoutW, was.Models[i].CutoutH = 0.235, 0.375
		}
	}
	is = was.Clone()
	for i, l := range is.Speakers {
		if l.Name() == "M+090 a" || l.Name() == "M+090" {
			is.Speakers[i].At.Z += unit.Length(by)
			break
		}
	}
	return was, is, std
}

// Worked by hand: 0.235 x 0.375 m is 0.088 m2; 0.970 m up the two do not meet, 0.200 m
// up they share 0.375 - 0.200 = 0.175 m of height.
func TestTheOldHoleIsPatchedOrCovered(t *testing.T) {
	r := compare.Of(raised(t, 0.970))
	name := ""
	for _, x := range r.Things {
		if x.Fate == compare.Moves {
			name = x.Name
		}
	}
	if got := find(t, r, name); got.Fate != compare.Moves || math.Abs(got.By.Z-0.970) > 1e-9 {
		t.Errorf("%+v", got)
	}
	old := hole(t, r.Holes, name, compare.Patched)
	if math.Abs(old.Rect.Area()-0.235*0.375) > 1e-9 {
		t.Errorf("patch of %v m2", old.Rect.Area())
	}
	hole(t, r.Holes, name, compare.Cut)

	r = compare.Of(raised(t, 0.200))
	old = hole(t, r.Holes, name, compare.Covered)
	if h := old.Overlap.High - old.Overlap.Low; math.Abs(h-0.175) > 1e-9 {
		t.Errorf("overlap of %v m", h)
	}
	r = compare.Of(raised(t, 0.375+compare.Web-0.001))
	if old = hole(t, r.Holes, name, compare.Covered); old.Overlap.Area() > 0 {
		t.Errorf("overlap %v where only the web is missing", old.Overlap)
	}
	r = compare.Of(raised(t, 0.375+compare.Web+0.001))
	hole(t, r.Holes, name, compare.Patched)
}

// Lift changes heights and nothing else: every loudspeaker that it moved is told to
// move by what it moved it, and the totals are those of the two audits.
func TestALiftedRoomAgainstTheRoomAsFound(t *testing.T) {
	was := open(t, "room-b.earline")
	p, err := solve.Lift(context.Background(), was, solve.LiftOptions{Elevation: 20})
	if err != nil {
		t.Fatal(err)
	}
	is := p.Design
	r := compare.Of(was, is, practice.Standard{})
	moves := 0
	for i, l := range is.Speakers { // Lift keeps their order
		x, by := find(t, r, l.Name()), l.At.Vec().Sub(was.Speakers[i].At.Vec())
		if x.By != by && (x.By != geometry.Vec{} || by.Len() > 0.0005) {
			t.Errorf("%s moves by %v, was moved by %v", l.Name(), x.By, by)
		}
		if x.Fate == compare.Moves {
			moves++
		}
	}
	if moves == 0 || moves != r.Count()[compare.Moves] {
		t.Errorf("%d loudspeakers move, %v things", moves, r.Count())
	}
}

// What has left or come is told, and a thing added after another was removed is not
// taken for it.
func TestWhatGoesAndWhatIsNew(t *testing.T) {
	was := open(t, "room-b.earline")
	was.Keep(project.Variant{Name: "As found", Role: project.Existing})
	h := project.NewHistory(was)
	gone := was.Speakers[len(was.Speakers)-1]
	if err := h.Do("remove", "", func(d *project.Design) { d.Speakers = d.Speakers[:len(d.Speakers)-1] }); err != nil {
		t.Fatal(err)
	}
	// Saved and opened again: only the design kept beside it knows the id.
	data, err := file.Encode(h.Design())
	if err != nil {
		t.Fatal(err)
	}
	back, err := file.Decode(data, "x")
	if err != nil {
		t.Fatal(err)
	}
	h = project.NewHistory(back)
	if err := h.Do("add", "", func(d *project.Design) {
		l := gone
		l.ID, l.Copy = "", "z"
		d.Speakers = append(d.Speakers, l)
	}); err != nil {
		t.Fatal(err)
	}
	d := h.Design()
	r := compare.Of(&d.Variants[d.AsFound()], d, practice.Standard{})
	if got := find(t, r, gone.Name()); got.Fate != compare.Goes {
		t.Errorf("%+v", got)
	}
	if got := find(t, r, gone.Label+" z"); got.Fate != compare.New {
		t.Errorf("%+v", got)
	}
}

// A design of another file is the same room when its loudspeakers have the same names,
// whatever their ids are.
func TestADesignOfAnotherFileIsAdopted(t *testing.T) {
	plan := open(t, "room-b.earline")
	other := plan.Unidentified()
	other.Speakers[0], other.Speakers[1] = other.Speakers[1], other.Speakers[0]
	other.Identify()
	r := compare.Of(compare.Adopt(plan, other), plan, practice.Standard{})
	if n := r.Count(); n[compare.Stays] != len(r.Things) {
		t.Errorf("fates %v of %d things", n, len(r.Things))
	}
}

// Cables of a raised side: long enough with its spare when it goes 0.97 m up towards the
// run, and too short when a measured one ends where the old place was.
func TestWhichCablesServeAgain(t *testing.T) {
	was, is, std := raised(t, 0.970)
	rack := project.Point{X: 8.2, Y: 0.3, Z: 0.3}
	was.Services.Rack, is.Services.Rack = rack, rack
	r := compare.Of(was, is, std)
	if len(r.Cables) != len(was.Speakers) {
		t.Fatalf("%d cables", len(r.Cables))
	}
	for _, c := range r.Cables {
		if !c.Serves {
			t.Errorf("%+v", c)
		}
	}
	k := r.Cables[0]
	was.Services.Cables = []project.Cable{{Serves: was.Speakers[0].ID, Length: unit.Length(k.Needed - 0.2)}}
	if k = compare.Of(was, is, std).Cables[0]; k.Serves || !k.Measured {
		t.Errorf("%+v", k)
	}
}

func BenchmarkCompare(b *testing.B) {
	was := open(b, "room-b.earline")
	is := was.Clone()
	is.Speakers[3].At.Z += 0.3
	for b.Loop() {
		compare.Of(was, is, practice.Standard{})
	}
}
