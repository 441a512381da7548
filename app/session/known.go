// SPDX-License-Identifier: MIT

package session

import (
	"context"
	"runtime"
	"time"

	"earline/project"
	"earline/project/bass"
	"earline/project/blend"
	"earline/project/built"
	"earline/project/compare"
	"earline/project/decay"
	"earline/project/diff"
	"earline/project/light"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/setout"
	"earline/project/settle"
	"earline/project/sight"
	"earline/project/sound"
	"earline/project/viewing"
)

// Known is what is known about the open design: an answer each. What depends on
// the audit is asked of a fresh one only; until that comes it is stale.
type Known struct {
	// Audit is who hears and sees what.
	Audit Answer[*project.Design, *sight.Result]
	// Everyone is for whom the design holds.
	Everyone Answer[RangeKey, *sight.RangeResult]
	// Practice is what the rules of placement find, under the house's standard.
	Practice Answer[PracticeKey, *practice.Result]
	// Causes is what is to be settled, cause by cause; of the audit alone until
	// something is known of the rules.
	Causes Answer[CausesKey, *settle.List]
	// AsBuilt is the room as built beside the plan.
	AsBuilt Answer[AsBuiltKey, *built.Result]
	// SetOut is where everything goes.
	SetOut Answer[SetOutKey, *setout.List]
	// Direct is the direct sound, Reflections what comes soon after it.
	Direct      Answer[Audited, *sound.Direct]
	Reflections Answer[Audited, *sound.Reflections]
	// Decay is how long the room rings.
	Decay Answer[*project.Design, Reverberation]
	// Ringing is how long the room rings over all frequencies, bass among them.
	Ringing Answer[*project.Design, *decay.Result]
	// Viewing is what the projector makes of the screen, and how every seat sees that.
	Viewing Answer[*project.Design, *viewing.Result]
	// Light is what the room's lamps light.
	Light Answer[*project.Design, *light.Result]
	// Bass is what the subwoofers do at the seats; nil without subwoofers.
	Bass Answer[BassKey, *bass.Study]
	// Boundaries is what the surfaces around the mains do to their sound.
	Boundaries Answer[Audited, []sound.Interference]
	// Ranged is Bass with the range of what the surfaces may absorb.
	Ranged Answer[*bass.Study, *bass.Study]
	// Subwoofers keeps what was computed of each, from one study to the next.
	Subwoofers bass.Store

	limits   Answer[LimitsKey, sight.Tolerances]
	level    Answer[MapKey, *sound.Grid]
	compared Answer[CompareKey, *compare.Result]
	fall     Answer[WaterfallKey, *bass.Waterfall]
	blended  Answer[BlendKey, *blend.Answer]
	joined   []answer
}

// The keys of the answers, and what two of them hold together.
type (
	// RangeKey is a design and the people it is to hold for.
	RangeKey struct {
		Design *project.Design
		People sight.RangeOptions
	}
	// Audited is a design and its audit.
	Audited struct {
		Design *project.Design
		Audit  *sight.Result
	}
	// PracticeKey is an audited design and a house standard.
	PracticeKey struct {
		Audited
		Standard *practice.Standard
	}
	// AsBuiltKey is an audited design, whose measurements are in it, and a house standard.
	AsBuiltKey PracticeKey
	// SetOutKey is an audited design and a house standard.
	SetOutKey PracticeKey
	// CausesKey is an audited design and what the rules find in it, nil for not known.
	CausesKey struct {
		Audited
		Rules *practice.Result
	}
	// CompareKey is a design, which of those beside it it is compared with, and a house
	// standard.
	CompareKey struct {
		Design   *project.Design
		With     int
		Standard *practice.Standard
	}
	// LimitsKey is an audited design and one of its loudspeakers.
	LimitsKey struct {
		Audited
		Speaker int
	}
	// MapKey is a design and what is to be mapped of it.
	MapKey struct {
		Design *project.Design
		sound.MapOptions
	}
	// BassKey is a design and whether a coarse study will do, while it is dragged.
	BassKey struct {
		Design *project.Design
		Coarse bool
	}
	// WaterfallKey is a design and one of its seats.
	WaterfallKey struct {
		Design *project.Design
		Seat   int
	}
	// BlendKey is a design and the loudspeaker against which its subwoofers are set, by
	// index; one that is no main is the centre.
	BlendKey struct {
		Design *project.Design
		Main   int
	}
	// Reverberation is a reverberation and what had to be assumed for it.
	Reverberation struct {
		*sound.Reverb
		Assumed []string
	}
)

