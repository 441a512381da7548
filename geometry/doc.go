// SPDX-License-Identifier: MIT

// Package geometry answers where things are and what stands between them:
// directions, segments, solids, clearances, visible areas, polygons. It knows
// numbers only - no document, no window, no picture.
//
// Everything is in the room frame, right-handed, in metres, with the origin at
// the floor corner front left as one faces the screen:
//
//	                 screen wall
//	   origin o───────────────────────────▶ y  (towards the right wall)
//	          │                           │
//	          │        front              │
//	left wall │                           │ right wall
//	          │        listeners          │
//	          ▼                           │
//	          x  (back from the screen)───┘        z points up from the floor
//
// so that every coordinate inside the room is positive and is a distance that
// an installer can measure. x cross y is z.
//
// Directions are as heard by a listener who faces the screen (Rec. ITU-R
// BS.2051): azimuth 0 is straight ahead (towards -x), positive to the
// listener's left (towards -y); elevation is positive upwards. The unit vector
// of azimuth a and elevation e is (-cos e cos a, -cos e sin a, sin e). Angles
// are radians inside; package unit converts at the surface.
//
// No function here panics on finite input, and none returns NaN for finite
// input; degenerate cases are named in each comment. All functions are safe
// from any goroutine.
package geometry
