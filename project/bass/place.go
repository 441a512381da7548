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

	"earline/geometry"
	"earline/project"
	"earline/project/bass/field"
	"earline/project/crew"
)

// Zone is a rectangle of the floor on which a subwoofer may stand, in the room's
// frame, and the height at which its sound starts, all in metres.
type Zone struct {
	Lo, Hi geometry.Vec2
	Height float64
}

// Spots returns places in the zones, both edges included, evenly spaced by step
// metres or a little less; each place once, zone by zone.
func Spots(zones []Zone, step float64) ([]geometry.Vec, error) {
	if err := field.Positive("spacing of places", step); err != nil {
		return nil, err
	}
	const most = 10_000 // places: far more than can be searched
	axis := func(lo, hi float64) []float64 {
		n := int(min(most, math.Ceil((hi-lo)/step-1e-9)))
		all := make([]float64, n+1)
		for i := range all {
			all[i] = lo
			if n > 0 {
				all[i] = lo + (hi-lo)*float64(i)/float64(n)
			}
		}
		return all
	}
	var spots []geometry.Vec
	seen := map[geometry.Vec]bool{}
	for i, z := range zones {
		if !(z.Lo.X <= z.Hi.X && z.Lo.Y <= z.Hi.Y) || math.IsInf(z.Hi.X-z.Lo.X, 0) || math.IsInf(z.Hi.Y-z.Lo.Y, 0) || math.IsNaN(z.Height) {
			return nil, &project.Fault{Field: fmt.Sprintf("zone %d", i+1),
				Found:   fmt.Sprintf("from (%v, %v) to (%v, %v) m", z.Lo.X, z.Lo.Y, z.Hi.X, z.Hi.Y),
				Allowed: "the corner nearer the origin first"}
		}
		for _, x := range axis(z.Lo.X, z.Hi.X) {
			for _, y := range axis(z.Lo.Y, z.Hi.Y) {
				p := geometry.V(x, y, z.Height)
				if seen[p] {
					continue
				}
				seen[p] = true
				if spots = append(spots, p); len(spots) > most {
					return nil, &project.Fault{Field: "zones", Found: fmt.Sprintf("over %d places", most), Allowed: "fewer, by a wider spacing"}
				}
			}
		}
	}
	return spots, nil
}

// Search are the options of Place. The zero value is ready to use.
type Search struct {
	// Price is what lost output costs, as in Limits. Here the loss is against as
	// many subwoofers in average places that add up by power.
	Price float64
	// Weights are what each seat counts, as in Limits.
	Weights []float64
	// MostSets is the largest number of sets of places for which all sets are
	// compared; 0 is 500,000.
	MostSets int
	// Keep is how many of the best sets are returned; 0 is 5.
	Keep int
	// Progress, if not nil, receives the share done, 0 to 1, never less than before.
	// It is called on other goroutines, by one at a time.
	Progress func(share float64)

	// priced, if not nil, are the levels by third below which output counts as lost
	// instead, in dB.
	priced []float64
}

// Set is a choice of places, by index, ascending.
type Set struct {
	Places  []int
	Figures Figures
	Value   float64 // what Place minimises, as in Optimised, dB^2
}

// Placement is what Place found.
type Placement struct {
	Best []Set // the best first
	// Proven says that every set was compared, and Best are the best there are.
	Proven  bool
	Remarks []string
}

// compared says that every set of n places was compared.
func compared(sets float64, n int) string {
	switch {
	case sets == 1:
		return "There is one set of places alone."
	case n == 1:
		return fmt.Sprintf("All %.0f places were compared: for equal subwoofers none is better.", sets)
	}
	return fmt.Sprintf("All %.0f sets of %d places were compared: for equal subwoofers none is better.", sets, n)
}

