// SPDX-License-Identifier: MIT

package built

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"earline/project/practice"
	"earline/project/settle"
	"earline/project/sight"
)

// Loss is something that a room as built has lost against its plan.
type Loss struct {
	Severity practice.Severity
	Seat     int     // who loses it, or settle.None
	Depth    float64 // millimetres by which it falls short, or the harm of a cause
	Text     string  // a line
}

// Harm is what losses do to people: how many lose something, times how much; what
// blocks, and what is only worse than planned.
type Harm struct{ Must, Should float64 }

func (h Harm) compare(o Harm) int {
	return cmp.Or(cmp.Compare(h.Must, o.Must), cmp.Compare(h.Should, o.Should))
}

func harm(all []Loss) (h Harm) {
	for _, l := range all {
		if l.Severity == practice.Must {
			h.Must += l.Depth
		} else {
			h.Should += l.Depth
		}
	}
	return h
}

// losses returns what is worse in is than in plan, the worst first: paths and pictures
// with a worse verdict, or as much as a millimetre deeper in the way; and causes of
// other kinds that the plan does not have, or not so badly.
func losses(plan, is State) []Loss {
	const deeper = 1 // mm
	var out []Loss
	add := func(seat int, was, now sight.Verdict, wasDepth, depth float64, text func() string) {
		bad := now == sight.Tight || now == sight.Blocked
		if !bad || now < was || now == was && (now != sight.Blocked || depth < wasDepth+deeper) {
			return
		}
		l := Loss{practice.Should, seat, math.Max(depth, 1), text()}
		if now == sight.Blocked {
			l.Severity = practice.Must
		}
		if now == was {
			l.Depth = depth - wasDepth
		}
		out = append(out, l)
	}
	units := is.Design.Units
	margin, picture := float64(is.Design.Criteria.Margin), float64(is.Design.Criteria.PictureMargin)
	for i := range is.Audit.Seats {
		for k := range is.Audit.Speakers {
			was, now := plan.Audit.Pair(i, k), is.Audit.Pair(i, k)
			add(i, was.Verdict, now.Verdict, short(was, margin), short(now, margin), func() string {
				return fmt.Sprintf("%s; %s in the plan", is.Audit.Sentence(i, k, units), was.Verdict)
			})
		}
		was, now := &plan.Audit.Views[i], &is.Audit.Views[i]
		add(i, was.Verdict, now.Verdict, depth(now.Verdict, was.Clearance, picture), depth(now.Verdict, now.Clearance, picture), func() string {
			return fmt.Sprintf("%s; %s in the plan", is.Audit.PictureSentence(i, units), was.Verdict)
		})
	}
	for _, c := range is.Causes.All() {
		if c.Family == settle.Driver || c.Family == settle.Picture || c.Severity == practice.Note {
			continue // told seat by seat; no more than notes
		}
		was := plan.Causes.Find(c.ID)
		if was != nil && was.Severity >= c.Severity && !(c.Family == settle.Build && len(c.Findings) > len(was.Findings)) {
			continue
		}
		out = append(out, Loss{c.Severity, settle.None, math.Max(c.Harm, 0.001), c.Text})
	}
	slices.SortStableFunc(out, func(a, b Loss) int {
		return cmp.Or(cmp.Compare(b.Severity, a.Severity), cmp.Compare(b.Depth, a.Depth))
	})
	return out
}

// short is by how much a pair falls short of what it is held to, millimetres.
func short(p *sight.Pair, margin float64) float64 {
	if w := p.Deciding(); w != nil {
		return depth(p.Verdict, w.Clearance, margin)
	}
	return 0
}

// depth is how deep something is blocked, or how much a tight path lacks of its margin,
// millimetres.
func depth(v sight.Verdict, clearance, margin float64) float64 {
	if v == sight.Blocked {
		margin = 0
	}
	return math.Max(0, 1000*(margin-clearance))
}
