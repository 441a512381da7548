// SPDX-License-Identifier: MIT

// Package scene turns a design and its audit into a picture's contents: meshes,
// lines, labels and cameras. It draws nothing itself (package scene/gl does)
// and decides nothing (package project/sight does).
//
// The picture world has y up, as g3n and glTF have it. Only this package knows
// that: World is the one conversion from the room frame of package geometry
// (x back, y right, z up), a plain change of names (y, z, x) with determinant
// +1, so nothing is ever mirrored. float32 begins here.
package scene
