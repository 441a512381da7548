// SPDX-License-Identifier: MIT

package solve_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/fit"
	"earline/project/picture"
	"earline/project/place"
	"earline/project/projecttest"
	"earline/project/sight"
	"earline/project/solve"
)

func lensDemo(t testing.TB) *project.Design {
	t.Helper()
	d, ok := file.Demo("large")
	if !ok {
		t.Fatal("no demo")
	}
	return d
}

func placed(t testing.TB, d *project.Design) *solve.ProjectorProposal {
	t.Helper()
	p, err := solve.Projector(context.Background(), d, solve.ProjectorOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// servedBy fails unless the projector of d serves all shapes and nothing of the room is in
// its beam, nor it in anything.
func servedBy(t interface{ Errorf(string, ...any) }, d *project.Design) {
	r := picture.Of(d)
	for i := range r.Shapes {
		if th := r.Shapes[i].Fills[r.Chosen()].Throw; !th.ZoomFits(&r.Model) || !th.ShiftFits() {
			t.Errorf("%s: %+v", r.Shapes[i].Called, th)
		}
	}
	for _, o := range r.InBeam {
		if !o.Standing {
			t.Errorf("%s is in the beam", o.Called())
		}
	}
	for _, f := range fit.Findings(d) {
		if f.Where == "projector" {
			t.Errorf("%s", f)
		}
	}
}

// The large demo's projector, anywhere, is brought to a place on the middle of the picture
// at which nothing falls short but, perhaps, light.
func TestTheProjectorIsPlaced(t *testing.T) {
	d := lensDemo(t)
	d.Projector.At = project.Point{X: 3, Y: 1, Z: 1.2}
	p := placed(t, d)
	if !p.Solved() || len(p.Places) == 0 || len(p.Changes) != 3 {
		t.Fatalf("%v, %d places, changes %v", p.Obstacles(), len(p.Places), p.Changes)
	}
	servedBy(t, p.Design)
	at := p.Design.Projector.At
	if c, _, _ := d.Screen.Picture(); math.Abs(float64(at.Y)-c.Y) > 1e-9 {
		t.Errorf("at %v, the middle is at %g", at, c.Y)
	}
	for i, q := range p.Places {
		c := p.Design.Clone()
		c.Projector.At = q.At
		servedBy(t, c)
		if i > 0 && q.Standing < p.Places[i-1].Standing {
			t.Errorf("place %d is over more heads than the one before it", i+1)
		}
	}
	if !strings.Contains(p.Note, "free field") {
		t.Errorf("nothing of noise: %s", p.Note)
	}
}

// Noise at the nearest ear is 20 lg of the distance below what the model states at 1 m:
// 26 dB(A) at 2 m is 20 dB(A), the law of a point source in a free field.
func TestNoiseAtTheNearestEar(t *testing.T) {
	p := placed(t, lensDemo(t))
	q := p.Places[0]
	c := p.Design
	box, _ := place.Cabinet(c)
	near := math.Inf(1)
	for _, b := range place.Of(c).Bodies {
		near = min(near, b.EarLeft.Dist(box.Center), b.EarRight.Dist(box.Center))
	}
	if want := 26 - 20*math.Log10(near); math.Abs(q.Noise-want) > 1e-9 || !(near > 0.3) {
		t.Errorf("%g dB(A) at %g m, want %g", q.Noise, near, want)
	}
}

// Whatever is proposed in any room serves all shapes, stands in nothing, and takes sight
// from nobody.
func TestAPlacedProjectorHasNoFinding(t *testing.T) {
	solved := 0
	rapid.Check(t, func(t *rapid.T) {
		d := projecttest.Rooms{Projector: true, Seats: 8, Speakers: 8}.Draw(t)
		p, err := solve.Projector(context.Background(), d, solve.ProjectorOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if len(p.Places) == 0 {
			if len(p.Proof) == 0 || p.Proof[0].Text == "" {
				t.Error("no place, and no reason")
			}
			if p.Design.Projector != d.Projector {
				t.Error("no place, and moved")
			}
			return
		}
		solved++
		c := p.Design.Clone()
		c.Projector.At = p.Places[0].At
		servedBy(t, c)
		bare := d.Clone()
		bare.Projector = project.Projector{}
		was, is := sight.Audit(bare), sight.Audit(c)
		for i := range is.Pairs {
			if is.Pairs[i].Verdict > was.Pairs[i].Verdict {
				t.Errorf("pair %d: %v", i, is.Pairs[i].Verdict)
			}
		}
		for i := range is.Views {
			if is.Views[i].Verdict > was.Views[i].Verdict {
				t.Errorf("view %d: %v", i, is.Views[i].Verdict)
			}
		}
	})
	t.Logf("%d rooms with a place", solved)
}

// Where there is no place, the limit is named with what would do.
func TestNoPlaceForALensSaysWhy(t *testing.T) {
	for _, tt := range []struct {
		name, want string
		edit       func(d *project.Design)
	}{
		{"too long a lens", "A lens with a throw ratio of", func(d *project.Design) { d.ProjectorModels[0].ThrowMin, d.ProjectorModels[0].ThrowMax = 6, 10 }},
		{"no zoom", "No place serves all shapes: they ask for a zoom of", func(d *project.Design) { d.ProjectorModels[0].ThrowMax = d.ProjectorModels[0].ThrowMin }},
		{"a shelf too far for the zoom", "a shelf on the back wall puts it", func(d *project.Design) {
			d.Projector.Mount = project.ShelfMount
			d.ProjectorModels[0].ThrowMin, d.ProjectorModels[0].ThrowMax = 0.6, 0.95
		}},
		{"a wall of soffit in the beam", "lower it would be clear", nil},
	} {
		d := lensDemo(t)
		if tt.edit == nil {
			tt.want = "it would be clear"
			d.Room.Features = append(d.Room.Features, project.Feature{Kind: project.Beam, Name: "Purlin", At: project.Point{X: 1.4, Y: d.Screen.Centre, Z: 1.2},
				Length: 0.2, Width: 3, Height: unit.Length(0.8)})
		} else {
			tt.edit(d)
		}
		p := placed(t, d)
		if p.Solved() || len(p.Proof) == 0 || !strings.Contains(p.Proof[0].Text, tt.want) {
			t.Errorf("%s: %v", tt.name, p.Obstacles())
		} else {
			t.Logf("%s: %s", tt.name, p.Proof[0].Text)
		}
		if p.Design.Projector != d.Projector {
			t.Errorf("%s: it is moved all the same", tt.name)
		}
	}
}

// A design with a projector model and no projector gets one; one without either is refused
// in a line.
func TestAProjectorIsProposedWhereThereIsNone(t *testing.T) {
	d := lensDemo(t)
	d.Projector = project.Projector{}
	if p := placed(t, d); !p.Solved() || p.Design.Projector.Mount != project.CeilingMount {
		t.Errorf("%v %+v", p.Obstacles(), p.Design.Projector)
	}
	d.ProjectorModels = nil
	if _, err := solve.Projector(context.Background(), d, solve.ProjectorOptions{}); err == nil || !strings.Contains(err.Error(), "projector model") {
		t.Errorf("%v", err)
	}
}

// Behind a port the lens is beyond the back wall; on a shelf its cabinet is before it.
func TestShelfAndPortAreRespected(t *testing.T) {
	for _, mount := range []project.ProjectorMount{project.ShelfMount, project.PortMount} {
		d := lensDemo(t)
		d.Projector.Mount = mount
		d.ProjectorModels[0].ThrowMax = 4
		p := placed(t, d)
		if !p.Solved() {
			t.Errorf("%s: %v", mount, p.Obstacles())
			continue
		}
		_, hi := d.Room.Polygon().Bounds()
		x := float64(p.Design.Projector.At.X)
		if box, ok := place.Cabinet(p.Design); ok != (mount == project.ShelfMount) || ok && math.Abs(box.Center.X+box.Half.X+0.05-hi.X) > 0.02 {
			t.Errorf("%s: its back is at %g, the wall at %g", mount, box.Center.X+box.Half.X, hi.X)
		}
		if mount == project.PortMount && x < hi.X {
			t.Errorf("behind a port, and at %g in a room %g long", x, hi.X)
		}
	}
}

func BenchmarkProjector(b *testing.B) {
	d := lensDemo(b)
	for b.Loop() {
		placed(b, d)
	}
}

// Nothing but a beam across the room stands against every place.
func BenchmarkProjectorWithoutAPlace(b *testing.B) {
	d := lensDemo(b)
	d.Room.Features = append(d.Room.Features, project.Feature{Kind: project.Beam, At: project.Point{X: 1.4, Y: d.Screen.Centre, Z: 1.2}, Length: 0.2, Width: 3, Height: 0.8})
	for b.Loop() {
		placed(b, d)
	}
}

func TestAPlaceSaysPlainlyWhoIsInTheBeam(t *testing.T) {
	p := solve.ProjectorProposal{Places: []solve.LensPlace{{Noise: math.NaN(), Walking: 2}, {Noise: math.NaN(), Standing: 2}}}
	for i, want := range []string{"the beam passes over whoever stands up, whoever walks in is in the beam", "2 seats in the beam when standing"} {
		if got := p.Summary(true)[i]; !strings.HasSuffix(got, want) {
			t.Errorf("%q does not end in %q", got, want)
		}
	}
}
