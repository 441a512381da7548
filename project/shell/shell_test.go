// SPDX-License-Identifier: MIT

package shell

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/projecttest"
)

// bare returns an empty room over that outline under a flat ceiling, with four
// materials: "floor", "walls", "ceiling", "panel".
func bare(height float64, outline ...geometry.Vec2) *project.Design {
	d := &project.Design{Screen: project.Screen{Aspect: 2, Transparent: true}}
	for _, q := range outline {
		d.Room.Footprint = append(d.Room.Footprint, project.Corner{X: unit.Length(q.X), Y: unit.Length(q.Y)})
	}
	d.Room.Ceiling = project.Ceiling{Slope: project.Flat, Height: unit.Length(height), FarHeight: unit.Length(height)}
	for i, id := range []string{"floor", "walls", "ceiling", "panel"} {
		m := project.Material{ID: id, Name: id}
		for range project.OctaveCount {
			m.Absorption = append(m.Absorption, 0.1+0.2*float64(i))
		}
		d.Room.Materials = append(d.Room.Materials, m)
	}
	d.Room.Surfaces = project.Surfaces{Floor: "floor", Ceiling: "ceiling", Walls: "walls"}
	return d
}

func box(length, width, height float64) *project.Design {
	return bare(height, geometry.Vec2{}, geometry.Vec2{X: length}, geometry.Vec2{X: length, Y: width}, geometry.Vec2{Y: width})
}

// areas returns the area of each finish.
func areas(s *Shell) map[string]float64 {
	out := map[string]float64{}
	for i := range s.Surfaces {
		for _, p := range s.Surfaces[i].Pieces() {
			out[p.Finish.Name] += p.Area
		}
	}
	return out
}

// AC-038 to AC-040: Everest and Pohlmann, Master Handbook of Acoustics, 4th ed.
// (2001), p. 163: a room of 23.3 x 16 x 10 ft with a concrete floor of 373 sq ft,
// 1,159 sq ft of gypsum board on walls and ceiling, then 340 sq ft of acoustical
// tile. The book adds the tile up without taking off the gypsum under it; that is
// put back here before its sums are compared.
func TestSabinesSumOfTheBook(t *testing.T) {
	const foot = 0.3048                 // m, exact
	materials := map[string][6]float64{ // 125 Hz to 4 kHz
		"floor":   {.01, .01, .015, .02, .02, .02},
		"walls":   {.29, .10, .05, .04, .07, .09},
		"ceiling": {.29, .10, .05, .04, .07, .09},
		"panel":   {.09, .28, .78, .84, .73, .64},
	}
	first := [6]float64{0.54, 1.53, 2.87, 3.39, 2.06, 1.63}
	sabins := [6]float64{370.4, 214.8, 328.8, 339.5, 336.8, 329.4}
	d := box(23.3*foot, 16*foot, 10*foot)
	for i := range d.Room.Materials {
		m := &d.Room.Materials[i]
		a := materials[m.ID]
		m.Absorption = append(append([]float64{a[0]}, a[:]...), a[5])
	}
	sum := func(s *Shell, octave int) float64 { // sq ft
		total := 0.0
		for i := range s.Surfaces {
			for _, p := range s.Surfaces[i].Pieces() {
				total += p.Area * p.Finish.Absorption[octave] / (foot * foot)
			}
		}
		return total
	}
	s := Of(d)
	a := areas(s)
	geomtest.Within(t, "floor, sq ft", a["floor"]/(foot*foot), 373, 0.5)
	geomtest.Within(t, "gypsum, sq ft", (a["walls"]+a["ceiling"])/(foot*foot), 1159, 0.5)
	for o := range first {
		geomtest.Within(t, fmt.Sprintf("time bare, octave %d", o), 0.049*3728/sum(s, o+1), first[o], 0.01)
	}
	d.Room.Treatments = []project.Treatment{{Material: "panel", Wall: 0, From: 1 * foot, To: 21 * foot, Low: 0, High: 16 * foot},
		{Material: "panel", Wall: 1, From: 0, To: 2 * foot, Low: 0, High: 10 * foot}}
	s = Of(d)
	geomtest.Within(t, "tile, sq ft", areas(s)["panel"]/(foot*foot), 340, 1e-9)
	for o := range sabins {
		geomtest.Within(t, fmt.Sprintf("sabins with tile, octave %d", o), sum(s, o+1)+340*materials["walls"][o], sabins[o], 0.1)
	}
}

