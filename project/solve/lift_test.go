// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"time"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/sight"
)

func lift(t testing.TB, d *project.Design, o LiftOptions) *Proposal {
	t.Helper()
	p, err := Lift(context.Background(), d, o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Lift clears every blocked pair of the large demo. Four stay tight: one pair of sides
// comes as near to the heights as it may, the other is as high as it may be heard. The
// proof says so, and where heights and bed are now too near.
func TestLiftClearsTheLargeDemo(t *testing.T) {
	p := lift(t, demo(t, "large"), LiftOptions{})
	if p.Before.Blocked != 8 || p.After.Blocked != 0 || p.After.Findings != 0 {
		t.Errorf("before %+v, after %+v: want 8 blocked before, none after", p.Before, p.After)
	}
	for _, c := range p.Changes {
		t.Log(c.Sentence(project.Metric))
	}
	var said []string
	for _, o := range p.Proof {
		said = append(said, o.Text)
	}
	all := strings.Join(said, "\n")
	for _, want := range []string{"M+090 and M-090 would have to hang at 2.482 m", "the elevation limit of 20° allows 2.421 m", "Row 2 seat 5", "head in row 2 seat 4"} {
		if !strings.Contains(all, want) {
			t.Errorf("the proof does not name %q:\n%s", want, all)
		}
	}
	if err := p.Design.Validate(); err != nil {
		t.Error(err)
	}
}

// alone returns how many pairs of the loudspeakers ks are short of clear.
func alone(d *project.Design, ks []int) int {
	r := sight.Audit(d)
	n := 0
	for i := range r.Seats {
		for _, k := range ks {
			if v := r.Pair(i, k).Verdict; v == sight.Tight || v == sight.Blocked {
				n++
			}
		}
	}
	return n
}

// In random rooms, lowering a lifted pair by 5 mm, and by 10, 20, ... down to
// where it was, always leaves a seat short of clear: what Lift found is the
// least. The audit of the whole room is the judge, not the search's own.
func TestLiftIsLeast(t *testing.T) {
	const seed = 11
	r := rand.New(rand.NewPCG(seed, seed))
	solved := 0
	for room := range 30 {
		d := anyRoom(r)
		p := lift(t, d, LiftOptions{Elevation: 25, Allowance: -1})
		if !p.Solved() {
			continue
		}
		if p.After.Blocked+p.After.Tight > 0 && alone(p.Design, lifted(d)) > 0 {
			t.Fatalf("seed %d room %d: solved, but %+v", seed, room, p.After)
		}
		for _, k := range lifted(d) {
			pair := []int{k, mirrorOf(d, k)}
			was, is := float64(d.Speakers[k].At.Z), float64(p.Design.Speakers[k].At.Z)
			if is < was-1e-9 {
				t.Errorf("seed %d room %d: %s came down", seed, room, d.Speakers[k].Name())
			}
			if is-was < 0.005 {
				continue
			}
			solved++
			down := p.Design.Clone()
			for drop := 0.005; drop <= is-was; drop += 0.01 {
				for _, m := range pair {
					h := newHanging(d, m, d.Speakers[m], place.MainPoint(p.Design), was, is)
					down.Speakers[m].At = h.at(is - drop).At
				}
				if alone(down, pair) == 0 && !inFeature(down, pair) {
					t.Fatalf("seed %d room %d: %s is clear %.3f m lower than %.4f m", seed, room, d.Speakers[k].Name(), drop, is)
				}
			}
		}
	}
	if solved < 10 {
		t.Fatalf("only %d lifted loudspeakers looked at", solved)
	}
}

func inFeature(d *project.Design, ks []int) bool {
	for _, k := range ks {
		p := place.OneSpeaker(d, d.Speakers[k], place.MainPoint(d))
		if f, _ := inTheWay(&d.Room, &p); f >= 0 {
			return true
		}
	}
	return false
}

func lifted(d *project.Design) []int {
	var ks []int
	for k, l := range d.Speakers {
		if lifts(d, l) {
			ks = append(ks, k)
		}
	}
	return ks
}

// Mirror pairs in a mirror-symmetric room end at the same height, and the same
// design gives the same proposal every time.
func TestLiftIsSymmetricAndDeterministic(t *testing.T) {
	const seed = 5
	r := rand.New(rand.NewPCG(seed, seed))
	for room := range 10 {
		d := anyRoom(r)
		p := lift(t, d, LiftOptions{})
		for _, k := range lifted(d) {
			a, b := p.Design.Speakers[k].At, p.Design.Speakers[mirrorOf(d, k)].At
			if a.Z != b.Z || math.Abs(float64(a.Y+b.Y)-6.4) > 1e-6 || math.Abs(float64(a.X-b.X)) > 1e-6 {
				t.Errorf("seed %d room %d: %s at %v, its mirror at %v", seed, room, d.Speakers[k].Name(), a, b)
			}
		}
		if again := lift(t, d, LiftOptions{}); !reflect.DeepEqual(again, p) {
			t.Errorf("seed %d room %d: another answer the second time", seed, room)
		}
		// Each side for itself: no pair can do better than both.
		free := lift(t, d, LiftOptions{Unpaired: true})
		for _, k := range lifted(d) {
			if p.Solved() && free.Solved() && float64(free.Design.Speakers[k].At.Z-p.Design.Speakers[k].At.Z) > 0.0015 {
				t.Errorf("seed %d room %d: %s hangs higher unpaired", seed, room, d.Speakers[k].Name())
			}
		}
	}
}

// Settle comes down to what raising from the ears' height finds.
func TestSettleComesDown(t *testing.T) {
	d := hall(2, 4, 4)
	low := lift(t, d, LiftOptions{Settle: true, Elevation: 25})
	high := d.Clone()
	for _, k := range lifted(d) {
		high.Speakers[k].At.Z = 2.9
	}
	if got := lift(t, high, LiftOptions{Settle: true, Elevation: 25}); !low.Solved() || !reflect.DeepEqual(got.Design.Speakers, low.Design.Speakers) {
		t.Errorf("from above %v, from below %v", got.Design.Speakers, low.Design.Speakers)
	}
	if got := lift(t, high, LiftOptions{Elevation: 80}); len(got.Changes) > 0 {
		t.Errorf("without Settle it changes %v", got.Changes)
	}
}

// On one plane, the heights of sides and wides rise evenly from the fronts.
func TestLiftOnOnePlane(t *testing.T) {
	d := hall(2, 3, 6)
	p := lift(t, d, LiftOptions{Plane: true, Elevation: 25})
	if !p.Solved() {
		t.Fatal(p.Proof)
	}
	const x0, z0 = 0.4, 1.7 // of the three that stay
	slope := math.NaN()
	for _, k := range lifted(d) {
		at := p.Design.Speakers[k].At.Vec()
		s := (at.Z - z0) / (at.X - x0)
		if math.IsNaN(slope) {
			slope = s
		}
		if math.Abs(s-slope) > 1e-9 {
			t.Errorf("%s rises %.6f, another %.6f", d.Speakers[k].Name(), s, slope)
		}
	}
	if alone(p.Design, lifted(d)) > 0 {
		t.Error("not clear")
	}
}

// A room too low ends with the ceiling as the reason, how much is missing, and a
// compromise no worse than before.
func TestCeilingTooLow(t *testing.T) {
	d := hall(2, 4, 4)
	d.Room.Ceiling.Height = 2.05
	p := lift(t, d, LiftOptions{})
	if p.Solved() || p.After.Blocked > p.Before.Blocked {
		t.Fatalf("%+v, proof %v", p.After, p.Proof)
	}
	o := p.Proof[0]
	if o.Constraint != "the ceiling" || o.Short < 0.01 || o.Short > 1 || !strings.Contains(o.Text, "M+090") {
		t.Errorf("proof: %+v", o)
	}
	// What the proof says is needed is enough, and 10 mm less is not.
	d.Room.Ceiling.Height += unit.Length(o.Short + 0.002)
	for _, o := range p.Proof[1:] {
		if o.Constraint == "the ceiling" {
			d.Room.Ceiling.Height = unit.Length(max(float64(d.Room.Ceiling.Height), 2.05+o.Short+0.002))
		}
	}
	if p := lift(t, d, LiftOptions{Elevation: 60}); !p.Solved() {
		t.Errorf("under %v it still fails: %v", d.Room.Ceiling.Height, p.Proof[0].Text)
	}
}

// The elevation limit is kept, and named where it stands in the way.
func TestElevationLimit(t *testing.T) {
	d := hall(3, 6, 6)
	p := lift(t, d, LiftOptions{Elevation: 5})
	if p.Solved() || p.Proof[0].Constraint != "the elevation limit of 5°" {
		t.Fatalf("proof %+v", p.Proof)
	}
	rep := sight.Audit(p.Design).Report(p.Design)
	for _, k := range lifted(d) {
		if e := rep.Speakers[k].Elevation; e > 5+1e-5 {
			t.Errorf("%s at %.3f°", rep.Speakers[k].Name, e)
		}
	}
}

// About a compromise no height is better: none has fewer pairs short of clear,
// and of those with as many none has more room.
func TestCompromiseIsBestAbout(t *testing.T) {
	const seed = 41
	r := rand.New(rand.NewPCG(seed, seed))
	looked := 0
	for room := range 12 {
		d := anyRoom(r)
		d.Room.Ceiling.Height = 2.3
		if room == 0 {
			d = demo(t, "large") // between the heads and a soffit
		}
		p := lift(t, d, LiftOptions{Elevation: 25})
		near := apartIn(d, p.std)
		at := p.Design.Clone()
		for _, k := range lifted(d) {
			pair := []int{k, mirrorOf(d, k)}
			short := alone(p.Design, pair)
			if k > pair[1] || short == 0 {
				continue
			}
			tightest := func(d *project.Design) float64 {
				a := sight.Audit(d)
				least := math.Inf(1)
				for i := range a.Seats {
					for _, k := range pair {
						least = min(least, a.Pair(i, k).Deciding().Clearance)
					}
				}
				return least
			}
			was, is := float64(d.Speakers[k].At.Z), float64(p.Design.Speakers[k].At.Z)
			widest := tightest(p.Design)
			for _, off := range []float64{-0.002, -0.001, 0.001, 0.002} {
				z := is + off
				over := false
				for _, m := range pair {
					h := newHanging(d, m, d.Speakers[m], place.MainPoint(p.Design), was, is+0.1)
					placed := h.at(z)
					at.Speakers[m].At = placed.At
					over = over || z < was || overCeiling(&d.Room, &placed) > buildTol || h.elevation(&placed) > 25*unit.Degree || near.tooNear(&placed) != ""
				}
				if over || inFeature(at, pair) {
					continue
				}
				looked++
				if is == was { // nothing was better: it stays
					continue
				}
				n := alone(at, pair)
				if w := tightest(at); n < short || n == short && w > widest+0.0003 {
					t.Errorf("seed %d room %d: %s at %.4f m: %d short, %.4f m at the tightest; %+.3f m: %d, %.4f m", seed, room,
						d.Speakers[k].Name(), is, short, widest, off, n, w)
				}
			}
			for _, m := range pair {
				at.Speakers[m].At = p.Design.Speakers[m].At
			}
		}
	}
	if looked < 20 {
		t.Errorf("only %d heights looked at", looked)
	}
}

// A pair that a column hides from below to above is moved along its wall.
func TestShiftAlongTheWall(t *testing.T) {
	d := hall(1, 1, 2)
	for _, y := range []unit.Length{0.5, 5.9} {
		d.Room.Features = append(d.Room.Features, project.Feature{Kind: project.Column,
			At: project.Point{X: 2.75, Y: y}, Length: 0.2, Width: 0.2, Height: 3.2})
	}
	if p := lift(t, d, LiftOptions{}); p.Solved() {
		t.Fatal("the column hides nothing: the test tests nothing")
	}
	p := lift(t, d, LiftOptions{Shift: 0.6, Allowance: -1})
	if !p.Solved() || p.Design.Speakers[0].At.X == d.Speakers[0].At.X || p.Design.Speakers[0].At.X != p.Design.Speakers[1].At.X {
		t.Errorf("%v, %v", p.Design.Speakers[:2], p.Proof)
	}
	// It goes no farther than it must, to 2 mm: 5 mm nearer no height will do.
	far := p.Design.Speakers[0].At.X - d.Speakers[0].At.X
	near := d.Clone()
	for k := range 2 {
		near.Speakers[k].At.X += far - unit.Length(math.Copysign(0.005, float64(far)))
	}
	if lift(t, near, LiftOptions{Allowance: -1}).Solved() {
		t.Errorf("shifted by %v, but 5 mm less will do", far)
	}
}

// Lift stops soon after its context.
func TestLiftStops(t *testing.T) {
	// A box that its axis turns without bound is looked at every millimetre.
	d := hall(4, 6, 16)
	d.Room.Ceiling.Height = 30
	for _, k := range lifted(d) {
		d.Speakers[k].Label = strings.Replace(d.Speakers[k].Label, "090", "135", 1)
		d.Speakers[k].At.X = 9.5 // in the back wall: never clear
	}
	for _, after := range []time.Duration{0, time.Millisecond, 20 * time.Millisecond} {
		ctx, cancel := context.WithCancel(context.Background())
		var at time.Time
		go func() { time.Sleep(after); at = time.Now(); cancel() }()
		_, err := Lift(ctx, d, LiftOptions{Shift: 8, Elevation: 85})
		if !errors.Is(err, context.Canceled) {
			t.Fatalf("stopped after %v: got %v", after, err)
		}
		t.Logf("stopped %v after the word", time.Since(at))
		for name, run := range map[string]func(context.Context) error{
			"Lift": func(ctx context.Context) error {
				_, err := Lift(ctx, d, LiftOptions{Shift: 8, Elevation: 85, People: People{Everyone: true}})
				return err
			},
			"Rows": func(ctx context.Context) error {
				_, err := Rows(ctx, d, RowsOptions{Curve: 20, People: People{Everyone: true}})
				return err
			},
		} {
			ctx, cancel := context.WithTimeout(context.Background(), after)
			if err := run(ctx); !errors.Is(err, context.DeadlineExceeded) {
				t.Errorf("%s for everyone, stopped after %v: got %v", name, after, err)
			}
			cancel()
		}
	}
	told := 0.0
	lift(t, hall(1, 2, 4), LiftOptions{Progress: func(done float64, what string) {
		if done < told || done > 1 || what == "" {
			t.Errorf("progress %g %q after %g", done, what, told)
		}
		told = done
	}})
	if told != 1 {
		t.Errorf("progress ends at %g", told)
	}
}

// Designs that hardly make sense are answered or refused, never a panic.
func TestOddDesigns(t *testing.T) {
	ctx := context.Background()
	odd := map[string]func(*project.Design){
		"no loudspeakers": func(d *project.Design) { d.Speakers = nil },
		"at the ears":     func(d *project.Design) { d.Speakers[0].At = project.PointOf(place.MainPoint(d)) },
		"outside":         func(d *project.Design) { d.Speakers[0].At = project.Point{X: -20, Y: 90, Z: 50} },
		"under the floor": func(d *project.Design) { d.Speakers[0].At.Z = -3 },
		"no mirror":       func(d *project.Design) { d.Speakers = d.Speakers[1:] },
		"behind":          func(d *project.Design) { d.Seating.Rows[0].Distance = 0.1 },
		"low":             func(d *project.Design) { d.Room.Ceiling.Height = 0.5 },
		"clipped": func(d *project.Design) {
			d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 4, Y: 2}, {X: 9, Y: 6.4}, {X: 0, Y: 6.4}}
		},
		"built-in aim": func(d *project.Design) {
			d.Models[1].AimUp, d.Models[1].AimRight = 80, -70
			d.Speakers[0].Model, d.Speakers[0].At.Y = "box", 0.3
		},
		"invalid": func(d *project.Design) { d.Seating.Rows = nil },
		"nothing": func(d *project.Design) { *d = project.Design{} },
	}
	for name, spoil := range odd {
		t.Run(name, func(t *testing.T) {
			d := hall(2, 3, 4)
			spoil(d)
			valid := d.Validate() == nil
			check := func(p *Proposal, err error) {
				t.Helper()
				if valid != (err == nil) {
					t.Fatalf("valid %v, error %v", valid, err)
				}
				if err == nil {
					if err := p.Design.Validate(); err != nil {
						t.Errorf("proposes what cannot be used: %v", err)
					}
				}
			}
			check(Lift(ctx, d, LiftOptions{Shift: 0.1}))
			check(Lift(ctx, d, LiftOptions{Plane: true, Settle: true}))
			all := People{Everyone: true}
			check(Lift(ctx, d, LiftOptions{Shift: 0.1, Plane: true, People: all}))
			check(Lift(ctx, d, LiftOptions{Settle: true, Unpaired: true, People: all}))
			check(Heights(ctx, d, HeightsOptions{}))
			rows, err := Rows(ctx, d, RowsOptions{})
			check(proposal(rows), err)
			rows, err = Rows(ctx, d, RowsOptions{Vary: Bottom})
			check(proposal(rows), err)
			rows, err = Rows(ctx, d, RowsOptions{Curve: 2, People: all})
			check(proposal(rows), err)
			rows, err = Rows(ctx, d, RowsOptions{Vary: Bottom, People: all})
			check(proposal(rows), err)
			screen, err := Screen(ctx, d, ScreenOptions{})
			if err == nil {
				check(&screen.Proposal, err)
			} else if valid {
				t.Error(err)
			}
		})
	}
	for _, o := range []LiftOptions{{Elevation: unit.Degrees(math.NaN())}, {Shift: -1}, {Elevations: map[string]unit.Degrees{"M+090": 1000}}} {
		var f *project.Fault
		if _, err := Lift(ctx, hall(1, 2, 2), o); !errors.As(err, &f) {
			t.Errorf("%+v: got %v, want a fault", o, err)
		}
	}
	if _, err := Lift(ctx, nil, LiftOptions{}); err == nil {
		t.Error("no design, no error")
	}
}

func proposal(r *RowsProposal) *Proposal {
	if r == nil {
		return nil
	}
	return &r.Proposal
}

func BenchmarkLift(b *testing.B) {
	for _, seats := range []int{8, 24} {
		b.Run(fmt.Sprintf("seats=%d,speakers=16", seats), func(b *testing.B) {
			d := hall(4, seats/4, 16)
			b.ReportAllocs()
			for b.Loop() {
				if p := lift(b, d, LiftOptions{}); len(p.Changes) == 0 {
					b.Fatal("nothing lifted")
				}
			}
		})
	}
	b.Run("everyone,seats=24,speakers=16", func(b *testing.B) {
		d := hall(4, 6, 16)
		b.ReportAllocs()
		for b.Loop() {
			if p := lift(b, d, LiftOptions{People: People{Everyone: true}}); len(p.Changes) == 0 {
				b.Fatal("nothing lifted")
			}
		}
	})
	b.Run("too low", func(b *testing.B) {
		d := hall(4, 6, 16)
		d.Room.Ceiling.Height = 2.6
		b.ReportAllocs()
		for b.Loop() {
			if p := lift(b, d, LiftOptions{}); p.Solved() {
				b.Fatal("solved")
			}
		}
	})
}
