// SPDX-License-Identifier: MIT

// Package file reads and writes a design as one human-readable JSON file,
// *.earline, which assets/earline.schema.json describes.
//
// The file is the fields of project.Design behind two of its own:
//
//	{
//	  "format": "earline",
//	  "version": 1,
//	  "name": "…",
//	  …
//	}
//
// Reading refuses what it does not know, so that a slip of the pen is seen and
// not lost: unknown and doubled fields, missing ones, wrong types, impossible
// values. Every fault is reported, each a *project.Fault of one line. Reading
// and writing hold a design to the same rules (Design.Validate), so what Write
// has written Read can read.
//
// Versions: 1 is the first. An older file is brought up to date by the
// migrations, one for each step; a newer one is refused.
//
// All functions are safe from any goroutine.
package file
