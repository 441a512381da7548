// SPDX-License-Identifier: MIT

package viewing_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/picture"
	"earline/project/projecttest"
	"earline/project/sight"
	"earline/project/viewing"
)

func demo(t testing.TB, name string) *project.Design {
	t.Helper()
	d, ok := file.Demo(name)
	if !ok {
		t.Fatalf("no demo %s", name)
	}
	return d
}

// Distances as published tables have them, in widths or heights of the picture; the
// closed forms are W/2D = tan(angle/2) and 1/(lines tan 1'). The design viewing distances
// of Rec. ITU-R BT.2022, 3.2, 1.6 and 0.8 heights, are roundings of the last three (that
// from memory).
func TestDistancesOfPublishedAngles(t *testing.T) {
	const wide = 16.0 / 9
	for _, c := range []struct{ angle, widths float64 }{
		{26, 2.16574}, {30, 1.86603}, {36, 1.53884}, {40, 1.37374}, {43, 1.26932}, {45, 1.20711}, {50, 1.07225}, {55, 0.96049}, {60, 0.86603},
	} {
		if got := viewing.DistanceFor(1, c.angle); math.Abs(got-c.widths) > 1e-5 {
			t.Errorf("%g°: %.5f widths away, want %.5f", c.angle, got, c.widths)
		}
		// And back: the angle that is seen from there, of a picture of 2.39:1 too.
		if got := geometry.Across(viewing.DistanceFor(2.39, c.angle), 0, 2.39/2) / unit.Degree; math.Abs(got-c.angle) > 1e-9 {
			t.Errorf("%g° come back as %g°", c.angle, got)
		}
	}
	for _, c := range []struct{ lines, heights float64 }{{1080, 3.1831}, {2160, 1.5915}, {4320, 0.7958}} {
		if got := viewing.PixelDistance(c.lines); math.Abs(got-c.heights) > 1e-4 {
			t.Errorf("%g lines: %.4f heights away, want %.4f", c.lines, got, c.heights)
		}
	}
	// The published angles at the design viewing distances of 16:9.
	for _, c := range []struct{ heights, angle float64 }{{3.2, 31.048}, {1.6, 58.109}, {0.8, 96.026}, {2.0, 47.925}, {4.0, 25.0576}} {
		if got := geometry.Across(c.heights, 0, wide/2) / unit.Degree; math.Abs(got-c.angle) > 0.001 {
			t.Errorf("16:9 from %g heights: %.3f°, want %.3f°", c.heights, got, c.angle)
		}
	}
}

// oneSeat returns the small demo with one seat whose eye is so far before the screen and
// so far to the right of its middle.
func oneSeat(t *testing.T, ahead, off float64) *project.Design {
	t.Helper()
	d := demo(t, "small")
	d.Seating.Rows[0].Seats = 1
	d.Seating.Rows = d.Seating.Rows[:1]
	eye := sight.NewViewer(d).View(0).Eye
	d.Screen.Distance, d.Screen.Centre = unit.Length(eye.X-ahead), unit.Length(eye.Y-off)
	d.Picture = project.Picture{}
	return d
}

// A picture 3.0 m wide seen by an eye 3.5 m from its plane and 1.2 m off its middle: 42.547°
// across, the middle 18.925° off the normal; by atan((W/2-x)/d) + atan((W/2+x)/d), and not
// the 46.4° of 2 atan(W/2d). To a top edge 1.20 m over the eye from 2.5 m: 25.641°, by
// atan(h/d). Both worked by hand from these forms.
func TestAnOffCentreSeatSeesTheTrueAngle(t *testing.T) {
	d := oneSeat(t, 3.5, 1.2)
	d.Screen.Width, d.Screen.Aspect = 3, 2
	s := viewing.Of(d).Seats[0].Shapes[0]
	if math.Abs(s.Across-42.547) > 0.001 || math.Abs(s.Aside-18.925) > 0.001 {
		t.Errorf("%.3f° across and %.3f° off the normal, want 42.547° and 18.925°", s.Across, s.Aside)
	}
	d = oneSeat(t, 2.5, 0)
	d.Screen.Width, d.Screen.Aspect = 2, 2
	eye := sight.NewViewer(d).View(0).Eye.Z
	d.Screen.Bottom = unit.Length(eye + 1.2 - 1)
	s = viewing.Of(d).Seats[0].Shapes[0]
	if math.Abs(s.Top-25.641) > 0.001 || math.Abs(s.Heights-2.5) > 1e-6 {
		t.Errorf("%.3f° up to the top, %.3f heights away, want 25.641° and 2.5", s.Top, s.Heights)
	}
}

