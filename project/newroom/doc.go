// SPDX-License-Identifier: MIT

// Package newroom begins a room from three answers: how large the room is, how many
// seats it is to have, and which loudspeaker system. It is the planner (project/layout)
// in an empty rectangle, with a door. All models are invented.
package newroom
