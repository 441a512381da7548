// SPDX-License-Identifier: MIT

package sight

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// A room that is its own mirror image has an audit that is.
func TestMirrorSymmetry(t *testing.T) {
	const rows, seats = 3, 5
	r := audit(t, hall(rows, seats, 16))
	for i := range r.Seats {
		mirror := (i/seats)*seats + seats - 1 - i%seats
		for k := range r.Speakers {
			a, b := r.Pair(i, k), r.Pair(mirror, k^1)
			pa, pb := a.Deciding(), b.Deciding()
			if a.Verdict != b.Verdict || math.Abs(pa.Clearance-pb.Clearance) > 1e-9 ||
				math.Abs(pa.Visible-pb.Visible) > 1e-6 {
				t.Errorf("seat %s to %s: %v %.6f %.6f, but mirrored %v %.6f %.6f", r.Seats[i].Name(), r.Speakers[k].Name(),
					a.Verdict, pa.Clearance, pa.Visible, b.Verdict, pb.Clearance, pb.Visible)
			}
		}
		if a, b := r.Views[i], r.Views[mirror]; math.Abs(a.Visible-b.Visible) > 1e-6 || math.Abs(a.Clearance-b.Clearance) > 1e-6 {
			t.Errorf("seat %s sees %.6f with %.6f m, its mirror %.6f with %.6f", r.Seats[i].Name(), a.Visible, a.Clearance, b.Visible, b.Clearance)
		}
	}
}

// What is found agrees with looking at every solid for every path, with no
// culling: clearance, verdict, blocker.
func TestCullingLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := hall(rapid.IntRange(1, 3).Draw(t, "rows"), rapid.IntRange(1, 5).Draw(t, "seats"), 8)
		for k := range d.Speakers {
			d.Speakers[k].At.Z = unit.Length(rapid.Float64Range(0.3, 2.9).Draw(t, "z"))
			d.Speakers[k].At.X = unit.Length(rapid.Float64Range(0.3, 8.7).Draw(t, "x"))
		}
		d.Seating.Rows[0].Recline = unit.Degrees(rapid.Float64Range(0, 50).Draw(t, "recline"))
		r := audit(t, d)
		for i := range r.Seats {
			for k := range r.Speakers {
				p := r.Pair(i, k)
				for n := range p.Paths {
					if got, want := p.Paths[n].Clearance, slowClearance(r, i, k, &p.Paths[n]); math.Abs(got-want) > 1e-9 {
						t.Fatalf("seat %s to %s: clearance %v, slowly %v", r.Seats[i].Name(), r.Speakers[k].Name(), got, want)
					}
				}
			}
		}
	})
}

func slowClearance(r *Result, i, k int, p *Path) float64 {
	best := float64(Far)
	s := r.Seats[i]
	for _, part := range r.Parts {
		own := part.Row == s.Row && part.Seat == s.Number
		if own && part.Person() {
			continue
		}
		solid := part.Solid()
		c, _ := solid.Clearance(segment(p))
		crossing := own && part.ChairPart() || part.Kind == place.SpeakerPart
		if crossing && c >= -touch {
			continue
		}
		best = math.Min(best, c)
	}
	shoulders := r.Bodies[i].Shoulders.Solid()
	if c, _ := shoulders.Clearance(segment(p)); c < -touch {
		best = math.Min(best, c)
	}
	return best
}

// One loudspeaker moved gives the same answer as auditing everything.
func TestUpdateEqualsAudit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := hall(3, 4, 12)
		prev := audit(t, d)
		k := rapid.IntRange(0, 11).Draw(t, "moved")
		next := d.Clone()
		next.Speakers[k].At.X = unit.Length(rapid.Float64Range(0.3, 8.7).Draw(t, "x"))
		next.Speakers[k].At.Z = unit.Length(rapid.Float64Range(0.3, 2.9).Draw(t, "z"))
		if rapid.Bool().Draw(t, "off the wall") { // among the paths of the others
			next.Speakers[k].At.Y = unit.Length(rapid.Float64Range(0.2, 5.8).Draw(t, "y"))
		}
		got, want := update(t, prev, next, k), audit(t, next)
		if diff := cmp.Diff(want.Pairs, got.Pairs, cmpopts.EquateApprox(0, 1e-12)); diff != "" {
			t.Fatalf("pairs differ (-audit +update):\n%s", diff)
		}
		if !reflect.DeepEqual(want.Count, got.Count) || !reflect.DeepEqual(want.Views, got.Views) {
			t.Fatal("counts or views differ")
		}
	})
}

