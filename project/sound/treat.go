// SPDX-License-Identifier: MIT

package sound

import (
	"math"
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/shell"
)

// Advice is what to put on a Patch.
type Advice string

// The advice. It is common practice without a source.
const (
	// Absorb what comes early or strong.
	Absorb Advice = "absorption"
	// Spread what comes later and is not too strong.
	Spread Advice = "diffusion"
	// Carpet is for floors, Leave for those that have it: what is left goes between
	// legs and under feet.
	Carpet Advice = "thick carpet or a rug"
	Leave  Advice = "carpeted, leave it"
)

// Patch is a rectangle of a surface with reflections that break the limit.
type Patch struct {
	Surface int // index in Reflections.Surfaces
	Words   string
	// From and To are along the wall from its first corner, Low and High its
	// heights; on a floor or ceiling they are x, and y, as in project.Treatment;
	// metres.
	From, To, Low, High float64
	Speakers, Seats     []int   // concerned, in order; MainSeat for the main position
	Strongest           float64 // dB against the direct sound, 1 to 8 kHz
	Earliest            float64 // ms
	Count               int     // reflections
	Advice              Advice
}

// Treatment returns p as a panel of that material; ok is false where the document
// has no panels: floors, platforms, features.
func (r *Reflections) Treatment(p Patch, material string) (project.Treatment, bool) {
	on := &r.Surfaces[p.Surface]
	t := project.Treatment{Material: material, From: unit.Length(p.From), To: unit.Length(p.To),
		Low: unit.Length(p.Low), High: unit.Length(p.High)}
	switch on.Kind {
	case shell.Wall:
		t.Wall = on.Index
	case shell.Ceiling:
	default:
		return project.Treatment{}, false
	}
	return t, true
}

// patchReach is how far a patch reaches beyond the points of reflection: a
// reflection needs a piece of wall about a wavelength of 1 kHz wide, and heads
// move. Common practice, no source.
const patchReach = 0.3 // m

// Treat returns where to treat the room so that nothing breaks the limit any more
// at the main listening position, or at every seat too: rectangles about the points
// of reflection, the strongest first; those that touch are joined. For a reflection
// by two surfaces it treats the first.
func (r *Reflections) Treat(seats bool) []Patch {
	var out []Patch
	for i := range r.All {
		f := &r.All[i]
		if !f.Breaks || f.Seat != MainSeat && !seats {
			continue
		}
		on := &r.Surfaces[f.Surfaces[0]]
		q := on.Flat(f.Points[0])
		lo, hi := on.Outline.Bounds()
		p := Patch{Surface: f.Surfaces[0], Words: on.Words,
			From: max(q.X-patchReach, lo.X), To: min(q.X+patchReach, hi.X),
			Low: max(q.Y-patchReach, lo.Y), High: min(q.Y+patchReach, hi.Y),
			Speakers: []int{f.Speaker}, Seats: []int{f.Seat}, Strongest: f.Strongest, Earliest: f.Delay, Count: 1}
		out = joined(out, p)
	}
	for i := range out {
		p := &out[i]
		slices.Sort(p.Speakers)
		slices.Sort(p.Seats)
		p.Advice = advice(&r.Surfaces[p.Surface], p)
	}
	slices.SortStableFunc(out, func(a, b Patch) int {
		switch {
		case a.Strongest > b.Strongest:
			return -1
		case a.Strongest < b.Strongest:
			return 1
		}
		return a.Surface - b.Surface
	})
	return out
}

// joined adds p to all, joined with the patches that it touches.
func joined(all []Patch, p Patch) []Patch {
	for again := true; again; {
		again = false
		for i := range all {
			q := &all[i]
			if q.Surface != p.Surface || q.From > p.To || p.From > q.To || q.Low > p.High || p.Low > q.High {
				continue
			}
			p.From, p.To = min(p.From, q.From), max(p.To, q.To)
			p.Low, p.High = min(p.Low, q.Low), max(p.High, q.High)
			p.Strongest, p.Earliest = max(p.Strongest, q.Strongest), min(p.Earliest, q.Earliest)
			p.Count += q.Count
			p.Speakers, p.Seats = union(q.Speakers, p.Speakers), union(q.Seats, p.Seats)
			all = slices.Delete(all, i, i+1)
			again = true
			break
		}
	}
	return append(all, p)
}

func union(a, b []int) []int {
	for _, v := range b {
		if !slices.Contains(a, v) {
			a = append(a, v)
		}
	}
	return a
}

func advice(on *shell.Surface, p *Patch) Advice {
	const (
		early  = 7.0  // ms: before it reflections colour, after it they may widen
		strong = -5.0 // dB
		soft   = 0.5  // at 1 kHz
	)
	floor := on.Kind == shell.Floor || on.Kind == shell.Platform
	switch {
	case floor && on.Finish.Absorption[kilohertz] >= soft:
		return Leave
	case floor:
		return Carpet
	case p.Earliest < early || p.Strongest > strong:
		return Absorb
	}
	return Spread
}

// Corners returns the corners of p in the room, for drawing.
func (r *Reflections) Corners(p Patch) [4]geometry.Vec {
	on := &r.Surfaces[p.Surface]
	at := func(u, v float64) geometry.Vec {
		q := on.Origin.Add(on.U.Mul(u)).Add(on.V.Mul(v))
		// The flat coordinates of a sloping ceiling are those of its plan.
		if n := on.Normal; math.Abs(n.Z) > 1e-9 && on.Kind == shell.Ceiling {
			q.Z = on.Origin.Z - (n.X*(q.X-on.Origin.X)+n.Y*(q.Y-on.Origin.Y))/n.Z
		}
		return q
	}
	return [4]geometry.Vec{at(p.From, p.Low), at(p.To, p.Low), at(p.To, p.High), at(p.From, p.High)}
}
