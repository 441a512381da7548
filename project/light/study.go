// SPDX-License-Identifier: MIT

package light

import (
	"context"
	"fmt"
	"math"
	"strings"

	"earline/geometry"
	"earline/project"
	"earline/project/fit"
	"earline/project/picture"
	"earline/project/place"
)

// Result is what the light of a room comes to.
type Result struct {
	Model  *Model
	Screen []Spot // evenly over the picture, row by row from below
	Seats  []Spot // level, a little over the pan, where hands and what they hold are
	// Ground is where people walk, free of chairs and of what is built in: the floor, the
	// platforms, each step.
	Ground []Ground
	Lamps  []Lamp
	Whites []White
	// Projected is whether Whites are of the design's projector; else they are the
	// luminance of white that a cinema is held to.
	Projected bool
	// Misplaced says which lamps hang outside the room or in something built in, a
	// sentence each.
	Misplaced []string
}

// Spot is a place on which light falls.
type Spot struct {
	Name       string
	At, Normal geometry.Vec
	// Straight is the light straight from the lamps, Lux all of it, by layer.
	Straight, Lux []float64
}

// Ground is a part of where people walk.
type Ground struct {
	Name  string
	Step  bool // a step, or the edge of a platform that has none
	Spots []Spot
}

// Lamp is what one lamp, or a straight stretch of a strip, sends straight to the picture.
type Lamp struct {
	Layer, Lamp int
	At          geometry.Vec // of the first that shines of it
	Lux         float64      // at full level, the mean over the picture
}

// White is full white in one shape of picture.
type White struct {
	Shape     string
	Luminance float64 // cd/m², aged, from the main position
}

// bounces is how many times light is followed from patch to patch before it is thrown on
// what is asked for: in a room that throws back a half, 1.6 % of all light is left.
const bounces = 5

// Study works out the light of a valid design. It ends early with the error of ctx.
func Study(ctx context.Context, d *project.Design) (*Result, error) {
	return StudyIn(ctx, place.Of(d))
}

// StudyIn is Study where the room of the design is at hand.
func StudyIn(ctx context.Context, room *place.Room) (*Result, error) {
	m := In(room)
	if err := m.Bounce(ctx, bounces); err != nil {
		return nil, err
	}
	r := &Result{Model: m}
	r.places(room)
	all := r.all()
	lux := make([]float64, 2*m.Layers*len(all))
	for i, s := range all {
		s.Straight, s.Lux = lux[2*i*m.Layers:(2*i+1)*m.Layers:(2*i+1)*m.Layers], lux[(2*i+1)*m.Layers:(2*i+2)*m.Layers:(2*i+2)*m.Layers]
	}
	if err := share(ctx, len(all), func(i int) {
		s := all[i]
		m.Direct(s.Straight, s.At, s.Normal)
		copy(s.Lux, s.Straight)
		m.Thrown(s.Lux, s.At, s.Normal)
	}); err != nil {
		return nil, err
	}
	r.lamps()
	r.whites(room)
	r.misplaced()
	return r, nil
}

func (r *Result) misplaced() {
	for _, f := range fit.Findings(r.Model.Design) {
		if strings.HasPrefix(f.Field, "light_groups[") {
			r.Misplaced = append(r.Misplaced, upper(f.String())+": little of its light comes into the room, or none.")
		}
	}
}

// all returns every spot.
func (r *Result) all() []*Spot {
	var out []*Spot
	for i := range r.Screen {
		out = append(out, &r.Screen[i])
	}
	for i := range r.Seats {
		out = append(out, &r.Seats[i])
	}
	for g := range r.Ground {
		for i := range r.Ground[g].Spots {
			out = append(out, &r.Ground[g].Spots[i])
		}
	}
	return out
}

// places lays out where light is asked for.
func (r *Result) places(room *place.Room) {
	r.screen()
	top := geometry.Vec{Z: 1}
	for i := range room.Seats {
		s := &room.Seats[i]
		const ahead, over = 0.6, 0.2 // share of the pan, m: over the thighs. No source
		at := s.Local(-ahead*float64(s.Chair.PanDepth), 0, float64(s.Chair.PanHeight)+over)
		r.Seats = append(r.Seats, Spot{Name: s.Name(), At: at, Normal: top})
	}
	r.walks(room)
}