// The shape that is the screen's own is seen as the audit says.
func TestTheScreensOwnShapeIsSeenAsTheAuditSays(t *testing.T) {
	for n := range 40 {
		d := projecttest.Room(uint64(n))
		d.Picture = project.Picture{}
		r, a := viewing.Of(d), sight.Audit(d)
		for i := range a.Views {
			v, s := a.Views[i], r.Seats[i].Shapes[0]
			hidden := 0.0
			if v.Verdict == sight.Blocked {
				hidden = 1 - v.Visible
			}
			if math.Abs(s.Hidden-hidden) > 1e-12 {
				t.Errorf("room %d seat %d: %g hidden, the audit says %g", n, i, s.Hidden, hidden)
			}
		}
	}
}

// A shape that holds another is seen wider and higher, and never under a smaller angle.
func TestALargerShapeIsSeenWider(t *testing.T) {
	for n := range 40 {
		d := projecttest.Room(uint64(n))
		d.Picture = project.Picture{Aspects: []project.Aspect{{Aspect: 1.5}, {Aspect: 2}}, Held: project.HeldHeight}
		for _, s := range viewing.Of(d).Seats {
			small, large := s.Shapes[0], s.Shapes[1]
			if !small.Before {
				continue
			}
			if small.Across >= large.Across || math.Abs(small.Top-large.Top) > 1e-9 || math.Abs(small.Heights-large.Heights) > 1e-9 || math.Abs(small.Aside-large.Aside) > 1e-9 {
				t.Errorf("room %d row %d seat %d: %+v within %+v", n, s.Row, s.Number, small, large)
			}
		}
	}
}

// What is said of the picture does not depend on the seats having looked at its shapes.
func TestThePictureIsTheSameWithAndWithoutItsViewers(t *testing.T) {
	same := func(name string, d *project.Design) {
		seen, alone := viewing.Of(d).Picture, picture.Of(d)
		got, _ := json.Marshal([...]any{seen.Report(), seen.WalkingWords(), seen.MaskingWords()})
		want, _ := json.Marshal([...]any{alone.Report(), alone.WalkingWords(), alone.MaskingWords()})
		if string(got) != string(want) {
			t.Errorf("%s: %s\nalone %s", name, got, want)
		}
	}
	for _, name := range []string{"small", "two-row", "large"} {
		same(name, demo(t, name))
	}
	for n := range 20 {
		d := projecttest.Room(uint64(n))
		d.Picture = project.Picture{Aspects: []project.Aspect{{Aspect: 1.5}, {Aspect: 2}}, Held: project.HeldHeight}
		same(fmt.Sprint("room ", n), d)
	}
}

// The second row of the two-row demo sees past heads: the hidden share is told with whose
// head, and the row in front is named the better one.
func TestTheRowBehindHeadsIsToldAndNotTheBest(t *testing.T) {
	r := viewing.Of(demo(t, "two-row"))
	short := strings.Join(r.Short(), "\n")
	if !strings.Contains(short, "in row 2") || !strings.Contains(short, "head") {
		t.Errorf("falls short: %s", short)
	}
	if r.Best != 0 || !strings.Contains(r.Because, "row 2") {
		t.Errorf("best is %d: %s", r.Best, r.Because)
	}
}

func TestWhatIsBeyondNamesRowSeatShapeAndSource(t *testing.T) {
	d := demo(t, "large")
	d.Seating.Rows = d.Seating.Rows[:1]
	d.Seating.Rows[0].Distance = d.Screen.Distance + 1.2
	d.Seating.Main = project.MainPosition{Row: 1}
	text := fmt.Sprint(viewing.Of(d).Report().Beyond)
	for _, want := range []string{"Row 1 seat", "looks up by", "35° or less is asked (SMPTE EG 18"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
}

func TestDistancesAreThoseOfTheRules(t *testing.T) {
	r := viewing.Of(demo(t, "large"))
	for _, a := range r.Distances() {
		if a.Source == "" || len(a.Spans) != len(r.Picture.Shapes) {
			t.Errorf("%+v", a)
		}
		if a.What == "30° wide or more" {
			for k, s := range a.Spans {
				if w := r.Picture.Shapes[k].Picture.Width; math.Abs(s.To-1.86603*w) > 1e-5*w {
					t.Errorf("%s: up to %g m", r.Picture.Shapes[k].Called, s.To)
				}
			}
		}
	}
}

func BenchmarkLargeDemo(b *testing.B) {
	d := demo(b, "large")
	b.ReportAllocs()
	for b.Loop() {
		viewing.Of(d)
	}
}

func BenchmarkPictureOfLargeDemo(b *testing.B) {
	d := demo(b, "large")
	b.ReportAllocs()
	for b.Loop() {
		picture.Of(d)
	}
}
