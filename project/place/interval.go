// SPDX-License-Identifier: MIT

package place

// interval is a range of numbers. Its sums and products hold those of all their
// numbers.
type interval struct{ lo, hi float64 }

func (s interval) with(o interval) interval { return interval{min(s.lo, o.lo), max(s.hi, o.hi)} }

func (s interval) plus(o interval) interval { return interval{s.lo + o.lo, s.hi + o.hi} }

func (s interval) minus(o interval) interval { return interval{s.lo - o.hi, s.hi - o.lo} }

func (s interval) times(o interval) interval {
	a, b, c, d := s.lo*o.lo, s.lo*o.hi, s.hi*o.lo, s.hi*o.hi
	return interval{min(a, b, c, d), max(a, b, c, d)}
}

// towards returns what lies the share w, from 0 to 1, of the way from s to o.
func (s interval) towards(o interval, w float64) interval {
	return interval{s.lo + (o.lo-s.lo)*w, s.hi + (o.hi-s.hi)*w}
}
