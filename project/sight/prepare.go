// SPDX-License-Identifier: MIT

package sight

import (
	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// group is a run of parts with a sphere around them, so that most can be ruled
// out together.
type group struct {
	bound    geometry.Sphere
	inner    geometry.Sphere // a ball that fits inside the first part
	from, to int
	top      float64 // greatest height
	seat     int     // index of the seat that the parts belong to; -1 for none
	near     bool    // certainly counts by distance for all seats but that one
}

// ball is what culling needs to know of a part.
type ball struct {
	geometry.Sphere         // around it
	inner           float64 // radius of the ball about the same centre inside it
	top             float64 // its greatest height
	person          bool
	own, others     how // how it counts for ears, when it is own and when not
}

// prepared is the room, prepared for the inner loops. It does not change
// afterwards.
type prepared struct {
	shell
	// solids are those of Result.Parts, in the same order, then the listeners'
	// own shoulders, one a seat.
	solids       []geometry.Solid
	balls        []ball // of the parts
	groups       []group
	shoulderPart []int           // by seat: the part that stands for its shoulders
	earOut       [][2]float64    // by seat: how far each ear lies outside the room
	eyeOut       []float64       // the same of the eyes
	near         [][2]float64    // by seat: nearEars; of an audit
	settings     [][]setting     // by loudspeaker and driver
	pictureWalls []geometry.Wall // that can hide some of the picture
}

// together is how many triangles of a backdrop make a group: those that follow each
// other lie together, see package mesh.
const together = 8

// prepare lays out the solids and groups them: one group a seat, one for a few
// triangles of a backdrop, one for each other part.
func prepare(d *project.Design, r *Result) *prepared {
	parts := r.Parts
	pr := &prepared{
		shell:        shellOf(d.Room),
		solids:       make([]geometry.Solid, len(parts), len(parts)+len(r.Bodies)),
		balls:        make([]ball, len(parts)),
		shoulderPart: make([]int, len(r.Bodies)),
		earOut:       make([][2]float64, len(r.Bodies)),
		eyeOut:       make([]float64, len(r.Bodies)),
	}
	for i := range parts {
		pr.solids[i] = parts[i].Solid()
		pr.balls[i] = ballOf(&parts[i], &pr.solids[i])
	}
	for i, b := range r.Bodies {
		pr.solids = append(pr.solids, b.Shoulders.Solid())
		pr.shoulderPart[i] = NoPart
		pr.earOut[i] = [2]float64{pr.shell.outside(b.EarLeft), pr.shell.outside(b.EarRight)}
		pr.eyeOut[i] = pr.shell.outside(b.Eye())
	}
	seat := -1
	for i := 0; i < len(parts); {
		p := &parts[i]
		g := group{from: i, to: i + 1, seat: -1}
		switch {
		case p.Person() || p.ChairPart():
			seat++
			g.seat = seat
			for g.to < len(parts) && (parts[g.to].Person() || parts[g.to].ChairPart()) &&
				parts[g.to].Row == p.Row && parts[g.to].Seat == p.Seat {
				if parts[g.to].Kind == place.ShoulderPart {
					pr.shoulderPart[seat] = g.to
				}
				g.to++
			}
		case p.Kind == place.BackdropPart:
			for g.to < len(parts) && g.to < i+together && parts[g.to].Kind == place.BackdropPart && parts[g.to].Index == p.Index {
				g.to++
			}
		}
		g.near = counts(p.Kind, hearing, false) == near && !carries(p.Kind)
		g.bound = around(pr.balls[g.from:g.to])
		g.inner = p.Inner()
		for _, b := range pr.balls[g.from:g.to] {
			g.top = max(g.top, b.top)
		}
		pr.groups = append(pr.groups, g)
		i = g.to
	}
	pr.settings = make([][]setting, len(r.Speakers))
	for k := range r.Speakers {
		pr.settings[k] = pr.shell.settings(&r.Speakers[k])
	}
	pr.pictureWalls = pr.shell.behindPicture(d.Screen)
	return pr
}

// putBox puts box in the place of the only part of group gi, a loudspeaker's.
func (pr *prepared) putBox(gi int, box *geometry.Box) {
	g, p := &pr.groups[gi], place.Part{Kind: place.SpeakerPart, Box: box}
	pr.solids[g.from] = p.Solid()
	pr.balls[g.from] = ballOf(&p, &pr.solids[g.from])
	g.bound, g.inner, g.top = pr.balls[g.from].Sphere, p.Inner(), pr.balls[g.from].top
}

func ballOf(p *place.Part, s *geometry.Solid) ball {
	b := s.Bound()
	return ball{b, p.Inner().Radius, b.Center.Z + s.Reach(geometry.Vec{Z: 1}), p.Person(),
		counts(p.Kind, hearing, true), counts(p.Kind, hearing, false)}
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
