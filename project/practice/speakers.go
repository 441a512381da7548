// SPDX-License-Identifier: MIT

package practice

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/mat"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/air"
	"earline/project/sight"
)

// direction is where a loudspeaker is, by its label and as seen from the main
// listening position.
type direction struct {
	layer  string  // "M", "U", "B", "UH", "T"; "" for a subwoofer or LFE channel
	side   float64 // +1 left, -1 right, 0 in the middle or behind
	named  float64 // azimuth in the label, degrees, 0 to 180
	at     geometry.Vec
	toward geometry.Vec // unit
	az, el float64      // degrees
	dist   float64
}

// channel is all loudspeakers of one label.
type channel struct {
	label    string
	side     float64 // as of a direction
	speakers []int
	az, el   float64 // degrees, of their mean direction
	dist     float64 // mean
}

// Label azimuths, degrees: up to screenNamed a bed loudspeaker belongs to the
// screen, from sideNamed to the sides, from rearNamed to the rear. Screen pairs
// M+SC count as 15.
const screenNamed, sideNamed, rearNamed = 45, 60, 135

// parse splits a BS.2051 label. The layer is empty for LFE channels and for
// anything that is no label.
func parse(label string) (layer string, side, named float64) {
	i := strings.IndexAny(label, "+-")
	if i < 1 {
		return "", 0, 0
	}
	layer = label[:i]
	switch layer {
	case "M", "U", "B", "UH", "T":
	default:
		return "", 0, 0
	}
	side = 1
	if label[i] == '-' {
		side = -1
	}
	if label[i+1:] == "SC" {
		return layer, side, 15
	}
	n, err := strconv.Atoi(label[i+1:])
	if err != nil || n < 0 || n > 180 {
		return "", 0, 0
	}
	if n == 0 || n == 180 {
		side = 0
	}
	return layer, side, float64(n)
}

// mirrored returns the label of the partner on the other side.
func mirrored(label string) string {
	if strings.Contains(label, "+") {
		return strings.Replace(label, "+", "-", 1)
	}
	return strings.Replace(label, "-", "+", 1)
}

// locateSpeakers fills in directions and groups.
func (c *checker) locateSpeakers() {
	c.directions = make([]direction, len(c.r.Speakers))
	for k := range c.r.Speakers {
		sp := &c.r.Speakers[k]
		h := &c.directions[k]
		h.at = sp.At.Vec()
		d := h.at.Sub(c.r.Main)
		az, el, ok := geometry.AzEl(d)
		if !ok || !d.Finite() || sp.Spec.Subwoofer() {
			continue
		}
		h.toward, _ = d.Unit()
		h.az, h.el, h.dist = az/unit.Degree, el/unit.Degree, d.Len()
		h.layer, h.side, h.named = parse(sp.Label)
		if h.layer == "" {
			continue
		}
		g := c.channel(sp.Label)
		if g == nil {
			c.groups = append(c.groups, channel{label: sp.Label, side: h.side})
			g = &c.groups[len(c.groups)-1]
		}
		g.speakers = append(g.speakers, k)
	}
	for i := range c.groups {
		g := &c.groups[i]
		var sum geometry.Vec
		for _, k := range g.speakers {
			sum = sum.Add(c.directions[k].toward)
			g.dist += c.directions[k].dist / float64(len(g.speakers))
		}
		az, el, _ := geometry.AzEl(sum)
		g.az, g.el = az/unit.Degree, el/unit.Degree
	}
}

func (c *checker) channel(label string) *channel {
	for i := range c.groups {
		if c.groups[i].label == label {
			return &c.groups[i]
		}
	}
	return nil
}

// toward returns the point dist away from the main position, degrees.
func (c *checker) toward(az, el, dist float64) geometry.Vec {
	return c.r.Main.Add(geometry.Direction(az*unit.Degree, el*unit.Degree).Mul(dist))
}

