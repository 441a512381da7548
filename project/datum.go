// SPDX-License-Identifier: MIT

package project

import "earline/geometry/unit"

// Datum is what a room is set out from: one laser line round the walls, and what is
// measured across the room from.
type Datum struct {
	// Height is of the line above From.
	Height unit.Length `json:"height_m,omitempty"`
	From   FloorLevel  `json:"from,omitempty"`
	// FloorBuildup is how far the finished floor lies above the structural one.
	FloorBuildup unit.Length `json:"floor_buildup_m,omitempty"`
	// Across is what is measured across the room from: the name of a wall as
	// Room.WallName says it, or CentreLine.
	Across string `json:"across_from,omitempty"`
	// WallBuildup is how far the finished face stands before the rough wall, wall by
	// wall in the order of the footprint; 0 for those it does not reach.
	WallBuildup []unit.Length `json:"wall_buildup_m,omitempty"`
}

// FloorLevel says which floor a height is above.
type FloorLevel string

// The floors; "" is FinishedFloor.
const (
	FinishedFloor   FloorLevel = "finished floor"
	StructuralFloor FloorLevel = "structural floor"
)

// CentreLine is the line through the middle of the picture, from the screen to the back.
const CentreLine = "centre line"

// Given reports whether the document says anything of a datum.
func (t Datum) Given() bool {
	return t.Height != 0 || t.From != "" || t.FloorBuildup != 0 || t.Across != "" || len(t.WallBuildup) > 0
}

// Line returns the height of the line above the finished floor, metres. Of a document
// that gives none it is 1 m: as high as a tripod stands without a ladder, and clear of
// chairs and skirting (common practice).
func (t Datum) Line() float64 {
	const usual = 1.0 // m
	switch {
	case t.Height == 0:
		return usual
	case t.From == StructuralFloor:
		return float64(t.Height - t.FloorBuildup)
	}
	return float64(t.Height)
}

// AcrossFrom returns what is measured across the room from: the centre line unless the
// document says otherwise, because pictures and pairs are hung about it and no wall
// need be straight.
func (t Datum) AcrossFrom() string {
	if t.Across == "" {
		return CentreLine
	}
	return t.Across
}