// Sizes up to which work is quick: some milliseconds, half a frame.
const (
	quickSeats       = 24     // for the audit and the rules of placement
	quickPaths       = 8000   // seats by loudspeakers, for the direct sound
	quickReflections = 800    // seats by loudspeakers
	quickPoints      = 15_000 // of maps, by loudspeakers
)

const (
	editSettle = 400 * time.Millisecond // how long edits must have paused before long work begins
	staleGrace = 400 * time.Millisecond // how long work on an earlier design may go on
)

// know sets the answers up.
func (s *Session) know() {
	k := &s.Known
	k.Subwoofers.Workers = max(runtime.NumCPU()-1, 1) // one is left for the picture
	audited := func() (Audited, bool) {
		r, state := k.Audit.Get()
		return Audited{s.Design(), r}, state == Fresh
	}
	k.Audit = Answer[*project.Design, *sight.Result]{
		Key: func() (*project.Design, bool) { return s.Design(), true },
		Work: func(_ context.Context, d *project.Design, last Last[*project.Design, *sight.Result], _ func(float64)) (*sight.Result, error) {
			if moved, ok := diff.OnlySpeakers(last.Key, d); ok {
				return sight.Update(last.Value, d, moved...), nil
			}
			return sight.Audit(d), nil
		},
		Quick: func(d *project.Design) bool { return seats(d) <= quickSeats },
		Grace: staleGrace,
	}
	k.Everyone = Answer[RangeKey, *sight.RangeResult]{
		Key: func() (RangeKey, bool) { return RangeKey{s.Design(), sight.WholeRange()}, true },
		Work: func(ctx context.Context, c RangeKey, _ Last[RangeKey, *sight.RangeResult], _ func(float64)) (*sight.RangeResult, error) {
			return sight.RangeFor(ctx, c.Design, c.People)
		},
		Pause: editSettle,
	}
	k.Practice = Answer[PracticeKey, *practice.Result]{
		Key: func() (PracticeKey, bool) {
			a, ok := audited()
			return PracticeKey{a, s.standard}, ok
		},
		Work: func(_ context.Context, r PracticeKey, _ Last[PracticeKey, *practice.Result], _ func(float64)) (*practice.Result, error) {
			return practice.Check(r.Design, r.Audit, *r.Standard), nil
		},
		Quick: func(r PracticeKey) bool { return seats(r.Design) <= quickSeats },
		Grace: staleGrace,
	}
	k.Causes = Answer[CausesKey, *settle.List]{
		Key: func() (CausesKey, bool) {
			a, ok := audited()
			if !ok {
				return CausesKey{}, false
			}
			switch found, state := k.Practice.Get(); state {
			case Fresh:
				return CausesKey{a, found}, true
			case Stale: // soon there are new ones
				return CausesKey{}, false
			}
			return CausesKey{Audited: a}, true
		},
		Work: func(_ context.Context, c CausesKey, last Last[CausesKey, *settle.List], _ func(float64)) (*settle.List, error) {
			return settle.Causes(c.Audit, c.Rules, last.Value), nil
		},
		Quick: func(c CausesKey) bool { return seats(c.Design) <= quickSeats },
		Grace: staleGrace,
	}
	k.AsBuilt = Answer[AsBuiltKey, *built.Result]{
		Key: func() (AsBuiltKey, bool) {
			a, ok := audited()
			return AsBuiltKey{a, s.standard}, ok && !s.Dragging()
		},
		Work: func(ctx context.Context, k AsBuiltKey, _ Last[AsBuiltKey, *built.Result], _ func(float64)) (*built.Result, error) {
			return built.CompareWith(ctx, k.Audit, k.Design, *k.Standard)
		},
	}
	k.SetOut = Answer[SetOutKey, *setout.List]{
		Key: func() (SetOutKey, bool) {
			a, ok := audited()
			return SetOutKey{a, s.standard}, ok && !s.Dragging()
		},
		Work: func(ctx context.Context, k SetOutKey, _ Last[SetOutKey, *setout.List], _ func(float64)) (*setout.List, error) {
			return setout.Of(ctx, k.Audit, *k.Standard)
		},
	}
	k.limits = Answer[LimitsKey, sight.Tolerances]{
		Work: func(_ context.Context, t LimitsKey, _ Last[LimitsKey, sight.Tolerances], _ func(float64)) (sight.Tolerances, error) {
			return sight.Tolerance(t.Design, t.Audit, t.Speaker), nil
		},
		Pause: editSettle / 2,
	}
	k.Direct = Answer[Audited, *sound.Direct]{
		Key: audited,
		Work: func(_ context.Context, a Audited, _ Last[Audited, *sound.Direct], _ func(float64)) (*sound.Direct, error) {
			return sound.Hear(a.Design, a.Audit), nil
		},
		Quick: func(a Audited) bool { return paths(a.Design) <= quickPaths },
		Grace: staleGrace,
	}
	k.Reflections = Answer[Audited, *sound.Reflections]{
		Key: audited,
		Work: func(ctx context.Context, a Audited, _ Last[Audited, *sound.Reflections], _ func(float64)) (*sound.Reflections, error) {
			return sound.Reflect(ctx, a.Design, &a.Audit.Room, sound.ReflectOptions{})
		},
		Quick: func(a Audited) bool { return paths(a.Design) <= quickReflections },
		Grace: staleGrace,
	}
	k.level = Answer[MapKey, *sound.Grid]{
		Work: func(ctx context.Context, m MapKey, _ Last[MapKey, *sound.Grid], _ func(float64)) (*sound.Grid, error) {
			g, err := sound.Map(ctx, m.Design, m.MapOptions)
			return &g, err
		},
		Quick: func(m MapKey) bool { return points(m) <= quickPoints },
		Grace: staleGrace,
	}
	k.compared = Answer[CompareKey, *compare.Result]{
		Work: func(_ context.Context, c CompareKey, _ Last[CompareKey, *compare.Result], _ func(float64)) (*compare.Result, error) {
			return compare.Of(&c.Design.Variants[c.With], c.Design, *c.Standard), nil
		},
	}
	k.Decay = Answer[*project.Design, Reverberation]{
		Key: func() (*project.Design, bool) { return s.Design(), true },
		Work: func(_ context.Context, d *project.Design, _ Last[*project.Design, Reverberation], _ func(float64)) (Reverberation, error) {
			r, assumed := sound.Reverberate(d, sound.ReferenceRoom, false)
			return Reverberation{r, assumed}, nil
		},
		Quick: func(*project.Design) bool { return true }, // some surfaces in eight octaves
	}
	k.Ringing = Answer[*project.Design, *decay.Result]{
		Key: func() (*project.Design, bool) { return s.Design(), !s.Dragging() },
		Work: func(ctx context.Context, d *project.Design, _ Last[*project.Design, *decay.Result], tell func(float64)) (*decay.Result, error) {
			return decay.Of(ctx, d, &k.Subwoofers, tell)
		},
	}
	k.Viewing = Answer[*project.Design, *viewing.Result]{
		Key: func() (*project.Design, bool) { return s.Design(), true },
		Work: func(_ context.Context, d *project.Design, _ Last[*project.Design, *viewing.Result], _ func(float64)) (*viewing.Result, error) {
			return viewing.Of(d), nil
		},
		Quick: func(d *project.Design) bool { return seats(d) <= quickSeats },
		Grace: staleGrace,
	}
	k.Light = Answer[*project.Design, *light.Result]{
		Key: func() (*project.Design, bool) { return s.Design(), !s.Dragging() },
		Work: func(ctx context.Context, d *project.Design, last Last[*project.Design, *light.Result], _ func(float64)) (*light.Result, error) {
			if diff.OnlyLevels(last.Key, d) {
				return last.Value.Dimmed(d), nil
			}
			return light.Study(ctx, d)
		},
		Quick: func(d *project.Design) bool { return diff.OnlyLevels(k.Light.last.Key, d) },
		Pause: editSettle / 2,
	}
	k.fall = Answer[WaterfallKey, *bass.Waterfall]{
		Work: func(ctx context.Context, w WaterfallKey, _ Last[WaterfallKey, *bass.Waterfall], tell func(float64)) (*bass.Waterfall, error) {
			p, err := bass.Of(w.Design, bass.Shown())
			if err != nil || len(p.Places) == 0 || w.Seat >= len(p.Ears) {
				return nil, err
			}
			return k.Subwoofers.Waterfall(ctx, p, w.Seat, tell)
		},
	}
	k.Bass = Answer[BassKey, *bass.Study]{
		Key: func() (BassKey, bool) { return BassKey{s.Design(), s.Dragging()}, true },
		Work: func(ctx context.Context, l BassKey, _ Last[BassKey, *bass.Study], tell func(float64)) (*bass.Study, error) {
			p, ok := l.plan()
			if !ok {
				return nil, nil
			}
			return k.Subwoofers.New(ctx, p, tell)
		},
		Quick: func(l BassKey) bool {
			p, ok := l.plan()
			return !ok || p.Way() == bass.Modes
		},
		Grace: staleGrace,
	}
	k.Boundaries = Answer[Audited, []sound.Interference]{
		Key: audited,
		Work: func(ctx context.Context, a Audited, _ Last[Audited, []sound.Interference], _ func(float64)) ([]sound.Interference, error) {
			return sound.Boundaries(ctx, a.Design, &a.Audit.Room)
		},
		Quick: func(Audited) bool { return true }, // one listener, a few surfaces for each main
		Grace: staleGrace,
	}
	k.blended = Answer[BlendKey, *blend.Answer]{
		Work: func(ctx context.Context, b BlendKey, _ Last[BlendKey, *blend.Answer], tell func(float64)) (*blend.Answer, error) {
			return b.answer(ctx, &k.Subwoofers, tell)
		},
		Pause: editSettle / 2,
		Grace: staleGrace,
	}
	k.Ranged = Answer[*bass.Study, *bass.Study]{
		Key: func() (*bass.Study, bool) {
			st, state := k.Bass.Get()
			return st, state == Fresh && st != nil && !s.Dragging()
		},
		Work: func(_ context.Context, st *bass.Study, _ Last[*bass.Study, *bass.Study], _ func(float64)) (*bass.Study, error) {
			return k.Subwoofers.Ranged(st)
		},
	}
	k.each(func(a answer) { a.join(&s.host) })
}

