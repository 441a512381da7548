// SPDX-License-Identifier: MIT

package solve_test

import (
	"strings"
	"testing"

	"earline/project/file"
	"earline/project/solve"
)

// A lift that left the loudspeakers deeper in the wall was told as done.
func TestAProposalThatCannotBeBuiltIsNotDone(t *testing.T) {
	d, _ := file.Demo("small")
	d = d.Clone()
	d.Speakers[0].At.Z = -1
	p := solve.Proposal{Design: d, After: solve.Counts{Findings: 1}}
	if p.Solved() {
		t.Error("told as solved")
	}
	if o := p.Obstacles(); len(o) != 1 || !strings.Contains(o[0].Text, "1 more than before cannot be built: ") {
		t.Error(o)
	}
	p.Before.Findings = 1
	if !p.Solved() {
		t.Error("what could not be built before is held against it")
	}
}
