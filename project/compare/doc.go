// SPDX-License-Identifier: MIT

// Package compare sets two designs of one room side by side: the room as it was found
// and the one proposed, or a plan and an option.
//
// Of answers what stays, what moves and how far, what is new and what goes; which
// holes are patched, cut anew or covered; and what both come to under every judgement.
// A thing with the same id is the same thing in both designs (project.Design.Identify).
// All functions only read.
package compare
