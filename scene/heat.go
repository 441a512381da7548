// SPDX-License-Identifier: MIT

package scene

import (
	"fmt"
	"math"

	"earline/geometry"
)

// Heat is a value over the floor, drawn as a sheet in colours with contour
// lines: a level on the ear plane. It must not be changed once it is in Options.
type Heat struct {
	// Its points are NX across x and NY across y, Step metres apart, the first
	// at X0, Y0; index j*NX+i.
	X0, Y0, Step float64
	NX, NY       int
	Value        []float64 // NaN where there is none
	Z            []float64 // height of the sheet at each point, metres
	// Lo and Hi are the ends of the colours; Contour is the step between lines,
	// 0 for none.
	Lo, Hi, Contour float64
	Unit            string // of what the lines are labelled with
	// Seats are texts over the heads, seat by seat; may be shorter.
	Seats []string
}

// heatStops are the colours of a Heat from Lo to Hi: each is lighter than the last,
// so that the order is visible without the hues.
var heatStops = [...]RGB{
	{0.110, 0.130, 0.330}, {0.120, 0.330, 0.500}, {0.220, 0.540, 0.540}, {0.620, 0.710, 0.450}, {0.960, 0.850, 0.500}, {1.000, 0.970, 0.860}}

// HeatColour returns the colour of a Heat at t, 0 at Lo to 1 at Hi.
func HeatColour(t float64) RGB {
	const last = len(heatStops) - 1
	if !(t > 0) {
		return heatStops[0]
	}
	if t >= 1 {
		return heatStops[last]
	}
	i := int(t * float64(last))
	return heatStops[i].mix(heatStops[i+1], t*float64(last)-float64(i))
}

// ok reports whether h can be drawn.
func (h *Heat) ok() bool {
	n := h.NX * h.NY
	return h.NX > 1 && h.NY > 1 && len(h.Value) == n && len(h.Z) == n && h.Step > 0 && h.Hi > h.Lo
}

// point returns where point i, j is and whether it has a value.
func (h *Heat) point(i, j int) (at geometry.Vec, value float64, ok bool) {
	n := j*h.NX + i
	at = geometry.Vec{X: h.X0 + float64(i)*h.Step, Y: h.Y0 + float64(j)*h.Step, Z: h.Z[n]}
	return at, h.Value[n], at.Finite() && !math.IsNaN(h.Value[n])
}

// heat draws Options.Heat.
func (s *painter) heat() {
	h := s.o.Heat
	if h == nil || !h.ok() {
		return
	}
	m := &Mesh{Name: "heat", Unlit: true, Alpha: 0.72}
	m.grow(h.NX*h.NY, 2*h.NX*h.NY)
	p := m.pen()
	at := make([]int64, h.NX*h.NY) // index of the vertex, or -1
	up := geometry.Vec{Z: 1}
	for j := range h.NY {
		for i := range h.NX {
			q, v, ok := h.point(i, j)
			at[j*h.NX+i] = -1
			if ok {
				at[j*h.NX+i] = int64(p.vertex(q, up, HeatColour((v-h.Lo)/(h.Hi-h.Lo))))
			}
		}
	}
	c := &contours{h: h, ink: s.ink.Name, lines: &Lines{Name: "heat contours"}, middle: map[int][]geometry.Vec{}}
	for j := range h.NY - 1 {
		for i := range h.NX - 1 {
			// Two triangles a cell, each drawn where its corners have values.
			n := [4]int{j*h.NX + i, j*h.NX + i + 1, (j+1)*h.NX + i + 1, (j+1)*h.NX + i}
			for _, t := range [2][3]int{{0, 1, 2}, {0, 2, 3}} {
				a, b, d := at[n[t[0]]], at[n[t[1]]], at[n[t[2]]]
				if a < 0 || b < 0 || d < 0 {
					continue
				}
				p.tri(uint32(a), uint32(b), uint32(d))
				c.cross(n[t[0]], n[t[1]], n[t[2]])
			}
		}
	}
	s.add(m)
	s.addLines(c.lines)
	c.label(func(level float64, at geometry.Vec) {
		s.tag(at, fmt.Sprintf("%.4g %s", level, h.Unit), s.ink.Name, s.ink.NamePlate, false)
	})
	if s.r == nil {
		return
	}
	for i, text := range h.Seats {
		if i < len(s.r.Bodies) {
			s.tag(above(s.r.Bodies[i].Crown, 0.1), text, s.ink.Reverse, s.ink.Selected, false)
		}
	}
}

// contours are the lines of equal value.
type contours struct {
	h      *Heat
	ink    RGB // mixed into the colours of the lines
	lines  *Lines
	middle map[int][]geometry.Vec // of every stroke, by number of the level
}

