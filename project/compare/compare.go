// SPDX-License-Identifier: MIT

package compare

import (
	"fmt"
	"math"

	"earline/project"
	"earline/project/practice"
	"earline/project/settle"
	"earline/project/sight"
	"earline/project/sound"
)

// Result is two designs side by side.
type Result struct {
	Was, Is State
	Things  []Thing // what both are made of, loudspeakers first
	Holes   []Hole
	Cables  []Reuse
	Facts   []Fact
}

// State is one of the two, with what is judged of it.
type State struct {
	Name   string
	Design *project.Design
	Sight  *sight.Result
	Rules  *practice.Result
	Causes *settle.List
	Sound  *sound.Direct
}

// Fact is one figure of both designs.
type Fact struct {
	What    string
	Was, Is string
	// Better is above 0 when Is is better, below when it is worse, 0 when neither can
	// be said.
	Better int
}

// Of compares was with is, both by the standard std.
func Of(was, is *project.Design, std practice.Standard) *Result {
	r := &Result{Was: stateOf(was, std), Is: stateOf(is, std), Things: everything(was, is)}
	r.Holes, r.Cables = holes(was, is), reuse(was, is)
	r.Facts = facts(&r.Was, &r.Is)
	return r
}

func stateOf(d *project.Design, std practice.Standard) State {
	s := State{Name: d.VariantName(), Design: d, Sight: sight.Audit(d)}
	s.Rules = practice.Check(d, s.Sight, std)
	s.Causes = settle.Causes(s.Sight, s.Rules, nil)
	s.Sound = sound.Hear(d, s.Sight)
	return s
}

// Count returns how many things meet each fate.
func (r *Result) Count() (n [Stays + 1]int) {
	for _, t := range r.Things {
		n[t.Fate]++
	}
	return n
}

// fact compares a count of which fewer (sign -1) or more (+1) are better.
func fact(what string, was, is, sign int) Fact {
	return Fact{what, fmt.Sprint(was), fmt.Sprint(is), sign * compareInts(is, was)}
}

func compareInts(a, b int) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// facts are what is told of both designs in a table.
func facts(was, is *State) []Fact {
	size := func(s *State) string {
		p := s.Design.Screen
		show := func(v float64) string { return lengths(is.Design.Units)(v) }
		return fmt.Sprintf("%s wide, %.2f:1, from %s up", show(float64(p.Width)), p.Aspect, show(float64(p.Bottom)))
	}
	whole := func(s *State) int { return len(s.Sight.Views) - s.Sight.PictureCount[sight.Blocked] }
	settled := func(s *State) int { n, _ := s.Causes.Count(); return n }
	out := []Fact{
		fact("seats", len(was.Sight.Seats), len(is.Sight.Seats), 0),
		fact("loudspeakers", len(was.Design.Speakers), len(is.Design.Speakers), 0),
		{What: "picture", Was: size(was), Is: size(is)},
		fact("seats that see the whole picture", whole(was), whole(is), 1),
		fact("ears and loudspeakers with a clear path", was.Sight.Count[sight.Clear], is.Sight.Count[sight.Clear], 1),
		fact("tight", was.Sight.Count[sight.Tight], is.Sight.Count[sight.Tight], -1),
		fact("blocked", was.Sight.Count[sight.Blocked], is.Sight.Count[sight.Blocked], -1),
		fact("to be settled", settled(was), settled(is), -1),
		spread(was.Sound, is.Sound),
	}
	return out
}

// spread compares how much the loudspeaker that is heard least evenly differs over
// the seats.
func spread(was, is *sound.Direct) Fact {
	worst := func(d *sound.Direct) float64 {
		w := 0.0
		for i := range d.Speakers {
			w = math.Max(w, d.Speakers[i].SpreadOverall)
		}
		return math.Round(w*10) / 10
	}
	a, b := worst(was), worst(is)
	f := Fact{What: "largest level spread over the seats, dB", Was: fmt.Sprintf("%.1f", a), Is: fmt.Sprintf("%.1f", b)}
	switch {
	case b < a:
		f.Better = 1
	case b > a:
		f.Better = -1
	}
	return f
}
