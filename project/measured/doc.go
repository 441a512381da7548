// SPDX-License-Identifier: MIT

// Package measured says how what was measured at the seats compares with what is
// computed: it reads tables of responses, lays them over the computed ones, and tells
// what they have in common.
//
// A measurement has a reference of its own: what is compared is the shape of a
// response, and how the seats differ from each other.
package measured
