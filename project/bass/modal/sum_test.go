// SPDX-License-Identifier: MIT

package modal_test

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
	"earline/project"
	"earline/project/bass/field"
	"earline/project/bass/modal"
)

func db(p complex128) float64 { return 20 * math.Log10(cmplx.Abs(p)) }

// transfer is what one source makes at one listener.
func transfer(t testing.TB, room modal.Room, d modal.Damping, source, ear geometry.Vec, frequencies []float64) []complex128 {
	t.Helper()
	s, err := modal.New(room, d, []geometry.Vec{ear}, frequencies)
	if err != nil {
		t.Fatal(err)
	}
	out, err := s.Transfer([]geometry.Vec{source})
	if err != nil {
		t.Fatal(err)
	}
	return out.Row(0, 0)
}

// The values are sums over image sources to 330 m with weights exp(-d t), an
// independent way to the same pressure. Printed to 0.001 dB; a sum simply cut at
// 1.5 to 3 kHz meets them within 0.04 dB, the completed one to the last digit.
func TestLevelsAgainstImageSums(t *testing.T) {
	room := modal.Room{Length: 6, Width: 4, Height: 2.6}
	f := []float64{28.6, 35, 42.9, 57.2, 66, 80}
	for _, tc := range []struct {
		ear  geometry.Vec
		want []float64
	}{
		{geometry.V(4, 2, 1.1), []float64{11.538, -2.132, -17.002, 5.082, -3.493, -3.181}},
		{geometry.V(3, 2, 1.1), []float64{1.008, -0.267, 0.221, 11.045, -2.112, -1.859}},
	} {
		got := transfer(t, room, modal.Uniform(0.4), geometry.V(0.3, 0.3, 0.3), tc.ear, f)
		for i := range f {
			geomtest.Within(t, fmt.Sprintf("%v, %v Hz, dB", tc.ear, f[i]), db(got[i]), tc.want[i], 0.05)
		}
	}
}

// images is the same pressure as a sum over image sources out to reach metres,
// each weighted by exp(-rate t): Allen and Berkley, JASA 65 (1979) 943, rigid
// walls.
func images(room modal.Room, rate float64, s, e geometry.Vec, f, reach float64) complex128 {
	const c = 343.2
	var sum complex128
	axis := func(s, e, l float64) []float64 {
		var d []float64
		for n := -int(reach/(2*l)) - 1; n <= int(reach/(2*l))+1; n++ {
			d = append(d, 2*float64(n)*l+s-e, 2*float64(n)*l-s-e)
		}
		return d
	}
	xs, ys, zs := axis(s.X, e.X, room.Length), axis(s.Y, e.Y, room.Width), axis(s.Z, e.Z, room.Height)
	for _, x := range xs {
		for _, y := range ys {
			for _, z := range zs {
				r := math.Sqrt(x*x + y*y + z*z)
				if r <= reach {
					sum += cmplx.Rect(math.Exp(-rate*r/c)/r, -2*math.Pi*f*r/c)
				}
			}
		}
	}
	return sum
}

// The complex sum over images, phase and all, at random places.
func TestPressureAgainstImageSums(t *testing.T) {
	r := geomtest.Rand(t)
	room := modal.Room{Length: 5.3, Width: 4.1, Height: 2.5}
	const t60 = 0.25
	rate := 3 * math.Ln10 / t60
	f := []float64{20, 31, 55, 79, 120}
	for range 4 {
		s := geometry.V(geomtest.Between(r, 0.2, 1), geomtest.Between(r, 0.2, 3.9), 0.3)
		e := geometry.V(geomtest.Between(r, 2, 5), geomtest.Between(r, 0.5, 3.5), 1.1)
		got := transfer(t, room, modal.Uniform(t60), s, e, f)
		for i := range f {
			want := images(room, rate, s, e, f[i], 170)
			if d := cmplx.Abs(got[i] - want); !(d < 2e-4) {
				t.Errorf("source %v, ear %v, %v Hz: got %.4f, want %.4f", s, e, f[i], got[i], want)
			}
		}
	}
}

