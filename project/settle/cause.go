// SPDX-License-Identifier: MIT

package settle

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"earline/project/fit"
	"earline/project/practice"
)

// None is no seat or loudspeaker of a Cause.
const None = -1

// Cause is one reason why a room falls short, whatever number of rules it breaks.
type Cause struct {
	ID       string // stays while the room is edited: "sight side"
	Family   Family
	Severity practice.Severity // of the worst of it
	Subject  string            // "Sides M±090", "Rows 2 and 3"
	Text     string            // a line that says what is wrong, how badly and for how many

	// Seats are who suffers from it, Speakers and Rows what it is about: indexes, in
	// order.
	Seats, Speakers, Rows []int
	// Harm is what it does to people, to be compared among causes of one severity:
	// where somebody does not hear or see, the depths in millimetres, seat by seat; else
	// seats by the share by which a limit is passed.
	Harm float64

	// Findings and Remarks are what it shows in, the worst first. Folded are other
	// causes that follow from it.
	Findings []fit.Finding
	Remarks  []*practice.Remark
	Folded   []*Cause

	// Seat and Speaker are the worst path; Speaker is None for the picture, both are
	// None where it is about no path.
	Seat, Speaker int

	// blocked are the seats that do not hear or see, depth how deep each is blocked at
	// worst, metres.
	blocked []int
	depth   map[int]float64
	layer   string
	rank    float64 // Harm, but for small changes
}

// Everything returns the remarks of c and of what is folded under it.
func (c *Cause) Everything() []*practice.Remark {
	all := slices.Clone(c.Remarks)
	for _, f := range c.Folded {
		all = append(all, f.Remarks...)
	}
	return all
}

// Lines is how many findings and remarks stand under c.
func (c *Cause) Lines() int { return len(c.Findings) + len(c.Everything()) }

// String returns Text.
func (c *Cause) String() string { return c.Text }

// rank puts causes into order: by family where nobody may overlook them, by severity,
// by harm. Equals are ordered by what they are about.
func rank(all []*Cause) {
	apart := func(c *Cause) Family { return min(c.Family, Safety+1) }
	slices.SortFunc(all, func(a, b *Cause) int {
		return cmp.Or(cmp.Compare(apart(a), apart(b)), cmp.Compare(b.Severity, a.Severity),
			cmp.Compare(b.rank, a.rank), cmp.Compare(a.ID, b.ID))
	})
}

// steady is how much the harm of a cause may change, as a share, and its rank stay.
const steady = 0.2

// finish says what c is and how harmful; was is the same cause before an edit, or nil.
func (g *gatherer) finish(c *Cause, was *Cause) {
	slices.SortStableFunc(c.Remarks, func(a, b *practice.Remark) int {
		return cmp.Or(cmp.Compare(b.Severity, a.Severity), cmp.Compare(g.excess(b), g.excess(a)))
	})
	for _, list := range []*[]int{&c.Seats, &c.Speakers, &c.Rows, &c.blocked} {
		slices.Sort(*list)
		*list = slices.Compact(*list)
	}
	c.Subject = g.subject(c)
	c.Text = g.text(c)
	switch {
	case c.Family == Build:
		c.Harm = float64(len(c.Findings))
	case len(c.blocked) > 0:
		for _, i := range c.blocked { // in order: sums of one room are always the same
			c.Harm += math.Max(1, 1000*c.depth[i])
		}
	default:
		// Remarks of the least severity weigh nothing among more severe ones.
		for _, m := range c.Remarks {
			if m.Severity == c.Severity {
				c.Harm = math.Max(c.Harm, float64(max(len(c.Seats), 1))*g.excess(m))
			}
		}
	}
	// Of two that are alike the one written first leads, whatever the last digit says.
	c.rank = math.Round(c.Harm*1e3) / 1e3
	if was != nil && was.Severity == c.Severity && (len(was.blocked) > 0) == (len(c.blocked) > 0) && math.Abs(c.Harm-was.rank) <= steady*was.rank {
		c.rank = was.rank
	}
}

// excess is by what share of its limit a remark falls short.
func (g *gatherer) excess(m *practice.Remark) float64 {
	rule, _ := practice.Find(m.Rule)
	// A limit of 0 is no measure: then some amount that matters is.
	least := map[practice.Unit]float64{practice.Degrees: 10, practice.Metres: 0.05, practice.Ratio: 0.1, practice.Share: 0.05, practice.Count: 1}[rule.Unit]
	beyond, limit := 0.0, 0.0
	if l := m.Limits.Min; l != nil && m.Measured < *l {
		beyond, limit = *l-m.Measured, *l
	}
	if l := m.Limits.Max; l != nil && m.Measured > *l {
		beyond, limit = m.Measured-*l, *l
	}
	return beyond / math.Max(math.Abs(limit), math.Max(least, 1e-9))
}

// block notes that seat i does not hear or see, so deep in metres.
func (c *Cause) block(i int, depth float64) {
	if c.depth == nil {
		c.depth = map[int]float64{}
	}
	c.Severity = practice.Must
	c.blocked = append(c.blocked, i)
	c.depth[i] = math.Max(c.depth[i], depth)
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
