// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"math"

	"earline/geometry"
)

// light checks the light groups. Where lamps hang is for
// fit.Findings to judge.
func (c *checker) light(d *Design) {
	lamps, strip, alone := 0, 0.0, false
	for i := range c.count("light_groups", len(d.LightGroups), 0, MaxLightGroups) {
		g, at := &d.LightGroups[i], fmt.Sprintf("light_groups[%d].", i)
		c.text(at+"name", g.Name, maxName)
		oneOf(c, at+"kind", g.Kind, Strip, Downlight, StepLight, Stars)
		c.lamps(at, g)
		c.follows(d, at, g)
		lamps, strip = lamps+len(g.At), strip+g.Length()
		alone = alone || len(g.At) > MaxLamps // said of that group
		c.between(at+"flux_lm", g.Flux, 0.01, 500_000, " lm")
		c.given(at+"colour_k", g.Colour, 1000, 20_000, " K")
		c.beam(at, g)
		for _, s := range LightScenes() {
			c.between(at+"scenes."+string(s), g.Scenes.At(s), 0, 1, "")
		}
	}
	if lamps > MaxLamps && !alone {
		c.fault("light_groups", fmt.Sprintf("%d lamps in all", lamps), fmt.Sprintf("0 to %d; a strip stands for a line of many", MaxLamps))
	}
	if strip > MaxStripLength {
		c.fault("light_groups", fmt.Sprintf("%.0f m of strip in all", strip), fmt.Sprintf("0 m to %d m", MaxStripLength))
	}
}

// lamps checks that a group has lamps of its kind, and none of another.
func (c *checker) lamps(at string, g *LightGroup) {
	none := func(field string, n int, is string) {
		if n > 0 {
			c.fault(at+field, fmt.Sprintf("%s in a group of kind %q", entries(n), g.Kind), "for a "+is+" only")
		}
	}
	switch g.Kind {
	case Strip:
		points := 2
		if g.Follows() {
			points = 0
		}
		for i := range c.count(at+"path", len(g.Path), points, MaxStripPoints) {
			c.point(fmt.Sprintf("%spath[%d]", at, i), g.Path[i])
		}
		const least, hair = 0.01, 1e-9 // m; a strip of exactly the least is one
		if l := g.Length(); len(g.Path) >= 2 && l < least-hair {
			c.fault(at+"path", figure(l)+" m of strip", "0.01 m or more")
		}
	case Downlight, StepLight:
		for i := range c.count(at+"at", len(g.At), 1, MaxLamps) {
			c.point(fmt.Sprintf("%sat[%d]", at, i), g.At[i])
		}
	case Stars:
		c.starArea(at+"area", g.Area)
	default:
		return // the kind is at fault
	}
	if g.Kind != Strip {
		none("path", len(g.Path), "strip")
	}
	if g.Kind != Downlight && g.Kind != StepLight {
		none("at", len(g.At), "downlight or a step light")
	}
	if g.Kind != Stars {
		none("area", len(g.Area), "star ceiling")
	}
}

// starArea checks an outline seen from above, or none for the whole ceiling.
func (c *checker) starArea(field string, area []Corner) {
	if len(area) == 0 {
		return
	}
	before := len(c.faults)
	outline := make(geometry.Polygon, 0, len(area))
	for i := range c.count(field, len(area), 3, MaxCorners) {
		p := area[i]
		c.length(fmt.Sprintf("%s[%d].x_m", field, i), p.X, -maxPlace, maxPlace)
		c.length(fmt.Sprintf("%s[%d].y_m", field, i), p.Y, -maxPlace, maxPlace)
		outline = append(outline, geometry.Vec2{X: float64(p.X), Y: float64(p.Y)})
	}
	const least = 0.01 // square metres
	if len(c.faults) > before {
		return
	}
	if outline.Simple() != nil || math.Abs(outline.Area()) < least {
		c.fault(field, "an outline that is not simple, or encloses nothing", "edges that meet at their ends only, around 0.01 square metres or more")
	}
}

// beam checks where the light goes.
func (c *checker) beam(at string, g *LightGroup) {
	if g.Kind == Stars {
		for _, f := range []struct {
			name  string
			value float64
		}{{"beam_deg", float64(g.Beam)}, {"tilt_deg", float64(g.Tilt)}, {"azimuth_deg", float64(g.Azimuth)}} {
			if f.value != 0 {
				c.fault(at+f.name, figure(f.value)+"°", "nothing: stars shine square out of their ceiling")
			}
		}
		return
	}
	if g.Beam != 0 || g.Kind == Downlight {
		c.angle(at+"beam_deg", g.Beam, 5, 160)
	}
	c.angle(at+"tilt_deg", g.Tilt, 0, 180)
	c.angle(at+"azimuth_deg", g.Azimuth, -360, 360)
}