func (c *checker) label() {
	for _, g := range c.groups {
		n := 0
		for i := range c.all {
			if _, ok := c.all[i].Channel(g.label); ok && c.all[i].Published() {
				n++
			}
		}
		if _, ok := c.judgedBy.Channel(g.label); ok && !c.judgedBy.Published() {
			n++
		}
		m := c.remark(float64(n), c.lim)
		m.Speakers = g.speakers
		m.Mark = Mark{Kind: PointMark, At: c.directions[g.speakers[0]].at, Label: g.label}
		if n == 0 {
			m.Text = g.label + " is a label of no system"
		} else {
			m.Text = g.label + " is a label of " + counted(n, "system")
		}
	}
}

// fiveChannels reports whether the system judged by is one of five channels without
// heights, whose surrounds are judged by a rule of their own.
func (c *checker) fiveChannels() bool { return c.judgedBy.Name == "0+5+0" || c.judgedBy.Name == "5.1" }

// judgedAsSurround reports whether the rules for surrounds say where g belongs.
func (c *checker) judgedAsSurround(g *channel) bool {
	id := "surround"
	if len(g.speakers) > 1 {
		id = "surround-array"
	}
	_, on := c.limits[id]
	return on && c.fiveChannels() && (g.label == "M+110" || g.label == "M-110")
}

// surrounds judges the loudspeakers of M+110 and M-110 of a five-channel system:
// either those that are alone on their channel or those in an array.
func (c *checker) surrounds(array bool) {
	if !c.fiveChannels() {
		return
	}
	for _, label := range [2]string{"M+110", "M-110"} {
		g := c.channel(label)
		if g == nil || len(g.speakers) > 1 != array {
			continue
		}
		for _, k := range g.speakers {
			h := &c.directions[k]
			v := h.az * h.side // to its own side
			if v < -90 {
				v += 360 // just past straight behind
			}
			m := c.remark(v, c.lim)
			m.Speakers = []int{k}
			m.Text = c.speaker(k) + " azimuth " + degrees(h.az) + c.asks(c.lim) + " to its side"
			m.Mark = Mark{Kind: ArcMark, At: c.r.Main, Normal: geometry.Vec{Z: 1}, Label: degrees(h.az)}
			m.Mark.From, m.Mark.To = h.at, h.at
			if c.lim.Min != nil && c.lim.Max != nil {
				m.Mark.From, m.Mark.To = c.toward(*c.lim.Min*h.side, h.el, h.dist), c.toward(*c.lim.Max*h.side, h.el, h.dist)
			}
		}
	}
}

// surroundInterval says how evenly several surrounds a side stand: how far an interval
// is off the mean of its side, or a place off its mirrored one.
func (c *checker) surroundInterval() {
	if !c.fiveChannels() {
		return
	}
	sides := [2]*channel{c.channel("M+110"), c.channel("M-110")}
	var az [2][]float64
	worst, at := math.Inf(-1), -1
	see := func(v float64, k int) {
		if v > worst+1e-9 {
			worst, at = v, k
		}
	}
	var speakers []int
	for n, g := range sides {
		if g == nil || len(g.speakers) < 2 {
			return
		}
		order := slices.Clone(g.speakers)
		own := func(k int) float64 {
			v := c.directions[k].az * c.directions[k].side
			if v < -90 {
				v += 360
			}
			return v
		}
		slices.SortFunc(order, func(a, b int) int { return cmp.Compare(own(a), own(b)) })
		for _, k := range order {
			az[n] = append(az[n], own(k))
		}
		speakers = append(speakers, order...)
		mean := (az[n][len(order)-1] - az[n][0]) / float64(len(order)-1)
		for i := 1; i < len(order); i++ {
			see(math.Abs(az[n][i]-az[n][i-1]-mean), order[i])
		}
		if n == 1 && len(az[0]) == len(az[1]) {
			for i := range az[0] {
				see(math.Abs(az[0][i]-az[1][i]), order[i])
			}
		}
	}
	m := c.remark(worst, c.lim)
	m.Speakers = speakers
	m.Text = "the surrounds of either side stand " + c.show(worst) + " off even and mirrored places at " + c.speaker(at) + ", " + m.Source.who() + " asks for equal intervals, and " + c.wants(c.lim) + " off is accepted"
	m.Mark = Mark{Kind: PointMark, At: c.directions[at].at, Label: c.show(worst)}
}

