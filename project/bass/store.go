// SPDX-License-Identifier: MIT

package bass

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"slices"
	"sync"

	"earline/geometry"
	"earline/project/bass/field"
	"earline/project/bass/modal"
	"earline/project/bass/wave"
)

// Way is how the sound of a subwoofer at the seats is computed.
type Way uint8

// The ways.
const (
	Modes Way = iota // the sum over modes: bare rectangular rooms of any absorption, milliseconds
	Waves            // finite differences: any room with what stands in it
)

// String returns what is computed.
func (w Way) String() string { return [...]string{"sum over modes", "finite differences"}[w] }

// Way returns the way that suits the room: modes where it is a rectangle under a
// flat ceiling with nothing solid in it, waves else. What surfaces absorb makes no
// difference: both hold for all that a surface can.
func (p *Plan) Way() Way {
	if p.box != nil && len(p.Room.Blocks) == 0 {
		return Modes
	}
	return Waves
}

// Store keeps the computed sound of single subwoofers, so that after one is moved
// only that one is computed again. The key is a fingerprint of all that the sound
// depends on: room, surfaces, seats, frequencies, place. The zero value is ready;
// all methods are safe from any goroutine.
type Store struct {
	// Workers is how many goroutines compute waves; 0 is as many as there are
	// processors. Do not change it after first use.
	Workers int

	mu   sync.Mutex
	kept map[fingerprint]*entry
	// scales are those of Plan.waves that calibrated found.
	scales map[fingerprint]float64
	tick   int
	sums   []*modal.Sum // the last used sums over modes, the latest first
}

type fingerprint [sha256.Size]byte

type entry struct {
	p       []complex128 // [receiver][frequency]
	remarks []string
	used    int // tick of the last use
}

// mostKept is how many subwoofers a Store keeps: with 24 seats and 200 frequencies
// each takes 77 kB.
const mostKept = 400

// Transfer returns the sound of subwoofers at the places at each seat, by the
// way that suits the plan. progress, if not nil, receives the share done; it is
// called on other goroutines, by one at a time. Transfer returns the context's
// error soon after a cancellation; what was finished before is kept.
func (s *Store) Transfer(ctx context.Context, p *Plan, places []geometry.Vec, progress func(float64)) (*field.Transfer, error) {
	if p.Way() == Modes {
		m, err := s.modal(p)
		if err != nil {
			return nil, err
		}
		return m.Transfer(places)
	}
	p, err := s.calibrated(ctx, p, nil)
	if err != nil {
		return nil, err
	}
	t, err := s.waves(ctx, p, places, progress)
	if err != nil || p.Coarse || len(places) == 0 || len(p.Ears) == 0 {
		return t, err
	}
	// The coarse grid, often known already from a drag, says how far this one is off.
	q := *p
	q.Coarse = true
	rough, err := s.waves(ctx, &q, places, nil)
	if err != nil {
		return nil, err
	}
	t.Remarks = append(slices.Clone(t.Remarks), p.doubt(t, rough))
	return t, nil
}

// doubt says how far t is off by what its levels differ from those on the coarse
// grid.
func (p *Plan) doubt(t, rough *field.Transfer) string {
	top := p.Frequencies[len(p.Frequencies)-1]
	wide := coarse().Cell(p.Room, top)
	lo, hi := max(Lowest, p.Frequencies[0]), min(Highest, top)
	d := wave.Doubt(t.Band(lo, hi), rough.Band(lo, hi), wide/wave.Options{}.Cell(p.Room, top))
	return fmt.Sprintf("Measured for this room against a grid of %.0f mm: from %.0f to %.0f Hz, outside dips, the level of a subwoofer at a seat is off by about %s.",
		1000*wide, lo, hi, offBy(d))
}

// offBy words an error in dB.
func offBy(d float64) string {
	if d < 0.1 {
		return "less than 0.1 dB rms"
	}
	return fmt.Sprintf("%.1f dB rms", d)
}

// coarse returns the options while something is dragged.
func coarse() wave.Options { return wave.Options{LargestCell: 0.24, PointsPerWavelength: 9, Decay: 50} }

// waves is Transfer by finite differences.
func (s *Store) waves(ctx context.Context, p *Plan, places []geometry.Vec, progress func(float64)) (*field.Transfer, error) {
	room, err := p.fingerprint()
	if err != nil {
		return nil, err
	}
	out := field.New(len(places), len(p.Ears), p.Frequencies)
	var missing []geometry.Vec
	var at []int
	s.mu.Lock()
	for i, q := range places {
		if e := s.kept[room.at(q)]; e != nil {
			s.tick++
			e.used = s.tick
			copy(out.Source(i), e.p)
			out.Remarks = e.remarks
		} else {
			missing, at = append(missing, q), append(at, i)
		}
	}
	s.mu.Unlock()
	if len(missing) == 0 {
		return out, ctx.Err()
	}
	// Decay below 60 dB no longer shows: even at 50 dB the demos' responses differ
	// from those at 80 dB by only 0.02 dB root mean square.
	o := wave.Options{Decay: 60}
	if p.Coarse {
		o = coarse()
	}
	o.Progress, o.Workers = progress, s.Workers
	t, err := p.Wave(ctx, missing, o)
	if err != nil {
		return nil, err
	}
	out.Remarks = t.Remarks
	s.mu.Lock()
	defer s.mu.Unlock()
	for n, i := range at {
		copy(out.Source(i), t.Source(n))
		s.keep(room.at(places[i]), slices.Clone(t.Source(n)), t.Remarks)
	}
	return out, nil
}

// mostSums is how many sums over modes a Store keeps. With 24 seats and 320
// frequencies each takes up to 40 MB.
const mostSums = 3

// modal returns the sum over modes of a plan: a kept one where only subwoofers
// differ, as its tables take longer than they do.
func (s *Store) modal(p *Plan) (*Modal, error) {
	s.mu.Lock()
	kept := slices.Clone(s.sums)
	s.mu.Unlock()
	m, err := p.modal(nil, kept)
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.sums = slices.DeleteFunc(s.sums, func(k *modal.Sum) bool { return k == m.sum })
	s.sums = append([]*modal.Sum{m.sum}, s.sums[:min(len(s.sums), mostSums-1)]...)
	return m, nil
}

// keep adds an entry and, beyond mostKept, drops the least recently used one.
func (s *Store) keep(key fingerprint, p []complex128, remarks []string) {
	if s.kept == nil {
		s.kept = map[fingerprint]*entry{}
	}
	s.tick++
	s.kept[key] = &entry{p, remarks, s.tick}
	for len(s.kept) > mostKept {
		var oldest fingerprint
		least := s.tick + 1
		for k, e := range s.kept {
			if e.used < least {
				oldest, least = k, e.used
			}
		}
		delete(s.kept, oldest)
	}
}

// fingerprint returns the fingerprint of all that a source's sound depends on,
// except its place.
func (p *Plan) fingerprint() (fingerprint, error) {
	data, err := json.Marshal(struct {
		Room        wave.Room
		Chairs      []wave.Block
		Ears        []geometry.Vec
		Frequencies []float64
		Coarse      bool
		Remarks     []string
	}{p.Room, p.Chairs, p.Ears, p.Frequencies, p.Coarse, p.Remarks})
	if err != nil { // a number that is none, which Of refuses
		return fingerprint{}, fmt.Errorf("bass: %w", err)
	}
	return sha256.Sum256(data), nil
}

func (f fingerprint) at(q geometry.Vec) fingerprint {
	return sha256.Sum256(fmt.Appendf(f[:], "%v %v %v", q.X, q.Y, q.Z))
}
