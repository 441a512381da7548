// SPDX-License-Identifier: MIT

package lists

import (
	"fmt"
	"math"
	"strings"

	"earline/geometry"
	"earline/project"
)

// Cable is the cable of one loudspeaker, from the rack to its back.
type Cable struct {
	ID   string // of the loudspeaker
	Name string
	// Route is its way, corner by corner, and Way that in words.
	Route []geometry.Vec
	Way   string
	// Run is how long the way is, Length with what is spare at the ends.
	Run, Length float64
	Area        float64 // mm², of each of two conductors
	Resistance  float64 // ohm, there and back over Length
	Load        float64 // ohm, nominal
	Loss        float64 // dB, 0 or less, over Length
	// There is how long the cable is that is there already; 0 is none or not measured.
	There float64
}

// Usual of what a design does not say; common practice, no source.
const (
	usualSpare = 1.5  // m, for the ends of a cable
	underLid   = 0.15 // m, under the lowest of the ceiling
	usualLoad  = 8    // ohm
)

// Cables returns a cable for every loudspeaker; none where the design does not say
// where the rack stands.
//
// A cable goes up or down from the rack to the height of the runs, straight to the
// nearest wall, along the walls the shorter way round, then up or down at the wall
// nearest to the loudspeaker and square out to it. Ways through a door or a window are
// not seen: look at them on site.
func Cables(d *project.Design) []Cable {
	s := d.Services
	if s.Rack == (project.Point{}) || len(d.Room.Footprint) < 3 {
		return nil
	}
	spare := float64(s.Spare)
	if spare == 0 {
		spare = usualSpare
	}
	known := map[string]project.Cable{}
	for _, k := range s.Cables {
		known[k.Serves] = k
	}
	var out []Cable
	for _, l := range d.Speakers {
		model, _ := d.Model(l.Model)
		c := Cable{ID: l.ID, Name: l.Name(), Load: model.Impedance, There: float64(known[l.ID].Length)}
		if c.Load == 0 {
			c.Load = usualLoad
		}
		c.Route, c.Way = route(d, s.Rack.Vec(), l)
		for i := 1; i < len(c.Route); i++ {
			c.Run += c.Route[i].Sub(c.Route[i-1]).Len()
		}
		c.Length = c.Run + spare
		c.Area = known[l.ID].Area
		if c.Area == 0 {
			c.Area = chosen(c.Length, c.Load).Area
		}
		r := ResistanceOf(c.Area)
		c.Resistance, c.Loss = 2*c.Length*r/1000, Loss(c.Length, r, c.Load)
		out = append(out, c)
	}
	return out
}

// runHeight returns the height at which cables run along the walls.
func runHeight(d *project.Design) float64 {
	if h := float64(d.Services.RunHeight); h > 0 {
		return h
	}
	low := math.Inf(1)
	for _, c := range d.Room.Footprint {
		low = min(low, d.Room.CeilingAt(float64(c.X), float64(c.Y)))
	}
	return max(low-underLid, 0)
}

// route returns the way from the rack to l, and the same in words.
func route(d *project.Design, rack geometry.Vec, l project.Loudspeaker) ([]geometry.Vec, string) {
	outline := d.Room.Polygon()
	high := runHeight(d)
	to := l.At.Vec()
	fromEdge, from := outline.Nearest(flat(rack))
	toEdge, foot := outline.Nearest(flat(to))
	if l.Mount == project.BehindScreen {
		toEdge, foot = screenWall(d, outline, to)
	}
	way := []geometry.Vec{rack, raised(flat(rack), high), raised(from, high)}
	var walls []string
	edges, corners := along(outline, fromEdge, from, toEdge, foot)
	for _, c := range corners {
		way = append(way, raised(c, high))
	}
	for _, e := range edges {
		walls = append(walls, d.Room.WallName(e+1))
	}
	way = append(way, raised(foot, high))
	if l.Mount == project.OnCeiling {
		way = append(way, raised(foot, to.Z))
		return tidied(append(way, to)), "rack, " + strings.Join(walls, ", ") + ", ceiling"
	}
	way = append(way, raised(foot, to.Z))
	end := "down"
	if to.Z > high {
		end = "up"
	}
	return tidied(append(way, to)), fmt.Sprintf("rack, %s, %s", strings.Join(walls, ", "), end)
}

// screenWall returns the wall towards the screen from at, and the place on it straight
// before at.
func screenWall(d *project.Design, outline geometry.Polygon, at geometry.Vec) (edge int, foot geometry.Vec2) {
	best := math.Inf(1)
	edge, foot = outline.Nearest(flat(at))
	for i := range outline {
		if d.Room.WallSide(i+1) != "screen" {
			continue
		}
		a, b := outline.Edge(i)
		if t := (at.Y - a.Y) / (b.Y - a.Y); t >= 0 && t <= 1 {
			f := geometry.Vec2{X: a.X + t*(b.X-a.X), Y: at.Y}
			if far := math.Abs(at.X - f.X); far < best {
				best, edge, foot = far, i, f
			}
		}
	}
	return edge, foot
}

// along returns the shorter way along the outline from a place on one edge to a place
// on another: the edges that it follows and the corners that it passes.
func along(outline geometry.Polygon, fromEdge int, from geometry.Vec2, toEdge int, to geometry.Vec2) (edges []int, corners []geometry.Vec2) {
	if fromEdge == toEdge {
		return []int{fromEdge}, nil
	}
	n := len(outline)
	walk := func(step int) (edges []int, corners []geometry.Vec2, length float64) {
		at := from
		for e := fromEdge; ; e = (e + step + n) % n {
			edges = append(edges, e)
			if e == toEdge {
				return edges, corners, length + at.Dist(to)
			}
			a, b := outline.Edge(e)
			if step < 0 {
				b = a
			}
			corners, length, at = append(corners, b), length+at.Dist(b), b
		}
	}
	e1, c1, l1 := walk(1)
	e2, c2, l2 := walk(-1)
	if l2 < l1 {
		return e2, c2
	}
	return e1, c1
}

func flat(v geometry.Vec) geometry.Vec2 { return geometry.Vec2{X: v.X, Y: v.Y} }

func raised(v geometry.Vec2, z float64) geometry.Vec { return geometry.Vec{X: v.X, Y: v.Y, Z: z} }

// tidied leaves out corners of a way at which nothing happens.
func tidied(way []geometry.Vec) []geometry.Vec {
	const none = 1e-6 // m
	out := way[:1]
	for _, p := range way[1:] {
		if p.Sub(out[len(out)-1]).Len() > none {
			out = append(out, p)
		}
	}
	return out
}