// furnished returns a random room: rectangular, L-shaped or with a wall askew,
// either way round, with platforms, doors, panels that overlap and reach beyond
// their walls, and under a flat ceiling also a soffit and a turned column, from the
// floor through whatever platforms it meets. All stands exactly against what it
// stands against.
func furnished(r *rand.Rand) *project.Design {
	between := func(lo, hi float64) float64 { return math.Round(geomtest.Between(r, lo, hi)*10) / 10 }
	l, w, h := between(6, 10), between(4, 7), between(2.4, 3.4)
	var d *project.Design
	switch r.IntN(3) {
	case 0:
		d = box(l, w, h)
	case 1:
		d = bare(h, geometry.Vec2{}, geometry.Vec2{X: l}, geometry.Vec2{X: l, Y: w}, geometry.Vec2{X: l / 2, Y: w}, geometry.Vec2{X: l / 2, Y: w - 1}, geometry.Vec2{Y: w - 1})
	case 2:
		d = bare(h, geometry.Vec2{}, geometry.Vec2{X: l}, geometry.Vec2{X: l, Y: w}, geometry.Vec2{Y: w - 0.7})
	}
	d.Seating.Rows = []project.Row{{Chair: "none", Distance: unit.Length(l - 1.9), Riser: 0.2, Front: 1, Back: 0.8}}
	if r.IntN(2) == 0 {
		d.Seating.Rows = append(d.Seating.Rows, project.Row{Chair: "none", Distance: unit.Length(l - 1), Riser: 0.4, Front: 0.5, Back: 2})
	}
	d.Room.Features = append(d.Room.Features, project.Feature{Kind: project.Door, Material: "panel",
		At: project.Point{X: unit.Length(between(1, 2)), Y: 0.01}, Length: 0.9, Width: 0.04, Height: 2})
	for range 4 {
		wall := r.IntN(5)
		from, low := between(-0.5, 2), between(0, 1.5)
		d.Room.Treatments = append(d.Room.Treatments, project.Treatment{Material: []string{"panel", "floor"}[r.IntN(2)], Wall: wall,
			From: unit.Length(from), To: unit.Length(from + between(0.3, 4)), Low: unit.Length(low), High: unit.Length(low + between(0.3, 3))})
	}
	switch r.IntN(3) {
	case 0:
		d.Room.Ceiling = project.Ceiling{Slope: project.FrontToBack, Height: unit.Length(h), FarHeight: unit.Length(h - 0.3)}
	case 1:
		d.Room.Ceiling = project.Ceiling{Slope: project.LeftToRight, Height: unit.Length(h), FarHeight: unit.Length(h + 0.4)}
	case 2:
		d.Room.Features = append(d.Room.Features,
			project.Feature{Kind: project.Column, Material: "ceiling", At: project.Point{X: unit.Length(between(1, l-0.6)), Y: unit.Length(w / 2)},
				Length: 0.5, Width: 0.3, Height: unit.Length(h), Turn: unit.Degrees(between(0, 90))},
			project.Feature{Kind: project.Soffit, At: project.Point{X: unit.Length(l / 2), Y: 0.15, Z: unit.Length(h - 0.3)},
				Length: unit.Length(l - 1), Width: 0.3, Height: 0.3})
	}
	if r.IntN(2) == 0 { // the other way round: wall numbers too
		f := d.Room.Footprint
		for i, j := 0, len(f)-1; i < j; i, j = i+1, j-1 {
			f[i], f[j] = f[j], f[i]
		}
	}
	return d
}

// closed checks that the faces of a shell add up to nothing as vectors, and a
// third of each area times its distance from the origin to the volume (divergence
// theorem): nothing is missing, counted twice or turned the wrong way.
func closed(t *testing.T, what string, s *Shell) {
	t.Helper()
	var sum geometry.Vec
	volume := 0.0
	for i := range s.Surfaces {
		on := &s.Surfaces[i]
		for _, p := range on.Pieces() {
			sum = sum.Add(on.Normal.Mul(p.Area))
			volume -= p.Area * on.Origin.Dot(on.Normal) / 3
		}
	}
	geomtest.Within(t, what+": sum of the faces", sum.Len(), 0, 1e-9)
	geomtest.Within(t, what+": volume", volume, s.Volume(), 1e-9)
}

func TestShellIsClosed(t *testing.T) {
	r := geomtest.Rand(t)
	for n := range 300 {
		closed(t, fmt.Sprintf("room %d", n), Of(furnished(r)))
	}
}

