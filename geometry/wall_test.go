// SPDX-License-Identifier: MIT

package geometry

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// walls returns the walls over the edges of p.
func walls(p Polygon) []Wall {
	out := make([]Wall, len(p))
	for i := range p {
		from, to := p.Edge(i)
		in := p.InwardNormal(i)
		out[i] = Wall{At: Vec{X: from.X, Y: from.Y}, In: Vec{X: in.X, Y: in.Y}, From: from, To: to}
	}
	return out
}

// A disc half behind the corner of an L is half seen: the corner stands in the
// upright plane through the eye and the disc's middle.
func TestCornerHidesHalfADisc(t *testing.T) {
	room := Polygon{{0, 0}, {4, 0}, {4, 2}, {2, 2}, {2, 4}, {0, 4}}
	eye := Vec{3, 1, 1}
	for _, at := range []Vec{{1, 3, 1}, {1, 3, 2.5}} {
		disc := Disc{Center: at, Normal: Vec{X: 1 / math.Sqrt2, Y: -1 / math.Sqrt2}, Radius: 0.1}
		var sc Scratch
		if got := sc.VisibleWithin(walls(room), eye, disc.Target(), nil, nil); math.Abs(got-0.5) > 1e-9 {
			t.Errorf("at %v: %v of the disc is seen, want half", at, got)
		}
	}
}

// A disc in a wall is seen whole, one that stands through it half.
func TestDiscInAWall(t *testing.T) {
	room := Polygon{{0, 0}, {4, 0}, {4, 3}, {0, 3}}
	var sc Scratch
	in := Disc{Center: Vec{X: 2, Z: 1}, Normal: Vec{Y: 1}, Radius: 0.1}
	if got := sc.VisibleWithin(walls(room), Vec{1, 2, 1}, in.Target(), nil, nil); got != 1 {
		t.Errorf("a disc in the wall is seen %v", got)
	}
	through := Disc{Center: Vec{X: 2, Z: 1}, Normal: Vec{X: 1}, Radius: 0.1}
	if got := sc.VisibleWithin(walls(room), Vec{3, 2, 1}, through.Target(), nil, nil); math.Abs(got-0.5) > 1e-9 {
		t.Errorf("a disc half in the wall is seen %v", got)
	}
}

// The share that the walls of a concave room leave of a disc is the share of its
// points to which the straight line stays in the room, by Obstructs, which
// follows the outline and knows no shadows.
func TestWallsHideWhatIsAroundTheCorner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(1, 3).Draw(t, "x")
		y := rapid.Float64Range(1, 3).Draw(t, "y")
		room := Polygon{{0, 0}, {4, 0}, {4, y}, {x, y}, {x, 4}, {0, 4}}
		if rapid.Bool().Draw(t, "notch") {
			room = Polygon{{0, 0}, {4, 0}, {4, 4}, {x + 0.5, 4}, {x + 0.5, y}, {x, y}, {x, 4}, {0, 4}}
		}
		if rapid.Bool().Draw(t, "other sense") {
			for i, j := 0, len(room)-1; i < j; i, j = i+1, j-1 {
				room[i], room[j] = room[j], room[i]
			}
		}
		point := func(name string) Vec {
			return Vec{rapid.Float64Range(0.01, 3.99).Draw(t, name+" x"), rapid.Float64Range(0.01, 3.99).Draw(t, name+" y"), rapid.Float64Range(0.5, 2).Draw(t, name+" z")}
		}
		eye, at := point("eye"), point("disc")
		if !room.Contains(Vec2{eye.X, eye.Y}) {
			t.Skip("the eye is outside")
		}
		normal := Direction(rapid.Float64Range(-3, 3).Draw(t, "azimuth"), rapid.Float64Range(-1.5, 1.5).Draw(t, "elevation"))
		disc := Disc{Center: at, Normal: normal, Radius: 0.2}
		var sc Scratch
		got := sc.VisibleWithin(walls(room), eye, disc.Target(), nil, nil)

		u, v := across(normal)
		const n = 60
		seen, all := 0, 0
		for i := range n {
			for j := range n {
				a, b := (float64(i)+0.5)/n*2-1, (float64(j)+0.5)/n*2-1
				if a*a+b*b > 1 {
					continue
				}
				p := at.Add(u.Mul(a * disc.Radius)).Add(v.Mul(b * disc.Radius))
				all++
				if _, _, _, hidden := room.Obstructs(Vec2{eye.X, eye.Y}, Vec2{p.X, p.Y}); !hidden {
					seen++
				}
			}
		}
		// A straight edge over the disc errs by at most some cells of a row.
		if want := float64(seen) / float64(all); math.Abs(got-want) > 0.03 {
			t.Errorf("eye %v, disc %v, room %v: %v seen, %v by points", eye, disc, room, got, want)
		}
	})
}
