// SPDX-License-Identifier: MIT

package figure_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"earline/geometry/geomtest"
	"earline/project"
	"earline/project/bass"
	"earline/project/decay"
	"earline/project/file"
	"earline/project/picture"
	"earline/project/sight"
	"earline/project/sound"
	"earline/scene/chart"
	"earline/scene/figure"
)

func demo(t testing.TB, name string) (*project.Design, *sight.Result) {
	t.Helper()
	d, ok := file.Demo(name)
	if !ok {
		t.Fatalf("no demo %s", name)
	}
	return d, sight.Audit(d)
}

// series returns the series of that name.
func series(t *testing.T, c chart.Chart, name string) chart.Series {
	t.Helper()
	i := slices.IndexFunc(c.Series, func(s chart.Series) bool { return s.Name == name })
	if i < 0 {
		t.Fatalf("%s: no series %q", c.Title, name)
	}
	return c.Series[i]
}

// The curves are the times, the band is the target of the volume: Tm = 0.25
// (V/100 m3)^(1/3) within 0.05 s (EBU Tech 3276, 2nd ed. 1998, 2.3).
func TestDecay(t *testing.T) {
	d, _ := demo(t, "large")
	r, _ := sound.Reverberate(d, sound.ReferenceRoom, false)
	c := figure.Decay(r, sound.ReferenceRoom)
	if y := series(t, c, "Eyring").Y; !slices.Equal(y, r.Eyring[:]) {
		t.Errorf("Eyring %v, want %v", y, r.Eyring)
	}
	if len(c.Bands) != 1 {
		t.Fatalf("%d bands", len(c.Bands))
	}
	want := 0.25 * math.Cbrt(r.Volume/100)
	geomtest.Within(t, "lower edge", c.Bands[0].Low[0], want-0.05, 1e-12)
	geomtest.Within(t, "upper edge", c.Bands[0].High[0], want+0.05, 1e-12)
	if x := c.Bands[0].X; x[0] != 250 || x[1] != 4000 {
		t.Errorf("wanted from %v to %v Hz", x[0], x[1])
	}
	for _, v := range append(r.Eyring[:], r.Sabine[:]...) {
		if v > c.Y.Max {
			t.Errorf("%v s is over the axis, %v s", v, c.Y.Max)
		}
	}
}

// Each bar goes from the quietest to the loudest seat, subwoofers have none, and
// the bars of a mirrored pair in a mirrored room are alike.
func TestSpread(t *testing.T) {
	d, audit := demo(t, "large")
	h := sound.Hear(d, audit)
	for _, octave := range []int{figure.Overall, 4} {
		c := figure.Spread(h, &audit.Room, octave)
		bars := series(t, c, "quietest to loudest seat")
		n := 0
		for k := range audit.Speakers {
			if audit.Speakers[k].Spec.Subwoofer() {
				continue
			}
			want := h.Speakers[k].SpreadOverall
			if octave != figure.Overall {
				want = h.Speakers[k].Spread[octave]
			}
			if c.X.Categories[n] != audit.Speakers[k].Name() {
				t.Fatalf("bar %d is of %s, want %s", n, c.X.Categories[n], audit.Speakers[k].Name())
			}
			geomtest.Within(t, c.X.Categories[n], bars.Y[n]-bars.Low[n], want, 1e-9)
			n++
		}
		if len(bars.X) != n || n == 0 {
			t.Errorf("%d bars for %d loudspeakers", len(bars.X), n)
		}
	}
	for _, octave := range []int{-5, 99} { // no octave: named as none
		if figure.OctaveName(octave) != "all it plays" {
			t.Error(figure.OctaveName(octave))
		}
	}
	if figure.OctaveName(0) != "63 Hz" || figure.OctaveName(4) != "1 kHz" {
		t.Error(figure.OctaveName(0), figure.OctaveName(4))
	}
}

// One line a seat, all within the area from quietest to loudest.
func TestSeats(t *testing.T) {
	d, audit := demo(t, "two-row")
	c := figure.Seats(sound.Hear(d, audit), &audit.Room, 0)
	area := series(t, c, "quietest to loudest")
	if len(c.Series) != len(audit.Seats)+1 {
		t.Fatalf("%d series for %d seats", len(c.Series), len(audit.Seats))
	}
	for _, s := range c.Series[:len(audit.Seats)] {
		for n, v := range s.Y {
			if v < area.Low[n] || v > area.Y[n] {
				t.Errorf("%s at %v Hz: %v, area %v to %v", s.Name, s.X[n], v, area.Low[n], area.Y[n])
			}
		}
	}
}

