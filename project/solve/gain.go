// SPDX-License-Identifier: MIT

package solve

import (
	"fmt"
	"strings"
)

// Verdict says how a proposal came out, what it gains first: "Solved.", or what is
// gained and then that not all of it is possible. Unless it is solved, the obstacles
// follow it.
func (p *Proposal) Verdict() string {
	if p.Solved() {
		return "Solved."
	}
	const rest = "What stands in the way:"
	if gains := p.gains(); len(p.Changes) > 0 && len(gains) > 0 {
		return "Gained: " + strings.Join(gains, "; ") + ". Not all is possible here. " + rest
	}
	return "Not possible here. " + rest
}

// gains lists what is better after than before, the gravest first.
func (p *Proposal) gains() (all []string) {
	b, a := p.Before, p.After
	gain := func(before, after int, none, some string) {
		switch {
		case after >= before:
		case after == 0:
			all = append(all, fmt.Sprintf(none, before))
		default:
			all = append(all, fmt.Sprintf(some, after, before))
		}
	}
	gain(b.Findings, a.Findings, "no clash in place of %d", "%d clashes in place of %d")
	gain(b.Blocked, a.Blocked, "no pair of seat and loudspeaker blocked in place of %d", "%d pairs of seat and loudspeaker blocked in place of %d")
	gain(b.PictureBlocked, a.PictureBlocked, "every seat sees the whole picture, which %d did not", "%d seats miss some of the picture in place of %d")
	if a.Blocked == b.Blocked {
		gain(b.Tight, a.Tight, "no pair tight in place of %d", "%d pairs tight in place of %d")
	}
	return all
}
