// SPDX-License-Identifier: MIT

package scene_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"earline/project"
	"earline/project/place"
	"earline/scene"
)

// both returns the large demo and the same with a loudspeaker and a row elsewhere.
func both(t *testing.T) (was, is *project.Design) {
	t.Helper()
	was = demo(t, "large")
	is = was.Clone()
	is.Speakers[2].At.Z += 0.3
	is.Seating.Rows[1].Riser += 0.1
	return was, is
}

func fadedAt(t *testing.T, was, is *project.Design, share float64) *scene.List {
	t.Helper()
	o := scene.Default()
	o.Rays = scene.NoRays
	o.Fade = &scene.Fade{Was: was, Share: share}
	return scene.Build(is, nil, o)
}

// At its ends a fade is the picture of one design, as it is without a fade.
func TestAFadeEndsInEitherRoom(t *testing.T) {
	was, is := both(t)
	o := scene.Default()
	o.Rays = scene.NoRays
	if got := fadedAt(t, was, is, 1); !reflect.DeepEqual(got, scene.Build(is, nil, o)) {
		t.Error("at one end it is not the plan")
	}
	if got := fadedAt(t, was, is, 0); !reflect.DeepEqual(got, scene.Build(was, nil, o)) {
		t.Error("at the other end it is not the room as found")
	}
}

// Between the ends what both rooms have is opaque, and the shares of what only one has
// add up to one.
func TestOnlyWhatDiffersFades(t *testing.T) {
	was, is := both(t)
	for _, share := range []float64{0.25, 0.5, 0.8} {
		var goes, comes, stays int
		for _, m := range fadedAt(t, was, is, share).Meshes {
			switch a := float64(m.Alpha); {
			case math.Abs(a-share) < 1e-6 && share != 0.5:
				comes++
			case math.Abs(a-(1-share)) < 1e-6:
				goes++
			case a == 1:
				stays++
			}
			if m.Alpha < 1 && !m.Whole && !strings.Contains(m.Name, "pane") {
				t.Errorf("%s fades, and one looks into it", m.Name)
			}
		}
		if share == 0.5 {
			comes, goes = goes/2, goes/2
		}
		// A loudspeaker, and of the row platform, lights of its steps, chairs, people.
		if comes != goes || comes < 4 || stays < 3*comes {
			t.Errorf("share %v: %d come, %d go, %d stay", share, comes, goes, stays)
		}
	}
	for _, m := range fadedAt(t, was, was.Clone(), 0.5).Meshes {
		if m.Alpha != 1 && m.Whole {
			t.Errorf("%s fades between two rooms that are alike", m.Name)
		}
	}
}

// A builder that faded once must notice that a design was changed in place, and lists
// handed out stay as they were.
func TestAFadeForgetsNothingThatChanged(t *testing.T) {
	was, is := both(t)
	var b scene.Builder
	o := scene.Default()
	for _, step := range []func(){
		func() { o.Fade = &scene.Fade{Was: was, Share: 0.3} },
		func() { o.Fade = &scene.Fade{Was: was, Share: 0.6} },
		func() { is.Speakers[0].At.Z += 0.1 },
		func() { was.Seating.Rows[0].Distance += 0.1 },
		func() { was.Models[0].Width += 0.02 },
		func() { o.Labels = false },
		func() { o.People = false },
		func() { o.Client = true },
		func() { o.Drawing = scene.Axes{X: true, Y: true} },
		func() {
			o.Fade = &scene.Fade{Was: was, Share: 0.6, From: place.Item{Kind: place.SpeakerItem, Index: 2}}
		},
	} {
		step()
		if !reflect.DeepEqual(b.Build(is, nil, o), scene.Build(is, nil, o)) {
			t.Fatal("the builder's list is not what is built anew")
		}
	}
}

// What is chosen is outlined where it was and where it is.
func TestWhatIsChosenIsOutlinedInBothRooms(t *testing.T) {
	was, is := both(t)
	for _, it := range []place.Item{
		{Kind: place.SpeakerItem, Index: 2}, {Kind: place.RowItem, Index: 1}, {Kind: place.ScreenItem},
		{Kind: place.FeatureItem}, {Kind: place.TreatmentItem},
	} {
		for _, share := range []float64{0, 0.5, 1} {
			o := scene.Default()
			o.Fade = &scene.Fade{Was: was, Share: share, From: it, To: it}
			found := false
			for _, l := range scene.Build(is, nil, o).Lines {
				found = found || l.Name == "chosen of both"
			}
			if !found {
				t.Errorf("%v at %v is not outlined", it, share)
			}
		}
	}
	o := scene.Default()
	o.Fade = &scene.Fade{Was: was, Share: 0.5, From: place.Item{Kind: place.SpeakerItem, Index: 99}, To: place.Item{Kind: place.RowItem, Index: -1}}
	scene.Build(is, nil, o) // of an earlier design: nothing
}
