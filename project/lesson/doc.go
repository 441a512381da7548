// SPDX-License-Identifier: MIT

// Package lesson makes rooms with known faults for people who learn the trade, and marks
// how they mended them. A lesson is made from a number, its seed: the same seed gives the
// same room on every system, so that a class works on one room and a lesson can be marked
// on any machine. Or a trainer makes one of a sound room and the same room with faults.
//
// A fault is a cause of package settle that must or should be settled and that the sound
// room does not have. What a lesson claims was found by the audit: exactly these causes,
// no others. Notes do not count.
//
// Some lessons have no answer without a remark: the best known one leaves it standing,
// and the lesson says why.
package lesson
