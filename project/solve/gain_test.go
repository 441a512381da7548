// SPDX-License-Identifier: MIT

package solve

import (
	"strings"
	"testing"
)

// Seen: a room in which nobody was blocked any more was told "Not possible here",
// because one seat heard bed and heights nearer together than is accepted.
func TestWhatIsGainedIsSaidFirst(t *testing.T) {
	short := []Obstacle{{Constraint: "separation", Text: "Row 1 seat 5 hears bed and heights only 14.1° apart, where 20° is accepted."}}
	moved := []Change{{}}
	for _, c := range []struct {
		p    Proposal
		want string
	}{
		{Proposal{}, "Solved."},
		{Proposal{Proof: short}, "Not possible here. What stands in the way:"},
		{Proposal{Proof: short, Changes: moved, Before: Counts{Blocked: 10, Tight: 2}, After: Counts{Tight: 6}},
			"Gained: no pair of seat and loudspeaker blocked in place of 10. Not all is possible here. What stands in the way:"},
		{Proposal{Proof: short, Changes: moved, Before: Counts{Blocked: 10, PictureBlocked: 5}, After: Counts{Blocked: 4}},
			"Gained: 4 pairs of seat and loudspeaker blocked in place of 10; every seat sees the whole picture, which 5 did not. Not all is possible here. What stands in the way:"},
		{Proposal{Proof: short, Changes: moved, Before: Counts{Tight: 3}, After: Counts{Tight: 2}},
			"Gained: 2 pairs tight in place of 3. Not all is possible here. What stands in the way:"},
		// Changed, and nothing counts for better.
		{Proposal{Proof: short, Changes: moved}, "Not possible here. What stands in the way:"},
	} {
		if got := c.p.Verdict(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	if p := lift(t, demo(t, "large"), LiftOptions{}); !strings.HasPrefix(p.Verdict(), "Gained: no pair of seat and loudspeaker blocked in place of 8. ") {
		t.Error(p.Verdict())
	}
}
