// SPDX-License-Identifier: MIT

package sound

import (
	"context"
	"fmt"
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/project/sight"
)

// MapOptions say what a map shows and how finely.
type MapOptions struct {
	// Speaker is the index of the loudspeaker, or AllSpeakers.
	Speaker int
	// Octave is the index of one of project.Octaves.
	Octave int
	// Step is the distance between points, metres; 0 means 0.15. Map makes it coarser
	// if the map would have more than a million points.
	Step float64
	// Ear is the height of the ears above the local floor or platform; 0 means
	// the mean of the seats', or 1.1 m without seats.
	Ear float64
}

// AllSpeakers as MapOptions.Speaker maps how much the loudspeakers' levels differ
// at each point when all have the same level at the main listening position.
const AllSpeakers = -1

// Grid is a map over the footprint on the plane of the ears. Its points are
// X0 + i Step, Y0 + j Step; that of (i, j) is Values[j*NX + i].
type Grid struct {
	X0, Y0, Step float64
	NX, NY       int
	// Values are dB: for one loudspeaker the level against that at the main
	// listening position, for all the greatest less the least of those. 0 outside
	// the room; never NaN.
	Values []float64
	// Heights are the heights of the points above the room's floor.
	Heights []float64
	Inside  []bool  // of the footprint
	Lo, Hi  float64 // least and greatest value inside; 0 when nothing is
}

// usualStep is the step of a map when none is asked for, metres.
const usualStep = 0.15

// Map returns the direct level at every point of the ear plane: distance, air,
// directivity, and the loss by features, platforms, an opaque screen and the
// corners of the room itself in the way, by the same knife edge as the audit, an
// upper bound. People and chairs are left out. Subwoofers count as points that
// nothing shades. The error is a Fault for options out of range, or that of ctx.
func Map(ctx context.Context, d *project.Design, o MapOptions) (Grid, error) {
	if o.Octave < 0 || o.Octave >= project.OctaveCount {
		return Grid{}, &project.Fault{Field: "octave", Found: fmt.Sprint(o.Octave), Allowed: fmt.Sprintf("0 to %d", project.OctaveCount-1)}
	}
	if o.Speaker < AllSpeakers || o.Speaker >= len(d.Speakers) {
		return Grid{}, &project.Fault{Field: "loudspeaker", Found: fmt.Sprint(o.Speaker),
			Allowed: fmt.Sprintf("%d (all) to %d", AllSpeakers, len(d.Speakers)-1)}
	}
	g := newGrid(d, o)
	m := newMapper(d)
	which := []int{o.Speaker}
	if o.Speaker == AllSpeakers {
		which = which[:0]
		for k := range d.Speakers {
			if sp, ok := d.Model(d.Speakers[k].Model); ok && plays(sp)[o.Octave] {
				which = append(which, k)
			}
		}
	}
	var most []float64 // the greatest so far, for AllSpeakers
	for n, k := range which {
		if err := ctx.Err(); err != nil {
			return Grid{}, err
		}
		m.aim(k, o.Octave)
		for i := range g.Values {
			const often = 1 << 14 // points: some 20 ms
			if i%often == often-1 && ctx.Err() != nil {
				return Grid{}, ctx.Err()
			}
			if !g.Inside[i] {
				continue
			}
			v := m.level(g.point(i))
			switch {
			case o.Speaker != AllSpeakers:
				g.Values[i] = v
			case n == 0:
				g.Values[i] = v
				if most == nil {
					most = make([]float64, len(g.Values))
				}
				most[i] = v
			default:
				g.Values[i], most[i] = min(g.Values[i], v), max(most[i], v)
			}
		}
	}
	for i := range most {
		g.Values[i] = most[i] - g.Values[i]
	}
	g.extent()
	return g, nil
}

// newGrid lays the points over the footprint.
func newGrid(d *project.Design, o MapOptions) Grid {
	const most = 1e6 // points: some 40 MB, and a second for each loudspeaker
	step := o.Step
	if !(step > 0) {
		step = usualStep
	}
	ear := o.Ear
	if !(ear > 0) {
		ear = earHeight(d)
	}
	poly := d.Room.Polygon()
	lo, hi := poly.Bounds()
	step = max(step, math.Sqrt((hi.X-lo.X)*(hi.Y-lo.Y)/most))
	g := Grid{Step: step,
		NX: max(int((hi.X-lo.X)/step), 1), NY: max(int((hi.Y-lo.Y)/step), 1)}
	// Centred where the step does not divide the room evenly, so that mirrored rooms
	// have mirrored maps.
	g.X0 = (lo.X + hi.X - float64(g.NX-1)*step) / 2
	g.Y0 = (lo.Y + hi.Y - float64(g.NY-1)*step) / 2
	n := g.NX * g.NY
	g.Values, g.Heights, g.Inside = make([]float64, n), make([]float64, n), make([]bool, n)
	floor := place.FloorOf(d)
	ceiling := d.Room.Slopes()
	for i := range n {
		x, y := g.X0+float64(i%g.NX)*step, g.Y0+float64(i/g.NX)*step
		g.Heights[i] = floor.At(x, y) + ear
		g.Inside[i] = poly.Contains(geometry.Vec2{X: x, Y: y}) && g.Heights[i] < ceiling.At(x, y)
	}
	return g
}

// earHeight returns the mean height of the listeners' ears above what their
// chairs stand on.
func earHeight(d *project.Design) float64 {
	const usual = 1.1 // m, without seats; common practice, no source
	seats := place.Seats(d)
	sum := 0.0
	for _, s := range seats {
		sum += place.Listener(d, s).EarLeft.Z - s.Ref.Z
	}
	if len(seats) == 0 {
		return usual
	}
	return sum / float64(len(seats))
}

