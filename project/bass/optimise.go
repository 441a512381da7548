// SPDX-License-Identifier: MIT

package bass

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"gonum.org/v1/gonum/optimize"

	"earline/project/bass/field"
	"earline/project/crew"
)

// Optimised is what Optimise found.
type Optimised struct {
	Subs []Sub // as given, with other gains, delays and polarities
	// Before and After are the figures of the response as given and as found, After
	// with gains and delays on the processor's steps. All seats count alike in them.
	Before, After Figures
	// ValueBefore and ValueAfter are the value that Optimise minimises: variance, the
	// seats as weighed, plus the price of lost output, in dB^2. ShortBefore and
	// ShortAfter are what the third that lacks most lacks to the floor, in dB.
	ValueBefore, ValueAfter float64
	ShortBefore, ShortAfter float64
	Thirds                  []Third // what it does to the output
	Starts                  int     // searches made
	Remarks                 []string
}

// Optimise finds gains, delays and polarities that make the seats hear alike, by
// the mean spatial variance and the price of lost output, and keep the floor of
// Limits.GiveUp. t holds the sound of each of subs at each seat.
//
// It goes downhill (BFGS with derivatives in closed form, gonum's optimize) from
// the given drives, from all in phase and from the best points of a fixed lattice
// for each set of polarities, then from the best of these with one subwoofer set
// otherwise; all that with some of the frequencies, and on from the best with all.
// Then it rounds to the processor's steps and walks on these until no single step
// helps. What saves less than 1 % of the value is left as it was. Subwoofers that
// sound alike at every seat are set alike, and most keep the polarity that most had.
//
// The result is the same each time. It is never worse than the given drives: it
// lacks no more to the floor, and where that is the same its value is no higher. It
// is not proven to be the best. Optimise returns a *project.Fault for what cannot be
// used, and the context's error soon after a cancellation.
func Optimise(ctx context.Context, t *field.Transfer, subs []Sub, l Limits) (*Optimised, error) {
	l, err := l.check(t.Receivers)
	if err != nil {
		return nil, err
	}
	before, err := Combine(t, subs)
	if err != nil {
		return nil, err
	}
	given := make([]Drive, len(subs))
	for i, s := range subs {
		given[i] = s.Drive
	}
	full := newObjective(t, subs, l.Weights, l.Price)
	groups := l.together(full, given)
	lead := make([]Drive, len(groups))
	for g, group := range groups {
		lead[g] = given[group[0]]
	}
	plain, held := l.inPhaseSettings(given)
	full.measure([][]Drive{plain, held}, l.GiveUp)
	for k := range l.priced {
		full.thirds[k].priced = l.priced[k]
	}
	n := full.merged(groups)
	coarse := n.thinned(max(1, n.freqs/coarsest))
	coarse.takeFloors(full, plain, groups)

	o := &Optimised{Before: before.Figures()}
	settings, least := given, full.judge(given)
	o.ValueBefore, o.ShortBefore = least.value, least.short
	found, err := l.search(ctx, n, coarse, lead)
	if err != nil {
		return nil, err
	}
	o.Starts = found.starts
	for _, drives := range found.best {
		drives = l.asWired(expand(drives, groups), given)
		if w := full.judge(drives); w.beats(least) {
			settings, least = drives, w
		}
	}
	if was := full.judge(given); was.short < least.short+trifle && least.value > (1-trouble)*was.value {
		settings, least = given, was
	}
	o.Subs, o.ValueAfter, o.ShortAfter = slices.Clone(subs), least.value, least.short
	for i := range o.Subs {
		o.Subs[i].Drive = settings[i]
	}
	after, err := Combine(t, o.Subs)
	if err != nil {
		return nil, err
	}
	o.After = after.Figures()
	o.Thirds = full.paid(given, settings)
	o.Remarks = append(slices.Clone(t.Remarks), l.remarks(o)...)
	o.Remarks = append(o.Remarks,
		fmt.Sprintf("Best of %d searches downhill; a better setting cannot be ruled out. Check it by measurement at the seats.", o.Starts),
		"The subwoofers are aligned among themselves; set them against the mains afterwards, at the crossover.")
	return o, nil
}

// trouble is the share of the value that another setting must save: for less nobody
// sets a processor anew.
const trouble = 0.01

// worth is how good what was found is.
func (o *Optimised) worth() worth { return worth{o.ShortAfter, o.ValueAfter} }

