// SPDX-License-Identifier: MIT

package field

import "slices"

// Band returns the part of t from lo to hi hertz, both included. It shares
// nothing with t.
func (t *Transfer) Band(lo, hi float64) *Transfer {
	from, to := within(t.Frequencies, lo, hi)
	b := New(t.Sources, t.Receivers, t.Frequencies[from:to])
	b.Remarks = slices.Clone(t.Remarks)
	for s := range t.Sources {
		for r := range t.Receivers {
			copy(b.Row(s, r), t.Row(s, r)[from:to])
		}
	}
	return b
}

// Pick returns t with those of its sources, by index, in that order.
func (t *Transfer) Pick(sources []int) *Transfer {
	p := New(len(sources), t.Receivers, t.Frequencies)
	p.Remarks = slices.Clone(t.Remarks)
	for n, s := range sources {
		copy(p.Source(n), t.Source(s))
	}
	return p
}

// within returns the indexes of the first of the ascending v that is lo or more
// and of the first beyond hi.
func within(v []float64, lo, hi float64) (from, to int) {
	from, _ = slices.BinarySearch(v, lo)
	to, found := slices.BinarySearch(v, hi)
	if found {
		to++
	}
	return from, max(from, to)
}
