// SPDX-License-Identifier: MIT

package sight_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/projecttest"
	"earline/project/sight"
)

// same says which seat, loudspeaker and ear of another design are those of this
// one; nil functions are the identity.
type same struct {
	seat, speaker func(int) int
	otherEar      bool                              // left here is right there
	place         func(p geometry.Vec) geometry.Vec // where a point here is there
}

func (s same) seatOf(i int) int {
	if s.seat == nil {
		return i
	}
	return s.seat(i)
}

func (s same) speakerOf(k int) int {
	if s.speaker == nil {
		return k
	}
	return s.speaker(k)
}

func (s same) pathOf(n int) int {
	if s.otherEar {
		return n ^ 1
	}
	return n
}

func (s same) placeOf(p geometry.Vec) geometry.Vec {
	if s.place == nil {
		return p
	}
	return s.place(p)
}

const (
	shareTol = 1e-6 // shares are exact to about 1e-9
	wayTol   = 1e-6 // m
	edge     = 1e-7 // m, or of a share: so near a limit either verdict is right
)

// placedAlike reports whether everything of a stands in b where s says. It does
// not where a flush loudspeaker in a corner is as near to one wall as to another.
func placedAlike(a, b *sight.Result, s same) bool {
	const tol = 1e-9
	for k := range a.Speakers {
		p, q := &a.Speakers[k], &b.Speakers[s.speakerOf(k)]
		for n := range p.Drivers {
			if s.placeOf(p.Drivers[n].Center).Dist(q.Drivers[n].Center) > tol {
				return false
			}
		}
		if s.placeOf(p.Box.Center).Dist(q.Box.Center) > tol {
			return false
		}
	}
	return true
}

// differ calls say for every answer of a that is another one in b.
func differ(d *project.Design, a, b *sight.Result, s same, say func(what, figures string)) {
	margin, picture := float64(d.Criteria.Margin), float64(d.Criteria.PictureMargin)
	for i := range a.Seats {
		for k := range a.Speakers {
			pa, pb := a.Pair(i, k), b.Pair(s.seatOf(i), s.speakerOf(k))
			for n := range pa.Paths {
				p, q := &pa.Paths[n], &pb.Paths[s.pathOf(n)]
				figures := fmt.Sprintf("seat %s to %s, driver %d, %s ear: %v by %s, clearance %.9g, share %.9g; there %v by %s, clearance %.9g, share %.9g",
					a.Seats[i].Name(), a.Speakers[k].Name(), p.Driver, p.Ear,
					p.Verdict, a.WordsFrom(i, p.Blocker), p.Clearance, p.Visible, q.Verdict, b.WordsFrom(s.seatOf(i), q.Blocker), q.Clearance, q.Visible)
				onEdge := near(p.Clearance, margin, edge) || near(p.Clearance, -1e-6, edge) || near(p.Visible, 1-1e-6, edge)
				switch {
				case p.Verdict != q.Verdict && !onEdge:
					say("verdict", figures)
				case !near(p.Visible, q.Visible, shareTol):
					say("share", figures)
				case !near(p.Clearance, q.Clearance, wayTol):
					say("clearance", figures)
				case p.Verdict == sight.Blocked && p.Clearance < -1e-5 && s.placeOf(p.Enter).Dist(q.Enter) > wayTol:
					say("where a path is entered", figures)
				}
			}
			if pa.Verdict != pb.Verdict {
				if w := pa.Deciding(); !near(w.Clearance, margin, edge) && !near(w.Clearance, -1e-6, edge) && !near(w.Visible, 1-1e-6, edge) {
					say("verdict of a pair", fmt.Sprintf("seat %s to %s", a.Seats[i].Name(), a.Speakers[k].Name()))
				}
			}
		}
		p, q := &a.Views[i], &b.Views[s.seatOf(i)]
		figures := fmt.Sprintf("picture from seat %s: %v by %s, clearance %.9g, share %.9g; there %v by %s, clearance %.9g, share %.9g", a.Seats[i].Name(),
			p.Verdict, a.WordsFrom(i, p.Blocker), p.Clearance, p.Visible, q.Verdict, b.WordsFrom(s.seatOf(i), q.Blocker), q.Clearance, q.Visible)
		onEdge := near(p.Clearance, picture, edge) || near(p.Clearance, -1e-6, edge) || near(p.Visible, 1-1e-6, edge)
		switch {
		case p.Verdict != q.Verdict && !onEdge:
			say("verdict of a view", figures)
		case !near(p.Visible, q.Visible, shareTol):
			say("share of a view", figures)
		case !near(p.Clearance, q.Clearance, 1e-4): // found by a search along the edge
			say("clearance of a view", figures)
		}
	}
}

