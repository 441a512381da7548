// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"github.com/go-gl/mathgl/mgl32"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/sight"
)

// Wide is the usual field of view in the room and from a seat, upright, radians.
const Wide = 64 * unit.Degree

// Other fields of view, upright, in radians.
const (
	normal = 38 * unit.Degree // from outside
	narrow = 46 * unit.Degree // from an ear at a loudspeaker
)

// margin is how much larger than the room a view of all of it is.
const margin = 1.06

// look returns a camera at eye that looks along the unit vector f.
func look(eye, f geometry.Vec, fov float64) Camera {
	up := geometry.Vec{Z: 1}
	if math.Abs(f.Z) > 0.999 {
		up = geometry.Vec{X: -1} // straight up or down: the screen is at the top
	}
	return Camera{Eye: World(eye), At: World(eye.Add(f)), Up: World(up), FOV: float32(fov)}
}

// Orbit returns a camera distance metres from target that looks at it from the
// direction of azimuth and elevation, in radians, as seen from target: azimuth 0
// is on the screen's side, pi at the back, positive angles on the left.
func Orbit(target geometry.Vec, azimuth, elevation, distance float64) Camera {
	out := geometry.Direction(azimuth, elevation)
	c := look(target.Add(out.Mul(max(distance, 2*Near))), out.Neg(), normal)
	c.At = World(target)
	return c
}

// Walk returns a camera at at that looks along heading and pitch, in radians:
// heading 0 at the screen, positive to the left; pitch positive upwards.
func Walk(at geometry.Vec, heading, pitch float64) Camera {
	return look(at, geometry.Direction(heading, pitch), Wide)
}

// extent returns the corners of the box round the room.
func extent(d *project.Design) (lo, hi geometry.Vec) {
	a, b := d.Room.Polygon().Bounds()
	lo, hi = geometry.Vec{X: a.X, Y: a.Y}, geometry.Vec{X: b.X, Y: b.Y}
	if _, top := d.Room.Slopes().Range(d.Room.Polygon()); top > 0 {
		hi.Z = top
	}
	if !(hi.Sub(lo).Len() > 0.1) {
		hi = lo.Add(geometry.Vec{X: 1, Y: 1, Z: 1})
	}
	return lo, hi
}

// Overview returns a camera outside the room, above its right back corner, that
// shows all of it in a picture whose width is aspect times its height: the room
// from behind the audience with the screen ahead.
func Overview(d *project.Design, aspect float32) Camera {
	const azimuth, elevation = -149 * unit.Degree, 29 * unit.Degree
	lo, hi := extent(d)
	target := lo.Lerp(hi, 0.5)
	f := geometry.Direction(azimuth, elevation).Neg()
	right, _ := f.Cross(geometry.Vec{Z: 1}).Unit()
	up := right.Cross(f)
	ty := math.Tan(normal / 2)
	tx := ty * float64(aspect)
	// The corner nearest to the camera under the ceiling is not drawn.
	var corners [7]geometry.Vec
	for k := range corners {
		corners[k] = geometry.Vec{X: choose(k&1, lo.X, hi.X), Y: choose(k>>1&1, lo.Y, hi.Y), Z: choose(k>>2, lo.Z, hi.Z)}
	}
	// Move back until all is in the picture, then centre it; each step makes the
	// next smaller.
	distance := 0.0
	for range 6 {
		distance = 0
		for _, c := range corners {
			q := c.Sub(target)
			distance = max(distance, math.Abs(q.Dot(right))/tx-q.Dot(f), math.Abs(q.Dot(up))/ty-q.Dot(f))
		}
		var x0, x1, y0, y1 float64
		for i, c := range corners {
			q := c.Sub(target)
			depth := distance + q.Dot(f)
			x, y := q.Dot(right)/depth, q.Dot(up)/depth
			if i == 0 {
				x0, x1, y0, y1 = x, x, y, y
			}
			x0, x1, y0, y1 = min(x0, x), max(x1, x), min(y0, y), max(y1, y)
		}
		target = target.Add(right.Mul((x0 + x1) / 2 * distance)).Add(up.Mul((y0 + y1) / 2 * distance))
	}
	return Orbit(target, azimuth, elevation, distance*margin)
}

// choose returns a for 0, else b.
func choose(i int, a, b float64) float64 {
	if i == 0 {
		return a
	}
	return b
}

