// SPDX-License-Identifier: MIT

package bake

import (
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
	bright := l.brighter(lit)
	even(lit)
	expose := stops * exposure(bright, l.brighter(lit))
	out.Around = l.mirrored(lit, d, Colour{expose * balance[0], expose * balance[1], expose * balance[2]})
	colour := colourSeen(bright)
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
			if len(m.Deep) > 0 {
				m.Col = times(m.Col, drowned(bright))
			}
		}
		if first := l.room.first[i]; first >= 0 {
			m.Lit = make([]float32, len(m.Pos))
			for v := range len(m.Pos) / 3 {
				s := l.room.site[first+v]
				seen := Colour{without * stops, without * stops, without * stops}
				if !l.outside[s] {
					for n, c := range lit[s] {
						seen[n] = c * expose * balance[n]
					}
					seen = greyer(seen, l.room.albedo[first+v], colour)
				}
				copy(m.Lit[3*v:], seen[:])
			}
		}
		out.Meshes = append(out.Meshes, m)
	}
	return &out
}

// drowned returns what is left of points of light beside surfaces of that luminance: of
// stars nothing is seen by day.
func drowned(y float64) float32 {
	const half = 0.4 // cd/m², beside which half is left. No source
	return float32(half / (half + y))
}

func times(col []float32, f float32) []float32 {
	out := slices.Clone(col)
	for i := range out {
		out[i] *= f
	}
	return out
}

// dim returns the colours of a lamp at that level. What is seen goes with the cube root of
// the light, as lightness does (CIE 1976, from memory); but a lamp is never darker than
// what it lights.
func dim(col []float32, level float64) []float32 {
	const least = 0.6 // No source
	return times(col, float32(least+(1-least)*math.Cbrt(level)))
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
	const taken = 0.80 // No source
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

// even takes a part of the differences of light within the room away, as the eye does, which
// looks into the dark under a ceiling with a wider pupil than at a seat under a lamp. How
// light or dark surfaces are beside each other, and the tint of the light, stay.
func even(lit []Colour) {
	const (
		taken = 0.34 // share, in powers. No source
		least = 1e-3 // of the mean: what is darker is black all the same
	)
	var mean float32
	for i := range lit {
		mean += lit[i].luminance() / float32(len(lit))
	}
	if mean == 0 {
		return
	}
	for i := range lit {
		f := float32(math.Pow(float64(max(lit[i].luminance()/mean, least)), -taken))
		for k := range lit[i] {
			lit[i][k] *= f
		}
	}
}

// exposure returns by what light is multiplied before it is shown, where the brighter
// surfaces have a luminance of y, cd/m², and of evened once the light is made even. The eye
// adapts, but not wholly: a room of a tenth of the light looks darker, if not ten times.
func exposure(y, evened float64) float32 {
	const (
		bright = 0.27 // what the brighter surfaces of a room in house light are shown as. No source
		house  = 1.7  // their luminance, cd/m²
		adapts = 0.40 // share, in powers, of a change that the eye takes away. No source
	)
	if y == 0 || evened == 0 {
		return 1
	}
	return float32(bright / evened * math.Pow(min(y/house, 2), 1-adapts) / math.Pi)
}

// colourSeen returns how much of all colour the eye sees where the brighter surfaces have a
// luminance of y, cd/m²: all of it in the light of day, less in twilight, where the rods see
// as well (from 5 to 0.005 cd/m²: CIE 191:2010, from memory).
func colourSeen(y float64) float32 {
	const (
		day, night = 5.0, 0.005 // cd/m²
		least      = 0.2        // some is seen by the light of the picture. No source
	)
	cones := math.Log(max(y, night)/night) / math.Log(day/night)
	return float32(least + (1-least)*min(cones, 1))
}

// greyer returns the light by which a surface of that albedo is seen with that share of
// its colour, as bright as before.
func greyer(light, albedo Colour, colour float32) Colour {
	const least = 0.02 // albedo: of what is darker no colour is seen
	var thrown Colour
	for n := range light {
		thrown[n] = max(albedo[n], least) * light[n]
	}
	y := thrown.luminance()
	for n := range light {
		light[n] = (y + colour*(thrown[n]-y)) / max(albedo[n], least)
	}
	return light
}

// brighter returns the luminance, cd/m², that a quarter of all surfaces have or more: what
// the eye goes by in a room of which the ceiling may be black. Surfaces are counted by
// steps of a thirty-second of a stop: sorting them would take longer than all else that a
// dimmer waits for.
func (l *Light) brighter(lit []Colour) float64 {
	const (
		share = 1. / 4
		fine  = 32  // steps a stop
		least = -24 // stops over 1 cd/m²; what is darker is black
		most  = 24
	)
	r := l.room
	var area [(most-least)*fine + 1]float64
	total := 0.0
	for t, c := range r.corner {
		if l.outside[r.site[c[0]]] {
			continue
		}
		y := 0.0
		for _, v := range c {
			y += float64(r.albedo[v].luminance()*lit[r.site[v]].luminance()) / (3 * math.Pi)
		}
		a := r.tree.all[t].u.Cross(r.tree.all[t].v).Len() / 2
		total += a
		area[int(fine*(min(max(math.Log2(y), least), most)-least))] += a
	}
	passed := 0.0
	for k := len(area) - 1; k > 0; k-- {
		if passed += area[k]; passed > share*total {
			return math.Exp2(least + (float64(k)+0.5)/fine)
		}
	}
	return 0
}
