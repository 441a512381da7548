// SPDX-License-Identifier: MIT

package sight_test

import (
	"context"
	"fmt"

	"earline/project"
	"earline/project/file"
	"earline/project/sight"
)

// Who in row 2 does not hear M+090, and what stands there?
func ExampleAudit() {
	d, _ := file.Demo("large")
	r := sight.Audit(d)
	for k := range r.Speakers {
		if r.Speakers[k].Label != "M+090" {
			continue
		}
		for i, s := range r.Seats {
			if p := r.Pair(i, k); s.Row == 2 && p.Verdict == sight.Blocked {
				w := p.Deciding()
				fmt.Printf("seat %s to %s: %s, %.0f mm deep\n", s.Name(), r.Speakers[k].Name(), r.WordsFrom(i, w.Blocker), -1000*w.Clearance)
			}
		}
	}
	// Output:
	// seat 2.2 to M+090: head in row 2 seat 1, 80 mm deep
	// seat 2.3 to M+090: head in row 2 seat 2, 83 mm deep
	// seat 2.4 to M+090: head in row 2 seat 3, 83 mm deep
	// seat 2.5 to M+090: head in row 2 seat 4, 82 mm deep
}

// What does seat 2 of the back row see when the picture hangs 0.3 m lower?
func ExampleResult_PictureSentence() {
	d, _ := file.Demo("large")
	d.Screen.Bottom -= 0.3
	r := sight.Audit(d)
	for i, s := range r.Seats {
		if s.Name() == "3.2" {
			fmt.Println(r.PictureSentence(i, project.Metric))
		}
	}
	// Output:
	// Row 3 seat 2 sees 99.1 % of the picture: head in row 2 seat 3 hides most of the rest and stands 37 mm in the way of the lower edge
}

// For whom does the small room hold, once its surrounds hang over everyone's heads?
func ExampleRange() {
	d, _ := file.Demo("small")
	for i, l := range d.Speakers {
		if l.Label == "M+110" || l.Label == "M-110" {
			d.Speakers[i].At.Z = 1.51
		}
	}
	all, _ := sight.Range(context.Background(), d)
	fmt.Println(all.Words(project.Metric))
	// Output:
	// holds for P5 to P95 at every recline
}

// How far may a loudspeaker be hung from where it is planned?
func ExampleTolerance() {
	d, _ := file.Demo("large")
	r := sight.Audit(d)
	for k, l := range r.Speakers {
		if l.Name() == "M+060" {
			fmt.Println(sight.Tolerance(d, r, k).Words(project.Metric))
		}
	}
	// Output:
	// up over 500 mm, down 99 mm, left 97 mm, right over 500 mm
}
