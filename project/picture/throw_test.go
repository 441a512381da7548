// SPDX-License-Identifier: MIT

package picture

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/assets"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
)

// lensRoom has a screen 3.5 m wide at 2.39:1, 0.55 m from its wall and 0.95 m up, height
// held, and the lens 5.90 m from the wall, 2.40 m high, on the middle.
func lensRoom(t testing.TB) *project.Design {
	d, err := file.Decode(assets.Start(), "start")
	if err != nil {
		t.Fatal(err)
	}
	d.Screen.Width, d.Screen.Aspect, d.Screen.Bottom, d.Screen.Distance = 3.5, 2.39, 0.95, 0.55
	d.ProjectorModels = []project.ProjectorModel{{ID: "p", Light: 1500, Calibrated: 1, Aged: 1, PixelsWide: 3840, PixelsHigh: 2160,
		ThrowMin: 1.3, ThrowMax: 2.8, ShiftUp: 0.6, ShiftRight: 0.25, ShiftShape: project.ShiftEllipse, Width: 0.5, Height: 0.2, Depth: 0.5}}
	d.Projector = project.Projector{Model: "p", At: project.Point{X: 5.9, Y: d.Screen.Centre, Z: 2.4}, Mount: project.PortMount, Fill: project.Zoom}
	d.Picture = project.Picture{Held: project.HeldHeight, Aspects: []project.Aspect{{Aspect: 2.39}, {Aspect: 16.0 / 9}}}
	return d
}

func about(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.6f, want %.6f", what, got, want)
	}
}

// Worked by hand: distance over width of the raster; lens over middle of the raster, of
// its height.
func TestThrowAndShiftOfALens(t *testing.T) {
	r := Of(lensRoom(t))
	scope, wide := r.Shapes[0].Fills[0], r.Shapes[1].Fills[0]
	about(t, "ratio of 2.39", scope.Throw.Ratio, 1.529, 0.0005)
	about(t, "raster of 16:9", wide.Raster.Width, 2.603, 0.0005)
	about(t, "ratio of 16:9", wide.Throw.Ratio, 2.055, 0.0005)
	about(t, "height of the raster", scope.Raster.Height, 1.969, 0.0005)
	about(t, "shift", scope.Throw.Up, -0.365, 0.0005)
	about(t, "zoom", r.Stands[0].Zoom, 1.3444, 0.00005)
	if !r.Stands[0].Memory || r.Stands[2].Memory {
		t.Error("zoom asks for lens memory and one raster does not")
	}
	// Behind an anamorphic lens the raster is narrower: the throw ratio grows by its stretch.
	about(t, "ratio with a lens of 4/3", r.Shapes[0].Fills[1].Throw.Ratio, 5.35/(3.5*3/4), 1e-9)
	// Throw = ratio x width: 1.5 x 3.0 m = 4.5 m.
	d := lensRoom(t)
	d.Screen.Width, d.Screen.Aspect, d.Screen.Distance, d.Picture = 3, 16.0/9, 0, project.Picture{}
	d.ProjectorModels[0].ThrowMin, d.ProjectorModels[0].ThrowMax = 1.5, 1.5
	stand := Of(d).Stands[0].FromWall
	about(t, "throw", stand.From, 4.5, 1e-12)
	about(t, "throw", stand.To, 4.5, 1e-12)
}

// Width ratio at a tilt of 8.4° and a throw of 3.4 heights: closed form.
func TestKeystoneIsNamed(t *testing.T) {
	about(t, "keystone", keystone(8.4, 3.4, 1), 1.04391, 1e-5)
	d := lensRoom(t)
	d.ProjectorModels[0].ShiftUp = 0.2
	r := Of(d)
	k, ok := r.Tilted(&r.Shapes[0].Fills[0])
	if !ok || !k.Lower || k.Ratio <= 1 {
		t.Errorf("%+v %v", k, ok)
	}
	short := r.Short()
	named := false
	for _, s := range short {
		named = named || strings.Contains(s, "keystone") && strings.Contains(s, "at the bottom as at the top")
	}
	if !named {
		t.Errorf("%q", short)
	}
	if r := Of(lensRoom(t)); len(r.Short()) > 0 {
		t.Errorf("a lens that can do it: %q", r.Short())
	}
}

