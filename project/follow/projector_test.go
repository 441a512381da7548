// SPDX-License-Identifier: MIT

package follow_test

import (
	"math"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/follow"
)

// A projector on the middle of a room under a flat ceiling stays on its middle when the
// room grows wider, and as far below the ceiling when that goes up; on a shelf its height
// stays.
func TestAProjectorStaysOnTheMiddleAndUnderTheCeiling(t *testing.T) {
	for mount, up := range map[project.ProjectorMount]float64{project.CeilingMount: 0.3, project.ShelfMount: 0} {
		d, ok := file.Demo("small")
		if !ok {
			t.Fatal("no demo")
		}
		_, hi := d.Room.Polygon().Bounds()
		d.ProjectorModels = []project.ProjectorModel{{ID: "p", Light: 1000, Calibrated: 1, Aged: 1, PixelsWide: 3840, PixelsHigh: 2160,
			ThrowMin: 1, ThrowMax: 2, ShiftShape: project.ShiftEllipse, Width: 0.4, Height: 0.2, Depth: 0.4}}
		d.Projector = project.Projector{Model: "p", At: project.Point{X: 3, Y: d.Screen.Centre, Z: 2}, Mount: mount, Fill: project.Zoom}
		after := d.Clone()
		for i := range after.Room.Footprint {
			if float64(after.Room.Footprint[i].Y) > hi.Y-1e-9 {
				after.Room.Footprint[i].Y += 0.4
			}
		}
		after.Room.Ceiling.Height += 0.3
		m := follow.Shell(d, after)
		was, now := d.Projector.At, after.Projector.At
		if !m.Projector || math.Abs(float64(now.Y-was.Y)-0.2) > 1e-6 || math.Abs(float64(now.Z-was.Z)-up) > 1e-6 || now.X != was.X {
			t.Errorf("on the %s: %+v to %+v, %s", mount, was, now, m.Words())
		}
	}
}
