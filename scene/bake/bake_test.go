// SPDX-License-Identifier: MIT

package bake

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/light"
	"earline/scene"
)

// box returns the inside of a box of those sizes from the origin, each wall a mesh whose
// colour throws so much back.
func box(x, y, z float64, reflects [6]Colour) *scene.List {
	l := new(scene.List)
	v := func(i, j, k float64) geometry.Vec { return geometry.Vec{X: i * x, Y: j * y, Z: k * z} }
	for i, q := range [6][4]geometry.Vec{
		{v(0, 0, 0), v(0, 1, 0), v(0, 1, 1), v(0, 0, 1)}, // x = 0, and so on
		{v(1, 0, 0), v(1, 0, 1), v(1, 1, 1), v(1, 1, 0)},
		{v(0, 0, 0), v(0, 0, 1), v(1, 0, 1), v(1, 0, 0)},
		{v(0, 1, 0), v(1, 1, 0), v(1, 1, 1), v(0, 1, 1)},
		{v(0, 0, 0), v(1, 0, 0), v(1, 1, 0), v(0, 1, 0)},
		{v(0, 0, 1), v(0, 1, 1), v(1, 1, 1), v(1, 0, 1)},
	} {
		l.Meshes = append(l.Meshes, face(q, reflects[i]))
	}
	return l
}

// face returns a quadrilateral, counter-clockwise seen from where it is lit.
func face(q [4]geometry.Vec, reflects Colour) scene.Mesh {
	m := scene.Mesh{Name: "face", Alpha: 1, OneSided: true, Index: []uint32{0, 1, 2, 0, 2, 3}}
	n, _ := q[1].Sub(q[0]).Cross(q[3].Sub(q[0])).Unit()
	for _, p := range q {
		at, up := scene.World(p), scene.World(n)
		m.Pos = append(m.Pos, at[:]...)
		m.Nor = append(m.Nor, up[:]...)
		ink := scene.Displayed(reflects)
		m.Col = append(m.Col, ink.R, ink.G, ink.B)
	}
	return m
}

func grey(f float32) (out [6]Colour) {
	for i := range out {
		out[i] = Colour{f, f, f}
	}
	return out
}

// white gives every emitter white light.
func white(m []light.Emitter, layers int) Lamps {
	l := Lamps{Emitters: m, Layers: layers, Colours: make([]Colour, len(m))}
	for i := range l.Colours {
		l.Colours[i] = Colour{1, 1, 1}
	}
	return l
}

// In a closed room all of whose walls shine alike and throw the share rho back, every
// place gets the sum of rho^n, 1/(1-rho): energy is conserved. (The white furnace.)
func TestAFurnaceIsEvenlyBright(t *testing.T) {
	for _, rho := range []float32{0.214, 0.5, 0.8} {
		r := Of(box(4, 3, 2.5, grey(rho)), Lamps{Layers: 1}, 0.5)
		q := Quality{Gather: 36, Bounces: 40, Seed: 3}
		direct := make([]Colour, len(r.sites))
		for i := range direct {
			direct[i] = Colour{1, 1, 1}
		}
		lux := thrownBack(t, r, q, direct)
		want := rho / (1 - rho)
		for i, c := range lux {
			for n := range c {
				if math.Abs(float64(c[n]-want)) > 0.01*float64(1+want) {
					t.Fatalf("rho %g: place %d at %v gets %g back, want %g", rho, i, r.sites[i].at, c[n], want)
				}
			}
		}
	}
}

// thrownBack looks around from every place and bounces.
func thrownBack(t *testing.T, r *Room, q Quality, direct []Colour) []Colour {
	t.Helper()
	seen := make([]glimpse, len(r.sites)*q.Gather)
	w := &worker{room: r}
	for i := range r.sites {
		w.dice.Seed(q.Seed, uint64(i))
		w.random = rand.New(&w.dice)
		if buried, outside := w.look(&r.sites[i], seen[i*q.Gather:(i+1)*q.Gather]); buried || outside {
			t.Fatalf("place %d at %v is taken to be within something, or outside", i, r.sites[i].at)
		}
	}
	lux, err := r.bounce(context.Background(), q, direct, seen, func([]Colour, int) {})
	if err != nil {
		t.Fatal(err)
	}
	return lux
}

