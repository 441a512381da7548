// SPDX-License-Identifier: MIT

package project

import (
	"fmt"

	"earline/geometry/unit"
)

// OctaveCount is the number of octave bands.
const OctaveCount = 8

// Octaves returns the nominal middles of the octave bands in which surfaces,
// levels and losses are stated, in hertz.
func Octaves() [OctaveCount]float64 {
	return [OctaveCount]float64{63, 125, 250, 500, 1000, 2000, 4000, 8000}
}

// Material is what a surface is made of, as sound meets it.
type Material struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	// Absorption is the random-incidence absorption coefficient in each of
	// Octaves, 0 to 1.
	Absorption []float64 `json:"absorption"`
	// Bass is its absorption in those of BassThirds in which it is known, ascending;
	// see InBass for the others.
	Bass []ThirdAbsorption `json:"bass_absorption,omitempty"`
	// Scatters is whether it spreads what it reflects, as a diffuser does.
	Scatters bool   `json:"scatters,omitempty"`
	Source   string `json:"source,omitempty"` // where the figures are from
}

// Surfaces say what the shell is made of: IDs of materials. Empty ones are not
// known; what computes with them says what it assumes.
type Surfaces struct {
	Floor   string `json:"floor,omitempty"`
	Ceiling string `json:"ceiling,omitempty"`
	// Walls is every wall that Wall does not list.
	Walls string        `json:"walls,omitempty"`
	Wall  []WallSurface `json:"wall,omitempty"`
	// Platforms is what the rows' platforms are covered with; empty: as Floor.
	Platforms string `json:"platforms,omitempty"`
}

// WallSurface is one wall of another material.
type WallSurface struct {
	// Wall counts from 1: wall 1 runs from the first corner of the footprint to
	// the second.
	Wall     int    `json:"wall"`
	Material string `json:"material"`
}

// Treatment is a panel on a wall or under the ceiling.
type Treatment struct {
	ID       string `json:"id,omitempty"` // see Design.Identify
	Name     string `json:"name,omitempty"`
	Material string `json:"material"`
	// Wall counts from 1 as in WallSurface; 0 is the ceiling.
	Wall int `json:"wall"`
	// From and To are along the wall from its first corner, Low and High its
	// heights; under the ceiling they are x, and y.
	From unit.Length `json:"from_m"`
	To   unit.Length `json:"to_m"`
	Low  unit.Length `json:"low_m"`
	High unit.Length `json:"high_m"`
}

// Air is the air in the room; the zero value is not known, and means Usual.
type Air struct {
	Temperature float64 `json:"temperature_c"`
	Humidity    float64 `json:"humidity_percent"` // relative
}

// OrUsual returns a, or 20 degrees and 50 % when it is not given: the middle of
// what rooms have, no source.
func (a Air) OrUsual() Air {
	if a == (Air{}) {
		return Air{Temperature: 20, Humidity: 50}
	}
	return a
}

// SubZone is a rectangle of floor on which subwoofers may stand.
type SubZone struct {
	ID   string `json:"id,omitempty"` // see Design.Identify
	Name string `json:"name,omitempty"`
	// From and To are opposite corners.
	From Corner `json:"from"`
	To   Corner `json:"to"`
	// Height is that of the subwoofer's reference point above the floor.
	Height unit.Length `json:"height_m"`
}

// ZoneName returns the name of sub zone i, or its number when it has none.
func (d *Design) ZoneName(i int) string {
	if n := d.SubZones[i].Name; n != "" {
		return n
	}
	return fmt.Sprintf("subwoofer zone %d", i+1)
}
