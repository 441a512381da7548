// SPDX-License-Identifier: MIT

package tour

import (
	"math"
	"sort"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project/place"
	"earline/scene"
	"earline/scene/walk"
)

// How one goes; common practice with a camera, without a source.
const (
	pace     = 1.2              // m/s, on foot
	settling = 0.5              // m/s, of the eyes, when one sits down or gets up
	quicken  = 0.9              // m/s², from standing to pace, and back
	turning  = 60 * unit.Degree // a second, at most but for what smoothing adds
	briefest = 3.0              // s, of a leg in which the light changes
	spacing  = 0.02             // m, between moments that are kept
	round    = 0.2              // m, before and behind, over which corners are rounded
	ahead    = 0.8              // m, where one looks to on the way
	swing    = 0.9              // m, over which one turns from where one looked, and to where one will
)

// leg is a way between two stops: poses at times that increase, seconds from its start.
// The zero leg is a cut.
type leg struct {
	times []float64
	poses []Pose
}

func (l *leg) length() float64 {
	if len(l.times) == 0 {
		return 0
	}
	return l.times[len(l.times)-1]
}

// at returns the pose s seconds from the start.
func (l *leg) at(s float64) Pose {
	i := sort.SearchFloat64s(l.times, s)
	if i == 0 {
		return l.poses[0]
	}
	if i == len(l.times) {
		return l.poses[i-1]
	}
	a, b := l.poses[i-1], l.poses[i]
	share := (s - l.times[i-1]) / (l.times[i] - l.times[i-1])
	p := Pose{Eye: a.Eye.Lerp(b.Eye, share), Az: a.Az + share*(b.Az-a.Az), El: a.El + share*(b.El-a.El), Sees: a.Sees + share*(b.Sees-a.Sees), Seat: a.Seat}
	return p
}

// legOf returns the way from one stop to another: up from the seat, over the floor, down
// into the seat. ok is false where there is none on foot.
func legOf(r *place.Room, g *walk.Ground, from, to *Stop) (l leg, ok bool) {
	a, b := from.Pose, to.Pose
	turn := math.Remainder(b.Az-a.Az, 2*math.Pi)
	if a.Eye.Dist(b.Eye) < spacing { // on the spot
		const steepest = 1.5 // of ease, against its mean
		long := max(steepest*math.Max(math.Abs(turn), math.Abs(b.El-a.El))/turning, 1)
		if from.Scene != to.Scene {
			long = max(long, briefest)
		}
		const n = 60
		for i := range n + 1 {
			s := float64(i) / n
			l.times = append(l.times, s*long)
			l.poses = append(l.poses, Pose{a.Eye, a.Az + ease(s)*turn, a.El + ease(s)*(b.El-a.El), a.Sees + ease(s)*(b.Sees-a.Sees), a.Seat})
		}
		return l, true
	}
	start, ok := feet(g, a)
	if !ok {
		return leg{}, false
	}
	end, ok := feet(g, b)
	if !ok {
		return leg{}, false
	}
	corners := []geometry.Vec{start}
	if start.Dist(end) > spacing {
		if corners, ok = g.Route(start, end); !ok {
			return leg{}, false
		}
	}
	return goAlong(g, corners, a, b, from.Scene != to.Scene), true
}

// feet returns where one stands to walk from a pose.
func feet(g *walk.Ground, p Pose) (geometry.Vec, bool) {
	if p.Seat != scene.None {
		return g.Rise(p.Seat)
	}
	return g.OnFloor(p.Eye), true
}

