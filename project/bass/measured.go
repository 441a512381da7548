// SPDX-License-Identifier: MIT

package bass

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"earline/project"
)

// take takes in what was measured of the decay of the room: the sum over modes scales the
// admittances of all surfaces, third by third, so that the modes of each ring together
// as long as was measured. Finite differences take one scale for all frequencies, which
// Store.calibrated finds.
func (p *Plan) take(m project.MeasuredSound) {
	p.modes, p.waves = even(1), 1
	for i, f := range project.BassThirds() {
		p.measured[i] = m.Time(f)
	}
	p.ringAsMeasured()
	if p.Measured() && p.Way() == Modes {
		p.remark("What surfaces take is scaled so that the room rings as long as was measured at %s Hz.", p.measured.names())
	}
}

// ringAsMeasured scales what the surfaces of a box take so that the modes of each third
// that was measured ring together as long: the rates of modes follow the admittances.
func (p *Plan) ringAsMeasured() {
	p.modes = even(1)
	if p.box == nil || !p.Measured() {
		return
	}
	const (
		rounds = 12
		enough = 0.002 // of the time
	)
	for range rounds { // a scale between two thirds is of both, so each alters the others
		by, off := p.measured.over(thirdTimes(p.ModeTimes()))
		for i := range by {
			p.modes[i] *= by[i]
		}
		if off < enough {
			return
		}
	}
}

// Measured reports whether anything was measured of the decay of the bass.
func (p *Plan) Measured() bool { return p.measured != spectrum{} }

// names returns where s is given.
func (s spectrum) names() string {
	var out []string
	for i, f := range project.BassThirds() {
		if s[i] != 0 {
			out = append(out, fmt.Sprintf("%g", f))
		}
	}
	return strings.Join(out, ", ")
}

// over returns by what admittances are to be scaled so that times become s, and how far
// the worst of those is off, as a logarithm. Where one of the two is not known it is interpolated
// between the nearest thirds where both are, by its logarithm, and beyond the last it is
// theirs.
func (s spectrum) over(times spectrum) (out spectrum, off float64) {
	out = even(1)
	last := -1
	for i := range s {
		if s[i] == 0 || times[i] == 0 {
			continue
		}
		out[i] = times[i] / s[i]
		off = max(off, math.Abs(math.Log(out[i])))
		for k := last + 1; k < i; k++ {
			out[k] = out[i]
			if last >= 0 {
				out[k] = out[last] * math.Pow(out[i]/out[last], float64(k-last)/float64(i-last))
			}
		}
		last = i
	}
	for k := last + 1; last >= 0 && k < len(s); k++ {
		out[k] = out[last]
	}
	return out, off
}

// Absorbing returns p with surfaces that absorb that share of what they do, where no
// decay was measured.
func (p *Plan) Absorbing(share float64) *Plan {
	out := *p
	out.share = share
	out.ringAsMeasured()
	out.furnish()
	return &out
}

// calibrated returns p with the one scale of its admittances by which finite differences
// ring as long as was measured, as a geometric mean over the thirds that were; p itself
// where none was, or the room is for the sum over modes.
func (s *Store) calibrated(ctx context.Context, p *Plan, progress func(float64)) (*Plan, error) {
	if !p.Measured() || p.Way() != Waves {
		return p, nil
	}
	key, err := p.ringKey()
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	scale := s.scales[key]
	s.mu.Unlock()
	const (
		tries  = 3
		enough = 0.03 // of the time
	)
	out := *p
	for range tries {
		if scale != 0 {
			break
		}
		times, err := out.rings(ctx, progress, s.Workers)
		if err != nil {
			return nil, err
		}
		off, n := 0.0, 0.0
		for i, t := range times {
			if p.measured[i] != 0 && t.Computed != 0 {
				off, n = off+math.Log(t.Computed/p.measured[i]), n+1
			}
		}
		if n == 0 {
			return p, nil
		}
		if math.Abs(off/n) < enough {
			break
		}
		out.waves *= math.Exp(off / n)
		out.furnish()
	}
	if scale != 0 {
		out.waves = scale
		out.furnish()
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.scales == nil || len(s.scales) >= mostKept {
		s.scales = map[fingerprint]float64{}
	}
	s.scales[key] = out.waves
	return &out, nil
}

// ringKey is a fingerprint of all that the decay by finite differences depends on.
func (p *Plan) ringKey() (fingerprint, error) {
	data, err := json.Marshal(struct {
		Room     any
		Chairs   any
		Ears     any
		Measured spectrum
	}{p.Room, p.Chairs, p.Ears, p.measured})
	if err != nil {
		return fingerprint{}, fmt.Errorf("bass: %w", err)
	}
	return sha256.Sum256(data), nil
}
