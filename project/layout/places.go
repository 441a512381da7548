// SPDX-License-Identifier: MIT

package layout

import (
	"cmp"
	"math"
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/system"
)

// spot is a direction for a loudspeaker, what carries it there, and what that costs by
// itself. Degrees; the azimuth is that of the left one.
type spot struct {
	model  string
	mount  project.Mount
	az, el float64
	cost   float64
}

// steps returns from, what lies beside it in steps, and lo and hi, the nearest first.
func steps(from, lo, hi, step float64) []float64 {
	out := []float64{from}
	for by := step; from-by > lo || from+by < hi; by += step {
		if from+by < hi {
			out = append(out, from+by)
		}
		if from-by > lo {
			out = append(out, from-by)
		}
	}
	if hi > from {
		out = append(out, hi)
	}
	if lo < from {
		out = append(out, lo)
	}
	return out
}

// spots returns where loudspeaker k of channel c may go, the cheapest first; with own,
// as the model that it is.
func (l *placer) spots(k int, c system.Channel, own bool) []spot {
	var out []spot
	kit := &l.p.kit
	model, _ := l.d.Model(l.d.Speakers[k].Model)
	was := slices.ContainsFunc(l.p.base.Speakers, func(s project.Loudspeaker) bool { return s.Label == c.Label })
	// add adds a spot for the model that is there, if it goes there, or for another.
	add := func(cost float64, id string, mount project.Mount, az, el float64) {
		if was && own {
			m, _ := l.d.Model(id)
			if m.Flush != model.Flush {
				return
			}
			id = model.ID
		}
		out = append(out, spot{id, mount, az, el, cost})
	}
	if own && !was {
		return nil // a new one has no model to keep
	}
	lo, hi := l.p.azimuths(c)
	az := math.Abs(c.Azimuth)
	switch stageOf(c) {
	case overHeads:
		// Flush between 45 and 55 degrees up, where both the system and the rule for
		// flush models allow it; else a box under the ceiling that turns to its aim.
		in := func(layer practice.Layer, el float64) float64 {
			b := l.p.elevations(c, layer).Good
			return max(min(el, b.Most()), b.Least())
		}
		flush, turned := practice.Flush, practice.Height
		if practice.LayerOf(c.Label) == practice.NoLayer { // over the head and the like
			flush, turned = practice.NoLayer, practice.NoLayer
		}
		for _, el := range [...]float64{48, 51, 46, 54} {
			for _, az := range steps(az, lo, hi, 5) {
				add(0, kit.ceiling, project.OnCeiling, az, in(flush, el))
			}
		}
		for _, el := range [...]float64{45, 50, 40, 36, 32, 54} {
			for _, az := range steps(az, lo, hi, 5) {
				add(0.01, kit.box, project.OnCeiling, az, in(turned, el))
			}
		}
	case atScreen:
		level := []float64{0}
		if r := c.ElevationRange; r.Given() {
			level[0] = max(min(0, r.Max), r.Min)
		}
		if l.d.Screen.Transparent {
			level = l.fronts(level[0], az)
		} else if az < 20 { // under or over the picture
			level = []float64{-5, -7, -9, -12, -15, 8, 11, 15, 18, -18}
		}
		for i, el := range level {
			cost := 0.004 * float64(i)
			for _, az := range steps(az, lo, hi, 2.5) {
				if l.d.Screen.Transparent {
					add(cost, kit.front, project.BehindScreen, az, el)
				}
				if az <= 40 {
					add(0.02+cost, kit.front, project.OnWall, az, el)
					add(0.05+cost, kit.box, project.OnWall, az, el)
					add(0.1+cost, kit.wall, project.OnWall, az, el)
				}
			}
		}
	default:
		good, accepted, limit := l.p.raise(c)
		for _, raise := range [...]float64{0, 0.8, 2, 4, 5, 6, 8, 10, 12, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25} {
			cost := raise / 100
			switch {
			case raise > limit:
				continue
			case raise > accepted:
				cost += 1.5
			case raise > good:
				cost += 0.3
			}
			if az < 75 { // wides on the way from the fronts up to the sides: rule bed-plane
				cost = max(cost-raise/100, 0) + 0.03*math.Abs(raise-(l.front+l.raised)/2)
			}
			for _, az := range steps(az, lo, hi, 1.5) {
				add(cost, kit.box, project.OnWall, az, raise)
				add(cost+0.001, kit.wall, project.OnWall, az, raise)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b spot) int { return cmp.Compare(a.cost, b.cost) })
	return out
}

// fronts returns the elevations for a loudspeaker behind the picture, the best first:
// as near to the picture's middle as the heights of the fronts allow.
func (l *placer) fronts(level, az float64) []float64 {
	most := l.p.std.Elevation(practice.Front).Accepted.Most()
	s := &l.d.Screen
	dir := (l.main.X - float64(s.Distance)) / math.Cos(az*unit.Degree)
	up := float64(s.Bottom) + 0.55*s.Height() - l.main.Z
	el := math.Floor(100*max(min(math.Atan2(up, dir)/unit.Degree, most-0.3), -4.95)) / 100
	if math.Abs(el-level) < 0.5 {
		return []float64{level}
	}
	return []float64{el, (el + level) / 2, level}
}

// put puts s at a spot, to the left (side 1) or the right (-1).
func (l *placer) put(at spot, s project.Loudspeaker, side float64) (project.Loudspeaker, bool) {
	s.Model, s.Mount, s.Aim = at.model, at.mount, project.Aim{}
	l.p.puts++
	m, _ := l.d.Model(s.Model)
	dir := geometry.Direction(side*at.az*unit.Degree, at.el*unit.Degree)
	ok := false
	switch {
	case at.mount == project.BehindScreen:
		s, ok = l.behindScreen(s, dir)
	case m.Flush && at.mount == project.OnCeiling:
		s, ok = l.inCeiling(s, dir)
	case m.Flush:
		s, ok = l.inWall(s, dir)
	default:
		s, ok = l.box(s, dir, at.az)
	}
	return s, ok && l.free(s)
}

// free reports whether s stands in nothing that is built in.
func (l *placer) free(s project.Loudspeaker) bool {
	const touch, frame = 0.001, 0.2 // m
	if len(l.d.Room.Features) == 0 {
		return true
	}
	placed := place.OneSpeaker(l.d, s, l.main)
	at := geometry.Vec2{X: float64(s.At.X), Y: float64(s.At.Y)}
	for _, f := range l.d.Room.Features {
		if f.Overlap(placed.Box) > touch {
			return false
		}
		if s.Mount == project.OnCeiling && hangs(f) && floorOf(f).meets(rectAbout(at.Y, frame, at.X-frame, at.X+frame)) {
			return false
		}
	}
	return true
}

// ray returns how far a point may go along dir before it is nearer than keep to a wall,
// the ceiling or the floor. Degenerate directions go no way.
func (l *placer) ray(from, dir geometry.Vec, keep, over float64) float64 {
	const never = 1e-9
	most := l.p.ceiling.Way(from.Add(geometry.Vec{Z: over}), dir)
	if dir.Z < -never {
		most = min(most, (from.Z-0.05)/-dir.Z)
	}
	way := geometry.Vec2{X: dir.X, Y: dir.Y}
	for e := range l.p.poly {
		a, b := l.p.poly.Edge(e)
		n := l.p.poly.InwardNormal(e)
		rate := -n.Dot(way)
		if rate < never {
			continue
		}
		// The wall's line, keep before it, and whether it is met on the wall.
		t := (n.Dot(geometry.Vec2{X: from.X, Y: from.Y}.Sub(a)) - keep) / rate
		q := geometry.Vec2{X: from.X, Y: from.Y}.Add(way.Mul(t))
		along := b.Sub(a)
		if s, reach := q.Sub(a).Dot(along)/along.Dot(along), keep/along.Len(); t > -keep/rate && s >= -reach-never && s <= 1+reach+never {
			most = min(most, t)
		}
	}
	return most
}

// box puts a box that turns to the main position as far out as walls and ceiling let
// its corners go. It does not turn as it moves along its direction, so that this is
// linear.
func (l *placer) box(s project.Loudspeaker, dir geometry.Vec, az float64) (project.Loudspeaker, bool) {
	const under = 0.03 // m, to the ceiling
	s.At = project.PointOf(l.main.Add(dir))
	placed := place.OneSpeaker(l.d, s, l.main)
	far := math.Inf(1)
	for _, o := range cornersFrom(&placed) {
		far = min(far, l.ray(l.main.Add(o), dir, l.p.limits.speakerToWall, under))
	}
	if math.IsInf(far, 1) {
		return s, false
	}
	at := l.main.Add(dir.Mul(far))
	s.At = rounded(at)
	if s.Mount == project.OnCeiling && l.p.ceiling.At(at.X, at.Y)-at.Z > 0.45 {
		return s, false // a wall comes first
	}
	if az < aroundFrom && s.Mount == project.OnWall && !l.besidePicture(s) {
		return s, false
	}
	return s, far > 0.5
}

// besidePicture reports whether a box at the screen stands beside, under or over the
// picture and its border, or behind nothing.
func (l *placer) besidePicture(s project.Loudspeaker) bool {
	const gap = 0.02 // m
	placed := place.OneSpeaker(l.d, s, l.main)
	sc := &l.d.Screen
	if sc.Transparent && float64(s.At.X) < float64(sc.Distance)+0.1 {
		return false
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	left, right := math.Inf(1), math.Inf(-1)
	for _, o := range cornersFrom(&placed) {
		q := s.At.Vec().Add(o)
		lo, hi = min(lo, q.Z), max(hi, q.Z)
		left, right = min(left, q.Y), max(right, q.Y)
	}
	half := float64(sc.Width)/2 + float64(sc.Border) + gap
	top := float64(sc.Bottom) + sc.Height() + float64(sc.Border) + gap
	return right < float64(sc.Centre)-half || left > float64(sc.Centre)+half ||
		hi < float64(sc.Bottom-sc.Border)-gap || lo > top
}

// inWall puts a flush loudspeaker where its direction meets a wall.
func (l *placer) inWall(s project.Loudspeaker, dir geometry.Vec) (project.Loudspeaker, bool) {
	far := l.ray(l.main, dir, 0, 0)
	if math.IsInf(far, 1) {
		return s, false
	}
	at := l.main.Add(dir.Mul(far))
	s.At = rounded(at)
	q := geometry.Vec2{X: at.X, Y: at.Y}
	e, foot := l.p.poly.Nearest(q)
	a, b := l.p.poly.Edge(e)
	if foot.Dist(q) > 0.01 { // the ceiling or the floor comes first
		return s, false
	}
	s.At.X, s.At.Y = rounded(geometry.V(foot.X, foot.Y, 0)).X, rounded(geometry.V(foot.X, foot.Y, 0)).Y
	// Its frame stays clear of corners and ceiling.
	return s, min(foot.Dist(a), foot.Dist(b)) > 0.25 && at.Z < l.p.ceiling.At(at.X, at.Y)-0.25 && at.Z > 0.25
}

// inCeiling puts a flush loudspeaker where its direction meets the ceiling.
func (l *placer) inCeiling(s project.Loudspeaker, dir geometry.Vec) (project.Loudspeaker, bool) {
	const edge = 0.25 // m
	far := l.ray(l.main, dir, 0, 0)
	if math.IsInf(far, 1) {
		return s, false
	}
	at := l.main.Add(dir.Mul(far))
	s.At = rounded(at)
	s.At.Z = lengthOf(l.p.ceiling.At(float64(s.At.X), float64(s.At.Y)))
	q := geometry.Vec2{X: at.X, Y: at.Y}
	return s, math.Abs(float64(s.At.Z)-at.Z) < 0.01 && l.p.poly.Contains(q) && l.p.poly.Distance(q) > edge && at.X > float64(l.d.Screen.Distance)+edge
}

// behindScreen puts a front just behind the screen.
func (l *placer) behindScreen(s project.Loudspeaker, dir geometry.Vec) (project.Loudspeaker, bool) {
	const gap, toWall = 0.03, 0.02 // m
	s.At = project.PointOf(l.main.Add(dir))
	placed := place.OneSpeaker(l.d, s, l.main)
	foremost := math.Inf(-1)
	for _, o := range cornersFrom(&placed) {
		foremost = max(foremost, o.X)
	}
	far := (float64(l.d.Screen.Distance) - gap - foremost - l.main.X) / dir.X
	at := l.main.Add(dir.Mul(far))
	s.At = rounded(at)
	for _, o := range cornersFrom(&placed) {
		q := geometry.Vec2{X: at.X + o.X, Y: at.Y + o.Y}
		if q.X < l.p.near+toWall || !l.p.poly.Contains(q) || math.Abs(q.Y-l.p.middle) > l.p.wall/2-l.p.limits.speakerToWall ||
			at.Z+o.Z > l.p.ceiling.At(q.X, q.Y)-toWall {
			return s, false
		}
	}
	return s, far > 0.5
}

// cornersFrom returns the corners of the box of s from its reference point.
func cornersFrom(s *place.Speaker) [8]geometry.Vec {
	out := s.Box.Corners()
	for i := range out {
		out[i] = out[i].Sub(s.At.Vec())
	}
	return out
}

// rounded returns v in whole millimetres, as one builds.
func rounded(v geometry.Vec) project.Point {
	mm := func(x float64) unit.Length { return unit.Length(math.Round(x*1000) / 1000) }
	return project.Point{X: mm(v.X), Y: mm(v.Y), Z: mm(v.Z)}
}
