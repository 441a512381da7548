// SPDX-License-Identifier: MIT

package room

import (
	"context"
	"math"
	"testing"

	"fyne.io/fyne/v2/test"

	"earline/app/page/pagetest"
	"earline/app/session"
	"earline/app/view"
	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/scene"
)

// opened returns a picture of a demo, without a window or a renderer; top is the page
// that is on top.
func opened(t *testing.T, demo string, top *string) (*Picture, *session.Session, *pagetest.Queue) {
	t.Helper()
	test.NewTempApp(t)
	q := new(pagetest.Queue)
	s := session.New(pagetest.Demo(t, demo), q.Post)
	t.Cleanup(func() {
		s.Discard()
		s.Close()
		s.Doc.Wait()
	})
	p := New(s, q.Post)
	p.Overlay, p.Opened = func(*scene.Options) {}, func() []place.Item { return nil }
	p.OnTop = func() string { return *top }
	p.Changed, p.Commit, p.OnClient = func() {}, func() {}, func(bool) {}
	p.OnAround = func(bool) {}
	s.Show = func(c session.Change) {
		if c == session.SelectionChanged {
			p.ShowSelection()
			return
		}
		p.Follow()
		p.Redraw()
	}
	p.Follow()
	p.Redraw()
	p.Reset()
	return p, s, q
}

// Looking along a path leaves all other rays out; Escape comes back to where the camera
// was, and a second one to nothing selected.
func TestEscapeComesBackFromAPath(t *testing.T) {
	top := "Sight"
	p, s, _ := opened(t, "large", &top)
	before := p.View.Rig
	s.LookAlong(5, 3)
	if o := p.Options(); !o.Only || o.FromSeat != 5 || p.View.Rig.Kind != view.Seat {
		t.Errorf("%+v", o)
	}
	s.LookAlong(2, 3) // from one path to the next, and still back to the beginning
	p.Escape()
	if o := p.Options(); o.Only || o.FromSeat != scene.None || p.View.Rig != before {
		t.Errorf("%+v, camera %+v", o, p.View.Rig)
	}
}

// A seat that an edit takes away is no longer sat in.
func TestTheCameraLeavesASeatThatIsGone(t *testing.T) {
	top := "Sight"
	p, s, _ := opened(t, "large", &top)
	p.SitIn(13)
	if err := s.Do("remove row 3", "", func(d *project.Design) { d.Seating.Rows = d.Seating.Rows[:2] }); err != nil {
		t.Fatal(err)
	}
	if p.View.Rig.Kind == view.Seat {
		t.Error("it is still in the seat")
	}
}

// A proposal is drawn in place of the rays: on every page, or on its own only.
func TestAProposalIsDrawnWhereItBelongs(t *testing.T) {
	for _, onPage := range []bool{false, true} {
		top := "Sound"
		p, s, q := opened(t, "small", &top)
		s.Propose("Sound", "Raise", func(_ context.Context, d *project.Design, _ func(float64, string)) (*session.Proposal, error) {
			to := d.Clone()
			to.Speakers[0].At.Z += 0.1
			return &session.Proposal{Design: to, OnPage: onPage}, nil
		})
		q.Until(t, func() bool { return s.Offer != nil })
		if o := p.Options(); o.Ghost != s.Offer.Design || o.Rays != scene.NoRays {
			t.Errorf("not drawn on its page: %+v", o)
		}
		top = "Sight"
		if o := p.Options(); (o.Ghost == nil) != onPage || (o.Rays == scene.NoRays) == onPage {
			t.Errorf("on page only %v, elsewhere drawn %v", onPage, o.Ghost != nil)
		}
	}
}

// A section showed everything between the walls at once, so that labels piled up on
// the fault.
func TestASectionIsCutWhereOneChooses(t *testing.T) {
	top := "Sight"
	p, s, _ := opened(t, "large", &top)
	p.SetView(view.Cross)
	cuts := p.cuts()
	if len(cuts) != 5 { // the whole room, three rows, the screen
		t.Fatalf("%d places to cut at", len(cuts))
	}
	cuts[2].Do()
	if at := p.Options().Cut.X; at < float64(s.Design().Seating.Rows[1].Distance) || p.View.Rig.Camera().Cut == 0 || s.Hint == "" {
		t.Errorf("cut at %v, the camera at %v, said %q", at, p.View.Rig.Camera().Cut, s.Hint)
	}
	before := p.Options().Cut.X
	p.moveCut(cutStep)
	if at := p.Options().Cut.X; math.Abs(before-cutStep-at) > 1e-9 {
		t.Errorf("from %v to %v", before, at)
	}
	for range 100 {
		p.moveCut(-cutStep)
	}
	if at := p.Options().Cut.X; at > p.View.Hi.X || at < 0 {
		t.Errorf("moved out to %v", at)
	}
	cuts[0].Do()
	p.SetView(view.Plan)
	if p.Options().Cut != (geometry.Vec{}) || p.cut() != nil {
		t.Error("a plan is cut")
	}
}
