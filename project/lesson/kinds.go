// SPDX-License-Identifier: MIT

package lesson

import (
	"math"
	"math/rand/v2"
	"slices"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/practice"
)

// draw draws the measures of faults, in whole millimetres and degrees.
type draw struct{ *rand.Rand }

// between returns a length from lo to hi, both in millimetres.
func (r draw) between(lo, hi int) float64 { return float64(lo+r.IntN(hi-lo+1)) / 1000 }

// kind is a way to spoil a room.
type kind struct {
	name  string
	part  string // what it touches: faults of one lesson touch different parts
	level int    // from which it is set
	// does spoils d; false where the room has nothing of the sort.
	does func(d *project.Design, r *draw) bool
}

// kinds are all of them. A draw that does not have the effect meant is thrown away, so
// they need not know the room.
var kinds = [...]kind{
	{"sides at ear height", "side", 1, func(d *project.Design, r *draw) bool { return shift(d, practice.Side, 0, 0, -r.between(200, 550)) }},
	{"rears at ear height", "rear", 1, func(d *project.Design, r *draw) bool { return shift(d, practice.Rear, 0, 0, -r.between(200, 550)) }},
	{"wides at ear height", "wide", 2, func(d *project.Design, r *draw) bool { return shift(d, practice.Wide, 0, 0, -r.between(200, 450)) }},
	{"sides too high", "side", 1, func(d *project.Design, r *draw) bool { return shift(d, practice.Side, 0, 0, r.between(250, 700)) }},
	{"rears too high", "rear", 1, func(d *project.Design, r *draw) bool { return shift(d, practice.Rear, 0, 0, r.between(250, 700)) }},
	{"row too low", "row", 1, rowTooLow},
	{"picture too low", "picture", 1, func(d *project.Design, r *draw) bool { return lowerPicture(d, r.between(120, 350)) }},
	{"fronts too high on the picture", "front", 1, func(d *project.Design, r *draw) bool { return shift(d, practice.Front, 0, 0, r.between(250, 500)) }},
	{"fronts too near to each other", "front", 1, func(d *project.Design, r *draw) bool {
		return scale(d, practice.Front, 1, float64(45+r.IntN(21))/100)
	}},
	{"picture too small", "picture", 1, pictureTooSmall},
	{"heights too far out", "height", 2, func(d *project.Design, r *draw) bool {
		s := float64(170+r.IntN(91)) / 100
		return scale(d, practice.Height, s, s)
	}},
	{"heights straight overhead", "height", 2, func(d *project.Design, r *draw) bool {
		s := float64(15+r.IntN(31)) / 100
		return scale(d, practice.Height, s, s)
	}},
	{"one side too far forward", "side", 2, func(d *project.Design, r *draw) bool {
		return shiftOne(d, practice.Side, r, -r.between(450, 1000), 0, 0)
	}},
	{"one side too far back", "side", 2, func(d *project.Design, r *draw) bool { return shiftOne(d, practice.Side, r, r.between(300, 900), 0, 0) }},
	{"one side higher than the other", "side", 2, func(d *project.Design, r *draw) bool { return shiftOne(d, practice.Side, r, 0, 0, r.between(180, 450)) }},
	{"one rear higher than the other", "rear", 2, func(d *project.Design, r *draw) bool { return shiftOne(d, practice.Rear, r, 0, 0, r.between(180, 450)) }},
	{"one height out of place", "height", 3, func(d *project.Design, r *draw) bool {
		return shiftOne(d, practice.Height, r, r.between(250, 600), 0, 0)
	}},
	{"a front that points away", "front", 2, frontPointsAway},
	{"soffit in the way", "ceiling", 2, soffitInTheWay},
	{"row against the wall", "row", 1, rowAgainstTheWall},
	{"rows too close", "row", 2, rowsTooClose},
	{"door that strikes a chair", "door", 2, doorStrikes},
}

// mm returns v rounded to the millimetre, so that every system writes the same file.
func mm(v float64) unit.Length { return unit.Length(math.Round(v*1000) / 1000) }

// of returns the loudspeakers of a layer, by index; the centre is a front.
func of(d *project.Design, layer practice.Layer) (all []int) {
	for k, l := range d.Speakers {
		if practice.LayerOf(l.Label) == layer {
			all = append(all, k)
		}
	}
	return all
}

func move(l *project.Loudspeaker, x, y, z float64) {
	l.At = project.Point{X: mm(float64(l.At.X) + x), Y: mm(float64(l.At.Y) + y), Z: mm(float64(l.At.Z) + z)}
}

// shift moves a whole layer.
func shift(d *project.Design, layer practice.Layer, x, y, z float64) bool {
	all := of(d, layer)
	for _, k := range all {
		move(&d.Speakers[k], x, y, z)
	}
	return len(all) > 0 && under(d, all)
}

// under reports whether those loudspeakers end clear of the ceiling.
func under(d *project.Design, all []int) bool {
	const clear = 0.05 // m
	return !slices.ContainsFunc(all, func(k int) bool {
		l := d.Speakers[k]
		m, _ := d.Model(l.Model)
		return l.Mount != project.OnCeiling && float64(l.At.Z+m.Height/2) > float64(d.Room.Ceiling.Height)-clear
	})
}

// shiftOne moves one loudspeaker of a layer.
func shiftOne(d *project.Design, layer practice.Layer, r *draw, x, y, z float64) bool {
	all := of(d, layer)
	if len(all) == 0 {
		return false
	}
	k := all[r.IntN(len(all))]
	move(&d.Speakers[k], x, y, z)
	return under(d, []int{k})
}

