// SPDX-License-Identifier: MIT

// Package bake answers how the lamps light what is drawn: the irradiance at every corner
// of a display list, layer by layer, with shadows and with the light that surfaces throw
// at each other. The lamps are those of project/light; the rays meet the triangles that
// are seen.
//
// A Room is a list made ready. Its Light is worked out once for as long as nothing in the
// room changes: light adds up, so that a scene, a dimmer or another camera only mixes the
// layers anew. Everything is as good as its rays and the same for the same seed.
//
// What is thrown back is thrown evenly in all directions: no mirrors, no gloss.
// Illuminance is lux, luminance cd/m², lengths metres, in the room frame.
package bake