// Raising an obstacle that stands on the floor never raises any clearance, as long
// as it does not come to carry a loudspeaker.
func TestRaisingAnObstacleNeverRaisesClearance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := hall(2, 4, 8)
		d.Room.Features = []project.Feature{{Kind: project.Column, Name: "column",
			At:     project.Point{X: unit.Length(rapid.Float64Range(0.5, 8).Draw(t, "x")), Y: unit.Length(rapid.Float64Range(0.5, 5.5).Draw(t, "y"))},
			Length: 0.4, Width: 0.3, Turn: unit.Degrees(rapid.Float64Range(0, 90).Draw(t, "turn"))}}
		var last *Result
		for _, h := range []unit.Length{0.2, 0.8, 1.1, 1.4, 2, 2.4} {
			d.Room.Features[0].Height = h
			r := audit(t, d)
			if last != nil {
				for n := range r.Pairs {
					now, before := r.Pairs[n].Deciding(), last.Pairs[n].Deciding()
					if now.Clearance > before.Clearance+1e-9 {
						t.Fatalf("column %v m: clearance %v, lower it was %v", h, now.Clearance, before.Clearance)
					}
					for m := range r.Pairs[n].Paths {
						now, before := r.Pairs[n].Paths[m].Visible, last.Pairs[n].Paths[m].Visible
						if now > before+1e-7 {
							t.Fatalf("column %v m: %v visible, lower it was %v", h, now, before)
						}
					}
				}
			}
			last = r
		}
	})
}

// A head straight between an ear and a driver at ear height blocks it, and is
// named.
func TestHeadBetweenEarAndDriver(t *testing.T) {
	d := hall(1, 3, 0)
	d.Seating.Sitters.Others = 50
	ear := place.Listener(d, place.Seats(d)[0]).EarRight
	d.Speakers = []project.Loudspeaker{{Label: "M-090", Model: "m", Mount: project.OnWall,
		At: project.Point{X: unit.Length(ear.X), Y: 5.9, Z: unit.Length(ear.Z)}}}
	r := audit(t, d)
	p := r.Pair(0, 0)
	w := p.Deciding()
	if p.Verdict != Blocked || r.Words(w.Blocker) != "head in row 1 seat 2" {
		t.Fatalf("got %v by %s, want blocked by head in row 1 seat 2", p.Verdict, r.Words(w.Blocker))
	}
	if w.Visible > 1e-6 {
		t.Errorf("a tweeter behind two heads is %.3f visible", w.Visible)
	}
	if got := r.Sentence(0, 0, project.Metric); !strings.Contains(got, "blocked by head in row 1 seat 2") {
		t.Errorf("sentence: %s", got)
	}
	if w.Enter.Y <= ear.Y || w.Enter.Y >= r.Bodies[1].Head.Center.Y {
		t.Errorf("the ray is blocked at %v, want on the near side of the head at %v", w.Enter, r.Bodies[1].Head.Center)
	}
	// The seat at the far end hears it freely.
	if v := r.Pair(2, 0).Verdict; v == Blocked {
		t.Errorf("seat 3: %v", v)
	}
}

// A loudspeaker right behind the listener is heard through the listener's own
// headrest only.
func TestOwnHeadrestIsNotExcluded(t *testing.T) {
	d := hall(1, 1, 0)
	d.Chairs[0].HeadrestWidth, d.Chairs[0].Headrest = 0.6, 0.4
	ear := place.Listener(d, place.Seats(d)[0]).EarRight
	d.Speakers = []project.Loudspeaker{{Label: "M+180", Model: "m", Mount: project.OnWall,
		At: project.Point{X: 8.9, Y: unit.Length(ear.Y), Z: unit.Length(ear.Z)}}}
	r := audit(t, d)
	w := r.Pair(0, 0).Deciding()
	if w.Verdict != Blocked || r.WordsFrom(0, w.Blocker) != "own headrest" {
		t.Errorf("got %v by %s", w.Verdict, r.WordsFrom(0, w.Blocker))
	}
}

// Walls of a concave room and soffits block too.
func TestRoomItselfBlocks(t *testing.T) {
	d := hall(1, 3, 0)
	d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 9, Y: 6}, {X: 6, Y: 6}, {X: 6, Y: 4.8}, {X: 0, Y: 4.8}}
	d.Speakers = []project.Loudspeaker{{Label: "M-135", Model: "m", Mount: project.OnWall, At: project.Point{X: 6.3, Y: 5.9, Z: 1.8}}}
	r := audit(t, d)
	if w := r.Pair(0, 0).Deciding(); w.Verdict != Blocked || w.Blocker != ShellPart || w.Visible != 0 {
		t.Errorf("round the corner: %v by %s, visible %v", w.Verdict, r.Words(w.Blocker), w.Visible)
	}
	d = hall(1, 3, 0)
	d.Room.Features = []project.Feature{{Kind: project.Soffit, Name: "left soffit", At: project.Point{X: 4.5, Y: 0.4, Z: 2.0}, Length: 9, Width: 0.2, Height: 1}}
	d.Speakers = []project.Loudspeaker{{Label: "U+090", Model: "m", Mount: project.OnWall, At: project.Point{X: 3.2, Y: 0.1, Z: 2.6}}}
	r = audit(t, d)
	if w := r.Pair(0, 0).Deciding(); w.Verdict != Blocked || r.Words(w.Blocker) != "left soffit" {
		t.Errorf("behind a soffit: %v by %s", w.Verdict, r.Words(w.Blocker))
	}
}

