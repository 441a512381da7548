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

	"earline/project"
	"earline/project/bass/field"
	"earline/project/crew"
)

// Limits are what Optimise may change, and how far. The zero value is ready to
// use.
type Limits struct {
	// LeastGain and GreatestGain bound the gains, in dB; both 0 are -12 and 0.
	LeastGain, GreatestGain float64
	// LongestDelay bounds the delays, in seconds, from 0; 0 is 20 ms.
	LongestDelay float64
	// GainStep and DelayStep are the processor's, in dB and seconds; 0 are 0.5 dB
	// and 0.1 ms.
	GainStep, DelayStep float64
	// KeepPolarity, KeepGain and KeepDelay leave these settings as they are.
	KeepPolarity, KeepGain, KeepDelay bool
	// Price is what lost output costs: dB^2 of variance for each dB^2 of mean output
	// level lost, against all subwoofers at the greatest gain added up by power. 0
	// is 0.1, so that a loss of 3 dB must save 0.9 dB^2; a negative price is none.
	Price float64
	// Starts is the number of points from which the search goes downhill, at least
	// one for each set of polarities; 0 is 24.
	Starts int
	// Progress, if not nil, receives the share done, 0 to 1, never less than before.
	// It is called on other goroutines, by one at a time.
	Progress func(share float64)
}

func (l Limits) check() (Limits, error) {
	if l.LeastGain == 0 && l.GreatestGain == 0 {
		l.LeastGain = -12
	}
	set := func(v *float64, def float64) {
		if *v == 0 {
			*v = def
		}
	}
	set(&l.LongestDelay, 0.020)
	set(&l.GainStep, 0.5)
	set(&l.DelayStep, 0.0001)
	set(&l.Price, 0.1)
	l.Price = max(0, l.Price)
	if l.Starts == 0 {
		l.Starts = 24
	}
	var faults []error
	fault := func(field string, v any, allowed string) {
		faults = append(faults, &project.Fault{Field: field, Found: fmt.Sprint(v), Allowed: allowed})
	}
	if !(l.LeastGain <= l.GreatestGain && l.LeastGain >= -100 && l.GreatestGain <= 100) {
		fault("gains", fmt.Sprintf("%v to %v dB", l.LeastGain, l.GreatestGain), "the least first, -100 to 100 dB")
	}
	if !(l.LongestDelay > 0 && l.LongestDelay <= 1) {
		fault("longest delay", fmt.Sprint(l.LongestDelay, " s"), "above 0, up to 1 s")
	}
	if !(l.GainStep > 0 && l.GainStep <= 20) {
		fault("gain step", fmt.Sprint(l.GainStep, " dB"), "above 0, up to 20 dB")
	}
	if !(l.DelayStep > 0 && l.DelayStep <= 0.1) {
		fault("delay step", fmt.Sprint(l.DelayStep, " s"), "above 0, up to 0.1 s")
	}
	if !(l.Price <= 1000) {
		fault("price of output", l.Price, "up to 1000")
	}
	if l.Starts < 1 || l.Starts > 10_000 {
		fault("starts", l.Starts, "1 to 10000")
	}
	return l, errors.Join(faults...)
}

// Optimised is what Optimise found.
type Optimised struct {
	Subs []Sub // as given, with other gains, delays and polarities
	// Before and After are the figures of the response as given and as found, After
	// with gains and delays on the processor's steps.
	Before, After Figures
	// ValueBefore and ValueAfter are the value that Optimise minimises: variance plus
	// the price of lost output, in dB^2.
	ValueBefore, ValueAfter float64
	Starts                  int // searches made
	Remarks                 []string
}

