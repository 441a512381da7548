// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"slices"
	"strconv"
)

// Lesson says what is to be mended in a design that is a lesson: a seed and a level, of
// which the lesson is made, or what a trainer put into a room.
type Lesson struct {
	Seed  int `json:"seed,omitempty"`  // 1 to LastLesson
	Level int `json:"level,omitempty"` // 1 to HardestLesson
	// Faults are the causes to be found in a trainer's room, and Allowed those that the
	// sound room has as well.
	Faults  []LessonCause `json:"faults,omitempty"`
	Allowed []LessonCause `json:"allowed,omitempty"`
	// Seats and Loudspeakers are how many a trainer's room must keep.
	Seats        int `json:"seats,omitempty"`
	Loudspeakers int `json:"loudspeakers,omitempty"`
}

// LessonCause is one thing to be settled. What is told of it is kept, since the room no
// longer shows it once it is mended.
type LessonCause struct {
	Cause    string  `json:"cause"`          // "line of sight side"
	Severity string  `json:"severity"`       // "must" or "should"
	Harm     float64 `json:"harm,omitempty"` // at the start, to be compared
	Subject  string  `json:"subject,omitempty"`
	Text     string  `json:"text,omitempty"`
	Rule     string  `json:"rule,omitempty"` // ID of the rule that it breaks
	Cure     string  `json:"cure,omitempty"`
}

// The ends of seeds and levels.
const (
	LastLesson    = 999_999_999
	HardestLesson = 3
)

// Given reports whether the design is a lesson.
func (l Lesson) Given() bool { return l.Made() || l.ByTrainer() }

// Made reports whether the lesson is made of a seed.
func (l Lesson) Made() bool { return l.Seed != 0 || l.Level != 0 }

// ByTrainer reports whether a trainer made the lesson.
func (l Lesson) ByTrainer() bool {
	return len(l.Faults) > 0 || len(l.Allowed) > 0 || l.Seats != 0 || l.Loudspeakers != 0
}

// Fault returns what is wrong with the seed and the level of l, of which a lesson is to
// be made; nil for nothing.
func (l Lesson) Fault() *Fault {
	if l.Seed < 1 || l.Seed > LastLesson {
		return &Fault{Field: "lesson.seed", Found: strconv.Itoa(l.Seed), Allowed: fmt.Sprintf("1 to %d", LastLesson)}
	}
	if l.Level < 1 || l.Level > HardestLesson {
		return &Fault{Field: "lesson.level", Found: strconv.Itoa(l.Level), Allowed: fmt.Sprintf("1 to %d", HardestLesson)}
	}
	return nil
}

func (l Lesson) clone() Lesson {
	l.Faults, l.Allowed = slices.Clone(l.Faults), slices.Clone(l.Allowed)
	return l
}
