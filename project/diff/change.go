// SPDX-License-Identifier: MIT

package diff

import (
	"fmt"

	"earline/geometry/unit"
	"earline/project"
)

// Thing is what a Change is about.
type Thing struct {
	Kind Kind
	// Index counts from 0 in the list of the new design, in that of the old one for
	// what is gone; 0 for what a design has one of.
	Index int
}

// Kind is a kind of thing.
type Kind uint8

// The kinds of thing.
const (
	Document Kind = iota // name, notes, units, margins
	Corner               // of the footprint
	Ceiling
	Feature
	Material
	Surface // what floor, ceiling, walls and platforms are made of and look like; Index is 0
	Treatment
	Air
	Screen
	Chair // a model of chair
	Sitters
	MainPosition
	Row
	Model // of loudspeaker
	Speaker
	Zone // for subwoofers
	Playback
	Backdrop // a mesh or plan lines of another program
	Lights   // a light group
	Panels   // a run of panels
	Viewpoint
)

// plural names the things of a list whose order is told: those that are known by
// name.
func (k Kind) plural() string {
	switch k {
	case Material:
		return "materials"
	case Surface:
		return "walls of their own material"
	case Chair:
		return "chairs"
	case Viewpoint:
		return "viewpoints"
	case Model:
		return "loudspeaker models"
	}
	return "loudspeakers"
}

// Change is one value that differs.
type Change struct {
	Thing Thing
	// Field is its path as the file names it: "loudspeakers[3].at.z_m". Empty for a
	// change that is told in words only.
	Field string
	What  string // in words: "M+090 height"
	// From and To are the values, in metres or as Measure says; Was and Is those of
	// Text.
	From, To float64
	Was, Is  string
	Measure  Measure
}

// Measure is what the values of a Change are.
type Measure uint8

// The measures. Changes in Words have no values: What says it all.
const (
	Metres Measure = iota
	Degrees
	Number
	Text
	Words
)

// Show prints v, of measure m, in the units u.
func (m Measure) Show(v float64, u project.Units) string {
	switch m {
	case Degrees:
		return fmt.Sprintf("%.1f°", v)
	case Number:
		return fmt.Sprintf("%g", v)
	}
	return unit.Length(v).Format(u != project.Imperial)
}

// Sentence returns c as one line, with lengths in the given units: "M+090 height:
// 2.100 m to 2.300 m".
func (c Change) Sentence(u project.Units) string {
	switch c.Measure {
	case Words:
		return c.What
	case Text:
		return fmt.Sprintf("%s: %s to %s", c.What, orNone(c.Was), orNone(c.Is))
	}
	return fmt.Sprintf("%s: %s to %s", c.What, c.Measure.Show(c.From, u), c.Measure.Show(c.To, u))
}

func orNone(s string) string {
	if s == "" {
		return "none"
	}
	return s
}
