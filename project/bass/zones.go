// SPDX-License-Identifier: MIT

package bass

import (
	"context"
	"math"
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/bass/field"
)

// Sought is what Seek found.
type Sought struct {
	Design    *project.Design // with the subwoofers moved and aligned
	Study     *Study          // of it
	Placement *Placement
	Spots     []geometry.Vec // all places compared
	Stay      bool           // the present places are the best of all, once aligned
}

// fewer is Limits.Starts for every set of places: to choose among them.
const fewer = 12

// aligned is the number of best sets of places that Seek aligns to find the best.
const aligned = 8

// Seek finds the best places for the subwoofers of d in the zones of its plan p,
// on a grid of at most step metres, and aligns them there. It aligns the present
// places and the best sets of Place, and chooses those that are best once aligned.
// Output at all places is priced against what the present ones reach in phase; the
// floor of Limits.GiveUp is that of each place, since the best places for alike seats
// excite less. It assumes that all subwoofers are like the first. Each is moved to the nearest
// of the chosen places and turned away from the nearest wall. For progress and
// errors see Store.Transfer; a plan without zones is a *project.Fault.
func (s *Store) Seek(ctx context.Context, d *project.Design, p *Plan, step float64, progress func(float64)) (*Sought, error) {
	if len(p.Zones) == 0 {
		return nil, &project.Fault{Field: "sub_zones", Found: "none", Allowed: "one or more rectangles of floor where subwoofers may stand"}
	}
	if err := p.none(); err != nil {
		return nil, err
	}
	spots, err := Spots(p.Zones, step)
	if err != nil {
		return nil, err
	}
	// The sound of the places takes longest by far.
	tell := func(from, to float64) func(float64) {
		return func(v float64) {
			if progress != nil {
				progress(from + (to-from)*v)
			}
		}
	}
	t, err := s.Transfer(ctx, p, spots, tell(0, 0.8))
	if err != nil {
		return nil, err
	}
	n := len(p.Places)
	// The present places come first: only better ones replace them.
	now, err := s.Transfer(ctx, p, p.Places, nil)
	if err != nil {
		return nil, err
	}
	was := thirdLevels(now.Band(Lowest, Highest), p.Subs, p.Limits.Weights)
	// What is lost at all places is priced against the present ones, all in phase.
	priced := p.Limits
	priced.priced = thirdLevels(now.Band(Lowest, Highest), flat(p.Subs), p.Limits.Weights)
	found, err := Place(ctx, t.Band(Lowest, Highest), n, flat(p.Subs)[0], Search{
		Keep: aligned, Price: p.Limits.Price, Weights: p.Limits.Weights, Progress: tell(0.8, 0.85), priced: priced.priced})
	if err != nil {
		return nil, err
	}
	sets := []*field.Transfer{now}
	places := [][]geometry.Vec{p.Places}
	for _, set := range found.Best {
		sets = append(sets, t.Pick(set.Places))
		at := make([]geometry.Vec, n)
		for i, k := range set.Places {
			at[i] = spots[k]
		}
		places = append(places, at)
	}
	var best *Optimised
	chosen := 0
	align := func(k int, l Limits, from, to float64) error {
		given := flat(p.Subs)
		if k == 0 {
			given = p.Subs // as it is, so that it gets no worse
		}
		at := *p
		at.Limits = l
		st, err := StudyOf(&at, sets[k], given)
		if err != nil {
			return err
		}
		_, o, err := st.Align(ctx, given, tell(from, to))
		if err != nil {
			return err
		}
		if best == nil || o.worth().beats(best.worth()) {
			best, chosen = o, k
		}
		return nil
	}
	quick := priced
	quick.Starts = fewer
	share := 0.13 / float64(len(sets))
	for k := range sets {
		if err := align(k, quick, 0.85+share*float64(k), 0.85+share*float64(k+1)); err != nil {
			return nil, err
		}
	}
	if err := align(chosen, priced, 0.98, 1); err != nil {
		return nil, err
	}
	// The change is from how it was, not from the new places untuned.
	for k := range best.Thirds {
		best.Thirds[k].Before = was[k]
	}
	// A subwoofer takes its name along to where it goes.
	goes := assign(p.Places, places[chosen])
	for i, k := range goes {
		best.Subs[k].Name = p.Subs[i].Name
	}
	l, err := p.Limits.check(len(p.Ears))
	if err != nil {
		return nil, err
	}
	found.Remarks = append(found.Remarks, l.remarks(best)...)
	if len(p.Limits.Weights) > 1 {
		found.Remarks = append(found.Remarks, weighed)
	}
	if chosen == 0 {
		out := &Sought{Placement: found, Spots: spots, Stay: true, Design: p.Aligned(d, best.Subs)}
		if out.Study, err = StudyOf(p, now, best.Subs); err != nil {
			return nil, err
		}
		out.Study.Thirds = best.Thirds
		return out, nil
	}
	out := &Sought{Placement: found, Spots: spots, Design: d.Clone()}
	for i, k := range goes {
		l := &out.Design.Speakers[p.Speakers[i]]
		m, _ := d.Model(l.Model)
		l.At, l.Mount, l.Aim = project.PointOf(places[chosen][k]), project.OnFloor, inward(d.Room.Polygon(), places[chosen][k], float64(m.Depth))
		l.Tuning = best.Subs[k].Tuning()
	}
	after, err := Of(out.Design, p.Frequencies)
	if err != nil {
		return nil, err
	}
	if out.Study, err = s.New(ctx, after, nil); err != nil {
		return nil, err
	}
	out.Study.Thirds = best.Thirds
	return out, nil
}

