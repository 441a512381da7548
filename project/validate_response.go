// SPDX-License-Identifier: MIT

package project

import "fmt"

// responses checks each measured response by itself.
func (c *checker) responses(all []Response) {
	first := map[[2]string]int{}
	for i := range c.count("measured.responses", len(all), 0, MaxResponses) {
		r, at := all[i], fmt.Sprintf("measured.responses[%d].", i)
		key := [2]string{r.Seat, r.Of}
		if k, again := first[key]; again {
			c.fault(at+"seat", quote(r.Seat)+" again", fmt.Sprintf("each seat once for what plays; measured.responses[%d] is of it too", k))
		} else {
			first[key] = i
		}
		c.text(at+"smoothing", r.Smoothing, maxName)
		c.text(at+"source", r.Source, maxName)
		n := c.count(at+"frequencies_hz", len(r.Frequencies), 2, MaxPoints)
		if len(r.Level) != len(r.Frequencies) {
			c.fault(at+"level_db", entries(len(r.Level)), fmt.Sprintf("%d, one a frequency", len(r.Frequencies)))
			continue
		}
		for k := range n {
			f, l := r.Frequencies[k], r.Level[k]
			if !(f >= 1 && f <= 100_000) {
				c.between(fmt.Sprintf("%sfrequencies_hz[%d]", at, k), f, 1, 100_000, " Hz")
			} else if k > 0 && !(f > r.Frequencies[k-1]) {
				c.fault(fmt.Sprintf("%sfrequencies_hz[%d]", at, k), figure(f)+" Hz", "more than the frequency before, "+figure(r.Frequencies[k-1])+" Hz")
			}
			if !(l >= -200 && l <= 200) {
				c.between(fmt.Sprintf("%slevel_db[%d]", at, k), l, -200, 200, " dB")
			}
		}
	}
}

// seatForm is how a file names a seat.
const seatForm = "the id of a row, a point and the number of one of its seats, such as r1.2"

// goneResponses returns a fault for every response of a seat or a loudspeaker that d has
// not. In a file it is a slip; in a design that is being edited it goes with the thing.
func (d *Design) goneResponses(all []Response) []*Fault {
	var out []*Fault
	for i, r := range all {
		at := fmt.Sprintf("measured.responses[%d].", i)
		if _, _, ok := d.SeatOf(r.Seat); !ok {
			out = append(out, &Fault{Field: at + "seat", Found: quote(r.Seat), Allowed: seatForm})
		}
		if !d.plays(r.Of) {
			out = append(out, &Fault{Field: at + "of", Found: quote(r.Of), Allowed: "the id of a loudspeaker, or " + AllSubwoofers})
		}
	}
	return out
}
