// SPDX-License-Identifier: MIT

package fit_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/fit"
	"earline/project/projecttest"
)

// lensed returns the starting room, 5 m by 4 m by 2.5 m, with a projector whose cabinet is
// 0.4 m wide, 0.2 m high and 0.5 m deep, its lens 30 mm before its face.
func lensed() *project.Design {
	d := file.New()
	d.ProjectorModels = []project.ProjectorModel{{ID: "p", Light: 2000, Calibrated: 1, Aged: 1, PixelsWide: 3840, PixelsHigh: 2160,
		ThrowMin: 1, ThrowMax: 3, ShiftShape: project.ShiftEllipse, Width: 0.4, Height: 0.2, Depth: 0.5, LensAhead: 0.03}}
	d.Projector = project.Projector{Model: "p", At: project.Point{X: 4, Y: 2, Z: 2.3}, Mount: project.CeilingMount, Fill: project.Zoom}
	return d
}

// A projector that reaches into a wall, the ceiling, a soffit, a loudspeaker or a head is
// found, with the nearest place that works, to a millimetre.
func TestAProjectorThatCannotHangThereIsFound(t *testing.T) {
	for _, tt := range []struct {
		name string
		edit func(*project.Design)
		want []string
	}{
		{"free", func(d *project.Design) {}, nil},
		{"against the ceiling", func(d *project.Design) { d.Projector.At.Z = 2.4 }, nil},
		{"through the ceiling", func(d *project.Design) { d.Projector.At.Z = 2.45 },
			[]string{"projector reaches 50 mm above the ceiling; clear with the lens 2.400 m high"}}, // 2.5 - 0.1
		{"in the rear wall", func(d *project.Design) { d.Projector.At.X = 4.6 },
			[]string{"projector reaches 130 mm into the back wall; clear with the lens 4.470 m from the screen wall"}}, // 5 - 0.53
		{"under the floor", func(d *project.Design) { d.Projector.At.X, d.Projector.At.Z = 1.5, 0.05 },
			[]string{"projector reaches 50 mm below the floor; clear with the lens 0.100 m high"}},
		{"in a soffit", func(d *project.Design) {
			d.Room.Features = []project.Feature{{Kind: project.Soffit, Name: "rear soffit", At: project.Point{X: 4.25, Y: 2, Z: 2.35}, Length: 0.5, Width: 3, Height: 0.15}}
		}, []string{"projector reaches 50 mm into the rear soffit; clear with the lens 2.250 m high"}},
		{"in a loudspeaker overhead", func(d *project.Design) {
			d.Speakers[3].Label, d.Speakers[3].At, d.Speakers[3].Mount = "U+000", project.Point{X: 4.3, Y: 2, Z: 2.2}, project.OnCeiling
		}, []string{"projector reaches"}},
		{"behind a port", func(d *project.Design) { d.Projector.Mount, d.Projector.At.X = project.PortMount, 5.2 }, nil},
	} {
		d := lensed()
		tt.edit(d)
		var got []string
		for _, f := range fit.Findings(d) {
			if f.Where != "projector" {
				continue
			}
			if !strings.HasPrefix(f.Field, "projector.at.") {
				t.Errorf("%s: the field is %s", tt.name, f.Field)
			}
			got = append(got, f.String())
		}
		if len(tt.want) == 1 && tt.want[0] == "projector reaches" {
			if len(got) != 1 || !strings.Contains(got[0], "into the box of U+000; clear with") {
				t.Errorf("%s: %q", tt.name, got)
			}
			continue
		}
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, diff)
		}
	}
}

// What is named as the nearest place works.
func TestTheNearestPlaceOfAProjectorWorks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := projecttest.Rooms{Projector: true}.Draw(t)
		of := func() (all []fit.Finding) {
			for _, f := range fit.Findings(d) {
				if f.Where == "projector" {
					all = append(all, f)
				}
			}
			return all
		}
		found := of()
		if len(found) == 0 {
			return
		}
		_, way, ok := strings.Cut(found[0].Text, "; clear with the lens ")
		if !ok {
			return
		}
		words := strings.Fields(way)
		v, err := unit.ParseLength(words[0]+" "+words[1], unit.Metre)
		if err != nil {
			t.Fatalf("%q: %v", way, err)
		}
		switch {
		case strings.HasSuffix(way, "high"):
			d.Projector.At.Z = v
		case strings.HasSuffix(way, "screen wall"):
			d.Projector.At.X = v
		default:
			d.Projector.At.Y = v
		}
		if left := of(); len(left) > 0 {
			t.Errorf("%q, and there %q", found[0].Text, left[0].Text)
		}
	})
}
