// SPDX-License-Identifier: MIT

package sheet

import (
	"math"
	"slices"
	"strings"
	"testing"

	"earline/geometry"
	"earline/project"
	"earline/project/projecttest"
	"earline/scene/drawing"
)

// lopsided is a room of which nothing is its own mirror image: a notch at the back
// right, one ceiling loudspeaker, one on the left wall near the screen.
func lopsided(t *testing.T) *project.Design {
	t.Helper()
	d := rooms(t)["large.earline"].Clone()
	keep := d.Speakers[:0]
	for _, l := range d.Speakers {
		if l.Label == "U+045" || l.Label == "M+060" || l.Label == "M-090" && l.Copy == "" {
			keep = append(keep, l)
		}
	}
	d.Speakers = keep
	return d
}

// views returns the views whose name begins so, with the sheet they are on.
func viewOf(t *testing.T, sheets []drawing.Sheet, name string) (drawing.Sheet, drawing.View) {
	t.Helper()
	for _, sh := range sheets {
		for _, v := range sh.Views {
			if strings.HasPrefix(v.Name, name) {
				return sh, v
			}
		}
	}
	t.Fatalf("no view %q", name)
	return drawing.Sheet{}, drawing.View{}
}

// The drawing of the ceiling must not be mirrored against the plan: laid on it, one
// covers the other.
func TestCeilingLiesOnThePlan(t *testing.T) {
	for _, paper := range []string{"A4", "A3"} {
		_, sheets := compose(t, lopsided(t), paper)
		_, plan := viewOf(t, sheets, "Plan")
		_, ceiling := viewOf(t, sheets, "Ceiling")
		if plan.Origin != ceiling.Origin || plan.Scale != ceiling.Scale {
			t.Errorf("%s: plan %v at %g, ceiling %v at %g", paper, plan.Origin, plan.Scale, ceiling.Origin, ceiling.Scale)
		}
		walls := func(v drawing.View) (all [][]drawing.Point) {
			for _, m := range v.Marks {
				if l, ok := m.(drawing.Lines); ok && l.Layer == wallLayer && l.Pen.Width == cut && len(l.Lines) == 2 && len(l.Lines[0]) > 5 {
					all = append(all, l.Lines...)
				}
			}
			return all
		}
		a, b := walls(plan), walls(ceiling)
		if len(a) != 2 || !slices.EqualFunc(a, b, slices.Equal) {
			t.Errorf("%s: walls of the plan %v, of the ceiling %v", paper, a, b)
		}
	}
}

// On plan and ceiling what is on the left of one who faces the screen is on that hand
// of the arrow to it.
func TestLeftIsLeftOfTheWayToTheScreen(t *testing.T) {
	for _, turned := range []bool{false, true} {
		s, _ := compose(t, lopsided(t), "A3")
		s.turned = turned
		v := s.planView("")
		toScreen, left := v.flat(geometry.Vec{X: -1}), v.flat(geometry.Vec{Y: -1})
		// On paper, y up: left is a quarter turn anticlockwise from straight ahead.
		if got := toScreen.Cross(left); math.Abs(got-1) > 1e-12 {
			t.Errorf("turned %t: screen %v, left %v", turned, toScreen, left)
		}
		for _, side := range []string{"screen", "left", "right", "back"} {
			if s.side(side) == s.side(map[string]string{"screen": "back", "left": "right", "right": "left", "back": "screen"}[side]) {
				t.Errorf("turned %t: %s is where its opposite is", turned, side)
			}
		}
	}
}

// Who stands in the room and faces the left wall has the screen on the right, and so on
// round; nothing is mirrored in rooms of either winding.
func TestWallsAreSeenFromInside(t *testing.T) {
	d := lopsided(t)
	for range 2 {
		s, _ := compose(t, d, "A3")
		for i := range s.outline {
			e := s.elevationOf(i)
			// Right, up and towards the viewer are a right-handed set.
			if got := vec(e.right, 0).Cross(geometry.Vec{Z: 1}); got.Sub(vec(e.inward, 0)).Len() > 1e-12 {
				t.Errorf("%s: right %v, inward %v", e.name(), e.right, e.inward)
			}
			want := map[string]string{"left": ", screen to the right", "right": ", screen to the left"}[d.Room.WallSide(i+1)]
			if got := e.toScreen(); got != want {
				t.Errorf("%s%s, want %q", e.name(), got, want)
			}
			for _, l := range e.speakers {
				x, _ := e.of(l.At.Vec())
				near := float64(l.At.X) < 4.2 // the room is 8.4 m long
				if side := d.Room.WallSide(i + 1); side == "left" && near != (x > 4.2) || side == "right" && near != (x < 4.2) {
					t.Errorf("%s: %s at %.3f from its left end, %.3f from the screen", e.name(), l.Name(), x, float64(l.At.X))
				}
			}
		}
		slices.Reverse(d.Room.Footprint)
		d.Room.Treatments = nil // they count along the old walls
	}
}

