// SPDX-License-Identifier: MIT

package decay

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"earline/project"
	"earline/project/bass"
	"earline/project/sound"
)

// Result is how long a design's room rings.
type Result struct {
	Design *project.Design
	Bass   *bass.Decay
	Reverb *sound.Reverb
	Thirds []Third // one for each of project.Thirds
	// Remarks say what the times rest on.
	Remarks []string
}

// Third is what is known of one third of an octave; times are in seconds, and 0 is not
// known.
type Third struct {
	Hz float64 // nominal middle
	// Modal is the time in the bass, see bass.ThirdDecay, and Short whether the sound may
	// be gone sooner.
	Modal float64
	Short bool
	// Diffuse is the time by Eyring's formula in the octave in which the third lies, from
	// that of 125 Hz up.
	Diffuse  float64
	Measured float64
	// Least and Most are what is wanted, from 63 Hz to 4 kHz.
	Least, Most float64
}

// Time is the time that counts: as measured, else as the modes have it, else by formula.
func (t Third) Time() float64 {
	for _, s := range [...]float64{t.Measured, t.Modal, t.Diffuse} {
		if s != 0 {
			return s
		}
	}
	return 0
}

// Long reports whether the room rings longer there than is wanted, as sound.Reverb judges
// its octaves.
func (t Third) Long() bool { return t.Most != 0 && t.Time() > t.Most }

// Of works out how long the room of a valid design rings. store keeps what takes long;
// for progress and errors see bass.Store.Decay.
func Of(ctx context.Context, d *project.Design, store *bass.Store, progress func(float64)) (*Result, error) {
	p, err := bass.Of(d, bass.Shown())
	if err != nil {
		return nil, err
	}
	b, err := store.Decay(ctx, p, progress)
	if err != nil {
		return nil, err
	}
	reverb, assumed := sound.Reverberate(d, sound.ReferenceRoom, false)
	r := &Result{Design: d, Bass: b, Reverb: reverb}
	for i, hz := range project.Thirds() {
		t := Third{Hz: hz}
		if i < len(b.Thirds) {
			t.Modal, t.Short = b.Thirds[i].Computed, b.Thirds[i].Short
		}
		if o := octaveOf(hz); o > 0 {
			t.Diffuse = reverb.Eyring[o]
		}
		t.Measured = d.Measured.Time(hz)
		t.Least, t.Most = sound.Allowed(reverb.Wanted, hz)
		r.Thirds = append(r.Thirds, t)
	}
	r.Remarks = append(r.how(), b.Remarks...)
	for _, a := range assumed {
		if !slices.ContainsFunc(r.Remarks, func(s string) bool { return strings.Contains(s, "have no material") }) {
			r.Remarks = append(r.Remarks, a)
		}
	}
	return r, nil
}

// octaveOf returns the index in project.Octaves of the octave in which a third lies.
func octaveOf(hz float64) int {
	for o, f := range project.Octaves() {
		if math.Abs(math.Log2(hz/f)) < 0.5 {
			return o
		}
	}
	return -1
}

// how says what each of the times is.
func (r *Result) how() []string {
	modal := "Up to 200 Hz a third rings as the modes in it do together, wherever one sits: T20 of the sum of their energies."
	if r.Bass.Way == bass.Waves {
		modal = "Up to 200 Hz times are read from impulse responses by finite differences, from a corner of the floor to the seats: backward integration (Schroeder), T20 of ISO 3382-2."
		if slices.ContainsFunc(r.Thirds, func(t Third) bool { return t.Short }) {
			modal += " Marked ~: bandwidth times T60 is under 4, and the filter of the third rings as long as the room."
		}
		if len(r.Bass.Modes) > 0 {
			modal += " The modes listed are those of the bare rectangle, without what stands in it."
		}
	}
	all := []string{modal,
		fmt.Sprintf("From 100 to 200 Hz there are two answers. The modes' is what rings: sound that runs along a surface loses little to it, so axial modes ring longest. Eyring's formula is for sound that meets all surfaces alike, which holds above the Schroeder frequency, here %.0f Hz; below it the modes' time counts. Chairs and people take sound in Eyring's times only.", r.Reverb.Schroeder)}
	if r.Bass.Way == bass.Modes && len(r.Bass.Modes) == 0 {
		all = append(all, "No surface takes anything in the bass: its modes ring for ever, and have no time.")
	}
	if r.Measured() {
		text := "What was measured counts where it was measured."
		if r.Bass.Way == bass.Waves {
			text += " Finite differences follow it as a mean over the thirds, so that bass and measured times differ third by third."
		}
		all = append(all, text)
	}
	return append(all, "Wanted is 0.25 s (V/100 m³)^(1/3) within 0.05 s from 200 Hz to 4 kHz, below 200 Hz up to 0.3 s longer at 63 Hz (Rec. ITU-R BS.1116, EBU Tech 3276; the widening from memory). Below 63 Hz nothing is published.")
}

// Measured reports whether anything was measured.
func (r *Result) Measured() bool { return len(r.Design.Measured.Decay) > 0 }

// Longest returns up to n of the modes that ring longest, longest first.
func (r *Result) Longest(n int) []bass.ModeDecay {
	all := slices.Clone(r.Bass.Modes)
	slices.SortStableFunc(all, func(a, b bass.ModeDecay) int {
		switch {
		case a.Time > b.Time:
			return -1
		case a.Time < b.Time:
			return 1
		}
		return 0
	})
	return all[:min(n, len(all))]
}

// Told reports whether there is something to say of t: in the bass third by third, above
// by octaves, and wherever something was measured.
func (t Third) Told() bool {
	bass := project.BassThirds()
	octaves := project.Octaves()
	return t.Hz <= bass[len(bass)-1] && t.Time() != 0 || t.Measured != 0 || slices.Contains(octaves[:], t.Hz)
}

// Sentence says in short where the room rings longer than is wanted.
func (r *Result) Sentence() string {
	var long []string
	for _, t := range r.Thirds {
		if t.Told() && t.Long() {
			long = append(long, fmt.Sprintf("%g", t.Hz))
		}
	}
	if len(long) == 0 {
		return "Rings no longer than wanted from 63 Hz to 4 kHz."
	}
	return "Rings longer than wanted at " + strings.Join(long, ", ") + " Hz."
}
