// SPDX-License-Identifier: MIT

package modal

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

	"earline/geometry"
	"earline/project"
	"earline/project/bass/field"
)

// mostTerms keeps a typing error (a room of 4000 m) from filling the memory: the
// terms of so many listeners at so many frequencies take some 300 MB.
const mostTerms = 10_000_000

// Sum is the sum over the modes of one room at given listeners and frequencies,
// ready for any sources: what depends on room and listeners only is kept, so
// that a moved source costs only its own products. It may be used from any
// goroutine.
type Sum struct {
	room        Room
	frequencies []float64
	k           []complex128 // wave numbers, 1/m, by frequency
	losses      []Loss       // by frequency
	bands       []band
	receivers   []geometry.Vec
	memory      sync.Pool                     // of *workroom
	sections    [3][len(kept)]func() *section // by axis
}

// New prepares the sum for a room. The frequencies are in hertz, ascending.
//
// It returns a *project.Fault for sizes that are not positive, frequencies that
// do not ascend from above 0, a loss that is negative or not a number, a receiver
// outside the room, a frequency that is exactly that of a mode from which nothing
// is taken, and a room too large for the frequencies.
func New(room Room, damping Damping, receivers []geometry.Vec, frequencies []float64) (*Sum, error) {
	if err := errors.Join(room.check(), room.inside("listener", receivers), field.Ascending(frequencies)); err != nil {
		return nil, err
	}
	s := &Sum{room: room, receivers: slices.Clone(receivers), frequencies: slices.Clone(frequencies)}
	for _, f := range frequencies {
		loss := damping(f)
		if err := loss.check(f); err != nil {
			return nil, err
		}
		s.losses = append(s.losses, loss)
		s.k = append(s.k, s.waveNumber(f, loss))
	}
	fewest := math.Inf(1)
	for axis := range 3 {
		fewest = min(fewest, s.pairs(axis, kept[len(kept)-1]))
	}
	if n := fewest * float64(len(frequencies)*(len(receivers)+3)); n > mostTerms {
		return nil, &project.Fault{Field: "room", Found: fmt.Sprintf("%.3g x %.3g x %.3g m to %.0f Hz at %d frequencies", room.Length, room.Width, room.Height, frequencies[len(frequencies)-1], len(frequencies)),
			Allowed: "less: the modes would not fit into the memory"}
	}
	if err := s.ringing(); err != nil {
		return nil, err
	}
	if err := s.split(damping); err != nil {
		return nil, err
	}
	s.memory.New = func() any { return &workroom{} }
	for axis := range 3 {
		for i, class := range kept {
			s.sections[axis][i] = sync.OnceValue(func() *section { return s.section(axis, class, s.receivers) })
		}
	}
	return s, nil
}

// Is reports whether New would make the same sum.
func (s *Sum) Is(room Room, damping Damping, receivers []geometry.Vec, frequencies []float64) bool {
	if s.room != room || !slices.Equal(s.receivers, receivers) || !slices.Equal(s.frequencies, frequencies) {
		return false
	}
	for i, f := range frequencies {
		if damping(f) != s.losses[i] {
			return false
		}
	}
	return true
}

// ringing returns a fault for a frequency that is that of a mode from which
// nothing is taken.
func (s *Sum) ringing() error {
	var modes []Mode
	for i, f := range s.frequencies {
		if s.losses[i] != (Loss{}) {
			continue
		}
		if modes == nil {
			modes = s.room.Modes(s.frequencies[len(s.frequencies)-1])
		}
		const same = 1e-9 // of the frequency: the level would be beyond all measure
		for _, m := range modes {
			if math.Abs(m.Frequency-f) < same*f {
				return &project.Fault{Field: fmt.Sprintf("decay of mode (%d, %d, %d)", m.P, m.Q, m.R),
					Found: fmt.Sprintf("none and asked for at its own %v Hz", f), Allowed: "some damping there"}
			}
		}
	}
	return nil
}

// waveNumber returns k in 1/m: what all sound loses as it runs is its imaginary
// part.
func (s *Sum) waveNumber(hertz float64, loss Loss) complex128 {
	return complex(2*math.Pi*hertz, -loss.Rate) / complex(s.room.speed(), 0)
}

// Transfer returns the pressure of each source at each listener. A source
// outside the room is a *project.Fault.
func (s *Sum) Transfer(sources []geometry.Vec) (*field.Transfer, error) {
	if err := s.room.inside("source", sources); err != nil {
		return nil, err
	}
	t := field.New(len(sources), len(s.receivers), s.frequencies)
	for i, at := range sources {
		s.fill(t, i, at)
	}
	t.Remarks = s.remarks()
	return t, nil
}

// Move recomputes in t, which must come from s.Transfer, the part of one source
// that now stands elsewhere. A place outside the room is a *project.Fault, and t
// stays as it was. It panics when t has another shape or no such source.
func (s *Sum) Move(t *field.Transfer, source int, to geometry.Vec) error {
	if t.Receivers != len(s.receivers) || len(t.Frequencies) != len(s.frequencies) || source < 0 || source >= t.Sources {
		panic("modal: Move: not a transfer of this sum, or no such source")
	}
	if err := s.room.inside("source", []geometry.Vec{to}); err != nil {
		return err
	}
	s.fill(t, source, to)
	return nil
}

// fill computes one source.
func (s *Sum) fill(t *field.Transfer, source int, at geometry.Vec) {
	var groups [3][len(kept)][]hear
	for i, ear := range s.receivers {
		axis, c := s.run(at, ear)
		ear = apartFrom(at, ear, axis, s.room)
		h := hear{ear: i, class: c, before: along(ear, axis) < along(at, axis), out: t.Row(source, i)}
		k := len(kept) - 1
		for k >= 0 && kept[k] > c {
			k--
		}
		if k < 0 {
			h.ear = 0
			s.section(axis, c, []geometry.Vec{ear}).add(at, []hear{h})
			continue
		}
		groups[axis][k] = append(groups[axis][k], h)
	}
	for axis := range groups {
		for k := range groups[axis] {
			if to := groups[axis][k]; len(to) > 0 {
				s.sections[axis][k]().add(at, to)
			}
		}
	}
}

// remarks says what the sum stands on.
func (s *Sum) remarks() []string {
	all := []string{"Sum over modes: holds for a closed rectangular room, however much its surfaces absorb; furniture, open doors and recesses are not in it, and each surface absorbs alike all over."}
	top := s.frequencies[len(s.frequencies)-1]
	last := len(s.losses) - 1
	slowest := Damping(func(float64) Loss { return s.losses[last] }).Rate(s.room, Mode{})
	switch {
	case slowest == 0:
		all = append(all, "A mode without damping rings for ever: at its own frequency the level has no meaning.")
	default:
		if limit := Schroeder(rateTime(slowest), s.room.Volume()); top > limit {
			all = append(all, fmt.Sprintf("Above %.0f Hz even the modes that ring longest overlap: read averages there, not single dips.", limit))
		}
	}
	return all
}

// rateTime returns the reverberation time, in seconds, of a rate of decay.
func rateTime(d float64) float64 { return 3 * math.Ln10 / d }