// Place finds the n places, of the sources of t, from which equal subwoofers with
// equal signals sound most alike at the seats, by the mean spatial variance and
// the price of lost output. All subwoofers are like sub.
//
// Up to MostSets sets, Place compares all: it drops a set as soon as the partial
// sum of its variance exceeds that of the worst set kept, which loses none, since
// the remaining terms are not negative. With more sets it adds the best place one
// by one, then exchanges places one at a time as long as that helps, from several
// first places. Both give the same result each time; Proven and Remarks say which
// it was. Optimise may still improve gains and delays at the chosen places: try
// it on all of Best.
//
// It returns a *project.Fault for what cannot be used, and the context's error
// soon after that is cancelled.
func Place(ctx context.Context, t *field.Transfer, n int, sub Sub, o Search) (*Placement, error) {
	if o.Price == 0 {
		o.Price = usualPrice
	}
	o.Price = max(0, o.Price)
	if o.MostSets == 0 {
		o.MostSets = 500_000
	}
	if o.Keep == 0 {
		o.Keep = 5
	}
	subs := slices.Repeat([]Sub{sub}, t.Sources)
	if n < 1 || n > t.Sources {
		return nil, &project.Fault{Field: "subwoofers to place", Found: fmt.Sprint(n), Allowed: fmt.Sprintf("1 to %d, the number of places", t.Sources)}
	}
	if err := errors.Join(check(t, subs), checkWeights(o.Weights, t.Receivers)); err != nil {
		return nil, err
	}
	if !(o.Price <= 1000) || o.MostSets < 0 || o.Keep < 0 {
		return nil, &project.Fault{Field: "search", Found: fmt.Sprintf("price %v, %d sets, %d kept", o.Price, o.MostSets, o.Keep), Allowed: "a price up to 1000, numbers above 0"}
	}
	c := newChooser(t, subs, n, o)
	var best []Set
	var proven bool
	var err error
	var how string
	if sets := binomial(t.Sources, n); sets <= float64(o.MostSets) {
		best, err = c.all(ctx)
		proven, how = true, compared(sets, n)
	} else {
		best, err = c.exchange(ctx, climbs)
		how = fmt.Sprintf("Of %.3g sets of %d places those were tried that change one place at a time: a better one cannot be ruled out.", sets, n)
	}
	if err != nil {
		return nil, err
	}
	for i := range best {
		chosen := field.New(n, t.Receivers, t.Frequencies)
		for k, p := range best[i].Places {
			copy(chosen.Source(k), t.Source(p))
		}
		r, err := Combine(chosen, subs[:n])
		if err != nil {
			return nil, err
		}
		best[i].Figures = r.Figures()
	}
	return &Placement{Best: best, Proven: proven, Remarks: append(slices.Clone(t.Remarks), how)}, nil
}

// binomial returns the number of ways to choose k of n.
func binomial(n, k int) float64 {
	v := 1.0
	for i := 1; i <= k; i++ {
		v = v * float64(n-k+i) / float64(i)
	}
	return math.Round(v)
}

// chooser evaluates sets of places.
type chooser struct {
	*objective
	n    int
	keep int
	band []int // of each frequency: its index in thirds
	tell func(float64)
	mu   sync.Mutex
	last float64
}

func newChooser(t *field.Transfer, subs []Sub, n int, o Search) *chooser {
	c := &chooser{objective: newObjective(t, subs, o.Weights, o.Price), n: n, keep: o.Keep, tell: o.Progress}
	gain := math.Pow(10, subs[0].Gain/20)
	for i := range c.re {
		c.re[i] *= gain
		c.im[i] *= gain
	}
	for k := range c.thirds {
		if o.priced != nil {
			c.thirds[k].priced = o.priced[k]
			continue
		}
		c.thirds[k].priced = c.power(c.thirds[k]) + 10*math.Log10(float64(n)/float64(t.Sources))
	}
	c.band = make([]int, c.freqs)
	for k, b := range c.thirds {
		for f := b.from; f < b.to; f++ {
			c.band[f] = k
		}
	}
	return c
}

// power returns the level of all places in a third, added up by power, in dB.
func (c *chooser) power(b third) float64 {
	sum := 0.0
	for f := b.from; f < b.to; f++ {
		for s := range c.subs {
			i := (f*c.subs + s) * c.seats
			for r, w := range c.weight {
				sum += w * (c.re[i+r]*c.re[i+r] + c.im[i+r]*c.im[i+r])
			}
		}
	}
	return 10 * math.Log10(sum/float64(b.to-b.from)+silence)
}