// Every reflection of the pair stands at its time and level, the too strong ones
// apart; the limit is 10 dB for 15 ms (EBU Tech 3276, 2nd ed. 1998, 2.2).
func TestArrivals(t *testing.T) {
	d, audit := demo(t, "large")
	r, err := sound.Reflect(context.Background(), d, &audit.Room, sound.ReflectOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for _, seat := range []int{sound.MainSeat, 3} {
		c := figure.Arrivals(r, &audit.Room, 0, seat)
		kept, strong := series(t, c, "reflections"), series(t, c, "too strong")
		n := 0
		for _, f := range r.All {
			if f.Speaker != 0 || f.Seat != seat {
				continue
			}
			n++
			s := kept
			if f.Breaks {
				s = strong
			}
			i := slices.Index(s.X, f.Delay/1000)
			if i < 0 || s.Y[i] != f.Strongest {
				t.Errorf("%v ms, %v dB is not there", f.Delay, f.Strongest)
			}
		}
		if n == 0 || len(kept.X)+len(strong.X) != n {
			t.Errorf("%d and %d stems for %d reflections", len(kept.X), len(strong.X), n)
		}
		if b := c.Bands[0]; b.X[1] != 0.015 || b.Low[0] != -10 {
			t.Errorf("limit %+v", b)
		}
	}
	if c := figure.Arrivals(r, &audit.Room, 99, 0); len(c.Series) != 0 {
		t.Error("arrivals of a loudspeaker that is not there")
	}
}

// A sheet has a value where the map is inside the room and nowhere else, its
// colours end on contour lines, and the number over a head is that under it.
func TestSheet(t *testing.T) {
	d, audit := demo(t, "large")
	g, err := sound.Map(context.Background(), d, sound.MapOptions{Octave: 6})
	if err != nil {
		t.Fatal(err)
	}
	h := figure.Sheet(&g, &audit.Room)
	for i, v := range h.Value {
		if math.IsNaN(v) == g.Inside[i] {
			t.Fatalf("point %d: %v, inside %v", i, v, g.Inside[i])
		}
	}
	for _, end := range []float64{h.Lo / h.Contour, h.Hi / h.Contour} {
		geomtest.Within(t, "end of the colours in contours", end, math.Round(end), 1e-9)
	}
	if len(h.Seats) != len(audit.Seats) {
		t.Errorf("%d numbers for %d seats", len(h.Seats), len(audit.Seats))
	}
	if h.Seats[7] != "0.0 dB" && h.Seats[7] != "+0.0 dB" && h.Seats[7] != "-0.1 dB" && h.Seats[7] != "+0.1 dB" {
		t.Errorf("the seat at the main position has %s", h.Seats[7]) // within half a step of the map
	}
	empty := figure.Sheet(&sound.Grid{}, nil)
	if empty.NX != 0 || len(empty.Value) != 0 {
		t.Error("a sheet of nothing")
	}
}

// The mean is that of the seats, the area holds them all, and a deep null does
// not squeeze the rest together.
func TestResponse(t *testing.T) {
	d, audit := demo(t, "small")
	p, err := bass.Of(d, bass.Shown())
	if err != nil {
		t.Fatal(err)
	}
	var s bass.Store
	st, err := s.New(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	r := st.Response
	c := figure.Response(r, figure.ResponseOptions{Seat: 1, Before: r, Crossover: 80, Seats: figure.SeatOf(&audit.Room)})
	area, mean := series(t, c, "softest to loudest"), series(t, c, "mean of the seats")
	series(t, c, "row 1 seat 2")
	for i := range r.Frequencies {
		sum := 0.0
		for seat := range r.Seats {
			l := r.Seat(seat)[i]
			sum += l
			if l < area.Low[i]-1e-9 || l > area.Y[i]+1e-9 {
				t.Fatalf("%v Hz: %v outside %v to %v", r.Frequencies[i], l, area.Low[i], area.Y[i])
			}
		}
		geomtest.Within(t, "mean", mean.Y[i], sum/float64(r.Seats), 1e-9)
	}
	if c.Y.Max-c.Y.Min > 45 || len(c.Marks) != 1 || len(c.Series) != r.Seats+4 {
		t.Errorf("axis %v to %v, %d marks, %d series", c.Y.Min, c.Y.Max, len(c.Marks), len(c.Series))
	}
	dev := series(t, figure.Deviation(r, nil), "now")
	geomtest.Within(t, "deviation", dev.Y[5]*dev.Y[5], r.Variance()[5], 1e-9)
	if c := figure.Response(&bass.Response{}, figure.ResponseOptions{Before: &bass.Response{}}); len(c.Series) != 0 {
		t.Error("curves of nothing")
	}
}

// The chart of filters holds what the answer holds, and its axis what they do.
func TestEqualisation(t *testing.T) {
	d, _ := demo(t, "small")
	p, err := bass.Of(d, bass.Shown())
	if err != nil {
		t.Fatal(err)
	}
	var s bass.Store
	st, err := s.New(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	e, err := st.Equalise(d, bass.EqualiseOptions{})
	if err != nil {
		t.Fatal(err)
	}
	c := figure.Equalisation(e)
	for name, want := range map[string][]float64{"mean without": e.Result.Before, "mean with the filters": e.Result.After, "target": e.Target} {
		if got := series(t, c, name); !slices.Equal(got.Y, want) {
			t.Errorf("%s is not the answer's", name)
		}
	}
	if top := slices.Max(e.Result.Before); c.Y.Max < top || c.Y.Min > slices.Min(e.Result.After)+20 {
		t.Errorf("from %g to %g dB for a highest of %g", c.Y.Min, c.Y.Max, top)
	}
}

// The range of absorption is shaded about the seat that is drawn heavily, and holds its
// level.
func TestHowFarAbsorptionIsOffIsShadedAtTheSeat(t *testing.T) {
	d, _ := demo(t, "small")
	d = d.Clone()
	d.Room.Features = nil
	for i := range d.Seating.Rows {
		d.Seating.Rows[i].Riser, d.Seating.Rows[i].Steps = 0, nil
	}
	p, err := bass.Of(d, bass.Shown())
	if err != nil {
		t.Fatal(err)
	}
	var store bass.Store
	st, err := store.New(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if st, err = store.Ranged(st); err != nil {
		t.Fatal(err)
	}
	c := figure.Response(st.Response, figure.ResponseOptions{Seat: 1, Halved: st.Halved, Doubled: st.Doubled})
	s := series(t, c, "seat 2, absorption halved to doubled")
	wide := 0.0
	for i, l := range st.Response.Seat(1) {
		if l < s.Low[i] || l > s.Y[i] {
			t.Fatalf("%g Hz: %.1f dB outside %.1f to %.1f dB", s.X[i], l, s.Low[i], s.Y[i])
		}
		wide = max(wide, s.Y[i]-s.Low[i])
	}
	if wide < 3 {
		t.Errorf("the range is %.1f dB at most", wide)
	}
}

func ringing(t *testing.T, d *project.Design) *decay.Result {
	t.Helper()
	var store bass.Store
	r, err := decay.Of(context.Background(), d, &store, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// The lines are the times, the band what is wanted, and nothing is over the axis but a
// lone mode.
func TestRinging(t *testing.T) {
	d, _ := demo(t, "small")
	d = d.Clone()
	d.Measured.Decay = []project.ThirdTime{{Hz: 63, Time: 0.4}, {Hz: 80, Time: 0.35}, {Hz: 1000, Time: 0.3}}
	r := ringing(t, d)
	c := figure.Ringing(r)
	if s := series(t, c, "measured"); !slices.Equal(s.X, []float64{63, 80, 1000}) || !slices.Equal(s.Y, []float64{0.4, 0.35, 0.3}) {
		t.Errorf("measured %v %v", s.X, s.Y)
	}
	if s := series(t, c, "Eyring, by octaves"); s.X[0] != 125 || !slices.Equal(s.Y, r.Reverb.Eyring[1:]) {
		t.Errorf("Eyring %v %v", s.X, s.Y)
	}
	if b := c.Bands[0]; b.X[0] != 63 || b.X[len(b.X)-1] != 4000 {
		t.Errorf("wanted from %v to %v Hz", b.X[0], b.X[len(b.X)-1])
	}
	for _, s := range c.Series {
		for i, y := range s.Y {
			if y > c.Y.Max || y <= 0 {
				t.Errorf("%s: %g s at %g Hz, the axis ends at %g s", s.Name, y, s.X[i], c.Y.Max)
			}
		}
	}
	series(t, c, "axial modes")
}

// Each shape has a bar for each way to fill the screen, and stands against the reference.
func TestLuminanceOfEachShapeStandsAgainstTheReference(t *testing.T) {
	d, _ := demo(t, "large")
	r := picture.Of(d)
	c := figure.Luminance(r)
	ref := picture.References()[0]
	if len(c.Bands) != 1 || c.Bands[0].Low[0] != ref.White-ref.Within || c.Bands[0].High[0] != ref.White+ref.Within {
		t.Errorf("%+v", c.Bands)
	}
	for k, fill := range picture.Fills() {
		s := series(t, c, string(fill))
		for i := range r.Shapes {
			geomtest.Within(t, string(fill), s.Y[i], r.Toward(&r.Main, r.Shapes[i].Fills[k].Aged), 1e-9)
		}
	}
	d = d.Clone()
	d.Projector = project.Projector{}
	r = picture.Of(d)
	c = figure.Luminance(r)
	geomtest.Within(t, "light needed", series(t, c, "zoom").Y[0], r.Shapes[0].Fills[0].Needed, 1e-9)
	if len(c.Bands) != 0 {
		t.Error("a luminance without a projector")
	}
}
