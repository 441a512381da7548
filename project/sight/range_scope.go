// SPDX-License-Identifier: MIT

package sight

import (
	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// leans is how many reclines of the smallest and the largest sitter are tried
// first.
const leans = 5

// seatRange is a seat over the whole range of people and reclines.
type seatRange struct {
	stretch
	// stages are the stretches over which the head does one thing. Sets that hold
	// a head both level and at rest hold much besides; what the head is near to,
	// its own chair, is settled stage by stage.
	stages []stretch
	bound  extent          // of ears
	sight  extent          // of eyes
	stands [2][leans]stand // smallest and largest, at even steps of recline
	set    [2]stand        // the design's listener and other, at the row's recline
	inside bool            // the design's own listener is in the room
	// before and eyesBefore tell for each wall whether all ears, or all eyes, are
	// in front of it.
	before, eyesBefore []bool
}

// mostStages is how many stages there can be: a level head, one that goes over,
// one at rest.
const mostStages = 3

// stretch is what holds everybody of the range in one seat, over some reclines.
type stretch struct {
	lean   place.Lean
	ears   geometry.Sweep
	eyes   geometry.Sweep
	of     [place.HeadrestPart + 1]geometry.Sweep
	own    [place.HeadrestPart + 1]geometry.Sweep // ears less shoulders, back, headrest
	ownEye [place.HeadrestPart + 1]geometry.Sweep
	// headrest is that to its own sitter, who holds it raised where the head rests
	// on it.
	headrest geometry.Sweep
}

// fill makes st the stretch of c in seat s over the reclines l.
func (st *stretch) fill(c *place.Crowd, s place.Seat, l place.Lean, anyHeight bool) {
	st.lean, st.ears, st.eyes = l, c.Ears(s, l, 0), c.Eyes(s, l)
	for _, kind := range movingKinds {
		st.of[kind], _ = c.Part(s, l, kind, anyHeight)
		if kind < place.ShoulderPart {
			continue // head and neck are in nobody's own way
		}
		st.own[kind], _ = c.Own(s, l, &st.ears, kind, anyHeight)
		st.ownEye[kind], _ = c.Own(s, l, &st.eyes, kind, anyHeight)
	}
	st.headrest, _ = c.Part(s, l, place.HeadrestPart, anyHeight && !s.HoldsHeadrest(l))
}

// over returns the stretch of pl over exactly the reclines l, or nil.
func (pl *seatRange) over(l place.Lean) *stretch {
	if l == pl.lean {
		return &pl.stretch
	}
	for i := range pl.stages {
		if l == pl.stages[i].lean {
			return &pl.stages[i]
		}
	}
	return nil
}

// deepest returns a depth in metres that no path is deeper in a part of this kind
// than: those of the chair are alike for all, those of a body no thicker than the
// set that holds them.
func (pl *seatRange) deepest(kind place.PartKind) float64 {
	if kind >= place.BackPart {
		return pl.stands[0][0].solids[kind].Deepest()
	}
	thickest := geometry.Ellipsoid{Basis: geometry.WorldBasis(), Radii: pl.of[kind].Radii}.Solid()
	return thickest.Deepest() + sizeTol
}

// scope is a design prepared for a range of people. Only a RangeProbe changes it
// afterwards.
type scope struct {
	sample *project.Design
	out    *RangeResult
	crowd  *place.Crowd
	people []percentilePerson // from the smallest to the largest, evenly
	places []seatRange
	bounds []extent          // of the parts over the range
	around []geometry.Sphere // of the groups over the range
	// deepest is, by part, a depth in metres that no path is deeper in it than,
	// whoever's it is.
	deepest []float64
	seatOf  []int // by part: index of the seat it belongs to, or -1
	target  geometry.Target
	beyond  float64 // a lower bound that always holds, metres
}

// percentilePerson is a person of a given percentile.
type percentilePerson struct {
	place.Person
	percentile float64
}

// everyone returns 1 + 2^depth people of c, from the smallest to the largest.
func everyone(c *place.Crowd, depth int) []percentilePerson {
	var list []percentilePerson
	var add func(c *place.Crowd, depth int)
	add = func(c *place.Crowd, depth int) {
		if depth == 0 || c.Low() == c.High() {
			list = append(list, percentilePerson{c.Small(), c.Low()})
			return
		}
		small, large := c.Halves()
		add(small, depth-1)
		add(large, depth-1)
	}
	add(c, depth)
	return append(list, percentilePerson{c.Large(), c.High()})
}

func newRanger(d *project.Design, o RangeOptions) *ranger {
	// The loudspeakers stay aimed at the main position of the design's own listener.
	sample := d.Clone()
	who := &sample.Seating.Sitters
	inside := func(p float64) float64 { return min(max(p, o.Low), o.High) }
	sample.Seating.Main = project.MainPosition{At: project.PointOf(place.MainPoint(d))}
	who.Listener, who.Others = inside(who.Listener), inside(who.Others)
	a := roomAuditor(sample)
	r := a.r
	sc := &scope{
		sample: sample,
		out: &RangeResult{Options: o, Seats: r.Seats, Speakers: r.Speakers, Parts: r.Parts, sample: r,
			Pairs: make([]RangePair, len(r.Seats)*len(r.Speakers)), Views: make([]RangePair, len(r.Seats))},
		crowd:   place.CrowdBetween(sample, o.Low, o.High),
		places:  make([]seatRange, len(r.Seats)),
		bounds:  make([]extent, len(r.Parts)),
		around:  make([]geometry.Sphere, len(a.groups)),
		deepest: make([]float64, len(r.Parts)),
		seatOf:  make([]int, len(r.Parts)),
	}
	sc.people = everyone(sc.crowd, 4)
	g := rangerOf(sc, a)
	lo, hi := a.poly.Bounds()
	sc.beyond = -hi.Sub(lo).Len() - Far
	for i, s := range r.Seats {
		pl := &g.places[i]
		g.fill(pl, s)
		pl.bound, pl.sight = extentOf(&pl.ears), extentOf(&pl.eyes)
		g.lookWalls(i)
	}
	for gi := range g.groups {
		gr := &g.groups[gi]
		ball := &g.around[gi]
		for n := gr.from; n < gr.to; n++ {
			g.seatOf[n] = gr.seat
			if kind := r.Parts[n].Kind; gr.seat >= 0 && moves(kind) {
				g.bounds[n] = extentOf(&g.places[gr.seat].of[kind])
				g.deepest[n] = g.places[gr.seat].deepest(kind)
			} else {
				g.bounds[n] = extentOfSolid(&g.solids[n])
				g.deepest[n] = g.solids[n].Deepest()
			}
			ball.Center = ball.Center.Add(g.bounds[n].center.Mul(1 / float64(gr.to-gr.from)))
		}
		for n := gr.from; n < gr.to; n++ {
			b := &g.bounds[n]
			ball.Radius = max(ball.Radius, ball.Center.Dist(b.center)+b.half.Len())
		}
	}
	center, right, up := d.Screen.Picture()
	g.target = geometry.Rect{Center: center, U: right, V: up}.Target()
	return g
}

// fill works out pl for seat s.
func (g *ranger) fill(pl *seatRange, s place.Seat) {
	o, who := &g.out.Options, &g.sample.Seating.Sitters
	lean := place.Lean{From: s.Recline, To: s.Recline}
	if o.AnyRecline {
		lean = s.Leans()
	}
	pl.stretch.fill(g.all, s, lean, o.AnyRecline)
	if list := s.Stages(lean); len(list) > 1 {
		pl.stages = make([]stretch, len(list))
		for n, l := range list {
			pl.stages[n].fill(g.all, s, l, o.AnyRecline)
		}
	}
	for n, p := range [2]place.Person{g.all.Small(), g.all.Large()} {
		for m := range pl.stands[n] {
			at := lean.From + (lean.To-lean.From)*float64(m)/(leans-1)
			pl.stands[n][m].sit(g.all, p, [2]float64{o.Low, o.High}[n], s, at, movingKinds[:]...)
		}
	}
	for n, at := range [2]float64{who.Listener, who.Others} {
		pl.set[n].sit(g.all, place.PersonAt(g.sample, at), at, s, s.Recline, movingKinds[:]...)
	}
}

// moves reports whether a part of this kind differs from person to person or
// with the recline.
func moves(kind place.PartKind) bool { return kind <= place.HeadrestPart }