func near(a, b, tol float64) bool { return a == b || math.Abs(a-b) <= tol }

// metamorphic audits rooms as drawn and as change makes them, which must answer
// alike. change works on a copy.
func metamorphic(t *testing.T, o projecttest.Rooms, rooms int, change func(r *rand.Rand, d *project.Design) same) {
	t.Helper()
	var found tally
	skipped := 0
	for seed := range uint64(rooms) {
		d := o.Room(seed)
		other := d.Clone()
		s := change(rand.New(rand.NewPCG(seed, 5)), other)
		if err := other.Validate(); err != nil {
			t.Fatalf("room %d: %v", seed, err)
		}
		a, b := sight.Audit(d), sight.Audit(other)
		if !placedAlike(a, b, s) {
			skipped++
			continue
		}
		differ(d, a, b, s, func(what, figures string) { found.add(seed, what, figures) })
	}
	found.report(t, rooms)
	if skipped > rooms/5 {
		t.Errorf("%d of %d rooms place things otherwise: the test looks at too little", skipped, rooms)
	}
}

// A room and its mirror image answer alike.
func TestMirroredRoomAnswersAlike(t *testing.T) {
	for _, rooms := range []projecttest.Rooms{{}, {Planes: true}} {
		metamorphic(t, rooms, 150, mirrored)
	}
}

// mirrored turns d into its mirror image.
func mirrored(_ *rand.Rand, d *project.Design) same {
	_, hi := d.Room.Polygon().Bounds()
	w := unit.Length(hi.Y)
	for i := range d.Room.Footprint {
		d.Room.Footprint[i].Y = w - d.Room.Footprint[i].Y
	}
	if c := &d.Room.Ceiling; c.Slope == project.LeftToRight {
		c.Height, c.FarHeight = c.FarHeight, c.Height
	}
	for i := range d.Room.Ceiling.Planes {
		p := &d.Room.Ceiling.Planes[i]
		p.From.Y, p.To.Y = w-p.From.Y, w-p.To.Y
	}
	for i := range d.Room.Features {
		f := &d.Room.Features[i]
		f.At.Y, f.Turn = w-f.At.Y, -f.Turn
	}
	d.Screen.Centre = w - d.Screen.Centre
	first := make([]int, len(d.Seating.Rows)+1) // seats before a row
	for i := range d.Seating.Rows {
		r := &d.Seating.Rows[i]
		r.Centre, r.Stagger = w-r.Centre, -r.Stagger
		left := r.Left
		if r.Left = 0; r.Right > 0 {
			r.Left = max(w-r.Right, 0)
		}
		if r.Right = 0; left > 0 {
			r.Right = w - left
		}
		for k := range r.Steps {
			switch s := &r.Steps[k]; s.Side {
			case project.LeftSide:
				s.Side = project.RightSide
			case project.RightSide:
				s.Side = project.LeftSide
			default:
				s.At = w - s.At
			}
		}
		first[i+1] = first[i] + r.Seats
	}
	d.Seating.Main.At.Y = w - d.Seating.Main.At.Y
	for i := range d.Models {
		m := &d.Models[i]
		m.AimRight = -m.AimRight
		for n := range m.Drivers {
			m.Drivers[n].Right = -m.Drivers[n].Right
		}
	}
	for i := range d.Speakers {
		l := &d.Speakers[i]
		l.At.Y, l.Aim.Azimuth = w-l.At.Y, -l.Aim.Azimuth
	}
	return same{
		seat: func(i int) int {
			for n := range len(first) - 1 {
				if i < first[n+1] {
					return first[n] + first[n+1] - 1 - i
				}
			}
			return i
		},
		otherEar: true,
		place:    func(p geometry.Vec) geometry.Vec { p.Y = float64(w) - p.Y; return p },
	}
}