// goAlong returns the way over the corners on the floor.
func goAlong(g *walk.Ground, corners []geometry.Vec, a, b Pose, dims bool) leg {
	var eyes []geometry.Vec
	var seats []int
	put := func(seat int, all ...geometry.Vec) {
		for _, p := range all {
			eyes, seats = append(eyes, p), append(seats, seat)
		}
	}
	first, last := g.Eyes(corners[0]), g.Eyes(corners[len(corners)-1])
	if a.Seat != scene.None {
		put(a.Seat, between(a.Eye, first)...)
	}
	up := len(eyes)
	for k := 1; k < len(corners); k++ {
		for _, p := range between(corners[k-1], corners[k]) {
			put(scene.None, g.Eyes(g.OnFloor(p)))
		}
	}
	down := len(eyes)
	put(scene.None, last)
	if b.Seat != scene.None {
		put(b.Seat, append(between(last, b.Eye), b.Eye)...)
		seats[down] = b.Seat
	}
	eyes = rounded(eyes)
	heads := headings(eyes, up, down, a.Az, b.Az)
	l := leg{poses: make([]Pose, len(eyes)), times: make([]float64, len(eyes))}
	far := make([]float64, len(eyes)) // along the way, metres
	for i := 1; i < len(eyes); i++ {
		far[i] = far[i-1] + eyes[i].Dist(eyes[i-1])
	}
	whole := far[len(far)-1]
	slow := make([]float64, len(eyes)) // seconds for the step to i
	for i := 1; i < len(eyes); i++ {
		step := far[i] - far[i-1]
		most := pace
		if i <= up || i > down {
			most = settling
		}
		const crawl = 0.05 // m/s, with which it begins
		mid := (far[i] + far[i-1]) / 2
		v := min(most, math.Sqrt(crawl*crawl+2*quicken*min(mid, whole-mid)))
		slow[i] = max(step/v, math.Abs(heads[i]-heads[i-1])/turning)
	}
	slow = evened(slow)
	for i := range eyes {
		share := ease(far[i] / whole)
		l.poses[i] = Pose{Eye: eyes[i], Az: heads[i], El: level(a.El, b.El, share), Sees: a.Sees + share*(b.Sees-a.Sees), Seat: seats[i]}
		if i > 0 {
			l.times[i] = l.times[i-1] + slow[i]
		}
	}
	if long := l.length(); dims && long < briefest {
		for i := range l.times {
			l.times[i] *= briefest / long
		}
	}
	return l
}

// level returns how far up one looks on the way: from where one looked to level, and from
// there to where one will.
func level(a, b, share float64) float64 {
	return a*(1-ease(3*share)) + b*ease(3*share-2)
}

// between returns points from a on to b, without b.
func between(a, b geometry.Vec) []geometry.Vec {
	n := max(int(math.Ceil(a.Dist(b)/spacing)), 1)
	out := make([]geometry.Vec, n)
	for i := range out {
		out[i] = a.Lerp(b, float64(i)/float64(n))
	}
	return out
}

// rounded returns a line without sharp corners and edges, with the same ends.
func rounded(line []geometry.Vec) []geometry.Vec {
	const half = int(round / spacing)
	out := make([]geometry.Vec, len(line))
	for i := range line {
		n := min(half, i, len(line)-1-i)
		var sum geometry.Vec
		for _, p := range line[i-n : i+n+1] {
			sum = sum.Add(p)
		}
		out[i] = sum.Mul(1 / float64(2*n+1))
	}
	return out
}

// headings returns where one looks along a line, radians, without jumps: ahead, but for
// the beginning and the end, and who gets up or sits down.
func headings(line []geometry.Vec, up, down int, a, b float64) []float64 {
	out := make([]float64, len(line))
	before := a
	const on = int(ahead / spacing)
	for i := range line {
		az := before
		if to := line[min(max(i, up)+on, down)].Sub(line[i]); i < down && math.Hypot(to.X, to.Y) > ahead/4 {
			az = math.Atan2(-to.Y, -to.X) // as of geometry.Direction
		}
		before += math.Remainder(az-before, 2*math.Pi)
		out[i] = before
	}
	end := before + math.Remainder(b-before, 2*math.Pi)
	const turns = swing / spacing
	for i := range out {
		in, off := ease(float64(i-up/2)/turns), ease(float64(down+(len(line)-down)/2-i)/turns)
		if down-up < int(turns) { // a step or two: from the one to the other
			s := ease(float64(i) / float64(max(len(out)-1, 1)))
			out[i] = a + s*math.Remainder(b-a, 2*math.Pi)
			continue
		}
		out[i] = a + in*(out[i]-a)
		out[i] = end + off*(out[i]-end)
	}
	return smooth(out, int(round/spacing))
}

// smooth returns the means of values with so many before and behind, the ends as they are.
func smooth(v []float64, half int) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		n := min(half, i, len(v)-1-i)
		for _, x := range v[i-n : i+n+1] {
			out[i] += x
		}
		out[i] /= float64(2*n + 1)
	}
	return out
}

// evened returns the times of steps without jumps of speed; that to the first is none.
func evened(slow []float64) []float64 {
	if len(slow) < 3 {
		return slow
	}
	return append([]float64{0}, smooth(slow[1:], int(2*round/spacing))...)
}
