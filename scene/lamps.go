// SPDX-License-Identifier: MIT

package scene

import (
	"math"
	"math/rand/v2"
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/project/panel"
)

// lamps draws the light groups as small shapes that shine: strips, downlights, step lights
// and stars. On a plan they are lines.
func (s *painter) lamps() {
	shell := s.hanging(&Mesh{Name: "rims of lamps", OneSided: true}) // of downlights alone
	lit := &Mesh{Name: "light groups", Unlit: true, OneSided: true}
	lines := &Lines{Name: "light groups"}
	for i := range s.d.LightGroups {
		g := &s.d.LightGroups[i]
		c := LampColour(g.Colour)
		if s.o.Bare { // each is dimmed by itself
			s.add(lit)
			lit = &Mesh{Name: "light groups", Unlit: true, OneSided: true, Shines: i + 1}
			if s.allOverhead(g) {
				s.hanging(lit)
			}
			if s.o.Client && g.Panels != "" {
				lit.Facing = s.wallOf(g.Panels)
			}
		}
		if s.o.Drawing.plan() {
			if !s.o.Client {
				planned(lines, g, panel.Strips(s.d, s.runs, g), bronze)
			}
			continue
		}
		switch g.Kind {
		case project.Strip:
			for _, run := range panel.Strips(s.d, s.runs, g) {
				for k := 1; k < len(run.Path); k++ {
					strip(lit, run.Path[k-1], run.Path[k], run.Aim, c)
				}
			}
		case project.Stars:
			s.stars(lit, g, c, uint64(i))
		case project.Downlight:
			for _, at := range g.At {
				if !s.fitted(at.Vec()) {
					const r, hang = 0.045, 0.004 // m
					down := geometry.Vec{Z: -hang}
					b := geometry.Basis{U: geometry.Vec{X: 1}, V: geometry.Vec{Y: -1}, W: geometry.Vec{Z: -1}}
					downlight(shell.pen().of(Metal).to(at.Vec().Add(down), b), lit.pen().to(at.Vec().Add(down), b), r, hang)
				}
			}
		default:
			for _, at := range g.At {
				half := geometry.Vec{X: 0.03, Y: 0.03, Z: 0.008} // m
				lit.pen().to(at.Vec(), axes(g.Aim(), geometry.Vec{Y: 1})).crate(half, c)
			}
		}
	}
	s.add(shell)
	s.add(lit)
	s.addLines(lines)
}

// wallOf returns the plane of the wall on which the run of panels with that ID hangs, as of
// a Mesh.
func (s *painter) wallOf(id string) [4]float32 {
	for _, r := range s.runs {
		if r.Index < len(s.d.Panels) && s.d.Panels[r.Index].ID == id {
			if c, ok := s.carrier(r.Wall); ok {
				return c.facing()
			}
		}
	}
	return [4]float32{}
}

// allOverhead reports whether all lamps of g are so near to the ceiling that it, or what
// hangs under it, carries them.
func (s *painter) allOverhead(g *project.LightGroup) bool {
	const near = 0.6 // m
	if g.Follows() {
		return false
	}
	for _, p := range slices.Concat(g.Path, g.At) {
		if v := p.Vec(); v.Z < s.plan.ceiling(v.X, v.Y)-near {
			return false
		}
	}
	return true
}

// LampColour is how a lamp of that colour temperature looks beside the others: warm where
// it is not known.
func LampColour(kelvin float64) RGB {
	const warm, cool = 2700, 6500
	if kelvin == 0 {
		kelvin = warm
	}
	return lampCore.mix(RGB{0.93, 0.96, 1}, min(max((kelvin-warm)/(cool-warm), 0), 1))
}

// shining returns a mesh for what shines of a fitting: lit like everything where none of
// the light groups has a lamp in it.
func (s *painter) shining(f project.Feature) *Mesh {
	const near = 0.05 // m
	for i := range s.d.LightGroups {
		for _, at := range s.d.LightGroups[i].At {
			if f.Holds(at.Vec(), near) {
				return &Mesh{Name: "lamps", Unlit: true, OneSided: true, Shines: i + 1}
			}
		}
	}
	return &Mesh{Name: "lamps", OneSided: true}
}

// fitted reports whether something built in is drawn as a lamp at p already.
func (s *painter) fitted(p geometry.Vec) bool {
	const near = 0.05 // m
	for _, f := range s.built {
		if f.Kind == project.Light && f.Holds(p, near) {
			return true
		}
	}
	return false
}

