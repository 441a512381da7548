// SPDX-License-Identifier: MIT

package chart

import "math"

// nominalThirds are the nominal midband frequencies of one-third-octave bands from
// 10 Hz, one decade (the series R 10 of ISO 3, which ISO 266 prefers).
var nominalThirds = [10]float64{10, 12.5, 16, 20, 25, 31.5, 40, 50, 63, 80}

// nominalThird returns third n from 10 Hz upwards, below it for negative n.
func nominalThird(n int) float64 {
	d := int(math.Floor(float64(n) / 10))
	p := math.Pow(10, math.Abs(float64(d)))
	if d < 0 {
		return nominalThirds[n-10*d] / p // 10^-d is not exact, its quotient is rounded once
	}
	return nominalThirds[n-10*d] * p
}

// isOctave reports whether third n is the middle of an octave: 16, 31.5, 63 ...
// every third one.
func isOctave(n int) bool { return ((n-2)%3+3)%3 == 0 }

// roundOutward returns the nominal third at v, or the next one above or below it.
func roundOutward(v float64, up bool) float64 {
	n := int(math.Round(10 * math.Log10(v/10)))
	w := nominalThird(n)
	near := math.Abs(w-v) < 0.02*v // midbands are printed rounded, by up to 1.3 %
	switch {
	case up && w < v && !near:
		return nominalThird(n + 1)
	case !up && w > v && !near:
		return nominalThird(n - 1)
	case up:
		return max(w, v)
	}
	return min(w, v)
}

// frequencyScale is logarithmic, with ticks at octaves and, where there is room, at
// thirds of octaves.
func frequencyScale(ax *Axis, data extent, on track) scale {
	const lowest = 1e-3 // Hz, far below anything a room does
	b := ax.bounds(data.or(extent{20, 20000}), lowest)
	b.lo = max(b.lo, lowest)
	if !b.loFixed {
		b.lo = roundOutward(b.lo, false)
	}
	if !b.hiFixed {
		b.hi = roundOutward(max(b.hi, lowest), true)
	}
	if !hasLength(b.lo, b.hi) {
		if b.hiFixed {
			b.lo = b.hi / 2
		} else {
			b.hi = b.lo * 2
		}
	}
	s := scale{track: on, axis: ax, kind: Frequency, min: b.lo, max: b.hi, unit: "Hz", factor: 1}
	s.frequencyTicks()
	return s
}

func (s *scale) frequencyTicks() {
	const slack = 1e-9 // of the ratio: ends that were asked for are to be seen
	lo, hi := s.min*(1-slack), s.max*(1+slack)
	n0 := int(math.Floor(10*math.Log10(s.min/10))) - 1
	n1 := int(math.Ceil(10*math.Log10(s.max/10))) + 1
	third := s.length() / math.Log(s.max/s.min) * math.Log(10) / 10 // px
	for n := n0; n <= n1 && n1-n0 < maxTicks; n++ {
		v := nominalThird(n)
		if v < lo || v > hi {
			continue
		}
		if isOctave(n) || third >= 5*s.k {
			s.ticks = append(s.ticks, tick{value: v, major: isOctave(n)})
		}
	}
	if len(s.ticks) == 0 { // less than a third: the ends say enough
		s.ticks = []tick{{value: s.min, text: formatHertz(s.min), major: true}, {value: s.max, text: formatHertz(s.max), major: true}}
		return
	}
	s.labelFrequencies(third)
}

// labelFrequencies writes the ticks that have room: octaves first, then the ends of
// the axis, then the thirds between them - all of these or none. third is the
// length of one, in pixels.
func (s *scale) labelFrequencies(third float64) {
	var used []extent
	label := func(i int) {
		t := &s.ticks[i]
		if t.text != "" {
			return
		}
		text := formatHertz(t.value)
		p, half := s.pixel(t.value), s.width(text)/2+4*s.k
		for _, u := range used {
			if p-half < u.hi && p+half > u.lo {
				return
			}
		}
		t.text = text
		used = append(used, extent{p - half, p + half})
	}
	thirds := true
	for i := range s.ticks {
		if third < s.width(formatHertz(s.ticks[i].value))+6*s.k {
			thirds = false
		}
	}
	for i := range s.ticks {
		if s.ticks[i].major {
			label(i)
		}
	}
	for _, i := range []int{0, len(s.ticks) - 1} {
		p := s.pixel(s.ticks[i].value)
		if math.Abs(p-s.from) < 2*s.k || math.Abs(p-s.to) < 2*s.k {
			label(i)
		}
	}
	if thirds {
		for i := range s.ticks {
			label(i)
		}
	}
}
