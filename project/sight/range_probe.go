// SPDX-License-Identifier: MIT

package sight

import (
	"fmt"
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// RangeProbe answers single pairs over a range of people, again and again, while
// loudspeakers are moved and everything else stands still. It is to RangeFor what
// Probe is to Audit. It keeps the sets that hold the people and, for each pair,
// the last counterexample. For one goroutine at a time.
type RangeProbe struct {
	g      *ranger
	group  []int            // by loudspeaker: index of the group of its box, or -1
	memory []*memory        // by seat
	known  []counterexample // by pair
}

// counterexample is one listener's ear and a solid that blocks it and does not
// move with the loudspeakers.
type counterexample struct {
	ok   bool
	from geometry.Vec
	by   geometry.Solid
	RangeCase
}

// Check returns a *project.Fault if o makes no sense, else nil.
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
	g.brief, g.proofs = true, map[proofKey][]proofPart{}
	p := &RangeProbe{g: g, group: g.boxes(), memory: make([]*memory, len(g.r.Seats)), known: make([]counterexample, len(g.out.Pairs))}
	for i := range p.memory {
		p.memory[i] = newMemory(len(g.r.Parts))
	}
	p.Look(0, 0)
	return p, nil
}

// Move replaces loudspeaker k by placed.
func (p *RangeProbe) Move(k int, placed place.Speaker) {
	g := p.g
	g.auditor.move(k, placed, p.group[k])
	if gi := p.group[k]; gi >= 0 {
		n := g.groups[gi].from
		g.bounds[n], g.deepest[n] = extentOfSolid(&g.solids[n]), g.solids[n].Deepest()
		g.around[gi] = geometry.Sphere{Center: g.bounds[n].center, Radius: g.bounds[n].half.Len()}
	}
}

// Look sets two limits of Shortfall: far, metres, is up to which value it
// improves Lower of a pair that holds, 0 for no further than the proof needs;
// parts is the number of parts of the range after which it leaves a pair open, 0
// for that of RangeFor. What counts only where it is crossed is not in Lower.
func (p *RangeProbe) Look(far float64, parts int) {
	p.g.stop, p.g.most = max(far, touch), parts
	if parts <= 0 {
		p.g.most = mostCells
	}
}

// Shortfall decides whether the pair of seat i and loudspeaker k holds. If it
// breaks, Worst is somebody who is blocked, not necessarily the worst. The second
// result is a distance in metres: the pair does not hold as long as no point of
// the box and drivers of loudspeaker k, or of others moved with it, moves by more
// than that. It is 0 for a pair that holds, is not judged or is left open, and for
// one that the room's shell breaks.
func (p *RangeProbe) Shortfall(i, k int) (RangePair, float64) {
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
	g.memory = p.memory[i]
	g.found.ok = false
	g.pair(i, k, &out)
	if out.Holds || !out.Certified || !g.found.ok || g.found.Blocker != out.Worst.Blocker {
		return out, 0
	}
	seg := geometry.Segment{A: g.found.from, B: sp.Drivers[driver].Center}
	if b := out.Worst.Blocker; g.r.Parts[b].Kind == place.SpeakerPart {
		// The box may move too, by as much: each moves at least half of the way.
		return out, max(-touch-out.Upper, 0) / 2
	}
	p.known[i*len(g.r.Speakers)+k] = g.found
	return out, leastMove(&g.found.by, seg, -touch)
}

// Known is Shortfall for the last counterexample of the pair only; the distance is
// 0 if there is none or it is no longer blocked.
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

// View decides whether everyone in seat i sees all of the picture. If not, Worst
// is somebody who does not, not necessarily the worst. Result has the answer too.
func (p *RangeProbe) View(i int) RangePair {
	out := &p.g.out.Views[i]
	p.g.memory = p.memory[i]
	p.g.view(i, out)
	return *out
}

// Worst returns the answer of RangeFor for seat i and loudspeaker k.
func (p *RangeProbe) Worst(i, k int) RangePair {
	var out RangePair
	p.g.memory = p.memory[i]
	most, proofs := p.g.most, p.g.proofs
	p.g.brief, p.g.most, p.g.proofs = false, mostCells, nil
	p.g.pair(i, k, &out)
	p.g.brief, p.g.most, p.g.proofs = true, most, proofs
	return out
}

// Result returns the range, its people and the loudspeakers as they now stand,
// so that the caller can put answers into words. The caller fills Pairs and
// Views.
func (p *RangeProbe) Result() *RangeResult { return p.g.out }

// boxes returns, for each loudspeaker, the index of the group of its box, or -1.
func (a *auditor) boxes() []int {
	group := slices.Repeat([]int{-1}, len(a.r.Speakers))
	for gi := range a.groups {
		if part := &a.r.Parts[a.groups[gi].from]; part.Kind == place.SpeakerPart {
			group[part.Index] = gi
		}
	}
	return group
}

// move replaces loudspeaker k by placed. gi is the group of its box, or -1.
func (a *auditor) move(k int, placed place.Speaker, gi int) {
	a.r.Speakers[k] = placed
	a.settings[k] = a.shell.settings(&placed)
	if gi >= 0 {
		box := placed.Box
		a.r.Parts[a.groups[gi].from].Box = &box
		a.putBox(gi, &box)
	}
}
