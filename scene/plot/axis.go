// SPDX-License-Identifier: MIT

package plot

import "math"

// thirds are the nominal midband frequencies of one-third-octave bands from
// 10 Hz, one decade (the series R 10 of ISO 3, which ISO 266 prefers).
var thirds = [10]float64{10, 12.5, 16, 20, 25, 31.5, 40, 50, 63, 80}

// tick is a line of the grid; text is empty for one that is not written.
type tick struct {
	v     float64
	text  string
	major bool
	below string // a second line
}

// scale places the values of an axis on a line of pixels.
type scale struct {
	axis     *Axis
	kind     AxisKind
	min, max float64
	a, b     float64 // pixels of min and max
	ticks    []tick
	unit     string
	per      float64 // what a written number is multiplied by: 1000 for ms
	digits   int     // behind the point, of ticks
}

// pixel returns where v stands, at most far outside.
func (s *scale) pixel(v float64) float64 {
	const far = 1e5 // px, beyond any display, before float32 rasters lose pixels
	return min(max(s.a+(s.b-s.a)*s.share(v), -far), far)
}

func (s *scale) share(v float64) float64 {
	if s.kind == Frequency {
		if v <= 0 {
			return -most
		}
		return math.Log(v/s.min) / math.Log(s.max/s.min)
	}
	return (v - s.min) / (s.max - s.min)
}

// value returns what stands at pixel p.
func (s *scale) value(p float64) float64 {
	t := (p - s.a) / (s.b - s.a)
	if s.kind == Frequency {
		return s.min * math.Pow(s.max/s.min, t)
	}
	return s.min + t*(s.max-s.min)
}

// span is the reach of data.
type span struct{ lo, hi float64 }

func nothing() span { return span{math.Inf(1), math.Inf(-1)} }

func (r *span) add(v float64) {
	if usable(v) {
		r.lo, r.hi = min(r.lo, v), max(r.hi, v)
	}
}

func (r span) empty() bool { return r.lo > r.hi }

// reach returns what the data of c take up on both axes.
func (c *Chart) reach() (x, y span) {
	x, y = nothing(), nothing()
	for i := range c.Series {
		s := &c.Series[i]
		for k := range s.length() {
			px, py, ok := s.point(k)
			if !ok || c.X.Kind == Frequency && px <= 0 {
				continue
			}
			x.add(px)
			y.add(py)
			if l, ok := s.low(k); ok {
				y.add(l)
			}
		}
		if (s.Kind == Bars || s.Kind == Stems) && s.length() > 0 && len(s.Low) == 0 && c.Y.Kind != Decibel {
			y.add(0)
		}
	}
	for _, b := range c.Bands {
		for _, v := range b.Low {
			y.add(v)
		}
		for _, v := range b.High {
			y.add(v)
		}
	}
	return x, y
}

// newScale returns the scale of an axis over pixels a to b, of which a written
// value takes up room and its neighbour begins after it. wide returns how much
// room a text takes up along the axis.
func newScale(ax *Axis, data span, horizontal bool, a, b, k float64, wide func(string) float64) scale {
	s := scale{axis: ax, kind: ax.Kind, a: a, b: b, per: 1, unit: ax.Unit}
	if s.kind > Category || s.kind == Category && !horizontal {
		s.kind = Linear
	}
	lo, hi, fixedLo, fixedHi := s.bounds(data)
	switch s.kind {
	case Frequency:
		s.unit = "Hz"
		s.min, s.max = lo, hi
		s.frequencies(wide, k)
		return s
	case Category:
		s.categories(wide, k)
		return s
	case Decibel:
		if s.unit == "" {
			s.unit = "dB"
		}
	case Time:
		s.unit = "s"
		if math.Max(math.Abs(lo), math.Abs(hi)) <= 0.5 {
			s.unit, s.per = "ms", 1000
		}
	}
	// The step is the least that leaves room for what is written.
	length := math.Abs(b - a)
	gap := 24 * k
	if horizontal {
		gap = 46 * k
	}
	const many = 13.0 // numbers: more of them are a pattern, not a help
	n := min(max(math.Floor(length/gap), 1), many)
	step := nice((hi-lo)*s.per/n, s.kind)
	if horizontal { // again, with what is truly written
		widest := 0.0
		for _, v := range []float64{lo, hi, lo + step/s.per} {
			widest = max(widest, wide(number(v*s.per, decimals(step))))
		}
		n = min(max(math.Floor(length/max(gap, widest+14*k)), 1), 2*many)
		step = nice((hi-lo)*s.per/n, s.kind)
	}
	if s.kind == Decibel && fixedLo && fixedHi {
		// A step that meets both ends, where there is one of about that size.
		for _, m := range []float64{1, 2, 3, 5, 6, 10, 12, 20} {
			if m >= step/2 && m >= (hi-lo)/n && m <= 2*step && math.Mod(lo, m) == 0 && math.Mod(hi, m) == 0 {
				step = m
				break
			}
		}
	}
	if !fixedLo {
		lo = math.Floor(lo*s.per/step+1e-9) * step / s.per
	}
	if !fixedHi {
		hi = math.Ceil(hi*s.per/step-1e-9) * step / s.per
	}
	s.min, s.max, s.digits = lo, hi, decimals(step)
	const enough = 400 // ticks: more cannot be seen on any display
	first, last := math.Ceil(lo*s.per/step-1e-6), math.Floor(hi*s.per/step+1e-6)
	if last-first > enough {
		last = first + enough
	}
	for i := first; i <= last; i++ {
		v := i * step / s.per
		s.ticks = append(s.ticks, tick{v: v, text: number(i*step, s.digits), major: true})
	}
	// Finer lines between, where they can be told apart: fifths of fives, thirds
	// of threes, halves of all else.
	parts := 2.0
	switch lead := step / math.Pow(10, math.Floor(math.Log10(step)+1e-9)); {
	case math.Abs(lead-5) < 1e-6:
		parts = 5
	case math.Abs(lead-3) < 1e-6:
		parts = 3
	}
	fine := step / s.per / parts
	if fine/(hi-lo)*length < 11*k {
		return s
	}
	for i := math.Ceil(lo/fine - 1e-6); i*fine <= hi*(1+1e-12) && len(s.ticks) < 4*enough; i++ {
		if math.Mod(math.Abs(i), parts) != 0 {
			s.ticks = append(s.ticks, tick{v: i * fine})
		}
	}
	return s
}

