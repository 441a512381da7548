// SPDX-License-Identifier: MIT

package lesson

import (
	"errors"
	"math"
	"reflect"

	"earline/project"
	"earline/project/practice"
)

// From returns faulty as a lesson: what it has to settle beyond the sound room is to be
// found. Nothing in it is hidden: whoever opens the file can read what is to be found.
// It returns a *project.Fault where faulty has nobody to hear or nothing to be heard, or
// nothing more to settle than the sound room.
func From(sound, faulty *project.Design) (*project.Design, error) {
	for _, d := range []*project.Design{sound, faulty} {
		if err := fit(d); err != nil {
			return nil, err
		}
	}
	if !reflect.DeepEqual(sound.Room.Footprint, faulty.Room.Footprint) {
		return nil, &project.Fault{Field: "room.footprint", Found: "other walls than those of the sound room", Allowed: "the same room"}
	}
	good := causesOf(sound)
	out := faulty.Clone()
	out.Lesson = project.Lesson{Allowed: severities(good), Seats: seats(faulty), Loudspeakers: len(faulty.Speakers)}
	for _, c := range worse(causesOf(faulty), good) {
		f := faultOf(c)
		out.Lesson.Faults = append(out.Lesson.Faults, project.LessonCause{Cause: f.Cause, Severity: f.Severity.String(), Harm: math.Round(f.Harm*1000) / 1000,
			Subject: f.Subject, Text: f.Text, Rule: f.Rule.ID, Cure: f.Cure})
	}
	if len(out.Lesson.Faults) == 0 {
		return nil, &project.Fault{Field: "lesson.faults", Found: "nothing to settle that the sound room has not", Allowed: "a room with at least one fault"}
	}
	return out, out.Validate()
}

// fit returns an error for a design that is no lesson for anybody.
func fit(d *project.Design) error {
	var faults []error
	if len(d.Speakers) == 0 {
		faults = append(faults, &project.Fault{Field: "loudspeakers", Found: "none", Allowed: "1 or more"})
	}
	if seats(d) == 0 {
		faults = append(faults, &project.Fault{Field: "seating.rows", Found: "no seats", Allowed: "1 or more"})
	}
	return errors.Join(faults...)
}

// trained returns a trainer's lesson.
func trained(of project.Lesson) *Lesson {
	l := &Lesson{allowed: of.Allowed, keeps: keeps{seats: of.Seats, loudspeakers: of.Loudspeakers}}
	for _, c := range of.Faults {
		f := Fault{Cause: c.Cause, Severity: severityOf(c.Severity), Harm: c.Harm, Subject: c.Subject, Text: c.Text, Cure: c.Cure}
		if r, ok := practice.Find(c.Rule); ok {
			f.Rule, f.Source = r, r.Source
		}
		l.Faults = append(l.Faults, f)
	}
	return l
}
