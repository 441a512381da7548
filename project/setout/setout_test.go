// SPDX-License-Identifier: MIT

package setout

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"earline/assets"
	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/practice"
	"earline/project/sight"
)

// half is half of the printed digit of a list in millimetres, metres.
const half = 0.05e-3

func open(t testing.TB, name string) *project.Design {
	t.Helper()
	data, err := os.ReadFile("../../testdata/rooms/" + name + ".earline")
	if demo, ok := assets.DemoNamed(name); ok {
		data, err = demo.Data, nil
	}
	if err != nil {
		t.Fatal(err)
	}
	d, err := file.Decode(data, name)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// rooms returns the rooms that are kept for tests.
func rooms(t testing.TB) (names []string) {
	t.Helper()
	files, err := filepath.Glob("../../testdata/rooms/*.earline")
	if err != nil || len(files) == 0 {
		t.Fatal("no rooms", err)
	}
	for _, f := range files {
		names = append(names, strings.TrimSuffix(filepath.Base(f), ".earline"))
	}
	return append(names, "small", "two-row", "large")
}

func of(t testing.TB, d *project.Design) *List {
	t.Helper()
	if err := d.Validate(); err != nil {
		t.Fatal(err)
	}
	l, err := Of(t.Context(), sight.Audit(d), practice.Of(d))
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func find(t testing.TB, l *List, name string) *Item {
	t.Helper()
	for i := range l.Items {
		if strings.HasPrefix(l.Items[i].Name, name) {
			return &l.Items[i]
		}
	}
	t.Fatalf("no %s in the list", name)
	return nil
}

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.6f, want %.6f", what, got, want)
	}
}

// With the line at 1.000 m a loudspeaker at 1.566 m is 566 mm above it, and its hole, 375
// mm high, goes from +378.5 to +753.5 mm: worked by hand, z - datum and z - datum -+ h/2.
func TestAHoleIsGivenByItsEdgesAboveTheLine(t *testing.T) {
	d := open(t, "small-with-column")
	d.Datum = project.Datum{Height: 1}
	for i := range d.Speakers {
		if strings.HasSuffix(d.Speakers[i].Label, "090") {
			d.Speakers[i].At.Z = 1.566
		}
	}
	l := of(t, d)
	it := find(t, l, "M+090")
	near(t, "height", it.Height, 0.566, 1e-12)
	near(t, "lower edge", it.Cutout.Lower, 0.3785, 1e-12)
	near(t, "upper edge", it.Cutout.Upper, 0.7535, 1e-12)
	if got := l.ShowHeight(it.Cutout.Lower) + " " + l.ShowHeight(it.Cutout.Upper) + " " + l.ShowHeight(it.Height); got != "+378.5 mm +753.5 mm +566 mm" {
		t.Errorf("prints %s", got)
	}
	// On the left wall, 1.330 m before the back wall; as one faces it the back wall is to
	// the left. The hole is 0.235 m wide.
	if o := it.Offsets[0]; o.From != "back wall" {
		t.Errorf("measured from %s", o.From)
	}
	near(t, "along", it.Offsets[0].Distance, 1.330, 1e-12)
	near(t, "left edge", it.Cutout.Left, 1.330-0.1175, 1e-12)
	near(t, "right edge", it.Cutout.Right, 1.330+0.1175, 1e-12)
	if it.Name != "M+090 left side" || it.Place != "left wall" {
		t.Errorf("%s on %s", it.Name, it.Place)
	}
}

// From (5.90, 0.80, 2.00) on the back wall to an ear at (3.46, 2.10, 1.12): 28.0 degrees
// off the wall's normal to the room's middle, to the right as one looks out of the wall,
// and 17.7 degrees down: atan(1.30/2.44) and atan(0.88/hypot(2.44, 1.30)), worked by hand.
func TestAnAimIsTurnAndTiltFromTheWallsNormal(t *testing.T) {
	axis, _ := geometry.V(3.46, 2.10, 1.12).Sub(geometry.V(5.90, 0.80, 2.00)).Unit()
	a := aimFrom(geometry.V(-1, 0, 0), axis)
	near(t, "turn", a.Turn, 28.0, 0.05)
	near(t, "tilt", a.Tilt, -17.7, 0.05)
	if got, want := a.Words(OnWall), "turn 28.0° right, tilt 17.7° down"; got != want {
		t.Errorf("says %s, want %s", got, want)
	}
	// Who looks out of the left wall has the back of the room to the right.
	axis, _ = geometry.V(1, 2, 0).Unit()
	near(t, "turn of the left wall", aimFrom(geometry.V(0, 1, 0), axis).Turn, math.Atan(0.5)/unit.Degree, 1e-9)
}

