// SPDX-License-Identifier: MIT

package place

import "earline/geometry"

// Proportions of people who stand. The shoe is common practice, without a source; the
// others are from memory, of drawn figures.
const (
	shoe         = 0.03 // m
	shoulderLine = 0.82 // height of the shoulders / stature
	trunkRadius  = 0.20 // m
)

// Standing is somebody who stands upright, in shoes.
type Standing struct {
	Head  geometry.Ellipsoid
	Trunk geometry.Cylinder // with the legs
}

// Stand stands p upright on foot, a point of the floor.
func (p Person) Stand(foot geometry.Vec) Standing {
	half := p.above * headHeight / 2
	shoulders := shoe + p.stature*shoulderLine
	return Standing{
		Head: geometry.Ellipsoid{Center: foot.Add(geometry.Vec{Z: shoe + p.stature - half}), Basis: geometry.WorldBasis(),
			Radii: geometry.Vec{X: p.length / 2, Y: p.breadth / 2, Z: half}},
		Trunk: geometry.Cylinder{Center: foot.Add(geometry.Vec{Z: shoulders / 2}), Basis: geometry.WorldBasis(), Radius: trunkRadius, Half: shoulders / 2},
	}
}

// Top returns the height of the crown of s.
func (s Standing) Top() float64 { return s.Head.Center.Z + s.Head.Radii.Z }
