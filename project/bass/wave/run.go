// SPDX-License-Identifier: MIT

package wave

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"gonum.org/v1/gonum/floats"

	"earline/geometry"
	"earline/project"
	"earline/project/bass/field"
	"earline/project/crew"
)

// Options are the options of Run. The zero value is ready to use.
type Options struct {
	// PointsPerWavelength is how fine the grid is at the highest frequency; 0 is
	// 10.
	PointsPerWavelength float64
	// LargestCell is the widest spacing of the grid, in metres, however low the
	// frequencies, so that modes keep their place; 0 is 0.12 m.
	LargestCell float64
	// Duration is the longest time of sound computed, in seconds; 0 is 4 s. Run
	// stops sooner, when the sound at the listeners has died away by Decay.
	Duration float64
	// Decay is the decay, in dB, at which Run stops; 0 is 80 dB.
	Decay float64
	// Workers is how many goroutines compute; 0 is as many as there are
	// processors. The result does not depend on it.
	Workers int
	// Progress, if not nil, receives the share done, 0 to 1, never less than before.
	// It is called on other goroutines, by one at a time.
	Progress func(share float64)
}

func (o Options) check() (Options, error) {
	if o.PointsPerWavelength == 0 {
		o.PointsPerWavelength = 10
	}
	if o.LargestCell == 0 {
		o.LargestCell = 0.12
	}
	if o.Duration == 0 {
		o.Duration = 4
	}
	if o.Decay == 0 {
		o.Decay = 80
	}
	if o.Workers == 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	var faults []error
	fault := func(field string, v any, allowed string) {
		faults = append(faults, &project.Fault{Field: field, Found: fmt.Sprint(v), Allowed: allowed})
	}
	if !(o.PointsPerWavelength >= 6 && o.PointsPerWavelength <= 100) {
		fault("points per wavelength", o.PointsPerWavelength, "6 to 100")
	}
	if !(o.LargestCell > 0) {
		fault("largest cell", fmt.Sprint(o.LargestCell, " m"), "above 0")
	}
	if !(o.Duration > 0 && o.Duration <= 60) {
		fault("duration", fmt.Sprint(o.Duration, " s"), "above 0, up to 60 s")
	}
	if !(o.Decay >= 20 && o.Decay <= 120) {
		fault("decay", fmt.Sprint(o.Decay, " dB"), "20 to 120 dB")
	}
	if o.Workers < 0 || o.Workers > 1024 {
		fault("workers", o.Workers, "0 to 1024")
	}
	return o, errors.Join(faults...)
}

// Run returns the pressure of each source, taken as a point, at each listener.
// Positions are in metres in the room's frame, frequencies in hertz, ascending.
// The scheme is reciprocal, to rounding, so Run computes from the listeners when
// they are fewer than the sources: many places for a subwoofer cost no more than
// the seats.
//
// It returns a *project.Fault for a room, options or positions that cannot be
// used, and the context's error soon after a cancellation.
func Run(ctx context.Context, room Room, sources, receivers []geometry.Vec, frequencies []float64, o Options) (*field.Transfer, error) {
	o, err := o.check()
	if err := errors.Join(err, field.Ascending(frequencies), room.check()); err != nil {
		return nil, err
	}
	top := frequencies[len(frequencies)-1]
	g, err := newGrid(room, o.Cell(room, top))
	if err != nil {
		return nil, err
	}
	place := func(what string, at []geometry.Vec) ([][]tap, error) {
		all := make([][]tap, len(at))
		for i, p := range at {
			t, err := g.taps(fmt.Sprintf("%s %d", what, i+1), p)
			if err != nil {
				return nil, err
			}
			all[i] = t
		}
		return all, nil
	}
	in, err := place("source", sources)
	if err != nil {
		return nil, err
	}
	out, err := place("listener", receivers)
	if err != nil {
		return nil, err
	}

	back := len(out) < len(in)
	if back {
		in, out = out, in
	}
	t, left, err := g.each(ctx, room.speed(), in, out, frequencies, o)
	if err != nil {
		return nil, err
	}
	if back {
		t = turned(t)
	}
	t.Remarks = g.remarks(room, top, left, o)
	return t, nil
}