func (g *Grid) point(i int) geometry.Vec {
	return geometry.Vec{X: g.X0 + float64(i%g.NX)*g.Step, Y: g.Y0 + float64(i/g.NX)*g.Step, Z: g.Heights[i]}
}

// extent fills in Lo and Hi.
func (g *Grid) extent() {
	first := true
	for i, v := range g.Values {
		if g.Inside[i] {
			if first {
				g.Lo, g.Hi, first = v, v, false
			}
			g.Lo, g.Hi = min(g.Lo, v), max(g.Hi, v)
		}
	}
}

// mapper answers levels of one loudspeaker at many points.
type mapper struct {
	d      *project.Design
	main   geometry.Vec
	air    roomAir
	shades []geometry.Solid // what may stand between a loudspeaker and the ear plane
	poly   geometry.Polygon
	convex bool

	from    geometry.Vec
	r       Radiator
	octave  int
	f       float64
	at      float64 // level at the main listening position
	free    bool    // nothing shades it
	against []*geometry.Solid
	bounds  []geometry.Sphere
}

func newMapper(d *project.Design) *mapper {
	m := &mapper{d: d, main: place.MainPoint(d), air: airOf(d.Room.Air), poly: d.Room.Polygon()}
	m.convex = m.poly.Convex()
	m.shades = builtIn(d)
	return m
}

// builtIn returns the solids that are in the way of sound at all times: features
// except windows, platforms, and a screen that no sound passes.
func builtIn(d *project.Design) []geometry.Solid {
	var out []geometry.Solid
	for _, b := range place.FloorOf(d) {
		out = append(out, b.Solid())
	}
	for _, f := range d.Room.Features {
		if f.Kind != project.Window {
			out = append(out, f.Solid())
		}
	}
	if !d.Screen.Transparent {
		out = append(out, d.Screen.Sheet().Solid())
	}
	return out
}

// aim prepares for loudspeaker k.
func (m *mapper) aim(k, octave int) {
	sp := place.OneSpeaker(m.d, m.d.Speakers[k], m.main)
	m.r, m.from, m.octave, m.f = radiatorOf(&sp), sp.At.Vec(), octave, Midbands()[octave]
	m.free = sp.Spec.Subwoofer()
	m.against, m.bounds = m.against[:0], m.bounds[:0]
	for i := range m.shades {
		// What carries a loudspeaker does not shade it.
		if s := &m.shades[i]; !carries(s, &sp) {
			m.against = append(m.against, s)
			m.bounds = append(m.bounds, s.Bound())
		}
	}
	m.at = m.open(m.main)
}

// carries reports whether the solid carries sp: its box or its front is in it or
// at it.
func carries(s *geometry.Solid, sp *place.Speaker) bool {
	const near = 0.02 // m, as the audit's
	at := sp.At.Vec()
	c, _ := s.Clearance(geometry.Segment{A: at, B: at.Sub(sp.Front.W.Mul(float64(sp.Spec.Depth)))})
	return c < near
}

// open returns the level at p against 1 m on the axis with nothing in the way.
func (m *mapper) open(p geometry.Vec) float64 {
	dist := m.from.Dist(p)
	return Spreading(dist) - m.air.loss[m.octave]*dist + m.r.Levels(p)[m.octave]
}

// level returns the level at p against the main listening position.
func (m *mapper) level(p geometry.Vec) float64 {
	l := m.open(p) - m.at
	if m.free {
		return l
	}
	seg := geometry.Segment{A: p, B: m.from}
	worst := 0.0
	for i, s := range m.against {
		if m.bounds[i].Gap(seg) >= 0 {
			continue
		}
		if _, _, ok := s.Hit(seg); !ok {
			continue
		}
		c, t := s.Clearance(seg)
		worst = max(worst, m.edge(-c, t, seg))
	}
	if !m.convex {
		if depth, t, ok := outside(m.poly, p, m.from); ok {
			worst = max(worst, m.edge(depth, t, seg))
		}
	}
	return l - worst
}

// edge returns the knife-edge loss of a path that is blocked by depth metres at t.
func (m *mapper) edge(depth, t float64, seg geometry.Segment) float64 {
	const least = 0.01 // m: the formula has no meaning at the very ends
	l := seg.Len()
	return sight.KnifeEdge(depth, max(t*l, least), max((1-t)*l, least), m.f)
}

// outside reports whether the path from a to b leaves the footprint by more than a
// flush front may, by how much and where. It is fast for paths that cross no wall.
func outside(poly geometry.Polygon, a, b geometry.Vec) (depth, t float64, ok bool) {
	const (
		flush = 0.03 // m, as the audit's
		ends  = 1e-6 // share of the path: a front in the wall begins there
	)
	p, q := geometry.Vec2{X: a.X, Y: a.Y}, geometry.Vec2{X: b.X, Y: b.Y}
	d := q.Sub(p)
	crossed := false
	for i := range poly {
		c, e := poly.Edge(i)
		f := e.Sub(c)
		det := d.Cross(f)
		if math.Abs(det) < 1e-12 {
			continue // along the wall
		}
		w := c.Sub(p)
		if s, t := w.Cross(d)/det, w.Cross(f)/det; s >= 0 && s <= 1 && t > ends && t < 1-ends {
			crossed = true
			break
		}
	}
	if !crossed {
		return 0, 0, false
	}
	depth, t, _, ok = poly.Obstructs(p, q)
	return depth, t, ok && depth > flush
}
