// SPDX-License-Identifier: MIT

package lesson

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"earline/project"
	"earline/project/practice"
	"earline/project/settle"
	"earline/project/sight"
)

// Lesson is a room with faults.
type Lesson struct {
	// Start is the room as it is handed out. Best is the best answer known: a sound room,
	// or where there is none the room that leaves least. It is nil in a trainer's lesson.
	Start, Best *project.Design
	Faults      []Fault // the most harmful first
	// Question is what is to be decided, Why why the best answer leaves what it leaves;
	// both are empty where the best answer leaves nothing.
	Question, Why string

	allowed []project.LessonCause // what the best answer leaves
	keeps   keeps
	answers []answer
}

// Fault is one cause that a lesson is about.
type Fault struct {
	Cause    string // ID of a settle.Cause
	Severity practice.Severity
	Harm     float64 // see settle.Cause
	Subject  string  // "Sides M±090"
	Text     string  // what the audit says of it at the start
	Rule     practice.Rule
	Source   practice.Source // of the limit that is not kept
	Cure     string
}

// Make returns the lesson of a seed and a level. It returns a *project.Fault for those
// that Validate of a design refuses.
func Make(seed, level int) (*Lesson, error) {
	asked := project.Lesson{Seed: seed, Level: level}
	if f := asked.Fault(); f != nil {
		return nil, f
	}
	r := &draw{newRand(uint64(seed), uint64(level))}
	number := level + r.IntN(2)
	if level == project.HardestLesson && r.IntN(3) == 0 {
		for _, i := range r.Perm(len(dilemmas)) {
			if l, err := dilemmas[i].lesson(asked, r); l != nil || err != nil {
				return l, err
			}
		}
	}
	for _, i := range r.Perm(len(sound)) {
		l, err := spoil(sound[i], asked, number, kinds[:], r)
		if l != nil || err != nil {
			return l, err
		}
	}
	return nil, fmt.Errorf("lesson %d of level %d: no room takes %d faults", seed, level, number)
}

// newRand returns a source of draws that is the same on every system.
func newRand(a, b uint64) *rand.Rand { return rand.New(rand.NewPCG(a, b)) }

// lesson returns the lesson of q; nil if its fault has not the effect meant.
func (q *dilemma) lesson(asked project.Lesson, r *draw) (*Lesson, error) {
	l, err := spoil(q.room, asked, 1, []kind{q.fault}, r)
	if l != nil {
		l.Question, l.Why, l.answers = q.question, q.why, q.answers
		l.Start.Notes = q.question
	}
	return l, err
}

// spoilt is a kind of fault with what its measure is drawn from.
type spoilt struct {
	*kind
	seed uint64
}

// put returns best with faults in it; nil where the room has nothing of the sort.
func put(best *project.Design, faults []spoilt) *project.Design {
	d := best.Clone()
	for _, f := range faults {
		if !f.does(d, &draw{newRand(f.seed, 0)}) {
			return nil
		}
	}
	if d.Validate() != nil {
		return nil
	}
	return d
}

// spoil puts so many faults of some kinds into a room; nil if it does not take them.
func spoil(room string, asked project.Lesson, number int, of []kind, r *draw) (*Lesson, error) {
	best, err := roomOf(room)
	if err != nil {
		return nil, err
	}
	best.Name, best.Lesson = fmt.Sprintf("Lesson %d, level %d", asked.Seed, asked.Level), asked
	good := causesOf(best)
	var faults []spoilt
	var causes []string // of faults
	for _, i := range r.Perm(len(of)) {
		k := &of[i]
		if k.level > asked.Level || slices.ContainsFunc(faults, func(f spoilt) bool { return f.part == k.part }) {
			continue
		}
		const tries = 2 // draws of its measure
		for range tries {
			more := append(slices.Clip(faults), spoilt{k, r.Uint64()})
			if is := apart(best, good, more, causes); is != nil {
				faults, causes = more, is
				break
			}
		}
		if len(faults) == number {
			return lessonOf(put(best, faults), best, good), nil
		}
	}
	return nil, nil
}

