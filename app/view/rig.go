// SPDX-License-Identifier: MIT

package view

import (
	"math"

	"github.com/go-gl/mathgl/mgl32"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/scene"
)

// Kind is a way of looking at the room.
type Kind uint8

// The views, in the order of their keys 1 to 6.
const (
	Overview Kind = iota // from outside and above, turned by dragging
	Plan                 // straight down, the screen at the top or the left
	Long                 // the long section, the screen at the left
	Cross                // the cross section, facing the screen
	Seat                 // from somebody's head
	Walk                 // on foot
)

// Kinds are all views, in order.
var Kinds = [...]Kind{Overview, Plan, Long, Cross, Seat, Walk}

// String returns the name of k as menus show it.
func (k Kind) String() string {
	return [...]string{"Overview", "Plan", "Long section", "Cross section", "From seat", "Walk"}[k]
}

// parallel reports whether k is a parallel projection.
func (k Kind) parallel() bool { return k == Plan || k == Long || k == Cross }

// Axes returns the axes of the room that k shows as they are; none unless it is
// a drawing.
func (k Kind) Axes() scene.Axes {
	return scene.Axes{X: k == Plan || k == Long, Y: k == Plan || k == Cross, Z: k == Long || k == Cross}
}

// inside reports whether k looks from a point within the room.
func (k Kind) inside() bool { return k == Seat || k == Walk }

// EarFOV is the field of view, upright, from an ear along one path, radians.
const EarFOV = 46 * unit.Degree

const (
	outsideFOV = 38 * unit.Degree
	insideFOV  = scene.Wide
	maxTilt    = 89 * unit.Degree
)

// Rig holds the camera: which view, and where each kind of view stands. It is
// in the room frame, in metres and radians. The zero value looks at the origin.
type Rig struct {
	Kind Kind
	// Target is what Overview turns about and what the drawings are centred on.
	Target geometry.Vec
	// Turn is the bearing of the Overview camera as seen from Target: 0 behind,
	// positive towards the right wall. Tilt is its height above the horizon.
	Turn, Tilt, Dist float64
	// Height is how many metres of the room a drawing shows from top to bottom, and
	// PlanUp what a plan has at its top, as of scene.PlanUp.
	Height float64
	PlanUp geometry.Vec
	// Cut is where a section is cut, metres: the long one from the left wall, the
	// cross section from the screen wall; 0 shows all.
	Cut struct{ Long, Cross float64 }
	// Eye is where Seat and Walk look from, Az and El where to, as of
	// geometry.Direction, and FOV how much they see from top to bottom.
	Eye         geometry.Vec
	Az, El, FOV float64
}

// Fit brings the box from lo to hi wholly into a picture whose width is aspect
// times its height. Views from inside only take back their zoom.
func (r *Rig) Fit(lo, hi geometry.Vec, aspect float64) {
	if !(aspect > 0) {
		aspect = 1
	}
	if r.Kind.inside() {
		r.FOV = insideFOV
		return
	}
	size := hi.Sub(lo)
	fill := func(w, h float64) float64 { return math.Max(h, w/aspect) }
	if r.Kind.parallel() {
		lo, hi = scene.Sheet(lo, hi)
		size = hi.Sub(lo)
	}
	r.Target = lo.Lerp(hi, 0.5)
	switch r.Kind {
	case Plan:
		r.PlanUp = scene.PlanUp(lo, hi, aspect)
		if r.PlanUp.Y != 0 {
			r.Height = fill(size.X, size.Y)
		} else {
			r.Height = fill(size.Y, size.X)
		}
	case Long:
		r.Height = fill(size.X, size.Z)
	case Cross:
		r.Height = fill(size.Y, size.Z)
	default:
		r.Turn, r.Tilt = 0.5, 0.5
		r.Dist = size.Len() / 2 / math.Sin(math.Atan(math.Tan(outsideFOV/2)*math.Min(1, aspect)))
	}
	r.Height = math.Max(r.Height, 0.5)
	r.Dist = math.Max(r.Dist, 0.5)
}

// Stand takes the place of c, a camera from outside, as the Overview.
func (r *Rig) Stand(c scene.Camera) {
	eye, at := inRoom(c.Eye), inRoom(c.At)
	out, ok := eye.Sub(at).Unit()
	if !ok {
		return
	}
	r.Target, r.Dist = at, eye.Dist(at)
	r.Turn, r.Tilt = math.Atan2(out.Y, out.X), math.Asin(clamp(out.Z, -1, 1))
}

// inRoom returns a point of the picture world in the room frame: scene.World
// turns axes into axes, so its inverse is its transpose.
func inRoom(v mgl32.Vec3) geometry.Vec {
	along := func(axis geometry.Vec) float64 { return float64(v.Dot(scene.World(axis))) }
	return geometry.V(along(geometry.V(1, 0, 0)), along(geometry.V(0, 1, 0)), along(geometry.V(0, 0, 1)))
}

// LookAt stands the eye at eye and turns it to at. It does nothing but move the
// eye when both are the same point.
func (r *Rig) LookAt(eye, at geometry.Vec) {
	r.Eye = eye
	if az, el, ok := geometry.AzEl(at.Sub(eye)); ok {
		r.Az, r.El = az, clamp(el, -maxTilt, maxTilt)
	}
	if r.FOV == 0 {
		r.FOV = insideFOV
	}
}