// turned returns t with sources and receivers exchanged.
func turned(t *field.Transfer) *field.Transfer {
	r := field.New(t.Receivers, t.Sources, t.Frequencies)
	for s := range r.Sources {
		for e := range r.Receivers {
			copy(r.Row(s, e), t.Row(e, s))
		}
	}
	return r
}

// each computes the sound of every source, and its decay at the end, in dB.
func (g *grid) each(ctx context.Context, speed float64, in, out [][]tap, frequencies []float64, o Options) (*field.Transfer, []float64, error) {
	p := pulse(frequencies[len(frequencies)-1], g.dt)
	t := field.New(len(in), len(out), frequencies)
	left := make([]float64, len(in))
	share := &shares{tell: o.Progress, of: len(in)}
	// As long as there is one source for each worker, each computes its own: they do
	// not wait for each other. The remaining sources follow one by one, and the
	// workers share their layers.
	alone := len(in) / o.Workers * o.Workers
	one := func(s, workers int) error {
		m := &simulation{grid: g, pulse: p, speed: speed, in: in[s], out: out, workers: workers, limit: int(math.Ceil(o.Duration / g.dt)),
			decay: o.Decay, progress: func(v float64) { share.set(s, v) }}
		if err := m.run(ctx); err != nil {
			return err
		}
		left[s] = m.left
		g.spectra(t, s, m.heard, p, speed)
		share.set(s, 1)
		return nil
	}
	if alone > 0 {
		var all crew.Crew
		var next atomic.Int64
		fails := make([]error, o.Workers)
		for w := range o.Workers {
			all.Go(func() {
				for {
					s := int(next.Add(1)) - 1
					if s >= alone || fails[w] != nil {
						return
					}
					fails[w] = one(s, 1)
				}
			})
		}
		all.Wait()
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		if err := errors.Join(fails...); err != nil {
			return nil, nil, err
		}
	}
	for s := alone; s < len(in); s++ {
		if err := one(s, o.Workers); err != nil {
			return nil, nil, err
		}
	}
	return t, left, nil
}

// shares adds up the progress of several sources.
type shares struct {
	mu   sync.Mutex
	tell func(float64)
	done map[int]float64
	last float64
	of   int
}

