// SPDX-License-Identifier: MIT

package setout

import (
	"context"
	"fmt"
	"runtime"
	"sync/atomic"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/crew"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
	"earline/project/sound"
)

// Most is how far a tolerance is looked for, metres: who is farther off has built
// another plan.
const Most = 0.1

// tolerances works out how far each loudspeaker may end up from its place: the least of
// what sight, direction, coverage and fit allow. It is shifted as a whole and not
// turned.
func (b *builder) tolerances(ctx context.Context, std practice.Standard) error {
	held := practice.DirectionsOf(b.r.Design, b.r, std)
	var next atomic.Int64
	var done crew.Crew
	for range min(runtime.GOMAXPROCS(0), len(b.items)) {
		done.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= len(b.items) {
					return
				}
				if b.index[i] >= 0 {
					b.items[i].Tolerance = b.tolerance(&b.items[i], b.index[i], held)
				}
			}
		})
	}
	done.Wait()
	return ctx.Err()
}

func (b *builder) tolerance(it *Item, k int, held *practice.Directions) *Tolerance {
	sp := &b.r.Speakers[k]
	four := b.r.Ways(k)
	ways := four[:]
	if !sp.Spec.Flush && sp.Mount != project.OnFloor {
		in := b.r.Design.Room.CeilingNormal(float64(sp.At.X), float64(sp.At.Y))
		if it.Wall > 0 {
			in = level(b.walls[it.Wall-1].in)
		}
		ways = append(ways, sight.Way{Name: "in", Toward: in}, sight.Way{Name: "out", Toward: in.Neg()})
	}
	reach := make([]Reach, len(ways))
	seen := sight.ToleranceAlong(b.r.Design, b.r, k, Most, ways).Limits
	around := b.around(it, k)
	radiator := sound.NewRadiator(sp)
	covered := b.covered(sp, radiator)
	for n, w := range ways {
		reach[n] = Reach{Distance: Most}
		if len(seen) > 0 && !seen[n].Over {
			l := &seen[n]
			reach[n] = Reach{l.Max, "sight, " + b.seat(l.Seat)}
			if l.Blocker != sight.NoPart {
				reach[n].Limit += ": " + b.r.WordsFrom(l.Seat, l.Blocker)
			}
		}
		reach[n].least(func(v float64) string {
			rule, _ := held.Leaves(k, sp.At.Vec().Add(w.Toward.Mul(v)))
			return rule
		})
		reach[n].least(func(v float64) string {
			for _, i := range covered {
				if ear := b.r.Bodies[i].Ear(); radiator.Off(ear.Sub(w.Toward.Mul(v))) > 1 {
					return "coverage, " + b.seat(i)
				}
			}
			return ""
		})
		reach[n].least(func(v float64) string { return around.broken(w.Toward.Mul(v)) })
	}
	t := &Tolerance{Up: reach[0], Down: reach[1], Left: reach[2], Right: reach[3]}
	for i := range b.r.Seats {
		if b.r.Pair(i, k).Verdict == sight.Blocked {
			t.Blocked++
		}
	}
	if len(ways) > 4 {
		t.In, t.Out = &reach[4], &reach[5]
	}
	return t
}

func (b *builder) seat(i int) string {
	return fmt.Sprintf("row %d seat %d", b.r.Seats[i].Row, b.r.Seats[i].Number)
}

// covered returns the seats inside the coverage of sp.
func (b *builder) covered(sp *place.Speaker, r *sound.Radiator) (seats []int) {
	if sp.Spec.Subwoofer() || len(sp.Drivers) == 0 {
		return nil
	}
	for i := range b.r.Bodies {
		if r.Off(b.r.Bodies[i].Ear()) <= 1 {
			seats = append(seats, i)
		}
	}
	return seats
}

// least lowers r to the first distance at which broken names what breaks. It looks every
// 5 mm, so that it misses what breaks for less than that and mends itself, and then closes in
// to a hundredth of a millimetre, to the safe side.
func (r *Reach) least(broken func(v float64) string) {
	const step, near = 5 * 0.001, 1e-5 // m
	for good := 0.0; good < r.Distance; {
		bad := min(good+step, r.Distance)
		what := broken(bad)
		if what == "" {
			good = bad
			continue
		}
		for bad-good > near {
			mid := (good + bad) / 2
			if w := broken(mid); w != "" {
				bad, what = mid, w
			} else {
				good = mid
			}
		}
		r.Distance, r.Limit = good, what
		return
	}
}

// surroundings is what a loudspeaker must not reach into.
type surroundings struct {
	*builder
	body      geometry.Box // its box; of a flush one with the lip of its frame
	wall      int          // that a flush one is in, else 0
	flush     bool
	corners   []geometry.Vec
	beyond    [3]float64 // how far it reaches beyond the shell as it is planned
	obstacles []obstacle
	behind    bool // the screen
}

type obstacle struct {
	name string
	box  geometry.Box
}

