// SPDX-License-Identifier: MIT

package equalise

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"earline/project"
	"earline/project/bass/filter"
)

// solver fits filters one after the other, each where it helps most, and after each lets
// all of them find their best place together.
type solver struct {
	o       Options
	f       []float64 // Hz
	delay   []complex128
	weight  []float64 // of each frequency in the band, 0 outside
	above   []float64 // mean less target before, dB
	allowed []float64 // how far it may be raised, dB
	target  []float64
	mean    []float64
	apart   []float64
	// headroom is by how much a signal may be raised, dB; nil is not known.
	headroom []float64

	filters []project.Filter
	each    [][]float64 // level of each filter, dB
	sum     []float64   // of all
}

func newSolver(r *Responses, o Options) *solver {
	s := &solver{o: o, f: r.Frequencies, mean: r.Mean(), apart: r.Deviation()}
	for _, f := range s.f {
		s.delay = append(s.delay, filter.Delay(f, filter.Rate))
	}
	s.weight = octaves(s.f, o.From, o.To)
	n := len(s.f)
	s.above, s.target, s.sum = make([]float64, n), make([]float64, n), make([]float64, n)
	for i, f := range s.f {
		s.above[i] = s.mean[i] - o.Target.At(f)
	}
	reached := s.weight // the fall below what subwoofers reach says nothing of the level
	if r.Lowest > o.From && r.Lowest < o.To {
		reached = octaves(s.f, r.Lowest, o.To)
	}
	level := below(s.above, reached, under)
	for i, f := range s.f {
		s.above[i] -= level
		s.target[i] = level + o.Target.At(f)
	}
	if r.Limit != nil {
		for i := range s.f {
			s.headroom = append(s.headroom, r.Limit[i]+level-r.Wanted[i])
		}
	}
	s.allowed = allowed(r, o, s.apart, s.headroom)
	return s
}

// solve finds the filters; where they are no better than none there are none. Where
// boosts are allowed they are the better of two: filters of either kind as they help most,
// and boosts added to the best cuts. So boosts never do worse than cuts alone.
func (s *solver) solve() {
	s.fit(nil)
	if boost := s.o.Boost; boost > 0 {
		either, left := s.filters, s.rms()
		s.o.Boost = 0
		s.fit(nil)
		cuts, withCuts := s.filters, s.rms()
		s.o.Boost = boost
		if s.fit(cuts); s.rms() > withCuts {
			s.filters = cuts
			s.respond()
		}
		if s.rms() > left {
			s.filters = either
		}
	}
	slices.SortStableFunc(s.filters, func(a, b project.Filter) int { return cmp.Compare(a.Frequency, b.Frequency) })
	s.respond()
	if s.rms() >= s.unfiltered() {
		s.filters = nil
		s.respond()
	}
}

// fit adds filters to those given and puts all on the steps of a processor.
func (s *solver) fit(given []project.Filter) {
	s.filters = slices.Clone(given)
	s.greedy()
	s.settle()
	s.prune()
	s.hold()
}

// respond computes what the filters do.
func (s *solver) respond() {
	s.each = s.each[:0]
	clear(s.sum)
	for _, f := range s.filters {
		one := s.levels(f, nil)
		s.each = append(s.each, one)
		for i, l := range one {
			s.sum[i] += l
		}
	}
}

// change puts f in place of filter k.
func (s *solver) change(k int, f project.Filter) {
	for i, l := range s.each[k] {
		s.sum[i] -= l
	}
	s.filters[k] = f
	s.each[k] = s.levels(f, s.each[k])
	for i, l := range s.each[k] {
		s.sum[i] += l
	}
}

// levels returns what a filter does at each frequency, dB, in to if it is long enough.
func (s *solver) levels(f project.Filter, to []float64) []float64 {
	if len(to) != len(s.f) {
		to = make([]float64, len(s.f))
	}
	b, err := filter.New(f, filter.Rate)
	if err != nil { // kept from it by the bounds
		clear(to)
		return to
	}
	for i := range s.f {
		to[i] = filter.Level(b.At(s.delay[i]))
	}
	return to
}

