// SPDX-License-Identifier: MIT

package scene_test

import (
	"math"
	"strings"
	"testing"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/scene"
)

const (
	wide = 900
	high = 600
)

// speaker returns the index of a loudspeaker by name.
func speaker(t *testing.T, d *project.Design, name string) int {
	t.Helper()
	for i, l := range d.Speakers {
		if l.Name() == name {
			return i
		}
	}
	t.Fatalf("no loudspeaker %s", name)
	return 0
}

// Nothing is mirrored in any view: M+030 of Rec. ITU-R BS.2051 is the
// loudspeaker at the front left.
func TestFrontLeftIsLeftInEveryView(t *testing.T) {
	d := demo(t, "large")
	left, right := d.Speakers[speaker(t, d, "M+030")].At.Vec(), d.Speakers[speaker(t, d, "M-030")].At.Vec()
	cams := map[string]scene.Camera{
		"main position": scene.Walk(place.MainPoint(d), 0, 0),
		"plan":          scene.Plan(d, 0.7),
		"cross section": scene.CrossSection(d, 1.5),
		"overview":      scene.Overview(d, 1.5),
	}
	for name, cam := range cams {
		w := wide
		if name == "plan" {
			w = high * 7 / 10
		}
		lx, ly, _, ok1 := cam.Project(scene.World(left), w, high)
		rx, _, _, ok2 := cam.Project(scene.World(right), w, high)
		if !ok1 || !ok2 || lx >= rx {
			t.Errorf("%s: M+030 at x = %v, M-030 at %v; want left of it", name, lx, rx)
		}
		if name == "main position" && lx >= wide/2 {
			t.Errorf("%s: M+030 at %v, want in the left half", name, lx)
		}
		if name == "plan" && ly >= high/2 {
			t.Errorf("plan: the front is at y = %v, want in the upper half", ly)
		}
	}
}

// A plan reads like a drawing held by someone who faces the screen, a long
// section with the screen at the left.
func TestDrawingsAreTheRightWayRound(t *testing.T) {
	d := demo(t, "large")
	px := func(c scene.Camera, v geometry.Vec) (x, y float32) {
		x, y, _, ok := c.Project(scene.World(v), wide, high)
		if !ok {
			t.Fatalf("%v is not in the picture", v)
		}
		return x, y
	}
	plan := scene.Plan(d, 1.5) // turned, which makes it larger
	x0, y0 := px(plan, geometry.V(0, 0, 0))
	x1, y1 := px(plan, geometry.V(5, 4, 0))
	if !(x0 < x1 && y0 > y1) {
		t.Errorf("plan: front left corner at (%v, %v), a point behind and to the right at (%v, %v)", x0, y0, x1, y1)
	}
	long := scene.LongSection(d, 1.5)
	x0, y0 = px(long, geometry.V(0, 1, 0))
	x1, y1 = px(long, geometry.V(5, 1, 2))
	if !(x0 < x1 && y0 > y1) {
		t.Errorf("long section: the foot of the screen wall at (%v, %v), a point behind and above at (%v, %v)", x0, y0, x1, y1)
	}
}

// Views of the whole room hold the whole room.
func TestViewsHoldTheRoom(t *testing.T) {
	for name, d := range designs(t) {
		for _, aspect := range []float32{0.6, 1, 1.6, 2.4} {
			w, h := int(600*aspect), 600
			for view, cam := range map[string]scene.Camera{
				"plan": scene.Plan(d, aspect), "long": scene.LongSection(d, aspect),
				"cross": scene.CrossSection(d, aspect), "overview": scene.Overview(d, aspect),
			} {
				for _, c := range d.Room.Footprint {
					for _, z := range []float64{0, d.Room.CeilingAt(float64(c.X), float64(c.Y))} {
						p := geometry.V(float64(c.X), float64(c.Y), z)
						x, y, depth, ok := cam.Project(scene.World(p), w, h)
						if view == "overview" && z > 0 {
							continue // what is nearest under the ceiling may stand out
						}
						if !ok || x < 0 || y < 0 || x > float32(w) || y > float32(h) || depth < 0 || depth > 1 {
							t.Errorf("%s, %s at %v:1: corner %v at (%v, %v), depth %v", name, view, aspect, p, x, y, depth)
						}
					}
				}
			}
		}
	}
}