// coarsest is about how many frequencies the first searches use: 19 to an octave
// show every mode that is not far under-damped.
const coarsest = 48

// finalists is how many of the first searches go on with all frequencies.
const finalists = 6

// jumpers is from how many of them single subwoofers go elsewhere.
const jumpers = 4

// rounds is how often they do.
const rounds = 2

// found is what the searches came to.
type found struct {
	best   [][]Drive
	starts int
}

// search goes downhill from everywhere on the coarse objective, then from the best
// of what that came to on n.
func (l Limits) search(ctx context.Context, n, coarse *objective, lead []Drive) (found, error) {
	plain, _ := l.inPhaseSettings(lead)
	starts, err := l.starts(ctx, coarse, lead)
	if err != nil {
		return found{}, err
	}
	starts = append(starts, plain)
	ends, err := l.descend(ctx, coarse, starts, false, 0, 0.5)
	if err != nil {
		return found{}, err
	}
	// From the best of these each subwoofer in turn goes anywhere else, and downhill
	// again from there: a search alone does not cross a ridge.
	made := len(starts)
	for round := range rounds {
		var jumps [][]Drive
		for _, d := range bestOf(coarse, ends, jumpers) {
			jumps = append(jumps, l.jumps(coarse, d)...)
		}
		from := 0.5 + 0.2*float64(round)/rounds
		more, err := l.descend(ctx, coarse, jumps, false, from, from+0.2/rounds)
		if err != nil {
			return found{}, err
		}
		ends, made = append(ends, more...), made+len(jumps)
	}
	last := bestOf(n, ends, finalists)
	best, err := l.descend(ctx, n, last, true, 0.7, 1)
	if err != nil {
		return found{}, err
	}
	best = append(best, l.settle(ctx, n, plain)) // near the floor, if nothing else is
	return found{best, made}, ctx.Err()
}

// bestOf returns up to count of the settings, the best first, each once. What the
// floor lacks is weighed as value weighs it: the last steps may still make it up.
func bestOf(n *objective, settings [][]Drive, count int) [][]Drive {
	type end struct {
		drives []Drive
		value  float64
	}
	var ends []end
	for _, d := range settings {
		ends = append(ends, end{d, n.value(d, nil)})
	}
	slices.SortStableFunc(ends, func(a, b end) int { return cmp.Compare(a.value, b.value) })
	var best [][]Drive
	for _, e := range ends {
		if len(best) < count && !slices.ContainsFunc(best, func(d []Drive) bool { return alike(d, e.drives) }) {
			best = append(best, e.drives)
		}
	}
	return best
}

// jumps returns, for each subwoofer and each polarity of it, the setting with the best
// delay and gain of that one that differs from drives.
func (l Limits) jumps(n *objective, drives []Drive) [][]Drive {
	const (
		near   = 0.001 // s: from there it would come back
		delays = 24
		gains  = 3
	)
	var all [][]Drive
	for s := 1; s < len(drives); s++ { // the first may stay: only differences count
		for _, turned := range []bool{false, true} {
			if turned && l.KeepPolarity {
				continue
			}
			var best []Drive
			least := math.Inf(1)
			d := slices.Clone(drives)
			d[s].Inverted = drives[s].Inverted != turned
			loDelay, hiDelay := l.delay(drives[s].Delay)
			loGain, hiGain := l.gain(drives[s].Gain)
			for i := range delays {
				d[s].Delay = loDelay + (hiDelay-loDelay)*float64(i)/(delays-1)
				if !turned && math.Abs(d[s].Delay-drives[s].Delay) < near {
					continue
				}
				for k := range gains {
					d[s].Gain = hiGain - (hiGain-loGain)/2*float64(k)/(gains-1) // the louder half
					if v := n.value(d, nil); v < least {
						best, least = slices.Clone(d), v
					}
				}
			}
			if best != nil {
				all = append(all, best)
			}
		}
	}
	return all
}

// alike reports whether two sets of drives differ by less than a search needs to
// tell them apart.
func alike(a, b []Drive) bool {
	const (
		level = 0.1     // dB
		time  = 0.00005 // s
	)
	for i := range a {
		if math.Abs(a[i].Gain-b[i].Gain) > level || math.Abs((a[i].Delay-a[0].Delay)-(b[i].Delay-b[0].Delay)) > time ||
			(a[i].Inverted != a[0].Inverted) != (b[i].Inverted != b[0].Inverted) {
			return false
		}
	}
	return true
}