// Within the range that is told the lens can do every shape, and just outside it cannot:
// for each shape of shift, wherever the lens stands.
func TestTheLensServesWhereItMayStand(t *testing.T) {
	base := lensRoom(t)
	rapid.Check(t, func(t *rapid.T) {
		d := base.Clone()
		m := &d.ProjectorModels[0]
		m.ShiftShape = rapid.SampledFrom([]project.ShiftShape{project.ShiftEllipse, project.ShiftDiamond, project.ShiftRectangle}).Draw(t, "shape")
		m.ShiftUp, m.ShiftRight = rapid.Float64Range(0.05, 1).Draw(t, "up"), rapid.Float64Range(0.05, 1).Draw(t, "right")
		m.ThrowMin = rapid.Float64Range(0.5, 2).Draw(t, "least")
		m.ThrowMax = m.ThrowMin * rapid.Float64Range(1, 3).Draw(t, "range")
		d.Projector.At.Y += unit.Length(rapid.Float64Range(-0.8, 0.8).Draw(t, "off"))
		d.Projector.At.Z = unit.Length(rapid.Float64Range(0.3, 3).Draw(t, "z"))
		d.Projector.Fill = rapid.SampledFrom([]project.Fill{project.Zoom, project.Anamorphic, project.Scaled}).Draw(t, "fill")
		r := Of(d)
		k := r.Chosen()
		fits := func(set func(at *project.Point)) (zoom, shift bool) {
			c := d.Clone()
			set(&c.Projector.At)
			o := Of(c)
			zoom, shift = true, true
			for i := range o.Shapes {
				f := o.Shapes[i].Fills[k].Throw
				zoom, shift = zoom && f.ZoomFits(&o.Model), shift && f.ShiftFits()
			}
			return zoom, shift
		}
		const off = 0.001 // m
		s := r.Stands[k]
		if w := s.FromWall; !w.None() {
			for x, want := range map[float64]bool{w.From: true, w.To: true, w.From - off: false, w.To + off: false} {
				if zoom, _ := fits(func(at *project.Point) { at.X = unit.Length(x) }); zoom != want {
					t.Errorf("at %g of %+v: %v", x, w, zoom)
				}
			}
		}
		if h := s.Height; !h.None() && h.To-h.From > off {
			for z, want := range map[float64]bool{(h.From + h.To) / 2: true, h.From - off: false, h.To + off: false} {
				if _, shift := fits(func(at *project.Point) { at.Z = unit.Length(z) }); shift != want {
					t.Errorf("at %g of %+v: %v", z, h, shift)
				}
			}
		}
		if h := s.FromLeft; !h.None() && h.To-h.From > off {
			for y, want := range map[float64]bool{(h.From + h.To) / 2: true, h.From - off: false, h.To + off: false} {
				if _, shift := fits(func(at *project.Point) { at.Y = unit.Length(y) }); shift != want {
					t.Errorf("at %g of %+v: %v", y, h, shift)
				}
			}
		}
	})
}

func TestALensBeyondTheWallFallsShortUnlessBehindAPort(t *testing.T) {
	d := lensRoom(t)
	_, hi := d.Room.Polygon().Bounds()
	d.Projector.Mount = project.CeilingMount
	d.Projector.At.X = unit.Length(hi.X + 0.2)
	said := func() bool { return strings.Contains(strings.Join(Of(d).Short(), "\n"), "outside the room") }
	if !said() {
		t.Error("beyond the back wall and nothing is said")
	}
	d.Projector.Mount = project.PortMount
	if said() {
		t.Error("behind a port and it is reproved")
	}
}

// The middle of the raster, shifted to any corner of the range, takes all of the shift
// there is.
func TestTheShiftRangeIsWhatTheLensCanDo(t *testing.T) {
	for _, shape := range []project.ShiftShape{project.ShiftEllipse, project.ShiftDiamond, project.ShiftRectangle} {
		d := lensRoom(t)
		d.ProjectorModels[0].ShiftShape = shape
		r := Of(d)
		corners := r.ShiftRange(0)
		if len(corners) < 4 {
			t.Fatalf("%s: %v", shape, corners)
		}
		raster := r.Shapes[0].Fills[0].Raster
		lens := d.Projector.At.Vec()
		for _, c := range corners {
			about(t, string(shape), shiftUse(&r.Model, (c.Z-lens.Z)/raster.Height, (c.Y-lens.Y)/raster.Width), 1, 1e-9)
		}
	}
}