// Absolute levels and phases of a monopole of 1e-3 m3/s. Vigran, Building
// Acoustics (2008), Eq. 4.15 to 4.18, with losses as below; values computed with
// indices up to 120 from the form with d^2 in the denominator, which is ours.
func TestAbsoluteLevels(t *testing.T) {
	room := modal.Room{Length: 6, Width: 4.5, Height: 2.7}
	const rho, q = 1.204, 1e-3
	absolute := func(p complex128, f float64) complex128 { // Pa, rms
		return p * complex(0, 2*math.Pi*f*rho*q/(4*math.Pi))
	}
	f := []float64{20, 28.6, 40, 60, 80}
	level := []float64{63.410, 71.223, 57.828, 65.934, 77.715}
	phase := []float64{-89.38, -170.17, -52.31, 109.78, 72.47}
	got := transfer(t, room, modal.Uniform(0.5), geometry.V(0.5, 0.4, 0.3), geometry.V(4.1, 2.0, 1.1), f)
	for i := range f {
		p := absolute(got[i], f[i])
		geomtest.Within(t, fmt.Sprint("dB at ", f[i]), db(p/20e-6), level[i], 0.02)
		geomtest.Within(t, fmt.Sprint("degrees at ", f[i]), cmplx.Phase(p)*180/math.Pi, phase[i], 0.1)
	}

	// Two equal sources at opposite wall midpoints cancel the odd modes of the
	// length: a drop of some 24 dB. Published check values, form without d^2,
	// indices to 120: 75.855 and 75.588 dB alone, 51.187 dB together. The form with
	// d^2, term by term with the same indices: 75.853, 75.600, 51.356 dB.
	g := []float64{28.6}
	a, b, ear := geometry.V(0, 2.25, 0), geometry.V(6, 2.25, 0), geometry.V(1, 2.25, 1.1)
	front := transfer(t, room, modal.Uniform(0.5), a, ear, g)[0]
	back := transfer(t, room, modal.Uniform(0.5), b, ear, g)[0]
	geomtest.Within(t, "front, dB", db(absolute(front, 28.6)/20e-6), 75.853, 0.02)
	geomtest.Within(t, "back, dB", db(absolute(back, 28.6)/20e-6), 75.600, 0.02)
	geomtest.Within(t, "both, dB", db(absolute(front+back, 28.6)/20e-6), 51.356, 0.02)
	slow := images(room, 3*math.Ln10/0.5, a, ear, 28.6, 400) + images(room, 3*math.Ln10/0.5, b, ear, 28.6, 400)
	geomtest.Within(t, "both, against image sources", cmplx.Abs(front+back-slow), 0, 3e-4)

	// The spring of the air: p = rho c^2 Q/(w V), 69.816 dB at 5 Hz; with all modes
	// of the undamped room 70.103 dB.
	none := func(float64) modal.Loss { return modal.Loss{} }
	five := []float64{5}
	spring := 20 * math.Log10(rho*343.2*343.2*q/(2*math.Pi*5*room.Volume())/20e-6)
	geomtest.Within(t, "spring alone, dB", spring, 69.816, 0.001)
	all := transfer(t, room, none, geometry.V(0.5, 0.4, 0.3), geometry.V(4.1, 2, 1.1), five)[0]
	geomtest.Within(t, "all modes, dB", db(absolute(all, 5)/20e-6), 70.103, 0.02)
}

// Swapping source and listener changes nothing; mirroring room and both neither.
func TestReciprocityAndMirror(t *testing.T) {
	r := geomtest.Rand(t)
	room := modal.Room{Length: 6.2, Width: 4.7, Height: 2.6}
	f := []float64{22, 41, 63, 97, 150}
	for range 20 {
		a := geometry.V(room.Length*r.Float64(), room.Width*r.Float64(), room.Height*r.Float64())
		b := geometry.V(room.Length*r.Float64(), room.Width*r.Float64(), room.Height*r.Float64())
		g := func() float64 { return r.Float64() * r.Float64() * 0.6 }
		s := modal.Surfaces{Front: g(), Back: g(), Left: g(), Right: g(), Floor: g(), Ceiling: g()}
		other := s
		other.Left, other.Right = s.Right, s.Left
		mirror := func(p geometry.Vec) geometry.Vec { return geometry.V(p.X, room.Width-p.Y, p.Z) }
		ab := transfer(t, room, s.Damping(), a, b, f)
		ba := transfer(t, room, s.Damping(), b, a, f)
		mm := transfer(t, room, other.Damping(), mirror(a), mirror(b), f)
		for i := range f {
			if cmplx.Abs(ab[i]-ba[i]) > 1e-9 || cmplx.Abs(ab[i]-mm[i]) > 1e-9 {
				t.Errorf("%v to %v at %v Hz: %v, back %v, mirrored %v", a, b, f[i], ab[i], ba[i], mm[i])
			}
		}
	}
}