// What a place sees of a rectangle, and hence gets from it: the form factor from a small
// face to a parallel rectangle over its corner, and what one wall of a box sees of the one
// opposite. (Howell, "A catalog of radiation heat transfer configuration factors", B-3 and
// C-11, formulas from memory.)
func TestAWallSeesTheOppositeWallByItsFormFactor(t *testing.T) {
	const a, b, c = 3.0, 2.0, 1.5
	r := Of(box(a, b, c, grey(1)), Lamps{Layers: 1}, 0.25)
	direct := make([]Colour, len(r.sites))
	for i, s := range r.sites {
		if s.normal.Z < -0.5 { // the ceiling shines
			direct[i] = Colour{1, 1, 1}
		}
	}
	lux := thrownBack(t, r, Quality{Gather: 49, Bounces: 1, Seed: 5}, direct)
	x, y := a/c, b/c
	x2, y2 := 1+x*x, 1+y*y
	whole := 2 / (math.Pi * x * y) * (0.5*math.Log(x2*y2/(x2+y*y)) + x*math.Sqrt(y2)*math.Atan(x/math.Sqrt(y2)) +
		y*math.Sqrt(x2)*math.Atan(y/math.Sqrt(x2)) - x*math.Atan(x) - y*math.Atan(y))
	corner := (x/math.Sqrt(x2)*math.Atan(y/math.Sqrt(x2)) + y/math.Sqrt(y2)*math.Atan(x/math.Sqrt(y2))) / (2 * math.Pi)
	// The mean over the floor, each triangle by its area.
	sum, area := 0.0, 0.0
	for t, k := range r.corner {
		if r.sites[r.site[k[0]]].normal.Z < 0.5 {
			continue
		}
		f := r.tree.all[t].u.Cross(r.tree.all[t].v).Len()
		for _, v := range k {
			sum += f / 3 * float64(lux[r.site[v]][0])
		}
		area += f
	}
	if got := sum / area; math.Abs(got-whole) > 0.01*whole {
		t.Errorf("the floor sees %.4f of the ceiling, want %.4f", got, whole)
	}
	coarse := Of(box(a, b, c, grey(1)), Lamps{Layers: 1}, 10) // nothing but corners
	direct = make([]Colour, len(coarse.sites))
	for i, s := range coarse.sites {
		if s.normal.Z < -0.5 {
			direct[i] = Colour{1, 1, 1}
		}
	}
	lux = thrownBack(t, coarse, Quality{Gather: 10000, Bounces: 1, Seed: 5}, direct)
	for i, s := range coarse.sites {
		// It lies some millimetres from the corner.
		if got := float64(lux[i][0]); s.normal.Z > 0.5 && math.Abs(got-corner) > 0.02*corner {
			t.Errorf("the floor at %v sees %.4f of the ceiling, want %.4f", s.at, got, corner)
		}
	}
}

// A ray meets what it meets when every triangle is asked.
func TestATreeFindsWhatASearchFinds(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	point := func(s float64) geometry.Vec {
		return geometry.Vec{X: s * (r.Float64() - 0.5), Y: s * (r.Float64() - 0.5), Z: s * (r.Float64() - 0.5)}
	}
	all := make([]triangle, 500)
	for i := range all {
		all[i] = triangle{point(4), point(1), point(1)}
		if i%5 == 0 { // flat ones, along an axis
			all[i].u.Z, all[i].v.Z = 0, 0
		}
	}
	tree := treeOf(all)
	met := 0
	for range 5000 {
		from, way := point(6), point(2)
		if r.IntN(4) == 0 {
			way.X, way.Y = 0, 0 // along an axis
		}
		want := hit{triangle: -1, far: math.Inf(1)}
		for i := range all {
			if all[i].meet(from, way, &want) {
				want.triangle = int32(i)
			}
		}
		if got := tree.nearest(from, way); got != want {
			t.Fatalf("from %v along %v meets %+v, want %+v", from, way, got, want)
		}
		if tree.clear(from, way) != !(want.far < 1) {
			t.Fatalf("from %v to %v: clear is %v", from, from.Add(way), tree.clear(from, way))
		}
		if want.triangle >= 0 {
			met++
		}
	}
	if met < 1000 {
		t.Errorf("only %d rays met anything", met)
	}
}

// Divided surfaces have the same area, and no crack: each edge within is of two triangles.
func TestADividedWallIsWhole(t *testing.T) {
	m := divide(face([4]geometry.Vec{{}, {X: 3.1}, {X: 3.1, Y: 0.2}, {Y: 1.7}}, Colour{1, 1, 1}), func(geometry.Vec) float64 { return 0.3 })
	edges := map[[2]uint32]int{}
	area := 0.0
	for i := 0; i < len(m.Index); i += 3 {
		p := [3]geometry.Vec{position(m.Pos, m.Index[i]), position(m.Pos, m.Index[i+1]), position(m.Pos, m.Index[i+2])}
		n := p[1].Sub(p[0]).Cross(p[2].Sub(p[0]))
		if n.Z < 0 {
			t.Fatal("a triangle is turned over")
		}
		area += n.Z / 2
		for k := range 3 {
			a, b := m.Index[i+k], m.Index[i+(k+1)%3]
			edges[[2]uint32{min(a, b), max(a, b)}]++
			if d := p[k].Dist(p[(k+1)%3]); d > 0.3+1e-6 {
				t.Fatalf("an edge of %.3f m", d)
			}
		}
	}
	if want := 3.1 * (0.2 + 1.7) / 2; math.Abs(area-want) > 1e-5 {
		t.Errorf("area %g, want %g", area, want)
	}
	rim := 0.0
	for e, n := range edges {
		if n > 2 {
			t.Fatalf("edge %v is of %d triangles", e, n)
		}
		if n == 1 {
			rim += position(m.Pos, e[0]).Dist(position(m.Pos, e[1]))
		}
	}
	if want := 3.1 + 0.2 + 1.7 + math.Hypot(3.1, 1.5); math.Abs(rim-want) > 1e-5 {
		t.Errorf("%g m of edges are of one triangle, want the outline, %g m", rim, want)
	}
}