// The height loudspeaker at 32.2 degrees leaves its published range, which begins at 30,
// when it is 66 mm too far to the middle: with 1.26 m along the room to the main position
// that is 1.26 (tan 32.2 - tan 30) = 66.0 mm, however far sight would let it go. The range
// of U+045 is that of Rec. ITU-R BS.2051, system F, as in testdata/bs2051_layouts.tsv.
func TestAHeightIsLimitedByItsAzimuthWhereSightAllowsMore(t *testing.T) {
	d := open(t, "small-with-column")
	d.System.Name = "F"
	main := sight.Audit(d).Main
	const along = 1.26 // m
	for i := range d.Speakers {
		if d.Speakers[i].Label == "U+045" {
			d.Speakers[i].At.X = unit.Length(main.X - along)
			d.Speakers[i].At.Y = unit.Length(main.Y - along*math.Tan(32.2*unit.Degree))
		}
	}
	it := find(t, of(t, d), "U+045")
	want := along * (math.Tan(32.2*unit.Degree) - math.Tan(30*unit.Degree))
	near(t, "right", it.Tolerance.Right.Distance, want, 0.02e-3)
	near(t, "right", want, 0.066, 0.0005)
	if it.Tolerance.Right.Limit != "azimuth" {
		t.Errorf("limited by %q", it.Tolerance.Right.Limit)
	}
}

// What is built up stands behind the finished face: 25 mm of floor, 60 mm of panel.
func TestRoughWallsAndStructuralFloorStandBesideTheFinishedOnes(t *testing.T) {
	d := open(t, "small-with-column")
	d.Datum = project.Datum{Height: 1.025, From: project.StructuralFloor, FloorBuildup: 0.025, WallBuildup: make([]unit.Length, 4)}
	d.Datum.WallBuildup[d.Room.WallNamed("back wall")-1] = 0.06
	l := of(t, d)
	it := find(t, l, "M+090")
	near(t, "line", l.Datum.Height, 1, 1e-12)
	near(t, "structural", it.StructuralHeight, 1.35+0.025, 1e-12)
	near(t, "rough", it.Offsets[0].Rough, 1.33+0.06, 1e-12)
	near(t, "left wall has none", it.Offsets[1].Rough, it.Offsets[1].Distance, 1e-12)
	if got, want := l.Rough(it), "1375 mm above the structural floor, 1390 mm from rough back wall"; got != want {
		t.Errorf("says %q, want %q", got, want)
	}
}

// In an L-shaped room what stands in the short leg is measured from the walls that are
// seen from there, and not through the other leg.
func TestOffsetsAreToWallsThatAreSeen(t *testing.T) {
	d := open(t, "small-with-column")
	// An alcove at the left of the back: the room is 4 m long at the right, 6 m at the left.
	d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 6, Y: 0}, {X: 6, Y: 1.2}, {X: 4, Y: 1.2}, {X: 4, Y: 3.2}, {X: 0, Y: 3.2}}
	d.Datum.Across = "right wall D"
	l := newTape(d)
	for _, c := range []struct {
		at            geometry.Vec
		along, across string
		far, to       float64
	}{
		// In the alcove: the main right wall is round the corner.
		{geometry.V(5.5, 0.5, 1), "back wall A", "left wall", 0.5, 0.5},
		{geometry.V(5.5, 0.8, 1), "back wall A", "right wall B", 0.5, 0.4},
		// Before the alcove's mouth the near back wall is the one behind it.
		{geometry.V(3.6, 2.5, 1), "back wall C", "right wall D", 0.4, 0.7},
		{geometry.V(3.6, 0.5, 1), "back wall A", "right wall D", 2.4, 2.7},
	} {
		n, m := l.lengthways(c.at, 0), l.crossways(c.at, 0)
		if l.name(n) != c.along || l.name(m) != c.across {
			t.Errorf("%v is measured from %s and %s, want %s and %s", c.at, l.name(n), l.name(m), c.along, c.across)
			continue
		}
		near(t, c.along, l.from(n, c.at), c.far, 1e-12)
		near(t, c.across, l.from(m, c.at), c.to, 1e-12)
	}
}