// answer is what all answers can do, whatever they hold.
type answer interface {
	join(*host)
	stop()
	forget()
}

// each calls f with every answer.
func (k *Known) each(f func(answer)) {
	for _, a := range []answer{&k.Audit, &k.Everyone, &k.Practice, &k.Causes, &k.AsBuilt, &k.SetOut, &k.limits, &k.Direct, &k.Reflections, &k.level, &k.compared, &k.Decay, &k.Ringing, &k.Viewing, &k.Light, &k.fall, &k.Bass, &k.Boundaries, &k.blended, &k.Ranged} {
		f(a)
	}
	for _, a := range k.joined {
		f(a)
	}
}

// Join makes an answer one of the session's, whose work needs what the session must not
// know, such as drawings. It is Missing again for another document, and its end is told
// like that of the others.
func Join[K comparable, V any](s *Session, a *Answer[K, V]) {
	a.join(&s.host)
	s.Known.joined = append(s.Known.joined, a)
}

func (a *Answer[K, V]) join(h *host) { a.host = h }

// Result returns the audit as far as it is known, nil for not at all. While a new
// one is on its way it is that of an earlier design and may not fit the present one.
func (s *Session) Result() *sight.Result {
	r, _ := s.Known.Audit.Get()
	return r
}

// Room returns where everything of the design is, as Result has it.
func (s *Session) Room() *place.Room {
	if r := s.Result(); r != nil {
		return &r.Room
	}
	return nil
}