func (c *checker) surround()      { c.surrounds(false) }
func (c *checker) surroundArray() { c.surrounds(true) }

// partner returns the index of the partner of loudspeaker k, or -1.
func (c *checker) partner(k int) int {
	label := mirrored(c.r.Speakers[k].Label)
	for j := range c.r.Speakers {
		if c.r.Speakers[j].Label == label && c.r.Speakers[j].Copy == c.r.Speakers[k].Copy && c.directions[j].layer != "" {
			return j
		}
	}
	return -1
}

func (c *checker) pair() {
	for k := range c.directions {
		if c.directions[k].layer == "" || c.directions[k].side == 0 {
			continue
		}
		j := c.partner(k)
		if j >= 0 && c.directions[k].side < 0 {
			continue // reported with its left partner
		}
		if j >= 0 {
			m := c.remark(1, c.lim)
			m.Speakers = []int{k, j}
			m.Text = c.speaker(k) + " and " + c.speaker(j) + " are a pair"
			m.Mark = Mark{Kind: DistanceMark, From: c.directions[k].at, To: c.directions[j].at}
			continue
		}
		m := c.remark(0, c.lim)
		m.Speakers = []int{k}
		m.Text = c.speaker(k) + " has no partner " + mirrored(c.r.Speakers[k].Label)
		m.Mark = Mark{Kind: PointMark, At: c.directions[k].at, Label: "no partner"}
	}
}

// pairs measures every pair by f.
func (c *checker) pairs(what string, kind MarkKind, f func(l, r *direction) float64) {
	for k := range c.directions {
		if c.directions[k].layer == "" || c.directions[k].side <= 0 {
			continue
		}
		j := c.partner(k)
		if j < 0 {
			continue
		}
		l, r := &c.directions[k], &c.directions[j]
		v := f(l, r)
		m := c.remark(v, c.lim)
		m.Speakers = []int{k, j}
		m.Text = c.speaker(k) + " and " + c.speaker(j) + " differ by " + c.show(v) + " " + what + c.asks(c.lim)
		m.Mark = Mark{Kind: kind, At: c.r.Main, From: l.at, To: r.at, Label: c.show(v)}
		if kind == AngleMark {
			m.Mark.To.Y = 2*c.r.Main.Y - r.at.Y // where the left one should be
		}
	}
}

func (c *checker) symmetryAzimuth() {
	c.pairs("in azimuth", AngleMark, func(l, r *direction) float64 {
		return math.Abs(math.Remainder(l.az+r.az, 360))
	})
}

func (c *checker) symmetryElevation() {
	c.pairs("in elevation", AngleMark, func(l, r *direction) float64 { return math.Abs(l.el - r.el) })
}

func (c *checker) symmetryDistance() {
	c.pairs("in distance", DistanceMark, func(l, r *direction) float64 { return math.Abs(l.dist - r.dist) })
}

// plane is z = c + slope . (x, y) about a centre, with its unit normal upwards.
type plane struct{ center, normal geometry.Vec }

// off returns how far p is above the plane, square to it, metres.
func (p plane) off(q geometry.Vec) float64 { return q.Sub(p.center).Dot(p.normal) }

// fitPlane returns the plane with the least squares of the vertical distances to
// points; of several such planes the most level one. The distances are vertical
// and not perpendicular because loudspeakers behind a screen would otherwise fit
// the wall's own plane best. ok is false without points.
func fitPlane(points []geometry.Vec) (plane, bool) {
	n := len(points)
	if n == 0 {
		return plane{}, false
	}
	var p plane
	for _, q := range points {
		p.center = p.center.Add(q.Mul(1 / float64(n)))
	}
	a, z := mat.NewDense(max(n, 2), 2, nil), mat.NewVecDense(max(n, 2), nil)
	for i, q := range points {
		a.Set(i, 0, q.X-p.center.X)
		a.Set(i, 1, q.Y-p.center.Y)
		z.SetVec(i, q.Z-p.center.Z)
	}
	var slope mat.VecDense
	var svd mat.SVD
	const flat = 1e-6 // of the longer side: loudspeakers in one line
	if svd.Factorize(a, mat.SVDThin) {
		if rank := svd.Rank(flat); rank > 0 {
			svd.SolveVecTo(&slope, z, rank)
			p.normal = geometry.Vec{X: -slope.AtVec(0), Y: -slope.AtVec(1), Z: 1}
		}
	}
	if p.normal.Z == 0 {
		p.normal = geometry.Vec{Z: 1}
	}
	p.normal, _ = p.normal.Unit()
	return p, true
}

