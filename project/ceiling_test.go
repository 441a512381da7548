// SPDX-License-Identifier: MIT

package project_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
)

// gable gives d a ridge along its middle by one slope and one plane.
func gable(d *project.Design, knee, ridge unit.Length) {
	lo, hi := d.Room.Polygon().Bounds()
	mid, wide := (lo.Y+hi.Y)/2, hi.Y
	d.Room.Ceiling = project.Ceiling{Slope: project.LeftToRight, Height: knee, FarHeight: 2*ridge - knee,
		Planes: []project.CeilingPlane{{From: corner(0, mid), FromHeight: ridge, To: corner(0, wide), ToHeight: knee}}}
}

// Each plane that makes no ceiling is refused by one line.
func TestCeilingPlanesAreJudged(t *testing.T) {
	nan := unit.Length(math.NaN())
	plane := func(x0, y0 float64, h0 unit.Length, x1, y1 float64, h1 unit.Length) project.CeilingPlane {
		return project.CeilingPlane{From: corner(x0, y0), FromHeight: h0, To: corner(x1, y1), ToHeight: h1}
	}
	for name, test := range map[string]struct {
		planes []project.CeilingPlane
		want   string
	}{
		"one that counts":     {[]project.CeilingPlane{plane(0, 0, 1.5, 0, 1, 2.5)}, ""},
		"not a number":        {[]project.CeilingPlane{plane(0, 0, nan, 0, 1, 2.5)}, "room.ceiling.planes[0].from_height_m: not a number, allowed: 0 m to 30 m"},
		"from and to are one": {[]project.CeilingPlane{plane(1, 1, 2, 1, 1.05, 2)}, "room.ceiling.planes[0].to: less than 100 mm from where it is from, allowed: 100 mm or more apart, seen from above"},
		"over all others":     {[]project.CeilingPlane{plane(0, 0, 1.5, 0, 1, 2.5), plane(0, 0, 1.7, 0, 1, 2.7)}, "room.ceiling.planes[1]: ceiling plane 2 is everywhere above the others, allowed: one that lowers the ceiling over some of the floor"},
		"twice":               {[]project.CeilingPlane{plane(0, 0, 1.5, 0, 1, 2.5), plane(1, 0, 1.5, 1, 1, 2.5)}, "room.ceiling.planes[1]: ceiling plane 2 lies in the ceiling plane 1, allowed: each plane once"},
		"down to the floor":   {[]project.CeilingPlane{plane(0, 0, 0.2, 0, 1, 2)}, "room.ceiling.planes[0]: 0.2 m over corner 1 of the footprint, allowed: 0.5 m or more over all of it: end the floor at a knee wall"},
		"through the floor":   {[]project.CeilingPlane{plane(0, 1, 0.2, 0, 2, 2)}, "room.ceiling.planes[0]: -1.6 m over corner 1 of the footprint, allowed: 0.5 m or more over all of it: end the floor at a knee wall"},
		"too many":            {make([]project.CeilingPlane, 9), "room.ceiling.planes: 9 entries, allowed: 0 to 8"},
	} {
		d := demo(t, "small")
		d.Room.Ceiling.Planes = test.planes
		err := d.Validate()
		if test.want == "" {
			if err != nil {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		if err == nil || !slices.Contains(strings.Split(err.Error(), "\n"), test.want) {
			t.Errorf("%s: %v, want %q", name, err, test.want)
		}
	}
}

// A gable by one slope and one plane is equal to either side of its ridge, and the same
// as a level ceiling with two planes.
func TestGableOfOneSlopeAndOnePlane(t *testing.T) {
	d := demo(t, "small")
	gable(d, 1.6, 3.1)
	if err := d.Validate(); err != nil {
		t.Fatal(err)
	}
	lo, hi := d.Room.Polygon().Bounds()
	mid := unit.Length(lo.Y+hi.Y) / 2
	flat := d.Clone()
	flat.Room.Ceiling = project.Ceiling{Slope: project.Flat, Height: 3.1, Planes: []project.CeilingPlane{
		{From: corner(1, 0), FromHeight: 1.6, To: project.Corner{X: 1, Y: mid}, ToHeight: 3.1}, d.Room.Ceiling.Planes[0]}}
	if err := flat.Validate(); err != nil {
		t.Fatal(err)
	}
	raised := d.Clone()
	raised.Room.Ceiling = d.Room.Ceiling.Raised(1)
	for i := range 50 {
		for j := range 50 {
			x, y := hi.X*float64(i)/49, hi.Y*float64(j)/49
			h := d.Room.CeilingAt(x, y)
			for what, o := range map[string]float64{"mirrored": d.Room.CeilingAt(x, hi.Y-y), "of two planes": flat.Room.CeilingAt(x, y),
				"of its slopes": d.Room.Slopes().At(x, y), "raised": raised.Room.CeilingAt(x, y) - 1} {
				if math.Abs(o-h) > 1e-9 {
					t.Fatalf("at %g, %g it is %g m high, %s %g", x, y, h, what, o)
				}
			}
		}
	}
	a, b := d.Room.CeilingNormal(1, 0.5), d.Room.CeilingNormal(1, hi.Y-0.5)
	if a.Y <= 0 || math.Abs(a.Y+b.Y) > 1e-12 {
		t.Errorf("the halves look %v and %v", a, b)
	}
}

// A copy of a design has planes of its own, and a file keeps them, as version 2.
func TestCeilingPlanesAreKept(t *testing.T) {
	d := demo(t, "small")
	gable(d, 1.6, 3.1)
	c := d.Clone()
	c.Room.Ceiling.Planes[0].ToHeight = 2
	if d.Room.Ceiling.Equal(c.Room.Ceiling) || d.Room.Ceiling.Planes[0].ToHeight != 1.6 {
		t.Error("the copy shares its planes")
	}
	data, err := file.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	back, err := file.Decode(data, "gable")
	if err != nil || !back.Room.Ceiling.Equal(d.Room.Ceiling) {
		t.Errorf("%v, %v", back, err)
	}
}
