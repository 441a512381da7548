// SPDX-License-Identifier: MIT

// Package projecttest draws rooms for tests: valid designs that have what rooms
// have, with values as people type them.
package projecttest

import (
	"math"
	"math/rand/v2"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
)

// Rooms says which rooms to draw; the zero value draws all kinds.
type Rooms struct {
	// Seats and Speakers limit how many there are; 0 is 20 seats, 12 loudspeakers.
	Seats, Speakers int
	// Convex rooms have no corner that juts in.
	Convex bool
	// Inside rooms hold everything: no ear, eye or driver is outside the shell,
	// and the picture is within it.
	Inside bool
	// Planes gives the ceiling two to four further planes.
	Planes bool
	// Projector gives the room a projector, often in somebody's way.
	Projector bool
}

// Room returns the design number seed of all kinds, always the same one.
func Room(seed uint64) *project.Design { return Rooms{}.Room(seed) }

// Draw returns any room.
func Draw(t *rapid.T) *project.Design { return Rooms{}.Draw(t) }

// Draw returns any of these rooms.
func (o Rooms) Draw(t *rapid.T) *project.Design {
	return o.Room(rapid.Uint64().Draw(t, "room"))
}

// Room returns the design number seed of these rooms, always the same one.
func (o Rooms) Room(seed uint64) *project.Design {
	if o.Seats == 0 {
		o.Seats = 20
	}
	if o.Speakers == 0 {
		o.Speakers = 12
	}
	b := &builder{Rand: rand.New(rand.NewPCG(seed, 0x6561726c696e65)), o: o, d: &project.Design{
		Name: "drawn", Units: project.Metric,
		Criteria: project.Criteria{Margin: 0.05},
	}}
	b.later = &builder{Rand: rand.New(rand.NewPCG(seed, 0x6275696c74)), o: o, d: b.d}
	if b.chance(0.3) {
		b.d.Criteria.Margin, b.d.Criteria.PictureMargin = b.length(0, 0.15), b.length(0, 0.1)
	}
	b.footprint()
	b.ceiling()
	if o.Planes {
		(&builder{Rand: rand.New(rand.NewPCG(seed, 0x706c616e6573)), o: o, d: b.d, poly: b.poly}).planes()
	}
	b.screen()
	b.seating()
	b.later.platforms()
	b.features()
	b.models()
	b.speakers()
	b.later.furniture(b)
	if o.Projector {
		(&builder{Rand: rand.New(rand.NewPCG(seed, 0x6c656e73)), o: o, d: b.d, poly: b.poly, long: b.long, wide: b.wide}).projector()
	}
	return b.d
}

// builder makes one design.
type builder struct {
	*rand.Rand
	o Rooms
	d *project.Design

	// later draws what rooms could not have when the first of them were drawn, with
	// dice of its own: the rest of a room is as it was.
	later *builder

	long, wide float64 // of the rectangle around the footprint
	poly       geometry.Polygon
}

func (b *builder) chance(p float64) bool { return b.Float64() < p }

// between returns a value from lo to hi, most often as people type it: in whole
// steps of 50, 10 or 1 mm.
func (b *builder) between(lo, hi float64) float64 {
	v := lo + (hi-lo)*b.Float64()
	perMetre := 0.0
	switch n := b.IntN(20); {
	case n < 7:
		perMetre = 20
	case n < 13:
		perMetre = 100
	case n < 17:
		perMetre = 1000
	default:
		return v
	}
	return min(max(math.Round(v*perMetre)/perMetre, lo), hi)
}

// tidy removes what sums leave in the last digits, as a file would.
func tidy(v float64) unit.Length { return unit.Length(math.Round(v*1e9) / 1e9) }

func (b *builder) length(lo, hi float64) unit.Length { return unit.Length(b.between(lo, hi)) }

