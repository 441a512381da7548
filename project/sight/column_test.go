// SPDX-License-Identifier: MIT

package sight_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/projecttest"
	"earline/project/sight"
)

// withColumn returns d with a column in its middle.
func withColumn(d *project.Design, across float64, turn unit.Degrees, round bool) *project.Design {
	d = d.Clone()
	lo, hi := d.Room.Polygon().Bounds()
	f := project.Feature{Kind: project.Column, Name: "the column", Length: unit.Length(across), Width: unit.Length(across), Height: 2.2, Turn: turn, Round: round,
		At: project.Point{X: unit.Length(lo.X + 0.3*(hi.X-lo.X)), Y: unit.Length(lo.Y + 0.45*(hi.Y-lo.Y))}}
	d.Room.Features = append(d.Room.Features, f)
	return d
}

// withRoundColumns returns d with two round columns, the second with a loudspeaker whose
// front lies in the plane that touches its side.
func withRoundColumns(d *project.Design, seed uint64) *project.Design {
	d = d.Clone()
	r := rand.New(rand.NewPCG(seed, 32))
	lo, hi := d.Room.Polygon().Bounds()
	tidy := func(v float64) unit.Length { return unit.Length(math.Round(v*1e7) / 1e7) }
	for n := range 2 {
		f := project.Feature{Kind: project.Column, Name: fmt.Sprint("pillar ", n+1), Round: true, Length: tidy(0.1 + 0.5*r.Float64()), Height: tidy(0.5 + 2*r.Float64()),
			At: project.Point{X: tidy(lo.X + (0.15+0.5*r.Float64())*(hi.X-lo.X)), Y: tidy(lo.Y + (0.1+0.8*r.Float64())*(hi.Y-lo.Y))}}
		d.Room.Features = append(d.Room.Features, f)
		if n == 0 || len(d.Speakers) == 0 {
			continue
		}
		l := d.Speakers[0]
		a := 2 * math.Pi * r.Float64()
		l.Copy, l.Mount = "on the pillar", project.OnWall
		l.At = project.Point{X: tidy(float64(f.At.X) + math.Cos(a)*float64(f.Length)/2), Y: tidy(float64(f.At.Y) + math.Sin(a)*float64(f.Length)/2), Z: tidy(0.3 + 0.5*r.Float64()*float64(f.Height))}
		l.Aim = project.Aim{Fixed: true, Azimuth: unit.Degrees(math.Remainder(math.Atan2(-math.Sin(a), -math.Cos(a))*180/math.Pi, 360))}
		d.Speakers = append(d.Speakers, l)
	}
	return d
}

// How a round column is turned changes no answer.
func TestATurnedRoundColumnAnswersAsAnUnturnedOne(t *testing.T) {
	for seed := range uint64(20) {
		d := projecttest.Room(seed)
		a, b := sight.Audit(withColumn(d, 0.4, 0, true)), sight.Audit(withColumn(d, 0.4, 33, true))
		for n := range a.Pairs {
			for k := range a.Pairs[n].Paths {
				p, q := &a.Pairs[n].Paths[k], &b.Pairs[n].Paths[k]
				if p.Verdict != q.Verdict || p.Clearance != q.Clearance || p.Visible != q.Visible {
					t.Fatalf("room %d: %+v turned is %+v", seed, p, q)
				}
			}
		}
		for n := range a.Views {
			if p, q := &a.Views[n], &b.Views[n]; p.Visible != q.Visible || p.Clearance != q.Clearance || p.Verdict != q.Verdict {
				t.Fatalf("room %d: %+v turned is %+v", seed, p, q)
			}
		}
	}
}

// A round column between the largest square one inside it and the smallest about it:
// so are what it hides and its clearances.
func TestARoundColumnHidesBetweenItsSquares(t *testing.T) {
	const across = 0.5
	differs := 0
	for seed := range uint64(60) {
		d := projecttest.Room(seed)
		in := sight.Audit(withColumn(d, across/math.Sqrt2, 20, false))
		is := sight.Audit(withColumn(d, across, 0, true))
		out := sight.Audit(withColumn(d, across, 20, false))
		between := func(what string, low, v, high float64) {
			if v < low-1e-6 || v > high+1e-6 {
				t.Errorf("room %d: %s %g, of the outer square %g, of the inner %g", seed, what, v, low, high)
			}
			if high-low > 1e-3 {
				differs++
			}
		}
		for n := range is.Pairs {
			for k := range is.Pairs[n].Paths {
				p, q, r := &out.Pairs[n].Paths[k], &is.Pairs[n].Paths[k], &in.Pairs[n].Paths[k]
				what := fmt.Sprintf("pair %d path %d", n, k)
				between(what+" share", p.Visible, q.Visible, r.Visible)
				between(what+" clearance", p.Clearance, q.Clearance, r.Clearance)
			}
		}
		for n := range is.Views {
			between(fmt.Sprintf("view %d share", n), out.Views[n].Visible, is.Views[n].Visible, in.Views[n].Visible)
		}
	}
	if differs < 100 {
		t.Errorf("the squares differ %d times only", differs)
	}
}

// A driver flush in the plane that touches a round column's side is seen whole from
// before it, and its tolerance and range are answered too.
func TestALoudspeakerOnTheSideOfARoundColumn(t *testing.T) {
	d, ok := file.Demo("small")
	if !ok {
		t.Fatal("no demo")
	}
	d = d.Clone()
	d.Room.Features = nil
	f := project.Feature{Kind: project.Column, Name: "pillar", At: project.Point{X: 0.4, Y: 2.1}, Length: 0.4, Height: 2.4, Round: true}
	d.Room.Features = append(d.Room.Features, f)
	l := d.Speakers[0]
	l.At, l.Mount, l.Aim = project.Point{X: 0.6, Y: 2.1, Z: 1.6}, project.OnWall, project.Aim{Fixed: true, Azimuth: 180}
	l.Copy = "on the pillar"
	d.Speakers = append(d.Speakers, l)
	if err := d.Validate(); err != nil {
		t.Fatal(err)
	}
	res := sight.Audit(d)
	k := len(d.Speakers) - 1
	for i := range res.Seats {
		for _, p := range res.Pair(i, k).Paths {
			if p.Blocker >= 0 && res.Words(p.Blocker) == "pillar" {
				t.Errorf("seat %d: blocked by the pillar it is flush on: %+v", i, p)
			}
		}
	}
}
