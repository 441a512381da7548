// SPDX-License-Identifier: MIT

package practice

import "slices"

// Find returns the remark of r that is about the same thing as m, whatever its
// value: the same places, else the same loudspeakers and rows with another worst
// seat; nil when there is none. r may be nil.
func (r *Result) Find(m *Remark) *Remark {
	if r == nil {
		return nil
	}
	var near *Remark
	for i := range r.Remarks {
		o := &r.Remarks[i]
		switch {
		case o == m:
			return o
		case o.Rule != m.Rule || !slices.Equal(o.Speakers, m.Speakers) || !slices.Equal(o.Rows, m.Rows):
		case slices.Equal(o.Seats, m.Seats):
			return o
		case near == nil && len(m.Speakers)+len(m.Rows) > 0:
			near = o
		}
	}
	return near
}
