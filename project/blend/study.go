// SPDX-License-Identifier: MIT

package blend

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"earline/geometry"
	"earline/project"
	"earline/project/bass"
	"earline/project/bass/crossover"
	"earline/project/bass/field"
	"earline/project/place"
)

// Study is the sound of mains and of the subwoofers together at every seat, before the
// crossover. It does not change once made.
type Study struct {
	Plan *bass.Plan
	// Mains are those that were asked for.
	Mains []Main
	// Seat is the index of the seat nearest the main position.
	Seat    int
	Slope   project.CrossoverSlope // of the design
	Step    float64                // of the processor's delays, s
	Remarks []string               // what was assumed, how far it holds

	common float64 // crossover of the design, Hz
	grid   *field.Transfer
	subs   []complex128 // re 0 dB, [seat][frequency] flat
}

// Main is a loudspeaker other than a subwoofer.
type Main struct {
	Speaker   int // index in Design.Speakers
	Name      string
	Crossover float64 // Hz
	// Reach is where its own response has fallen by 3 dB, hertz; 0 is not known.
	Reach float64

	sound []complex128 // re 0 dB, before the crossover, [seat][frequency] flat
}

// The frequencies of a study, hertz.
const (
	lowest    = 16
	highest   = 300 // where the sum over modes serves; else that of bass.Shown
	perOctave = 48
)

// Plan returns the plan of the bass for d: to 300 Hz where the sum over modes serves,
// else at the frequencies of bass.Shown, so that a store finds what it keeps. It
// returns the design's faults.
func Plan(d *project.Design) (*bass.Plan, error) {
	p, err := bass.Of(d, bass.Shown())
	if err != nil || p.Way() != bass.Modes {
		return p, err
	}
	return bass.Of(d, bass.Octaves(lowest, highest, perOctave))
}

// Mains returns the indices of the loudspeakers of d that are no subwoofers, the centre
// first: M+000, or else the one ahead that is the nearest to the middle.
func Mains(d *project.Design) []int {
	var all []int
	for i, l := range d.Speakers {
		if m, _ := d.Model(l.Model); !strings.HasPrefix(l.Label, "LFE") && !m.Subwoofer() {
			all = append(all, i)
		}
	}
	main := place.MainPoint(d)
	aside := func(i int) float64 {
		l := d.Speakers[i]
		if l.Label == "M+000" {
			return -1
		}
		v := l.At.Vec().Sub(main)
		return math.Abs(math.Atan2(v.Y, -v.X)) + math.Abs(v.Z)*1e-3 // the bed before what hangs over it
	}
	slices.SortStableFunc(all, func(a, b int) int {
		if aside(a) < aside(b) {
			return -1
		} else if aside(a) > aside(b) {
			return 1
		}
		return 0
	})
	if len(all) > 1 { // the centre, then the order of the design
		slices.Sort(all[1:])
	}
	return all
}

// Of computes the study of d for the mains with those indices in its loudspeakers, with
// what the store keeps; progress and errors are those of bass.Store.Transfer. A design
// without subwoofers, without seats or without mains is a *project.Fault.
func Of(ctx context.Context, store *bass.Store, d *project.Design, mains []int, progress func(float64)) (*Study, error) {
	p, err := Plan(d)
	if err != nil {
		return nil, err
	}
	switch {
	case len(p.Places) == 0:
		return nil, &project.Fault{Field: "loudspeakers", Found: "no subwoofer", Allowed: "one labelled LFE1 or LFE2 or more"}
	case len(mains) == 0:
		return nil, &project.Fault{Field: "loudspeakers", Found: "no main loudspeaker", Allowed: "one that is no subwoofer, or more"}
	case len(p.Ears) == 0:
		return nil, &project.Fault{Field: "seating.rows", Found: "no seat", Allowed: "one or more"}
	}
	speakers := place.Speakers(d)
	places := slices.Clone(p.Places)
	for _, k := range mains {
		places = append(places, speakers[k].Woofer())
	}
	t, err := store.Transfer(ctx, p, places, progress)
	if err != nil {
		return nil, err
	}
	playback := d.Playback.OrUsual()
	s := &Study{Plan: p, Seat: nearest(p.Ears, place.MainPoint(d)), Slope: playback.Slope, Step: playback.DelayStep / 1000, common: playback.Crossover, grid: t}
	index := make([]int, len(p.Places))
	for i := range index {
		index[i] = i
	}
	s.subs, err = bass.Pressures(t.Pick(index), p.Subs)
	if err != nil {
		return nil, err
	}
	scale(s.subs, -s.band(s.subs, s.common/2))
	for n, k := range mains {
		s.add(&speakers[k], k, t.Source(len(p.Places)+n), playback.CrossoverOf(d.Speakers[k]))
	}
	s.remark(t, d)
	return s, nil
}

// add takes in a main whose sound in the room is p.
func (s *Study) add(l *place.Speaker, k int, p []complex128, crossover float64) {
	m := Main{Speaker: k, Name: l.Name(), Crossover: crossover, Reach: l.Spec.Cutoff, sound: slices.Clone(p)}
	scale(m.sound, -s.band(m.sound, s.common))
	own := bass.Sub{Enclosure: l.Spec.Enclosure, Corner: l.Spec.Cutoff}
	drive := bass.Tuned(l.Tuning)
	drive.Gain = 0 // the trim is that of the reference level
	n := len(s.grid.Frequencies)
	for f, hz := range s.grid.Frequencies {
		h := own.Response(hz) * drive.Response(hz)
		for seat := range s.grid.Receivers {
			m.sound[seat*n+f] *= h
		}
	}
	s.Mains = append(s.Mains, m)
}