// screen lays out the picture.
func (r *Result) screen() {
	const across, upright = 13, 7
	center, right, up := r.Model.Design.Screen.Picture()
	for k := range upright {
		for i := range across {
			at := center.Add(right.Mul((2*float64(i)+1)/across - 1)).Add(up.Mul((2*float64(k)+1)/upright - 1))
			r.Screen = append(r.Screen, Spot{Name: "picture", At: at, Normal: geometry.Vec{X: 1}})
		}
	}
}

// walks lays out the ground.
func (r *Result) walks(room *place.Room) {
	const (
		cell = 0.4 // m
		many = 300
		ends = 0.02 // m over the ground: where a foot would be
	)
	d := room.Design
	m := r.Model
	top := geometry.Vec{Z: 1}
	byRow := make([]Ground, len(d.Seating.Rows)+1)
	byRow[0].Name = "floor"
	for i := range d.Seating.Rows {
		byRow[i+1].Name = fmt.Sprintf("platform of row %d", i+1)
	}
	lo, hi := m.outline.Bounds()
	size := max(cell, math.Sqrt((hi.X-lo.X)*(hi.Y-lo.Y)/many))
	nx, ny := int(math.Ceil((hi.X-lo.X)/size)), int(math.Ceil((hi.Y-lo.Y)/size))
	free := func(at geometry.Vec) bool { return !m.shade.within(at.Add(geometry.Vec{Z: ends})) }
	for i := range nx {
		for k := range ny {
			x, y := lo.X+(hi.X-lo.X)*(float64(i)+0.5)/float64(nx), lo.Y+(hi.Y-lo.Y)*(float64(k)+0.5)/float64(ny)
			at := geometry.Vec{X: x, Y: y, Z: room.Floor.At(x, y)}
			if !m.outline.Contains(geometry.Vec2{X: x, Y: y}) || !free(at) || x < float64(d.Screen.Distance) {
				continue
			}
			g := &byRow[r.rowAt(x, y, at.Z)]
			g.Spots = append(g.Spots, Spot{Name: g.Name, At: at, Normal: top})
		}
	}
	for i := range byRow {
		if len(byRow[i].Spots) > 0 {
			r.Ground = append(r.Ground, byRow[i])
		}
	}
	for i := range d.Seating.Rows {
		r.steps(d, i)
	}
}

// rowAt returns on whose platform, counted from 1, one stands at (x, y), z high; 0 for the
// floor and for steps.
func (r *Result) rowAt(x, y, z float64) int {
	d := r.Model.Design
	for i := len(d.Seating.Rows) - 1; i >= 0 && z > 0; i-- {
		b, ok := place.Platform(d, i)
		if ok && math.Abs(x-b.Center.X) <= b.Half.X && math.Abs(y-b.Center.Y) <= b.Half.Y && 2*b.Half.Z >= z-1e-9 {
			return i + 1
		}
	}
	return 0
}

// steps lays out the steps up to the platform of row i; where it has none, both ends of the
// edge that is stepped over, a stride from the walls.
func (r *Result) steps(d *project.Design, i int) {
	top := geometry.Vec{Z: 1}
	flights := place.Flights(d, i)
	for f, fl := range flights {
		for k, b := range fl.Boxes {
			name := fmt.Sprintf("step %d up to row %d", k+1, i+1)
			if len(flights) > 1 {
				name = fmt.Sprintf("step %d up to row %d, flight %d", k+1, i+1, f+1)
			}
			at := b.Center
			at.Z += b.Half.Z
			r.Ground = append(r.Ground, Ground{name, true, []Spot{{Name: name, At: at, Normal: top}}})
		}
	}
	b, ok := place.Platform(d, i)
	if !ok || len(flights) > 0 {
		return
	}
	const aisle, tread = 0.35, 0.15 // m from the wall and from the edge. No source
	for _, side := range [2]float64{-1, 1} {
		at := b.Center.Add(geometry.Vec{X: tread - b.Half.X, Y: side * max(b.Half.Y-aisle, 0), Z: b.Half.Z})
		name := fmt.Sprintf("edge of row %d at %s", i+1, map[float64]string{-1: "the left", 1: "the right"}[side])
		if r.Model.outline.Contains(geometry.Vec2{X: at.X, Y: at.Y}) && !r.Model.shade.within(at.Add(geometry.Vec{Z: 0.02})) {
			r.Ground = append(r.Ground, Ground{name, true, []Spot{{Name: name, At: at, Normal: top}}})
		}
	}
}

