// SPDX-License-Identifier: MIT

package geometry_test

import (
	"fmt"

	"earline/geometry"
	"earline/geometry/unit"
)

// Does the head in front stand in the way from an ear to a loudspeaker's driver?
func ExampleSolid_Clearance() {
	head := geometry.Ellipsoid{
		Center: geometry.V(2.6, 2.05, 1.22),
		Basis:  geometry.WorldBasis(),
		Radii:  geometry.V(0.10, 0.08, 0.12),
	}.Solid()
	ear := geometry.V(3.8, 2.0, 1.25)
	driver := geometry.V(0.3, 2.0, 1.45)
	d, t := head.Clearance(geometry.Segment{A: ear, B: driver})
	fmt.Printf("%.0f mm, %.0f %% of the way\n", 1000*d, 100*t)
	// Output: 3 mm, 34 % of the way
}

// How much of a driver does an ear see past a post that covers its left half?
func ExampleScratch_Visible() {
	driver := geometry.Disc{Center: geometry.V(0, 2, 1.2), Normal: geometry.V(1, 0, 0), Radius: 0.08}
	post := geometry.Box{
		Center: geometry.V(1, 1.5, 1),
		Basis:  geometry.WorldBasis(),
		Half:   geometry.V(0.1, 0.5, 1),
	}.Solid()
	var sc geometry.Scratch
	share := sc.Visible(geometry.V(3, 2, 1.2), driver.Target(), []geometry.Solid{post}, nil)
	fmt.Printf("%.0f %%\n", 100*share)
	// Output: 50 %
}

// Does the corner of an L-shaped room stand in the way?
func ExamplePolygon_Obstructs() {
	room := geometry.Polygon{{0, 0}, {6, 0}, {6, 3}, {3, 3}, {3, 6}, {0, 6}}
	depth, t, edge, ok := room.Obstructs(geometry.Vec2{X: 2, Y: 5}, geometry.Vec2{X: 5, Y: 2})
	fmt.Printf("%v: %.3f m, at %.2f, wall %d\n", ok, depth, t, edge)
	// Output: true: 0.707 m, at 0.33, wall 3
}

// Where does a listener hear M+030 from?
func ExampleDirection() {
	v := geometry.Direction(30*unit.Degree, 0)
	fmt.Printf("%.3f ahead, %.3f to the left\n", -v.X, -v.Y)
	// Output: 0.866 ahead, 0.500 to the left
}