// A panel lies where it is, whichever way its wall runs.
func TestPanelsKeepTheirPlaceOnTheWall(t *testing.T) {
	for seed := range uint64(12) {
		d := projecttest.Room(seed)
		d.Room.Treatments = []project.Treatment{{Name: "panel", Wall: 1, From: 0.1, To: 0.4, Low: 1, High: 2}}
		s, _ := compose(t, d, "A3")
		e := s.elevationOf(0)
		from, to := e.treatment(d.Room.Treatments[0])
		a, b := s.outline.Edge(0)
		dir := b.Sub(a).Mul(1 / b.Sub(a).Len())
		p, _ := e.of(vec(a.Add(dir.Mul(0.1)), 0))
		q, _ := e.of(vec(a.Add(dir.Mul(0.4)), 0))
		if math.Abs(min(p, q)-from) > 1e-9 || math.Abs(max(p, q)-to) > 1e-9 {
			t.Errorf("seed %d: %.3f to %.3f, want %.3f to %.3f", seed, from, to, min(p, q), max(p, q))
		}
	}
}

// Printed at 100 %, a metre on the bar measures what the scale says: 40 mm at 1:25. And
// bars are as long as what they are beside: the chains of the same sheet.
func TestScaleBarMeasuresTrue(t *testing.T) {
	seen := map[float64]bool{}
	for name, d := range rooms(t) {
		for _, units := range []project.Units{project.Metric, project.Imperial} {
			d.Units = units
			s, sheets := compose(t, d, "A3")
			for _, b := range s.bars {
				i := slices.IndexFunc(sheets, func(sh drawing.Sheet) bool { return sh.Number == b.sheet })
				for _, v := range sheets[i].Views {
					if got, want := b.box.Dx()/b.metres, 1000*v.Scale; math.Abs(got-want) > 1e-9 {
						t.Errorf("%s, %s: a metre of the bar is %g mm, of %s %g mm", name, b.sheet, got, v.Name, want)
					}
					seen[math.Round(1/v.Scale)] = true
				}
			}
		}
	}
	for _, ratio := range []float64{25, 50} {
		if !seen[ratio] {
			t.Errorf("nothing was drawn at 1:%g", ratio)
		}
	}
}

// Every view shows the room at its scale: the walls of a plan are as long on paper as
// in the room, divided by the ratio.
func TestWallsMeasureTrue(t *testing.T) {
	d := rooms(t)["room-b.earline"]
	s, sheets := compose(t, d, "A3")
	_, v := viewOf(t, sheets, "Plan")
	for _, m := range v.Marks {
		l, ok := m.(drawing.Lines)
		if !ok || l.Layer != wallLayer || len(l.Lines) != 2 || len(l.Lines[0]) != len(s.outline)+1 {
			continue
		}
		for i := range s.outline {
			a, b := s.outline.Edge(i)
			p, q := v.OnPaper(l.Lines[0][i]), v.OnPaper(l.Lines[0][i+1])
			if got, want := math.Hypot(q.X-p.X, q.Y-p.Y), a.Dist(b)*1000*v.Scale; math.Abs(got-want) > 1e-6 {
				t.Errorf("wall %d measures %g mm on paper, want %g", i+1, got, want)
			}
		}
		return
	}
	t.Error("no walls")
}

// Every hole has two dimensions along its wall and two against the laser line, and no
// third.
func TestCutoutsAreDimensionedTwiceNeverThrice(t *testing.T) {
	for name, d := range rooms(t) {
		s, _ := compose(t, d, "A3")
		for i := range s.outline {
			e := s.elevationOf(i)
			v := e.view()
			left := v.flat(vec(e.from, 0)).X
			for _, l := range e.speakers {
				o := e.cutoutOf(l)
				if !o.hole {
					continue
				}
				for _, c := range []struct {
					side int
					at   []float64
				}{{below, []float64{left + o.x0, left + o.x1}}, {leftOf, []float64{o.z0, o.z1}}} {
					for _, want := range c.at {
						n := 0
						for _, r := range v.rows[c.side] {
							for _, st := range r.stops {
								if r.running && math.Abs(st.at-want) < 0.0005 {
									n++
								}
							}
						}
						if n != 1 {
							t.Errorf("%s, %s: the edge of %s at %.4f has %d dimensions, want 1", name, e.name(), l.Name(), want, n)
						}
					}
				}
			}
		}
	}
}

