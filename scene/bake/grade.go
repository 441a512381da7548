// SPDX-License-Identifier: MIT

package bake

import (
	"math"

	"earline/geometry"
	"earline/project/light"
	"earline/scene"
)

// How far from a strip surfaces are cut along it, metres.
const beside = 0.6

// line is a straight stretch of a strip.
type line struct {
	from, along geometry.Vec // along is a unit vector
	long        float64      // m
	axis        geometry.Vec // as of an Emitter
}

// linesOf returns the strips as they run: pieces that go on one in another are one.
func linesOf(emitters []light.Emitter) []line {
	const touch = 0.002 // m
	var out []line
	before := -1
	for i := range emitters {
		e := &emitters[i]
		along, ok := e.Run.Unit()
		if !ok {
			continue
		}
		from, long := e.At.Sub(e.Run), 2*e.Run.Len()
		if n := len(out) - 1; before >= 0 && emitters[before].Layer == e.Layer && emitters[before].Lamp == e.Lamp &&
			out[n].at(out[n].long).Dist(from) < touch {
			out[n].long += long
		} else {
			out = append(out, line{from, along, long, e.Axis})
		}
		before = i
	}
	return out
}

func (l *line) at(far float64) geometry.Vec { return l.from.Add(l.along.Mul(far)) }

// grade returns m cut along the strips, in rows that are narrow beside a strip and twice
// as wide from each to the next: there the light falls off within a finger's breadth, and
// along the strip hardly at all. Corners spread any other way show as a row of teeth.
func grade(m scene.Mesh, strips []line) scene.Mesh {
	if len(strips) == 0 {
		return m
	}
	m = writable(m)
	flats, rest := flatsOf(&m)
	for _, f := range flats {
		for i := range strips {
			f.grade(&m, &strips[i])
		}
		rest = append(rest, f.index...)
	}
	m.Index = rest
	return m
}

// flat is what of a mesh lies in one plane and looks flat.
type flat struct {
	at, normal geometry.Vec
	index      []uint32 // of its triangles
	area       float64
}

// flatsOf sorts the triangles of m by their planes; rest are those of what is round or
// small.
func flatsOf(m *scene.Mesh) (flats []*flat, rest []uint32) {
	const (
		grain = 1000 // steps a metre, and of a normal's components
		even  = 0.999
		least = 0.01 // m2
	)
	known := make(map[[4]int]*flat)
	var all []*flat
	for i := 0; i+2 < len(m.Index); i += 3 {
		t := m.Index[i : i+3]
		at := position(m.Pos, t[0])
		twice := position(m.Pos, t[1]).Sub(at).Cross(position(m.Pos, t[2]).Sub(at))
		n, ok := twice.Unit()
		for _, v := range t {
			ok = ok && position(m.Nor, v).Dot(n) > even
		}
		if !ok {
			rest = append(rest, t...)
			continue
		}
		step := func(x float64) int { return int(math.Round(x * grain)) }
		key := [4]int{step(n.X), step(n.Y), step(n.Z), step(n.Dot(at))}
		f := known[key]
		if f == nil {
			f = &flat{at: at, normal: n}
			known[key] = f
			all = append(all, f)
		}
		f.index = append(f.index, t...)
		f.area += twice.Len() / 2
	}
	for _, f := range all {
		if f.area < least {
			rest = append(rest, f.index...)
			continue
		}
		flats = append(flats, f)
	}
	return flats, rest
}

// grade cuts f along a strip that runs beside it.
func (f *flat) grade(m *scene.Mesh, l *line) {
	const (
		level  = 0.1  // sine of the angle between both
		behind = 0.01 // m
		least  = 0.01 // m, the narrowest row
		narrow = 0.03 // m, a surface that shows none
	)
	high := l.at(l.long / 2).Sub(f.at).Dot(f.normal)
	if math.Abs(l.along.Dot(f.normal)) > level || high < -behind || high > beside {
		return
	}
	across, ok := f.normal.Cross(l.along).Unit()
	if !ok {
		return
	}
	foot := l.from.Sub(f.normal.Mul(high))
	low, top := f.spread(m, foot, across)
	near, far := f.spread(m, foot, l.along)
	if top-low < narrow || low > beside || top < -beside || near > l.long+beside/2 || far < -beside/2 {
		return
	}
	first := max(high/2, least)
	// How far across f its light begins, and on which side.
	slope, out := across.Dot(l.axis), -high*f.normal.Dot(l.axis)
	lit := func(s float64) bool { return out+slope*s > -first*math.Abs(slope) }
	rows := []float64{0}
	if begins := -out / slope; math.Abs(begins) < beside {
		rows = append(rows, begins)
	}
	for s := first / 2; s < beside; s *= 2 {
		rows = append(rows, s, -s)
	}
	any := false
	for _, s := range rows {
		if lit(s) {
			f.cut(m, foot, across, s, l.along, -beside/2, l.long+beside/2)
			any = true
		}
	}
	if !any {
		return
	}
	for s := first; s < beside/2; s *= 2 {
		for _, far := range [2]float64{-s, l.long + s} {
			f.cut(m, foot, l.along, far, across, -beside/2, beside/2)
		}
	}
}

// spread returns from where to where f reaches along w, from foot.
func (f *flat) spread(m *scene.Mesh, foot, w geometry.Vec) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for _, i := range f.index {
		d := position(m.Pos, i).Sub(foot).Dot(w)
		from, to = min(from, d), max(to, d)
	}
	return from, to
}

// cut cuts f where it is off from foot along w, between two places along v.
func (f *flat) cut(m *scene.Mesh, foot, w geometry.Vec, off float64, v geometry.Vec, from, to float64) {
	const hair = 1e-4 // m: a corner that lies on the cut
	far := func(i uint32) (w0, v0 float64) {
		d := position(m.Pos, i).Sub(foot)
		return d.Dot(w) - off, d.Dot(v)
	}
	known := make(map[[2]uint32]uint32)
	at := func(a, b uint32) (uint32, bool) {
		wa, va := far(a)
		wb, vb := far(b)
		if !(wa < -hair && wb > hair || wa > hair && wb < -hair) {
			return 0, false
		}
		share := wa / (wa - wb)
		if place := va + share*(vb-va); place < from || place > to {
			return 0, false
		}
		return between(m, known, a, b, float32(share)), true
	}
	var out []uint32
	for i := 0; i+2 < len(f.index); i += 3 {
		out = split(out, [3]uint32{f.index[i], f.index[i+1], f.index[i+2]}, at)
	}
	f.index = out
}