// An outlet on a wall is set out from it and above the line like everything else, the
// mains with their caution.
func TestAnOutletIsSetOut(t *testing.T) {
	d, _ := file.Demo("small")
	d.Services.Outlets = []project.Outlet{{Kind: project.Mains, At: project.Point{X: 2, Y: 0, Z: 0.3}, Serves: "recliner"}}
	l, err := Of(context.Background(), sight.Audit(d), practice.Standard{})
	if err != nil {
		t.Fatal(err)
	}
	for _, it := range l.Items {
		if it.Kind != Outlet {
			continue
		}
		if it.Name != "mains outlet recliner" || it.On != OnWall || math.Abs(it.Height+0.7) > 1e-9 || it.Caution != Electric {
			t.Errorf("%+v", it)
		}
		return
	}
	t.Error("no outlet in the list")
}

// The list said of a door in a side wall "40 mm wide, 900 mm deep", and of a round column
// "0 mm wide".
func TestADoorIsAsWideAsOneFacesItAndAColumnAsItIsAcross(t *testing.T) {
	d := open(t, "round-column")
	l := of(t, d)
	sizes := map[string]Frame{}
	for _, it := range l.Items {
		if it.Frame != nil {
			sizes[it.Name] = *it.Frame
		}
	}
	near(t, "door, wide", sizes["door"].Width, 0.8, 1e-9)
	near(t, "door, deep", sizes["door"].Depth, 0.04, 1e-9)
	near(t, "column, wide", sizes["column"].Width, 0.3, 1e-9)
}

// A subwoofer at the back was "turn 180.0° right", and a height "towards 180.0° right of
// the screen".
func TestWhatFacesTheScreenOrTheBackIsSaidSo(t *testing.T) {
	for _, c := range []struct {
		aim  Aim
		on   Surface
		want string
	}{
		{Aim{Turn: 180}, OnFloor, "straight to the screen, level"},
		{Aim{Turn: -180, Tilt: 2}, OnFloor, "straight to the screen, tilt 2.0° up"},
		{Aim{}, OnFloor, "straight to the back, level"},
		{Aim{Turn: 180, Tilt: 20}, OnCeiling, "tilt 20.0° off plumb, towards the back"},
		{Aim{Turn: 0, Tilt: 20}, OnCeiling, "tilt 20.0° off plumb, towards the screen"},
		{Aim{Turn: -90, Tilt: 34.3}, OnCeiling, "tilt 34.3° off plumb, towards 90.0° left of the screen"},
		{Aim{Turn: 28, Tilt: -17.7}, OnWall, "turn 28.0° right, tilt 17.7° down"},
	} {
		if got := c.aim.Words(c.on); got != c.want {
			t.Errorf("%+v: %q, want %q", c.aim, got, c.want)
		}
	}
}

// The lens of the projector is set out like everything else, with what to mind.
func TestTheProjectorIsSetOut(t *testing.T) {
	d, _ := file.Demo("large")
	l, err := Of(context.Background(), sight.Audit(d), practice.Standard{})
	if err != nil {
		t.Fatal(err)
	}
	for _, it := range l.Items {
		if it.Kind == Projector {
			if want := float64(d.Projector.At.Z) - l.Datum.Height; it.On != OnCeiling || math.Abs(it.Height-want) > 1e-9 || it.Mass == 0 || !strings.Contains(it.Caution, Beam) {
				t.Errorf("%+v", it)
			}
			return
		}
	}
	t.Error("no projector in the list")
}