// degrees returns an angle from lo to hi, most often a whole multiple of 5.
func (b *builder) degrees(lo, hi float64) unit.Degrees {
	v := lo + (hi-lo)*b.Float64()
	if b.chance(0.7) {
		v = min(max(5*math.Round(v/5), lo), hi)
	}
	return unit.Degrees(v)
}

func one[T any](b *builder, of ...T) T { return of[b.IntN(len(of))] }

// footprint draws the outline: rectangular, with one or two corners cut out (L,
// T), notched by a chimney breast, or slanted; from any corner, either way round.
func (b *builder) footprint() {
	b.long, b.wide = b.between(4, 10), b.between(3, 7)
	l, w := b.long, b.wide
	kinds := 7
	if b.o.Convex {
		kinds = 4
	}
	var p geometry.Polygon
	switch b.IntN(kinds) {
	case 0, 1:
		p = geometry.Polygon{{X: 0, Y: 0}, {X: l, Y: 0}, {X: l, Y: w}, {X: 0, Y: w}}
	case 2: // one or two corners cut off askew
		c, e := b.between(0.3, 0.4*l), b.between(0.3, 0.4*w)
		p = geometry.Polygon{{X: 0, Y: 0}, {X: l, Y: 0}, {X: l, Y: w - e}, {X: l - c, Y: w}, {X: 0, Y: w}}
		if b.chance(0.5) {
			p = geometry.Polygon{{X: 0, Y: 0}, {X: l - c, Y: 0}, {X: l, Y: e}, {X: l, Y: w - e}, {X: l - c, Y: w}, {X: 0, Y: w}}
		}
	case 3: // one wall askew
		p = geometry.Polygon{{X: 0, Y: 0}, {X: l, Y: 0}, {X: l - b.between(0, 0.3*l), Y: w}, {X: 0, Y: w}}
	case 4: // L
		c, e := b.between(0.2, 0.5*l), b.between(0.2, 0.5*w)
		p = geometry.Polygon{{X: 0, Y: 0}, {X: l, Y: 0}, {X: l, Y: w - e}, {X: l - c, Y: w - e}, {X: l - c, Y: w}, {X: 0, Y: w}}
	case 5: // T
		c, e, f := b.between(0.2, 0.5*l), b.between(0.2, 0.3*w), b.between(0.2, 0.3*w)
		p = geometry.Polygon{{X: 0, Y: 0}, {X: l - c, Y: 0}, {X: l - c, Y: e}, {X: l, Y: e}, {X: l, Y: w - f}, {X: l - c, Y: w - f}, {X: l - c, Y: w}, {X: 0, Y: w}}
	case 6: // chimney breast
		c, e := b.between(0.4, 0.4*l), b.between(0.1, 0.2*w)
		at := b.between(0.1, 0.5*l)
		p = geometry.Polygon{{X: 0, Y: 0}, {X: l, Y: 0}, {X: l, Y: w}, {X: at + c, Y: w}, {X: at + c, Y: w - e}, {X: at, Y: w - e}, {X: at, Y: w}, {X: 0, Y: w}}
		if b.chance(0.5) { // in the back wall
			at, c = b.between(0.1, 0.5*w), b.between(0.3, 0.4*w)
			p = geometry.Polygon{{X: 0, Y: 0}, {X: l, Y: 0}, {X: l, Y: at}, {X: l - e, Y: at}, {X: l - e, Y: at + c}, {X: l, Y: at + c}, {X: l, Y: w}, {X: 0, Y: w}}
		}
	}
	flipX, flipY := b.chance(0.3), b.chance(0.5)
	for i := range p {
		if flipX {
			p[i].X = l - p[i].X
		}
		if flipY {
			p[i].Y = w - p[i].Y
		}
	}
	first, step := b.IntN(len(p)), one(b, 1, len(p)-1)
	for i := range p {
		c := p[(first+i*step)%len(p)]
		b.d.Room.Footprint = append(b.d.Room.Footprint, project.Corner{X: tidy(c.X), Y: tidy(c.Y)})
	}
	b.poly = b.d.Room.Polygon()
}

