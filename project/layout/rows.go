// SPDX-License-Identifier: MIT

package layout

import (
	"cmp"
	"math"
	"slices"

	"earline/geometry/unit"
	"earline/project"
)

func lengthOf(metres float64) unit.Length { return unit.Length(math.Round(metres*1e4) / 1e4) }

// What the rows keep free beyond the limits of the rules, metres.
const (
	leastScreen = 0.5  // from the screen wall to the picture: loudspeakers stand behind
	ledge       = 0.12 // from a chair's back to the platform behind it
	shortScreen = 0.12 // from the wall to a picture that sound does not pass
)

// arrangement is a way to place rows and picture.
type arrangement struct {
	rows   []line // from the front
	main   int    // row, from 0
	aspect float64
	width  float64
	bottom float64
	screen float64 // x of the picture
	centre float64 // y of the picture
	limit  string  // what the picture's upper edge keeps below
	short  float64 // m, by which rows are lower than they should be
	// comfort is the less, the sooner it is tried.
	comfort float64
}

// line is one row of an arrangement.
type line struct {
	seat
	n     int
	pitch float64
	x     float64
	riser float64
	kept  bool // as it is in the design
	row   project.Row
}

// off returns how far the outermost seat's middle is from the row's.
func (l *line) off() float64 { return float64(l.n-1) / 2 * l.pitch }