// A platform that begins or ends where the room widens or narrows has no front
// inside the wall.
func TestPlatformAtACornerOfTheRoom(t *testing.T) {
	for _, from := range []float64{2, 3, 4} {
		for _, wide := range []bool{false, true} { // behind x = 4, or before
			outline := []geometry.Vec2{{}, {X: 8}, {X: 8, Y: 6}, {X: 4, Y: 6}, {X: 4, Y: 4}, {Y: 4}}
			if !wide {
				outline = []geometry.Vec2{{}, {X: 8}, {X: 8, Y: 4}, {X: 4, Y: 4}, {X: 4, Y: 6}, {Y: 6}}
			}
			d := bare(3, outline...)
			d.Seating.Rows = []project.Row{{Chair: "none", Distance: unit.Length(from), Riser: 0.5, Front: 0, Back: 2}}
			closed(t, fmt.Sprintf("platform from %g m, wide behind %v", from, wide), Of(d))
		}
	}
}

// The areas of every finish against samples of the design itself: at every point
// of a grid on floor, ceiling and walls what is seen there, by the words of the
// document.
func TestPiecesAgainstSamples(t *testing.T) {
	const step = 0.01 // m
	r := geomtest.Rand(t)
	for n := range 8 {
		d := furnished(r)
		room, poly := d.Room, d.Room.Polygon()
		solid := func(p geometry.Vec) bool {
			for _, f := range room.Features {
				b := f.Box()
				q := p.Sub(b.Center)
				if !InSurface(f.Kind) && math.Abs(q.Dot(b.Basis.U)) < b.Half.X && math.Abs(q.Dot(b.Basis.V)) < b.Half.Y && math.Abs(q.Z) < b.Half.Z {
					return true
				}
			}
			return false
		}
		floor := func(x float64) float64 {
			h := 0.0
			for i := range d.Seating.Rows {
				if b, ok := place.Platform(d, i); ok && math.Abs(x-b.Center.X) < b.Half.X {
					h = max(h, 2*b.Half.Z)
				}
			}
			return h
		}
		panel := func(wall int, u, v float64, beneath string) string {
			for _, q := range room.Treatments {
				if q.Wall == wall && u > float64(q.From) && u < float64(q.To) && v > float64(q.Low) && v < float64(q.High) {
					beneath = q.Material
				}
			}
			return beneath
		}
		want := map[string]float64{}
		lo, hi := poly.Bounds()
		const off = 0.001 // m before the surface
		slope := math.Sqrt(1 + math.Pow(room.CeilingAt(1, 0)-room.CeilingAt(0, 0), 2) + math.Pow(room.CeilingAt(0, 1)-room.CeilingAt(0, 0), 2))
		for x := lo.X + step/2; x < hi.X; x += step {
			for y := lo.Y + step/2; y < hi.Y; y += step {
				if !poly.Contains(geometry.Vec2{X: x, Y: y}) {
					continue
				}
				if z := floor(x) + off; !solid(geometry.Vec{X: x, Y: y, Z: z}) {
					want["floor"] += step * step
				}
				if z := room.CeilingAt(x, y) - off; !solid(geometry.Vec{X: x, Y: y, Z: z}) {
					want[panel(0, x, y, "ceiling")] += step * step * slope
				}
			}
		}
		length := 0.0
		for i := range poly {
			a, b := poly.Edge(i)
			l, in := a.Dist(b), poly.InwardNormal(i)
			length += l
			for u := step / 2; u < l; u += step {
				q := a.Add(b.Sub(a).Mul(u / l)).Add(in.Mul(off))
				for z := floor(q.X) + step/2; z < room.CeilingAt(q.X, q.Y); z += step {
					p := geometry.Vec{X: q.X, Y: q.Y, Z: z}
					if solid(p) {
						continue
					}
					made := "walls"
					if door := room.Features[0].Box(); in.Y != 0 && math.Abs(p.X-door.Center.X) < door.Half.X && math.Abs(p.Y-door.Center.Y) < 0.1 && z < 2 {
						made = "panel"
					}
					want[panel(i+1, u, z, made)] += step * step
				}
			}
		}
		got := areas(Of(d))
		s := Of(d)
		for i := range s.Surfaces { // what the samples above are not taken of
			if on := &s.Surfaces[i]; on.Kind == Step || on.Kind == Feature {
				for _, p := range on.Pieces() {
					got[p.Finish.Name] -= p.Area
				}
			}
		}
		// Half a cell along every edge that may run across the grid: a slope above
		// all walls, a wall askew, the column.
		tol := step / 2 * (length + 10)
		for _, name := range []string{"floor", "walls", "ceiling", "panel"} {
			if math.Abs(got[name]-want[name]) > tol {
				t.Errorf("room %d: %.3f m2 of %s, by samples %.3f (may differ by %.3f)", n, got[name], name, want[name], tol)
			}
		}
	}
}