// mostPolarities is the largest number of sets of polarities for which all are
// tried: 8 subwoofers, of which the first keeps its own.
const mostPolarities = 128

// starts returns where to go downhill from: the given drives, held to the
// limits, and the best points of a lattice, at least one for each set of
// polarities. Inverting all polarities changes nothing, so the first keeps its
// own.
func (l Limits) starts(ctx context.Context, n *objective, given []Drive) ([][]Drive, error) {
	held := l.within(given)
	sets := 1
	if !l.KeepPolarity {
		for range given[1:] {
			sets = min(mostPolarities, 2*sets)
		}
	}
	const lattice = 768 // points in all, at 0.03 ms each
	each := max(8, lattice/sets)
	all := [][]Drive{held}
	type place struct {
		drives []Drive
		value  float64
	}
	var rest []place
	for set := range sets {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		var places []place
		for k := range each {
			d := slices.Clone(held)
			for i := range d {
				if i > 0 && i <= 7 && set>>(i-1)&1 == 1 {
					d[i].Inverted = !d[i].Inverted
				}
				if k == 0 {
					continue // as given but for polarity
				}
				// Additive recurrence on a generalised golden ratio (Roberts 2018): evenly
				// spread, the same each time.
				lo, hi := l.gain(given[i].Gain)
				d[i].Gain = hi - (hi-lo)/2*spread(k, 2*i, 2*len(d)) // the louder half
				lo, hi = l.delay(given[i].Delay)
				d[i].Delay = lo + (hi-lo)*spread(k, 2*i+1, 2*len(d))
			}
			places = append(places, place{d, n.value(d, nil)})
		}
		slices.SortStableFunc(places, func(a, b place) int { return cmp.Compare(a.value, b.value) })
		all = append(all, places[0].drives)
		rest = append(rest, places[1:]...)
	}
	slices.SortStableFunc(rest, func(a, b place) int { return cmp.Compare(a.value, b.value) })
	for _, p := range rest {
		if len(all) >= l.Starts {
			break
		}
		all = append(all, p.drives)
	}
	return all, nil
}

// spread returns coordinate i of the k-th of evenly spread points in [0, 1) of
// the given dimension.
func spread(k, i, dimension int) float64 {
	g := 2.0
	for range 40 { // g^(dimension+1) = g + 1
		g = math.Pow(1+g, 1/float64(dimension+1))
	}
	_, x := math.Modf(0.5 + float64(k)*math.Pow(1/g, float64(i+1)))
	return x
}

// descend goes downhill from each start, and onto the processor's steps if settle is
// set. It tells progress from one share to another.
func (l Limits) descend(ctx context.Context, n *objective, starts [][]Drive, settle bool, from, to float64) ([][]Drive, error) {
	found := make([][]Drive, len(starts))
	fails := make([]error, len(starts))
	var next, done atomic.Int64
	var all crew.Crew
	var mu sync.Mutex
	last := from
	for range min(runtime.GOMAXPROCS(0), len(starts)) {
		all.Go(func() {
			own := n.clone()
			for {
				i := int(next.Add(1)) - 1
				if i >= len(starts) {
					return
				}
				found[i], fails[i] = l.downhill(ctx, own, starts[i])
				if settle && fails[i] == nil {
					found[i] = l.settle(ctx, own, found[i])
				}
				share := from + (to-from)*float64(done.Add(1))/float64(len(starts))
				if l.Progress != nil {
					mu.Lock()
					last = max(last, share)
					l.Progress(last)
					mu.Unlock()
				}
			}
		})
	}
	all.Wait()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return found, errors.Join(fails...)
}

