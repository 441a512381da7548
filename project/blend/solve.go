// SPDX-License-Identifier: MIT

package blend

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"strings"

	"earline/project"
	"earline/project/bass"
	"earline/project/bass/crossover"
)

// Figures say how well a main and the subwoofers blend at one seat. All levels are
// energy means over a third of an octave: narrower dips of a room are not heard as such,
// and lie elsewhere at the next seat.
type Figures struct {
	// Level is that of both together at the crossover, dB against the level to which
	// they are set; it has the room in it.
	Level float64
	// Dip is the least of what both make against the sum in phase, from half an octave
	// below the crossover to half an octave above it, dB, at DipAt hertz: 0 is in phase
	// throughout.
	Dip, DipAt float64
	// Uneven is how far the level together strays from its mean from 40 to 160 Hz, dB
	// root mean square.
	Uneven float64
}

// Band in which Uneven is judged, hertz: an octave either side of 80 Hz.
const (
	evenFrom = 40
	evenTo   = 160
)

// Figures returns the figures of a sum at a seat for the crossover, in hertz.
func (s *Sum) Figures(seat int, crossover float64) Figures {
	all := s.Together.Frequencies
	f := Figures{Dip: math.Inf(1)}
	thirds := thirdsAround(all)
	together, inPhase := smooth(s.Together.Seat(seat), thirds), smooth(s.InPhase.Seat(seat), thirds)
	off, mean, square, n := math.Inf(1), 0.0, 0.0, 0.0
	for i, hz := range all {
		if d := math.Abs(math.Log2(hz / crossover)); d < off {
			off, f.Level = d, together[i]
		}
		if around(hz, crossover) {
			if d := together[i] - inPhase[i]; d < f.Dip {
				f.Dip, f.DipAt = d, hz
			}
		}
		if hz >= evenFrom && hz <= evenTo*(1+1e-9) {
			mean, square, n = mean+together[i], square+together[i]*together[i], n+1
		}
	}
	if math.IsInf(f.Dip, 1) { // the crossover lies beyond what is computed
		f.Dip = 0
	}
	f.Uneven = math.Sqrt(max(0, square/n-mean/n*mean/n))
	return f
}

// around reports whether hz lies around the crossover: within half an octave.
func around(hz, crossover float64) bool {
	return hz >= crossover/math.Sqrt2 && hz <= crossover*math.Sqrt2
}

// span is a run of frequencies, [from, to).
type span struct{ from, to int }

// thirdsAround returns the third of an octave about each of the ascending frequencies.
func thirdsAround(frequencies []float64) []span {
	const half = 1.0 / 6 // octave
	edge := math.Exp2(half)
	out := make([]span, len(frequencies))
	from, to := 0, 0
	for i, hz := range frequencies {
		for frequencies[from] < hz/edge {
			from++
		}
		for to < len(frequencies) && frequencies[to] <= hz*edge {
			to++
		}
		out[i] = span{from, to}
	}
	return out
}

// smooth returns the energy means of levels over spans, dB.
func smooth(level []float64, over []span) []float64 {
	sums := make([]float64, len(level)+1)
	for i, l := range level {
		sums[i+1] = sums[i] + math.Pow(10, l/10)
	}
	out := make([]float64, len(level))
	for i, s := range over {
		out[i] = 10 * math.Log10(max(sums[s.to]-sums[s.from], 1e-20)/float64(s.to-s.from))
	}
	return out
}

// Solve returns set with the delay and polarity of the subwoofers for which the least
// sum of both against that in phase, around the crossover at the main position, is the
// most: see Figures.Dip. All whole steps of delay up to one period of the crossover
// either way are tried, in steps of at least 0.02 ms. Where nothing gains 1 dB the result is
// set itself; else, of the settings within 0.5 dB of the best, the one that changes the
// least. So the result is never worse than set, and what was set so stays.
func (s *Study) Solve(main int, set Setting) Setting {
	const (
		finest = 0.02e-3 // s
		worth  = 1.0     // dB
		alike  = 0.5     // dB
	)
	step := s.Step * math.Max(1, math.Ceil(finest/s.Step-1e-9))
	reach := int(1 / set.Crossover / step)
	p := s.pairs(main, set)
	dips := [2][]float64{p.dips(step, reach, 1), p.dips(step, reach, -1)}
	best := max(slices.Max(dips[0]), slices.Max(dips[1]))
	if dips[0][reach] > best-worth {
		return set
	}
	for n := range reach + 1 {
		for polarity, all := range dips {
			for _, k := range []int{n, -n} {
				if all[reach+k] >= best-alike {
					set.Delay += float64(k) * step
					set.Inverted = set.Inverted != (polarity == 1)
					return set
				}
			}
		}
	}
	return set
}

// pairs are the sounds of a main and of the subwoofers at the main position around a
// crossover, and what is beside it as far as thirds reach.
type pairs struct {
	high, low []complex128
	hz        []float64
	judged    []span // the thirds about the frequencies that are judged
}

