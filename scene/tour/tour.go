// SPDX-License-Identifier: MIT

package tour

import (
	"fmt"

	"earline/project"
	"earline/project/light"
	"earline/project/place"
	"earline/scene/bake"
	"earline/scene/walk"
)

// Tour is a way from viewpoint to viewpoint. It begins at the first.
type Tour struct {
	Stops []Stop
	// Notes say, in a line each, what cannot be shown as it is listed.
	Notes []string
	legs  []leg // legs[i] leads to Stops[i]; that to the first takes no time
}

// Stop is a stay at a viewpoint.
type Stop struct {
	Name          string
	Arrive, Leave float64 // seconds from the start
	Pose          Pose
	Scene         project.Scene // of the light there
}

// Moment is where one is at a time, and in what light.
type Moment struct {
	Pose
	Light Light
	Stop  int  // at which one is, or to which one is on the way
	Stays bool // there
}

// Plan returns the tour of the design's viewpoints, or of Usual ones where it has none.
// Where there is no way on foot, and to and from a free camera, the picture cuts. It
// begins in house light.
func Plan(r *place.Room) *Tour {
	all := r.Design.Viewpoints
	if len(all) == 0 {
		all = Usual(r)
	}
	t, g, shines := new(Tour), walk.In(r), project.House
	var last *project.Viewpoint
	for i := range all {
		v := &all[i]
		pose, err := poseOf(r, g, v)
		if err != nil {
			t.Notes = append(t.Notes, err.Error())
			continue
		}
		if v.Scene != "" {
			shines = v.Scene
		}
		stop, to := Stop{Name: v.Name, Pose: pose, Scene: shines}, leg{}
		if last != nil {
			from := &t.Stops[len(t.Stops)-1]
			walked := false
			if last.Kind != project.Free && v.Kind != project.Free {
				if to, walked = legOf(r, g, from, &stop); !walked {
					t.Notes = append(t.Notes, fmt.Sprintf("no way on foot from %q to %q: the picture cuts", from.Name, stop.Name))
				}
			}
		}
		last = v
		stop.Arrive = t.Length() + to.length()
		stop.Leave = stop.Arrive + v.Stays()
		t.Stops, t.legs = append(t.Stops, stop), append(t.legs, to)
	}
	return t
}

// Length returns how long the tour takes, seconds.
func (t *Tour) Length() float64 {
	if len(t.Stops) == 0 {
		return 0
	}
	return t.Stops[len(t.Stops)-1].Leave
}

// Show implements Sequence.
func (t *Tour) Show(m *light.Model, s float64) (Pose, bake.Dimmed) {
	now := t.At(s)
	d := now.Light.Dimmed(m)
	d.FromSeat = now.Seat
	return now.Pose, d
}

// At returns where one is s seconds from the start: at the first stop before it, and at
// the last after the end. A tour without stops has no moments: it returns the zero Moment.
func (t *Tour) At(s float64) Moment {
	if len(t.Stops) == 0 {
		return Moment{}
	}
	i := 0
	for i < len(t.Stops)-1 && s >= t.Stops[i].Leave {
		i++
	}
	stop := &t.Stops[i]
	m := Moment{Pose: stop.Pose, Light: Light{From: stop.Scene, To: stop.Scene, Share: 1}, Stop: i, Stays: true}
	if s >= stop.Arrive || i == 0 {
		return m
	}
	leg := &t.legs[i]
	left := s - t.Stops[i-1].Leave
	m.Pose, m.Stays = leg.at(left), false
	m.Light.From, m.Light.Share = t.Stops[i-1].Scene, ease(left/leg.length())
	return m
}

// Next returns when the way to the next stop begins, seconds from the start; the end where
// there is none.
func (t *Tour) Next(s float64) float64 {
	for i := range t.Stops {
		if leave := t.Stops[i].Leave; leave > s {
			return leave
		}
	}
	return t.Length()
}

// ease returns how far something is that begins and ends gently, from 0 to 1.
func ease(share float64) float64 {
	s := min(max(share, 0), 1)
	return s * s * (3 - 2*s)
}