// Everyone returns for whom the present design holds; nil until that is known.
func (s *Session) Everyone() *sight.RangeResult {
	if r, state := s.Known.Everyone.Get(); state == Fresh {
		return r
	}
	return nil
}

// Limits returns how far a loudspeaker of the present design may be off; ok is
// false until that is known.
func (s *Session) Limits(speaker int) (t sight.Tolerances, ok bool) {
	r, state := s.Known.Audit.Get()
	t, state = s.Known.limits.get(LimitsKey{Audited{s.Design(), r}, speaker}, state == Fresh && !s.Dragging())
	return t, state == Fresh
}

// Map returns the level over the floor, as Answer.Get does. A stale one is of the
// same options.
func (s *Session) Map(o sound.MapOptions) (*sound.Grid, State) {
	g, state := s.Known.level.get(MapKey{s.Design(), o}, true)
	if state == Stale && s.Known.level.last.Key.MapOptions != o {
		return nil, Missing
	}
	return g, state
}

// Compare returns the present design beside one of those that are kept with it, as
// Answer.Get does. A stale one is of the same choice.
func (s *Session) Compare(with int) (*compare.Result, State) {
	d := s.Design()
	if with < 0 || with >= len(d.Variants) {
		return nil, Missing
	}
	r, state := s.Known.compared.get(CompareKey{d, with, s.standard}, !s.Dragging())
	if state == Stale && s.Known.compared.last.Key.With != with {
		return nil, Missing
	}
	return r, state
}

