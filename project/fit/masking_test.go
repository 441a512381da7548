// SPDX-License-Identifier: MIT

package fit_test

import (
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/fit"
)

// masked returns the large demo with masking boxes, and what is found of them.
func masked(t *testing.T, set func(d *project.Design)) string {
	t.Helper()
	d, ok := file.Demo("large")
	if !ok {
		t.Fatal("no demo")
	}
	d.Picture.Masking, d.Picture.MaskingBox = project.MaskAll, 0.2
	set(d)
	var out []string
	for _, f := range fit.Findings(d) {
		if strings.Contains(f.Where, "masking box") {
			out = append(out, f.String())
		}
	}
	return strings.Join(out, "\n")
}

// A box that has no room is found with what is in its way; one that has is not.
func TestAMaskingBoxInTheWayIsFound(t *testing.T) {
	if got := masked(t, func(d *project.Design) {}); got != "" {
		t.Errorf("found %s", got)
	}
	for want, set := range map[string]func(d *project.Design){
		"upper masking box reaches 118 mm above the ceiling": func(d *project.Design) {
			s := &d.Screen
			s.Bottom = d.Room.Ceiling.Height - 0.082 - s.Border
			s.Bottom -= s.Width / 2.39
		},
		"lower masking box reaches 120 mm below the floor": func(d *project.Design) { d.Screen.Bottom = d.Screen.Border + 0.08 },
		"left masking box reaches": func(d *project.Design) {
			d.Room.Features = append(d.Room.Features, project.Feature{Kind: project.Column, Name: "pier", At: project.Point{X: d.Screen.Distance, Y: d.Screen.Centre - d.Screen.Width/2 - d.Screen.Border - 0.15, Z: 0},
				Length: 0.4, Width: 0.2, Height: 2.5})
		},
		"right masking box covers": func(d *project.Design) {
			l := &d.Speakers[0]
			l.Mount = project.OnWall
			l.At = project.Point{X: d.Screen.Distance - 0.1, Y: d.Screen.Centre + d.Screen.Width/2 + d.Screen.Border + 0.1, Z: 1.5}
			d.Screen.Distance += 0.5
		},
	} {
		if got := masked(t, set); !strings.Contains(got, want) {
			t.Errorf("found %q, want %s", got, want)
		}
	}
}
