// SPDX-License-Identifier: MIT

package scene

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl32"

	"earline/geometry"
	"earline/geometry/unit"
)

// The conversion to the picture world must not mirror: its determinant is +1.
func TestWorldKeepsHandedness(t *testing.T) {
	m := mgl32.Mat3FromCols(
		World(geometry.V(1, 0, 0)), World(geometry.V(0, 1, 0)), World(geometry.V(0, 0, 1)))
	if d := m.Det(); d != 1 {
		t.Fatalf("determinant of World = %v, want +1", d)
	}
	if up := World(geometry.V(0, 0, 1)); up != (mgl32.Vec3{0, 1, 0}) {
		t.Fatalf("room up is %v in the picture world, want +y", up)
	}
}

// M+030 of Rec. ITU-R BS.2051 stands to the listener's left, so a camera at the
// listener looking at the screen sees it in the left half of the picture.
func TestFrontLeftIsOnTheLeftOfThePicture(t *testing.T) {
	ear := geometry.V(4, 2, 1.1)
	left := ear.Add(geometry.Direction(30*unit.Degree, 0).Mul(3))
	if left.Y >= ear.Y {
		t.Fatalf("M+030 at y = %v, want less than the listener's %v", left.Y, ear.Y)
	}
	cam := Camera{Eye: World(ear), At: World(ear.Add(geometry.V(-1, 0, 0))), Up: mgl32.Vec3{0, 1, 0}, FOV: 1.4}
	x, y, _, ok := cam.Project(World(left), 800, 600)
	if !ok || x >= 400 || math.Abs(float64(y)-300) > 1 {
		t.Fatalf("M+030 drawn at (%v, %v), %v; want left of 400 and on the horizon", x, y, ok)
	}
}
