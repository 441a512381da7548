// SPDX-License-Identifier: MIT

package geometry_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/geometry/geomtest"
)

func floorOf(l, w float64) geometry.Polygon {
	return geometry.Polygon{{}, {X: l}, {X: l, Y: w}, {Y: w}}
}

// A gable 5.8 by 4.4 m, knee walls 1.6 m, ridge 3.1 m along the middle: a box with a
// prism upon it.
func TestGable(t *testing.T) {
	floor := floorOf(5.8, 4.4)
	c := geometry.Ceiling{
		geometry.SlopeThrough(geometry.Vec2{Y: 0}, 1.6, geometry.Vec2{Y: 2.2}, 3.1),
		geometry.SlopeThrough(geometry.Vec2{X: 1, Y: 2.2}, 3.1, geometry.Vec2{X: 1, Y: 4.4}, 1.6)}
	geomtest.Within(t, "volume", c.Volume(floor), 5.8*4.4*1.6+5.8*4.4*1.5/2, 1e-12)
	p := c.Pieces(floor)
	if len(p) != 2 {
		t.Fatalf("%d pieces", len(p))
	}
	for _, p := range p {
		geomtest.Within(t, "half the floor", math.Abs(p.Outline.Area()), 5.8*2.2, 1e-12)
	}
	edge := c.Edge(floor[1], floor[2])
	if len(edge) != 3 || math.Abs(edge[1].X-2.2)+math.Abs(edge[1].Y-3.1) > 1e-12 || math.Abs(edge[2].Y-1.6) > 1e-12 {
		t.Errorf("the gable wall ends above along %v", edge)
	}
	if knee := c.Edge(floor[0], floor[1]); len(knee) != 2 {
		t.Errorf("the knee wall ends above along %v", knee)
	}
	along := 0.0
	for _, f := range c.Folds(floor) {
		along += f.A.Dist(f.B)
		geomtest.Within(t, "the ridge is in the middle", f.A.Y, 2.2, 1e-12)
	}
	geomtest.Within(t, "length of the ridge", along, 5.8, 1e-12)
	lo, hi := c.Range(floor)
	geomtest.Within(t, "lowest", lo, 1.6, 1e-12)
	geomtest.Within(t, "highest", hi, 3.1, 1e-12)
	geomtest.Within(t, "straight up under the ridge", c.Way(geometry.V(3, 2.2, 1.1), geometry.V(0, 0, 1)), 2, 1e-12)
}

// A hip over 7 by 4 m whose four slopes rise by 0.5 m a metre from 2 m: over the
// eaves a prism 3 m long and two half pyramids on 4 by 4 m, all 1 m high.
func TestHip(t *testing.T) {
	const l, w, eaves, rise = 7.0, 4.0, 2.0, 0.5
	c := geometry.Ceiling{{Height: eaves, AlongX: rise}, {Height: eaves + l*rise, AlongX: -rise},
		{Height: eaves, AlongY: rise}, {Height: eaves + w*rise, AlongY: -rise}}
	floor, h := floorOf(l, w), rise*w/2
	geomtest.Within(t, "volume", c.Volume(floor), l*w*eaves+(l-w)*w*h/2+w*w*h/3, 1e-12)
	for _, p := range c.Pieces(floor) {
		want := w * w / 4 // a triangle
		if p.Slope > 1 {
			want = (l + l - w) / 2 * w / 2 // a trapezium
		}
		geomtest.Within(t, "piece", math.Abs(p.Outline.Area()), want, 1e-12)
	}
	along := 0.0
	for _, f := range c.Folds(floor) {
		along += f.A.Dist(f.B)
	}
	geomtest.Within(t, "ridge and hips", along, l-w+4*math.Hypot(w/2, w/2), 1e-9)
	for i := range floor {
		a, b := floor.Edge(i)
		if e := c.Edge(a, b); len(e) != 2 {
			t.Errorf("wall %d bends above: %v", i, e)
		}
	}
}

// What any ceiling obeys: its pieces cover the floor once and lie under their slope,
// a wall's upper edge is the ceiling, and the way up ends at it.
func TestCeilingLaws(t *testing.T) {
	within := func(t *rapid.T, what string, got, want, tol float64) {
		if !(math.Abs(got-want) <= tol) {
			t.Fatalf("%s: %g, want %g", what, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		metres := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		l, w := metres("l", 2, 10), metres("w", 2, 7)
		floor := geometry.Polygon{{}, {X: l}, {X: l, Y: w / 2}, {X: l / 2, Y: w / 2}, {X: l / 2, Y: w}, {Y: w}}
		c := geometry.Ceiling{{Height: metres("h", 2, 4)}}
		for range rapid.IntRange(0, 4).Draw(t, "slopes") {
			c = append(c, geometry.SlopeThrough(geometry.Vec2{X: metres("x", 0, l), Y: metres("y", 0, w)}, metres("from", 1, 4),
				geometry.Vec2{X: l + 1, Y: metres("y2", 0, w)}, metres("to", 1, 4)))
		}
		area := 0.0
		for _, p := range c.Pieces(floor) {
			area += math.Abs(p.Outline.Area())
			m := p.Outline[0].Add(p.Outline[1]).Mul(0.5)
			within(t, "a piece lies under its slope", c[p.Slope].At(m.X, m.Y), c.At(m.X, m.Y), 1e-9)
		}
		within(t, "area of the pieces", area, math.Abs(floor.Area()), 1e-6)
		// The volume, by columns.
		const n = 60
		sum := 0.0
		for i := range n {
			for j := range n {
				q := geometry.Vec2{X: l * (float64(i) + 0.5) / n, Y: w * (float64(j) + 0.5) / n}
				if q.X < l/2 || q.Y < w/2 {
					sum += c.At(q.X, q.Y) * l * w / n / n
				}
			}
		}
		within(t, "volume", c.Volume(floor), sum, 0.01*math.Abs(sum)+0.01)
		for i := range floor {
			a, b := floor.Edge(i)
			e := c.Edge(a, b)
			for k := 1; k < len(e); k++ {
				mid := e[k-1].Add(e[k]).Mul(0.5)
				q := a.Add(b.Sub(a).Mul(mid.X / a.Dist(b)))
				within(t, "upper edge", mid.Y, c.At(q.X, q.Y), 1e-7)
			}
		}
		p := geometry.V(metres("px", 0, l), metres("py", 0, w), -20)
		dir := geometry.V(metres("dx", -1, 1), metres("dy", -1, 1), 1)
		if way := c.Way(p, dir); way > 0 && !math.IsInf(way, 1) {
			end := p.Add(dir.Mul(way))
			within(t, "end of the way", end.Z, c.At(end.X, end.Y), 1e-6)
		}
	})
}