// Many frequencies together are what each is alone, whatever surfaces and decay do
// from third to third.
func TestFrequenciesTogetherAndAlone(t *testing.T) {
	room := modal.Room{Length: 7.3, Width: 4.7, Height: 2.6}
	steps := []float64{0.03, 0.06, 0.05, 0.12, 0.2, 0.11, 0.09, 0.25, 0.3, 0.12, 0.1, 0.1}
	third := func(f float64) float64 {
		at := max(0, 3*math.Log2(f/16))
		i := min(int(at), len(steps)-2)
		return steps[i] + (at-float64(i))*(steps[i+1]-steps[i])
	}
	rough := func(f float64) modal.Loss {
		g := third(f)
		return modal.Loss{Surfaces: modal.Surfaces{Front: g, Back: g / 2, Left: g, Right: g / 3, Floor: g, Ceiling: g / 5}, Rate: 3 * g}
	}
	for _, tc := range []struct {
		name    string
		damping modal.Damping
		f       []float64
	}{
		{"even", rough, frequencies(200)}, {"log", rough, octaves(16, 160, 320)}, {"few", rough, []float64{20, 33, 34, 80}},
		{"alike, even", rough(40).Damping(), frequencies(200)}, {"alike, log", rough(80).Damping(), octaves(16, 160, 320)},
	} {
		name, damping, f := tc.name, tc.damping, tc.f
		together, err := modal.New(room, damping, seats(6), f)
		if err != nil {
			t.Fatal(err)
		}
		source := []geometry.Vec{{X: 0.3, Y: 0.4, Z: 0.2}}
		got, err := together.Transfer(source)
		if err != nil {
			t.Fatal(err)
		}
		worst := 0.0
		for i := 0; i < len(f); i += 7 {
			alone, err := modal.New(room, damping, seats(6), f[i:i+1])
			if err != nil {
				t.Fatal(err)
			}
			want, err := alone.Transfer(source)
			if err != nil {
				t.Fatal(err)
			}
			for j := range 6 {
				worst = max(worst, cmplx.Abs(got.At(0, j, i)-want.At(0, j, 0)))
			}
		}
		t.Logf("%s: within %.1e", name, worst)
		if !(worst < 1e-3) {
			t.Errorf("%s: differs by %.2g of the free field at 1 m", name, worst)
		}
	}
}

func octaves(lo, hi float64, n int) []float64 {
	f := make([]float64, n)
	for i := range f {
		f[i] = lo * math.Pow(hi/lo, float64(i)/float64(n-1))
	}
	return f
}

// A source at the ear, in a corner or on a wall is answered, and the louder the
// nearer.
func TestSourceAtTheEar(t *testing.T) {
	room := modal.Room{Length: 6.3, Width: 4.4, Height: 2.7}
	last := math.Inf(-1)
	for _, d := range []float64{0.6, 0.45, 0.3, 0.2} {
		got := db(transfer(t, room, modal.Uniform(0.3), geometry.V(3+d, 2, 1.2), geometry.V(3, 2, 1.2), []float64{90})[0])
		if !(got > last) {
			t.Errorf("%v m away: %.2f dB, farther away %.2f dB", d, got, last)
		}
		last = got
	}
	for _, p := range []geometry.Vec{{X: 3, Y: 2, Z: 1}, {}, {X: room.Length, Y: room.Width, Z: room.Height}, {X: room.Length, Y: 1, Z: 0}} {
		for _, v := range transfer(t, room, modal.Uniform(0.3), p, p, []float64{20, 90}) {
			if cmplx.IsNaN(v) || cmplx.IsInf(v) || cmplx.Abs(v) < 1/0.4 {
				t.Errorf("at %v: %v", p, v)
			}
		}
	}
}