// A room that is drawn elsewhere answers alike.
func TestMovedRoomAnswersAlike(t *testing.T) {
	metamorphic(t, projecttest.Rooms{}, 150, func(r *rand.Rand, d *project.Design) same {
		x, y := unit.Length(r.IntN(40))/4, unit.Length(20*r.Float64())
		move := func(p *project.Point) { p.X += x; p.Y += y }
		for i := range d.Room.Footprint {
			d.Room.Footprint[i].X += x
			d.Room.Footprint[i].Y += y
		}
		for i := range d.Room.Features {
			move(&d.Room.Features[i].At)
		}
		d.Screen.Distance += x
		d.Screen.Centre += y
		for i := range d.Seating.Rows {
			r := &d.Seating.Rows[i]
			r.Distance += x
			r.Centre += y
			if r.Left > 0 {
				r.Left += y
			}
			if r.Right > 0 {
				r.Right += y
			}
			for k := range r.Steps {
				if s := &r.Steps[k]; s.Side == project.LeftSide || s.Side == project.RightSide {
					s.At += x
				} else {
					s.At += y
				}
			}
		}
		move(&d.Seating.Main.At)
		for i := range d.Speakers {
			move(&d.Speakers[i].At)
		}
		return same{place: func(p geometry.Vec) geometry.Vec {
			return p.Add(geometry.Vec{X: float64(x), Y: float64(y)})
		}}
	})
}

// The order of rows, loudspeakers, features and models changes nothing.
func TestOrderChangesNothing(t *testing.T) {
	metamorphic(t, projecttest.Rooms{}, 150, func(r *rand.Rand, d *project.Design) same {
		shuffle(r, d.Room.Features)
		shuffle(r, d.Models)
		shuffle(r, d.Chairs)
		speakers := r.Perm(len(d.Speakers)) // the n-th goes to place speakers[n]
		d.Speakers = permuted(d.Speakers, speakers)
		rows := r.Perm(len(d.Seating.Rows))
		seats := seatsOf(d)
		d.Seating.Rows = permuted(d.Seating.Rows, rows)
		if m := &d.Seating.Main; m.Row > 0 {
			m.Row = rows[m.Row-1] + 1
		}
		now := seatsOf(d)
		return same{
			speaker: func(k int) int { return speakers[k] },
			seat: func(i int) int {
				return slices.Index(now, [2]int{rows[seats[i][0]], seats[i][1]})
			},
		}
	})
}

// seatsOf returns the row and number of every seat, both counted from 0.
func seatsOf(d *project.Design) (out [][2]int) {
	for i, r := range d.Seating.Rows {
		for n := range r.Seats {
			out = append(out, [2]int{i, n})
		}
	}
	return out
}

func shuffle[T any](r *rand.Rand, s []T) {
	r.Shuffle(len(s), func(i, j int) { s[i], s[j] = s[j], s[i] })
}

// permuted returns s with the n-th at place to[n].
func permuted[T any](s []T, to []int) []T {
	out := make([]T, len(s))
	for n := range s {
		out[to[n]] = s[n]
	}
	return out
}

// From which corner, and which way round, the footprint is drawn changes nothing.
func TestFirstCornerAndSenseChangeNothing(t *testing.T) {
	metamorphic(t, projecttest.Rooms{}, 150, func(r *rand.Rand, d *project.Design) same {
		f := d.Room.Footprint
		n := r.IntN(len(f))
		d.Room.Footprint = slices.Concat(f[n:], f[:n])
		if r.IntN(2) == 0 {
			slices.Reverse(d.Room.Footprint)
		}
		return same{}
	})
}

