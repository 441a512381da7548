// SPDX-License-Identifier: MIT

// Package light answers what the lamps of a room light: the picture, the seats, the floor
// and the steps, group by group and scene by scene; what stray light leaves of the
// picture's contrast; and what the picture's own light does by way of the room.
//
// A Model is the lamps as emitters, the room as what stands in the way of light, and its
// surfaces as patches that throw it back. Everything is kept by layer: one for each light
// group at full level, and one for the picture. Light adds up, so that a scene is the sum
// of the layers, each times its level; dimming costs no more than that sum.
//
// The methods of a Model only read it once Bounce has run, allocate nothing point by
// point, and may be called from any number of goroutines. Lengths are metres, light
// lumens, illuminance lux, luminance cd/m².
package light
