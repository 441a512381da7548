// SPDX-License-Identifier: MIT

package project

import (
	"errors"
	"fmt"

	"earline/geometry"
)

// backdrops checks each backdrop, and all together against what a file holds and
// what sight is worked out with in time.
func (c *checker) backdrops(all []Backdrop) {
	points, triangles, lines, obstacles := 0, 0, 0, 0
	for i := range c.count("backdrops", len(all), 0, MaxBackdrops) {
		b, at := &all[i], fmt.Sprintf("backdrops[%d].", i)
		c.text(at+"name", b.Name, maxName)
		c.text(at+"file", b.File, maxName)
		oneOf(c, at+"unit", b.Unit, append([]BackdropUnit{""}, BackdropUnits()...)...)
		c.point(at+"at", b.At)
		c.angle(at+"turn_deg", b.Turn, -360, 360)
		// By the length of the texts first: what is far too much is not unpacked.
		if n := len(b.Points) / 16; n > MaxBackdropPoints {
			c.fault(at+"points", fmt.Sprintf("some %d points", n), fmt.Sprintf("at most %d", MaxBackdropPoints))
			continue
		}
		if n := (len(b.Triangles) + len(b.Lines)) / 5; n > 2*(MaxBackdropTriangles+MaxBackdropLines) {
			c.fault(at+"triangles", fmt.Sprintf("some %d triangles and lines", n), fmt.Sprintf("at most %d triangles and %d lines", MaxBackdropTriangles, MaxBackdropLines))
			continue
		}
		m, err := b.Mesh()
		var fault *Fault
		if errors.As(err, &fault) {
			c.fault(at+fault.Field, fault.Found, fault.Allowed)
			continue
		}
		if far, ok := farPoint(m.Points); ok {
			c.fault(at+"points", fmt.Sprintf("a point %.0f m from its origin", far.Len()), fmt.Sprintf("-%d m to %d m along each axis", maxPlace, maxPlace))
		}
		points += len(m.Points)
		triangles += len(m.Triangles)
		lines += len(m.Lines)
		if b.Obstacle {
			obstacles += len(m.Triangles)
		}
	}
	most := func(n, limit int, what string) {
		if n > limit {
			c.fault("backdrops", fmt.Sprintf("%d %s in all", n, what), fmt.Sprintf("at most %d", limit))
		}
	}
	most(points, MaxBackdropPoints, "points")
	most(triangles, MaxBackdropTriangles, "triangles")
	most(lines, MaxBackdropLines, "lines")
	most(obstacles, MaxObstacleTriangles, "triangles of obstacles")
}

// farPoint returns the first point that is farther off than any coordinate may be.
func farPoint(points []geometry.Vec) (geometry.Vec, bool) {
	for _, p := range points {
		if max(p.X, -p.X, p.Y, -p.Y, p.Z, -p.Z) > maxPlace {
			return p, true
		}
	}
	return geometry.Vec{}, false
}