// band returns the level at the main position in the octave from lo hertz, dB: the mean
// of the energy over the logarithm of frequency, as pink noise has it. An octave that
// reaches beyond what is computed is the nearest that does not.
func (s *Study) band(p []complex128, lo float64) float64 {
	all := s.grid.Frequencies
	n := len(all)
	lo = min(max(lo, all[0]), all[n-1]/2)
	sum, count := 0.0, 0
	for f, hz := range all {
		if hz >= lo && hz <= 2*lo {
			v := p[s.Seat*n+f]
			sum += real(v)*real(v) + imag(v)*imag(v)
			count++
		}
	}
	return 10 * math.Log10(sum/float64(count)+1e-20)
}

// scale raises p by dB.
func scale(p []complex128, dB float64) {
	g := complex(math.Pow(10, dB/20), 0)
	for i := range p {
		p[i] *= g
	}
}

// Setting is how a main and the subwoofers are set against each other.
type Setting struct {
	Crossover float64 // Hz
	Slope     project.CrossoverSlope
	// Delay is how much later than in the design all subwoofers play, seconds; it may
	// be negative. Inverted is whether all of them are turned round.
	Delay    float64
	Inverted bool
}

// AsIs returns the setting of the design for a main, by index in Mains.
func (s *Study) AsIs(main int) Setting {
	return Setting{Crossover: s.Mains[main].Crossover, Slope: s.Slope}
}

// Sum is what a main and the subwoofers make of one channel at every seat, in dB
// against the level to which both are set; their seats and frequencies are the same.
type Sum struct {
	Main, Subs *bass.Response // each alone, through its filter
	Together   *bass.Response
	// InPhase is the sum of the two if both arrived in phase: no setting gives more.
	InPhase *bass.Response
}

// Sum adds a main, by index in Mains, and the subwoofers up at every seat: a pure
// function of the study and the setting. Together is what is heard of that channel from
// 16 Hz to 300 Hz, or to 160 Hz where the sound is computed by waves.
func (s *Study) Sum(main int, set Setting) *Sum {
	high, low := s.through(main, set)
	together, inPhase := make([]complex128, len(high)), make([]complex128, len(high))
	for i := range high {
		together[i] = high[i] + low[i]
		inPhase[i] = complex(math.Hypot(real(high[i]), imag(high[i]))+math.Hypot(real(low[i]), imag(low[i])), 0)
	}
	return &Sum{Main: bass.Levels(s.grid, high), Subs: bass.Levels(s.grid, low), Together: bass.Levels(s.grid, together), InPhase: bass.Levels(s.grid, inPhase)}
}

// through returns a main and the subwoofers through their filters.
func (s *Study) through(main int, set Setting) (high, low []complex128) {
	pair := crossover.Of(set.Slope)
	drive := bass.Drive{Delay: set.Delay, Inverted: set.Inverted}
	n := len(s.grid.Frequencies)
	high, low = make([]complex128, len(s.subs)), make([]complex128, len(s.subs))
	for f, hz := range s.grid.Frequencies {
		h, l := pair.High.Response(hz, set.Crossover), pair.Low.Response(hz, set.Crossover)*drive.Response(hz)
		for seat := range s.grid.Receivers {
			at := seat*n + f
			high[at], low[at] = h*s.Mains[main].sound[at], l*s.subs[at]
		}
	}
	return high, low
}

// remark says what was assumed.
func (s *Study) remark(t *field.Transfer, d *project.Design) {
	add := func(format string, args ...any) { s.Remarks = append(s.Remarks, fmt.Sprintf(format, args...)) }
	add("Levels are set as a processor's trims are, at the seat nearest the main position: each main by the octave above %.0f Hz without its filter and its own low end, the subwoofers together by the octave below. 0 dB is that level.", s.common)
	if !slices.ContainsFunc(d.Speakers, func(l project.Loudspeaker) bool { return l.Tuning.Delay != 0 }) {
		add("The design gives no delay to any loudspeaker: set delays and levels first, so that the mains agree among themselves.")
	}
	var unknown []string
	for _, m := range s.Mains {
		if m.Reach == 0 {
			unknown = append(unknown, m.Name)
		}
	}
	if len(unknown) > 0 {
		add("Where the response ends at the low end is not known, taken to reach down without end: %s.", strings.Join(unknown, ", "))
	}
	if s.Plan.Way() == bass.Waves {
		add("By finite differences, to 160 Hz: above, they take too long. A room without steps, columns and slopes is computed to 300 Hz.")
	}
	s.Remarks = append(s.Remarks, t.Remarks...)
}

// nearest returns the index of the point nearest to q.
func nearest(points []geometry.Vec, q geometry.Vec) int {
	best, at := math.Inf(1), -1
	for i, p := range points {
		if d := p.Dist(q); d < best {
			best, at = d, i
		}
	}
	return at
}