// bounds returns where the axis ends and whether that was asked for.
func (s *scale) bounds(data span) (lo, hi float64, fixedLo, fixedHi bool) {
	ax := s.axis
	good := func(v float64) bool { return usable(v) && (s.kind != Frequency || v >= 1e-3) }
	if ax.Min != 0 || ax.Max != 0 {
		fixedLo, fixedHi = good(ax.Min), good(ax.Max)
		if fixedLo && fixedHi && !apart(ax.Min, ax.Max) {
			fixedLo, fixedHi = false, false
		}
	}
	lo, hi = data.lo, data.hi
	if data.empty() {
		lo, hi = 0, 1
		switch s.kind {
		case Frequency:
			lo, hi = 20, 20000
		case Decibel:
			lo, hi = -20, 0
		}
	}
	if fixedLo {
		lo = ax.Min
	}
	if fixedHi {
		hi = ax.Max
	}
	if s.kind == Frequency {
		lo = max(lo, 1e-3)
		if !fixedLo {
			lo = outward(lo, false)
		}
		if !fixedHi {
			hi = outward(max(hi, 1e-3), true)
		}
		if !apart(lo, hi) || hi < lo {
			if fixedHi {
				lo = hi / 2
			} else {
				hi = lo * 2
			}
		}
		return lo, hi, fixedLo, fixedHi
	}
	least := 0.0
	if s.kind == Decibel {
		least = 20 // so that ripples of a tenth of a decibel do not look like faults
	} else if !apart(lo, hi) {
		least = max(1, 0.2*math.Abs(lo))
		if s.kind == Time {
			least = max(0.01, 0.2*math.Abs(lo))
		}
	}
	if short := least - (hi - lo); short > 0 {
		switch {
		case fixedLo && fixedHi:
		case fixedLo || lo == 0:
			hi += short
		case fixedHi || hi == 0:
			lo -= short
		default:
			lo, hi = lo-short/2, hi+short/2
		}
	}
	if !apart(lo, hi) { // one end asked for beyond all data
		lo, hi = min(lo, hi), min(lo, hi)+max(1, 0.2*math.Abs(lo))
		fixedLo, fixedHi = false, false
	}
	return lo, hi, fixedLo, fixedHi
}

// apart reports whether an axis from a to b has a length that floats can divide.
func apart(a, b float64) bool {
	return b-a > 1e-9*max(math.Abs(a), math.Abs(b)) && b-a > 1e-9
}

// nice returns the least step of 1, 2 or 5 times a power of ten from v on;
// decibels go in 1, 2, 5, 10, 20 ... too, but never below 1.
func nice(v float64, kind AxisKind) float64 {
	if kind == Decibel {
		v = max(v, 1)
	}
	if !(v > 0) || v > most*10 {
		return 1
	}
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 2, 5, 10} {
		if m*p >= v*(1-1e-9) {
			return m * p
		}
	}
	return 10 * p
}

// decimals returns how many digits a multiple of step needs.
func decimals(step float64) int {
	return int(min(max(-math.Floor(math.Log10(step)+1e-9), 0), 9))
}

