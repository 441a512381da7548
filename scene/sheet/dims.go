// SPDX-License-Identifier: MIT

package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"earline/geometry/unit"
)

// row is a row of dimensions beside a view.
type row struct {
	metric bool
	// running dimensions all count from zero, as a tape does that is hooked on once;
	// those of a chain from stop to stop.
	running bool
	zero    float64 // along the side, metres
	signed  bool    // running over and under zero
	stops   []stop  // in order
}

// stop is where a dimension ends.
type stop struct {
	at    float64  // along the side, metres
	name  string   // of what is there; may be empty
	names []string // of all that are there, while stops are made one
}

// stopsAt returns stops without names.
func stopsAt(at ...float64) []stop {
	out := make([]stop, len(at))
	for i, v := range at {
		out[i].at = v
	}
	return out
}

// tidy sorts stops and makes one of those that a tape cannot tell apart.
func tidy(stops []stop) []stop {
	const same = 0.0005 // m
	slices.SortStableFunc(stops, func(a, b stop) int {
		if a.at != b.at {
			return cmp.Compare(a.at, b.at)
		}
		return 0
	})
	var out []stop
	for _, s := range stops {
		if n := len(out); n > 0 && s.at-out[n-1].at < same {
			if s.name != "" && !slices.Contains(out[n-1].names, s.name) {
				out[n-1].names = append(out[n-1].names, s.name)
			}
			continue
		}
		s.names = nil
		if s.name != "" {
			s.names = []string{s.name}
		}
		out = append(out, s)
	}
	for i := range out {
		switch n := paired(out[i].names); {
		case len(n) == 1:
			out[i].name = n[0]
		case len(n) == 2:
			out[i].name = n[0] + ", " + n[1]
		case len(n) > 2:
			out[i].name = fmt.Sprintf("%s and %d more", n[0], len(n)-1)
		}
	}
	return out
}

// paired returns names with left and right in one, as the trade writes them: U±045 of
// U+045 and U-045.
func paired(names []string) (out []string) {
	for i, n := range names {
		left, right := strings.Replace(n, "-", "+", 1), strings.Replace(n, "+", "-", 1)
		if left == right || !slices.Contains(names, left) || !slices.Contains(names, right) {
			out = append(out, n)
			continue
		}
		if i == min(slices.Index(names, left), slices.Index(names, right)) { // once, in place of the first
			out = append(out, strings.Replace(left, "+", "±", 1))
		}
	}
	return out
}

// chain adds a row from stop to stop, and reports whether there is anything to it.
func (s *set) chain(v *view, side int, stops []stop) bool {
	if stops = tidy(stops); len(stops) < 2 {
		return false
	}
	const text = 8 // mm, of a usual dimension
	return s.add(v, side, text, row{metric: s.metric, stops: stops})
}

// parts is chain for parts of a whole: of one part there is nothing to tell.
func (s *set) parts(v *view, side int, stops []stop) bool {
	return len(tidy(stops)) > 2 && s.chain(v, side, stops)
}

// runs adds a row that counts from zero.
func (s *set) runs(v *view, side int, zero float64, signed bool, stops []stop) {
	if stops = tidy(stops); len(stops) > 0 {
		s.add(v, side, pitch, row{metric: s.metric, running: true, zero: zero, signed: signed, stops: stops})
	}
}

// add adds a row, each of whose texts takes so many millimetres, unless it is longer than
// any sheet: then the view says where else to look.
func (s *set) add(v *view, side int, text float64, r row) bool {
	long := s.paper.Width
	if side == leftOf || side == rightOf {
		long = s.paper.Height
	}
	const share = 0.6 // of the sheet, beside frame, title block and other rows
	if float64(len(r.stops))*text > share*long {
		v.notes = append(v.notes, fmt.Sprintf("%d dimensions are too many to draw on one side: see the set-out list.", len(r.stops)))
		return false
	}
	v.rows[side] = append(v.rows[side], r)
	return true
}

// step is what a tape reads that is hooked on at the first stop: a dimension is the
// difference of two of its readings, so that the parts of a chain add up to the whole.
func (r *row) step(at float64) float64 {
	if r.metric {
		return math.Round(at*1000+1e-6) / 1000
	}
	const sixteenth = float64(unit.Inch) / 16
	return math.Round(at/sixteenth) * sixteenth
}

// word returns what stands at stop i of running dimensions, or between i and the next.
func (r *row) word(i int) string {
	if !r.running {
		first := r.stops[0].at
		return measure(r.metric, r.step(r.stops[i+1].at-first)-r.step(r.stops[i].at-first))
	}
	by := r.stops[i].at - r.zero
	text := ""
	if r.signed {
		text = signed(r.metric, by)
	} else {
		text = measure(r.metric, math.Abs(by))
	}
	if n := r.stops[i].name; n != "" {
		text += "  " + n
	}
	return text
}

const (
	arrow    = 0.9         // mm, half the stroke that ends a dimension
	lineRoom = small + 2.6 // mm that a row of one line of text takes
	tier     = small + 1.6 // mm for a second line of it
	pitch    = small * 1.5 // mm from one line of running dimensions to the next
	lead     = 4.0         // mm from the line of running dimensions to their text
)

// depth returns how much paper the row takes away from the view.
func (r *row) depth(p *page, v *view, s Scale, side int) float64 {
	if r.running {
		longest := 0.0
		for i := range r.stops {
			longest = max(longest, p.width(r.word(i), small))
		}
		return 2 + lead + longest + 1.6
	}
	if slices.Contains(r.narrow(p, s), true) {
		return lineRoom + tier
	}
	return lineRoom
}

// overflow returns how far the row reaches beyond the ends of the view: at its lower
// and at its higher end along the side, mm.
func (r *row) overflow(p *page, s Scale, lo, hi float64) (low, high float64) {
	k := s.mm()
	var want, sep []float64
	if r.running {
		for _, st := range r.stops {
			want, sep = append(want, k*st.at), append(sep, pitch)
		}
	} else {
		for i, n := range r.narrow(p, s) {
			if n {
				want = append(want, k*(r.stops[i].at+r.stops[i+1].at)/2)
				sep = append(sep, p.width(r.word(i), small)+1.6)
			}
		}
	}
	for i, at := range spread(want, sep) {
		low, high = max(low, k*lo-at+sep[i]/2), max(high, at+sep[i]/2-k*hi)
	}
	return low, high
}

// narrow says between which stops the text has no room.
func (r *row) narrow(p *page, s Scale) []bool {
	out := make([]bool, len(r.stops)-1)
	for i := range out {
		out[i] = p.width(r.word(i), small)+1 > s.mm()*(r.stops[i+1].at-r.stops[i].at)
	}
	return out
}
