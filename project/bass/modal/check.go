// SPDX-License-Identifier: MIT

package modal

import (
	"errors"
	"fmt"

	"earline/geometry"
	"earline/project"
	"earline/project/bass/field"
)

// rim is how far outside the room a point may lie, in metres: rounding.
const rim = 1e-9

func (r Room) check() error {
	return errors.Join(field.Positive("room length", r.Length), field.Positive("room width", r.Width),
		field.Positive("room height", r.Height), field.Positive("speed of sound", r.speed()))
}

// inside returns a fault for points outside the room.
func (r Room) inside(what string, points []geometry.Vec) error {
	in := func(v, l float64) bool { return v >= -rim && v <= l+rim }
	for i, p := range points {
		if !in(p.X, r.Length) || !in(p.Y, r.Width) || !in(p.Z, r.Height) {
			return &project.Fault{
				Field:   fmt.Sprintf("%s %d", what, i+1),
				Found:   fmt.Sprintf("at (%.3f, %.3f, %.3f) m", p.X, p.Y, p.Z),
				Allowed: fmt.Sprintf("inside the room of %.3f x %.3f x %.3f m", r.Length, r.Width, r.Height),
			}
		}
	}
	return nil
}

// check returns a fault for a loss that cannot be.
func (l Loss) check(hertz float64) error {
	for _, v := range [...]struct {
		what, unit string
		value      float64
	}{
		{"rate of decay", " 1/s", l.Rate},
		{"admittance of the front wall", "", l.Front}, {"admittance of the back wall", "", l.Back},
		{"admittance of the left wall", "", l.Left}, {"admittance of the right wall", "", l.Right},
		{"admittance of the floor", "", l.Floor}, {"admittance of the ceiling", "", l.Ceiling},
	} {
		const most = 1e4 // beyond all that is built; the roots would no longer be exact
		if !(v.value >= 0 && v.value < most) {
			return &project.Fault{Field: fmt.Sprintf("%s at %v Hz", v.what, hertz), Found: fmt.Sprint(v.value, v.unit), Allowed: "0 or more, finite"}
		}
	}
	return nil
}