// A room and its mirror image about its middle have the same areas, faced the
// other way.
func TestMirroredShell(t *testing.T) {
	r := geomtest.Rand(t)
	for n := range 100 {
		d := furnished(r)
		_, hi := d.Room.Polygon().Bounds()
		w := unit.Length(hi.Y)
		m := d.Clone()
		for i := range m.Room.Footprint {
			m.Room.Footprint[i].Y = w - m.Room.Footprint[i].Y
		}
		if c := &m.Room.Ceiling; c.Slope == project.LeftToRight {
			c.Height, c.FarHeight = c.FarHeight, c.Height
		}
		for i := range m.Room.Features {
			f := &m.Room.Features[i]
			f.At.Y, f.Turn = w-f.At.Y, -f.Turn
		}
		for i := range m.Room.Treatments {
			if q := &m.Room.Treatments[i]; q.Wall == 0 {
				q.Low, q.High = w-q.High, w-q.Low
			}
		}
		// A feature's two sides change places.
		sum := func(s *Shell) (areas []map[string]float64, normals []geometry.Vec) {
			for i := range s.Surfaces {
				on := &s.Surfaces[i]
				if i == 0 || on.Kind != Feature || on.Index != s.Surfaces[i-1].Index {
					areas, normals = append(areas, map[string]float64{}), append(normals, geometry.Vec{})
				}
				for _, p := range on.Pieces() {
					areas[len(areas)-1][p.Finish.Name+" "+on.Kind.word()] += p.Area
					normals[len(normals)-1] = normals[len(normals)-1].Add(on.Normal.Mul(p.Area))
				}
			}
			return areas, normals
		}
		a, an := sum(Of(d))
		b, bn := sum(Of(m))
		if len(a) != len(b) {
			t.Fatalf("room %d: %d pieces, mirrored %d", n, len(a), len(b))
		}
		for i := range a {
			for name, area := range a[i] {
				geomtest.Within(t, fmt.Sprintf("room %d: %s", n, name), b[i][name], area, 1e-9)
			}
			geomtest.WithinVec(t, fmt.Sprintf("room %d: normal", n), bn[i], geometry.Vec{X: an[i].X, Y: -an[i].Y, Z: an[i].Z}, 1e-9)
		}
	}
}

// word tells the kinds apart in messages.
func (k Kind) word() string {
	return [...]string{"floor", "ceiling", "wall", "platform", "step", "feature"}[k]
}

// Panels that overlap count once, the last on top.
func TestOverlappingPanelsCountOnce(t *testing.T) {
	d := box(6, 4, 2.5)
	d.Room.Treatments = []project.Treatment{
		{Name: "a", Material: "panel", Wall: 1, From: 1, To: 3, Low: 0, High: 2},
		{Name: "b", Material: "panel", Wall: 1, From: 2, To: 4, Low: 1, High: 9},
		{Name: "c", Material: "panel", Wall: 1, From: 1.5, To: 3.5, Low: 0.5, High: 1.5},
	}
	s := Of(d)
	got := map[string]float64{}
	for i := range s.Surfaces {
		for _, p := range s.Surfaces[i].Pieces() {
			got[p.Name] += p.Area
		}
	}
	geomtest.Within(t, "a", got["a"], 4-1*1-1.5*1+1*0.5, 1e-12) // less b and c, what both cover once
	geomtest.Within(t, "b", got["b"], 2*1.5-1.5*0.5, 1e-12)
	geomtest.Within(t, "c", got["c"], 2, 1e-12)
	geomtest.Within(t, "all", areas(s)["panel"], 2+2.25+2, 1e-12)
	mean, area := s.Mean(func(on *Surface) bool { return on.Kind == Wall && on.Index == 1 })
	geomtest.Within(t, "the wall", area, 15, 1e-12)
	geomtest.Within(t, "its mean", mean.Absorption[0], (6.25*0.7+8.75*0.3)/15, 1e-12)
}

