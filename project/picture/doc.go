// SPDX-License-Identifier: MIT

// Package picture answers what the projector makes of the screen: how bright each shape
// of picture is, new and aged, from every seat; how much of the imager and of its light
// each shape uses and how fine its pixels are seen; where the lens may stand and what
// zoom and shift each shape asks for; who and what stands in the beam; and where the
// borders of each shape fall.
//
// Lengths are metres, light is lumens, luminance cd/m². All functions only read.
package picture