func (c *chooser) progress(share float64) {
	if c.tell == nil {
		return
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	c.last = max(c.last, share)
	c.tell(c.last)
}

// rate returns the value of the sums in re and im, [frequency][seat], with one
// more place added, or of the sums alone when place is -1. If the value exceeds
// bound, it returns any number above bound.
func (c *chooser) rate(re, im []float64, place int, bound float64, order []int, scratch *scratch) float64 {
	const perLog = 10 / math.Ln10
	variance := 0.0
	count := float64(c.freqs)
	level, weight := scratch.level[:c.seats], c.weight[:c.seats]
	energy := scratch.energy
	clear(energy)
	for _, f := range order {
		sr, si := re[f*c.seats:][:len(level)], im[f*c.seats:][:len(level)]
		mean, sum := 0.0, 0.0
		if place >= 0 {
			i := (f*c.subs + place) * c.seats
			pr, pi := c.re[i:][:len(level)], c.im[i:][:len(level)]
			for r := range level {
				x, y := sr[r]+pr[r], si[r]+pi[r]
				e := x*x + y*y
				level[r] = perLog * ln(e+silence)
				mean += weight[r] * level[r]
				sum += weight[r] * e
			}
		} else {
			for r := range level {
				e := sr[r]*sr[r] + si[r]*si[r]
				level[r] = perLog * ln(e+silence)
				mean += weight[r] * level[r]
				sum += weight[r] * e
			}
		}
		v := 0.0
		for r, l := range level {
			v += weight[r] * (l - mean) * (l - mean)
		}
		variance += v / count
		energy[c.band[f]] += sum
		if variance > bound {
			return variance
		}
	}
	for k, b := range c.thirds {
		lost := max(0, b.priced-10*math.Log10(energy[k]/float64(b.to-b.from)+silence))
		variance += c.price * b.share * lost * lost
	}
	return variance
}

// scratch is space for one goroutine.
type scratch struct{ level, energy []float64 }

func (c *chooser) newScratch() *scratch {
	return &scratch{make([]float64, c.seats), make([]float64, len(c.thirds))}
}

// add adds a place to sums.
func (c *chooser) add(re, im []float64, place int) {
	for f := range c.freqs {
		i := (f*c.subs + place) * c.seats
		for r := range c.seats {
			re[f*c.seats+r] += c.re[i+r]
			im[f*c.seats+r] += c.im[i+r]
		}
	}
}

// better orders sets: by value, then by places.
func better(a, b Set) int {
	return cmp.Or(cmp.Compare(a.Value, b.Value), slices.Compare(a.Places, b.Places))
}

// bestSets keeps the best sets so far, the best first.
type bestSets struct {
	keep int
	sets []Set
}

// bound is the value above which a set is of no use.
func (s *bestSets) bound() float64 {
	if len(s.sets) < s.keep {
		return math.Inf(1)
	}
	return s.sets[len(s.sets)-1].Value
}

func (s *bestSets) put(places []int, value float64) {
	if value > s.bound() {
		return
	}
	set := Set{Places: slices.Clone(places), Value: value}
	slices.Sort(set.Places)
	i, met := slices.BinarySearchFunc(s.sets, set, better)
	if met {
		return
	}
	s.sets = slices.Insert(s.sets, i, set)
	if len(s.sets) > s.keep {
		s.sets = s.sets[:s.keep]
	}
}

// inOrder returns 0 to n-1.
func inOrder(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

// climbs is the number of first places, besides the best one, from which exchange
// starts.
const climbs = 32

// exchange adds the best place one by one, then exchanges one place at a time as
// long as that helps: from the best first place, and from more others, evenly
// spaced by index.
func (c *chooser) exchange(ctx context.Context, more int) ([]Set, error) {
	s := &bestSets{keep: c.keep}
	more = min(more, c.subs)
	for k := range more + 1 {
		var chosen []int
		if k > 0 {
			chosen = []int{(k - 1) * c.subs / more}
		}
		if err := c.climb(ctx, s, chosen); err != nil {
			return nil, err
		}
		c.progress(float64(k+1) / float64(more+1))
	}
	return s.sets, nil
}

// climb is one start of exchange.
func (c *chooser) climb(ctx context.Context, s *bestSets, chosen []int) error {
	re, im := make([]float64, c.freqs*c.seats), make([]float64, c.freqs*c.seats)
	space := c.newScratch()
	order := inOrder(c.freqs)
	// best returns the best place to add to the chosen ones.
	best := func() (place int, value float64) {
		// Afresh, so that rounding does not add up.
		clear(re)
		clear(im)
		for _, p := range chosen {
			c.add(re, im, p)
		}
		place, value = -1, math.Inf(1)
		whole := len(chosen)+1 == c.n
		for p := range c.subs {
			if slices.Contains(chosen, p) {
				continue
			}
			bound := value
			if whole {
				bound = max(value, s.bound())
			}
			v := c.rate(re, im, p, bound, order, space)
			if whole && v <= bound {
				s.put(append(slices.Clone(chosen), p), v)
			}
			if v < value {
				place, value = p, v
			}
		}
		return place, value
	}
	value := math.Inf(1)
	for len(chosen) < c.n {
		if err := ctx.Err(); err != nil {
			return err
		}
		var p int
		p, value = best()
		chosen = append(chosen, p)
	}
	const passes = 50 // each pass that goes on has found something better
	for pass, helped := 0, true; helped && pass < passes; pass++ {
		helped = false
		for i := range chosen {
			if err := ctx.Err(); err != nil {
				return err
			}
			was := chosen[i]
			chosen = slices.Delete(chosen, i, i+1)
			p, v := best()
			if v < value && p != was {
				value, helped = v, true
			} else {
				p = was
			}
			chosen = slices.Insert(chosen, i, p)
		}
	}
	return nil
}

// all compares every set.
func (c *chooser) all(ctx context.Context) ([]Set, error) {
	tell := c.tell
	c.tell = nil
	first, err := c.exchange(ctx, 0) // a good bound from the start
	c.tell = tell
	if err != nil {
		return nil, err
	}
	order := c.byInfluence(first[0].Places)
	// A set that ties with the bound must be kept, whichever goroutine found it
	// first.
	var bound atomic.Uint64
	bound.Store(math.Float64bits(math.Inf(1)))
	if len(first) == c.keep {
		bound.Store(math.Float64bits(first[len(first)-1].Value * (1 + 1e-12)))
	}
	lower := func(v float64) {
		for {
			old := bound.Load()
			if !(v < math.Float64frombits(old)) || bound.CompareAndSwap(old, math.Float64bits(v)) {
				return
			}
		}
	}
	workers := runtime.GOMAXPROCS(0)
	best := make([]bestSets, workers)
	var next, done atomic.Int64
	roots := c.subs - c.n + 1 // lowest places
	var dives crew.Crew
	for w := range workers {
		dives.Go(func() {
			s := &best[w]
			s.keep = c.keep
			size := c.freqs * c.seats
			sums := make([]float64, 2*size*c.n) // by depth
			space := c.newScratch()
			chosen := make([]int, c.n)
			var dive func(depth, from int)
			dive = func(depth, from int) {
				re, im := sums[2*size*depth:][:size], sums[2*size*depth+size:][:size]
				for p := from; p <= c.subs-c.n+depth; p++ {
					chosen[depth] = p
					if depth == c.n-1 {
						v := c.rate(re, im, p, math.Float64frombits(bound.Load()), order, space)
						if v <= math.Float64frombits(bound.Load()) {
							s.put(chosen, v)
							lower(s.bound())
						}
						continue
					}
					if ctx.Err() != nil {
						return
					}
					nre, nim := sums[2*size*(depth+1):][:size], sums[2*size*(depth+1)+size:][:size]
					copy(nre, re)
					copy(nim, im)
					c.add(nre, nim, p)
					dive(depth+1, p+1)
				}
			}
			if c.n == 1 { // one level: no roots to share out
				if w == 0 {
					dive(0, 0)
					c.progress(1)
				}
				return
			}
			for {
				p := int(next.Add(1)) - 1
				if p >= roots || ctx.Err() != nil {
					return
				}
				chosen[0] = p
				nre, nim := sums[2*size:][:size], sums[3*size:][:size]
				clear(nre)
				clear(nim)
				c.add(nre, nim, p)
				dive(1, p+1)
				c.progress(1 - math.Pow(1-float64(done.Add(1))/float64(roots), float64(c.n)))
			}
		})
	}
	dives.Wait()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	var all []Set
	for _, s := range best {
		all = append(all, s.sets...)
	}
	slices.SortFunc(all, better)
	return all[:min(len(all), c.keep)], nil
}

// byInfluence returns the frequencies ordered by the variance that a good set
// still has there, the largest first: there a worse set exceeds the bound soonest.
func (c *chooser) byInfluence(places []int) []int {
	re, im := make([]float64, c.freqs*c.seats), make([]float64, c.freqs*c.seats)
	for _, p := range places {
		c.add(re, im, p)
	}
	space := c.newScratch()
	varies := make([]float64, c.freqs)
	free := *c.objective
	free.price = 0
	alone := chooser{objective: &free, band: c.band}
	for f := range varies {
		varies[f] = alone.rate(re, im, -1, math.Inf(1), []int{f}, space)
	}
	order := inOrder(c.freqs)
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(varies[b], varies[a]) })
	return order
}
