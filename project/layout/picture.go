// SPDX-License-Identifier: MIT

package layout

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
)

// What the picture keeps to beyond the limits of the rules, degrees.
const (
	wideLeast = 36.5 // at the main row, of a picture wider than tall ones
	fills     = 44.0 // at the main row, of a picture for which the screen comes forward
)

// What is left about the picture, metres.
const (
	beside  = 0.12 // from its border to the side walls
	below   = 0.05 // from its border to the ceiling
	lowEdge = 0.45 // the least height of its lower edge
)

func tan(deg float64) float64 { return math.Tan(deg * unit.Degree) }

// border returns the screen's.
func (p *planner) border() float64 { return float64(p.base.Screen.Border) }

// widestPicture returns how wide a picture the screen wall carries.
func (p *planner) widestPicture() float64 { return p.wall - 2*p.border() - 2*beside }

// picture gives a its screen and its risers: the widest picture with which every row
// sees over those in front under the headroom; false when there is none.
func (p *planner) picture(a arrangement) (arrangement, bool) {
	a.centre = p.middle
	main, first, last := &a.rows[a.main], &a.rows[0], &a.rows[0]
	for i := range a.rows {
		if !a.rows[i].kept || p.wish.Keep.Rows {
			last = &a.rows[i]
		}
	}
	if p.wish.Keep.Screen {
		s := p.base.Screen
		a.width, a.bottom, a.screen, a.centre, a.limit = float64(s.Width), float64(s.Bottom), float64(s.Distance), float64(s.Centre), "kept as it is"
		return a, p.rise(&a, 2) || p.rise(&a, 3)
	}
	eyeOf := func(l *line) float64 { return l.x + p.sitters(l.seat).eye.X }
	a.screen = p.near + leastScreen
	if !p.base.Screen.Transparent {
		a.screen = p.near + shortScreen
	}
	widest := p.widestPicture()
	// In a long room the screen comes forward until it fills enough of the view.
	if far := widest / (2 * tan(fills/2)); eyeOf(main)-a.screen > far && p.base.Screen.Transparent {
		a.screen = eyeOf(main) - far
	}
	if eyeOf(last)-a.screen > widest/(2*tan(p.limits.angleLeast/2)) && p.base.Screen.Transparent {
		a.screen = eyeOf(last) - widest/(2*tan(p.limits.angleLeast/2))
	}
	a.screen = math.Ceil(a.screen*100) / 100
	near := eyeOf(first) - a.screen
	if near < 0.9 {
		return a, false
	}
	for i := range a.rows {
		if l := &a.rows[i]; !l.kept && l.off() > tan(p.limits.offAxis)*(eyeOf(l)-a.screen) {
			return a, false
		}
	}
	ahead := eyeOf(main) - a.screen
	top := min(widest, a.aspect*ahead/p.limits.nearest, 2*near*tan(p.limits.angleMost/2))
	least := max(min(a.aspect*ahead/p.limits.farthest, 2*ahead*tan(wideLeast/2)), leastWidth(eyeOf(last)-a.screen, last.off(), p.limits.angleLeast))
	if a.main != len(a.rows)-1 {
		least = max(least, 1)
	}
	if p.loose {
		least = min(least, 0.8*top)
	}
	if w := float64(p.wish.Width); w > 0 {
		top, least = w, w
	}
	eye := p.sitters(first.seat).eye.Z + first.riser
	// The lower edge over the front row's eyes (rule picture-bottom) and the steps from
	// row to row: a handrail belongs to more than three.
	for _, try := range [...]struct {
		over  float64
		steps int
	}{{p.limits.lowerEdge, 2}, {0.25, 2}, {0.4, 2}, {p.limits.lowerEdge, 3}, {0.25, 3}} {
		for w := math.Floor(top*100+1e-6) / 100; w >= least-1e-9; w -= 0.05 {
			h := w / a.aspect
			ceiling := p.top(rectAbout(a.centre, w/2+p.border(), a.screen-0.05, a.screen+0.02))
			a.bottom = math.Inf(1)
			for _, lim := range [...]struct {
				b    float64
				name string
			}{
				{ceiling - below - p.border() - h, "the ceiling"},
				{eye + near*tan(p.limits.lookTop) - h, "the look up to its upper edge from row 1"},
				{eye + near*tan(p.limits.lookMiddle) - h/2, "the look up to its middle from row 1"},
				{eye + try.over, "the height of its lower edge before the eyes of row 1"},
			} {
				if lim.b < a.bottom {
					a.bottom, a.limit = lim.b, lim.name
				}
			}
			if b := max(eye-0.4*h, 0.55); len(a.rows) == 1 && b < a.bottom {
				a.bottom, a.limit = b, "the height of its middle before the eyes"
			}
			a.bottom = math.Floor(a.bottom*100) / 100
			if a.bottom < lowEdge {
				continue
			}
			a.width = w
			if p.rise(&a, try.steps) {
				return a, true
			}
		}
	}
	return a, false
}