// cross draws the lines that cross the triangle of those three points, between
// whose corners the value changes evenly.
func (c *contours) cross(n ...int) {
	h := c.h
	if !(h.Contour > 0) {
		return
	}
	const lift = 0.004 // m, over the sheet
	corner := func(k int) (geometry.Vec, float64) {
		q, v, _ := h.point(n[k]%h.NX, n[k]/h.NX)
		q.Z += lift
		return q, v
	}
	var at [3]geometry.Vec
	var v [3]float64
	for k := range 3 {
		at[k], v[k] = corner(k)
	}
	lo, hi := min(v[0], v[1], v[2]), max(v[0], v[1], v[2])
	const most = 50 // lines across one cell: beyond that they would be a blot
	first, last := math.Ceil(lo/h.Contour), math.Floor(hi/h.Contour)
	if !(last-first < most) {
		return
	}
	for k := first; k <= last; k++ {
		level := k * h.Contour
		var ends [2]geometry.Vec
		found := 0
		for e := range 3 {
			a, b := v[e], v[(e+1)%3]
			if (a < level) == (b < level) || found == 2 {
				continue
			}
			ends[found] = at[e].Lerp(at[(e+1)%3], (level-a)/(b-a))
			found++
		}
		if found == 2 {
			c.lines.stroke(ends[0], ends[1], HeatColour((level-h.Lo)/(h.Hi-h.Lo)).mix(c.ink, 0.55))
			c.middle[int(k)] = append(c.middle[int(k)], ends[0].Lerp(ends[1], 0.5))
		}
	}
}

// label writes every level once, on its line and as far as possible from the other
// labels.
func (c *contours) label(write func(level float64, at geometry.Vec)) {
	const apart = 0.5 // m
	lo, hi := math.Floor(c.h.Lo/c.h.Contour), math.Ceil(c.h.Hi/c.h.Contour)
	if !(c.h.Contour > 0) || hi-lo > 100 {
		return
	}
	var taken []geometry.Vec
	for k := int(lo); k <= int(hi); k++ {
		best, where := apart, geometry.Vec{}
		for _, p := range c.middle[k] {
			gap := math.Inf(1)
			for _, q := range taken {
				gap = min(gap, p.Dist(q))
			}
			if math.IsInf(gap, 1) { // the first: the middle of its line
				gap = apart + 1/(1+p.Dist(c.middle[k][len(c.middle[k])/2]))
			}
			if gap > best {
				best, where = gap, p
			}
		}
		if best > apart {
			taken = append(taken, where)
			write(float64(k)*c.h.Contour, where)
		}
	}
}

// Trace is a path to draw: of sound, from a loudspeaker by a surface to an ear, or of a
// cable.
type Trace struct {
	Points []geometry.Vec
	Text   string // at its second point; may be empty
	Strong bool   // in the colour of a broken limit
}

// Patch is a part of a surface to highlight: where to treat it.
type Patch struct {
	Corners [4]geometry.Vec // in order round it
	Text    string
}

// traces draws Options.Traces and Options.Patches.
func (s *painter) traces() {
	l := &Lines{Name: "traces", OnTop: true}
	rods := &Mesh{Name: "trace", Unlit: true, OnTop: true, Alpha: 0.9}
	for _, t := range s.o.Traces {
		ink := s.ink.Met
		if t.Strong {
			ink = s.ink.Fails
		}
		for i := range max(len(t.Points)-1, 0) {
			a, b := t.Points[i], t.Points[i+1]
			if !a.Finite() || !b.Finite() {
				continue
			}
			if t.Strong {
				rod(rods.pen(), a, b, 0.008, ink)
			} else {
				l.stroke(a, b, ink)
			}
		}
		if len(t.Points) > 1 {
			s.tag(t.Points[1], t.Text, s.ink.Reverse, ink, false)
		}
	}
	const thick = 0.05 // m
	sheets := &Mesh{Name: "patches", Unlit: true, Alpha: 0.45}
	p := sheets.pen()
	for _, t := range s.o.Patches {
		c := t.Corners
		middle := c[0].Lerp(c[2], 0.5)
		if !middle.Finite() {
			continue
		}
		// On both sides of the surface, at the thickness of a panel: the one in the
		// room is visible.
		n, ok := c[1].Sub(c[0]).Cross(c[2].Sub(c[0])).Unit()
		if !ok {
			continue
		}
		up, down := n.Mul(thick), n.Mul(-thick)
		p.plain(c[0].Add(up), c[1].Add(up), c[2].Add(up), c[3].Add(up), s.ink.Fails)
		p.plain(c[3].Add(down), c[2].Add(down), c[1].Add(down), c[0].Add(down), s.ink.Fails)
		for i := range c {
			l.dashes(c[i], c[(i+1)%4], 0.08, 0.05, s.ink.Fails)
		}
		s.tag(middle, t.Text, s.ink.Reverse, s.ink.Fails, false)
	}
	s.add(rods)
	s.add(sheets)
	s.addLines(l)
}
