// SPDX-License-Identifier: MIT

package main

import (
	"encoding/json"
	"strings"
	"testing"
)

// causeJSON is what a program reads of a cause.
type causeJSON struct {
	Text    string
	Remarks []int
	Follows []causeJSON
}

func (c causeJSON) all() []int {
	n := c.Remarks
	for _, f := range c.Follows {
		n = append(n, f.all()...)
	}
	return n
}

// Every remark of the JSON is reached from the causes, each once.
func TestEveryRemarkOfTheJSONIsReached(t *testing.T) {
	_, out, errs := earline("audit", "--json", "demo:large")
	var got struct {
		Practice struct{ Remarks []struct{ OK bool } }
		Causes   struct{ Apart, Settle, Notes []causeJSON }
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err, errs)
	}
	times := map[int]int{}
	c := got.Causes
	for _, list := range [][]causeJSON{c.Apart, c.Settle, c.Notes} {
		for _, c := range list {
			for _, i := range c.all() {
				times[i]++
			}
		}
	}
	for i, m := range got.Practice.Remarks {
		if want := map[bool]int{false: 1, true: 0}[m.OK]; times[i] != want {
			t.Errorf("remark %d is reached %d times, want %d", i, times[i], want)
		}
	}
}

// Seen: the audit printed the first remark of a rule in place of the worst, and fifty
// lines of which three mattered.
func TestTheAuditLeadsWithThree(t *testing.T) {
	_, out, _ := earline("audit", "../../testdata/rooms/room-b.earline")
	_, list, found := strings.Cut(out, "To settle, the most harmful first\n")
	if !found {
		t.Fatal(out)
	}
	list, more, found := strings.Cut(list, "\nand ")
	if !found || !strings.Contains(more, " more; --all lists them\n") {
		t.Fatal(out)
	}
	n := strings.Count("\n"+list, "\nmust ") + strings.Count("\n"+list, "\nshould ")
	if n != 3 || !strings.HasPrefix(list, "must    Rows 2 and 3: 8 of 12 seats miss part of the picture") {
		t.Errorf("%d lead:\n%s", n, list)
	}
	for _, always := range []string{"Cannot be built", "Steps and ways", "Door strikes the platform of row 3"} {
		if !strings.Contains(out, always) {
			t.Errorf("%q is hidden", always)
		}
	}
	if strings.Contains(out, "Every ear sees") {
		t.Error("all is called well")
	}
}

// Asked for cures, the audit says what they cost, or that there is none.
func TestTheAuditSaysWhatCuresAndWhatItCosts(t *testing.T) {
	_, out, errs := earline("audit", "--cures", "../../testdata/rooms/room-b.earline")
	for _, want := range []string{"No place in this room cures it", "why: Row 3 needs a riser", "cost: Paths blocked: ", "change: M+000 height: "} {
		if !strings.Contains(strings.Join(strings.Fields(out), " "), want) {
			t.Errorf("does not say %q; %s\n%s", want, errs, out)
		}
	}
}