// flat returns the subwoofers without gain and delay, and of the polarity that most
// have.
func flat(subs []Sub) []Sub {
	drives := make([]Drive, len(subs))
	for i, s := range subs {
		drives[i] = s.Drive
	}
	out := slices.Clone(subs)
	for i := range out {
		out[i].Drive = Drive{LowPass: subs[i].LowPass, Inverted: mostInverted(drives)}
	}
	return out
}

// assign pairs each place of from with one of to, the nearest pairs first, and
// returns the index in to for each. Both have the same length.
func assign(from, to []geometry.Vec) []int {
	out := make([]int, len(from))
	for i := range out {
		out[i] = -1
	}
	taken := make([]bool, len(to))
	for range from {
		best, a, b := math.Inf(1), 0, 0
		for i, p := range from {
			for k, q := range to {
				if d := p.Dist(q); out[i] < 0 && !taken[k] && d < best {
					best, a, b = d, i, k
				}
			}
		}
		out[a], taken[b] = b, true
	}
	return out
}

// inward returns the aim of a box with its front at a place: away from the nearest wall
// before which it is not too deep to stand, with more room before it than behind; or,
// before none, from the nearest.
func inward(room geometry.Polygon, at geometry.Vec, depth float64) project.Aim {
	const slack = 1e-6 // m: a box may touch the wall
	q := geometry.Vec2{X: at.X, Y: at.Y}
	edge, _ := room.Nearest(q)
	nearest := math.Inf(1)
	for i := range room {
		a, b := room.Edge(i)
		n := room.InwardNormal(i)
		off := geometry.Polygon{a, b}.Distance(q)
		ahead := geometry.Vec2{X: q.X + n.X*off, Y: q.Y + n.Y*off}
		if off < nearest && (q.X-a.X)*n.X+(q.Y-a.Y)*n.Y > depth-slack && room.Contains(ahead) {
			edge, nearest = i, off
		}
	}
	n := room.InwardNormal(edge)
	const whole = 1e9 // rounds off the dust of the arctangent
	deg := math.Round(math.Atan2(-n.Y, -n.X)*180/math.Pi*whole) / whole
	return project.Aim{Fixed: true, Azimuth: unit.Degrees(deg)}
}