// flat returns a parallel camera that looks along f with up upwards at all of
// the room and what stands beside it on paper.
func flat(d *project.Design, f, up geometry.Vec, aspect float32) Camera {
	lo, hi := Sheet(extent(d))
	right := f.Cross(up)
	size := hi.Sub(lo)
	span := func(v geometry.Vec) float64 {
		return math.Abs(size.X*v.X) + math.Abs(size.Y*v.Y) + math.Abs(size.Z*v.Z)
	}
	at := lo.Lerp(hi, 0.5)
	back := span(f)/2 + 1
	return Camera{
		Eye: World(at.Sub(f.Mul(back))), At: World(at), Up: World(up),
		Height: float32(max(span(up), span(right)/float64(aspect))),
	}
}

// Plan returns the view straight down, as of PlanUp.
func Plan(d *project.Design, aspect float32) Camera {
	lo, hi := Sheet(extent(d))
	return flat(d, geometry.Vec{Z: -1}, PlanUp(lo, hi, float64(aspect)), aspect)
}

// LongSection returns the view from the left wall to the right, level: the
// screen is at the left, the back wall at the right.
func LongSection(d *project.Design, aspect float32) Camera {
	return flat(d, geometry.Vec{Y: 1}, geometry.Vec{Z: 1}, aspect)
}

// CrossSection returns the view from the back wall to the screen, level.
func CrossSection(d *project.Design, aspect float32) Camera {
	return flat(d, geometry.Vec{X: -1}, geometry.Vec{Z: 1}, aspect)
}

// CutAt returns c, a parallel camera, without what stands between it and the plane
// through p that faces it.
func (c Camera) CutAt(p geometry.Vec) Camera {
	if c.FOV == 0 {
		c.Cut = max(World(p).Sub(c.Eye).Dot(c.At.Sub(c.Eye).Normalize()), Near)
	}
	return c
}

// FromSeat returns the camera at the eyes of the listener in seat i, counted from
// 0, who looks at toward; ok is false when there is no such seat. Draw it with
// Options.FromSeat.
func FromSeat(d *project.Design, i int, toward geometry.Vec) (c Camera, ok bool) {
	seats := place.Seats(d)
	if i < 0 || i >= len(seats) {
		return Camera{}, false
	}
	eye := place.Listener(d, seats[i]).Eye()
	f, ok := toward.Sub(eye).Unit()
	if !ok {
		return Camera{}, false
	}
	return look(eye, f, Wide), true
}

// Ear returns the camera at the deciding ear of seat i for loudspeaker k, which
// looks at the deciding driver; both count from 0. ok is false when there is no such
// seat or loudspeaker, or the pair is not judged. Draw it with Options.FromSeat.
func Ear(r *sight.Result, i, k int) (c Camera, ok bool) {
	if r == nil || i < 0 || k < 0 || i >= len(r.Seats) || k >= len(r.Speakers) || len(r.Pairs) < len(r.Seats)*len(r.Speakers) {
		return Camera{}, false
	}
	pair := r.Pair(i, k)
	if pair.Verdict == sight.NotJudged || pair.Deciding() == nil {
		return Camera{}, false
	}
	p := pair.Deciding()
	f, ok := p.To.Sub(p.From).Unit()
	if !ok {
		return Camera{}, false
	}
	return look(p.From, f, narrow), true
}

// room returns the point v of the picture world in the room frame.
func room(v mgl32.Vec3) geometry.Vec {
	return geometry.Vec{X: float64(v[2]), Y: float64(v[0]), Z: float64(v[1])}
}

// Line returns where c is and a point at which it looks, in the room frame.
func (c Camera) Line() (eye, at geometry.Vec) { return room(c.Eye), room(c.At) }

// sightThrough returns the line of sight through pixel (x, y) of a picture w by h,
// in the room frame: from start along the unit vector f for length metres. ok is
// false for a camera without a direction.
func (c Camera) sightThrough(x, y float64, w, h int) (start, f geometry.Vec, length float64, ok bool) {
	eye := room(c.Eye)
	ahead, ok1 := room(c.At).Sub(eye).Unit()
	right, ok2 := ahead.Cross(room(c.Up)).Unit()
	if !ok1 || !ok2 || w < 1 || h < 1 {
		return start, f, 0, false
	}
	up := right.Cross(ahead)
	sx := (2*x/float64(w) - 1) * float64(w) / float64(h)
	sy := 1 - 2*y/float64(h)
	if c.FOV > 0 {
		t := math.Tan(float64(c.FOV) / 2)
		f, ok = ahead.Add(right.Mul(sx * t)).Add(up.Mul(sy * t)).Unit()
		return eye, f, Far, ok
	}
	half := float64(c.Height) / 2
	before := -float64(Far)
	if c.Cut > 0 {
		before = float64(c.Cut)
	}
	start = eye.Add(right.Mul(sx * half)).Add(up.Mul(sy * half)).Add(ahead.Mul(before))
	return start, ahead, Far - before, true
}