func (b *builder) ceiling() {
	c := project.Ceiling{Slope: project.Flat, Height: b.length(2.2, 3.6)}
	if b.chance(0.4) {
		c.Slope, c.FarHeight = one(b, project.FrontToBack, project.LeftToRight), b.length(2.1, 3.8)
	}
	b.d.Room.Ceiling = c
}

// screen hangs the picture in the front part of the room: in the middle, beside
// it, or with its edge near a corner that juts in.
func (b *builder) screen() {
	for range 50 {
		s := project.Screen{Aspect: one(b, 16.0/9, 1.85, 2.35, 2.4), Width: b.length(1.2, max(1.3, 0.8*b.wide)),
			Bottom: b.length(0.35, 1.1), Distance: b.length(0.02, 0.7), Centre: unit.Length(b.wide / 2),
			Border: b.length(0, 0.1), Transparent: b.chance(0.6), Gain: 1}
		if b.chance(0.3) {
			s.Centre = b.length(0.4*b.wide, 0.6*b.wide)
		}
		if c, ok := b.juttingCorner(); ok && b.chance(0.5) {
			s.Centre = unit.Length(c.Y) + one[unit.Length](b, -1, 1)*(s.Width/2+b.length(-0.1, 0.3))
			s.Distance = unit.Length(math.Max(0.02, c.X-b.between(0, 0.6)))
		}
		if float64(s.Distance) > 0.5*b.long {
			continue
		}
		b.d.Screen = s
		if b.pictureInside() || !b.o.Inside && b.chance(0.02) {
			return
		}
	}
	// A small picture before the middle of the room finds room in any outline.
	at := b.middle(0.35 * b.long)
	b.d.Screen = project.Screen{Aspect: 16.0 / 9, Width: 0.4, Bottom: 0.8, Distance: unit.Length(at.X), Centre: unit.Length(at.Y), Gain: 1, Transparent: true}
}

// juttingCorner returns a corner of the front half at which the room is concave.
func (b *builder) juttingCorner() (geometry.Vec2, bool) {
	n := len(b.poly)
	first := b.IntN(n)
	for i := range n {
		k := (first + i) % n
		p, q, r := b.poly[(k+n-1)%n], b.poly[k], b.poly[(k+1)%n]
		turn := (q.X-p.X)*(r.Y-q.Y) - (q.Y-p.Y)*(r.X-q.X)
		if turn*b.poly.Area() < 0 && q.X < b.long/2 {
			return q, true
		}
	}
	return geometry.Vec2{}, false
}

// pictureInside reports whether the whole picture is within the shell.
func (b *builder) pictureInside() bool {
	c, right, up := b.d.Screen.Picture()
	for n := range 21 {
		p := c.Add(right.Mul(float64(n)/10 - 1))
		if !b.inside(p.Add(up)) || !b.inside(p.Sub(up)) {
			return false
		}
	}
	return true
}

// inside reports whether p is within the shell, away from it by 10 mm or more.
func (b *builder) inside(p geometry.Vec) bool {
	const away = 0.01
	at := geometry.Vec2{X: p.X, Y: p.Y}
	return b.poly.Contains(at) && b.poly.Distance(at) >= away &&
		p.Z >= away && p.Z <= b.d.Room.CeilingAt(p.X, p.Y)-away
}

// middle returns the point at x that is in the middle of the widest stretch of
// floor there.
func (b *builder) middle(x float64) geometry.Vec2 {
	const steps = 100
	best, at, run := 0, b.wide/2, 0
	for n := 1; n <= steps; n++ {
		y := b.wide * (float64(n) - 0.5) / steps
		if !b.poly.Contains(geometry.Vec2{X: x, Y: y}) {
			run = 0
			continue
		}
		if run++; run > best {
			best, at = run, b.wide*(float64(n)-float64(run)/2)/steps
		}
	}
	return geometry.Vec2{X: x, Y: at}
}
