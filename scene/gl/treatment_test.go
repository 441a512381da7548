// SPDX-License-Identifier: MIT

package gl

import (
	"math"
	"testing"

	"earline/geometry"
	"earline/project"
	"earline/project/file"
	"earline/scene"
)

// In pixels: a fabric panel on the back wall is seen from the room, bluer than
// the wall behind it, in the client view too; from behind the wall it is gone.
func TestAPanelIsSeenFromTheRoomAlone(t *testing.T) {
	d, ok := file.Demo("two-row")
	if !ok {
		t.Fatal("no demo")
	}
	d.Speakers, d.Seating.Rows = nil, d.Seating.Rows[:1]
	d.Seating.Main.Row = 1
	d.Room.Finishes = project.Finishes{} // the panel would be in that
	d.Room.Treatments = []project.Treatment{{Material: "panel-fabric", Wall: 2, From: 1.2, To: 3, Low: 1, High: 2}}
	bare := d.Clone()
	bare.Room.Treatments = nil
	lo, hi := d.Room.Polygon().Bounds()
	mid := (lo.Y + hi.Y) / 2
	blue := func(d *project.Design, from, at geometry.Vec) (n int) {
		o := scene.Default()
		o.Client, o.People = true, false
		img := picture(t, scene.Build(d, nil, o), scene.Camera{Eye: scene.World(from), At: scene.World(at), Up: scene.World(geometry.V(0, 0, 1)), FOV: 0.5}, 1)
		for y := range 120 {
			for x := range 200 {
				if c := img.RGBAAt(x, y); c.B > c.R && c.B > 50 {
					n++
				}
			}
		}
		return n
	}
	at := geometry.V(hi.X, mid, 1.5)
	from := geometry.V(hi.X-2.5, mid, 1.5)
	// The panel is 1.8 m by 1 m, 2.45 m away; 120 pixels are 2 · 2.45 m · tan(0.25).
	scale := 120 / (2 * 2.455 * math.Tan(0.25))
	want := int(min(1.8*scale, 200) * min(scale, 120))
	if got := blue(d, from, at); got < want*9/10 || got > want*11/10 {
		t.Errorf("the panel covers %d pixels, want about %d", got, want)
	}
	if got := blue(bare, from, at); got > 0 {
		t.Errorf("%d pixels are as blue without it", got)
	}
	behind := geometry.V(hi.X+2.5, mid, 1.5)
	if with, without := blue(d, behind, at), blue(bare, behind, at); math.Abs(float64(with-without)) > 100 {
		t.Errorf("from behind the wall %d pixels are blue, %d without the panel", with, without)
	}
}
