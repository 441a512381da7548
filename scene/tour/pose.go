// SPDX-License-Identifier: MIT

package tour

import (
	"fmt"
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/scene"
	"earline/scene/walk"
)

// Pose is where one is and looks: in the room frame, metres and radians, as of
// geometry.Direction.
type Pose struct {
	Eye    geometry.Vec
	Az, El float64
	Sees   float64 // from top to bottom of the picture
	Seat   int     // in which one sits, counted from 0, or scene.None
}

// Camera returns the camera at those eyes.
func (p Pose) Camera() scene.Camera {
	c := scene.Walk(p.Eye, p.Az, p.El)
	c.FOV = float32(p.Sees)
	return c
}

// View returns the view from there.
func (p Pose) View() scene.View {
	return scene.View{Camera: p.Camera(), Seat: p.Seat, Speaker: scene.None}
}

// PoseOf returns the pose of a view; ok is false for a drawing.
func PoseOf(v scene.View) (p Pose, ok bool) {
	if v.Camera.FOV == 0 {
		return p, false
	}
	eye, at := v.Camera.Line()
	az, el, ok := geometry.AzEl(at.Sub(eye))
	return Pose{Eye: eye, Az: az, El: el, Sees: float64(v.Camera.FOV), Seat: v.Seat}, ok
}

// MainSeat returns the pose in the seat nearest to the main position, at the picture; ok is
// false where there is no seat.
func MainSeat(r *place.Room) (p Pose, ok bool) {
	best, near := scene.None, math.Inf(1)
	for i, b := range r.Bodies {
		if d := b.Ear().Dist(r.Main); d < near {
			best, near = i, d
		}
	}
	if best == scene.None {
		return Pose{Seat: scene.None}, false
	}
	picture, _, _ := r.Design.Screen.Picture()
	eye := r.Bodies[best].Eye()
	az, el, _ := geometry.AzEl(picture.Sub(eye))
	return Pose{Eye: eye, Az: az, El: el, Sees: scene.Wide, Seat: best}, true
}

// poseOf is Of in a room to walk in.
func poseOf(r *place.Room, g *walk.Ground, v *project.Viewpoint) (Pose, error) {
	p := Pose{Az: v.Heading.Radians(), El: v.Pitch.Radians(), Sees: scene.Wide, Seat: scene.None}
	if v.Sees != 0 {
		p.Sees = v.Sees.Radians()
	}
	switch v.Kind {
	case project.Seated:
		i := seatOf(r, v.Seat)
		if i < 0 {
			return p, fmt.Errorf("viewpoint %q: found seat %q, allowed: the id of a row, a point and the number of a seat, such as r1.2", v.Name, v.Seat)
		}
		p.Seat, p.Eye = i, r.Bodies[i].Eye()
	case project.Free:
		p.Eye = v.At.Vec()
	default:
		foot := g.OnFloor(v.At.Vec())
		if !g.Free(foot) {
			metric := r.Design.Units != project.Imperial
			return p, fmt.Errorf("viewpoint %q: nobody can stand %s from the screen wall and %s from the left wall", v.Name, v.At.X.Format(metric), v.At.Y.Format(metric))
		}
		p.Eye = g.Eyes(foot)
	}
	return p, nil
}

// Of returns where one is at viewpoint v of the room. The error says in one line what the
// room has not.
func Of(r *place.Room, v *project.Viewpoint) (Pose, error) { return poseOf(r, walk.In(r), v) }

// seatOf returns the index of a seat by its id; -1 for none.
func seatOf(r *place.Room, id string) int {
	row, number, ok := r.Design.SeatOf(id)
	if !ok {
		return scene.None
	}
	for i, s := range r.Seats {
		if s.Row == row && s.Number == number {
			return i
		}
	}
	return scene.None
}

// Keep returns the viewpoint of a pose: in the seat, on the floor under the eyes of who
// stands, or free.
func Keep(r *place.Room, p Pose, standing bool) project.Viewpoint {
	v := project.Viewpoint{Kind: project.Free, At: project.PointOf(millimetres(p.Eye)), Heading: tenths(p.Az), Pitch: tenths(p.El)}
	const hair = 0.05 * unit.Degree
	if p.Sees != 0 && math.Abs(p.Sees-scene.Wide) > hair {
		v.Sees = tenths(p.Sees)
	}
	switch {
	case p.Seat != scene.None:
		s := r.Seats[p.Seat]
		v.Kind, v.At, v.Seat = project.Seated, project.Point{}, r.Design.Seating.Rows[s.Row-1].SeatID(s.Number)
		v.Name = "Seat " + s.Name()
	case standing:
		foot := walk.In(r).OnFloor(p.Eye)
		v.Kind, v.At, v.Name = project.Standing, project.PointOf(millimetres(foot)), "On foot"
	default:
		v.Name = "From outside"
		if r.Design.Room.Polygon().Contains(geometry.Vec2{X: p.Eye.X, Y: p.Eye.Y}) {
			v.Name = "Camera"
		}
	}
	v.Name = r.Design.NewViewpointName(v.Name)
	return v
}

// millimetres and tenths round to what is worth keeping.
func millimetres(v geometry.Vec) geometry.Vec {
	r := func(x float64) float64 { return math.Round(x*1000) / 1000 }
	return geometry.Vec{X: r(v.X), Y: r(v.Y), Z: r(v.Z)}
}

func tenths(radians float64) unit.Degrees {
	return unit.Degrees(math.Round(radians/unit.Degree*10) / 10)
}