// Whoever sits in a seat has the middle of the screen in the middle of the
// picture; an ear looks at its driver.
func TestSeatAndEarLookWhereTheyShould(t *testing.T) {
	d := demo(t, "large")
	r := audited(d)
	middle, _, _ := d.Screen.Picture()
	for i := range r.Seats {
		cam, ok := scene.FromSeat(d, i, middle)
		x, y, _, seen := cam.Project(scene.World(middle), wide, high)
		if !ok || !seen || math.Abs(float64(x)-wide/2) > 0.1 || math.Abs(float64(y)-high/2) > 0.1 {
			t.Errorf("seat %d: the screen is at (%v, %v)", i, x, y)
		}
		for k, p := range r.Speakers {
			cam, ok := scene.Ear(r, i, k)
			if p.Spec.Subwoofer() {
				if ok {
					t.Errorf("seat %d looks at the subwoofer %s", i, p.Name())
				}
				continue
			}
			driver := p.Drivers[p.Spec.Deciding()].Center
			x, y, _, seen := cam.Project(scene.World(driver), wide, high)
			if !ok || !seen || math.Abs(float64(x)-wide/2) > 0.1 || math.Abs(float64(y)-high/2) > 0.1 {
				t.Errorf("seat %d: %s is at (%v, %v)", i, p.Name(), x, y)
			}
		}
	}
	for _, i := range []int{-1, len(r.Seats)} {
		if _, ok := scene.FromSeat(d, i, middle); ok {
			t.Errorf("a view from seat %d", i)
		}
		if _, ok := scene.Ear(r, i, 0); ok {
			t.Errorf("an ear in seat %d", i)
		}
	}
}

func TestNamed(t *testing.T) {
	d := demo(t, "large")
	r := audited(d)
	for _, name := range []string{"overview", "plan", "long", "cross", "seat:2.3", "ear:2.3:M+090", "ear:1.1:M+090 b", "walk:3,2,1.6,0", "walk:3, 2, 1.6, 180, -20"} {
		v, err := scene.Named(d, r, name, 1.5)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, f := range v.Camera.Matrix(1.5) {
			if math.IsNaN(float64(f)) {
				t.Errorf("%s: camera %+v", name, v.Camera)
				break
			}
		}
	}
	v, _ := scene.Named(d, r, "ear:2.3:M+090", 1.5)
	if o := v.Apply(scene.Default()); o.FromSeat != 7 || o.Seat != 7 || o.Speaker != speaker(t, d, "M+090") || !o.Only {
		t.Errorf("ear:2.3:M+090 asks for %+v", o)
	}
	fails := map[string]string{
		"":                 `view "": not a view; allowed: overview, plan`,
		"top":              "not a view; allowed: overview, plan",
		"plan:1":           "not a view; allowed: overview, plan",
		"seat":             `found seat "", allowed: ROW.SEAT, such as 2.3`,
		"seat:2":           `found seat "2", allowed: ROW.SEAT, such as 2.3`,
		"seat:9.1":         "found row 9, allowed: 1 to 3",
		"seat:2.9":         "found seat 9 of row 2, allowed: 1 to 5",
		"ear:2.3":          "found no loudspeaker, allowed: ear:ROW.SEAT:LOUDSPEAKER, such as ear:2.3:M+090",
		"ear:2.3:M+091":    `found no loudspeaker "M+091", allowed: M+030, `,
		"ear:2.3:LFE1":     "sight of LFE1 is not judged",
		"walk:1,2,3":       "found 3 numbers, allowed: X,Y,Z,HEADING",
		"walk:1,2,x,0":     `found "x", allowed: a number from -1000 to 1000`,
		"walk:1,2,NaN,0":   `found "NaN", allowed: a number`,
		"walk:1,2,3,1e999": "allowed: a number",
	}
	for name, want := range fails {
		_, err := scene.Named(d, r, name, 1.5)
		if err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: error %v, want one line with %q", name, err, want)
		}
	}
	if _, err := scene.Named(d, nil, "ear:2.3:M+090", 0); err == nil {
		t.Error("an ear without an audit")
	}
}

