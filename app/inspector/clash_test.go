// SPDX-License-Identifier: MIT

package inspector

import (
	"strings"
	"testing"
)

// A height of -5 m was taken without a word, and told as hidden by the sitters' own
// shoulders.
func TestAHeightOfMinusFiveMetresIsNamedAtItsField(t *testing.T) {
	b := newBench(t, "small")
	l := b.line(t, speakersGroup, "Height")
	enter(l, "-5 m")
	if got := l.Warning(); !strings.Contains(got, "below the floor") {
		t.Errorf("Height warns %q", got)
	}
	enter(l, "1 m")
	if got := l.Warning(); got != "" {
		t.Errorf("mended, it warns %q", got)
	}
}
