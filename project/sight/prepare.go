// SPDX-License-Identifier: MIT

package sight

import (
	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// group is a run of parts with a sphere around them, so that most are passed
// over without a look.
type group struct {
	bound    geometry.Sphere
	heart    geometry.Sphere // a ball that fits inside the first part
	from, to int
	seat     int  // index of the seat whose own parts these are; -1 for none
	crossing bool // counts only where truly crossed, for everyone
	feature  bool
	counts   bool // by clearance, for everyone but those of seat
}

// ball is what culling needs to know of a part.
type ball struct {
	geometry.Sphere         // around it
	inner           float64 // radius of the ball about the same centre inside it
	person          bool
}

// prepared is the room made ready for the inner loops. It is not changed after.
type prepared struct {
	solids  []geometry.Solid // of Result.Parts, same order, close together
	balls   []ball           // of solids
	own     []geometry.Solid // the listeners' own shoulders, one a seat
	groups  []group
	poly    geometry.Polygon
	convex  bool
	ceiling geometry.Vec // its height is Z + X x + Y y
	outside [][]outside  // by loudspeaker and driver
}

// prepare lays out the solids and groups them: one group a seat, one for each
// other part.
func prepare(d *project.Design, r *Result) *prepared {
	parts := r.Parts
	pr := &prepared{
		solids: make([]geometry.Solid, len(parts)),
		balls:  make([]ball, len(parts)),
		own:    make([]geometry.Solid, len(r.Bodies)),
		poly:   d.Room.Polygon(),
	}
	pr.convex = pr.poly.Convex()
	room := d.Room
	pr.ceiling = geometry.Vec{X: room.CeilingAt(1, 0) - room.CeilingAt(0, 0),
		Y: room.CeilingAt(0, 1) - room.CeilingAt(0, 0), Z: room.CeilingAt(0, 0)}
	for i := range parts {
		pr.solids[i] = parts[i].Solid()
		pr.balls[i] = ballOf(&parts[i], &pr.solids[i])
	}
	for i, b := range r.Bodies {
		pr.own[i] = b.Shoulders.Solid()
	}
	seat := -1
	for i := 0; i < len(parts); {
		p := &parts[i]
		g := group{from: i, to: i + 1, seat: -1}
		switch {
		case p.Person() || p.ChairPart():
			for g.to < len(parts) && (parts[g.to].Person() || parts[g.to].ChairPart()) &&
				parts[g.to].Row == p.Row && parts[g.to].Seat == p.Seat {
				g.to++
			}
			seat++
			g.seat = seat
		case p.Kind == place.SpeakerPart:
			g.crossing = true
		case p.Kind == place.FeaturePart:
			g.feature = true
		}
		g.counts = !g.crossing && !g.feature
		g.bound = around(pr.balls[g.from:g.to])
		g.heart = p.Inner()
		pr.groups = append(pr.groups, g)
		i = g.to
	}
	pr.outside = make([][]outside, len(r.Speakers))
	for k := range r.Speakers {
		pr.outside[k] = pr.lookOutside(&r.Speakers[k])
	}
	return pr
}

func ballOf(p *place.Part, s *geometry.Solid) ball {
	return ball{s.Bound(), p.Inner().Radius, p.Person()}
}

// around returns a sphere that holds all of s, about the mean of their centres.
func around(s []ball) geometry.Sphere {
	var c geometry.Vec
	for _, b := range s {
		c = c.Add(b.Center)
	}
	c = c.Mul(1 / float64(len(s)))
	out := geometry.Sphere{Center: c}
	for _, b := range s {
		out.Radius = max(out.Radius, c.Dist(b.Center)+b.Radius)
	}
	return out
}