// A plan took 30 % of a wide picture: it is turned where that makes it larger, and
// the long section and it then lie over each other.
func TestAPlanIsTurnedWhereThatMakesItLarger(t *testing.T) {
	d := demo(t, "large")
	if upright, turned := scene.Plan(d, 0.7).Height, scene.Plan(d, 2).Height; turned > 0.75*upright*1.5 || scene.Plan(d, 2).Up == scene.Plan(d, 0.7).Up {
		t.Errorf("%v m high in an upright picture, %v m in a wide one", upright, turned)
	}
	if a, b := scene.Plan(d, 3).Up, scene.Plan(d, 1.5).Up; a != b {
		t.Error("turned only sometimes")
	}
}

// A cut leaves out what stands before it, for the eye and for the mouse.
func TestACutLeavesOutWhatStandsBeforeIt(t *testing.T) {
	d := demo(t, "large")
	row := d.Seating.Rows[2].Distance
	cam := scene.CrossSection(d, 1.5)
	cut := cam.CutAt(geometry.V(float64(row)-0.8, 0, 0))
	seat := place.Seats(d)[len(place.Seats(d))-1] // of the last row
	p := seat.Local(0, 0, 0.5)
	x, y, depth, _ := cam.Project(scene.World(p), wide, high)
	if depth < 0 || depth > 1 {
		t.Fatalf("without a cut at depth %v", depth)
	}
	if _, _, depth, _ = cut.Project(scene.World(p), wide, high); depth >= 0 {
		t.Errorf("before the cut, at depth %v", depth)
	}
	if hit, ok := scene.Pick(d, nil, cam, float64(x), float64(y), wide, high); !ok || hit.Row != 3 {
		t.Errorf("without a cut the mouse meets %+v", hit)
	}
	if hit, ok := scene.Pick(d, nil, cut, float64(x), float64(y), wide, high); ok && hit.Row == 3 {
		t.Errorf("the mouse meets what is cut away: %+v", hit)
	}
}

// Dimensions of the whole add up, and all that is dimensioned is in the picture.
func TestChainsOfDimensions(t *testing.T) {
	for name, d := range designs(t) {
		for _, a := range []scene.Axes{{X: true, Y: true}, {X: true, Z: true}, {Y: true, Z: true}} {
			sum, whole := map[geometry.Vec]float64{}, map[geometry.Vec]float64{}
			for _, dim := range scene.Chains(d, a) {
				along, ok := dim.To.Sub(dim.From).Unit()
				if !ok || dim.Text == "" {
					t.Fatalf("%s: %+v", name, dim)
				}
				along = geometry.V(math.Round(along.X), math.Round(along.Y), math.Round(along.Z))
				sum[along] += dim.To.Dist(dim.From)
				whole[along] = max(whole[along], dim.To.Dist(dim.From))
			}
			if len(sum) != 2 {
				t.Errorf("%s, %+v: dimensions along %d directions", name, a, len(sum))
			}
			for along, s := range sum { // the chain and the whole, or the whole alone
				if w := whole[along]; math.Abs(s-w) > 1e-9 && math.Abs(s-2*w) > 1e-9 {
					t.Errorf("%s, %+v along %v: %v in all, the whole is %v", name, a, along, s, w)
				}
			}
		}
	}
}
