// SPDX-License-Identifier: MIT

package sight_test

import (
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/project/file"
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

// On every seat of every demo the sentence names what is found wanting and nothing else,
// in a client's words: "M-090 b" is none.
func TestAClientIsToldWhatTheSeatGetsInTheirWords(t *testing.T) {
	for _, name := range []string{"small", "two-row", "large"} {
		d, _ := file.Demo(name)
		r := sight.Audit(d)
		for i, s := range r.Seats {
			said := r.ClientSentence(i)
			if label := regexp.MustCompile(`[MUBTF][+-]\d|LFE`).FindString(said); label != "" {
				t.Errorf("%s, seat %s: %s in %q", name, s.Name(), label, said)
			}
			wanting := map[sight.Verdict]int{}
			for k := range r.Speakers {
				wanting[r.Pair(i, k).Verdict]++
			}
			if got := strings.Contains(said, "Something stands between"); got != (wanting[sight.Blocked] > 0) {
				t.Errorf("%s, seat %s: %d blocked, said %q", name, s.Name(), wanting[sight.Blocked], said)
			}
			if got := strings.Contains(said, "only just"); got != (wanting[sight.Tight] > 0 || r.Views[i].Verdict == sight.Tight) {
				t.Errorf("%s, seat %s: %d tight, said %q", name, s.Name(), wanting[sight.Tight], said)
			}
			if got := strings.Contains(said, "the whole picture"); got != (r.Views[i].Visible >= 0.9995) {
				t.Errorf("%s, seat %s: sees %v, said %q", name, s.Name(), r.Views[i].Visible, said)
			}
			if wanting[sight.Blocked] == 0 && !strings.Contains(said, "hear every loudspeaker free") {
				t.Errorf("%s, seat %s: nothing is blocked, said %q", name, s.Name(), said)
			}
		}
	}
}