func (c *checker) bedPlane() {
	var of []int
	var points []geometry.Vec
	for k := range c.directions {
		if h := &c.directions[k]; h.layer == "M" && h.named < rearNamed && LayerIn(c.d, c.d.Speakers[k]) != Centre {
			of, points = append(of, k), append(points, h.at)
		}
	}
	if len(of) < 4 {
		return // three always lie on a plane
	}
	p, _ := fitPlane(points)
	for i, k := range of {
		off := p.off(points[i])
		m := c.remark(off, c.lim)
		m.Speakers = []int{k}
		where := " above"
		if off < 0 {
			where = " below"
		}
		m.Text = c.speaker(k) + " is " + c.show(math.Abs(off)) + where + " the plane of the bed layer" + c.asks(c.lim)
		foot := points[i].Sub(p.normal.Mul(off))
		m.Mark = Mark{Kind: PlaneMark, At: p.center, From: points[i], To: foot, Normal: p.normal, Label: c.show(off)}
	}
}

// layers reports the pairs of a bed loudspeaker and a height: how far apart they are
// heard, the main row first.
type layers struct {
	bed, high int
	v         float64
	at        int // the seat
	mainRow   bool
	grade     Grade
	seats     []int // of that grade
}

// separation tells of each bed loudspeaker and height that are heard too near each
// other, in one remark for the pairs of the two sides; of the nearest when all are well
// apart.
func (c *checker) separation() {
	var all []layers
	for k := range c.directions {
		if c.directions[k].layer != "M" {
			continue
		}
		for j := range c.directions {
			if l := c.directions[j].layer; l == "U" || l == "UH" || l == "T" {
				if p, ok := c.apart(k, j); ok {
					all = append(all, p)
				}
			}
		}
	}
	slices.SortStableFunc(all, func(a, b layers) int {
		if a.grade != b.grade {
			return int(b.grade) - int(a.grade)
		}
		if a.mainRow != b.mainRow {
			if a.mainRow {
				return -1
			}
			return 1
		}
		const level = 1e-9
		switch {
		case a.v < b.v-level:
			return -1
		case a.v > b.v+level:
			return 1
		}
		return 0
	})
	told := make([]bool, len(all))
	for i, p := range all {
		if told[i] || p.grade == Good && i > 0 {
			continue
		}
		b := c.std.Separation(p.mainRow)
		m := c.graded(p.v, b)
		m.Speakers, m.Seats = []int{p.bed, p.high}, p.seats
		names := c.speaker(p.bed) + " and " + c.speaker(p.high)
		if p.grade != Good {
			bed, high := c.partner(p.bed), c.partner(p.high)
			for n := i + 1; n < len(all); n++ {
				const alike = 2 // degrees
				if o := all[n]; bed >= 0 && o.bed == bed && o.high == high && o.grade == p.grade && o.mainRow == p.mainRow && math.Abs(o.v-p.v) < alike {
					told[n] = true
					m.Speakers = append(m.Speakers, bed, high)
					m.Seats = slices.Compact(slices.Sorted(slices.Values(slices.Concat(m.Seats, o.seats))))
					names += ", as " + c.speaker(bed) + " and " + c.speaker(high) + ","
				}
			}
		}
		ear := c.ear(p.at)
		m.Text = c.seatWords(p.at) + " hears " + names + " " + c.show(p.v) + " apart" + c.asksBands(b, m.Grade)
		if !b.Limit.Holds(p.v) {
			m.Text += "; under " + c.limit(b.Limit.Least()) + " they are heard as one"
		}
		m.Mark = Mark{Kind: AngleMark, At: ear, From: c.directions[p.bed].at, To: c.directions[p.high].at, Label: c.show(p.v)}
	}
}

