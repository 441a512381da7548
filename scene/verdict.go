// SPDX-License-Identifier: MIT

package scene

import "earline/project/sight"

// Look is how a verdict is shown: in the picture, the table, the status line and the
// lists alike.
type Look struct {
	Plate, Ink RGB // of a cell, a badge or a label: its ground and what is written on it
	// Ray is the colour of a path. Gap is the second colour of one that falls short, so
	// that whatever lies behind, one of the two stands out from it: the core of a
	// blocked path, the gaps of a tight one.
	Ray, Gap RGB
	Letter   string
}

// Looks holds the look of every verdict.
type Looks [sight.Blocked + 1]Look

// onDark and onLight are the looks of verdicts on dark and on light ground. What falls
// short stands out by lightness, which every kind of colour vision sees: blocked most,
// tight next, clear hardly.
var (
	onDark = Looks{
		sight.NotJudged: {Plate: hex(0x2a313a), Ink: hex(0xb4c0cb), Ray: hex(0x8b929b), Gap: hex(0x8b929b), Letter: "–"},
		sight.Clear:     {Plate: hex(0x17303f), Ink: hex(0xdceaf4), Ray: hex(0x4a8db5), Gap: hex(0x4a8db5), Letter: "C"},
		sight.Tight:     {Plate: hex(0xbc7812), Ink: hex(0x0a0700), Ray: hex(0xffe37a), Gap: hex(0x0a0700), Letter: "T"},
		sight.Blocked:   {Plate: hex(0xfff4f6), Ink: hex(0x6b0f2e), Ray: hex(0xfff4f6), Gap: hex(0x6b0f2e), Letter: "B"},
	}
	onLight = Looks{
		sight.NotJudged: {Plate: hex(0xe3e7eb), Ink: hex(0x4c5864), Ray: hex(0x6a727a), Gap: hex(0x6a727a), Letter: "–"},
		sight.Clear:     {Plate: hex(0xe6eef4), Ink: hex(0x1d3a4f), Ray: hex(0x2f6f96), Gap: hex(0x2f6f96), Letter: "C"},
		sight.Tight:     {Plate: hex(0xb47520), Ink: hex(0x0d0900), Ray: hex(0x5e3800), Gap: hex(0xffffff), Letter: "T"},
		sight.Blocked:   {Plate: hex(0x4f0824), Ink: hex(0xffffff), Ray: hex(0x4f0824), Gap: hex(0xffffff), Letter: "B"},
	}
)