// leastWidth returns the width of a picture that is seen under the angle, degrees,
// from so far away and so far beside its middle.
func leastWidth(far, off, deg float64) float64 {
	w := 2 * far * math.Tan(deg/2*unit.Degree)
	for math.Atan((w/2-off)/far)+math.Atan((w/2+off)/far) < deg*unit.Degree && w < maxWidth {
		w += 0.02
	}
	return w
}

// rise gives the rows the least risers with which each sees the picture's lower edge
// over all in front; false when they leave no headroom, or take more than so many
// steps from one to the next.
func (p *planner) rise(a *arrangement, steps int) bool {
	over := float64(p.base.Criteria.PictureMargin) + 0.025 // m over a crown: the margin and the crown's roundness
	// The rows are shared with other arrangements until they are changed.
	a.rows, a.short = append([]line(nil), a.rows...), 0
	for i := range a.rows {
		l := &a.rows[i]
		need := 0.0
		eyeIs := p.sitters(l.seat).eye
		for j := range i {
			// From the edge over the crown of row j to the eye of row i.
			o := &a.rows[j]
			crownIs := p.sitters(o.seat).crown
			crown := o.x + crownIs.X - a.screen
			eye := l.x + eyeIs.X - a.screen
			z := a.bottom + (o.riser+crownIs.Z+over-a.bottom)*eye/crown
			need = max(need, z-eyeIs.Z)
		}
		if l.kept {
			if need > l.riser+1e-6 && !p.leave && !p.loose {
				return false
			}
			continue
		}
		if i == 0 {
			l.riser = 0
			continue
		}
		before, _ := l.reach()
		most := p.top(p.across(l.x-before-0.3, l.x+p.limits.headToWall, l.off()+l.half())) - p.limits.headroom
		up := p.legalRise(need - a.rows[i-1].riser)
		if room := max(min(most-a.rows[i-1].riser, float64(steps)*p.limits.stepHigh), 0); up > room {
			if !p.loose {
				return false
			}
			a.short += up - room
			if up = p.legalRise(room - p.limits.stepLow); up > room {
				up = 0
			}
		}
		l.riser = a.rows[i-1].riser + up
	}
	return true
}

// legalRise returns the least rise of need or more that equal steps can climb.
func (p *planner) legalRise(need float64) float64 {
	if need <= 0 {
		return 0
	}
	steps := math.Ceil(need/p.limits.stepHigh - 1e-9)
	return min(math.Ceil(max(need, steps*p.limits.stepLow)*200-1e-6)/200, steps*p.limits.stepHigh)
}

// rectAbout returns the floor about a middle, between two distances.
func rectAbout(middle, half, from, to float64) rect {
	return rect{geometry.Vec2{X: from, Y: middle - half}, geometry.Vec2{X: to, Y: middle + half}}
}

// pictureKey tells pictures apart.
type pictureKey struct{ aspect, width, bottom unit.Length }

func (a *arrangement) key() pictureKey {
	return pictureKey{lengthOf(a.aspect), lengthOf(a.width), lengthOf(a.bottom)}
}