// In an L-shaped room the platform of a row was drawn on through the wall.
func TestPlatformsEndAtTheWall(t *testing.T) {
	d := rooms(t)["room-b.earline"]
	_, sheets := compose(t, d, "A3")
	sh, v := viewOf(t, sheets, "Cross section")
	var room drawing.Box
	for _, m := range v.Marks {
		if l, ok := m.(drawing.Lines); ok && l.Layer == wallLayer && l.Pen.Width == cut {
			room = around(l.Lines[0])
			break
		}
	}
	for _, m := range v.Marks {
		if l, ok := m.(drawing.Lines); ok && l.Layer == rowLayer {
			for _, line := range l.Lines {
				if b := around(line); b.X0 < room.X0-1e-6 || b.X1 > room.X1+1e-6 {
					t.Errorf("sheet %s: a platform from %.0f to %.0f in a room from %.0f to %.0f", sh.Number, b.X0, b.X1, room.X0, room.X1)
				}
			}
		}
	}
}

// Names on drawings lead to their line of the list, and lines to the drawing.
func TestListAndDrawingsLeadToEachOther(t *testing.T) {
	d := rooms(t)["large.earline"]
	s, sheets := compose(t, d, "A3")
	to := map[string]bool{}
	for _, sh := range sheets {
		for _, l := range sh.Links {
			to[sh.Number[:2]+" "+l.To[:2]] = true
		}
	}
	for _, want := range []string{"S1 S5", "S2 S5", "S3 S5", "S5 S3", "S6 S3"} {
		if !to[want] {
			t.Errorf("no link %s; there are %v", want, to)
		}
	}
	for i, id := range s.ids {
		if !slices.ContainsFunc(s.pages, func(c composed) bool {
			return slices.ContainsFunc(c.page.wants, func(n named) bool { return n.item == id })
		}) {
			t.Errorf("%s is in no list", s.room.Speakers[i].Name())
		}
	}
}

// The same design gives the same sheets.
func TestTheSameDesignGivesTheSameSheets(t *testing.T) {
	d := rooms(t)["large.earline"]
	a, _ := compose(t, d, "A3")
	b, _ := compose(t, d, "A3")
	for i := range a.pages {
		if !slices.Equal(a.pages[i].page.words, b.pages[i].page.words) {
			t.Errorf("sheet %s differs", a.pages[i].number)
		}
	}
}

// An attic under a gable was drawn under a flat ceiling as high as its knee walls: the
// window in the gable was missing, and loudspeakers hung outside.
func TestWallsAndSectionsGoUpToTheRidge(t *testing.T) {
	d := rooms(t)["gable-attic.earline"]
	_, sheets := compose(t, d, "A3")
	const knee, ridge, half = 1.6, 3.1, 2.2 // m, as the file has them
	for _, title := range []string{"Back wall", "Screen wall", "Cross section"} {
		_, v := viewOf(t, sheets, title)
		found := false
		for _, m := range v.Marks {
			l, ok := m.(drawing.Lines)
			if !ok || l.Layer != wallLayer || len(l.Lines[0]) != 6 {
				continue
			}
			b := around(l.Lines[0])
			high, wide := b.Dy(), b.Dx()
			if got, want := high/wide, ridge/(2*half); math.Abs(got-want) < 1e-9 {
				found = true
				lowest := math.Inf(1) // of the upper corners
				for _, q := range l.Lines[0] {
					if q.Y < b.Y1-1e-9 {
						lowest = min(lowest, b.Y1-q.Y)
					}
				}
				if got, want := lowest/wide, knee/(2*half); math.Abs(got-want) > 1e-9 {
					t.Errorf("%s: knee at %.3f of the width, want %.3f", title, got, want)
				}
			}
		}
		if !found {
			t.Errorf("%s does not go up to the ridge", title)
		}
	}
	text := ""
	for _, sh := range sheets {
		for _, v := range sh.Views {
			for _, m := range v.Marks {
				if x, ok := m.(drawing.Text); ok {
					text += x.Text + "\n"
				}
			}
		}
	}
	for _, want := range []string{"gable window", "ceiling +2100 (3100)", "ceiling +600 (1600)"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q on the drawings", want)
		}
	}
}

// A round column was drawn square.
func TestARoundColumnIsRoundOnThePlan(t *testing.T) {
	_, sheets := compose(t, rooms(t)["round-column.earline"], "A3")
	_, v := viewOf(t, sheets, "Plan")
	for _, m := range v.Marks {
		if l, ok := m.(drawing.Lines); ok && l.Layer == featureLayer && len(l.Lines[0]) > 30 {
			return
		}
	}
	t.Error("no round outline")
}

// The drawings of a room in which three loudspeakers and a subwoofer stood in the wall
// went to the builder without a word of it.
func TestTheChecksSayWhatCannotBeBuiltAsDrawn(t *testing.T) {
	_, sheets := compose(t, rooms(t)["room-b.earline"], "A3")
	last := sheets[len(sheets)-1]
	text := ""
	for _, m := range last.Marks {
		if x, ok := m.(drawing.Text); ok {
			text += x.Text + " "
		}
	}
	for _, want := range []string{"Cannot be built as drawn", "LFE1 reaches 40 mm into the wall"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in the checks: %s", want, text)
		}
	}
}