func TestACancelledBakeEnds(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if l, err := Of(box(4, 3, 2.5, grey(0.5)), Lamps{Layers: 1}, 0.2).Light(ctx, Quick()); l != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, %v", l, err)
	}
}

// lampIn returns the model of a box of a room with one lamp that shines down: only a
// design makes emitters.
func lampIn(x, y, z float64, at project.Point, flux float64) *light.Model {
	return lampsIn(x, y, z, project.LightGroup{Kind: project.Downlight, At: []project.Point{at}, Flux: flux, Beam: 90})
}

// lampsIn is lampIn with any lamps.
func lampsIn(x, y, z float64, g project.LightGroup) *light.Model {
	d := &project.Design{LightGroups: []project.LightGroup{g}}
	d.Room.Footprint = []project.Corner{{}, {X: unit.Length(x)}, {X: unit.Length(x), Y: unit.Length(y)}, {Y: unit.Length(y)}}
	d.Room.Ceiling.Height = unit.Length(z)
	d.Screen = project.Screen{Aspect: 1.78, Width: 1, Bottom: 0.8, Distance: 0.1, Centre: unit.Length(y / 2), Gain: 1}
	return light.Of(d)
}

// Inverse square and cosine law: I cos(out)^lobe cos(in) / r^2 on the floor under a lamp
// and beside it, in a black room.
func TestALampFallsOffWithTheSquareAndTheCosine(t *testing.T) {
	const high, flux = 2.5, 800.0
	m := lampIn(4, 4, 3, project.Point{X: 2, Y: 2, Z: high}, flux)
	lamps := white(m.Emitters[:1], 1)
	r := Of(box(4, 4, 3, grey(0)), lamps, 0.5)
	l, err := r.Light(context.Background(), Quality{Shadows: 16, Gather: 1, Bounces: 0})
	if err != nil {
		t.Fatal(err)
	}
	lobe := light.Lobe(90)
	looked := 0
	for i, s := range r.sites {
		if s.normal.Z < 0.5 {
			continue
		}
		looked++
		dx, dy := s.at.X-2, s.at.Y-2
		r2 := dx*dx + dy*dy + high*high
		cos := high / math.Sqrt(r2)
		want := flux * (lobe + 1) / (2 * math.Pi) * math.Pow(cos, lobe) * cos / r2
		if got := float64(l.lux[i][0]); math.Abs(got-want) > 0.02*want {
			t.Fatalf("%v gets %.2f lx, want %.2f", s.at, got, want)
		}
	}
	if looked < 50 {
		t.Errorf("looked at %d places", looked)
	}
}

