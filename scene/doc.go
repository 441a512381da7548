// SPDX-License-Identifier: MIT

// Package scene turns a design and its audit into the contents of a picture:
// meshes, lines, labels and cameras. It does not render (package scene/gl does)
// and judges nothing (package project/sight does).
//
// The picture world has y up, as g3n and glTF have it. Only this package knows
// that: World is the one conversion from the room frame of package geometry
// (x back, y right, z up), a plain change of names (y, z, x) with determinant
// +1, so nothing is ever mirrored. float32 begins here.
package scene
