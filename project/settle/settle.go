// SPDX-License-Identifier: MIT

// Package settle says what is to be settled first in a design: what cannot be built,
// what is unsafe, who misses some of the picture, which path of sound is blocked. The
// window's status line and the end of the audit in the terminal are its words.
package settle

import (
	"fmt"
	"math"

	"earline/project/fit"
	"earline/project/practice"
	"earline/project/sight"
)

// Kind is what is wrong.
type Kind uint8

// The kinds, the most harmful first.
const (
	Unbuildable Kind = iota // it cannot be built as drawn
	Rule                    // a rule that must hold is broken, such as a step's height
	Picture                 // somebody does not see the whole picture
	Sound                   // a path from an ear to a driver is blocked
	Narrow                  // a path is free by less than the margin
)

// None is no seat or loudspeaker of a Matter.
const None = -1

// Matter is what is to be settled of one kind: how much, and the worst of it.
type Matter struct {
	Kind  Kind
	Count int
	Short string // "8 cannot be built"
	Worst string // "M+090 reaches 0.166 m into the wall"

	// Where the worst is: a finding, a remark, or a path from a seat to a loudspeaker
	// (None: to the picture).
	Finding       *fit.Finding
	Remark        *practice.Remark
	Seat, Speaker int
}

// String returns all of m in one line.
func (m Matter) String() string { return m.Short + ": " + m.Worst }

// Matters returns what is to be settled in the design of r, the most harmful first; at
// most one matter of a kind. kept is what the rules find, nil when it is not known yet.
func Matters(r *sight.Result, kept *practice.Result) []Matter {
	d := r.Design
	var all []Matter
	if found := fit.Findings(d); len(found) > 0 {
		all = append(all, Matter{Kind: Unbuildable, Count: len(found), Short: fmt.Sprintf("%d cannot be built", len(found)),
			Worst: found[0].String(), Finding: &found[0], Seat: None, Speaker: None})
	}
	if broken := mustHold(kept); len(broken) > 0 {
		all = append(all, Matter{Kind: Rule, Count: len(broken), Short: count(len(broken), "rule that must hold is broken", "rules that must hold are broken"),
			Worst: broken[0].Text, Remark: broken[0], Seat: None, Speaker: None})
	}
	if n := r.PictureCount[sight.Blocked]; n > 0 {
		at, least := 0, 2.0
		for i, v := range r.Views {
			if v.Verdict == sight.Blocked && v.Visible < least {
				at, least = i, v.Visible
			}
		}
		all = append(all, Matter{Kind: Picture, Count: n, Short: count(n, "seat misses some of the picture", "seats miss some of the picture"),
			Worst: r.PictureSentence(at, d.Units), Seat: at, Speaker: None})
	}
	if i, k, ok := r.Worst(); ok && r.Count[sight.Blocked] > 0 {
		all = append(all, Matter{Kind: Sound, Count: r.Count[sight.Blocked], Short: count(r.Count[sight.Blocked], "path of sound blocked", "paths of sound blocked"),
			Worst: r.Sentence(i, k, d.Units), Seat: i, Speaker: k})
	}
	if n := r.Count[sight.Tight]; n > 0 {
		i, k := tightest(r)
		all = append(all, Matter{Kind: Narrow, Count: n, Short: count(n, "path of sound tight", "paths of sound tight"),
			Worst: r.Sentence(i, k, d.Units), Seat: i, Speaker: k})
	}
	return all
}

// Sentence says in one line what is to be settled first, or that nothing is.
func Sentence(r *sight.Result, kept *practice.Result) string {
	all := Matters(r, kept)
	switch {
	case len(all) > 0:
		return all[0].String()
	case len(r.Seats) == 0:
		return "Nobody sits here yet."
	case kept == nil:
		return "Looking at the placement rules…"
	}
	return "Every ear sees every loudspeaker, and every eye the whole picture."
}

// tightest returns the tight pair with the least clearance.
func tightest(r *sight.Result) (seat, speaker int) {
	least := math.Inf(1)
	for i := range r.Seats {
		for k := range r.Speakers {
			if p := r.Pair(i, k); p.Verdict == sight.Tight && p.Deciding().Clearance < least {
				least, seat, speaker = p.Deciding().Clearance, i, k
			}
		}
	}
	return seat, speaker
}

// mustHold returns the remarks of rules that must hold and do not, but for those that
// are told as what is seen and heard.
func mustHold(kept *practice.Result) []*practice.Remark {
	if kept == nil {
		return nil
	}
	var out []*practice.Remark
	for i := range kept.Remarks {
		m := &kept.Remarks[i]
		if !m.OK && m.Severity == practice.Must && m.Rule != "sight" && m.Rule != "picture-whole" {
			out = append(out, m)
		}
	}
	return out
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
