// SPDX-License-Identifier: MIT

package newroom

import (
	"cmp"
	"math"
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

func lengthOf(metres float64) unit.Length { return unit.Length(math.Round(metres*1e4) / 1e4) }

// What the rows keep free, metres. The placement rules set the limits
// (project/practice); a little more is kept here, as rooms are never quite square.
const (
	aisle        = 0.62 // beside a row on the floor: rule aisle
	aisleStepped = 0.93 // beside a row on a platform: rule aisle-stepped
	headroom     = 2.04 // over a platform: rule headroom
	headToWall   = 0.56 // from a row's line to the back wall: rule seat-wall
	leastScreen  = 0.5  // from the screen wall to the picture: loudspeakers stand behind
	stepLow      = 0.103
	stepHigh     = 0.195 // rule step-height
	ledge        = 0.12  // from a chair's back to the platform behind it
)

// arrangement is a way to place rows and picture.
type arrangement struct {
	counts  []int // seats, from the front row
	chair   seat
	pitch   float64 // seat to seat
	front   float64 // the same in the first row, which stands on the floor
	rows    []float64
	risers  []float64
	main    int // row, from 0
	aspect  float64
	width   float64
	bottom  float64
	screen  float64 // distance from the screen wall
	comfort float64 // the less, the sooner tried
}

// sitters are where eyes, ears and crowns are in a chair, from where its pan meets
// its back.
type sitters struct{ eye, ear, crown geometry.Vec }

func sittersIn(d *project.Design, c seat) sitters {
	at := place.Seat{Basis: geometry.WorldBasis(), Chair: c.Chair, Recline: c.MinRecline.Radians()}
	me, other := place.Listener(d, at), place.Other(d, at)
	return sitters{me.Eye(), me.Ear(), other.Crown}
}

// arrangements returns the ways to seat w.Seats people, the most comfortable first;
// none when they do not fit.
func (p *planner) arrangements() []arrangement {
	const mostRows = 8
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
		for _, c := range seats() {
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
	s := p.sitters(c)
	// Seats as far apart as the aisles allow.
	pitch := c.widest
	for i, n := range counts {
		beside := aisle
		if i > 0 {
			beside = aisleStepped
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
		widest := math.Floor(min((p.wide-2*aisle-2*c.half())/float64(counts[0]-1), c.widest)*100) / 100
		fronts = append(fronts, widest, (widest+c.narrowest())/2, c.narrowest())
	}
	var all []arrangement
	// Shares of the room's length behind the last row, and how far apart the rows are.
	for _, share := range [...]float64{0.34, 0.31, 0.28, 0.25, 0.22, 0.19, 0.17, 0.15, 0.13, 0.11, 0} {
		behind := max(share*p.long, headToWall)
		if share > 0 && behind < 0.75 {
			continue
		}
		for _, apart := range [...]float64{1.3, 1.22, 1.15, 1.07, 1} {
			if rows == 1 && apart != 1 {
				continue
			}
			deep := math.Ceil(c.least*apart*100) / 100
			a := arrangement{counts: counts, chair: c, rows: make([]float64, rows)}
			for i := range rows {
				a.rows[i] = p.long - behind - float64(rows-1-i)*deep
			}
			for _, main := range mainRows(rows) {
				a.main = main
				for _, aspect := range [...]float64{1.78, 2.39} {
					a.aspect = aspect
					for _, a.pitch = range pitches {
						for _, front := range fronts {
							if a.front = front; front == 0 {
								a.front = a.pitch
							}
							if b, ok := p.picture(a, s); ok {
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

// mainRows returns the rows that may be the main one, the best first. From the last
// row nobody's head is before a loudspeaker at ear height.
func mainRows(rows int) []int {
	if rows < 3 {
		return []int{rows - 1}
	}
	return []int{rows - 1, (rows - 1) / 2}
}

// discomfort is small for few wide rows in the middle of the room, before a tall
// picture.
func (p *planner) discomfort(a *arrangement, share, apart float64) float64 {
	const fairRow = 5 // seats
	ideal := math.Ceil(float64(p.wish.Seats) / fairRow)
	v := 3 * math.Abs(float64(len(a.rows))-ideal)
	v += 4 * math.Abs(share-0.26)
	v += 2*(a.chair.widest-a.pitch) + math.Abs(a.front-a.pitch)
	if a.chair.Footrest == 0 {
		v++
	}
	if a.aspect > 2 {
		v += 0.4
	}
	if len(a.rows) > 1 {
		v += math.Abs(apart - 1.15)
	}
	for i := 1; i < len(a.risers); i++ {
		v += 2 * max(a.risers[i]-a.risers[i-1]-0.3, 0)
	}
	if a.main != len(a.rows)-1 {
		v += 0.3
	}
	v += 5 * max(a.bottom-p.sitters(a.chair).eye.Z-0.1, 0)
	return v
}

// picture gives a its screen and its risers: the widest picture with which every row
// sees over those in front under the headroom; false when there is none.
func (p *planner) picture(a arrangement, s sitters) (arrangement, bool) {
	const (
		mostAngle, leastAngle = 54, 36.5 // at the main row: rule picture-angle-main
		anyLeast, anyMost     = 30.5, 79 // rules picture-angle-least and -most
		border, edge          = 0.06, 0.12
		lookTop, lookMiddle   = 34, 24.5 // rules look-up-top and look-up-middle
		mostOff               = 34.5     // rule off-axis
	)
	tan := func(deg float64) float64 { return math.Tan(deg * unit.Degree) }
	a.screen = leastScreen
	widest := p.wide - 2*border - 2*edge
	mainEye := a.rows[a.main] + s.eye.X
	// In a long room the screen comes forward until it fills enough of the view.
	if far := widest / (2 * tan((leastAngle+mostAngle)/2/2)); mainEye-a.screen > far {
		a.screen = mainEye - far
	}
	if last := a.rows[len(a.rows)-1] + s.eye.X; last-a.screen > widest/(2*tan(anyLeast/2)) {
		a.screen = last - widest/(2*tan(anyLeast/2))
	}
	a.screen = math.Ceil(a.screen*100) / 100
	first := a.rows[0] + s.eye.X - a.screen
	if first < 0.9 {
		return a, false
	}
	for i, n := range a.counts {
		if off := float64(n-1) / 2 * a.pitchOf(i); off > tan(mostOff)*(a.rows[i]+s.eye.X-a.screen) {
			return a, false
		}
	}
	ahead := mainEye - a.screen
	top := min(widest, 2*ahead*tan(mostAngle/2), 2*first*tan(anyMost/2))
	last := a.rows[len(a.rows)-1] + s.eye.X - a.screen
	least := max(2*ahead*tan(leastAngle/2), p.leastWidth(last, float64(a.counts[len(a.counts)-1]-1)/2*a.pitchOf(len(a.counts)-1), anyLeast))
	if a.main != len(a.rows)-1 {
		least = max(least, 1)
	}
	// The lower edge over the front row's eyes (rule picture-bottom) and the steps from
	// row to row: a handrail belongs to more than three.
	for _, try := range [...]struct {
		over  float64
		steps int
	}{{0.09, 2}, {0.09, 3}, {0.25, 2}, {0.25, 3}, {0.4, 3}} {
		over := try.over
		for w := math.Floor(top*100) / 100; w >= least; w -= 0.05 {
			h := w / a.aspect
			eye := s.eye.Z
			b := min(eye+over, p.high-0.05-border-h, eye+first*tan(lookTop)-h, eye+first*tan(lookMiddle)-h/2)
			if len(a.rows) == 1 {
				b = min(b, max(eye-0.4*h, 0.55))
			}
			b = math.Floor(b*100) / 100
			if b < 0.45 {
				continue
			}
			a.width, a.bottom = w, b
			if p.rise(&a, s, try.steps) {
				return a, true
			}
		}
	}
	return a, false
}

// leastWidth returns the width of a picture that is seen under the angle, degrees,
// from so far away and so far beside its middle.
func (p *planner) leastWidth(far, off, deg float64) float64 {
	w := 2 * far * math.Tan(deg/2*unit.Degree)
	for math.Atan((w/2-off)/far)+math.Atan((w/2+off)/far) < deg*unit.Degree {
		w += 0.02
	}
	return w
}

// rise gives the rows the least risers with which each sees the picture's lower edge
// over all in front; false when they leave no headroom, or take more than so many
// steps from one to the next.
func (p *planner) rise(a *arrangement, s sitters, steps int) bool {
	const over = 0.045 // m over a crown: the design's own margin and the crown's roundness
	a.risers = make([]float64, len(a.rows))
	for i := 1; i < len(a.rows); i++ {
		need := 0.0
		for j := range i {
			// From the edge over the crown of row j to the eye of row i.
			crown := a.rows[j] + s.crown.X - a.screen
			eye := a.rows[i] + s.eye.X - a.screen
			z := a.bottom + (a.risers[j]+s.crown.Z+over-a.bottom)*eye/crown
			need = max(need, z-s.eye.Z)
		}
		up := legalRise(need - a.risers[i-1])
		if up > float64(steps)*stepHigh {
			return false
		}
		a.risers[i] = a.risers[i-1] + up
	}
	return p.high-a.risers[len(a.risers)-1] >= headroom || a.risers[len(a.risers)-1] == 0
}

// legalRise returns the least rise of need or more that equal steps can climb.
func legalRise(need float64) float64 {
	if need <= 0 {
		return 0
	}
	steps := math.Ceil(need/stepHigh - 1e-9)
	return min(math.Ceil(max(need, steps*stepLow)*200-1e-6)/200, steps*stepHigh)
}

func (a *arrangement) pitchOf(row int) float64 {
	if row == 0 {
		return a.front
	}
	return a.pitch
}

// build returns the design of a without loudspeakers and door.
func (p *planner) build(a *arrangement) *project.Design {
	d := p.base.Clone()
	d.Chairs = []project.Chair{a.chair.Chair}
	d.Screen = project.Screen{Aspect: a.aspect, Width: lengthOf(a.width), Bottom: lengthOf(a.bottom), Distance: lengthOf(a.screen),
		Centre: lengthOf(p.wide / 2), Border: 0.06, Transparent: true, Gain: 1}
	d.Seating.Rows = nil
	for i, n := range a.counts {
		r := project.Row{Chair: a.chair.ID, Distance: lengthOf(a.rows[i]), Riser: lengthOf(a.risers[i]), Seats: n,
			Pitch: lengthOf(a.pitchOf(i)), Centre: lengthOf(p.wide / 2), Recline: a.chair.MinRecline}
		if a.risers[i] > 0 {
			back := float64(a.chair.BackThickness) + ledge
			r.Front, r.Back = lengthOf(a.rows[i]-a.rows[i-1]-back), lengthOf(back)
			if i == len(a.counts)-1 {
				r.Back = lengthOf(p.long - a.rows[i]) // to the wall: no edge to fall from
			}
		}
		if turn := math.Atan2(float64(n-1)/2*a.pitchOf(i), a.rows[i]-a.screen); len(a.rows) == 1 && turn > 14*unit.Degree {
			r.Curve = lengthOf(math.Floor(10*(a.rows[i]-a.screen)) / 10) // rule seat-turn: all face the picture
		}
		d.Seating.Rows = append(d.Seating.Rows, r)
	}
	d.Seating.Main = project.MainPosition{Row: a.main + 1}
	return d
}