// firm is what a dB too much of boost costs, dB^2 for each dB^2 of the band.
const firm = 100

// excess returns by how much frequency i is raised beyond what is allowed, dB.
func (s *solver) excess(i int) float64 { return max(0, s.sum[i]-max(s.allowed[i], spill)) }

// cost is the mean square distance from the target, dB^2, with what excess costs.
func (s *solver) cost() float64 {
	c := 0.0
	share := firm / float64(len(s.f))
	for i, w := range s.weight {
		d := s.above[i] + s.sum[i]
		over := s.excess(i)
		c += w*d*d + share*over*over
	}
	return c
}

// rms is the distance from the target, dB.
func (s *solver) rms() float64 {
	c := 0.0
	for i, w := range s.weight {
		d := s.above[i] + s.sum[i]
		c += w * d * d
	}
	return math.Sqrt(c)
}

// unfiltered is rms without filters.
func (s *solver) unfiltered() float64 {
	c := 0.0
	for i, w := range s.weight {
		c += w * s.above[i] * s.above[i]
	}
	return math.Sqrt(c)
}

// worthwhile is what a filter must take off rms, dB: for less nobody sets one.
const worthwhile = 0.1

// greedy adds filters as long as one helps.
func (s *solver) greedy() {
	s.respond()
	shapes := s.shapes()
	for len(s.filters) < s.o.Most {
		before, kept := s.rms(), slices.Clone(s.filters)
		best, least := kept, before-worthwhile
		for _, f := range s.next(shapes) {
			s.filters = append(slices.Clone(kept), f)
			s.respond()
			s.polish()
			if r := s.rms(); r < least {
				best, least = slices.Clone(s.filters), r
			}
		}
		s.filters = best
		s.respond()
		if len(best) == len(kept) {
			return
		}
	}
}

// shape is a filter that may be added, and what 1 dB of it does, as if that grew with its
// gain: nearly so, and enough to begin with.
type shape struct {
	filter project.Filter
	unit   []float64
}

func (s *solver) shapes() []shape {
	const (
		perOctave = 12
		trial     = -6.0 // dB
	)
	var out []shape
	add := func(kind project.FilterKind, hz, q float64) {
		f := project.Filter{Of: project.AllSubwoofers, Kind: kind, Frequency: hz, Gain: trial, Q: q}
		unit := s.levels(f, nil)
		for i := range unit {
			unit[i] /= trial
		}
		out = append(out, shape{f, unit})
	}
	steps := int(math.Ceil(math.Log2(s.o.To/s.o.From) * perOctave))
	for k := range steps + 1 {
		hz := s.o.From * math.Pow(s.o.To/s.o.From, float64(k)/float64(steps))
		for _, q := range [...]float64{0.7, 1, 1.5, 2.2, 3.3, 5, 7, 10} {
			add(project.Peak, hz, q)
		}
		add(project.LowShelf, hz, shelfQ)
		add(project.HighShelf, hz, shelfQ)
	}
	return out
}

// next returns the filters to try next: that which by itself helps most, and that which
// does so elsewhere.
func (s *solver) next(shapes []shape) []project.Filter {
	const elsewhere = 0.5 // octave
	var best project.Filter
	most := func(apart bool) (f project.Filter) {
		least := 0.0
		for _, c := range shapes {
			if apart && math.Abs(math.Log2(c.filter.Frequency/best.Frequency)) < elsewhere {
				continue
			}
			a, b := 0.0, 0.0
			for i, w := range s.weight {
				if w > 0 {
					a += w * (s.above[i] + s.sum[i]) * c.unit[i]
					b += w * c.unit[i] * c.unit[i]
				}
			}
			if b == 0 {
				continue
			}
			lo, hi := s.gains(c.filter)
			gain := min(hi, max(lo, -a/b))
			if saved := -(2*gain*a + gain*gain*b); saved > least {
				least, f = saved, c.filter
				f.Gain = gain
			}
		}
		return f
	}
	if best = most(false); best.Gain == 0 {
		return nil
	}
	other := most(true)
	if other.Gain == 0 {
		return []project.Filter{best}
	}
	return []project.Filter{best, other}
}

