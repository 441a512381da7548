// SPDX-License-Identifier: MIT

package project

import (
	"slices"
	"strings"

	"earline/geometry"
)

// Polygon returns the footprint, in metres.
func (r Room) Polygon() geometry.Polygon {
	p := make(geometry.Polygon, len(r.Footprint))
	for i, c := range r.Footprint {
		p[i] = geometry.Vec2{X: float64(c.X), Y: float64(c.Y)}
	}
	return p
}

// WallNormal returns the unit normal, into the room, of the wall nearest p.
func (r Room) WallNormal(p geometry.Vec2) geometry.Vec2 {
	poly := r.Polygon()
	if len(poly) < 3 {
		return geometry.Vec2{X: 1}
	}
	edge, _ := poly.Nearest(p)
	return poly.InwardNormal(edge)
}

// WallSide says which wall a wall of the footprint is, counted from 1 as in
// WallSurface, to one who faces the screen: "screen", "back", "left" or "right";
// empty for one that runs askew by more than 26 degrees, or is not there.
func (r Room) WallSide(wall int) string {
	const mostly = 0.9 // cosine of 26 degrees
	poly := r.Polygon()
	if wall < 1 || wall > len(poly) {
		return ""
	}
	switch n := poly.InwardNormal(wall - 1); {
	case n.X > mostly:
		return "screen"
	case n.X < -mostly:
		return "back"
	case n.Y > mostly:
		return "left"
	case n.Y < -mostly:
		return "right"
	}
	return ""
}

// WallName names a wall of the footprint, counted from 1: "left wall" of the only one on
// that side. Where a side has several, and for walls askew, a letter tells them apart:
// "back wall A". Letters run on along the footprint. Empty for one that is not there.
func (r Room) WallName(wall int) string {
	n := len(r.Footprint)
	if wall < 1 || wall > n {
		return ""
	}
	sides := make([]string, n+1)
	of := map[string]int{}
	for i := 1; i <= n; i++ {
		sides[i] = r.WallSide(i)
		of[sides[i]]++
	}
	letters := 0
	for i := 1; i <= wall; i++ {
		if sides[i] == "" || of[sides[i]] > 1 {
			letters++
		}
	}
	name := strings.TrimSpace(sides[wall] + " wall")
	if sides[wall] != "" && of[sides[wall]] == 1 {
		return name
	}
	return name + " " + letter(letters)
}

// WallNames returns the names of all walls, in the order of the footprint.
func (r Room) WallNames() []string {
	names := make([]string, len(r.Footprint))
	for i := range names {
		names[i] = r.WallName(i + 1)
	}
	return names
}

// WallNamed returns the wall of that name, counted from 1; 0 for none.
func (r Room) WallNamed(name string) int { return slices.Index(r.WallNames(), name) + 1 }

// letter returns A to Z, then AA, AB and so on, of 1, 2 and so on.
func letter(n int) string {
	if n > 26 {
		return letter((n-1)/26) + letter((n-1)%26+1)
	}
	return string(rune('A' + n - 1))
}