// scale moves a layer to or from the main position: x along the room, y across it.
func scale(d *project.Design, layer practice.Layer, x, y float64) bool {
	all, main := of(d, layer), place.MainPoint(d)
	for _, k := range all {
		l := &d.Speakers[k]
		l.At.X = mm(main.X + (float64(l.At.X)-main.X)*x)
		l.At.Y = mm(main.Y + (float64(l.At.Y)-main.Y)*y)
	}
	return len(all) > 0
}

// raise hangs the sides so many degrees up from the main position.
func raise(d *project.Design, elevation float64) bool {
	all, main := of(d, practice.Side), place.MainPoint(d)
	for _, k := range all {
		l := &d.Speakers[k]
		l.At.Z = mm(main.Z + math.Hypot(float64(l.At.X)-main.X, float64(l.At.Y)-main.Y)*math.Tan(elevation*math.Pi/180))
	}
	return len(all) > 0
}

// last returns the last row, nil where there is only one.
func last(d *project.Design) *project.Row {
	if n := len(d.Seating.Rows); n > 1 {
		return &d.Seating.Rows[n-1]
	}
	return nil
}

func rowTooLow(d *project.Design, r *draw) bool {
	row := last(d)
	if row == nil {
		return false
	}
	by := r.between(60, 200)
	if float64(row.Riser) <= by {
		return false
	}
	row.Riser = mm(float64(row.Riser) - by)
	return true
}

// raiseRow raises the last row.
func raiseRow(d *project.Design, by float64) {
	row := last(d)
	row.Riser = mm(float64(row.Riser) + by)
}

// lowerPicture lowers the picture, and what stands behind it.
func lowerPicture(d *project.Design, by float64) bool {
	d.Screen.Bottom = mm(float64(d.Screen.Bottom) - by)
	for k := range d.Speakers {
		if l := &d.Speakers[k]; l.Mount == project.BehindScreen {
			move(l, 0, 0, -by)
		}
	}
	return d.Screen.Bottom > 0
}

// pictureTooSmall keeps the middle of the picture and puts the fronts on it.
func pictureTooSmall(d *project.Design, r *draw) bool {
	share := float64(50+r.IntN(21)) / 100
	was := d.Screen.Height()
	d.Screen.Width = mm(float64(d.Screen.Width) * share)
	d.Screen.Bottom = mm(float64(d.Screen.Bottom) + (was-d.Screen.Height())/2)
	return true
}

func frontPointsAway(d *project.Design, r *draw) bool {
	all := of(d, practice.Front)
	if len(all) == 0 {
		return false
	}
	l := &d.Speakers[all[r.IntN(len(all))]]
	// Outwards from straight back: 180° is the back wall, 90° the left one.
	out := unit.Degrees(35 + r.IntN(26))
	if float64(l.At.Y) > float64(d.Screen.Centre) {
		out = -out
	}
	azimuth := 180 - out
	if azimuth > 180 {
		azimuth -= 360
	}
	l.Aim = project.Aim{Fixed: true, Azimuth: azimuth}
	return true
}

// soffitInTheWay hangs a soffit across the room between the front heights and the seats.
func soffitInTheWay(d *project.Design, r *draw) bool {
	all, main := of(d, practice.Height), place.MainPoint(d)
	if len(all) == 0 {
		return false
	}
	first := slices.MinFunc(all, func(a, b int) int { return int(math.Copysign(1, float64(d.Speakers[a].At.X-d.Speakers[b].At.X))) })
	x := float64(d.Speakers[first].At.X)
	if x > main.X-0.6 {
		return false
	}
	lo, hi := d.Room.Polygon().Bounds()
	drop := r.between(250, 500)
	d.Room.Features = append(d.Room.Features, project.Feature{
		Kind: project.Soffit, Name: "duct soffit",
		At:     project.Point{X: mm(x + 0.25 + r.between(0, 150)), Y: mm((lo.Y + hi.Y) / 2), Z: mm(float64(d.Room.Ceiling.Height) - drop)},
		Length: 0.3, Width: mm(hi.Y - lo.Y), Height: mm(drop),
	})
	return true
}

func rowAgainstTheWall(d *project.Design, r *draw) bool {
	row := &d.Seating.Rows[len(d.Seating.Rows)-1]
	_, hi := d.Room.Polygon().Bounds()
	behind := r.between(150, 350) // of the back of the pan to the wall
	to := mm(hi.X - behind)
	row.Back -= to - row.Distance
	row.Distance = to
	return row.Back >= 0
}

func rowsTooClose(d *project.Design, r *draw) bool {
	if last(d) == nil {
		return false
	}
	// The first row moves: the last is the main one as a rule.
	row := &d.Seating.Rows[0]
	row.Distance = mm(float64(row.Distance) + r.between(150, 400))
	return true
}

func doorStrikes(d *project.Design, r *draw) bool {
	for i := range d.Room.Features {
		f := &d.Room.Features[i]
		if f.Kind != project.Door {
			continue
		}
		row := d.Seating.Rows[r.IntN(len(d.Seating.Rows))]
		f.Swing = []project.Swing{project.InLeft, project.InRight}[r.IntN(2)]
		f.At.X = mm(float64(row.Distance) - r.between(0, 500))
		return true
	}
	return false
}
