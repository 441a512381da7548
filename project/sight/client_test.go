// SPDX-License-Identifier: MIT

package sight_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/project/projecttest"
	"earline/project/sight"
)

// A client is told that all is well only where nothing is found wanting.
func TestAClientIsNotToldThatAllIsWellWhileSomethingIsNot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := sight.Audit(projecttest.Rooms{Seats: 6, Speakers: 6}.Draw(t))
		for i, v := range r.Views {
			well, judged := v.Verdict == sight.Clear, 0
			for k := range r.Speakers {
				switch r.Pair(i, k).Verdict {
				case sight.NotJudged:
				case sight.Clear:
					judged++
				default:
					well = false
				}
			}
			said := r.ClientSentence(i)
			const all = "From here you see the whole picture and hear every loudspeaker free."
			if (said == all) != (well && judged > 0) {
				t.Fatalf("all well %v, said %q", well, said)
			}
			if v.Verdict == sight.Blocked && strings.HasPrefix(said, "From here you see the whole picture.") {
				t.Fatalf("picture %+v, said %q", v, said)
			}
		}
	})
	if said := new(sight.Result).ClientSentence(0); said != "" {
		t.Errorf("of no seat it says %q", said)
	}
}