// What a soffit stands against neither absorbs nor reflects, whatever was hung
// there.
func TestAPanelBehindASoffitTakesNothing(t *testing.T) {
	d := box(6, 4, 2.5)
	d.Room.Features = []project.Feature{{Kind: project.Soffit, Material: "ceiling", At: project.Point{X: 3, Y: 0.2, Z: 2}, Length: 5, Width: 0.4, Height: 0.5}}
	d.Room.Treatments = []project.Treatment{{Material: "panel", Wall: 1, From: 1, To: 3, Low: 0.5, High: 2.5}}
	got := areas(Of(d))
	geomtest.Within(t, "panel below the soffit", got["panel"], 2*1.5, 1e-12)
	geomtest.Within(t, "ceiling and soffit", got["ceiling"], 24-5*0.4+5*0.4+5*0.5+2*0.4*0.5, 1e-12)
}

// A column drawn from the floor through a platform counts above the platform.
func TestAColumnThroughAPlatform(t *testing.T) {
	d := box(6, 4, 2.5)
	d.Seating.Rows = []project.Row{{Chair: "none", Distance: 5, Riser: 0.4, Front: 1, Back: 2}}
	column := project.Feature{Kind: project.Column, Material: "panel", At: project.Point{X: 5, Y: 2}, Length: 0.6, Width: 0.4, Height: 2.5}
	for name, x := range map[string]unit.Length{"in it": 5, "at its front": 4, "before it": 2} {
		column.At.X = x
		d.Room.Features = []project.Feature{column}
		s := Of(d)
		closed(t, name, s)
		buried := map[unit.Length]float64{5: 2 * (0.6 + 0.4), 4: 2*0.3 + 0.4, 2: 0}[x] * 0.4
		geomtest.Within(t, name+": faces", areas(s)["panel"], 2*(0.6+0.4)*2.5-buried, 1e-9)
	}
}

// A column stands on its base, not on the square around it.
func TestATurnedColumnHidesItsBase(t *testing.T) {
	for _, turn := range []unit.Degrees{0, 30, 45, 90} {
		d := box(6, 4, 2.5)
		d.Room.Features = []project.Feature{{Kind: project.Column, Material: "panel", At: project.Point{X: 3, Y: 2}, Length: 0.6, Width: 0.4, Height: 2.5, Turn: turn}}
		got := areas(Of(d))
		geomtest.Within(t, fmt.Sprintf("floor beside the column, turned %v", turn), got["floor"], 24-0.24, 1e-9)
	}
}

// What a design does not say is assumed by the one table, and said; what it does
// not need is not.
func TestOnlyWhatIsMissingIsAssumed(t *testing.T) {
	d := box(6, 4, 2.5)
	d.Room.Surfaces = project.Surfaces{}
	s := Of(d)
	for i, want := range []string{"floor: material not given, taken as a wood floor", "walls: material not given, taken as plasterboard, one layer on timber studs",
		"ceiling: material not given, taken as plasterboard, one layer on timber studs"} {
		if i >= len(s.Assumed) || s.Assumed[i].String() != want {
			t.Fatalf("assumed %v, want %q", s.Assumed, want)
		}
	}
	// Every wall is listed, the door has its own material.
	d.Room.Surfaces = project.Surfaces{Floor: "floor", Ceiling: "ceiling"}
	for i := range 4 {
		d.Room.Surfaces.Wall = append(d.Room.Surfaces.Wall, project.WallSurface{Wall: i + 1, Material: "walls"})
	}
	d.Room.Features = []project.Feature{{Kind: project.Door, Material: "panel", At: project.Point{X: 2, Y: 0.01}, Length: 1, Width: 0.04, Height: 2}}
	if s := Of(d); len(s.Assumed) != 0 {
		t.Errorf("all is given, yet: %v", s.Assumed)
	}
	// A door that says nothing is as the walls.
	d.Room.Features[0].Material = ""
	if s := Of(d); len(s.Assumed) != 1 || s.Assumed[0].What != "walls" {
		t.Errorf("a door as the walls, which say nothing: %v", s.Assumed)
	}
}

// The floor, the platforms and the steps of any room cover its outline once, seen from
// above; every upright face at an island shows.
func TestFloorCoversTheRoomOnce(t *testing.T) {
	for seed := range uint64(200) {
		d := projecttest.Room(seed)
		s := Of(d)
		sum := 0.0
		for _, on := range s.Surfaces {
			if on.Kind == Floor || on.Kind == Platform {
				sum += math.Abs(on.Outline.Area())
			}
		}
		if want := math.Abs(s.Outline.Area()); math.Abs(sum-want) > 1e-4 {
			t.Fatalf("room %d: %g square metres of floor and platforms in %g of room", seed, sum, want)
		}
	}
}