// A wall drawn as two edges is still one wall.
func TestWallDrawnAsTwoEdges(t *testing.T) {
	metamorphic(t, projecttest.Rooms{}, 150, func(r *rand.Rand, d *project.Design) same {
		f := d.Room.Footprint
		n := r.IntN(len(f))
		a, b := f[n], f[(n+1)%len(f)]
		at := unit.Length(0.1 + 0.8*r.Float64())
		d.Room.Footprint = slices.Insert(f, n+1, project.Corner{X: a.X + at*(b.X-a.X), Y: a.Y + at*(b.Y-a.Y)})
		return same{}
	})
}

// A corner, or a piece of wall, cut out of the footprint hides what a pier of the
// same volume hides. (A pier counts by clearance too, a wall only when crossed:
// so tight and clear may differ.)
func TestTwoWaysToDrawAPier(t *testing.T) {
	const rooms = 200
	var found tally
	for seed := range uint64(rooms) {
		d := projecttest.Rooms{Convex: true, Inside: true, Speakers: 8}.Room(seed)
		r := rand.New(rand.NewPCG(seed, 6))
		d.Room.Footprint = rectangle(d.Room.Polygon().Bounds())
		for i := range d.Models {
			d.Models[i].Flush = false // else it would turn to another wall
		}
		cut := d.Clone()
		box := drawPier(r, cut)
		// Two more loudspeakers in the face that looks into the room, one of them
		// partly beside it.
		for n, along := range []unit.Length{0, 0.5} {
			l := d.Speakers[0]
			l.Copy, l.Aim = fmt.Sprint("flush ", n), project.Aim{Fixed: true, Azimuth: -90}
			l.At = project.Point{X: box.At.X + along*box.Length, Y: box.Width, Z: 1.2}
			cut.Speakers = append(cut.Speakers, l)
		}
		pier := cut.Clone()
		pier.Room.Footprint = d.Room.Footprint
		pier.Room.Features = append(pier.Room.Features, box)
		solid := box.Box().Solid()
		depth := func(p geometry.Vec) float64 {
			c, _ := solid.Clearance(geometry.Segment{A: p, B: p})
			return -c
		}
		outline := cut.Room.Polygon()
		a, b := sight.Audit(cut), sight.Audit(pier)
		for i := range a.Seats {
			if max(depth(a.Bodies[i].EarLeft), depth(a.Bodies[i].EarRight), depth(a.Bodies[i].Eye())) > -0.001 {
				continue // nobody sits in a wall
			}
			for k := range a.Speakers {
				pa, pb := a.Pair(i, k), b.Pair(i, k)
				for n := range pa.Paths {
					p, q := &pa.Paths[n], &pb.Paths[n]
					// A driver in the wall by up to 30 mm is forgiven, in a pier not.
					if at := (geometry.Vec2{X: p.To.X, Y: p.To.Y}); !outline.Contains(at) && outline.Distance(at) < 0.031 {
						continue
					}
					compare(&found, seed, fmt.Sprintf("seat %s to %s, driver %d, %s ear", a.Seats[i].Name(), a.Speakers[k].Name(), p.Driver, p.Ear),
						p.Verdict == sight.Blocked, q.Verdict == sight.Blocked, p.Visible, q.Visible)
				}
			}
			p, q := &a.Views[i], &b.Views[i]
			compare(&found, seed, fmt.Sprintf("picture from seat %s", a.Seats[i].Name()),
				p.Verdict == sight.Blocked, q.Verdict == sight.Blocked, p.Visible, q.Visible)
		}
	}
	found.report(t, rooms)
}

// compare notes two answers to one question that disagree.
func compare(found *tally, seed uint64, where string, blocked, there bool, share, shareThere float64) {
	figures := fmt.Sprintf("%s: blocked %v, share %.9g; there blocked %v, share %.9g", where, blocked, share, there, shareThere)
	what := "share"
	if where[0] == 'p' {
		what = "share of a view"
	}
	switch {
	case !near(share, shareThere, shareTol):
		found.add(seed, what, figures)
	case blocked != there && !near(share, 1-1e-6, 2e-6):
		found.add(seed, "blocked: "+what, figures)
	}
}