// lamps works out what each lamp sends straight to the picture.
func (r *Result) lamps() {
	m := r.Model
	for i := range m.Emitters {
		e := &m.Emitters[i]
		if e.Layer == m.Picture {
			break
		}
		sum := 0.0
		for k := range r.Screen {
			s := &r.Screen[k]
			at := s.At.Add(s.Normal.Mul(before))
			if v := e.Lux(at, s.Normal); v > 0 && m.shade.clear(e.At, at) {
				sum += v
			}
		}
		sum /= float64(len(r.Screen))
		if n := len(r.Lamps) - 1; n >= 0 && r.Lamps[n].Layer == e.Layer && r.Lamps[n].Lamp == e.Lamp {
			r.Lamps[n].Lux += sum
			continue
		}
		r.Lamps = append(r.Lamps, Lamp{e.Layer, e.Lamp, e.At, sum})
	}
}

// whites takes the picture's white from its analysis.
func (r *Result) whites(room *place.Room) { r.Whites, r.Projected = whites(picture.In(room)) }

// whites returns the white of every shape of picture, and whether a projector makes it: else
// it is that of a cinema.
func whites(p *picture.Result) (all []White, projected bool) {
	if !p.Projected || !p.Main.Before {
		return []White{{"white", picture.References()[0].White}}, false
	}
	for i := range p.Shapes {
		s := &p.Shapes[i]
		all = append(all, White{s.Called, p.Toward(&p.Main, s.Fills[p.Chosen()].Aged)})
	}
	return all, true
}

// White returns the luminance of the picture's white in cd/m², aged, from the main position:
// that of the first shape.
func (m *Model) White() float64 {
	all, _ := whites(picture.Of(m.Design))
	return all[0].Luminance
}

// Dimmed returns r for a design that differs from its own in nothing but levels.
func (r *Result) Dimmed(d *project.Design) *Result {
	out, m := *r, *r.Model
	m.Design = d
	out.Model = &m
	return &out
}

// Levels returns the level of every layer in a scene: the picture's is 0.
func (r *Result) Levels(scene project.Scene) []float64 {
	d := r.Model.Design
	out := make([]float64, r.Model.Layers)
	for i := range d.LightGroups {
		out[i] = d.LightGroups[i].Scenes.At(scene)
	}
	return out
}

// In returns the illuminance of a spot with the layers at those levels.
func (s *Spot) In(levels []float64) float64 { return weighed(s.Lux, levels) }

func weighed(lux, levels []float64) (sum float64) {
	for i, v := range levels {
		sum += v * lux[i]
	}
	return sum
}

// Spread is the light over several spots.
type Spread struct{ Least, Mean, Most float64 }

// Over returns the light over spots with the layers at those levels; zeros for none.
func Over(spots []Spot, levels []float64) Spread {
	if len(spots) == 0 {
		return Spread{}
	}
	s := Spread{Least: math.Inf(1)}
	for i := range spots {
		v := spots[i].In(levels)
		s.Least, s.Most = min(s.Least, v), max(s.Most, v)
		s.Mean += v / float64(len(spots))
	}
	return s
}

// Stray returns the luminance, cd/m², that lux of stray light give the screen along its
// normal: L = E G / π, the definition of gain.
func (r *Result) Stray(lux float64) float64 { return lux * r.Model.Design.Screen.Gain / math.Pi }

// Left returns the contrast that stray light leaves of a white: no picture that is shown
// has more. It is infinite without stray light.
func Left(white, stray float64) float64 {
	if stray == 0 {
		return math.Inf(1)
	}
	return white / stray
}

// Returned returns which share of its own luminance a full white picture gets back by way
// of the room.
func (r *Result) Returned() float64 {
	levels := make([]float64, r.Model.Layers)
	levels[r.Model.Picture] = 1
	return r.Stray(Over(r.Screen, levels).Mean)
}

// HalfWhite returns the contrast within a picture of which half is white and half black,
// as of the chequered pattern of 16 fields by which projectors are measured, if nothing
// but the room's return lights the black: that of half a white picture, on white and
// black alike.
func (r *Result) HalfWhite() float64 {
	back := r.Returned() / 2
	if back == 0 {
		return math.Inf(1)
	}
	return (1 + back) / back
}