// axes returns axes with W along w, and U as near as may be along u.
func axes(w, u geometry.Vec) geometry.Basis {
	u, ok := u.Sub(w.Mul(u.Dot(w))).Unit()
	if !ok {
		u = across(w)
	}
	return geometry.Basis{U: u, V: w.Cross(u), W: w}
}

// strip draws a stretch of a strip that shines along aim.
func strip(m *Mesh, a, b, aim geometry.Vec, c RGB) {
	along, ok := b.Sub(a).Unit()
	if !ok {
		return
	}
	aim, ok = aim.Sub(along.Mul(aim.Dot(along))).Unit()
	if !ok {
		aim = across(along)
	}
	half := geometry.Vec{X: a.Dist(b) / 2, Y: 0.006, Z: 0.003} // m
	m.pen().to(a.Lerp(b, 0.5), axes(aim, along)).crate(half, c)
}

// stars scatters points of light over the part of the ceiling that is free.
func (s *painter) stars(m *Mesh, g *project.LightGroup, c RGB, seed uint64) {
	const (
		dense = 14  // a square metre
		many  = 500 // in all: a picture stays quick
		under = 0.004
	)
	outline := s.d.Room.Polygon()
	if len(g.Area) > 0 {
		outline = nil
		for _, p := range g.Area {
			outline = append(outline, geometry.Vec2{X: float64(p.X), Y: float64(p.Y)})
		}
	}
	lo, hi := outline.Bounds()
	r := rand.New(rand.NewPCG(seed, 1)) // the same stars each time
	depths := rand.New(rand.NewPCG(seed, 2))
	flat := !s.o.Bare || len(s.plan.slopes) > 1 || !square(outline) // else stars would be seen beside the ceiling
	for range min(many, int(math.Ceil(dense*(hi.X-lo.X)*(hi.Y-lo.Y)))) {
		x, y := lo.X+(hi.X-lo.X)*r.Float64(), lo.Y+(hi.Y-lo.Y)*r.Float64()
		size, bright := 0.002+0.003*math.Pow(r.Float64(), 3), 0.25+0.75*math.Pow(r.Float64(), 3) // few are bright, as in the sky
		deep, tint := 0.1+1.4*depths.Float64(), depths.Float64()-0.5
		at := geometry.Vec{X: x, Y: y, Z: s.plan.ceiling(x, y) - under}
		if !outline.Contains(geometry.Vec2{X: x, Y: y}) || !s.plan.holds(x, y) || s.hidden(at) {
			continue
		}
		down := s.plan.slopes[s.plan.slopes.Over(x, y)].Down()
		m.pen().to(at, axes(down, geometry.Vec{X: 1})).rect(-size, size, -size, size, 0, starColour(c, tint).times(bright))
		if flat {
			deep = 0
		}
		if s.o.Bare {
			m.Deep = append(m.Deep, float32(deep), float32(deep), float32(deep), float32(deep))
		}
	}
}

// starColour returns the colour of a star among those of colour c: tint from -0.5, which is
// warmest, to 0.5.
func starColour(c RGB, tint float64) RGB {
	if tint < 0 {
		return c.mix(RGB{1, 0.80, 0.58}, -tint)
	}
	return c.mix(RGB{0.72, 0.84, 1}, tint)
}

// square reports whether an outline is a rectangle along the room's axes.
func square(p geometry.Polygon) bool {
	const near = 1e-6 // m²
	lo, hi := p.Bounds()
	return math.Abs(math.Abs(p.Area())-(hi.X-lo.X)*(hi.Y-lo.Y)) < near
}

// hidden reports whether something built in is where p is.
func (s *painter) hidden(p geometry.Vec) bool {
	for _, f := range s.built {
		if f.Holds(p, 0.01) {
			return true
		}
	}
	return false
}

// planned draws a group on a plan.
func planned(l *Lines, g *project.LightGroup, strips []panel.Strip, c RGB) {
	const r = 0.05 // m
	for _, run := range strips {
		for k := 1; k < len(run.Path); k++ {
			l.stroke(run.Path[k-1], run.Path[k], c)
		}
	}
	for _, p := range g.At {
		v := p.Vec()
		l.loop(c, v.Add(geometry.Vec{X: r}), v.Add(geometry.Vec{Y: r}), v.Sub(geometry.Vec{X: r}), v.Sub(geometry.Vec{Y: r}))
	}
	if len(g.Area) > 0 {
		var corners []geometry.Vec
		for _, p := range g.Area {
			corners = append(corners, geometry.Vec{X: float64(p.X), Y: float64(p.Y)})
		}
		l.loop(c, corners...)
	}
}
