// SPDX-License-Identifier: MIT

package bass

import (
	"context"
	"math"
	"slices"

	"earline/project"
	"earline/project/bass/modal"
)

// Decay is how long bass rings in a room.
type Decay struct {
	Way Way
	// Modes are those of a rectangular room up to the top of the highest third.
	Modes []ModeDecay
	// Thirds are one for each of project.BassThirds.
	Thirds  [project.BassThirdCount]ThirdDecay
	Remarks []string
}

// ModeDecay is how long one mode rings.
type ModeDecay struct {
	modal.Mode
	Time float64 // T60, seconds
}

// Quality is its Q: its frequency over its half-power bandwidth (modal.Bandwidth).
func (m ModeDecay) Quality() float64 { return m.Frequency / modal.Bandwidth(m.Time) }

// ThirdDecay is how long a third of an octave rings.
type ThirdDecay struct {
	Hz float64 // nominal middle
	// Computed and Measured are T60 in seconds; 0 is none: no mode lies in the third,
	// or nothing was measured there.
	Computed, Measured float64
	// Short is whether the filter of the third rings about as long as the sound, which
	// then may be shorter than Computed; see shortest.
	Short bool
}

// ModeTimes returns how long each mode of a rectangular room rings, ascending; nil for any
// other room.
func (p *Plan) ModeTimes() []ModeDecay {
	if p.box == nil {
		return nil
	}
	var all []ModeDecay
	_, top := edges(middleOf(project.BassThirdCount - 1))
	for _, m := range p.box.Modes(top) {
		if rate := modal.Damping(p.loss).Rate(*p.box, m); rate > 0 {
			all = append(all, ModeDecay{m, 3 * math.Ln10 / rate})
		}
	}
	return all
}

// thirdTimes returns how long the modes of each third ring together, seconds; 0 where
// there is none. What is heard of a mode anywhere in the room from anywhere in it, as a
// mean, falls with the square of its frequency (doc.go of package modal).
func thirdTimes(modes []ModeDecay) (times spectrum) {
	var in [project.BassThirdCount][]ModeDecay
	for _, m := range modes {
		i := thirdIndex(m.Frequency)
		if lo, hi := edges(middleOf(i)); m.Frequency >= lo*(1-1e-9) && m.Frequency < hi {
			in[i] = append(in[i], m)
		}
	}
	for i, some := range in {
		times[i] = together(some)
	}
	return times
}

// together returns the T20 of modes that all ring at once: the energy still to come
// falls as the sum over them of T exp(-6 ln 10 t/T)/f^2 (Schroeder 1965).
func together(modes []ModeDecay) float64 {
	if len(modes) == 0 {
		return 0
	}
	longest := 0.0
	for _, m := range modes {
		longest = max(longest, m.Time)
	}
	const steps = 400 // while the longest falls by 60 dB
	step := longest / steps
	energy := make([]float64, steps)
	for i := range energy {
		for _, m := range modes {
			energy[i] += m.Time / (m.Frequency * m.Frequency) * math.Exp(-6*math.Ln10*float64(i)*step/m.Time)
		}
	}
	t, _ := fitted(energy, step)
	return t
}

// fitted returns the reverberation time, seconds, of energies still to come, in steps of
// step seconds: three times what the line of least squares through the levels from 5 to
// 25 dB below the first takes to fall by 20 dB (T20 of ISO 3382-1 and -2, from memory).
// It is false where they fall by less.
func fitted(energy []float64, step float64) (float64, bool) {
	var n, sx, sy, sxx, sxy float64
	for i, e := range energy {
		level := 10 * math.Log10(e/energy[0])
		if level > -5 {
			continue
		}
		if !(level >= -25) {
			slope := (n*sxy - sx*sy) / (n*sxx - sx*sx)
			return -60 / slope, n > 1 && slope < 0
		}
		x := float64(i) * step
		n, sx, sy, sxx, sxy = n+1, sx+x, sy+level, sxx+x*x, sxy+x*level
	}
	return 0, false
}

// Decay returns how long the bass of a plan rings: mode by mode in a rectangular room,
// and third by third of an octave. In a bare rectangular room a third rings as its modes
// do; in any other as finite differences have it at the seats, which takes as long as
// those. For progress and errors see Transfer.
func (s *Store) Decay(ctx context.Context, p *Plan, progress func(float64)) (*Decay, error) {
	p, err := s.calibrated(ctx, p, nil)
	if err != nil {
		return nil, err
	}
	d := &Decay{Way: p.Way(), Modes: p.ModeTimes(), Remarks: slices.Clone(p.Remarks)}
	for i, hz := range project.BassThirds() {
		d.Thirds[i].Hz = hz
	}
	if d.Way == Modes {
		for i, t := range thirdTimes(d.Modes) {
			d.Thirds[i].Computed = t
		}
	} else {
		if d.Thirds, err = p.rings(ctx, progress, s.Workers); err != nil {
			return nil, err
		}
		d.Remarks = append(d.Remarks, p.oneValue()...)
	}
	for i := range d.Thirds {
		d.Thirds[i].Measured = p.measured[i]
	}
	return d, nil
}