// nominal returns third n from 10 Hz, n below nought too.
func nominal(n int) float64 {
	d := int(math.Floor(float64(n) / 10))
	p := math.Pow(10, math.Abs(float64(d)))
	if d < 0 {
		return thirds[n-10*d] / p // 10^-d is not exact, its quotient is rounded once
	}
	return thirds[n-10*d] * p
}

// octave reports whether third n is the middle of an octave: 16, 31.5, 63 ...
// every third one.
func octave(n int) bool { return ((n-2)%3+3)%3 == 0 }

// outward returns the nominal third at v or beyond it.
func outward(v float64, up bool) float64 {
	n := int(math.Round(10 * math.Log10(v/10)))
	w := nominal(n)
	near := math.Abs(w-v) < 0.02*v // midbands are printed rounded, by up to 1.3 %
	switch {
	case up && w < v && !near:
		return nominal(n + 1)
	case !up && w > v && !near:
		return nominal(n - 1)
	case up:
		return max(w, v)
	}
	return min(w, v)
}

// frequencies puts ticks at octaves, and at thirds where there is room.
func (s *scale) frequencies(wide func(string) float64, k float64) {
	const slack = 1e-9 // of the ratio: ends asked for are meant to be seen
	lo, hi := s.min*(1-slack), s.max*(1+slack)
	n0 := int(math.Floor(10*math.Log10(s.min/10))) - 1
	n1 := int(math.Ceil(10*math.Log10(s.max/10))) + 1
	px := func(v float64) float64 { return s.pixel(v) }
	third := math.Abs(s.b-s.a) / math.Log(s.max/s.min) * math.Log(10) / 10 // px
	for n := n0; n <= n1 && n1-n0 < 400; n++ {
		v := nominal(n)
		if v < lo || v > hi {
			continue
		}
		if octave(n) || third >= 5*k {
			s.ticks = append(s.ticks, tick{v: v, major: octave(n)})
		}
	}
	// Octaves are written first, then the ends, then thirds, as far as there is
	// room; where not even octaves have, every second one.
	type taken struct{ a, b float64 }
	var used []taken
	write := func(i int) {
		t := &s.ticks[i]
		if t.text != "" {
			return
		}
		text := hertz(t.v)
		p, w := px(t.v), wide(text)/2+4*k
		for _, u := range used {
			if p-w < u.b && p+w > u.a {
				return
			}
		}
		t.text = text
		used = append(used, taken{p - w, p + w})
	}
	all := true // thirds are all written, or none but those at the ends of the axis
	for i := range s.ticks {
		if third < wide(hertz(s.ticks[i].v))+6*k {
			all = false
		}
	}
	for i := range s.ticks {
		if s.ticks[i].major {
			write(i)
		}
	}
	for _, i := range []int{0, len(s.ticks) - 1} {
		if i >= 0 && i < len(s.ticks) && (math.Abs(px(s.ticks[i].v)-s.a) < 2*k || math.Abs(px(s.ticks[i].v)-s.b) < 2*k) {
			write(i)
		}
	}
	if all {
		for i := range s.ticks {
			write(i)
		}
	}
	if len(s.ticks) == 0 { // less than a third: the ends say enough
		s.ticks = []tick{{v: s.min, text: hertz(s.min), major: true}, {v: s.max, text: hertz(s.max), major: true}}
	}
}

func (s *scale) categories(wide func(string) float64, k float64) {
	names := s.axis.Categories
	n := max(len(names), 1)
	s.min, s.max = -0.5, float64(n)-0.5
	slot := math.Abs(s.b-s.a) / float64(n)
	widest := 0.0
	for _, t := range names {
		widest = max(widest, wide(t))
	}
	// Long names are shortened, but not below what can be told apart.
	every := max(int(math.Ceil(min(widest+8*k, 48*k)/slot)), 1)
	for i, t := range names {
		if i%every != 0 {
			continue
		}
		// On two lines, what is too long for one.
		lines := wrap(t, slot*float64(every)-6*k, 2, wide)
		lines = append(lines, "", "")
		s.ticks = append(s.ticks, tick{v: float64(i), text: lines[0], below: lines[1], major: true})
	}
}

// shorten cuts text so that it is no wider than room, and says so with "…".
func shorten(text string, room float64, wide func(string) float64) string {
	if wide(text) <= room {
		return text
	}
	r := []rune(text)
	lo, hi := 0, len(r)
	for lo < hi { // wide grows with length
		m := (lo + hi + 1) / 2
		if wide(string(r[:m])+"…") <= room {
			lo = m
		} else {
			hi = m - 1
		}
	}
	if lo == 0 {
		return ""
	}
	return string(r[:lo]) + "…"
}
