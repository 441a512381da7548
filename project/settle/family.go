// SPDX-License-Identifier: MIT

package settle

import "earline/project/practice"

// Family is what a cause is about.
type Family uint8

// The families.
const (
	Build     Family = iota // it cannot stand as drawn
	Safety                  // steps and ways
	Picture                 // who sees the whole picture
	Driver                  // who sees the driver
	Height                  // how high a loudspeaker hangs
	Direction               // where round the room it stands
	Reach                   // how far its sound reaches
	View                    // how the picture sits
	Fit                     // distances to walls, loudspeakers and knees
)

var familyWords = [...]string{"cannot be built", "steps and ways", "whole picture", "line of sight", "height", "direction", "coverage", "view of the picture", "distances"}

// String names f.
func (f Family) String() string { return familyWords[min(f, Fit)] }

// families are those of the rules. Rules that are not named here go by their group.
var families = map[string]Family{
	"sight": Driver, "sight-margin": Driver,
	"picture-whole": Picture, "picture-margin": Picture, "c-value": Picture,
	"elevation": Height, "bed-plane": Height, "bed-raise": Height, "separation": Height,
	"raise-spare": Height, "front-height": Height, "height-angle": Height, "height-angle-flush": Height,
	"coverage-across": Reach, "coverage-upright": Reach,
	"loudspeaker-wall": Fit, "seat-wall": Fit, "seat-loudspeaker": Fit, "row-knees": Fit, "row-footrest": Fit, "row-pitch": Fit,
	"row-passage": Safety, "step-height": Safety, "steps": Safety, "handrail": Safety, "guard": Safety,
}

// familyOf returns the family of a rule.
func familyOf(rule string) Family {
	if f, ok := families[rule]; ok {
		return f
	}
	known, _ := practice.Find(rule)
	switch known.Group {
	case practice.Room, practice.Rows:
		return Safety
	case practice.Screen:
		return View
	case practice.Seats:
		return Fit
	}
	return Direction
}
