// SPDX-License-Identifier: MIT

package setout

import (
	"math"

	"earline/geometry"
	"earline/project"
)

// tape is what distances are measured with: the walls and the centre line of a room.
type tape struct {
	d      *project.Design
	poly   geometry.Polygon
	walls  []wall
	line   float64 // height of the laser line, z
	floor  float64 // build-up of the floor
	across int     // wall that is measured across from, counted from 1; 0 the centre line
	centre float64 // y of the centre line
}

// wall is a wall of the footprint as one sees it who stands before it.
type wall struct {
	name        string
	left, right geometry.Vec2 // its ends
	along       geometry.Vec2 // from left to right
	in          geometry.Vec2 // into the room
	length      float64
	buildup     float64
}

// squarish is the least cosine between a wall and the axis it is measured along.
const squarish = 0.7

func newTape(d *project.Design) *tape {
	t := &tape{
		d: d, poly: d.Room.Polygon(), line: d.Datum.Line(), floor: float64(d.Datum.FloorBuildup),
		across: d.Room.WallNamed(d.Datum.AcrossFrom()), centre: float64(d.Screen.Centre),
	}
	names := d.Room.WallNames()
	for i := range t.poly {
		a, b := t.poly.Edge(i)
		in := t.poly.InwardNormal(i)
		w := wall{name: names[i], left: a, right: b, in: in, along: geometry.Vec2{X: -in.Y, Y: in.X}, length: a.Dist(b)}
		if b.Sub(a).Dot(w.along) < 0 {
			w.left, w.right = b, a
		}
		if i < len(d.Datum.WallBuildup) {
			w.buildup = float64(d.Datum.WallBuildup[i])
		}
		t.walls = append(t.walls, w)
	}
	return t
}

// lengthwise reports whether distances from w are along the room.
func (w *wall) lengthwise() bool { return math.Abs(w.in.X) >= math.Abs(w.in.Y) }

// from returns how far p is before wall n, counted from 1, or right of the centre line.
func (t *tape) from(n int, p geometry.Vec) float64 {
	if n == 0 {
		return p.Y - t.centre
	}
	w := &t.walls[n-1]
	return flat(p).Sub(w.left).Dot(w.in)
}

func (t *tape) offset(n int, p geometry.Vec) Offset {
	o := Offset{From: project.CentreLine, Wall: n, Distance: t.from(n, p)}
	o.Rough = o.Distance
	if n > 0 {
		o.From = t.walls[n-1].name
		o.Rough += t.walls[n-1].buildup
	}
	return o
}

// seen reports whether a tape from p reaches wall n square and with nothing of the shell
// in between.
func (t *tape) seen(n int, p geometry.Vec) bool {
	const hair = 1e-6 // m
	w, q := &t.walls[n-1], flat(p)
	if !t.poly.Contains(q) {
		_, q = t.poly.Nearest(q) // a flush front is never dead flat
	}
	far := q.Sub(w.left).Dot(w.in)
	foot := q.Sub(w.in.Mul(far))
	at := foot.Sub(w.left).Dot(w.along)
	if far < -hair || at < -hair || at > w.length+hair {
		return false
	}
	_, _, edge, out := t.poly.Obstructs(q, foot)
	return !out || edge < 0
}

// nearest returns the nearest wall that is seen from p, lengthwise or across the room,
// and not the line of wall but, which cannot place anything on itself. Where none is seen
// square it is the nearest of all.
func (t *tape) nearest(p geometry.Vec, lengthwise bool, but int) int {
	best, least, bestSeen := 0, math.Inf(1), false
	for n := 1; n <= len(t.walls); n++ {
		w := &t.walls[n-1]
		if w.lengthwise() != lengthwise || but > 0 && math.Abs(w.in.Cross(t.walls[but-1].in)) < 1-squarish {
			continue
		}
		const level = 1e-9 // m: of equal walls the first of the footprint
		far, seen := math.Abs(t.from(n, p)), t.seen(n, p)
		if seen && !bestSeen || seen == bestSeen && far < least-level {
			best, least, bestSeen = n, far, seen
		}
	}
	return best
}

// lengthways returns the wall from which the place of p along the room is measured.
func (t *tape) lengthways(p geometry.Vec, but int) int { return t.nearest(p, true, but) }

// crossways returns the wall from which p is measured across the room, 0 for the centre
// line: what the document says where that is seen, else the nearest that is.
func (t *tape) crossways(p geometry.Vec, but int) int {
	switch {
	case t.across == 0:
		return 0
	case t.seen(t.across, p) && (but == 0 || math.Abs(t.walls[t.across-1].in.Cross(t.walls[max(but, 1)-1].in)) >= 1-squarish):
		return t.across
	}
	return t.nearest(p, false, but)
}

// onWall returns from what something at p on wall n is measured along it.
func (t *tape) onWall(n int, p geometry.Vec) int {
	if t.walls[n-1].lengthwise() {
		return t.crossways(p, n)
	}
	if m := t.lengthways(p, n); m > 0 {
		return m
	}
	return t.crossways(p, n)
}

// wallAt returns the wall nearest to p, counted from 1.
func (t *tape) wallAt(p geometry.Vec) int {
	edge, _ := t.poly.Nearest(flat(p))
	return edge + 1
}

// screenWall returns the wall behind p as seen from the seats.
func (t *tape) screenWall(p geometry.Vec) int {
	best, least := 0, math.Inf(1)
	for n := 1; n <= len(t.walls); n++ {
		w := &t.walls[n-1]
		if w.in.X < squarish {
			continue
		}
		far := math.Abs(t.from(n, p))
		if !t.seen(n, p) {
			far += 1000 // m: only where no other is
		}
		if far < least {
			best, least = n, far
		}
	}
	if best == 0 {
		return t.wallAt(p)
	}
	return best
}

// name returns what reference n is called.
func (t *tape) name(n int) string {
	if n == 0 {
		return project.CentreLine
	}
	return t.walls[n-1].name
}

func flat(p geometry.Vec) geometry.Vec2 { return geometry.Vec2{X: p.X, Y: p.Y} }

// level returns v as a level vector.
func level(v geometry.Vec2) geometry.Vec { return geometry.Vec{X: v.X, Y: v.Y} }