// What pairs of equal sources drive: an axial mode of order n hears
// cos(n pi x1/L) + cos(n pi x2/L). At both end walls the odd ones are not driven;
// at L/4 and 3L/4 none below the fourth. And the listener in a null hears
// nothing of the mode: n = 1 at L/2; 2 at L/4 and 3L/4; 3 at L/6, L/2, 5L/6.
func TestPairsAndNulls(t *testing.T) {
	room := modal.Room{Length: 6, Width: 4.3, Height: 2.6}
	// Hardly damped, at its own frequency, a mode drowns the others.
	heard := func(n int, x, ear float64) complex128 {
		f := []float64{343.2 / 2 * float64(n) / 6}
		return transfer(t, room, modal.Uniform(3*math.Ln10/1e-6), geometry.V(x, 1.7, 0.4), geometry.V(ear, 2.2, 1.1), f)[0]
	}
	for n := 1; n <= 4; n++ {
		alone := cmplx.Abs(heard(n, 0, 0))
		for _, tc := range []struct{ a, b, want float64 }{
			{0, 6, 1 + math.Cos(float64(n)*math.Pi)},
			{1.5, 4.5, math.Abs(math.Cos(float64(n)*math.Pi/4) + math.Cos(3*float64(n)*math.Pi/4))},
		} {
			got := cmplx.Abs(heard(n, tc.a, 0)+heard(n, tc.b, 0)) / alone
			// The other modes give the rest.
			geomtest.Within(t, fmt.Sprintf("pair at %v and %v m, n = %d", tc.a, tc.b, n), got, tc.want, 1e-5)
		}
	}
	for n, nulls := range map[int][]float64{1: {3}, 2: {1.5, 4.5}, 3: {1, 3, 5}} {
		for _, x := range nulls {
			geomtest.Within(t, fmt.Sprintf("null of n = %d at %v m", n, x), cmplx.Abs(heard(n, 0, x))/cmplx.Abs(heard(n, 0, 0)), 0, 1e-5)
		}
	}
}

// A moved source is as if it had always stood there.
func TestMove(t *testing.T) {
	room := modal.Room{Length: 7, Width: 5, Height: 3}
	s, err := modal.New(room, modal.Uniform(0.4), seats(6), frequencies(30))
	if err != nil {
		t.Fatal(err)
	}
	a, b, c := geometry.V(0.3, 0.3, 0.3), geometry.V(0.3, 4.7, 0.3), geometry.V(6.7, 2, 0.3)
	got, err := s.Transfer([]geometry.Vec{a, b})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Move(got, 1, c); err != nil {
		t.Fatal(err)
	}
	want, _ := s.Transfer([]geometry.Vec{a, c})
	for i := range want.P {
		if got.P[i] != want.P[i] {
			t.Fatalf("value %d: got %v, want %v", i, got.P[i], want.P[i])
		}
	}
	if err := s.Move(got, 1, geometry.V(7.5, 1, 1)); len(project.Faults(err)) != 1 {
		t.Errorf("a source behind the wall: got %v, want one fault", err)
	}
}

// Surfaces take from each mode what the pressure of the mode at them says: a
// numerical integral over the surfaces.
func TestSurfaceDamping(t *testing.T) {
	room := modal.Room{Length: 6, Width: 4, Height: 2.5}
	g := modal.Surfaces{Front: 0.01, Back: 0.02, Left: 0.03, Right: 0.005, Floor: 0.04, Ceiling: 0.002}
	d := g.Damping()
	for _, m := range []modal.Mode{{}, {P: 1}, {Q: 2}, {P: 1, R: 1}, {P: 2, Q: 1, R: 3}} {
		const n = 60
		psi := func(x, y, z float64) float64 {
			v := math.Cos(float64(m.P)*math.Pi*x) * math.Cos(float64(m.Q)*math.Pi*y) * math.Cos(float64(m.R)*math.Pi*z)
			return v * v
		}
		var volume, surface float64
		for i := range n {
			for j := range n {
				u, v := (float64(i)+0.5)/n, (float64(j)+0.5)/n
				da := 1.0 / n / n
				surface += da * (4*2.5*(g.Front*psi(0, u, v)+g.Back*psi(1, u, v)) +
					6*2.5*(g.Left*psi(u, 0, v)+g.Right*psi(u, 1, v)) + 6*4*(g.Floor*psi(u, v, 0)+g.Ceiling*psi(u, v, 1)))
				for k := range n {
					volume += da / n * 60 * psi(u, v, (float64(k)+0.5)/n)
				}
			}
		}
		geomtest.Within(t, fmt.Sprint("decay of ", m), d.Rate(room, m), 343.2/2*surface/volume, 1e-9)
	}
}