// gains returns the bounds of a filter's gain, dB. Only peaks boost: a shelf raises
// everything beyond it.
func (s *solver) gains(f project.Filter) (lo, hi float64) {
	if f.Kind == project.Peak && s.o.Boost > 0 {
		near, least := 0, math.Inf(1)
		for i, hz := range s.f {
			if d := math.Abs(hz - f.Frequency); d < least {
				near, least = i, d
			}
		}
		hi = s.allowed[near]
	}
	return -deepestCut, hi
}

// The three settings of a filter that can be turned: Gauss and Newton's way takes the
// logarithms of frequency and Q.
const (
	turnFrequency = iota
	turnGain
	turnQ
	turns
)

// turned returns f with a setting changed by step, in octaves or dB, within bounds.
func (s *solver) turned(f project.Filter, setting int, step float64) project.Filter {
	switch setting {
	case turnFrequency:
		f.Frequency = min(s.o.To, max(s.o.From, f.Frequency*math.Exp2(step)))
	case turnGain:
		lo, hi := s.gains(f)
		f.Gain = min(hi, max(lo, f.Gain+step))
	case turnQ:
		if f.Kind == project.Peak {
			f.Q = min(narrowest, max(widest, f.Q*math.Exp2(step)))
		}
	}
	return f
}

// polish lets all filters find their best settings together: Gauss-Newton steps, damped
// as Levenberg (1944) and Marquardt (1963) do.
func (s *solver) polish() {
	const (
		rounds = 12
		small  = 1e-3 // octave, dB: to take slopes with
		least  = 1e-4 // dB^2: an end
	)
	n := turns * len(s.filters)
	slopes := make([][]float64, n)
	damping := 0.01
	for range rounds {
		was := s.cost()
		for k, f := range s.filters {
			for t := range turns {
				moved := s.turned(f, t, small)
				step := small
				if moved == f { // at a bound: the other way
					if moved, step = s.turned(f, t, -small), -small; moved == f {
						slopes[turns*k+t] = nil
						continue
					}
				}
				d := s.levels(moved, slopes[turns*k+t])
				for i := range d {
					d[i] = (d[i] - s.each[k][i]) / step
				}
				slopes[turns*k+t] = d
			}
		}
		square, slope := s.normal(slopes)
		before := slices.Clone(s.filters)
		for {
			step, ok := solveDamped(square, slope, damping)
			if ok {
				for k := range s.filters {
					f := before[k]
					for t := range turns {
						f = s.turned(f, t, min(1, max(-1, step[turns*k+t])))
					}
					s.filters[k] = f
				}
				s.respond()
				if s.cost() < was {
					break
				}
			}
			if damping *= 8; damping > 1e6 {
				s.filters = before
				s.respond()
				return
			}
		}
		damping = max(damping/8, 1e-4)
		if was-s.cost() < least {
			return
		}
	}
}

// normal returns the normal equations of the distance from the target by the settings.
func (s *solver) normal(slopes [][]float64) (square *mat.SymDense, slope []float64) {
	n := len(slopes)
	square, slope = mat.NewSymDense(n, nil), make([]float64, n)
	share := firm / float64(len(s.f))
	for a := range n {
		if slopes[a] == nil {
			square.SetSym(a, a, 1)
			continue
		}
		for i, w := range s.weight {
			over := s.excess(i)
			slope[a] += slopes[a][i] * (w*(s.above[i]+s.sum[i]) + share*over)
		}
		for b := a; b < n; b++ {
			if slopes[b] == nil {
				continue
			}
			v := 0.0
			for i, w := range s.weight {
				if s.excess(i) > 0 {
					w += share
				}
				v += w * slopes[a][i] * slopes[b][i]
			}
			square.SetSym(a, b, v)
		}
	}
	return square, slope
}

