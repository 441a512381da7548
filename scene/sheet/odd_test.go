// SPDX-License-Identifier: MIT

package sheet

import (
	"fmt"
	"strings"
	"testing"

	"earline/geometry/unit"
	"earline/project"
)

// Sixty loudspeakers along one wall: the row of dimensions is longer than the wall.
func TestManyLoudspeakersOnOneWall(t *testing.T) {
	d := rooms(t)["large.earline"].Clone()
	for _, l := range d.Speakers {
		if l.Label != "M+090" || l.Copy != "" {
			continue
		}
		for i := range 60 {
			l.ID, l.Copy = "", fmt.Sprint(i)
			l.At.X = unit.Length(2 + 0.02*float64(i))
			d.Speakers = append(d.Speakers, l)
		}
		break
	}
	legible(t, "sixty", d, "A3")
}

// Names as long as a file holds them, of signs that no typeface has.
func TestLongNames(t *testing.T) {
	d := rooms(t)["large.earline"].Clone()
	long := strings.Repeat("the long name of a thing ", 40)
	d.Name = long
	d.Job.Reference, d.Job.Revision = long, long
	for i := range d.Room.Features {
		d.Room.Features[i].Name = long
	}
	for i := range d.Room.Treatments {
		d.Room.Treatments[i].Name = strings.Repeat("天", 200)
	}
	for i := range d.Models {
		d.Models[i].Name = long
	}
	legible(t, "long names", d, "A4")
}

// A room with nothing in it has walls all the same.
func TestAnEmptyRoom(t *testing.T) {
	d := rooms(t)["small.earline"].Clone()
	d.Speakers, d.Room.Features, d.Room.Treatments = nil, nil, nil
	for _, paper := range []string{"A4", "Tabloid"} {
		legible(t, "empty", d, paper)
	}
}

// A hall and a closet: every scale there is, and none fits.
func TestHallsAndClosets(t *testing.T) {
	for _, size := range []float64{0.5, 1, 30, 120} {
		d := rooms(t)["small.earline"].Clone()
		l := unit.Length(size)
		d.Room.Footprint = []project.Corner{{}, {X: l}, {X: l, Y: l}, {Y: l}}
		d.Speakers, d.Room.Features, d.Room.Treatments = nil, nil, nil
		for _, units := range []project.Units{project.Metric, project.Imperial} {
			d.Units = units
			legible(t, fmt.Sprintf("%g m", size), d, "A4")
		}
	}
}
