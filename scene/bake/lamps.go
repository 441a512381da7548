// SPDX-License-Identifier: MIT

package bake

import (
	"earline/geometry"
	"earline/project/light"
	"earline/scene"
)

// Lamps are what lights a room.
type Lamps struct {
	Emitters []light.Emitter
	Colours  []Colour // of each emitter; of luminance 1, but for the picture's cells
	Layers   int
}

// Colour is linear light: red, green, blue.
type Colour [3]float32

// luminance weighs red, green and blue as Rec. ITU-R BT.709 does (clause 3.2).
func (c Colour) luminance() float32 { return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2] }

// plus returns c with f of d added.
func (c Colour) plus(f float32, d *Colour) Colour {
	return Colour{c[0] + f*d[0], c[1] + f*d[1], c[2] + f*d[2]}
}

// linear returns what a colour of the list throws back, or sends out.
func linear(r, g, b float32) Colour { return scene.RGB{R: r, G: g, B: b}.Linear() }

// LampsOf returns the lamps of a model as l shows them: the cells of its picture send out
// what is drawn there, where it is white as much as the model says.
func LampsOf(m *light.Model, l *scene.List) Lamps {
	out := Lamps{Emitters: m.Emitters, Layers: m.Layers, Colours: make([]Colour, len(m.Emitters))}
	cells := 0
	for i := range m.Emitters {
		e := &m.Emitters[i]
		if e.Layer == m.Picture {
			cells++
			continue
		}
		c := scene.LampColour(m.Design.LightGroups[e.Layer].Colour)
		lin := linear(c.R, c.G, c.B)
		y := lin.luminance()
		out.Colours[i] = Colour{lin[0] / y, lin[1] / y, lin[2] / y}
	}
	for i := range l.Meshes {
		if l.Meshes[i].Shines == scene.Picture {
			out.picture(m, &l.Meshes[i])
		}
	}
	return out
}

// picture gives the picture's cells the mean colour of the triangles in each.
func (l *Lamps) picture(m *light.Model, shown *scene.Mesh) {
	area := make([]float32, len(l.Emitters))
	for i := 0; i+2 < len(shown.Index); i += 3 {
		var p [3]geometry.Vec
		var c Colour
		for k := range 3 {
			v := shown.Index[i+k]
			p[k] = position(shown.Pos, v)
			lin := linear(shown.Col[3*v], shown.Col[3*v+1], shown.Col[3*v+2])
			for n := range c {
				c[n] += lin[n] / 3
			}
		}
		middle := p[0].Add(p[1]).Add(p[2]).Mul(1. / 3)
		near, best := -1.0, -1
		for e := range l.Emitters {
			if l.Emitters[e].Layer != m.Picture {
				continue
			}
			if d := l.Emitters[e].At.Sub(middle).Len2(); best < 0 || d < near {
				near, best = d, e
			}
		}
		if best < 0 {
			return
		}
		a := float32(p[1].Sub(p[0]).Cross(p[2].Sub(p[0])).Len())
		for n := range c {
			l.Colours[best][n] += a * c[n]
		}
		area[best] += a
	}
	for e, a := range area {
		if a > 0 {
			for n := range l.Colours[e] {
				l.Colours[e][n] /= a
			}
		}
	}
}

// apart returns how far apart corners may be at a place: longest, and less beside a lamp
// that sends light that way or along. Beside a strip it is less at its ends alone: along
// it surfaces are graded.
func (l *Lamps) apart(longest float64, strips []line) func(at geometry.Vec) float64 {
	const (
		near  = 0.35 // m
		share = 0.4  // of longest
		along = -0.3
	)
	type lamp struct {
		at, axis geometry.Vec
		near     float64
	}
	var lamps []lamp
	for i := range l.Emitters {
		if e := &l.Emitters[i]; len(e.Face) == 0 && e.Run.Len2() == 0 {
			lamps = append(lamps, lamp{e.At, e.Axis, near})
		}
	}
	for i := range strips {
		s := &strips[i]
		lamps = append(lamps, lamp{s.from, s.axis, near / 2}, lamp{s.at(s.long), s.axis, near / 2})
	}
	return func(at geometry.Vec) float64 {
		for _, e := range lamps {
			d := at.Sub(e.at)
			if r2 := d.Len2(); r2 < e.near*e.near && d.Dot(e.axis) > along*e.near {
				return share * longest
			}
		}
		return longest
	}
}

// position returns vertex i of a mesh in the room frame.
func position(pos []float32, i uint32) geometry.Vec {
	return geometry.Vec{X: float64(pos[3*i+2]), Y: float64(pos[3*i]), Z: float64(pos[3*i+1])}
}
