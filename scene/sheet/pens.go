// SPDX-License-Identifier: MIT

package sheet

import "image/color"

// Heights of capital letters in millimetres, of the series of ISO 3098-1 (memory).
const (
	small  = 2.5 // dimensions and labels
	medium = 3.5 // titles of views
	large  = 5   // the title of the sheet
	tiny   = 1.8 // what the title block says of itself
)

// Widths of lines in millimetres: the group 0.5 and 0.25 of ISO 128-2 (memory), with a
// finer one for what only guides the eye.
const (
	cut     = 0.5  // edges of what is cut through
	edge    = 0.35 // edges that are seen
	thin    = 0.18 // dimensions, hatches
	finest  = 0.13 // what is there for orientation
	heavier = 0.7  // the frame of the sheet, the screen
)

// Layers, as a drawing program lists them.
const (
	sheetLayer     = "sheet"
	wallLayer      = "walls"
	featureLayer   = "features"
	rowLayer       = "rows"
	screenLayer    = "screen"
	speakerLayer   = "loudspeakers"
	projectorLayer = "projector"
	cutoutLayer    = "cut-outs"
	treatmentLayer = "treatments"
	laserLayer     = "laser-line"
	dimensionLayer = "dimensions"
	textLayer      = "text"
	sightLayer     = "orientation"
	hatchLayer     = "hatch"
	backdropLayer  = "backdrops" // of other programs
	maskLayer      = "mask"      // white, under what must be read: of no use where lines are kept
)

var (
	black = color.NRGBA{A: 0xff}
	grey  = color.NRGBA{0x60, 0x60, 0x60, 0xff}
	pale  = color.NRGBA{0xa0, 0xa0, 0xa0, 0xff}
	red   = color.NRGBA{0xc0, 0x10, 0x10, 0xff} // the laser line
	blue  = color.NRGBA{0x10, 0x30, 0x90, 0xff} // loudspeakers and their cut-outs
	white = color.NRGBA{0xff, 0xff, 0xff, 0xff}
)
