// SPDX-License-Identifier: MIT

package bake

import (
	"cmp"
	"math"
	"slices"

	"earline/scene"
)

// Show returns the list in that light. It shares all but the light with the list that was
// lit, and with those shown before.
func (l *Light) Show(d Dimmed) *scene.List {
	const without = 0.3 // the light on what is outside the room, where no lamp is. No source
	out := *l.room.list
	out.Meshes = nil
	lit := l.mix(d.Levels)
	balance := l.balance(lit)
	stops := float32(math.Exp2(d.Exposure))
	expose := stops * l.exposure(lit)
	runs := d.Picture < len(d.Levels) && d.Levels[d.Picture] > 0
	for i, m := range l.room.list.Meshes {
		switch {
		case m.Seat > 0 && m.Seat-1 == d.FromSeat:
			continue
		case m.Shines == scene.Picture:
			if !runs {
				continue
			}
		case m.Shines == scene.Canvas && runs:
			continue
		case m.Shines > 0 && m.Shines <= len(d.Levels):
			if d.Levels[m.Shines-1] == 0 {
				continue // a lamp that is off is not seen before what carries it
			}
			m.Col = dim(m.Col, d.Levels[m.Shines-1])
		}
		if first := l.room.first[i]; first >= 0 {
			m.Lit = make([]float32, len(m.Pos))
			for v := range len(m.Pos) / 3 {
				s := l.room.site[first+v]
				for n, c := range lit[s] {
					if l.outside[s] {
						m.Lit[3*v+n] = stops * without
						continue
					}
					m.Lit[3*v+n] = c * expose * balance[n]
				}
			}
		}
		out.Meshes = append(out.Meshes, m)
	}
	return &out
}

// dim returns the colours of a lamp at that level. What is seen goes with the cube root of
// the light, as lightness does (CIE 1976, from memory); but a lamp is never darker than
// what it lights.
func dim(col []float32, level float64) []float32 {
	const least = 0.6 // No source
	f := float32(least + (1-least)*math.Cbrt(level))
	out := slices.Clone(col)
	for i := range out {
		out[i] *= f
	}
	return out
}

// mix returns the light on every site: the sum of the layers, each at its level.
func (l *Light) mix(levels []float64) []Colour {
	layers := l.room.lamps.Layers
	out := make([]Colour, len(l.room.sites))
	for k, level := range levels[:min(len(levels), layers)] {
		if level == 0 {
			continue
		}
		f := float32(level)
		for i := range out {
			c := &l.lux[i*layers+k]
			out[i][0] += f * c[0]
			out[i][1] += f * c[1]
			out[i][2] += f * c[2]
		}
	}
	return out
}

// balance returns by what red, green and blue are multiplied so that the light looks
// nearly white: the eye takes most of a lamp's tint away.
func (l *Light) balance(lit []Colour) Colour {
	const taken = 0.75 // No source
	var mean Colour
	for i := range lit {
		for n := range mean {
			mean[n] += lit[i][n]
		}
	}
	y := mean.luminance()
	out := Colour{1, 1, 1}
	if y > 0 {
		for n := range out {
			out[n] = float32(math.Pow(float64(y/max(mean[n], y/4)), taken))
		}
	}
	return out
}

// exposure returns by what light is multiplied before it is shown. The eye adapts, but not
// wholly: a room of a tenth of the light looks darker, if not ten times.
func (l *Light) exposure(lit []Colour) float32 {
	const (
		bright = 0.20 // what the brighter surfaces of a room in house light are shown as. No source
		house  = 4.0  // their luminance, cd/m²
		adapts = 0.60 // share, in powers, of a change that the eye takes away
	)
	y := l.brighter(lit)
	if y == 0 {
		return 1
	}
	return float32(bright / y * math.Pow(min(y/house, 4), 1-adapts) / math.Pi)
}

// brighter returns the luminance, cd/m², that a quarter of all surfaces have or more: what
// the eye goes by in a room of which the ceiling may be black.
func (l *Light) brighter(lit []Colour) float64 {
	const share = 1. / 4
	r := l.room
	type piece struct{ y, area float64 }
	all := make([]piece, len(r.corner))
	total := 0.0
	for t, c := range r.corner {
		p := &all[t]
		if l.outside[r.site[c[0]]] {
			continue
		}
		for _, v := range c {
			p.y += float64(r.albedo[v].luminance()*lit[r.site[v]].luminance()) / (3 * math.Pi)
		}
		p.area = r.tree.all[t].u.Cross(r.tree.all[t].v).Len() / 2
		total += p.area
	}
	slices.SortFunc(all, func(a, b piece) int { return cmp.Compare(b.y, a.y) })
	passed := 0.0
	for _, p := range all {
		if passed += p.area; passed > share*total {
			return p.y
		}
	}
	return 0
}