// Waterfall returns how the bass dies away at a seat, as Answer.Get does; nil without
// subwoofers. A stale one is of the same seat.
func (s *Session) Waterfall(seat int) (*bass.Waterfall, State) {
	w, state := s.Known.fall.get(WaterfallKey{s.Design(), seat}, !s.Dragging() && seat >= 0)
	if state == Stale && s.Known.fall.last.Key.Seat != seat {
		return nil, Missing
	}
	return w, state
}

// WaterfallErr says why the present design has no waterfall.
func (s *Session) WaterfallErr() error { return s.Known.fall.Err() }

// plan returns the plan of the bass; ok is false without subwoofers or seats.
func (l BassKey) plan() (p *bass.Plan, ok bool) {
	p, err := bass.Of(l.Design, bass.Shown())
	if err != nil || len(p.Places) == 0 || len(p.Seats) == 0 {
		return nil, false
	}
	p.Coarse = l.Coarse
	return p, true
}

func seats(d *project.Design) (n int) {
	for _, r := range d.Seating.Rows {
		n += r.Seats
	}
	return n
}

func paths(d *project.Design) int { return seats(d) * len(d.Speakers) }

// points returns about how many levels a map takes.
func points(m MapKey) float64 {
	step := m.Step
	if step <= 0 {
		step = 0.15 // m, as sound.Map takes
	}
	lo, hi := m.Design.Room.Polygon().Bounds()
	n := (hi.X - lo.X) * (hi.Y - lo.Y) / (step * step)
	if m.Speaker == sound.AllSpeakers {
		n *= float64(len(m.Design.Speakers))
	}
	return n
}