// apart measures a bed loudspeaker and a height at every seat.
func (c *checker) apart(k, j int) (p layers, ok bool) {
	p = layers{bed: k, high: j, grade: Good, v: math.Inf(1), seats: make([]int, 0, len(c.r.Seats))}
	main, others := c.std.Separation(true), c.std.Separation(false)
	for i := range c.r.Seats {
		ear := c.ear(i)
		a, seen := c.directions[k].at.Sub(ear).Unit()
		b := c.directions[j].at.Sub(ear)
		if !seen || !(b.Len2() > 0) {
			continue
		}
		v := math.Acos(min(max(a.Dot(b)/b.Len(), -1), 1)) / unit.Degree
		if math.IsNaN(v) {
			continue
		}
		mainRow := c.r.Seats[i].Row == c.d.Seating.Main.Row
		bands := &others
		if mainRow {
			bands = &main
		}
		g := bands.Grade(v)
		const level = 1e-9
		worse := !ok || g > p.grade || g == p.grade && (mainRow && !p.mainRow || mainRow == p.mainRow && v < p.v-level)
		if !ok || g > p.grade {
			p.seats = p.seats[:0]
		}
		if worse {
			p.v, p.at, p.mainRow, p.grade, ok = v, i, mainRow, g, true
		}
		if g == p.grade {
			p.seats = append(p.seats, i)
		}
	}
	if p.grade == Good && ok {
		p.seats = []int{p.at}
	}
	return p, ok
}

// coverage judges every seat against the nominal coverage of every loudspeaker,
// across the box or upright. Angles are those of a polar measurement about the
// axis: first turned across, then up.
func (c *checker) coverage(upright bool) {
	allow := 0.0
	if c.lim.Max != nil {
		allow = *c.lim.Max
	}
	for k := range c.directions {
		sp := &c.r.Speakers[k]
		if len(sp.Drivers) == 0 || sp.Spec.Subwoofer() {
			continue
		}
		half, way := float64(sp.Spec.CoverageH)/2, "horizontally"
		if upright {
			half, way = float64(sp.Spec.CoverageV)/2, "vertically"
		}
		w := worst{lim: atMost(half + allow)}
		right, ok := sp.Front.V.Sub(sp.Axis.Mul(sp.Front.V.Dot(sp.Axis))).Unit()
		if !ok {
			continue
		}
		up := sp.Axis.Cross(right)
		if up.Dot(sp.Front.U) > 0 {
			up = up.Neg()
		}
		at := c.directions[k].at
		for i := range c.r.Seats {
			d := c.ear(i).Sub(at)
			if upright {
				w.add(i, math.Asin(min(max(math.Abs(d.Dot(up))/d.Len(), 0), 1))/unit.Degree, true)
			} else {
				w.add(i, math.Atan2(math.Abs(d.Dot(right)), d.Dot(sp.Axis))/unit.Degree, true)
			}
		}
		if !w.any {
			continue
		}
		m := c.remark(w.value, w.lim)
		m.Speakers, m.Seats = []int{k}, w.places()
		m.Severity = Note
		if layer := LayerOf(sp.Label); layer == Front || slices.ContainsFunc(w.fails, c.inMainRow) {
			m.Severity = c.rule.Severity
		}
		m.Text = c.speaker(k) + " covers "
		if n, of := len(c.r.Seats)-len(w.fails), len(c.r.Seats); n < of {
			m.Text += strconv.Itoa(n) + " of " + strconv.Itoa(of) + " seats"
		} else {
			m.Text += "every seat"
		}
		m.Text += "; " + c.seatWords(w.at) + " is " + c.show(w.value) + " " + way + " off its axis, its coverage ends at " + unit.Degrees(half).String()
		ear := c.ear(w.at)
		m.Mark = Mark{Kind: AngleMark, At: at, From: at.Add(sp.Axis.Mul(ear.Dist(at))), To: ear, Label: c.show(w.value)}
	}
}

// inMainRow reports whether seat i is in the main row.
func (c *checker) inMainRow(i int) bool { return c.r.Seats[i].Row == c.d.Seating.Main.Row }

func (c *checker) coverageAcross()  { c.coverage(false) }
func (c *checker) coverageUpright() { c.coverage(true) }

