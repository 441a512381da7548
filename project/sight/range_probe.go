// SPDX-License-Identifier: MIT

package sight

import (
	"fmt"
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// RangeProbe answers single pairs over a range of people again and again while
// loudspeakers are moved about, everything else standing still: what Probe is to
// Audit it is to RangeFor. It keeps the sets that hold the people, and for each
// pair the last one who was blocked. For one goroutine at a time.
type RangeProbe struct {
	g     *ranger
	group []int            // by loudspeaker: index of the group that is its box, or -1
	warm  [][]geometry.Vec // by seat; see ranger.warm
	known []witness        // by pair
}

// witness is one listener's ear and what blocks it, which does not move.
type witness struct {
	ok   bool
	from geometry.Vec
	by   geometry.Solid
	RangeCase
}

// Check says what is wrong with o, or nil.
func (o RangeOptions) Check() error {
	if !(o.Low >= 1 && o.Low <= o.High && o.High <= 99) {
		return &project.Fault{Field: "range of people", Found: fmt.Sprintf("percentiles %v to %v", o.Low, o.High),
			Allowed: "1 to 99, the low one first"}
	}
	return nil
}

// NewRangeProbe returns a probe of d for the people of o. It works on a copy of
// d. The error says that the options make no sense.
func NewRangeProbe(d *project.Design, o RangeOptions) (*RangeProbe, error) {
	if err := o.Check(); err != nil {
		return nil, err
	}
	g := newRanger(d, o)
	g.brief = true
	p := &RangeProbe{g: g, group: g.boxes(), warm: make([][]geometry.Vec, len(g.r.Seats)), known: make([]witness, len(g.out.Pairs))}
	for i := range p.warm {
		p.warm[i] = make([]geometry.Vec, len(g.r.Parts))
	}
	p.Look(0, 0)
	return p, nil
}

// Move puts loudspeaker k where placed is.
func (p *RangeProbe) Move(k int, placed place.Speaker) {
	g := p.g
	g.auditor.move(k, placed, p.group[k])
	if gi := p.group[k]; gi >= 0 {
		n := g.groups[gi].from
		g.bounds[n] = extentOfSolid(&g.solids[n])
		g.around[gi] = geometry.Sphere{Center: g.bounds[n].center, Radius: g.bounds[n].half.Len()}
	}
}

// Look sets how far Short looks for the Lower of pairs that hold, metres, 0 for
// no farther than it must, and after how many parts of the range it leaves a
// pair open, 0 for as many as RangeFor. What counts only where it is crossed is
// not in Lower.
func (p *RangeProbe) Look(far float64, parts int) {
	p.g.stop, p.g.most = max(far, touch), parts
	if parts <= 0 {
		p.g.most = mostCells
	}
}

// Short answers the pair of seat i and loudspeaker k as far as whether it holds;
// of a pair that breaks Worst is somebody who is blocked, not the one who is
// most. The second answer is a distance in metres: however loudspeaker k, and
// others with it, are moved, no point of a box or driver by more than that, the
// pair does not hold. It is 0 for a pair that holds, is not judged or is left
// open, and for one that the room's shell breaks.
func (p *RangeProbe) Short(i, k int) (RangePair, float64) {
	g := p.g
	sp := &g.r.Speakers[k]
	driver := sp.Spec.Deciding()
	if driver < 0 || sp.Spec.Subwoofer() {
		return RangePair{}, 0
	}
	if out, move := p.Known(i, k); move > 0 {
		return out, move
	}
	var out RangePair
	g.warm = p.warm[i]
	g.found.ok = false
	g.pair(i, k, &out)
	if out.Holds || !out.Certified || !g.found.ok || g.found.Blocker != out.Worst.Blocker {
		return out, 0
	}
	seg := geometry.Segment{A: g.found.from, B: sp.Drivers[driver].Center}
	if b := out.Worst.Blocker; g.r.Parts[b].Kind == place.SpeakerPart {
		// It may move too: each covers half of the way at the least.
		return out, max(-touch-out.Upper, 0) / 2
	}
	p.known[i*len(g.r.Speakers)+k] = g.found
	return out, leastMove(&g.found.by, seg, -touch)
}

// Known is Short, but asks only whoever was blocked last in that pair; the
// distance is 0 where they are not.
func (p *RangeProbe) Known(i, k int) (RangePair, float64) {
	w := &p.known[i*len(p.g.r.Speakers)+k]
	if !w.ok {
		return RangePair{}, 0
	}
	sp := &p.g.r.Speakers[k]
	seg := geometry.Segment{A: w.from, B: sp.Drivers[sp.Spec.Deciding()].Center}
	move := leastMove(&w.by, seg, -touch)
	if !(move > 0) {
		return RangePair{}, 0
	}
	c, _ := w.by.Clearance(seg)
	return RangePair{Judged: true, Certified: true, Lower: p.g.beyond, Upper: c, Worst: w.RangeCase}, move
}

// View answers the picture for seat i as far as whether everyone sees all of it;
// of a view that breaks Worst is somebody who does not. Result has it too.
func (p *RangeProbe) View(i int) RangePair {
	out := &p.g.out.Views[i]
	p.g.warm = p.warm[i]
	p.g.view(i, out)
	return *out
}

// Worst answers the pair of seat i and loudspeaker k as RangeFor does.
func (p *RangeProbe) Worst(i, k int) RangePair {
	var out RangePair
	p.g.warm = p.warm[i]
	most := p.g.most
	p.g.brief, p.g.most = false, mostCells
	p.g.pair(i, k, &out)
	p.g.brief, p.g.most = true, most
	return out
}

// Result returns the range, its people and the loudspeakers as they stand now,
// for its words. Its Pairs and Views are the caller's to fill.
func (p *RangeProbe) Result() *RangeResult { return p.g.out }

// boxes returns by loudspeaker the index of the group that is its box, or -1.
func (a *auditor) boxes() []int {
	group := slices.Repeat([]int{-1}, len(a.r.Speakers))
	for gi := range a.groups {
		if part := &a.r.Parts[a.groups[gi].from]; part.Kind == place.SpeakerPart {
			group[part.Index] = gi
		}
	}
	return group
}

// move puts loudspeaker k, whose box is group gi or -1, where placed is.
func (a *auditor) move(k int, placed place.Speaker, gi int) {
	a.r.Speakers[k] = placed
	a.settings[k] = a.shell.settings(&placed)
	if gi >= 0 {
		g := &a.groups[gi]
		part := &a.r.Parts[g.from]
		box := placed.Box
		part.Box = &box
		a.solids[g.from] = part.Solid()
		a.balls[g.from] = ballOf(part, &a.solids[g.from])
		g.bound, g.inner = a.solids[g.from].Bound(), part.Inner()
	}
}
