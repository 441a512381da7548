// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"math"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/sight"
)

// viewers are the sitters who have to see the picture.
type viewers struct {
	ctx context.Context
	People
	// estimateOnly accepts an estimate of the certificate; limitCells limits the
	// cells searched per pair.
	estimateOnly, limitCells bool

	// pic, if there is one, answers for the set sitters: of the design, only the
	// picture changes.
	pic *sight.Viewer

	last      int     // the last seat from which somebody of the range did not see
	u, openAt float64 // where climb is, and from where on the certificate was open
}

// climb is the function climb with the step resolution and look for the shortfall
// at u, with few cells. It then bisects the stretch in which these left the
// certificate open, with all cells.
func (w *viewers) climb(lo, hi float64, look func(u float64) viewShortfall) (u float64, ok bool, err error) {
	w.openAt, w.limitCells = math.Inf(1), true
	u, ok, err = climb(w.ctx, lo, hi, resolution, func(u float64) (float64, bool) {
		w.u = u
		k := look(u)
		return k.step, k.fails
	})
	low := w.openAt
	w.limitCells = false
	for ok && err == nil && u-low > millimetre/2 {
		mid := (low + u) / 2
		if look(mid).fails {
			low = mid
		} else {
			u = mid
		}
		err = w.ctx.Err()
	}
	return u, ok, err
}

// look returns what the seats of d's row (from 0; -1 for all) lack: the set
// sitters with the margin, then, with Everyone, the range.
func (w *viewers) look(d *project.Design, row int) viewShortfall {
	out := viewShortfall{}
	margin := float64(d.Criteria.PictureMargin)
	take := func(i int, step float64) {
		if !out.fails || step > out.step {
			out.step, out.seat = step, i
		}
		out.fails = true
	}
	view := func(i int) bool {
		v := out.set.Views[i]
		if row >= 0 && out.set.Seats[i].Row != row+1 || v.Verdict == sight.Clear {
			return false
		}
		switch {
		case v.Eye.X <= float64(d.Screen.Distance):
			take(i, math.Inf(1)) // behind the picture
		case v.Clearance < margin:
			take(i, margin-v.Clearance)
		default:
			take(i, blindStep)
		}
		return true
	}
	if w.pic == nil {
		out.set = sight.Audit(d)
		for i := range out.set.Views {
			view(i)
		}
	} else {
		w.pic.Screen(d.Screen)
		out.set = w.pic.Room()
		seats := len(out.set.Seats)
		for n := range seats {
			i := (w.last + n) % seats // the seat that failed last is likely to fail again
			w.pic.View(i)
			if view(i) { // one is enough for a step
				w.last = i
				break
			}
		}
	}
	if out.fails {
		w.openAt = math.Inf(1)
	}
	if out.fails || !w.Everyone {
		return out
	}
	all, err := w.probe(d)
	if err != nil || w.ctx.Err() != nil { // the context's: climb returns it
		return viewShortfall{fails: true, step: math.Inf(1), set: out.set}
	}
	look, parts := 0.002, 0 // m, the step where the certificate is open
	switch {
	case w.estimateOnly:
		look, parts = lookAgain, cellsForEstimate
	case w.limitCells:
		parts = cellsWhileClimbing
	}
	all.Look(0, parts)
	seats := len(out.set.Seats)
	for n := range seats {
		i := (w.last + n) % seats // the seat that failed last is likely to fail again
		if row >= 0 && out.set.Seats[i].Row != row+1 {
			continue
		}
		v := all.View(i)
		switch {
		case !v.Judged || v.Holds:
			continue
		case v.Lower <= -sight.Far:
			take(i, math.Inf(1)) // somebody's eye is behind the picture
		case v.Certified:
			take(i, max(-v.Upper, blindStep))
		default:
			take(i, look)
			w.openAt = min(w.openAt, w.u)
		}
		if v.Certified {
			w.openAt = math.Inf(1)
		}
		if w.estimateOnly {
			out.step = max(out.step, look)
		}
		out.all, w.last = all.Result(), i
		return out
	}
	return out
}

// viewShortfall is what some seats lack to see the whole picture.
type viewShortfall struct {
	fails bool
	// step is a lower bound of how far an eye or the picture's edge must move,
	// metres; seat is the one that needs it.
	step float64
	seat int
	set  *sight.Result
	all  *sight.RangeResult // set when only somebody of the range fails
}

// who says what is in the way of the seat that lacks most.
func (k *viewShortfall) who() string {
	if k.all == nil {
		return k.set.WordsFrom(k.seat, k.set.Views[k.seat].Blocker)
	}
	v := &k.all.Views[k.seat]
	if !v.Certified {
		return "something that the certificate cannot tell"
	}
	return k.all.Case(k.seat, v.Worst)
}

// amount returns the largest shortfall of any seat, in metres.
func (k *viewShortfall) amount(margin float64) float64 {
	if k.all != nil {
		return max(-k.all.Views[k.seat].Upper, 0)
	}
	return max(margin-k.set.Views[k.seat].Clearance, 0)
}

// lowestBottom returns the lowest height of the picture's lower edge, from lo up to hi
// or the ceiling, that all seats of d see with the margin.
func (w *viewers) lowestBottom(d *project.Design, lo, hi float64) (float64, bool, error) {
	c := d.Clone()
	hi = min(hi, mostBottom(d))
	look := func(b float64) viewShortfall {
		c.Screen.Bottom = unit.Length(b)
		return w.look(c, -1)
	}
	b, ok, err := w.climb(lo, hi, look)
	if up := upTo(b, millimetre); ok && up <= hi && !look(up).fails {
		b = up
	}
	return b, ok, err
}

// mostBottom returns how high the picture's lower edge can be under the ceiling.
func mostBottom(d *project.Design) float64 {
	s := d.Screen
	half := float64(s.Width)/2 + float64(s.Border)
	x := float64(s.Distance)
	low := min(d.Room.CeilingAt(x, float64(s.Centre)-half), d.Room.CeilingAt(x, float64(s.Centre)+half))
	return low - s.Height() - float64(s.Border)
}