func (s *Study) pairs(main int, set Setting) pairs {
	all, pair, n := s.grid.Frequencies, crossover.Of(set.Slope), len(s.grid.Frequencies)
	var p pairs
	from, to := n, 0
	for f, third := range thirdsAround(all) {
		if around(all[f], set.Crossover) {
			p.judged = append(p.judged, third)
			from, to = min(from, third.from), max(to, third.to)
		}
	}
	for i := range p.judged {
		p.judged[i].from -= from
		p.judged[i].to -= from
	}
	drive := bass.Drive{Delay: set.Delay, Inverted: set.Inverted}
	for f := from; f < to; f++ {
		at, hz := s.Seat*n+f, all[f]
		p.hz = append(p.hz, hz)
		p.high = append(p.high, s.Mains[main].sound[at]*pair.High.Response(hz, set.Crossover))
		p.low = append(p.low, s.subs[at]*pair.Low.Response(hz, set.Crossover)*drive.Response(hz))
	}
	return p
}

// dips returns the dips for delays of -reach to reach steps, dB, with the polarity, 1 or
// -1.
func (p *pairs) dips(step float64, reach int, polarity complex128) []float64 {
	dips := make([]float64, 2*reach+1)
	got, whole := make([]float64, len(p.hz)+1), make([]float64, len(p.hz)+1) // running sums
	low, turn := make([]complex128, len(p.hz)), make([]complex128, len(p.hz))
	for f, hz := range p.hz {
		low[f] = polarity * p.low[f] * bass.Drive{Delay: -float64(reach) * step}.Response(hz)
		turn[f] = bass.Drive{Delay: step}.Response(hz)
		most := cmplx.Abs(p.high[f]) + cmplx.Abs(p.low[f])
		whole[f+1] = whole[f] + most*most
	}
	for i := range dips {
		for f := range p.hz {
			v := p.high[f] + low[f]
			got[f+1] = got[f] + real(v)*real(v) + imag(v)*imag(v)
			low[f] *= turn[f]
		}
		least := 1.0
		for _, t := range p.judged {
			if all := whole[t.to] - whole[t.from]; all > 0 {
				least = min(least, (got[t.to]-got[t.from])/all)
			}
		}
		dips[i] = 10 * math.Log10(max(least, 1e-20))
	}
	return dips
}

// Tuned returns a copy of d in which all subwoofers are set as set says: later by its
// delay, or turned round, all alike, so that what aligning did among them stays. Where
// that asks for a delay below 0 everything, mains and subwoofers, plays later by what is
// missing.
func (s *Study) Tuned(d *project.Design, set Setting) *project.Design {
	out := d.Clone()
	missing := 1000 * s.missing(set)
	later := func(k int, ms float64) {
		t := &out.Speakers[k].Tuning
		t.Delay = math.Round(1e6*(t.Delay+ms)) / 1e6
	}
	sub := map[int]bool{}
	for _, k := range s.Plan.Speakers {
		sub[k] = true
		later(k, 1000*set.Delay+missing)
		if set.Inverted {
			out.Speakers[k].Tuning.Inverted = !out.Speakers[k].Tuning.Inverted
		}
	}
	for k := range out.Speakers {
		if !sub[k] && missing > 0 {
			later(k, missing)
		}
	}
	return out
}

// missing returns by how much set asks for a delay below 0, seconds.
func (s *Study) missing(set Setting) float64 {
	missing := 0.0
	for _, sub := range s.Plan.Subs {
		missing = max(missing, -(sub.Delay + set.Delay))
	}
	return missing
}

// Reaches say which mains do not reach down to their crossover, and the nearest that
// works: a line for all that are alike.
func (s *Study) Reaches() []string {
	var out []string
	type low struct{ crossover, reach float64 }
	names := map[low][]string{}
	for i := range s.Mains {
		m := &s.Mains[i]
		key := low{m.Crossover, m.Reach}
		names[key] = append(names[key], m.Name)
	}
	for i := range s.Mains {
		m := &s.Mains[i]
		all := names[low{m.Crossover, m.Reach}]
		if m.Reach > m.Crossover && all[0] == m.Name {
			nearest := fmt.Sprintf("Nearest that works: %.0f Hz.", m.Least())
			if m.Least() > project.MostCrossover {
				nearest = fmt.Sprintf("No crossover reaches up there, %d Hz is the highest.", project.MostCrossover)
			}
			out = append(out, fmt.Sprintf("The crossover at %.0f Hz lies below the low end of %s, %.0f Hz (-3 dB): what is between is weak. %s", m.Crossover, strings.Join(all, ", "), m.Reach, nearest))
		}
	}
	return out
}

// Least returns the lowest crossover, in hertz, in steps of 5, that a main reaches down
// to.
func (m *Main) Least() float64 { return 5 * math.Ceil(m.Reach/5-1e-9) }