// arrangements returns the ways to seat w.Seats people, the most comfortable first;
// none when they do not fit.
func (p *planner) arrangements() []arrangement {
	const mostRows = 8
	if p.wish.Keep.Rows {
		return p.asTheyAre()
	}
	var all []arrangement
	for rows := 1; rows <= min(mostRows, p.wish.Seats); rows++ {
		if p.wish.Rows != 0 && rows != p.wish.Rows {
			continue
		}
		if fair := max((p.wish.Seats+2)/3, min(2, p.wish.Seats-1)); rows > fair && len(all) > 0 && p.wish.Rows == 0 {
			break // so few to a row only where more do not fit
		}
		back, front := make([]int, rows), make([]int, rows) // where the odd seats go
		for i := range p.wish.Seats {
			back[rows-1-i%rows]++
			front[i%rows]++
		}
		for _, c := range p.seats {
			all = append(all, p.inRows(back, c)...)
			if !slices.Equal(back, front) {
				all = append(all, p.inRows(front, c)...)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b arrangement) int { return cmp.Compare(a.comfort, b.comfort) })
	return all
}

// inRows returns the ways to place rows of so many seats.
func (p *planner) inRows(counts []int, c seat) []arrangement {
	rows := len(counts)
	// Seats as far apart as the aisles allow.
	pitch := c.widest
	for i, n := range counts {
		beside := p.limits.aisle
		if i > 0 {
			beside = p.limits.aisleStepped
		}
		free := p.wide - 2*beside - 2*c.half()
		if free < 0 {
			return nil
		}
		if n > 1 {
			pitch = min(pitch, free/float64(n-1))
		}
	}
	pitch = math.Floor(pitch*100) / 100
	if pitch < c.narrowest() {
		return nil
	}
	pitches := []float64{pitch}
	if slices.Max(counts) > 1 {
		for _, less := range [...]float64{0.96, 0.92, 0.88, 0.84} {
			if v := math.Floor(less*pitch*100) / 100; v >= c.narrowest() {
				pitches = append(pitches, v)
			}
		}
	}
	fronts := []float64{0} // as the others
	if rows > 1 && counts[0] > 1 {
		widest := math.Floor(min((p.wide-2*p.limits.aisle-2*c.half())/float64(counts[0]-1), c.widest)*100) / 100
		fronts = append(fronts, widest, (widest+c.narrowest())/2, c.narrowest())
	}
	var all []arrangement
	// Shares of the hall's length behind the last row, and how far apart the rows are.
	for _, share := range [...]float64{0.34, 0.31, 0.28, 0.25, 0.22, 0.19, 0.17, 0.15, 0.13, 0.11, 0} {
		behind := max(share*p.long(), p.limits.headToWall)
		if share > 0 && behind < 0.75 {
			continue
		}
		for _, apart := range [...]float64{1.3, 1.22, 1.15, 1.07, 1} {
			if rows == 1 && apart != 1 || p.ctx.Err() != nil {
				continue
			}
			deep := math.Ceil(c.least*apart*100) / 100
			for _, main := range mainRows(rows) {
				for _, aspect := range p.aspects() {
					for _, pitch := range pitches {
						for _, front := range fronts {
							a := arrangement{main: main, aspect: aspect, rows: make([]line, rows)}
							for i := range rows {
								l := line{seat: c, n: counts[i], pitch: pitch, x: p.stop - behind - float64(rows-1-i)*deep}
								if i == 0 && front != 0 {
									l.pitch = front
								}
								a.rows[i] = l
							}
							if a.rows[0].x < p.near+leastScreen || p.obstructed(&a) {
								continue
							}
							if b, ok := p.picture(p.withStools(a)); ok {
								b.comfort = p.discomfort(&b, share, apart)
								all = append(all, b)
							}
						}
					}
				}
			}
		}
	}
	return all
}

// withStools adds the rows at a bar, which stay.
func (p *planner) withStools(a arrangement) arrangement {
	for _, r := range p.stools {
		a.rows = append(a.rows, p.keptLine(r))
	}
	return a
}

func (p *planner) keptLine(r project.Row) line {
	c, _ := p.base.Chair(r.Chair)
	return line{seat: newSeat(c, r.Recline), n: r.Seats, pitch: float64(r.Pitch), x: float64(r.Distance), riser: float64(r.Riser), kept: true, row: r}
}

// asTheyAre returns the rows of the design with the pictures that they may have.
func (p *planner) asTheyAre() []arrangement {
	a := arrangement{main: max(p.base.Seating.Main.Row-1, 0)}
	for _, r := range p.base.Seating.Rows {
		a.rows = append(a.rows, p.keptLine(r))
	}
	var all []arrangement
	for _, a.aspect = range p.aspects() {
		if b, ok := p.picture(a); ok {
			b.comfort = p.discomfort(&b, 0.26, 1.15)
			all = append(all, b)
		}
	}
	if len(all) == 0 { // no picture for these rows: the one that is there
		s := p.base.Screen
		a.aspect, a.width, a.bottom, a.screen, a.centre = s.Aspect, float64(s.Width), float64(s.Bottom), float64(s.Distance), float64(s.Centre)
		all = append(all, a)
	}
	slices.SortStableFunc(all, func(a, b arrangement) int { return cmp.Compare(a.comfort, b.comfort) })
	return all
}

// aspects returns the shapes that a picture may have.
func (p *planner) aspects() []float64 {
	switch {
	case p.wish.Keep.Screen:
		return []float64{p.base.Screen.Aspect}
	case p.wish.Aspect != 0:
		return []float64{p.wish.Aspect}
	}
	return []float64{1.78, 1.85, 2.39}
}

// obstructed reports whether chairs would stand in what stands in the room, or in what
// a door needs; platforms too, where the door opens in.
func (p *planner) obstructed(a *arrangement) bool {
	for i := range a.rows {
		l := &a.rows[i]
		before, behind := l.reach()
		half := l.off() + l.half()
		chairs := p.across(l.x-before, l.x+behind, half)
		room := chairs
		if i == len(a.rows)-1 {
			room.hi.X = max(room.hi.X, l.x+p.limits.headToWall)
		}
		for _, s := range p.standing {
			if s.meets(room) {
				return true
			}
		}
		for _, d := range p.doors {
			if d.meets(chairs) {
				return true
			}
		}
	}
	return false
}

// mainRows returns the rows that may be the main one, the best first. From the last
// row nobody's head is before a loudspeaker at ear height.
func mainRows(rows int) []int {
	if rows < 3 {
		return []int{rows - 1}
	}
	return []int{rows - 1, (rows - 1) / 2}
}

// discomfort is small for few wide rows in the middle of the room, before a large
// picture.
func (p *planner) discomfort(a *arrangement, share, apart float64) float64 {
	const fairRow = 5 // seats
	rows := 0
	var last *line
	for i := range a.rows {
		if !atBar(p.base, project.Row{Chair: a.rows[i].ID}) {
			rows, last = rows+1, &a.rows[i]
		}
	}
	v := 0.0
	if last == nil {
		return v
	}
	ideal := math.Ceil(float64(p.wish.Seats) / fairRow)
	v += 3 * math.Abs(float64(rows)-ideal)
	v += 4 * math.Abs(share-0.26)
	v += 2*(last.widest-last.pitch) + math.Abs(a.rows[0].pitch-last.pitch)
	if last.Footrest == 0 {
		v++
	}
	if a.aspect > 2 {
		v += 0.2
	}
	v += 4*max(1-a.width/p.widestPicture(), 0) + 20*a.short
	if rows > 1 {
		v += math.Abs(apart - 1.15)
	}
	for i := 1; i < rows; i++ {
		v += 2 * max(a.rows[i].riser-a.rows[i-1].riser-0.3, 0)
	}
	if a.main != rows-1 {
		v += 0.3
	}
	v += 5 * max(a.bottom-p.sitters(last.seat).eye.Z-0.1, 0)
	return v
}

// build returns the design of a without loudspeakers and door.
func (p *planner) build(a *arrangement) *project.Design {
	d := p.base.Clone()
	if !p.wish.Keep.Screen {
		d.Screen.Aspect, d.Screen.Width, d.Screen.Bottom = a.aspect, lengthOf(a.width), lengthOf(a.bottom)
		d.Screen.Distance, d.Screen.Centre = lengthOf(a.screen), lengthOf(a.centre)
	}
	if p.wish.Keep.Rows {
		return d
	}
	if len(d.Chairs) == 0 {
		d.Chairs = []project.Chair{a.rows[0].Chair}
	}
	was := d.Seating.Rows
	d.Seating.Rows = nil
	next := 0 // of the rows that were, whose settings go on
	for i := range a.rows {
		l := &a.rows[i]
		if l.kept {
			d.Seating.Rows = append(d.Seating.Rows, l.row)
			continue
		}
		var r project.Row
		for next < len(was) && atBar(p.base, was[next]) {
			next++
		}
		if next < len(was) {
			r = was[next]
			next++
		}
		r.Chair, r.Distance, r.Riser, r.Seats = l.ID, lengthOf(l.x), lengthOf(l.riser), l.n
		r.Pitch, r.Centre, r.Recline, r.Stagger, r.Curve, r.Front, r.Back = lengthOf(l.pitch), lengthOf(p.centre), l.recline, 0, 0, 0, 0
		r.Left, r.Right, r.Steps = 0, 0, nil
		if l.riser > 0 {
			back := float64(l.BackThickness) + ledge
			r.Front, r.Back = lengthOf(l.x-a.rows[max(i-1, 0)].x-back), lengthOf(back)
			if i == 0 {
				r.Front = lengthOf(float64(l.PanDepth) + 0.4)
			}
			if i == len(a.rows)-1-len(p.stools) {
				r.Back = lengthOf(p.behind(l)) // to the wall: no edge to fall from
			}
			p.sides(&r)
		}
		if turn := math.Atan2(l.off(), l.x-a.screen); len(a.rows) == 1 && turn > 14*unit.Degree && l.pitch*(1-float64(l.PanDepth)/(l.x-a.screen)) > l.narrowest() {
			r.Curve = lengthOf(math.Floor(10*(l.x-a.screen)) / 10) // rule seat-turn: all face the picture
		}
		d.Seating.Rows = append(d.Seating.Rows, r)
	}
	d.Seating.Main = project.MainPosition{Row: a.main + 1}
	return d
}

// behind returns how far a platform reaches behind the line of the last row: to the
// wall, or to what a door or something that stands there leaves.
func (p *planner) behind(l *line) float64 {
	to := p.stop
	for _, r := range append(slices.Clone(p.doors), p.standing...) {
		if r.lo.X > l.x && r.lo.X < to {
			to = r.lo.X
		}
	}
	_, least := l.reach()
	return max(to-l.x, least)
}

// sides ends the platform of a row at the sides of the hall where the room goes on
// beyond them: it is no part of an alcove.
func (p *planner) sides(r *project.Row) {
	const wall = 0.05 // m
	left, right := p.centre-p.wide/2, p.centre+p.wide/2
	from, to := float64(r.Distance-r.Front), float64(r.Distance+r.Back)
	for _, x := range [...]float64{from + wall, (from + to) / 2, to - wall} {
		for _, s := range p.poly.Spans(x) {
			if s[1] > right+wall && s[0] < right-wall {
				r.Right = lengthOf(right)
			}
			if s[0] < left-wall && s[1] > left+wall && left > 0 {
				r.Left = lengthOf(left)
			}
		}
	}
}