// paths judges what the audit found on the way to every loudspeaker: the worst
// path of all, or the worst of those that are free.
func (c *checker) paths(lim Limits, free bool) {
	for k := range c.r.Speakers {
		w := worst{lim: lim}
		for i := range c.r.Seats {
			p := c.r.Pair(i, k)
			q := p.Deciding()
			if q == nil || p.Verdict == sight.NotJudged || free && p.Verdict == sight.Blocked {
				continue
			}
			v := q.Clearance
			if p.Verdict == sight.Blocked {
				v = min(v, -1e-6) // a path through the very edge is blocked too
			}
			w.add(i, v, false)
		}
		if !w.any {
			continue
		}
		q := c.r.Pair(w.at, k).Deciding()
		m := c.remark(w.value, lim)
		m.Speakers, m.Seats = []int{k}, w.places()
		var text string
		switch {
		case w.value < 0:
			text = strconv.Itoa(len(w.fails)) + " of " + strconv.Itoa(len(c.r.Seats)) + " seats have " + c.speaker(k) +
				" blocked, worst " + c.seatWords(w.at) + ": " + c.r.WordsFrom(w.at, q.Blocker) + " stands " + c.show(-w.value) + " in the way"
		case w.value >= sight.Far:
			text = "the path to " + c.speaker(k) + " has nothing near it"
		default:
			text = c.seatWords(w.at) + ": the path to " + c.speaker(k) + " clears " + c.r.WordsFrom(w.at, q.Blocker) + " by " + c.show(w.value)
		}
		m.Text = text + c.asks(lim)
		m.Mark = Mark{Kind: DistanceMark, At: q.Nearest, From: q.From, To: q.To, Label: c.show(w.value)}
	}
}

func (c *checker) sight() { c.paths(c.lim, false) }

func (c *checker) sightMargin() {
	lim := c.lim
	if !c.limitOverridden {
		lim = atLeast(float64(c.d.Criteria.Margin))
	}
	c.paths(lim, true)
}

func (c *checker) loudspeakerWall() {
	if len(c.poly) < 3 {
		return
	}
	for k := range c.r.Speakers {
		sp := &c.r.Speakers[k]
		if len(sp.Drivers) == 0 || sp.Spec.Flush || sp.Spec.Subwoofer() || sp.Mount == project.BehindScreen {
			continue
		}
		least, corner := math.Inf(1), geometry.Vec{}
		for n := range 8 {
			u, v, w := sp.Box.Half.X, sp.Box.Half.Y, sp.Box.Half.Z
			if n&1 > 0 {
				u = -u
			}
			if n&2 > 0 {
				v = -v
			}
			if n&4 > 0 {
				w = -w
			}
			p := sp.Box.Center.Add(sp.Box.Basis.World(geometry.Vec{X: u, Y: v, Z: w}))
			q := geometry.Vec2{X: p.X, Y: p.Y}
			dist := c.poly.Distance(q)
			if !c.poly.Contains(q) {
				dist = -dist // in the wall
			}
			if dist < least {
				least, corner = dist, p
			}
		}
		front := c.poly.Distance(geometry.Vec2{X: float64(sp.At.X), Y: float64(sp.At.Y)})
		m := c.remark(least, c.lim)
		m.Speakers = []int{k}
		m.Text = c.speaker(k) + " has " + c.show(least) + " to the wall" + c.asks(c.lim)
		if front > 0.05 {
			// The reflection is half a wavelength late at c / 4d.
			m.Text += "; its front is " + c.show(front) + " off, a dip near " +
				strconv.FormatFloat(air.Speed20/(4*front), 'f', 0, 64) + " Hz"
		}
		m.Mark = Mark{Kind: DistanceMark, From: corner, To: c.wallFoot(corner), Label: c.show(least)}
	}
}

// wallFoot returns the point of the outline nearest to p, at p's height.
func (c *checker) wallFoot(p geometry.Vec) geometry.Vec {
	_, f := c.poly.Nearest(geometry.Vec2{X: p.X, Y: p.Y})
	return geometry.Vec{X: f.X, Y: f.Y, Z: p.Z}
}
