// SPDX-License-Identifier: MIT

package viewing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// choose finds the row that sees best: of which the fewest seats miss some of a shape,
// then which the fewest rules speak against, then from which the shape that is viewed
// most is widest.
func (r *Result) choose() {
	order := make([]int, len(r.Rows))
	for i := range order {
		order[i] = i
	}
	if len(order) < 2 {
		return
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(r.missing(a), r.missing(b)), cmp.Compare(len(r.against(a)), len(r.against(b))), cmp.Compare(r.width(b), r.width(a)))
	})
	best, next := order[0], order[1]
	r.Best = best
	rival := fmt.Sprintf("row %d", r.Rows[next].Row)
	say := fmt.Sprintf("Row %d sees best: ", r.Rows[best].Row)
	miss := func(i int) string {
		n := r.Rows[i].To - r.Rows[i].From
		return fmt.Sprintf("%.0f of %d seats", r.missing(i)*float64(n), n)
	}
	switch b, c := r.against(best), r.against(next); {
	case r.missing(best) < r.missing(next) && r.missing(best) == 0:
		say += fmt.Sprintf("all its seats see all of each shape; in %s, %s do not", rival, miss(next))
	case r.missing(best) < r.missing(next):
		say += fmt.Sprintf("%s miss some of a shape; in %s, %s", miss(best), rival, miss(next))
	case len(b) < len(c):
		say += fmt.Sprintf("%s is beyond more of what is asked (%s)", rival, strings.ToLower(strings.Join(c, ", ")))
	case r.width(best) > r.width(next):
		k := r.mostViewed()
		say += fmt.Sprintf("as good as %s else, it sees %s wider, %.1f° against %.1f°", rival, r.Picture.Shapes[k].Called, r.width(best), r.width(next))
	default:
		say += fmt.Sprintf("as good as %s, and nearer", rival)
	}
	r.Because = say + "."
}

// missing returns the share of the seats of row i that miss some of a shape.
func (r *Result) missing(i int) float64 {
	row, n := r.Rows[i], 0
	for _, s := range r.Seats[row.From:row.To] {
		if slices.ContainsFunc(s.Shapes, func(s Seen) bool { return s.Hidden > 0 || !s.Before }) {
			n++
		}
	}
	return float64(n) / float64(row.To-row.From)
}

// against returns the titles of the rules that row i breaks.
func (r *Result) against(i int) (titles []string) {
	for _, b := range r.Beyond {
		if b.Row == r.Rows[i].Row && !slices.Contains(titles, b.Rule.Title) {
			titles = append(titles, b.Rule.Title)
		}
	}
	return titles
}

// width returns the greatest angle across that a seat of row i has of the shape that is
// viewed most.
func (r *Result) width(i int) float64 {
	row, k, wide := r.Rows[i], r.mostViewed(), 0.0
	for _, s := range r.Seats[row.From:row.To] {
		if a := s.Shapes[k].Across; !math.IsNaN(a) {
			wide = max(wide, a)
		}
	}
	return wide
}

// mostViewed returns the index of the shape with the greatest share of viewing, the first
// where none is known.
func (r *Result) mostViewed() int {
	most := 0
	for k, s := range r.Picture.Shapes {
		if s.Share > r.Picture.Shapes[most].Share {
			most = k
		}
	}
	return most
}
