// SPDX-License-Identifier: MIT

// Package tour is how a room is shown to a client: where one is, where one looks and what
// light there is at each moment of a way from viewpoint to viewpoint, and of the entrance,
// when the lights receive people. It is pure.
//
//	t := tour.Plan(room)
//	m := t.At(12.5)      // seconds from the start
//	m.Camera()           // of the picture then
//	m.Light.Dimmed(model) // and its light
package tour