// Heads in front hide the picture's lower edge when it hangs too low; raising
// it clears the view.
func TestPictureOverHeads(t *testing.T) {
	d := hall(3, 5, 0)
	for i := range d.Seating.Rows {
		d.Seating.Rows[i].Riser = 0
	}
	d.Screen.Bottom = 0.4
	low := audit(t, d)
	if low.PictureCount[Blocked] == 0 {
		t.Fatal("a low picture on a flat floor hides from nobody")
	}
	v := low.Views[len(low.Views)-1]
	if !strings.Contains(low.Words(v.Blocker), "in row") || v.Visible >= 1 || v.Clearance >= 0 || v.Verdict != Blocked {
		t.Errorf("back row: %v %.3f %.3f by %s", v.Verdict, v.Visible, v.Clearance, low.Words(v.Blocker))
	}
	d.Screen.Bottom, d.Room.Ceiling.Height = 2.3, 4
	if high := audit(t, d); high.PictureCount[Blocked] != 0 {
		t.Errorf("a high picture is hidden from %d seats: %s", high.PictureCount[Blocked], high.PictureSentence(14, project.Metric))
	}
}

// Where the picture is clear, its clearance is the least that a dense search of
// lines to its lower edge finds; where it is not, some line is blocked.
func TestPictureClearanceAgainstDenseSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := hall(3, 5, 0)
		d.Screen.Bottom = unit.Length(rapid.Float64Range(0.3, 2.2).Draw(t, "bottom"))
		d.Seating.Rows[1].Stagger = unit.Length(rapid.Float64Range(-0.5, 0.5).Draw(t, "stagger"))
		d.Seating.Rows[2].Riser = unit.Length(rapid.Float64Range(0, 1).Draw(t, "riser"))
		r := audit(t, d)
		i := rapid.IntRange(0, len(r.Views)-1).Draw(t, "seat")
		v := r.Views[i]
		center, right, up := d.Screen.Picture()
		want := float64(Far)
		for n := 0; n <= 400; n++ {
			u := float64(n)/200 - 1
			seg := geometry.Segment{A: v.Eye, B: center.Sub(up).Add(right.Mul(u))}
			for _, p := range r.Parts {
				if p.Row == r.Seats[i].Row && (p.Seat == r.Seats[i].Number || p.Kind == place.RiserPart) {
					continue
				}
				solid := p.Solid()
				if solid.Bound().Gap(seg) >= want {
					continue
				}
				if c, _ := solid.Clearance(seg); c < want {
					want = c
				}
			}
		}
		// Lines 1 % of the edge apart pass a head's top by up to 0.2 mm more.
		switch {
		case want > 0.001 && math.Abs(v.Clearance-want) > 5e-4:
			t.Fatalf("seat %s: clearance %.6f, dense search %.6f", r.Seats[i].Name(), v.Clearance, want)
		case want < -0.001 && (v.Clearance > want+1e-6 || v.Verdict != Blocked):
			t.Fatalf("seat %s: %v with %.6f, dense search goes %.6f deep", r.Seats[i].Name(), v.Verdict, v.Clearance, -want)
		}
	})
}

// Nothing to audit is an empty answer, and nothing panics on odd designs.
func TestOddDesigns(t *testing.T) {
	for name, d := range map[string]*project.Design{
		"empty":          {},
		"no speakers":    hall(1, 1, 0),
		"no seats":       func() *project.Design { d := hall(1, 1, 4); d.Seating.Rows = nil; return d }(),
		"unknown models": func() *project.Design { d := hall(1, 1, 4); d.Models = nil; return d }(),
		"behind screen":  func() *project.Design { d := hall(1, 1, 4); d.Screen.Distance = 8; return d }(),
	} {
		r := audit(t, d)
		if len(r.Pairs) != len(r.Seats)*len(r.Speakers) {
			t.Errorf("%s: %d pairs", name, len(r.Pairs))
		}
		r.Report(d)
	}
}

func segment(p *Path) geometry.Segment { return geometry.Segment{A: p.From, B: p.To} }
