// SPDX-License-Identifier: MIT

package sound

import (
	"context"
	"fmt"
	"math"
	"testing"

	"earline/assets"
	"earline/geometry/geomtest"
	"earline/project"
	"earline/project/file"
	"earline/project/place"
)

// demo returns a demo design.
func demo(t testing.TB, name string) *project.Design {
	t.Helper()
	a, ok := assets.DemoNamed(name)
	if !ok {
		t.Fatalf("no demo %s", name)
	}
	d, err := file.Decode(a.Data, name)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// At the main listening position the map is at 0 dB, and it falls with distance
// as the direct sound does.
func TestMapAgreesWithTheDirectSound(t *testing.T) {
	d := hall(1, 1, 4)
	d.Room.Features = nil
	for k := range d.Speakers {
		for octave := range project.OctaveCount {
			g, err := Map(t.Context(), d, MapOptions{Speaker: k, Octave: octave, Step: 0.5})
			if err != nil {
				t.Fatal(err)
			}
			m := newMapper(d)
			m.aim(k, octave)
			geomtest.Within(t, "at the main position", m.level(place.MainPoint(d)), 0, 1e-9)
			sp := place.OneSpeaker(d, d.Speakers[k], place.MainPoint(d))
			r := NewRadiator(&sp)
			for i, v := range g.Values {
				if !g.Inside[i] {
					t.Fatalf("point %d of a rectangle is outside", i)
				}
				p := g.point(i)
				a := airOf(d.Room.Air)
				level := func(dist, away float64) float64 { return Spreading(dist) - dist*a.loss[octave] + away }
				want := level(r.at.Dist(p), r.Levels(p)[octave]) - level(r.at.Dist(place.MainPoint(d)), r.Levels(place.MainPoint(d))[octave])
				geomtest.Within(t, fmt.Sprintf("loudspeaker %d octave %d at %v", k, octave, p), v, want, 1e-9)
			}
			if g.Lo > g.Hi || g.Hi < 0 {
				t.Errorf("from %g to %g", g.Lo, g.Hi)
			}
		}
	}
}

// The plane of the ears follows the platforms; outside a concave footprint the
// map is masked, and holds no NaN anywhere.
func TestMapOfTheLargeDemo(t *testing.T) {
	d := demo(t, "large")
	g, err := Map(t.Context(), d, MapOptions{Speaker: 5, Octave: 6})
	if err != nil {
		t.Fatal(err)
	}
	if n := g.NX * g.NY; n != len(g.Values) || n != len(g.Inside) || n != len(g.Heights) || n < 1800 {
		t.Fatalf("%d x %d points, %d values", g.NX, g.NY, len(g.Values))
	}
	out, floors := 0, map[string]bool{}
	for i, v := range g.Values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("point %d: %g", i, v)
		}
		floors[fmt.Sprintf("%.2f", g.Heights[i]-g.Heights[0])] = true
		if p := g.point(i); !g.Inside[i] {
			out++
			if p.X < 7.9 || p.Y < 4.6 {
				t.Errorf("%v is called outside", p)
			}
		}
	}
	if out == 0 || len(floors) != 3 || !floors["0.32"] || !floors["0.66"] {
		t.Errorf("%d points outside, floors %v", out, floors)
	}
	all, err := Map(t.Context(), d, MapOptions{Speaker: AllSpeakers, Octave: 6, Step: 0.5})
	if err != nil || all.Lo < 0 || all.Hi <= all.Lo {
		t.Errorf("spread from %g to %g, %v", all.Lo, all.Hi, err)
	}
}

// The map of mirror partners is mirrored.
func TestMapMirrors(t *testing.T) {
	d := hall(2, 3, 4)
	a, errA := Map(t.Context(), d, MapOptions{Speaker: 2, Octave: 5, Step: 0.25})
	b, errB := Map(t.Context(), d, MapOptions{Speaker: 3, Octave: 5, Step: 0.25})
	if errA != nil || errB != nil {
		t.Fatal(errA, errB)
	}
	for i, v := range a.Values {
		m := i%a.NX + (a.NY-1-i/a.NX)*a.NX
		geomtest.Within(t, fmt.Sprintf("point %d", i), v, b.Values[m], 1e-9)
	}
}

// A column shades what is behind it and nothing else; a notch of the room does
// the same.
func TestMapShades(t *testing.T) {
	d := hall(1, 1, 1)
	open, _ := Map(t.Context(), d, MapOptions{Octave: 6, Step: 0.2})
	d.Room.Features = []project.Feature{{Kind: project.Column, Name: "column", At: project.Point{X: 4, Y: 2}, Length: 0.4, Width: 0.4, Height: 3}}
	shaded, err := Map(t.Context(), d, MapOptions{Octave: 6, Step: 0.2})
	if err != nil {
		t.Fatal(err)
	}
	behind := 0
	for i := range open.Values {
		switch diff := open.Values[i] - shaded.Values[i]; {
		case diff < -1e-9:
			t.Fatalf("a column makes %v louder by %g dB", open.point(i), -diff)
		case diff > 1e-9:
			behind++
			if open.point(i).X < 3.8 {
				t.Errorf("%v before the column is shaded", open.point(i))
			}
		}
	}
	if behind < 10 || behind > len(open.Values)/4 {
		t.Errorf("%d of %d points behind the column", behind, len(open.Values))
	}

	d = hall(1, 1, 1)
	d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 9, Y: 6}, {X: 6, Y: 6}, {X: 6, Y: 3}, {X: 5, Y: 3}, {X: 5, Y: 6}, {X: 0, Y: 6}}
	notched, err := Map(t.Context(), d, MapOptions{Octave: 6, Step: 0.2})
	if err != nil {
		t.Fatal(err)
	}
	behind = 0
	for i := range notched.Values {
		if notched.Inside[i] && notched.Values[i] < open.Values[i]-5 {
			behind++
			if p := notched.point(i); p.X < 5 || p.Y < 3 {
				t.Errorf("%v is shaded by the notch", p)
			}
		}
	}
	if behind == 0 {
		t.Error("the notch shades nothing")
	}
}

func TestMapRefuses(t *testing.T) {
	d := hall(1, 1, 2)
	for _, o := range []MapOptions{{Octave: -1}, {Octave: 8}, {Speaker: 2}, {Speaker: -2}} {
		if _, err := Map(t.Context(), d, o); len(project.Faults(err)) != 1 {
			t.Errorf("%+v: %v", o, err)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := Map(ctx, d, MapOptions{}); err == nil {
		t.Error("a cancelled map is made all the same")
	}
}

// The budget: one loudspeaker over the large demo at 0.15 m in 5 ms on one core.
func BenchmarkMap(b *testing.B) {
	d := demo(b, "large")
	for name, o := range map[string]MapOptions{"one loudspeaker": {Speaker: 0, Octave: 6}, "all loudspeakers": {Speaker: AllSpeakers, Octave: 6}} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if g, err := Map(context.Background(), d, o); err != nil || g.Hi <= g.Lo {
					b.Fatal("nothing mapped")
				}
			}
		})
	}
}