func rectangle(lo, hi geometry.Vec2) []project.Corner {
	x, y := unit.Length(hi.X), unit.Length(hi.Y)
	return []project.Corner{{X: unit.Length(lo.X), Y: unit.Length(lo.Y)}, {X: x, Y: unit.Length(lo.Y)}, {X: x, Y: y}, {X: unit.Length(lo.X), Y: y}}
}

// drawPier cuts a corner or a piece of the left wall out of d's rectangle and
// returns the pier that fills what was cut out, far higher than the room.
func drawPier(r *rand.Rand, d *project.Design) project.Feature {
	_, hi := d.Room.Polygon().Bounds()
	x, y := unit.Length(hi.X), unit.Length(hi.Y)
	deep := 0.1 + unit.Length(math.Round(30*float64(y)*r.Float64())/100)
	long := 0.2 + unit.Length(math.Round(40*float64(x)*r.Float64())/100)
	from := unit.Length(0) // a corner at the screen wall
	if r.IntN(2) == 0 {
		from = 0.2 + unit.Length(math.Round(100*(float64(x-long)-0.4)*r.Float64())/100)
	}
	to := from + long
	d.Room.Footprint = []project.Corner{{X: to, Y: 0}, {X: x, Y: 0}, {X: x, Y: y}, {X: 0, Y: y}}
	if from > 0 {
		d.Room.Footprint = append(d.Room.Footprint, project.Corner{X: 0, Y: 0}, project.Corner{X: from, Y: 0})
	}
	d.Room.Footprint = append(d.Room.Footprint, project.Corner{X: from, Y: deep}, project.Corner{X: to, Y: deep})
	return project.Feature{Kind: project.Column, Name: "pier", At: project.Point{X: (from + to) / 2, Y: deep / 2, Z: -1}, Length: long, Width: deep, Height: 10}
}

// A soffit drawn as several boxes is still one soffit. (What carries a
// loudspeaker counts only when crossed, and of several boxes one carries it: for
// those only what is hidden is compared. So are depths: the least shift out of
// one box may be into the next.)
func TestSoffitDrawnAsSeveralBoxes(t *testing.T) {
	const rooms = 200
	var found tally
	for seed := range uint64(rooms) {
		d := projecttest.Room(seed)
		r := rand.New(rand.NewPCG(seed, 7))
		if len(d.Room.Features) == 0 {
			continue
		}
		n := r.IntN(len(d.Room.Features))
		f := d.Room.Features[n]
		if f.Length < 0.1 || f.Width < 0.1 {
			continue
		}
		split := d.Clone()
		one, two := f, f
		share := unit.Length(0.2 + 0.6*r.Float64())
		one.Length, two.Length = share*f.Length, (1-share)*f.Length
		sin, cos := math.Sincos(f.Turn.Radians())
		shift := func(p *project.Point, by unit.Length) {
			p.X += by * unit.Length(cos)
			p.Y += by * unit.Length(sin)
		}
		shift(&one.At, -(f.Length-one.Length)/2)
		shift(&two.At, (f.Length-two.Length)/2)
		split.Room.Features[n] = one
		split.Room.Features = append(split.Room.Features, two)
		a, b := sight.Audit(d), sight.Audit(split)
		solid := f.Box().Solid()
		for i := range a.Seats {
			for k := range a.Speakers {
				sp := &a.Speakers[k]
				at := sp.At.Vec()
				gap, _ := solid.Clearance(geometry.Segment{A: at, B: at.Sub(sp.Front.W.Mul(float64(sp.Spec.Depth)))})
				pa, pb := a.Pair(i, k), b.Pair(i, k)
				for n := range pa.Paths {
					p, q := &pa.Paths[n], &pb.Paths[n]
					where := fmt.Sprintf("seat %s to %s, driver %d, %s ear", a.Seats[i].Name(), sp.Name(), p.Driver, p.Ear)
					compare(&found, seed, where, p.Verdict == sight.Blocked, q.Verdict == sight.Blocked, p.Visible, q.Visible)
					if gap > 0.021 && p.Clearance > 0 && !near(p.Clearance, q.Clearance, wayTol) {
						found.add(seed, "clearance", fmt.Sprintf("%s: %.9g, there %.9g", where, p.Clearance, q.Clearance))
					}
				}
			}
			p, q := &a.Views[i], &b.Views[i]
			where := fmt.Sprintf("picture from seat %s", a.Seats[i].Name())
			compare(&found, seed, where, p.Verdict == sight.Blocked, q.Verdict == sight.Blocked, p.Visible, q.Visible)
			if p.Clearance > 0 && !near(p.Clearance, q.Clearance, 1e-4) {
				found.add(seed, "clearance of a view", fmt.Sprintf("%s: %.9g, there %.9g", where, p.Clearance, q.Clearance))
			}
		}
	}
	found.report(t, rooms)
}

