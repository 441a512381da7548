// SPDX-License-Identifier: MIT

package project

import (
	"reflect"

	"earline/geometry/unit"
)

// Chair is a model of chair. All sizes are of the chair as delivered, unloaded.
type Chair struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	// PanHeight is from the platform to the top of the seat pan at its back.
	PanHeight unit.Length `json:"pan_height_m"`
	PanDepth  unit.Length `json:"pan_depth_m"`
	// PanWidth is between the arms.
	PanWidth unit.Length `json:"pan_width_m"`
	// BackHeight is the length of the back, up from the pan, without headrest.
	BackHeight    unit.Length `json:"back_height_m"`
	BackThickness unit.Length `json:"back_thickness_m"`
	// Headrest is how far it stands above the back; 0 for none.
	Headrest      unit.Length `json:"headrest_m"`
	HeadrestWidth unit.Length `json:"headrest_width_m"`
	ArmWidth      unit.Length `json:"arm_width_m"`
	ArmHeight     unit.Length `json:"arm_height_m"` // above the pan
	// The back turns from MinRecline to MaxRecline degrees behind upright.
	MinRecline unit.Degrees `json:"recline_min_deg"`
	MaxRecline unit.Degrees `json:"recline_max_deg"`
	// Footrest is how far a raised footrest reaches before the pan; 0 for none.
	Footrest unit.Length `json:"footrest_reach_m"`
	// Upholstery is the ID of the material of an empty chair, whose absorption is
	// that of its area on the floor; empty: not known.
	Upholstery string `json:"upholstery,omitempty"`
}

// Seating is the rows, who sits in them, and the main listening position.
type Seating struct {
	Rows    []Row        `json:"rows"`
	Sitters Sitters      `json:"sitters"`
	Main    MainPosition `json:"main_position"`
}

// Row is a row of like chairs that face the screen.
type Row struct {
	ID    string `json:"id,omitempty"` // see Design.Identify
	Chair string `json:"chair"`        // ID of the chair model
	// Distance is from the screen wall to the line where the seat pans meet the
	// backs, at the middle of the row.
	Distance unit.Length `json:"distance_m"`
	// Riser is the height of the row's platform above the room's floor.
	Riser unit.Length `json:"riser_m"`
	// Front and Back are how far the platform reaches before and behind
	// Distance. Not used when Riser is 0.
	Front unit.Length `json:"platform_front_m"`
	Back  unit.Length `json:"platform_back_m"`
	// Left and Right are where the platform begins and ends across the room, both
	// from the left wall (y = 0); 0 is the wall itself. With floor beside it the
	// platform is an island.
	Left  unit.Length `json:"platform_from_left_m,omitempty"`
	Right unit.Length `json:"platform_to_right_m,omitempty"`
	// Steps are the flights of steps up to the platform.
	Steps []Steps `json:"steps,omitempty"`
	Seats int     `json:"seats"`
	// Pitch is from the middle of one seat to the middle of the next, along the row.
	Pitch unit.Length `json:"pitch_m"`
	// Centre is from the left wall (y = 0) to the middle of the row, before Stagger.
	Centre unit.Length `json:"centre_m"`
	// Stagger shifts the whole row to the right (negative: left).
	Stagger unit.Length `json:"stagger_m,omitempty"`
	// Curve is the radius of the arc on which the seats stand, its centre towards
	// the screen; 0 is a straight row. Seats on a curve face its centre.
	Curve unit.Length `json:"curve_radius_m,omitempty"`
	// Recline is the angle of the back behind upright.
	Recline unit.Degrees `json:"recline_deg"`
}

// Steps is a flight of steps beside a platform, up to it from what is there: the
// room's floor or a lower platform.
type Steps struct {
	Side Side `json:"side"` // of the platform
	// At is the middle of the flight along that side: from the left wall before and
	// behind the platform, from the screen wall on its left and right.
	At    unit.Length `json:"at_m"`
	Width unit.Length `json:"width_m"`
	Tread unit.Length `json:"tread_m"` // from one nose to the next
	// Rise is the most that one step rises; they share the height evenly.
	Rise unit.Length `json:"rise_m"`
}

// Side is a side of a platform.
type Side string

// The sides.
const (
	FrontSide Side = "front"
	BackSide  Side = "back"
	LeftSide  Side = "left"
	RightSide Side = "right"
)

// Equal reports whether r and o are the same in everything.
func (r Row) Equal(o Row) bool { return reflect.DeepEqual(r, o) }

// Sitters say for whom the plan is checked.
type Sitters struct {
	// Listener is the body-size percentile of whoever's ears and eyes are checked.
	Listener float64 `json:"listener_percentile"`
	// Others is the percentile of everyone who may be in the way.
	Others float64 `json:"others_percentile"`
	// Women is the share of women among the sitters, 0 to 1.
	Women float64 `json:"women_share"`
	// Sink is how far a soft seat gives under the sitter.
	Sink unit.Length `json:"seat_sink_m"`
	// Slump is how much lower than erect a relaxed sitter holds the head.
	Slump unit.Length `json:"slump_m"`
}

// MainPosition is the main listening position: the middle of a row at ear
// height, or any point.
type MainPosition struct {
	// Row counts from 1; 0 means At.
	Row int   `json:"row,omitempty"`
	At  Point `json:"at,omitzero"`
}
