// SPDX-License-Identifier: MIT

package tour

import (
	"cmp"
	"math"
	"slices"

	"earline/project"
	"earline/project/light"
	"earline/project/place"
	"earline/scene/bake"
)

// Times of the entrance that nobody chooses, seconds, and how they relate. No source.
const (
	dark     = 1.0 // before the first group
	rise     = 1.4 // of a group, against the time from one to the next
	starting = 0.6 // share of the way down after which the picture starts
	running  = 4.0 // of the show, at the end
)

// Entrance is how the lights receive people, seen from one place: out of the dark they
// come on group by group up to house light, stay, and go down while the picture starts.
type Entrance struct {
	from  Pose
	times project.Entrance
	start []float64 // of each light group, seconds; below zero where it stays off
	names []string  // of each group
	up    float64   // when house light is reached
	down  float64   // when it begins to go down
}

// EntranceOf returns the entrance of a room as it is seen from a pose. It goes up to house
// light: the error is a *project.Fault of a room that has none.
func EntranceOf(r *place.Room, from Pose) (*Entrance, error) {
	d := r.Design
	order := ascending(d)
	if err := bake.Lit(light.Of(d), project.House); err != nil {
		return nil, err
	}
	e := &Entrance{from: from, times: d.Entrance.Usual(), start: make([]float64, len(d.LightGroups))}
	for i := range d.LightGroups {
		e.start[i] = -1
		e.names = append(e.names, d.LightName(i))
	}
	for k, i := range order {
		e.start[i] = dark + float64(k)*e.times.Each
		e.up = e.start[i] + rise*e.times.Each
	}
	e.down = e.up + e.times.House
	return e, nil
}

// ascending returns the groups that are on in house light, from the lowest lamps to the
// highest, the stars last.
func ascending(d *project.Design) []int {
	var order []int
	height := make([]float64, len(d.LightGroups))
	for i := range d.LightGroups {
		g := &d.LightGroups[i]
		if g.Scenes.House > 0 {
			order = append(order, i)
		}
		points := slices.Concat(g.At, g.Path)
		for _, p := range points {
			height[i] += float64(p.Z) / float64(len(points))
		}
		if g.Kind == project.Stars {
			height[i] = math.Inf(1)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(height[a], height[b]) })
	return order
}

// Length returns how long it takes, seconds.
func (e *Entrance) Length() float64 { return e.down + e.times.Down + running }

// Show implements Sequence.
func (e *Entrance) Show(m *light.Model, s float64) (Pose, bake.Dimmed) {
	off := bake.In(m, "")
	house := bake.In(m, project.House)
	out := off.Towards(house, 0)
	for i, start := range e.start {
		if start >= 0 {
			out.Levels[i] = off.Towards(house, ease((s-start)/(rise*e.times.Each))).Levels[i]
		}
	}
	if s > e.down {
		show := bake.In(m, project.Show)
		share := (s - e.down) / e.times.Down
		out = house.Towards(show, ease(share))
		out.Levels[out.Picture] = off.Towards(show, ease((share-starting)/(1-starting))).Levels[out.Picture]
	}
	out.FromSeat = e.from.Seat
	return e.from, out
}

// Says returns what happens s seconds from the start, in a few words; "" for nothing.
func (e *Entrance) Says(s float64) string {
	switch {
	case s >= e.down+starting*e.times.Down:
		return "The picture starts"
	case s >= e.down:
		return "The lights go down"
	case s >= e.up:
		return "House light"
	}
	said, last := "", -1.0
	for i, start := range e.start {
		if start >= 0 && s >= start && start > last {
			said, last = e.names[i], start
		}
	}
	return said
}

// Next returns when the next part begins, seconds from the start: the house light, the way
// down, the end.
func (e *Entrance) Next(s float64) float64 {
	for _, at := range []float64{e.up, e.down} {
		if s < at {
			return at
		}
	}
	return e.Length()
}
