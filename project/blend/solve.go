// SPDX-License-Identifier: MIT

package blend

import (
	"fmt"
	"math"

	"earline/project"
	"earline/project/bass/crossover"
)

// Figures say how well a main and the subwoofers blend at one seat.
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
	f := Figures{Dip: math.Inf(1)}
	together, inPhase := s.Together.Seat(seat), s.InPhase.Seat(seat)
	nearestAt, mean, square, n := math.Inf(1), 0.0, 0.0, 0.0
	for i, hz := range s.Together.Frequencies {
		if off := math.Abs(math.Log2(hz / crossover)); off < nearestAt {
			nearestAt, f.Level = off, together[i]
		}
		if round(hz, crossover) {
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

// round reports whether hz lies round the crossover: within half an octave.
func round(hz, crossover float64) bool {
	return hz >= crossover/math.Sqrt2 && hz <= crossover*math.Sqrt2
}

// Solve returns set with the delay and polarity of the subwoofers for which the least
// sum of both against that in phase, round the crossover at the main position, is the
// most: see Figures.Dip. All whole steps of delay up to one period of the crossover
// either way are tried, in steps of at least 0.02 ms. Of settings within 0.1 dB of the
// best the one that changes the least is taken: set itself where nothing gains more. So
// the result is never worse than set.
func (s *Study) Solve(main int, set Setting) Setting {
	const (
		finest = 0.02e-3 // s
		gains  = 0.1     // dB
	)
	step := s.Step * math.Max(1, math.Ceil(finest/s.Step-1e-9))
	reach := int(1 / set.Crossover / step)
	around := s.around(main, set)
	best := math.Inf(-1)
	figures := map[bool][]float64{false: around.dips(step, reach, false), true: around.dips(step, reach, true)}
	for _, all := range figures {
		for _, d := range all {
			best = max(best, d)
		}
	}
	for n := range reach + 1 {
		for _, inverted := range []bool{false, true} {
			for _, k := range []int{n, -n} {
				if figures[inverted][reach+k] >= best-gains {
					set.Delay += float64(k) * step
					set.Inverted = set.Inverted != inverted
					return set
				}
			}
		}
	}
	return set
}

// pairs are the two sounds at the main position round the crossover.
type pairs struct {
	frequencies []float64
	high, low   []complex128
}

func (s *Study) around(main int, set Setting) pairs {
	pair, n := crossover.Of(set.Slope), len(s.grid.Frequencies)
	var p pairs
	for f, hz := range s.grid.Frequencies {
		if !round(hz, set.Crossover) {
			continue
		}
		at := s.Seat*n + f
		low := s.subs[at] * pair.Low.Response(hz, set.Crossover) * turn(hz, set.Delay)
		if set.Inverted {
			low = -low
		}
		p.frequencies = append(p.frequencies, hz)
		p.high = append(p.high, s.Mains[main].sound[at]*pair.High.Response(hz, set.Crossover))
		p.low = append(p.low, low)
	}
	return p
}

// dips returns the dips for delays of -reach to reach steps, dB.
func (p *pairs) dips(step float64, reach int, inverted bool) []float64 {
	all := make([]float64, 2*reach+1)
	for i := range all {
		all[i] = 1
	}
	for f, hz := range p.frequencies {
		a, b := p.high[f], p.low[f]
		whole := math.Hypot(real(a), imag(a)) + math.Hypot(real(b), imag(b))
		if whole == 0 {
			continue
		}
		if inverted {
			b = -b
		}
		b *= turn(hz, -float64(reach)*step)
		each := turn(hz, step)
		for i := range all {
			v := a + b
			all[i] = min(all[i], (real(v)*real(v)+imag(v)*imag(v))/(whole*whole))
			b *= each
		}
	}
	for i, v := range all {
		all[i] = 10 * math.Log10(v+1e-20)
	}
	return all
}

// turn returns what a delay of that many seconds does to a tone of f hertz.
func turn(f, delay float64) complex128 {
	sin, cos := math.Sincos(-2 * math.Pi * f * delay)
	return complex(cos, sin)
}

// Tuned returns a copy of d in which all subwoofers are set as set says: later by its
// delay, or turned round, all alike, so that what aligning did among them stays. Where
// that asks for a delay below 0 everything, mains and subwoofers, plays later by what is
// missing.
func (s *Study) Tuned(d *project.Design, set Setting) *project.Design {
	out := d.Clone()
	missing := 0.0
	for _, k := range s.Plan.Speakers {
		missing = max(missing, -(out.Speakers[k].Tuning.Delay + 1000*set.Delay))
	}
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

// Reaches say which mains do not reach down to their crossover, and the nearest that
// works: a line each.
func (s *Study) Reaches() []string {
	var out []string
	for i := range s.Mains {
		if m := &s.Mains[i]; m.Reach > m.Crossover {
			out = append(out, fmt.Sprintf("%s: the crossover at %.0f Hz lies below its own low end, %.0f Hz (-3 dB): what is between is missing. Nearest that works: %.0f Hz.", m.Name, m.Crossover, m.Reach, m.Least()))
		}
	}
	return out
}

// Least returns the lowest crossover, in hertz, in steps of 5, that a main reaches down
// to.
func (m *Main) Least() float64 { return 5 * math.Ceil(m.Reach/5-1e-9) }
