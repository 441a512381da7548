// SPDX-License-Identifier: MIT

// Package handover makes the calibration record of a room: what the processor is to be
// set to, what each figure is to come out at, with room beside it for what the meter says,
// and in what order the work is done.
package handover