// apart returns the causes that best with faults in it has beyond good; nil unless they
// are those of all faults but the last and one more, and each fault that is left out
// takes one of them away and brings none.
func apart(best *project.Design, good *settle.List, faults []spoilt, before []string) []string {
	d := put(best, faults)
	if d == nil {
		return nil
	}
	found := worse(causesOf(d), good)
	all := ids(found)
	if len(all) != len(before)+1 || !within(before, all) {
		return nil
	}
	if slices.ContainsFunc(found, slight) { // no rule teaches it, or it can be argued about
		return nil
	}
	for i := range len(faults) - 1 { // without the last they are before
		without := slices.Delete(slices.Clone(faults), i, i+1)
		d := put(best, without)
		if d == nil {
			return nil
		}
		if left := ids(worse(causesOf(d), good)); len(left) != len(before) || !within(left, all) {
			return nil
		}
	}
	return all
}

// slight reports whether c is by hardly more than a limit, or breaks no rule that would
// say why: nothing to teach by.
func slight(c *settle.Cause) bool {
	const (
		share = 0.1 // of the limit, or what package settle takes in its place
		depth = 5   // mm, where somebody does not hear or see
	)
	least := float64(share)
	if c.Severity == practice.Must && (c.Family == settle.Driver || c.Family == settle.Picture) {
		least = depth
	}
	return len(c.Remarks) == 0 || c.Harm < least*float64(max(len(c.Seats), 1))
}

func within(some, all []string) bool {
	return !slices.ContainsFunc(some, func(s string) bool { return !slices.Contains(all, s) })
}

func ids(causes []*settle.Cause) (all []string) {
	for _, c := range causes {
		all = append(all, c.ID)
	}
	return all
}

// causesOf returns what is to be settled in d, by the standard that d has chosen.
func causesOf(d *project.Design) *settle.List {
	r := sight.Audit(d)
	return settle.Causes(r, practice.Check(d, r, practice.Of(d)), nil)
}

// worse returns the causes of now that must or should be settled and that good has not,
// or has as less severe ones.
func worse(now, good *settle.List) (all []*settle.Cause) {
	for _, c := range now.All() {
		if was := good.Find(c.ID); c.Severity > practice.Note && (was == nil || was.Severity < c.Severity) {
			all = append(all, c)
		}
	}
	return all
}

// Of returns the lesson that d is, whatever was mended in it. It returns a
// *project.Fault for a design that is none.
func Of(d *project.Design) (*Lesson, error) {
	switch {
	case d.Lesson.Made():
		return Make(d.Lesson.Seed, d.Lesson.Level)
	case d.Lesson.ByTrainer():
		return trained(d.Lesson), nil
	}
	return nil, &project.Fault{Field: "lesson", Found: "none", Allowed: "a room that is a lesson, as earline lesson --seed writes it"}
}

func lessonOf(start, best *project.Design, good *settle.List) *Lesson {
	l := &Lesson{Start: start, Best: best, keeps: keepsOf(start)}
	l.allowed = severities(good)
	for _, c := range worse(causesOf(start), good) {
		l.Faults = append(l.Faults, faultOf(c))
	}
	return l
}

// severities returns the causes of l that must or should be settled.
func severities(l *settle.List) (all []project.LessonCause) {
	for _, c := range l.All() {
		if c.Severity > practice.Note {
			all = append(all, project.LessonCause{Cause: c.ID, Severity: c.Severity.String()})
		}
	}
	return all
}

func faultOf(c *settle.Cause) Fault {
	f := Fault{Cause: c.ID, Severity: c.Severity, Harm: c.Harm, Subject: c.Subject, Text: c.Text, Cure: c.Cure().Says}
	if len(c.Remarks) > 0 {
		f.Rule, _ = practice.Find(c.Remarks[0].Rule)
		f.Source = c.Remarks[0].Source
	}
	return f
}

// Hints returns what is told of f one after the other: where to look, by which rule it
// falls short, and what cures it.
func (f *Fault) Hints() []string {
	rule := "It cannot be built as it is drawn."
	if f.Rule.ID != "" {
		rule = f.Rule.Title + ": " + f.Rule.Why
	}
	return []string{"Look at: " + f.Subject + ".", rule, f.Cure}
}
