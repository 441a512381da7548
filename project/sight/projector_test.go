// SPDX-License-Identifier: MIT

package sight_test

import (
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/place"
	"earline/project/sight"
)

// A projector that hangs low before the rear row hides some of the picture and stands
// before a loudspeaker; under the ceiling, or behind a port, it does neither.
func TestAProjectorHangingBeforeTheRearRowIsInItsWay(t *testing.T) {
	d, ok := file.Demo("large")
	if !ok {
		t.Fatal("no demo")
	}
	d.ProjectorModels = []project.ProjectorModel{{ID: "p", Light: 3000, Calibrated: 1, Aged: 1, PixelsWide: 3840, PixelsHigh: 2160,
		ThrowMin: 1, ThrowMax: 3, ShiftShape: project.ShiftEllipse, Width: 0.6, Height: 0.3, Depth: 0.6}}
	rear := len(d.Seating.Rows) - 1
	d.Projector = project.Projector{Model: "p", Mount: project.CeilingMount, Fill: project.Zoom,
		At: project.Point{X: d.Seating.Rows[rear].Distance - 1.6, Y: d.Seating.Rows[rear].Centre, Z: d.Seating.Rows[rear].Riser + 1.0}}
	named := func() (views, paths int) {
		r := sight.Audit(d)
		is := func(n int) bool { return n >= 0 && r.Parts[n].Kind == place.ProjectorPart }
		for i := range r.Seats {
			if v := r.Views[i]; v.Verdict == sight.Blocked && is(v.Blocker) {
				views++
				if text := r.PictureSentence(i, d.Units); !strings.Contains(text, "the projector hides") {
					t.Error(text)
				}
			}
			for k := range r.Speakers {
				if p := r.Pair(i, k); p.Worst >= 0 && p.Verdict == sight.Blocked && is(p.Deciding().Blocker) {
					paths++
				}
			}
		}
		return views, paths
	}
	if views, paths := named(); views == 0 || paths == 0 {
		t.Errorf("low: in the way of %d pictures and %d loudspeakers", views, paths)
	}
	d.Projector.Mount = project.PortMount
	if views, paths := named(); views+paths > 0 {
		t.Errorf("behind a port: in the way of %d pictures and %d loudspeakers", views, paths)
	}
	d.Projector.Mount = project.CeilingMount
	d.Projector.At.Z = d.Room.Ceiling.Height - 0.2
	if views, _ := named(); views > 0 {
		t.Errorf("under the ceiling: in the way of %d pictures", views)
	}
}