// axes returns the directions that are forward, to the right and up in the
// picture.
func (r *Rig) axes() (forward, right, up geometry.Vec) {
	switch r.Kind {
	case Plan:
		forward, up = geometry.Vec{Z: -1}, r.PlanUp
		if up == (geometry.Vec{}) {
			up = geometry.Vec{X: -1}
		}
	case Long:
		forward, up = geometry.Vec{Y: 1}, geometry.Vec{Z: 1}
	case Cross:
		forward, up = geometry.Vec{X: -1}, geometry.Vec{Z: 1}
	case Seat, Walk:
		forward = geometry.Direction(r.Az, r.El)
		up = geometry.Direction(r.Az, r.El+math.Pi/2)
	default:
		s, c := math.Sincos(r.Turn)
		st, ct := math.Sincos(r.Tilt)
		forward = geometry.Vec{X: -c * ct, Y: -s * ct, Z: -st}
		up = geometry.Vec{X: -c * st, Y: -s * st, Z: ct}
	}
	return forward, forward.Cross(up), up
}

// Camera returns the camera as the renderer takes it.
func (r *Rig) Camera() scene.Camera {
	forward, _, up := r.axes()
	c := scene.Camera{Up: scene.World(up)}
	switch {
	case r.Kind.inside():
		c.Eye, c.At, c.FOV = scene.World(r.Eye), scene.World(r.Eye.Add(forward)), float32(r.FOV)
	case r.Kind.parallel():
		c.Eye, c.At = scene.World(r.Target.Sub(forward.Mul(20))), scene.World(r.Target)
		c.Height = float32(r.Height)
		if cut := r.Section(); cut != (geometry.Vec{}) {
			c = c.CutAt(cut)
		}
	default:
		c.Eye, c.At = scene.World(r.Target.Sub(forward.Mul(r.Dist))), scene.World(r.Target)
		c.FOV = float32(outsideFOV)
	}
	return c
}

// Section returns where the section on show is cut, as of scene.Options.Cut.
func (r *Rig) Section() geometry.Vec {
	switch r.Kind {
	case Long:
		return geometry.Vec{Y: r.Cut.Long}
	case Cross:
		return geometry.Vec{X: r.Cut.Cross}
	}
	return geometry.Vec{}
}

// Drag turns the camera by a drag of dx, dy, as shares of the picture's height.
// The room follows the pointer. Drawings do not turn: they are moved.
func (r *Rig) Drag(dx, dy float64) {
	switch {
	case r.Kind.parallel():
		r.Pan(dx, dy)
	case r.Kind.inside():
		r.Az = math.Remainder(r.Az+dx*r.FOV, 2*math.Pi)
		r.El = clamp(r.El+dy*r.FOV, -maxTilt, maxTilt)
	default:
		r.Turn = math.Remainder(r.Turn-dx*4, 2*math.Pi)
		r.Tilt = clamp(r.Tilt+dy*3, -0.3, maxTilt)
	}
}

// Pan moves the camera sideways by a drag of dx, dy, as of Drag.
func (r *Rig) Pan(dx, dy float64) {
	_, right, up := r.axes()
	switch {
	case r.Kind.inside():
		r.Drag(dx, dy)
		return
	case r.Kind.parallel():
		dx, dy = dx*r.Height, dy*r.Height
	default:
		k := 2 * r.Dist * math.Tan(outsideFOV/2)
		dx, dy = dx*k, dy*k
	}
	r.Target = r.Target.Sub(right.Mul(dx)).Add(up.Mul(dy))
}

// Zoom brings what is seen nearer by the factor k, farther when k is under 1.
func (r *Rig) Zoom(k float64) {
	if !(k > 0) {
		return
	}
	switch {
	case r.Kind.parallel():
		r.Height = clamp(r.Height/k, 0.2, 200)
	case r.Kind.inside():
		r.FOV = clamp(r.FOV/k, 0.05, 2)
	default:
		r.Dist = clamp(r.Dist/k, 0.3, 100)
	}
}

// Step walks: ahead, to the right and up, in metres. It stays within lo and hi,
// a little beyond the room.
func (r *Rig) Step(ahead, right, up float64, lo, hi geometry.Vec) {
	r.Eye = r.Eye.Add(r.level(ahead, right)).Add(geometry.Vec{Z: up})
	const beyond = 3
	r.Eye.X = clamp(r.Eye.X, lo.X-beyond, hi.X+beyond)
	r.Eye.Y = clamp(r.Eye.Y, lo.Y-beyond, hi.Y+beyond)
	r.Eye.Z = clamp(r.Eye.Z, lo.Z+0.1, hi.Z+beyond)
}

// level returns so much ahead and to the right, level, in the room frame.
func (r *Rig) level(ahead, right float64) geometry.Vec {
	s, c := math.Sincos(r.Az)
	return geometry.Vec{X: -c*ahead - s*right, Y: -s*ahead + c*right}
}

func clamp(v, lo, hi float64) float64 { return math.Min(math.Max(v, lo), hi) }