// A room with a red wall, a green one and a block, lit from above, and the same traced
// grain by grain by a tracer that shares nothing with ours.
func TestATracerOfItsOwnSeesTheSameColours(t *testing.T) {
	const x, y, z, flux = 3.0, 3.0, 2.5, 1000.0
	red, green, white1 := Colour{0.6, 0.1, 0.1}, Colour{0.1, 0.5, 0.15}, Colour{0.5, 0.5, 0.5}
	list := box(x, y, z, [6]Colour{white1, white1, red, green, white1, white1})
	low, high := geometry.Vec{X: 1.8, Y: 0.9}, geometry.Vec{X: 2.4, Y: 1.5, Z: 1.2}
	at := func(i, j, k float64) geometry.Vec {
		return geometry.Vec{X: low.X + i*(high.X-low.X), Y: low.Y + j*(high.Y-low.Y), Z: low.Z + k*(high.Z-low.Z)}
	}
	for _, q := range [5][4]geometry.Vec{
		{at(0, 0, 0), at(0, 0, 1), at(0, 1, 1), at(0, 1, 0)},
		{at(1, 0, 0), at(1, 1, 0), at(1, 1, 1), at(1, 0, 1)},
		{at(0, 0, 0), at(1, 0, 0), at(1, 0, 1), at(0, 0, 1)},
		{at(0, 1, 0), at(0, 1, 1), at(1, 1, 1), at(1, 1, 0)},
		{at(0, 0, 1), at(1, 0, 1), at(1, 1, 1), at(0, 1, 1)},
	} {
		list.Meshes = append(list.Meshes, face(q, white1))
	}
	m := lampIn(x, y, z, project.Point{X: 1.2, Y: 1.4, Z: 2.4}, flux)
	r := Of(list, white(m.Emitters[:1], 1), 0.2)

	l, err := r.Light(context.Background(), Quality{Shadows: 16, Gather: 64, Bounces: 10, Smooth: 1, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	const grains, half = 250_000, 0.25
	targets := []geometry.Vec{{X: 0.8, Y: 0.6}, {X: 2.7, Y: 1.2}, {X: 1, Y: 1.5, Z: z}, {X: 1, Z: 1.2}, {X: 1, Y: y, Z: 1.2}, {Y: 1.5, Z: 1}}
	traced := grainsOn(grains, geometry.Vec{X: 1.2, Y: 1.4, Z: 2.4}, light.Lobe(90), flux, [3]float64{x, y, z}, low, high,
		[6]Colour{white1, white1, red, green, white1, white1}, white1, targets, half)
	for i, q := range targets {
		var sum Colour
		n := float32(0)
		for k, s := range r.sites {
			d := s.at.Sub(q)
			inside := math.Abs(d.X) <= half && math.Abs(d.Y) <= half && math.Abs(d.Z) <= half
			near := math.Abs(d.Dot(s.normal)) < 0.01
			if inside && near {
				sum = sum.plus(1, &l.lux[k])
				n++
			}
		}
		for c := range sum {
			got, want := float64(sum[c]/n), traced[i][c]
			noise := 4 * math.Sqrt(want*flux/grains/(4*half*half))
			if math.Abs(got-want) > 0.03*want+noise {
				t.Errorf("%v, colour %d: %.1f lx, traced %.1f", q, c, got, want)
			}
		}
	}
}

// meshOf returns of which mesh a vertex is.
func meshOf(r *Room, vertex int) int {
	for i := len(r.first) - 1; ; i-- {
		if r.first[i] >= 0 && r.first[i] <= vertex {
			return i
		}
	}
}

// grainsOn throws grains of light from a lamp that shines down into a box with a block in
// it, and counts what arrives on squares on its sides.
func grainsOn(count int, from geometry.Vec, lobe, flux float64, size [3]float64, low, high geometry.Vec, sides [6]Colour, block Colour, targets []geometry.Vec, half float64) [][3]float64 {
	r := rand.New(rand.NewPCG(3, 4))
	out := make([][3]float64, len(targets))
	draw := func(n float64) (x, y, z float64) {
		c := math.Pow(r.Float64(), 1/(n+1))
		s, a := math.Sqrt(1-c*c), 2*math.Pi*r.Float64()
		return s * math.Cos(a), s * math.Sin(a), c
	}
	lo, hi := [3]float64{low.X, low.Y, low.Z}, [3]float64{high.X, high.Y, high.Z}
	for range count {
		p := [3]float64{from.X, from.Y, from.Z}
		a, b, c := draw(lobe)
		d := [3]float64{a, b, -c}
		load := [3]float64{1, 1, 1}
		for range 30 {
			far, axis := math.Inf(1), 0
			for k := range 3 {
				end := 0.0
				if d[k] > 0 {
					end = size[k]
				}
				if w := (end - p[k]) / d[k]; d[k] != 0 && w < far {
					far, axis = w, k
				}
			}
			in, leave, entry := 0.0, far, -1
			for k := range 3 {
				s, e := (lo[k]-p[k])/d[k], (hi[k]-p[k])/d[k]
				if s > e {
					s, e = e, s
				}
				if s > in {
					in, entry = s, k
				}
				leave = min(leave, e)
			}
			reflects := block
			if entry >= 0 && in < leave {
				for k := range 3 {
					p[k] += in * d[k]
				}
				axis = entry
			} else {
				for k := range 3 {
					p[k] += far * d[k]
				}
				side := 2 * axis
				p[axis] = 0
				if d[axis] > 0 {
					side, p[axis] = side+1, size[axis]
				}
				reflects = sides[side]
				for i, q := range targets {
					t := [3]float64{q.X, q.Y, q.Z}
					if t[axis] == p[axis] && math.Abs(t[0]-p[0]) <= half && math.Abs(t[1]-p[1]) <= half && math.Abs(t[2]-p[2]) <= half {
						for n := range load {
							out[i][n] += load[n] * flux / float64(count) / (4 * half * half)
						}
					}
				}
			}
			for n := range load {
				load[n] *= float64(reflects[n])
			}
			into := -math.Copysign(1, d[axis])
			x, y, z := draw(1)
			d[axis], d[(axis+1)%3], d[(axis+2)%3] = into*z, x, y
			p[axis] += into * 1e-9
		}
	}
	return out
}
