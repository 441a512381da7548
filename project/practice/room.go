// SPDX-License-Identifier: MIT

package practice

import (
	"cmp"
	"math"
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

func (c *checker) seatWall() {
	if len(c.poly) < 3 {
		return
	}
	b := c.std.SeatWall()
	for n := range c.rows {
		least, at, grade := math.Inf(1), -1, Good
		var seats []int // of that grade
		for _, i := range c.rows[n].seats {
			ear := c.ear(i)
			v := c.poly.Distance(geometry.Vec2{X: ear.X, Y: ear.Y})
			if g := b.Grade(v); g > grade {
				grade, seats = g, nil
			}
			if b.Grade(v) == grade {
				seats = append(seats, i)
			}
			if v < least-1e-9 {
				least, at = v, i
			}
		}
		if at < 0 {
			continue
		}
		m := c.graded(least, b)
		m.Rows, m.Seats = []int{c.rows[n].index}, seats
		if grade == Good {
			m.Seats = []int{at}
		}
		m.Text = c.seatWords(at) + " has the head " + c.show(least) + " from the wall" + c.asksBands(b, m.Grade)
		ear := c.ear(at)
		m.Mark = Mark{Kind: DistanceMark, From: ear, To: c.wallFoot(ear), Label: c.show(least)}
	}
}

func (c *checker) seatLoudspeaker() {
	for i := range c.r.Seats {
		ear := c.ear(i)
		near, v := -1, math.Inf(1)
		for k := range c.r.Speakers {
			if d := c.directions[k].at.Dist(ear); d < v && !c.r.Speakers[k].Spec.Subwoofer() {
				near, v = k, d
			}
		}
		if near < 0 {
			continue
		}
		m := c.remark(v, c.lim)
		m.Seats, m.Speakers = []int{i}, []int{near}
		m.Text = c.seatWords(i) + " is " + c.show(v) + " from " + c.speaker(near) + c.asks(c.lim)
		m.Mark = Mark{Kind: DistanceMark, From: ear, To: c.directions[near].at, Label: c.show(v)}
	}
}

// obstacles returns what stands on the floor of a row at the height where people
// walk: the outline, features, and the chairs of other rows.
func (c *checker) obstacles(n int) []geometry.Polygon {
	const body = 1.9 // m, as tall as people
	floor := float64(c.rows[n].Riser)
	out := []geometry.Polygon{c.poly}
	for _, f := range c.d.Room.Features {
		low, high := float64(f.At.Z), float64(f.At.Z+f.Height)
		if f.Kind.Standing() && low < floor+body && high > floor+stepIn {
			out = append(out, f.Outline())
		}
	}
	for k := range c.rows {
		if k == n {
			continue
		}
		for _, i := range c.rows[k].seats {
			out = append(out, c.r.Seats[i].Outline(1))
		}
	}
	return out
}

// free returns how far it is from p along y, to the left for side -1 or the
// right for +1, to the nearest of obstacles; infinite when there is none. The first
// of them is the room. Another that p stands in or at, as a stool's front is under its
// counter, is beside the way and not across it.
func free(p geometry.Vec2, side float64, obstacles []geometry.Polygon) float64 {
	least := math.Inf(1)
	for n, o := range obstacles {
		if n > 0 && o.Contains(p) {
			continue
		}
		for i := range o {
			a, b := o.Edge(i)
			if a.X > b.X {
				a, b = b, a
			}
			if p.X < a.X || p.X > b.X {
				continue
			}
			ends := []float64{a.Y, b.Y}
			if b.X > a.X {
				ends = []float64{a.Y + (b.Y-a.Y)*(p.X-a.X)/(b.X-a.X)}
			}
			for _, y := range ends {
				if d := (y - p.Y) * side; d >= 0 && d < least {
					least = d
				}
			}
		}
	}
	return least
}

// way is a clear way along one end of a row.
type way struct {
	side    float64       // -1 to the left, 1 to the right
	from    geometry.Vec2 // where it is narrowest, at its inner edge
	width   float64
	floor   float64 // its height
	stepped bool    // it climbs with the platform
}

// ways returns the clear way at either end of row n. Beside an island there are two,
// on it and on the floor: the wider one counts.
func (c *checker) ways(n int) [2]way {
	r := &c.rows[n]
	others := c.obstacles(n)
	box, raised := place.Platform(c.d, r.index)
	var out [2]way
	for k, side := range [2]float64{-1, 1} {
		seat, given := r.seats[0], r.Left > 0
		if side > 0 {
			seat, given = r.seats[len(r.seats)-1], r.Right > 0
		}
		p := c.r.Seats[seat].Outline(1) // its left side, then its right side
		a, b := p[0], p[1]
		if side > 0 {
			a, b = p[3], p[2]
		}
		w := way{side: side, width: math.Inf(1), floor: float64(r.Riser), stepped: r.Riser > 0}
		for _, t := range [3]float64{0, 0.5, 1} {
			q := a.Add(b.Sub(a).Mul(t))
			if v := free(q, side, others); v < w.width {
				w.width, w.from = v, q
			}
		}
		if edge := box.Center.Y + side*box.Half.Y; raised && given {
			on := max((edge-w.from.Y)*side, 0)
			if beside := w.width - on; beside > 0 {
				w.width = on
				if beside > on {
					from := geometry.Vec2{X: w.from.X, Y: edge + side*1e-9}
					w = way{side: side, from: from, width: beside, floor: c.floor.At(from.X, edge+side*stepIn)}
				}
			}
		}
		out[k] = w
	}
	return out
}

// aisles remarks on the wider aisle of every row, of those that climb with a platform
// or of the others.
func (c *checker) aisles(stepped bool) {
	if len(c.poly) < 3 {
		return
	}
	for n := range c.rows {
		both := c.ways(n)
		w := both[0]
		if both[1].width > w.width {
			w = both[1]
		}
		if w.stepped != stepped {
			continue
		}
		r := &c.rows[n]
		var m *Remark
		asks := c.asks(c.lim)
		if stepped {
			m = c.codified(w.width, c.code.Aisle)
			asks = c.asksCode(c.code.Aisle)
		} else {
			m = c.remark(w.width, c.lim)
		}
		m.Rows = []int{r.index}
		m.Text = rowWords(r.index) + " has an aisle of " + c.show(w.width) + " at its wider end" + asks
		at := geometry.Vec{X: w.from.X, Y: w.from.Y, Z: w.floor}
		m.Mark = Mark{Kind: DistanceMark, From: at, To: at.Add(geometry.Vec{Y: w.side * w.width}), Label: c.show(w.width)}
	}
}

func (c *checker) aisle()        { c.aisles(false) }
func (c *checker) aisleStepped() { c.aisles(true) }

// lowSpot is the least height over a piece of floor under one thing.
type lowSpot struct {
	height float64
	at     geometry.Vec2
	floor  float64
	under  string
	over   string // what floor it is, to go on after the words for the row
	seats  []int
	alone  bool // only who sits there stands under it
}

// hanging is a feature that hangs over the floor, with what it hangs over.
type hanging struct {
	*project.Feature
	outline geometry.Polygon
	lo, hi  geometry.Vec2 // of outline
}

func hangingIn(d *project.Design) []hanging {
	var out []hanging
	for i := range d.Room.Features {
		if f := &d.Room.Features[i]; f.Kind.Overhead() {
			h := hanging{Feature: f, outline: f.Box().Outline()}
			h.lo, h.hi = h.outline.Bounds()
			out = append(out, h)
		}
	}
	return out
}

// lows returns how high it is over the convex area, under the ceiling and under
// everything that hangs over some of it.
func (c *checker) lows(area geometry.Polygon, floor float64) []lowSpot {
	ceiling := lowSpot{height: math.Inf(1), floor: floor, under: "the ceiling"}
	for _, p := range area { // no ceiling sags between corners: it is lowest at one
		if h := c.d.Room.CeilingAt(p.X, p.Y) - floor; h < ceiling.height {
			ceiling.height, ceiling.at = h, p
		}
	}
	out := []lowSpot{ceiling}
	turn := 1.0
	if area.Area() < 0 {
		turn = -1
	}
	lo, hi := area.Bounds()
	for i := range c.overhead {
		h := &c.overhead[i]
		if h.hi.X < lo.X || h.lo.X > hi.X || h.hi.Y < lo.Y || h.lo.Y > hi.Y {
			continue
		}
		p := h.outline
		for i := 0; i < len(area) && len(p) > 0; i++ {
			a, b := area.Edge(i)
			p = p.ClipHalf(a, geometry.Vec2{X: a.Y - b.Y, Y: b.X - a.X}.Mul(turn))
		}
		const least = 1e-4 // m2, a square centimetre
		if len(p) > 2 && math.Abs(p.Area()) > least {
			out = append(out, lowSpot{height: float64(h.At.Z) - floor, floor: floor, under: h.Words(),
				at: p[0].Add(p[len(p)/2].Sub(p[0]).Mul(0.5))})
		}
	}
	return out
}

// feet is how far before the seat pans people stand when they rise, metres, and
// passage how wide a way one walks in without turning; common practice.
const feet, passage = 0.6, 0.6

// overSeats returns the low spots over the floor where people of row n rise, and walk
// along the row to the way out.
func (c *checker) overSeats(n int, out way) []lowSpot {
	r := &c.rows[n]
	last := r.seats[len(r.seats)-1] // farthest from the way
	if out.side > 0 {
		last = r.seats[0]
	}
	byThing := map[string]*lowSpot{}
	var order []string
	for _, i := range r.seats {
		s := &c.r.Seats[i]
		half := float64(s.Chair.PanWidth) / 2
		var area geometry.Polygon
		for _, q := range [4][2]float64{{-float64(s.Chair.PanDepth) - feet, -half}, {0, -half}, {0, half}, {-float64(s.Chair.PanDepth) - feet, half}} {
			v := s.Local(q[0], q[1], 0)
			area = append(area, geometry.Vec2{X: v.X, Y: v.Y})
		}
		for _, l := range c.lows(area, s.Ref.Z) {
			on, seen := byThing[l.under]
			if !seen {
				l.over, l.alone = "where people rise", true
				on = &l
				byThing[l.under], order = on, append(order, l.under)
			} else if l.height < on.height {
				on.height, on.at = l.height, l.at
			}
			if !c.lim.Holds(l.height) || l.under == "the ceiling" {
				on.seats = append(on.seats, i)
				on.alone = on.alone && i == last
			}
		}
	}
	var spots []lowSpot
	for _, u := range order {
		spots = append(spots, *byThing[u])
	}
	return spots
}

// overWay returns the low spots over the part of a way at the end of row n where one
// walks with most height: people choose it.
func (c *checker) overWay(n int, w way) []lowSpot {
	r := &c.rows[n]
	const widest = 1000 // m
	wide := min(w.width, passage)
	if !(wide > 0) || !(w.width < widest) {
		return nil // seats beyond the walls have no way
	}
	front, back := float64(r.Distance-r.chair.PanDepth)-feet, float64(r.Distance)
	var best []lowSpot
	most := math.Inf(-1)
	for off := 0.0; off <= w.width-wide+1e-9; off += w.width / 40 {
		y0 := w.from.Y + w.side*off
		y1 := y0 + w.side*wide
		area := geometry.Polygon{{X: front, Y: y0}, {X: back, Y: y0}, {X: back, Y: y1}, {X: front, Y: y1}}
		// What of it is in the room.
		if cut := c.poly.Clip(geometry.Vec2{X: front, Y: min(y0, y1)}, geometry.Vec2{X: back, Y: max(y0, y1)}); cut.Convex() {
			area = cut
		}
		spots := c.lows(area, w.floor)
		least := math.Inf(1)
		for _, l := range spots {
			least = min(least, l.height)
		}
		if least > most {
			most, best = least, spots
		}
	}
	for i := range best {
		best[i].over = "on its way out"
	}
	return best
}

// headroom remarks on the height over where people rise, walk along their row, and
// leave it by the way that has more height of those wide enough to walk in, else by
// the wider one. Each thing that hangs too low is told; when none does, the lowest.
func (c *checker) headroom() {
	for n := range c.rows {
		r := &c.rows[n]
		var spots []lowSpot
		if len(c.poly) > 2 {
			both := c.ways(n)
			var over [2][]lowSpot
			var rank [2]float64
			for k, w := range both {
				over[k] = c.overWay(n, w)
				rank[k] = w.width - 100 // only if neither can be walked in
				if w.width >= passage {
					rank[k] = math.Inf(1)
					for _, l := range over[k] {
						rank[k] = min(rank[k], l.height)
					}
				}
			}
			k := 0
			if rank[1] > rank[0] {
				k = 1
			}
			spots = append(c.overSeats(n, both[k]), over[k]...)
		} else {
			spots = c.overSeats(n, way{side: 1})
		}
		// One thing is told once, where it is lowest over what is walked on.
		slices.SortStableFunc(spots, func(a, b lowSpot) int { return cmp.Compare(a.height, b.height) })
		told := map[string]bool{}
		for i, l := range spots {
			if tooLow := !c.code.Headroom.Holds(l.height); (tooLow || i == 0) && !told[l.under] {
				told[l.under] = true
				c.low(r, l)
			}
		}
	}
}

// low remarks on one spot. Where only the sitter farthest from the way stands under
// it, it is worth a note.
func (c *checker) low(r *row, l lowSpot) {
	m := c.codified(l.height, c.code.Headroom)
	if l.alone && !m.OK {
		m.Severity = Note
	}
	m.Rows, m.Seats = []int{r.index}, l.seats
	m.Text = rowWords(r.index) + " has " + c.show(l.height) + " of headroom under " + l.under + " " + l.over + c.asksCode(c.code.Headroom)
	foot := geometry.Vec{X: l.at.X, Y: l.at.Y, Z: l.floor}
	m.Mark = Mark{Kind: DistanceMark, From: foot, To: foot.Add(geometry.Vec{Z: l.height}), Label: c.show(l.height)}
}

// doorway is the geometry of a door: hinge and latch side of the opening on the
// wall, directions along the leaf and into the room.
type doorway struct {
	hinge, along, into geometry.Vec2
	leaf, base         float64
}

// door returns the doorway of f. Left and right are as seen from inside the room by
// someone who faces the door.
func (c *checker) door(f project.Feature) (doorway, bool) {
	at := geometry.Vec2{X: float64(f.At.X), Y: float64(f.At.Y)}
	edge, foot := c.poly.Nearest(at)
	into := c.poly.InwardNormal(edge)
	if into == (geometry.Vec2{}) {
		return doorway{}, false
	}
	w := doorway{into: into, leaf: max(float64(f.Length), float64(f.Width)), base: float64(f.At.Z)}
	w.along = geometry.Vec2{X: -into.Y, Y: into.X} // to the right
	if f.Swing == project.InRight || f.Swing == project.OutRight {
		w.along = w.along.Mul(-1)
	}
	w.hinge = foot.Sub(w.along.Mul(w.leaf / 2))
	return w, true
}

func (c *checker) doorSwing() {
	for _, f := range c.d.Room.Features {
		if f.Kind != project.Door || f.Swing != project.InLeft && f.Swing != project.InRight {
			continue
		}
		w, ok := c.door(f)
		if !ok {
			continue
		}
		// A quarter of a disc: whatever reaches into its corner counts by its
		// distance from the hinge.
		least, what := math.Inf(1), ""
		var rows, seats []int
		see := func(p geometry.Polygon) bool {
			p = p.ClipHalf(w.hinge, w.along).ClipHalf(w.hinge, w.into)
			if len(p) < 3 {
				return false
			}
			v := p.Distance(w.hinge) - w.leaf
			if p.Contains(w.hinge) {
				v = -w.leaf
			}
			if v < least {
				least = v
				return true
			}
			return false
		}
		for i := range c.r.Seats {
			if see(c.r.Seats[i].Outline(1)) {
				what, seats, rows = "the chair of "+c.seatWords(i), []int{i}, nil
			}
		}
		const sill = 0.02 // m that a leaf clears
		low, high := w.base+sill, w.base+float64(f.Height)
		for i, r := range c.d.Seating.Rows {
			if box, ok := place.Platform(c.d, i); ok && float64(r.Riser) > low && see(box.Outline()) {
				what, seats, rows = "the platform of "+rowWords(i), nil, []int{i}
			}
			for _, fl := range place.Flights(c.d, i) {
				for _, box := range fl.Boxes {
					if 2*box.Half.Z > low && see(box.Outline()) {
						what, seats, rows = "the steps of "+rowWords(i), nil, []int{i}
					}
				}
			}
		}
		for _, o := range c.d.Room.Features {
			if o.Kind.Standing() && float64(o.At.Z) < high && float64(o.At.Z+o.Height) > low && see(o.Outline()) {
				what, seats, rows = o.Words(), nil, nil
			}
		}
		speaker := -1
		for k := range c.r.Speakers {
			box := c.r.Speakers[k].Box
			reach := math.Abs(box.Basis.U.Z)*box.Half.X + math.Abs(box.Basis.V.Z)*box.Half.Y + math.Abs(box.Basis.W.Z)*box.Half.Z
			if c.r.Speakers[k].Spec.Flush || box.Center.Z-reach >= high || box.Center.Z+reach <= low {
				continue
			}
			if see(footprint(box)) {
				what, seats, rows, speaker = c.speaker(k), nil, nil, k
			}
		}
		m := c.remark(least, c.lim)
		m.Seats, m.Rows = seats, rows
		if speaker >= 0 && seats == nil && rows == nil {
			m.Speakers = []int{speaker}
		}
		m.Text = f.Words() + " swings past " + what + " by " + c.show(least) + c.asks(c.lim)
		if least < 0 {
			m.Text = f.Words() + " strikes " + what + " by " + c.show(-least) + c.asks(c.lim)
		}
		hinge := geometry.Vec{X: w.hinge.X, Y: w.hinge.Y, Z: w.base}
		m.Mark = Mark{Kind: ArcMark, At: hinge, Normal: geometry.Vec{Z: 1}, Label: c.show(least),
			From: hinge.Add(geometry.Vec{X: w.along.X, Y: w.along.Y}.Mul(w.leaf)),
			To:   hinge.Add(geometry.Vec{X: w.into.X, Y: w.into.Y}.Mul(w.leaf))}
	}
}

// footprint returns the outline of a box, turned in any way, seen from above.
func footprint(b geometry.Box) geometry.Polygon {
	var points []geometry.Vec2
	for _, x := range [2]float64{-1, 1} {
		for _, y := range [2]float64{-1, 1} {
			for _, z := range [2]float64{-1, 1} {
				v := b.Center.Add(b.Basis.World(geometry.Vec{X: x * b.Half.X, Y: y * b.Half.Y, Z: z * b.Half.Z}))
				points = append(points, geometry.Vec2{X: v.X, Y: v.Y})
			}
		}
	}
	// From the lowest corner round: the next one has all others to its left.
	at := points[0]
	for _, p := range points {
		if p.X < at.X || p.X == at.X && p.Y < at.Y {
			at = p
		}
	}
	var out geometry.Polygon
	for first := at; len(out) < len(points); {
		out = append(out, at)
		next := at
		for _, p := range points {
			turn := next.Sub(at).Cross(p.Sub(at))
			if next == at || turn < -1e-12 || math.Abs(turn) <= 1e-12 && p.Dist(at) > next.Dist(at) {
				next = p
			}
		}
		if at = next; at == first {
			break
		}
	}
	return out
}

func (c *checker) doorSpace() {
	for _, f := range c.d.Room.Features {
		if f.Kind != project.Door {
			continue
		}
		w, ok := c.door(f)
		if !ok {
			continue
		}
		least, seat, at := math.Inf(1), -1, w.hinge
		latch := w.hinge.Add(w.along.Mul(w.leaf))
		for i := range c.r.Seats {
			p := c.r.Seats[i].Outline(1).ClipHalf(w.hinge, w.along).ClipHalf(latch, w.along.Mul(-1))
			if len(p) < 3 || math.Abs(p.Area()) < 1e-6 {
				continue
			}
			for _, q := range p.ClipHalf(w.hinge, w.into) {
				if v := q.Sub(w.hinge).Dot(w.into); v < least {
					least, seat, at = v, i, q
				}
			}
		}
		if seat < 0 {
			continue // free right through
		}
		m := c.remark(least, c.lim)
		m.Seats = []int{seat}
		m.Text = f.Words() + " has " + c.show(least) + " of free floor to the chair of " + c.seatWords(seat) + c.asks(c.lim)
		end := geometry.Vec{X: at.X, Y: at.Y, Z: w.base}
		m.Mark = Mark{Kind: DistanceMark, From: end.Sub(geometry.Vec{X: w.into.X, Y: w.into.Y}.Mul(least)), To: end, Label: c.show(least)}
	}
}