// Taking a thing away never lowers a share and never blocks what was free.
func TestTakingAwayAnObstacleNeverHidesMore(t *testing.T) {
	const rooms = 150
	var found tally
	for seed := range uint64(rooms) {
		d := projecttest.Room(seed)
		r := rand.New(rand.NewPCG(seed, 8))
		d.Seating.Main = project.MainPosition{At: project.PointOf(place.MainPoint(d))} // no aim changes
		before := sight.Audit(d)
		without := func(what string, edit func(c *project.Design), s same, seats, speakers []int) {
			c := d.Clone()
			edit(c)
			after := sight.Audit(c)
			for _, i := range seats {
				for _, k := range speakers {
					pa, pb := before.Pair(i, k), after.Pair(s.seatOf(i), s.speakerOf(k))
					for n := range pa.Paths {
						less(&found, seed, what+": path", fmt.Sprintf("seat %s to %s", before.Seats[i].Name(), before.Speakers[k].Name()),
							pa.Paths[n].Visible, pb.Paths[n].Visible, pa.Paths[n].Verdict, pb.Paths[n].Verdict)
					}
				}
				p, q := &before.Views[i], &after.Views[s.seatOf(i)]
				less(&found, seed, what+": view", "seat "+before.Seats[i].Name(), p.Visible, q.Visible, p.Verdict, q.Verdict)
			}
		}
		seats, speakers := count(len(before.Seats)), count(len(before.Speakers))
		if n := len(d.Room.Features); n > 0 {
			at := r.IntN(n)
			without("a feature", func(c *project.Design) { c.Room.Features = slices.Delete(c.Room.Features, at, at+1) }, same{}, seats, speakers)
		}
		if !d.Screen.Transparent {
			without("the sheet", func(c *project.Design) { c.Screen.Transparent = true }, same{}, seats, speakers)
		}
		at := r.IntN(len(d.Speakers))
		without("a loudspeaker", func(c *project.Design) { c.Speakers = slices.Delete(c.Speakers, at, at+1) },
			same{speaker: skip(at, 1)}, seats, slices.Delete(slices.Clone(speakers), at, at+1))
		if n := len(d.Seating.Rows); n > 1 {
			at := r.IntN(n)
			first := 0
			for _, row := range d.Seating.Rows[:at] {
				first += row.Seats
			}
			gone := d.Seating.Rows[at].Seats
			without("a row", func(c *project.Design) { c.Seating.Rows = slices.Delete(c.Seating.Rows, at, at+1) },
				same{seat: skip(first, gone)}, slices.Delete(slices.Clone(seats), first, first+gone), speakers)
		}
	}
	found.report(t, rooms)
}

// less notes what is seen worse once something was taken away.
func less(found *tally, seed uint64, what, where string, before, after float64, was, is sight.Verdict) {
	if after < before-shareTol || is == sight.Blocked && was != sight.Blocked {
		found.add(seed, what, fmt.Sprintf("%s: share %.9g, %v, with it; %.9g, %v, without", where, before, was, after, is))
	}
}

func count(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// skip returns where an index is once n from first on are gone.
func skip(first, n int) func(int) int {
	return func(i int) int {
		if i >= first {
			return i - n
		}
		return i
	}
}