// solveDamped returns the step that the damped normal equations ask for.
func solveDamped(square *mat.SymDense, slope []float64, damping float64) ([]float64, bool) {
	n := len(slope)
	a := mat.NewSymDense(n, nil)
	a.CopySym(square)
	for i := range n {
		a.SetSym(i, i, square.At(i, i)*(1+damping)+1e-9)
	}
	var c mat.Cholesky
	if !c.Factorize(a) {
		return nil, false
	}
	x := mat.NewVecDense(n, nil)
	if err := c.SolveVecTo(x, mat.NewVecDense(n, slices.Clone(slope))); err != nil {
		return nil, false
	}
	step := x.RawVector().Data
	for i := range step {
		step[i] = -step[i]
	}
	return step, true
}

// settle puts the filters on the steps of a processor, then turns one setting by one step
// at a time until nothing helps.
func (s *solver) settle() {
	for k, f := range s.filters {
		f.Frequency = onStep(f.Frequency, wholeHertz, s.o.From, s.o.To)
		lo, hi := s.gains(f)
		f.Gain, f.Q = onStep(f.Gain, gainStep, lo, hi), onStep(f.Q, qs, widest, narrowest)
		s.filters[k] = f
	}
	s.respond()
	best := s.cost()
	const rounds = 25
	for range rounds {
		helped := false
		for k := range s.filters {
			for t := range turns {
				for _, way := range [...]float64{1, -1} {
					f := s.filters[k]
					moved := s.stepped(f, t, way)
					if moved == f {
						continue
					}
					s.change(k, moved)
					if c := s.cost(); c < best-1e-9 {
						best, helped = c, true
					} else {
						s.change(k, f)
					}
				}
			}
		}
		if !helped {
			break
		}
	}
	s.filters = slices.DeleteFunc(s.filters, func(f project.Filter) bool { return f.Gain == 0 })
	s.respond()
}

func (s *solver) stepped(f project.Filter, setting int, way float64) project.Filter {
	switch setting {
	case turnFrequency:
		f.Frequency = onStep(f.Frequency+way*wholeHertz, wholeHertz, s.o.From, s.o.To)
	case turnGain:
		lo, hi := s.gains(f)
		f.Gain = onStep(f.Gain+way*gainStep, gainStep, lo, hi)
	case turnQ:
		if f.Kind == project.Peak {
			f.Q = onStep(f.Q+way*qs, qs, widest, narrowest)
		}
	}
	return f
}

// onStep returns the step nearest x from lo to hi.
func onStep(x, step, lo, hi float64) float64 {
	const dust = 1e-9
	k := min(math.Floor(hi/step+dust), max(math.Ceil(lo/step-dust), math.Round(x/step)))
	return math.Round(k*step*10)/10 + 0 // no -0, and no 0.30000000000000004
}

// prune takes out filters that are hardly missed.
func (s *solver) prune() {
	for {
		with, least, at := s.rms(), worthwhile/2, -1
		for k := range s.filters {
			f := s.filters[k]
			none := f
			none.Gain = 0
			s.change(k, none)
			if d := s.rms() - with; d < least {
				least, at = d, k
			}
			s.change(k, f)
		}
		if at < 0 {
			return
		}
		s.filters = slices.Delete(s.filters, at, at+1)
		s.respond()
		s.settle()
	}
}

// hold lowers boosts until nothing is raised beyond what is allowed.
func (s *solver) hold() {
	for {
		worst, most := -1, 1e-9
		for i := range s.sum {
			if e := s.excess(i); e > most {
				worst, most = i, e
			}
		}
		if worst < 0 {
			break
		}
		at, raised := -1, 0.0
		for k, l := range s.each {
			if l[worst] > raised {
				at, raised = k, l[worst]
			}
		}
		if at < 0 {
			break
		}
		f := s.filters[at]
		f.Gain = max(0, f.Gain-gainStep)
		s.change(at, f)
	}
	s.filters = slices.DeleteFunc(s.filters, func(f project.Filter) bool { return f.Gain == 0 })
	s.respond()
}
