// SPDX-License-Identifier: MIT

package chart

import "math"

// extent is the range of some values; empty while lo > hi.
type extent struct{ lo, hi float64 }

func noExtent() extent { return extent{math.Inf(1), math.Inf(-1)} }

func (e *extent) add(v float64) {
	if inRange(v) {
		e.lo, e.hi = min(e.lo, v), max(e.hi, v)
	}
}

// or returns e, or other when e is empty.
func (e extent) or(other extent) extent {
	if e.lo > e.hi {
		return other
	}
	return e
}

// extents returns the ranges of c's data on both axes.
func (c *Chart) extents() (x, y extent) {
	x, y = noExtent(), noExtent()
	for i := range c.Series {
		s := &c.Series[i]
		for k := range s.length() {
			px, py, ok := s.point(k)
			if !ok || c.X.Kind == Frequency && px <= 0 {
				continue
			}
			x.add(px)
			y.add(py)
			if l, ok := s.foot(k); ok {
				y.add(l)
			}
		}
		if (s.Kind == Bars || s.Kind == Stems) && s.length() > 0 && len(s.Low) == 0 && c.Y.Kind != Decibel {
			y.add(0)
		}
	}
	for _, b := range c.Bands {
		for _, v := range b.Low {
			y.add(v)
		}
		for _, v := range b.High {
			y.add(v)
		}
	}
	return x, y
}

// bounds are the ends of an axis. A fixed one was asked for and stays; another may
// be moved outwards to a round value.
type bounds struct {
	lo, hi           float64
	loFixed, hiFixed bool
}

// bounds returns the ends that ax asks for, as far as they are at least lowest and
// in order, else those of the data.
func (ax *Axis) bounds(data extent, lowest float64) bounds {
	b := bounds{lo: data.lo, hi: data.hi}
	if ax.Min != 0 || ax.Max != 0 {
		b.loFixed = inRange(ax.Min) && ax.Min >= lowest
		b.hiFixed = inRange(ax.Max) && ax.Max >= lowest
		if b.loFixed && b.hiFixed && !hasLength(ax.Min, ax.Max) {
			b.loFixed, b.hiFixed = false, false
		}
	}
	if b.loFixed {
		b.lo = ax.Min
	}
	if b.hiFixed {
		b.hi = ax.Max
	}
	return b
}

// widened returns bounds at least that far apart, by moving ends that are not
// fixed; an end at 0 stays where the other can be moved.
func (b bounds) widened(least float64) bounds {
	if short := least - (b.hi - b.lo); short > 0 {
		switch {
		case b.loFixed && b.hiFixed:
		case b.loFixed || b.lo == 0:
			b.hi += short
		case b.hiFixed || b.hi == 0:
			b.lo -= short
		default:
			b.lo, b.hi = b.lo-short/2, b.hi+short/2
		}
	}
	if !hasLength(b.lo, b.hi) { // one end asked for beyond all data
		lo := min(b.lo, b.hi)
		return bounds{lo: lo, hi: lo + max(1, 0.2*math.Abs(lo))}
	}
	return b
}

// hasLength reports whether an axis from a to b has a length that floats can
// divide.
func hasLength(a, b float64) bool {
	return b-a > 1e-9*max(math.Abs(a), math.Abs(b)) && b-a > 1e-9
}
