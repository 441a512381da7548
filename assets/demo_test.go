// SPDX-License-Identifier: MIT

package assets_test

import (
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/sight"
)

// badPairs returns the loudspeakers, by label, that some seat does not hear
// clearly, and the rows whose sitters stand in their way.
func badPairs(d *project.Design) (labels map[string]bool, rows map[int]bool, blocked int) {
	r := sight.Audit(d)
	labels, rows = map[string]bool{}, map[int]bool{}
	for i := range r.Seats {
		for k, l := range r.Speakers {
			p := r.Pair(i, k)
			if p.Verdict == sight.Tight || p.Verdict == sight.Blocked {
				labels[l.Label] = true
			}
			if p.Verdict == sight.Blocked {
				blocked++
				if b := p.Deciding().Blocker; b >= 0 && r.Parts[b].Person() {
					rows[r.Parts[b].Row] = true
				}
			}
		}
	}
	return labels, rows, blocked
}

// Each demo shows what its story says, and nothing else is wrong with it.
func TestStories(t *testing.T) {
	for _, name := range []string{"small", "two-row", "large"} {
		d, ok := file.Demo(name)
		if !ok {
			t.Fatalf("no demo %s", name)
		}
		r := sight.Audit(d)
		if bad := r.PictureCount[sight.Tight] + r.PictureCount[sight.Blocked]; bad > 0 {
			t.Errorf("%s: %d seats do not see the picture well", name, bad)
		}
		labels, rows, blocked := badPairs(d)
		if name != "large" {
			if len(labels) > 0 {
				t.Errorf("%s: not heard clearly everywhere: %v", name, labels)
			}
			continue
		}
		if len(labels) != 2 || !labels["M+090"] || !labels["M-090"] || len(rows) < 2 || blocked < 14 {
			t.Errorf("large: %d pairs blocked, of %v, by people in rows %v; want M+090 and M-090 alone, people of two rows", blocked, labels, rows)
		}
		for i := range d.Speakers {
			if strings.HasSuffix(d.Speakers[i].Label, "090") && d.Speakers[i].Label[0] == 'M' {
				d.Speakers[i].At.Z = 2.5
			}
		}
		if _, _, blocked := badPairs(d); blocked > 0 {
			t.Errorf("large: %d pairs still blocked with the sides raised", blocked)
		}
	}
}
