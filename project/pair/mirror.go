// SPDX-License-Identifier: MIT

package pair

import (
	"fmt"
	"strings"

	"earline/project"
	"earline/project/place"
)

// Mirror makes the other of a pair in d the mirror image of the one: model, mount,
// place and aim.
func Mirror(d *project.Design, p Pair) {
	if p.Kind == place.FeatureItem {
		name := d.Room.Features[p.Other].Name
		d.Room.Features[p.Other] = Feature(d.Room.Features[p.One], p.Line)
		d.Room.Features[p.Other].Name = name
		return
	}
	l, o := Speaker(d.Speakers[p.One], p.Line), &d.Speakers[p.Other]
	o.Model, o.Mount, o.At, o.Aim = l.Model, l.Mount, l.At, l.Aim
}

// Partner returns the mirror image of feature i about the first centre line beside
// which it stands, with a name of its own. Where there is none, as for a feature on
// the line or one whose image is there already, it stands beside the first, inside
// the room if it can.
func Partner(d *project.Design, i int) project.Feature {
	f := d.Room.Features[i]
	for _, line := range Lines(d) {
		if c := Feature(f, line); !near(c.At.Y, f.At.Y) && !taken(d, c) && inside(d, c) {
			c.Name = otherName(d, f)
			return c
		}
	}
	const gap = 0.1 // m, so that it is seen beside the first
	c := f
	c.Name = otherName(d, f)
	x, y := place.Extent(f)
	for _, by := range [4][2]float64{{0, 2*y + gap}, {0, -2*y - gap}, {2*x + gap, 0}, {-2*x - gap, 0}} {
		c.At.X, c.At.Y = tidy(float64(f.At.X)+by[0]), tidy(float64(f.At.Y)+by[1])
		if inside(d, c) && !taken(d, c) {
			return c
		}
	}
	lo, hi := d.Room.Polygon().Bounds()
	c.At.X, c.At.Y = tidy((lo.X+hi.X)/2), tidy((lo.Y+hi.Y)/2)
	return c
}

// otherName returns a name for the partner of f that no feature has: right for left
// and left for right, else with a number.
func otherName(d *project.Design, f project.Feature) string {
	used := map[string]bool{}
	for _, g := range d.Room.Features {
		used[g.Words()] = true
	}
	name := f.Words()
	if swapped := sides.Replace(name); swapped != name {
		name = swapped
	}
	for n := 2; used[name]; n++ {
		name = fmt.Sprintf("%s %d", strings.TrimRight(f.Words(), " 0123456789"), n)
	}
	return name
}

var sides = strings.NewReplacer("left", "right", "right", "left", "Left", "Right", "Right", "Left")