// Optimise finds gains, delays and polarities that make the seats hear alike, by
// the mean spatial variance and the price of lost output. t holds the sound of
// each of subs at each seat.
//
// It goes downhill (BFGS with derivatives in closed form, gonum's optimize) from
// the given drives and from the best points of a fixed lattice for each set of
// polarities, then rounds to the processor's steps and walks on these until no
// single step helps. The result is the same each time and its value is never worse
// than that of the given drives; it is not proven to be the best. Optimise returns
// a *project.Fault for what cannot be used, and the context's error soon after a
// cancellation.
func Optimise(ctx context.Context, t *field.Transfer, subs []Sub, l Limits) (*Optimised, error) {
	l, err := l.check()
	if err != nil {
		return nil, err
	}
	before, err := Combine(t, subs)
	if err != nil {
		return nil, err
	}
	n := newObjective(t, subs, l.GreatestGain, l.Price)
	given := make([]Drive, len(subs))
	for i, s := range subs {
		given[i] = s.Drive
	}
	o := &Optimised{Before: before.Figures(), ValueBefore: n.value(given, nil)}
	starts, err := l.starts(ctx, n, given)
	if err != nil {
		return nil, err
	}
	found, err := l.descend(ctx, n, starts)
	if err != nil {
		return nil, err
	}
	o.Starts = len(starts)
	const worth = 1e-6 // dB^2 by which another setting must be better, above rounding
	best, least := given, o.ValueBefore
	for _, drives := range found {
		if v := n.value(drives, nil); v < least-worth {
			best, least = drives, v
		}
	}
	o.Subs, o.ValueAfter = slices.Clone(subs), least
	for i := range o.Subs {
		o.Subs[i].Drive = best[i]
	}
	after, err := Combine(t, o.Subs)
	if err != nil {
		return nil, err
	}
	o.After = after.Figures()
	o.Remarks = append(slices.Clone(t.Remarks),
		fmt.Sprintf("Best of %d searches downhill; a better setting cannot be ruled out. Check it by measurement at the seats.", o.Starts),
		"The subwoofers are aligned among themselves; their timing against the other loudspeakers at the crossover is set by measurement.")
	return o, nil
}

// bounds of one drive's gain and delay.
func (l Limits) gain(given float64) (lo, hi float64) {
	if l.KeepGain {
		return given, given
	}
	return l.LeastGain, l.GreatestGain
}

func (l Limits) delay(given float64) (lo, hi float64) {
	if l.KeepDelay {
		return given, given
	}
	return 0, l.LongestDelay
}

// mostPolarities is the largest number of sets of polarities for which all are
// tried: 8 subwoofers, of which the first keeps its own.
const mostPolarities = 128

// starts returns where to go downhill from: the given drives, held to the
// limits, and the best points of a lattice, at least one for each set of
// polarities. Inverting all polarities changes nothing, so the first keeps its
// own.
func (l Limits) starts(ctx context.Context, n *objective, given []Drive) ([][]Drive, error) {
	held := slices.Clone(given)
	for i := range held {
		lo, hi := l.gain(given[i].Gain)
		held[i].Gain = min(hi, max(lo, held[i].Gain))
		lo, hi = l.delay(given[i].Delay)
		held[i].Delay = min(hi, max(lo, held[i].Delay))
	}
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

// descend goes downhill from each start, onto the processor's steps.
func (l Limits) descend(ctx context.Context, n *objective, starts [][]Drive) ([][]Drive, error) {
	found := make([][]Drive, len(starts))
	fails := make([]error, len(starts))
	var next, done atomic.Int64
	var all crew.Crew
	var mu sync.Mutex
	last := 0.0
	for range min(runtime.GOMAXPROCS(0), len(starts)) {
		all.Go(func() {
			own := n.clone()
			for {
				i := int(next.Add(1)) - 1
				if i >= len(starts) {
					return
				}
				found[i], fails[i] = l.downhill(ctx, own, starts[i])
				share := float64(done.Add(1)) / float64(len(starts))
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
	return l.settle(ctx, n, d), ctx.Err()
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
	best := n.value(d, nil)
	for helped, rounds := true, 0; helped && rounds < 20 && ctx.Err() == nil; rounds++ {
		helped = false
		for i := range d {
			for _, way := range [...]float64{1, -1} {
				lo, hi := l.gain(d[i].Gain)
				if g := d[i].Gain + way*l.GainStep; !l.KeepGain && g >= lo-rounding && g <= hi+rounding {
					was := d[i].Gain
					d[i].Gain = g
					if v := n.value(d, nil); v < best {
						best, helped = v, true
					} else {
						d[i].Gain = was
					}
				}
				lo, hi = l.delay(d[i].Delay)
				if t := d[i].Delay + way*l.DelayStep; !l.KeepDelay && t >= lo-rounding && t <= hi+rounding {
					was := d[i].Delay
					d[i].Delay = max(0, t)
					if v := n.value(d, nil); v < best {
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