// downhill goes downhill from one start. It substitutes x = lo + (hi - lo)(1 + sin
// u)/2 for gains and delays, so that the search itself needs no bounds.
func (l Limits) downhill(ctx context.Context, n *objective, start []Drive) ([]Drive, error) {
	d := slices.Clone(start)
	span := make([][2]float64, 2*len(d)) // lo, hi - lo
	u := make([]float64, 2*len(d))
	for i := range d {
		bound := func(k int, lo, hi, x float64) {
			span[k] = [2]float64{lo, hi - lo}
			if hi > lo {
				// A little off the bounds, where the sine's derivative is 0.
				u[k] = math.Asin(min(0.98, max(-0.98, 2*(x-lo)/(hi-lo)-1)))
			}
		}
		lo, hi := l.gain(d[i].Gain)
		bound(2*i, lo, hi, d[i].Gain)
		lo, hi = l.delay(d[i].Delay)
		bound(2*i+1, lo, hi, d[i].Delay)
	}
	set := func(u []float64) {
		for i := range d {
			d[i].Gain = span[2*i][0] + span[2*i][1]*(1+math.Sin(u[2*i]))/2
			d[i].Delay = span[2*i+1][0] + span[2*i+1][1]*(1+math.Sin(u[2*i+1]))/2
		}
	}
	// The search wants value and derivatives at the same point, one after the other;
	// they are computed together.
	at, slopes := make([]float64, len(u)), make([]float64, len(u))
	at[0] = math.NaN()
	var value float64
	look := func(u []float64) {
		if slices.Equal(at, u) {
			return
		}
		copy(at, u)
		set(u)
		value = n.value(d, slopes)
		for k := range slopes {
			slopes[k] *= span[k][1] * math.Cos(u[k]) / 2
		}
	}
	p := optimize.Problem{
		Func: func(u []float64) float64 { look(u); return value },
		Grad: func(grad, u []float64) { look(u); copy(grad, slopes) },
		Status: func() (optimize.Status, error) {
			if err := ctx.Err(); err != nil {
				return optimize.Failure, err
			}
			return optimize.NotTerminated, nil
		},
	}
	settings := &optimize.Settings{
		GradientThreshold: 1e-4, // dB^2 per radian: far below any step
		MajorIterations:   60,
		Converger:         &optimize.FunctionConverge{Absolute: 1e-4, Iterations: 6},
	}
	r, err := optimize.Minimize(p, u, settings, &optimize.BFGS{})
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	// A line search that finds nothing better ends with an error and the best point
	// so far, which is all that is needed.
	if r == nil {
		return nil, fmt.Errorf("bass: search: %w", err)
	}
	set(r.X)
	return d, nil
}

// settle rounds drives to the processor's steps, then changes one gain or delay by
// one step at a time until nothing helps. Kept gains and delays stay.
func (l Limits) settle(ctx context.Context, n *objective, d []Drive) []Drive {
	round := func(x, step, lo, hi float64) float64 {
		if lo == hi {
			return x
		}
		k := math.Round(x / step)
		for k*step > hi {
			k--
		}
		for k*step < lo {
			k++
		}
		if k*step > hi { // no step between the bounds
			return hi
		}
		return k*step + 0 // no -0
	}
	const rounding = 1e-12 // of bounds that are whole steps, relative to 1 s or 1 dB
	d = slices.Clone(d)
	if !l.KeepDelay { // a delay common to all has no effect
		least := math.Inf(1)
		for i := range d {
			least = min(least, d[i].Delay)
		}
		for i := range d {
			d[i].Delay -= least
		}
	}
	for i := range d {
		lo, hi := l.gain(d[i].Gain)
		d[i].Gain = round(d[i].Gain, l.GainStep, lo-rounding, hi+rounding)
		if l.KeepGain {
			d[i].Gain = lo
		}
		lo, hi = l.delay(d[i].Delay)
		d[i].Delay = round(d[i].Delay, l.DelayStep, lo-rounding, hi+rounding)
		if l.KeepDelay {
			d[i].Delay = lo
		}
	}
	best := n.judge(d)
	for helped, rounds := true, 0; helped && rounds < 20 && ctx.Err() == nil; rounds++ {
		helped = false
		for i := range d {
			for _, way := range [...]float64{1, -1} {
				lo, hi := l.gain(d[i].Gain)
				if g := d[i].Gain + way*l.GainStep; !l.KeepGain && g >= lo-rounding && g <= hi+rounding {
					was := d[i].Gain
					d[i].Gain = g
					if v := n.judge(d); v.beats(best) {
						best, helped = v, true
					} else {
						d[i].Gain = was
					}
				}
				lo, hi = l.delay(d[i].Delay)
				if t := d[i].Delay + way*l.DelayStep; !l.KeepDelay && t >= lo-rounding && t <= hi+rounding {
					was := d[i].Delay
					d[i].Delay = max(0, t)
					if v := n.judge(d); v.beats(best) {
						best, helped = v, true
					} else {
						d[i].Delay = was
					}
				}
			}
		}
	}
	return d
}
