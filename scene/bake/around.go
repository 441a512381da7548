// SPDX-License-Identifier: MIT

package bake

import (
	"math"

	"github.com/go-gl/mathgl/mgl32"

	"earline/geometry"
	"earline/scene"
)

// aroundSide is how many cells the cube of a scene.Around has along an edge: 5.6 degrees
// each, which is sharp enough for a gloss and soft enough not to show triangles.
const aroundSide = 16

// glare is how bright a lamp is at most in a mirror, where 5 is shown as white: a softly
// polished top shows a glow, not a shard. No source.
const glare = 20

// lookAround sees what is all about the middle of the room.
func (r *Room) lookAround(outside []bool) (around scene.Around, seen []glimpse) {
	const part = 65535
	lo, hi := geometry.V(math.Inf(1), math.Inf(1), math.Inf(1)), geometry.V(math.Inf(-1), math.Inf(-1), math.Inf(-1))
	for i := range r.sites {
		if !outside[i] {
			at := r.sites[i].at
			lo = geometry.V(min(lo.X, at.X), min(lo.Y, at.Y), min(lo.Z, at.Z))
			hi = geometry.V(max(hi.X, at.X), max(hi.Y, at.Y), max(hi.Z, at.Z))
		}
	}
	if !(hi.X > lo.X) || !(hi.Y > lo.Y) || !(hi.Z > lo.Z) {
		return around, nil
	}
	at := lo.Lerp(hi, 0.5)
	around = scene.Around{At: scene.World(at), Lo: scene.World(lo), Hi: scene.World(hi), Side: aroundSide}
	seen = make([]glimpse, 6*aroundSide*aroundSide)
	for i := range seen {
		way := around.Way(cell(i))
		h := r.tree.nearest(at, geometry.V(float64(way[2]), float64(way[0]), float64(way[1])))
		seen[i].triangle = -1
		if h.triangle >= 0 && h.front {
			seen[i] = glimpse{h.triangle, uint16(h.u*part + 0.5), uint16(h.v*part + 0.5)}
		}
	}
	return around, seen
}

// cell returns the face and the middle of a cell of the cube.
func cell(i int) (face int, s, t float32) {
	const n = aroundSide
	middle := func(k int) float32 { return (2*float32(k)+1)/n - 1 }
	return i / (n * n), middle(i % n), middle(i / n % n)
}

// mirrored returns what is seen all about the room in the light lit, as bright as scale
// says; nil where there is no room. Lamps and the picture, which no ray meets, are added
// as the light that they send there.
func (l *Light) mirrored(lit []Colour, d Dimmed, scale Colour) *scene.Around {
	if len(l.seen) == 0 {
		return nil
	}
	const part = 65535
	r := l.room
	out := l.around
	out.Light = make([]float32, 3*len(l.seen))
	for i, g := range l.seen {
		if g.triangle < 0 {
			continue
		}
		u, v := float32(g.u)/part, float32(g.v)/part
		for k, w := range [3]float32{1 - u - v, u, v} {
			c := r.corner[g.triangle][k]
			a, on := r.albedo[c], lit[r.site[c]]
			for n := range a {
				out.Light[3*i+n] += w * a[n] * on[n] * scale[n]
			}
		}
	}
	at := geometry.V(float64(out.At[2]), float64(out.At[0]), float64(out.At[1]))
	for i := range r.lamps.Emitters {
		e := &r.lamps.Emitters[i]
		if e.Layer >= len(d.Levels) || d.Levels[e.Layer] == 0 {
			continue
		}
		const rim = 0.03 // m: a lamp sits in its rim
		way := e.At.Sub(at)
		long := way.Len()
		if long <= rim || !r.tree.clear(at, way.Mul((long-rim)/long)) {
			continue
		}
		lux := d.Levels[e.Layer] * e.Lux(at, way.Mul(1/long))
		intoCells(&out, scene.World(way), func(k int, share float32) {
			f := share * float32(lux) * math.Pi
			for n, c := range r.lamps.Colours[i] {
				out.Light[3*k+n] += f * c * scale[n]
			}
		})
	}
	for i, v := range out.Light {
		out.Light[i] = min(v, glare)
	}
	return &out
}

// intoCells calls f for the four cells that are nearest to a direction on its face, with the
// share that each has of a lamp there, over the solid angle of the cell.
func intoCells(a *scene.Around, way mgl32.Vec3, f func(k int, share float32)) {
	const n = aroundSide
	face, s, t := a.Cell(way)
	x, y := (s+1)/2*n-0.5, (t+1)/2*n-0.5
	x0, y0 := float32(math.Floor(float64(x))), float32(math.Floor(float64(y)))
	for dy := range 2 {
		for dx := range 2 {
			col, row := int(x0)+dx, int(y0)+dy
			share := (1 - max(x-float32(col), float32(col)-x)) * (1 - max(y-float32(row), float32(row)-y))
			col, row = min(max(col, 0), n-1), min(max(row, 0), n-1)
			k := (face*n+row)*n + col
			_, u, v := cell(k)
			angle := 4 / float32(n*n) / float32(math.Pow(float64(1+u*u+v*v), 1.5))
			f(k, share/angle)
		}
	}
}
