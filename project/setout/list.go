// SPDX-License-Identifier: MIT

package setout

import (
	"earline/geometry"
	"earline/project"
)

// List is what an installer carries round the room, in the order of the walk: see
// order.go.
type List struct {
	Name  string // of the design
	Job   project.Job
	Units project.Units
	Datum Datum
	Items []Item
	// Warning says what cannot be built as drawn; empty for nothing.
	Warning string
}

// Datum is what everything is measured from.
type Datum struct {
	// Height is of the laser line above the finished floor, metres: the z of the room
	// frame. Given is the height that the document gives, above From.
	Height, Given float64
	From          project.FloorLevel
	FloorBuildup  float64 // finished above structural floor, metres
	// Across is what is measured across the room from: a wall's name, or "centre line"
	// at Centre metres from the left of the room frame.
	Across string
	Centre float64
	// WallBuildup is of the finished face before the rough wall, by wall, metres.
	WallBuildup []float64
	// Assumed reports that the document says nothing of a datum.
	Assumed bool
}

// Kind is what an Item is.
type Kind string

// The kinds.
const (
	Speaker   Kind = "loudspeaker"
	Picture   Kind = "picture corner"
	Border    Kind = "picture border" // of a shape of picture, or a box that a mask moves out of
	Row       Kind = "row"
	Platform  Kind = "platform edge"
	Step      Kind = "step"
	Treatment Kind = "treatment"
	Feature   Kind = "feature" // Name says which: soffit, door, light ...
	Outlet    Kind = "outlet"
	Projector Kind = "projector" // the middle of its front lens
)

// Surface is what an Item is on.
type Surface string

// The surfaces.
const (
	OnWall       Surface = "wall"
	OnCeiling    Surface = "ceiling"
	OnFloor      Surface = "floor"
	BehindScreen Surface = "behind screen"
)

// Item is one thing to set out.
type Item struct {
	// ID is that of the thing in the document (see project.Design.Identify), "screen" of
	// the picture. Part tells items apart that belong to one thing: "upper left". The two
	// together are unique in a List and stay what they are while the design is edited.
	ID, Part string
	Kind     Kind
	Name     string // "M+090 left side"
	On       Surface
	Wall     int    // counted from 1; 0 of what is on no wall
	Place    string // the wall's name, "ceiling", "floor", "behind screen"
	At       geometry.Vec
	// Height is above the line, metres; below it, it is negative. StructuralHeight is
	// above the structural floor, FinishedHeight above the finished one.
	Height, FinishedHeight, StructuralHeight float64
	// Offsets are level, square to what they are measured from, to the near face that is
	// seen from At. Along the room first, then across it; of what is on a wall the one
	// along the wall first, then out from the wall.
	Offsets []Offset
	Aim     *Aim
	Cutout  *Cutout // nil: no hole
	Edges   *Cutout // outer edges of what lies flat on its surface; nil: of nothing flat
	Frame   *Frame  // outer size; of a feature as the document has it, before it is turned, but of one in a wall as one faces it; nil: none
	Drivers []Driver
	Mass    float64 // kg; 0: not known
	Caution string
	// Tolerance is nil for what is not judged.
	Tolerance *Tolerance
}

// Offset is a distance from a wall or the centre line.
type Offset struct {
	From     string  // "left wall", "back wall A", "centre line"
	Wall     int     // counted from 1; 0 for the centre line
	Distance float64 // metres; from the centre line positive to the right, facing the screen
	// Rough is the same from the rough wall, where the document says how thick its
	// build-up is; otherwise equal to Distance.
	Rough float64
}

// Aim is where a loudspeaker's axis points, degrees. On a wall Turn is from the wall's
// inward normal, positive to the right of who looks along it, and Tilt up from level. What
// stands on the floor is turned from straight to the back of the room instead. On the
// ceiling Tilt is off plumb, and Turn is where to, from the screen, positive to the
// right of who faces it.
type Aim struct{ Turn, Tilt float64 }

// Line is what heights are measured from.
const Line = "line"

// Cutout is a hole, by its edges, as seen from inside the room, metres. Left and Right
// are measured as the Item's offset across them is, from what LeftRightFrom names; Lower
// and Upper are above the line. In a ceiling or floor, seen facing the screen, Lower is the
// edge towards the seats' backs and Upper that towards the screen, both from what
// LowerUpperFrom names.
type Cutout struct {
	Left, Right, Lower, Upper     float64
	LeftRightFrom, LowerUpperFrom string // a wall, the centre line, or Line
	Width, Height                 float64
}

// Frame is the outer size of a front.
type Frame struct{ Width, Height, Depth float64 }

// Driver is a driver whose middle is elsewhere than its box's.
type Driver struct {
	Band   project.Band
	Height float64 // above the line, metres
}

// Tolerance is how far something may end up from where it is planned, by direction. On
// the ceiling and the floor Up is forward, towards the screen, and Down back.
type Tolerance struct {
	Up, Down, Left, Right Reach
	// In is towards the room, Out into the wall; nil where neither matters.
	In, Out *Reach
	// Blocked is from how many seats it is blocked where it is planned: no place within
	// the tolerance is said to cure that.
	Blocked int
}

// Reach is how far in one direction.
type Reach struct {
	Distance float64 // metres
	Limit    string  // what breaks beyond: "sight, row 2 seat 1: head in row 1 seat 2"; empty: nothing up to Most
}
