// SPDX-License-Identifier: MIT

package wave

import (
	"errors"
	"fmt"
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/air"
	"earline/project/bass/field"
)

// Room is the air of a room and its boundaries. Admittances are real and relative
// to that of air, 0 to 1 or somewhat above, see field.Admittance.
type Room struct {
	// Footprint is the outline of the floor, z = 0.
	Footprint geometry.Polygon
	Ceiling   geometry.Ceiling
	// Walls are the admittances of the walls, one for each edge of the footprint,
	// or one for all.
	Walls                    []float64
	FloorGives, CeilingGives float64 // admittances
	Blocks                   []Block
	// Speed is the speed of sound in m/s; 0 is that at 20 degrees Celsius.
	Speed float64
}

// Block is an upright solid in the room: a platform, a stage, a column, a soffit.
type Block struct {
	Footprint   geometry.Polygon
	Bottom, Top float64 // m above the floor
	Gives       float64 // admittance of all its faces
}

// Box returns a room with rectangular floor and flat ceiling, one corner in the
// origin, sizes in metres, all surfaces of one admittance.
func Box(length, width, height, admittance float64) Room {
	return Room{
		Footprint: geometry.Polygon{{}, {X: length}, {X: length, Y: width}, {Y: width}},
		Ceiling:   geometry.Ceiling{{Height: height}}, Walls: []float64{admittance},
		FloorGives: admittance, CeilingGives: admittance,
	}
}

func (r Room) speed() float64 {
	if r.Speed == 0 {
		return air.Speed20
	}
	return r.Speed
}

// wall returns the admittance of the wall on an edge of the footprint.
func (r Room) wall(edge int) float64 {
	if len(r.Walls) == 1 {
		return r.Walls[0]
	}
	return r.Walls[edge]
}

// check returns a fault for a room that cannot be computed.
func (r Room) check() error {
	var faults []error
	fault := func(field, found, allowed string) {
		faults = append(faults, &project.Fault{Field: field, Found: found, Allowed: allowed})
	}
	if err := r.Footprint.Simple(); err != nil {
		fault("footprint", err.Error(), "a simple polygon")
	}
	faults = append(faults, field.Positive("speed of sound", r.speed()))
	for i, c := range r.Footprint {
		if h := r.Ceiling.At(c.X, c.Y); !(h > 0) || math.IsInf(h, 0) {
			fault(fmt.Sprintf("ceiling above corner %d", i+1), fmt.Sprintf("%v m", h), "a number above 0")
		}
	}
	gives := func(field string, g float64) {
		if !(g >= 0 && g <= 10) {
			fault(field, fmt.Sprint(g), "0 to 10, times that of air")
		}
	}
	if n := len(r.Walls); n != 1 && n != len(r.Footprint) {
		fault("walls", fmt.Sprintf("%d admittances", n), fmt.Sprintf("1, or %d, one for each edge", len(r.Footprint)))
	}
	for i, g := range r.Walls {
		gives(fmt.Sprintf("admittance of wall %d", i+1), g)
	}
	gives("admittance of the floor", r.FloorGives)
	gives("admittance of the ceiling", r.CeilingGives)
	for i, b := range r.Blocks {
		name := fmt.Sprintf("block %d", i+1)
		if err := b.Footprint.Simple(); err != nil {
			fault(name+" footprint", err.Error(), "a simple polygon")
		}
		if !(b.Top > b.Bottom) || math.IsInf(b.Top-b.Bottom, 0) {
			fault(name, fmt.Sprintf("top %v m, bottom %v m", b.Top, b.Bottom), "a top above the bottom")
		}
		gives("admittance of "+name, b.Gives)
	}
	return errors.Join(faults...)
}