func (s *shares) set(source int, share float64) {
	if s.tell == nil {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.done == nil {
		s.done = map[int]float64{}
	}
	s.done[source] = max(share, s.done[source])
	sum := 0.0
	for i := range s.of {
		sum += s.done[i]
	}
	s.last = max(s.last, sum/float64(s.of))
	s.tell(s.last)
}

// pulse returns what the source does at each step: the pressure that it would
// make in the free field at 1 m, up to a scale. It is the second derivative of a
// Gaussian, (1 - 2 a) exp(-a) with a = (pi f0 (t - t0))^2 and f0 0.4 of the highest
// frequency (Ricker 1953). Its first and second integral end at 0, so that it
// leaves no static pressure behind in a tight room; 2.5 f0 is 30 dB and 5 f0
// 180 dB below its peak, so that nothing is fed in that the grid cannot carry.
func pulse(top, dt float64) []float64 {
	f0 := 0.4 * top
	t0 := 1.6 / f0 // starts and ends at exp(-25)
	p := make([]float64, int(math.Ceil(2*t0/dt))+1)
	for n := range p {
		a := math.Pi * f0 * (float64(n)*dt - t0)
		a *= a
		p[n] = (1 - 2*a) * math.Exp(-a)
	}
	return p
}

// simulation is one source's sound from silence to silence.
type simulation struct {
	*grid
	pulse    []float64
	speed    float64
	in       []tap
	out      [][]tap
	workers  int
	limit    int     // steps
	decay    float64 // dB
	progress func(float64)

	heard [][]float64 // by listener and step
	left  float64     // level of the last stretch re the loudest, dB
	// last is the value of each class at the end, for tests.
	last [2][]float32
}

// run steps until the sound has died away.
func (m *simulation) run(ctx context.Context) error {
	var p [2][]float32
	for c := range p {
		p[c] = make([]float32, m.size)
	}
	m.last = p
	m.heard = make([][]float64, len(m.out))
	for i := range m.heard {
		m.heard[i] = make([]float64, 1, m.limit+1) // silence at step 0
	}
	layers := m.layers()
	workers := len(layers) - 1
	wall := newBarrier(workers)
	var stop atomic.Int64
	stop.Store(int64(m.limit))
	listen := m.listener(ctx, &stop)
	// Step n computes the class (n+1)&1 at time n+1 from the other at time n.
	// Listening to time n then runs beside it: it reads what nobody writes.
	toil := func(w int) {
		whole := false
		defer func() {
			if !whole {
				wall.leave() // a fault here must not leave the others waiting
			}
		}()
		mine := [2]*work{m.part(0, layers[w], layers[w+1]), m.part(1, layers[w], layers[w+1])}
		var feed [2][]tap
		scale := 4 * math.Pi * m.speed * m.speed * m.dt * m.dt / (m.h[0] * m.h[1] * m.h[2])
		for _, t := range m.in {
			if t.k >= layers[w] && t.k < layers[w+1] {
				t.weight *= scale / t.share
				feed[t.class] = append(feed[t.class], t)
			}
		}
		n := 0
		for ; n < int(stop.Load()); n++ {
			class := (n + 1) & 1
			if w == 0 && n > 0 {
				listen(n, p[1-class], 1-class)
			}
			m.advance(p[class], p[1-class], class, mine[class])
			if n < len(m.pulse) {
				for _, t := range feed[class] {
					p[class][t.at] += float32(t.weight * m.pulse[n])
				}
			}
			if workers > 1 && !wall.wait() {
				return
			}
		}
		if w == 0 && n > 0 {
			listen(n, p[n&1], n&1)
		}
		whole = true
	}
	var others crew.Crew
	for w := 1; w < workers; w++ {
		others.Go(func() { toil(w) })
	}
	toil(0)
	others.Wait()
	return ctx.Err()
}

// listener returns the function that worker 0 calls at the end of each step. It
// records the values at the listeners, checks whether they have decayed or the
// context is cancelled, and reports progress. It sets stop at least two steps
// ahead, so that all workers see it before they get there.
func (m *simulation) listener(ctx context.Context, stop *atomic.Int64) func(n int, p []float32, class int) {
	type reader struct {
		at     []int
		weight []float64
	}
	var readers [2][]reader
	for c := range readers {
		readers[c] = make([]reader, len(m.out))
		for i, taps := range m.out {
			for _, t := range taps {
				if t.class == c {
					readers[c][i].at = append(readers[c][i].at, t.at)
					readers[c][i].weight = append(readers[c][i].weight, t.weight)
				}
			}
		}
	}
	const glance = 64 // steps between checks of the context, some 3 ms
	stretch := max(glance, int(0.05/m.dt))
	var now, loudest float64
	return func(n int, p []float32, class int) {
		for i, r := range readers[class] {
			v := 0.0
			for k, at := range r.at {
				v += r.weight[k] * float64(p[at])
			}
			m.heard[i] = append(m.heard[i], v)
			now += v * v
		}
		if n%glance == 0 {
			if ctx.Err() != nil {
				stop.Store(int64(min(n+2, m.limit)))
			}
			m.progress(float64(n) / float64(m.limit))
		}
		if n%stretch == 0 {
			loudest = max(loudest, now)
			if n > len(m.pulse) && loudest > 0 {
				m.left = 10 * math.Log10(max(now/loudest, 1e-30))
				if m.left < -m.decay {
					stop.Store(min(int64(n+2), stop.Load()))
				}
			}
			now = 0
		}
	}
}

// layers shares the layers of the grid out so that all workers have as many
// points: worker w has the layers from w up to w+1 of the returned bounds.
func (m *simulation) layers() []int {
	per := make([]int, m.n[2]+1)
	total := 0
	for c := range 2 {
		for _, r := range m.runs[c] {
			per[r.k] += int(r.n)
			total += int(r.n)
		}
	}
	workers := max(1, min(m.workers, m.n[2]+1))
	bounds := []int{0}
	sum := 0
	for k, n := range per {
		if len(bounds) < workers && sum+n/2 >= total*len(bounds)/workers && k > bounds[len(bounds)-1] {
			bounds = append(bounds, k)
		}
		sum += n
	}
	return append(bounds, m.n[2]+1)
}

// spectra converts the recorded values to pressures re the free field at 1 m: the
// Fourier sum of the listener divided by that of the source. A listener's points
// are recorded alternately, each at every second step, so their sum counts twice.
func (g *grid) spectra(t *field.Transfer, source int, heard [][]float64, pulse []float64, speed float64) {
	if len(heard) == 0 {
		return
	}
	steps := max(len(heard[0]), len(pulse))
	cos, sin := make([]float64, steps), make([]float64, steps)
	for f, hz := range t.Frequencies {
		w := 2 * math.Pi * g.heardAt(hz, speed) * g.dt
		ds, dc := math.Sincos(w)
		for n := range steps {
			if n%256 == 0 { // afresh, before rounding adds up
				sin[n], cos[n] = math.Sincos(w * float64(n))
				continue
			}
			cos[n] = cos[n-1]*dc - sin[n-1]*ds
			sin[n] = sin[n-1]*dc + cos[n-1]*ds
		}
		sum := func(x []float64) complex128 {
			return complex(floats.Dot(x, cos[:len(x)]), -floats.Dot(x, sin[:len(x)]))
		}
		free := sum(pulse)
		for r := range heard {
			t.Row(source, r)[f] = 2 * sum(heard[r]) / free
		}
	}
}

// lag returns the greatest error of the frequency of a wave of the given wave
// number on the grid, which is too low, as a share of its frequency: that of a wave
// along the axis with the widest spacing. A wave along the cell's diagonal has no
// error. Formula: the scheme's own dispersion, sin^2(w dt/2) = sum of (c dt/h)^2
// sin^2(k h/2), to the second order.
func (g *grid) lag(k, speed float64) float64 {
	h := max(g.h[0], g.h[1], g.h[2])
	return k * k / 24 * (h*h - math.Pow(speed*g.dt, 2))
}

// heardAt returns the frequency on the grid that stands for hz in the room: lower
// by half the greatest lag, so that the error of a mode's frequency is at most that
// half, up or down.
func (g *grid) heardAt(hz, speed float64) float64 {
	return hz * (1 - g.lag(2*math.Pi*hz/speed, speed)/2)
}

// remarks says how far the result can be trusted.
func (g *grid) remarks(r Room, top float64, left []float64, o Options) []string {
	h := max(g.h[0], g.h[1], g.h[2])
	off := 100 * g.lag(2*math.Pi*top/r.speed(), r.speed()) / 2
	all := []string{
		fmt.Sprintf("Wave equation on a grid of %.0f mm, %d points, cut where walls, ceilings and platforms stand: holds to %.0f Hz, where the grid moves modes by up to %.2f %% (a quarter of that at %.0f Hz).",
			1000*h, g.points, top, off, top/2),
		"Surfaces react at each place for itself and alike at all frequencies.",
	}
	// On the flank of a peak the level changes by at most 20/ln 10 dB over half its
	// width.
	if wide, shift := g.width(r.speed()), off/100*top; 40/math.Ln10*shift/wide/2 > 1 {
		all = append(all, fmt.Sprintf("The room is live: peaks are some %.1f Hz wide at half power, and near %.0f Hz they may stand %.1f Hz beside their place: there levels on their flanks are uncertain by %.0f dB.",
			wide, top, shift, 40/math.Ln10*shift/wide/2))
	}
	worst := math.Inf(-1)
	for _, l := range left {
		worst = max(worst, l)
	}
	if worst > -o.Decay && worst > -40 {
		all = append(all, fmt.Sprintf("After %.1f s the sound had died away by %.0f dB only: peaks are too low and too wide.", o.Duration, -worst))
	}
	return all
}