// around gathers what is near enough to loudspeaker k. What it reaches into as planned
// carries it, or is a fault that the audit tells.
func (b *builder) around(it *Item, k int) *surroundings {
	sp := &b.r.Speakers[k]
	s := &surroundings{builder: b, body: sp.Box, flush: sp.Spec.Flush, behind: sp.Mount == project.BehindScreen}
	if s.flush {
		const lip = 0.005 // m, how far a frame stands out of its wall
		s.body.Half.Z += lip / 2
		s.body.Center = s.body.Center.Add(sp.Front.W.Mul(lip / 2))
		s.wall = it.Wall
		u, v := sp.Front.U.Mul(sp.Box.Half.X), sp.Front.V.Mul(sp.Box.Half.Y)
		for _, c := range [4][2]float64{{-1, -1}, {-1, 1}, {1, -1}, {1, 1}} {
			s.corners = append(s.corners, sp.At.Vec().Add(u.Mul(c[0])).Add(v.Mul(c[1])))
		}
	} else {
		c := sp.Box.Corners()
		s.corners = c[:]
	}
	s.beyond, _ = s.out(geometry.Vec{})
	add := func(name string, box geometry.Box) {
		if box.Center.Dist(s.body.Center)-box.Half.Len()-s.body.Half.Len() < Most && geometry.Overlap(s.body, box) == 0 {
			s.obstacles = append(s.obstacles, obstacle{name, box})
		}
	}
	for j := range b.r.Speakers {
		if j != k {
			add(b.r.Speakers[j].Name(), b.r.Speakers[j].Box)
		}
	}
	for i := range b.d.Room.Features {
		add(b.d.Room.Features[i].Words(), b.d.Room.Features[i].Box())
	}
	for i := range b.r.Floor {
		add("platform", b.r.Floor[i])
	}
	for i := range b.d.Room.Treatments {
		if box, ok := b.panel(i); ok {
			add(orPanel(b.d.Room.Treatments[i].Name), box)
		}
	}
	if !s.behind || !b.d.Screen.Transparent {
		add("screen", b.d.Screen.Sheet())
	}
	return s
}

// panel returns the solid of treatment i on a wall: how thick it is the document does not
// say.
func (b *builder) panel(i int) (geometry.Box, bool) {
	const thick = 0.05 // m
	t := &b.d.Room.Treatments[i]
	if t.Wall < 1 || t.Wall > len(b.walls) {
		x, y := float64(t.From+t.To)/2, float64(t.Low+t.High)/2
		return geometry.Box{Center: geometry.Vec{X: x, Y: y, Z: b.d.Room.CeilingAt(x, y) - thick/2}, Basis: geometry.WorldBasis(),
			Half: geometry.Vec{X: float64(t.To-t.From) / 2, Y: float64(t.High-t.Low) / 2, Z: thick / 2}}, true
	}
	a, end := b.poly.Edge(t.Wall - 1)
	length := a.Dist(end)
	if !(length > 0) {
		return geometry.Box{}, false
	}
	way := end.Sub(a).Mul(1 / length)
	at := level(a.Add(way.Mul(float64(t.From+t.To) / 2))).Add(level(b.walls[t.Wall-1].in).Mul(thick / 2))
	at.Z = float64(t.Low+t.High) / 2
	basis := geometry.Basis{U: level(way), W: geometry.Vec{Z: 1}}
	basis.V = basis.W.Cross(basis.U)
	return geometry.Box{Center: at, Basis: basis, Half: geometry.Vec{X: float64(t.To-t.From) / 2, Y: thick / 2, Z: float64(t.High-t.Low) / 2}}, true
}

// The parts of the shell, in the order of surroundings.beyond.
var shellParts = [3]string{"wall", "ceiling", "floor"}

// out returns how far the corners, moved by v, are beyond walls, ceiling and floor, and
// beyond the screen for what is behind it.
func (s *surroundings) out(v geometry.Vec) (beyond [3]float64, front float64) {
	for _, c := range s.corners {
		p := c.Add(v)
		switch q := flat(p); {
		case s.wall > 0: // its wall ends
			w := &s.walls[s.wall-1]
			at := q.Sub(w.left).Dot(w.along)
			beyond[0] = max(beyond[0], -at, at-w.length)
		case !s.poly.Contains(q):
			beyond[0] = max(beyond[0], s.poly.Distance(q))
		}
		if !s.flush || s.wall > 0 {
			beyond[1] = max(beyond[1], p.Z-s.d.Room.CeilingAt(p.X, p.Y))
		}
		beyond[2] = max(beyond[2], -p.Z)
		front = max(front, p.X-float64(s.d.Screen.Distance))
	}
	return beyond, front
}

// broken returns what the loudspeaker, moved by v, reaches into; empty for nothing.
func (s *surroundings) broken(v geometry.Vec) string {
	const touch = 1e-6 // m
	beyond, front := s.out(v)
	for i, name := range shellParts {
		if beyond[i] > s.beyond[i]+touch {
			if i == 0 && s.wall > 0 {
				name = "end of the wall"
			}
			return "fit, " + name
		}
	}
	if _, planned := s.out(geometry.Vec{}); s.behind && front > max(planned, 0)+touch {
		return "fit, picture"
	}
	body := s.body
	body.Center = body.Center.Add(v)
	for i := range s.obstacles {
		if geometry.Overlap(body, s.obstacles[i].box) > touch {
			return "fit, " + s.obstacles[i].name
		}
	}
	return ""
}

// Words returns how far r reaches in whole millimetres or sixteenths of an inch, rounded
// down, with what limits it: "35 mm (sight, row 2 seat 1)".
func (r Reach) Words(u project.Units) string {
	text := down(r.Distance, u)
	if r.Limit == "" {
		return text + " and more"
	}
	return text + " (" + r.Limit + ")"
}

// down prints v metres rounded down.
func down(v float64, u project.Units) string {
	const hair = 1e-9 // m
	step := 0.001
	if u == project.Imperial {
		step = float64(unit.Inch) / 16
	}
	return short(float64(int((v+hair)/step))*step, u)
}