func TestBadInput(t *testing.T) {
	good := modal.Room{Length: 6, Width: 4, Height: 2.6}
	f := []float64{30, 40}
	for _, tc := range []struct {
		name string
		do   func() error
		want string
	}{
		{"flat room", func() error {
			_, err := modal.New(modal.Room{Length: 6, Width: 4}, modal.Uniform(0.4), nil, f)
			return err
		}, "room height: 0"},
		{"seat outside", func() error {
			_, err := modal.New(good, modal.Uniform(0.4), []geometry.Vec{{X: 7, Y: 1, Z: 1}}, f)
			return err
		}, "listener 1"},
		{"falling frequencies", func() error {
			_, err := modal.New(good, modal.Uniform(0.4), nil, []float64{40, 30})
			return err
		}, "frequency 2"},
		{"not a number", func() error {
			_, err := modal.New(good, modal.Uniform(math.NaN()), nil, f)
			return err
		}, "rate of decay"},
		{"huge room", func() error {
			_, err := modal.New(modal.Room{Length: 6000, Width: 4000, Height: 2600}, modal.Uniform(1), nil, f)
			return err
		}, "room: 6e+03 x 4e+03 x 2.6e+03 m"},
		{"undamped peak", func() error {
			_, err := modal.New(good, func(float64) modal.Loss { return modal.Loss{} }, nil, []float64{good.Modes(30)[0].Frequency})
			return err
		}, "decay of mode (1, 0, 0)"},
	} {
		err := tc.do()
		var f *project.Fault
		if !errors.As(err, &f) || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%s: got %v, want a fault with %q", tc.name, err, tc.want)
		}
	}
}

func seats(n int) []geometry.Vec {
	var all []geometry.Vec
	for i := range n {
		all = append(all, geometry.V(2.5+0.95*float64(i/6)+0.01*float64(i%6), 0.9+0.62*float64(i%6), 1.1+0.2*float64(i/6)))
	}
	return all
}

func frequencies(n int) []float64 {
	f := make([]float64, n)
	for i := range f {
		f[i] = 20 + 180*float64(i)/float64(n)
	}
	return f
}

// The room of 110 m3 with 4 subwoofers, 24 seats and 200 frequencies from 20 to
// 200 Hz.
func BenchmarkModal(b *testing.B) {
	room := modal.Room{Length: 8, Width: 5, Height: 2.75}
	subs := []geometry.Vec{{X: 0.3, Y: 0.3, Z: 0.3}, {X: 0.3, Y: 4.7, Z: 0.3}, {X: 7.7, Y: 0.3, Z: 0.3}, {X: 7.7, Y: 4.7, Z: 0.3}}
	for name, d := range map[string]modal.Damping{
		"uniform":  modal.Uniform(0.4),
		"surfaces": modal.Surfaces{Front: 0.05, Back: 0.1, Left: 0.03, Right: 0.03, Floor: 0.1, Ceiling: 0.02}.Damping(),
	} {
		prepare := func() (*modal.Sum, *field.Transfer) {
			s, err := modal.New(room, d, seats(24), frequencies(200))
			if err != nil {
				b.Fatal(err)
			}
			t, err := s.Transfer(subs)
			if err != nil {
				b.Fatal(err)
			}
			return s, t
		}
		s, t := prepare()
		name += ",subs=4,seats=24,frequencies=200"
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := s.Transfer(subs); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(name+"/one_sub_moved", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := s.Move(t, 2, subs[0]); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(name+"/with_tables", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				prepare()
			}
		})
	}
}
