// SPDX-License-Identifier: MIT

package picture

import (
	"math"
	"strings"
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// walkRoom is lensRoom, 6 m long, with a door beside the screen.
func walkRoom(t testing.TB) *project.Design {
	d := lensRoom(t)
	for i := range d.Room.Footprint {
		if d.Room.Footprint[i].X > 0 {
			d.Room.Footprint[i].X = 6
		}
	}
	d.Room.Ceiling.Height = 3.2
	d.Seating.Rows[0].Distance = 3.4
	d.Room.Features = []project.Feature{{Kind: project.Door, Name: "door", At: project.Point{X: 1.8, Y: 0.02}, Length: 0.8, Width: 0.04, Height: 2, Swing: project.OutLeft}}
	return d
}

// Whoever comes in beside the screen and walks to a seat reaches into it where the
// beam has come down to the crown: similar triangles, by hand for each step of the way.
func TestWhoWalksToTheSeatsIsInTheBeam(t *testing.T) {
	d := walkRoom(t)
	r := Of(d)
	passages := r.Passages()
	if len(passages) != 1 {
		t.Fatalf("%+v", passages)
	}
	p := passages[0]
	room := place.Of(d)
	who := place.PersonAt(d, d.Seating.Sitters.Others)
	lens := d.Projector.At.Vec()
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, w := range place.Ways(room) {
		end := w.Feet[len(w.Feet)-1]
		for _, foot := range w.Feet {
			if math.Hypot(foot.X-end.X, foot.Y-end.Y) < 0.35 {
				break // who has come so far stands at the seat
			}
			head := who.Stand(foot).Head
			for i := range r.Shapes {
				raster := r.Shapes[i].Fills[r.Chosen()].Raster
				share := (lens.X - foot.X) / (lens.X - float64(d.Screen.Distance))
				edge := lens.Z + (raster.Bottom()-lens.Z)*share
				side := math.Abs(foot.Y-lens.Y) - raster.Width/2*share
				const sure = 0.12 // m: more than the round of a head takes away
				if head.Center.Z+head.Radii.Z > edge+sure && side < -sure {
					lo, hi = min(lo, foot.X), max(hi, foot.X)
				}
			}
		}
	}
	if math.IsInf(lo, 0) || p.From > lo || p.To < hi || p.To > hi+0.6 || p.From < lo-0.6 {
		t.Errorf("from %g to %g, by hand surely from %g to %g", p.From, p.To, lo, hi)
	}
	text := strings.Join(r.WalkingWords(), " ")
	if !strings.HasPrefix(text, "Whoever walks from the door to row 1 is in the beam of ") || !strings.Contains(text, " from the screen wall") {
		t.Error(text)
	}
	t.Log(text)
}

// At the height of the lens that is named, the beam passes over everybody on the way, and a
// little lower it does not.
func TestTheNamedHeightClearsTheWay(t *testing.T) {
	d := walkRoom(t)
	d.ProjectorModels[0].ShiftUp = 3
	z := Of(d).Passages()[0].ClearAt
	if math.IsNaN(z) {
		d.Room.Ceiling.Height = 6
		z = Of(d).Passages()[0].ClearAt
	}
	if math.IsNaN(z) {
		t.Fatal("no height clears the way under 6 m")
	}
	for dz, want := range map[float64]bool{0: false, -0.01: true} {
		c := d.Clone()
		c.Projector.At.Z = unit.Length(z + dz)
		if got := len(Of(c).Passages()) > 0; got != want {
			t.Errorf("lens at %g: in the beam is %v", z+dz, got)
		}
	}
	d.Room.Features = nil
	if got := Of(d).Passages(); got != nil {
		t.Errorf("without a door: %+v", got)
	}
}
