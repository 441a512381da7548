// SPDX-License-Identifier: MIT

package sound

import (
	"math"
	"strings"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/project/sight"
)

// Heard is the direct sound of one loudspeaker at one listener.
type Heard struct {
	Distance float64 // from its reference point to between the ears, metres
	Bearing  Bearing // of the listener, in the loudspeaker's frame
	// Off is the listener's angle off the axis as a share of the nominal coverage;
	// Inside is whether it is at most 1. Subwoofers cover everyone.
	Off    float64
	Inside bool
	// Directivity is the level in this direction against the axis in each octave,
	// dB, 0 or less.
	Directivity [project.OctaveCount]float64
	// Gain is the level against that at 1 m on the axis in each octave: distance, air,
	// directivity and a screen before the loudspeaker, dB. Overall is the energy mean of the octaves from
	// Speaker.First to Last.
	Gain    [project.OctaveCount]float64
	Overall float64
	// Loss is an upper bound of the loss by what stands in the way, dB (see
	// sight.KnifeEdge), for the deciding driver and the worse ear; 0 for a clear
	// path, a subwoofer, and the main position, which may be no seat. OverallLoss is
	// the loss of Overall.
	Loss        [project.OctaveCount]float64
	OverallLoss float64
}

// Speaker is the direct sound of one loudspeaker in the room.
type Speaker struct {
	// Plays are the octaves it plays; First to Last those of its overall level.
	Plays       [project.OctaveCount]bool
	First, Last int
	// Channel is the number of loudspeakers that play its channel: those of the
	// same label. They are assumed to share its energy evenly.
	Channel int
	Main    Heard // at the main listening position
	// Spread is the greatest less the least level over the seats and Deviation their
	// standard deviation (population: divided by the number of seats), dB, with
	// nothing in the way; SpreadOverall and DeviationOverall are those of the overall
	// levels. SpreadBlocked includes the losses at their upper bounds.
	Spread, Deviation               [project.OctaveCount]float64
	SpreadOverall, DeviationOverall float64
	SpreadBlocked                   float64
	// Loudest and Quietest are seats, by overall level; -1 without seats.
	Loudest, Quietest int
	// Target is the level that it must reach at its peaks, dB SPL. Power is the power
	// needed for that at the main position, PowerQuietest at the quietest seat,
	// watts. The headrooms are how far the model's rated power is above these, dB,
	// negative when it is too low. They are for direct sound alone; the room adds to
	// it, so the powers are upper bounds. For subwoofers they are a first guess, which
	// Study replaces by what package bass says of them together, in the room: see
	// Result.Bass.
	Target                     float64
	Power, PowerQuietest       float64
	Headroom, HeadroomQuietest float64
	// Delay, ms, and Trim, dB, align it for the main listening position, in steps of
	// the processor; DelayExact and TrimExact are the values before rounding. Those
	// of a subwoofer follow from distance alone: package bass aligns subwoofers.
	Delay, Trim, DelayExact, TrimExact float64

	cloth [project.OctaveCount]float64 // what the screen before it takes, dB
}

// Direct is the direct sound of every loudspeaker at every seat.
type Direct struct {
	Playback project.Playback // as given or usual
	Speed    float64          // of sound, m/s
	Speakers []Speaker        // as the audit's
	Heard    []Heard          // seat by seat; see At
}

// At returns the direct sound of loudspeaker k at seat i, both counted from 0.
func (d *Direct) At(i, k int) *Heard { return &d.Heard[i*len(d.Speakers)+k] }

// Relative returns the level at seat i of loudspeaker k against the main
// listening position, dB, with nothing in the way.
func (d *Direct) Relative(i, k int) [project.OctaveCount]float64 {
	out := d.At(i, k).Gain
	for o := range out {
		out[o] -= d.Speakers[k].Main.Gain[o]
	}
	return out
}

// Rated returns the level at h of a loudspeaker of model m at its rated power, dB
// SPL in each octave, with the roll-off of its low end: the level of a tone in that
// octave.
func (h *Heard) Rated(m project.Model) [project.OctaveCount]float64 {
	out := h.Gain
	at1m := LevelAtOneMetre(m, m.Power)
	for o, f := range Midbands() {
		out[o] += at1m + rolloff(m, f)
	}
	return out
}

// Hear computes the direct sound of a valid design. audit is its audit; if nil,
// Hear makes it. It takes some tenths of a millisecond for a large room, and is
// safe from any goroutine.
func Hear(d *project.Design, audit *sight.Result) *Direct {
	if audit == nil {
		audit = sight.Audit(d)
	}
	a := airOf(d.Room.Air)
	out := &Direct{Playback: d.Playback.OrUsual(), Speed: a.speed,
		Speakers: make([]Speaker, len(audit.Speakers)),
		Heard:    make([]Heard, len(audit.Seats)*len(audit.Speakers))}
	channel := map[string]int{}
	for k := range audit.Speakers {
		channel[audit.Speakers[k].Label]++
	}
	ears := listeners(&audit.Room)
	mids := Midbands()
	for k := range audit.Speakers {
		placed := &audit.Speakers[k]
		r := radiatorOf(placed)
		s := &out.Speakers[k]
		s.Plays, s.Channel = plays(placed.Spec), channel[placed.Label]
		s.First, s.Last = overall(placed.Spec)
		if placed.Mount == project.BehindScreen {
			copy(s.cloth[:], d.Picture.SoundLoss)
		}
		s.hear(&s.Main, &r, &a, audit.Main)
		for i := range audit.Seats {
			h := out.At(i, k)
			s.hear(h, &r, &a, ears[i])
			if p := audit.Pair(i, k); p.Verdict == sight.Tight || p.Verdict == sight.Blocked {
				w := p.Deciding()
				behind := h.Gain
				for o, f := range mids {
					h.Loss[o] = w.Loss(f)
					behind[o] -= h.Loss[o]
				}
				h.OverallLoss = h.Overall - meanLevel(&behind, s.First, s.Last)
			}
		}
		out.spread(k, len(audit.Seats))
		out.power(k, placed)
	}
	out.align(audit.Speakers)
	return out
}

// listeners returns the points between the ears of every seat.
func listeners(room *place.Room) []geometry.Vec {
	out := make([]geometry.Vec, len(room.Bodies))
	for i, b := range room.Bodies {
		out[i] = b.Ear()
	}
	return out
}

// hear fills in the direct sound at p with nothing in the way.
func (s *Speaker) hear(h *Heard, r *Radiator, a *roomAir, p geometry.Vec) {
	h.Distance = r.at.Dist(p)
	h.Bearing = r.Bearing(p)
	h.Off = r.Off(p)
	h.Inside = r.omni || h.Off <= 1
	h.Directivity = r.Levels(p)
	far := Spreading(h.Distance)
	for o := range h.Gain {
		h.Gain[o] = far - a.loss[o]*h.Distance + h.Directivity[o] - s.cloth[o]
	}
	h.Overall = meanLevel(&h.Gain, s.First, s.Last)
}

// spread compares the seats.
func (d *Direct) spread(k, seats int) {
	s := &d.Speakers[k]
	s.Loudest, s.Quietest = -1, -1
	if seats == 0 {
		return
	}
	stat := func(of func(h *Heard) float64) (spread, deviation float64, loudest, quietest int) {
		sum, square := 0.0, 0.0
		first := of(d.At(0, k))
		lo, hi := first, first
		for i := range seats {
			v := of(d.At(i, k))
			if v > hi {
				hi, loudest = v, i
			}
			if v < lo {
				lo, quietest = v, i
			}
			sum += v - first // about the first, so that no digits are lost
			square += (v - first) * (v - first)
		}
		n := float64(seats)
		return hi - lo, math.Sqrt(max(square/n-sum*sum/(n*n), 0)), loudest, quietest
	}
	for o := range project.OctaveCount {
		s.Spread[o], s.Deviation[o], _, _ = stat(func(h *Heard) float64 { return h.Gain[o] })
	}
	s.SpreadOverall, s.DeviationOverall, s.Loudest, s.Quietest = stat(func(h *Heard) float64 { return h.Overall })
	s.SpreadBlocked, _, _, _ = stat(func(h *Heard) float64 { return h.Overall - h.OverallLoss })
}

// power computes the power needed for the peak level.
func (d *Direct) power(k int, placed *place.Speaker) {
	s := &d.Speakers[k]
	s.Target = d.peak(placed.Label) - 10*math.Log10(float64(s.Channel))
	s.Power = PowerFor(placed.Spec, s.Target, s.Main.Overall)
	s.Headroom = 10 * math.Log10(placed.Spec.Power/s.Power)
	s.PowerQuietest, s.HeadroomQuietest = s.Power, s.Headroom
	if s.Quietest >= 0 {
		s.PowerQuietest = PowerFor(placed.Spec, s.Target, d.At(s.Quietest, k).Overall)
		s.HeadroomQuietest = 10 * math.Log10(placed.Spec.Power/s.PowerQuietest)
	}
}

// peak returns the level that the channel of this label must reach, dB SPL.
func (d *Direct) peak(label string) float64 {
	l := d.Playback.Reference + d.Playback.Headroom
	if LFE(label) {
		l += d.Playback.LFEGain
	}
	return l
}

// LFE reports whether label is that of a low-frequency effects channel.
func LFE(label string) bool { return strings.HasPrefix(label, "LFE") }

// align computes delays and trims for the main listening position. The farthest
// loudspeaker has no delay, and the one that needs the most drive no trim.
// Subwoofers are not considered for the latter, so their trims may have either
// sign.
func (d *Direct) align(placed []place.Speaker) {
	farthest, most := 0.0, math.Inf(-1)
	needs := make([]float64, len(d.Speakers))
	only := true // subwoofers only
	for k := range placed {
		only = only && placed[k].Spec.Subwoofer()
	}
	for k := range d.Speakers {
		s := &d.Speakers[k]
		farthest = max(farthest, s.Main.Distance)
		needs[k] = -10*math.Log10(float64(s.Channel)) - placed[k].Spec.Sensitivity - s.Main.Overall
		if only || !placed[k].Spec.Subwoofer() {
			most = max(most, needs[k])
		}
	}
	for k := range d.Speakers {
		s := &d.Speakers[k]
		s.DelayExact = DelayFor(farthest, s.Main.Distance, d.Speed)
		s.TrimExact = needs[k] - most
		s.Delay = stepped(s.DelayExact, d.Playback.DelayStep)
		s.Trim = stepped(s.TrimExact, d.Playback.TrimStep)
	}
}

// Tuned returns a copy of design, whose direct sound is d, with the delays and
// trims of d. Polarity stays as it is. Subwoofers that are tuned already keep their
// differences, which align them: they are all changed equally, so that their means
// are those of d.
func (d *Direct) Tuned(design *project.Design) *project.Design {
	out := design.Clone()
	var subs []int
	aligned := false
	for k := range out.Speakers {
		t := &out.Speakers[k].Tuning
		if m, ok := out.Model(out.Speakers[k].Model); ok && m.Subwoofer() {
			subs, aligned = append(subs, k), aligned || *t != (project.Tuning{})
			continue
		}
		t.Delay, t.Gain = d.Speakers[k].Delay, d.Speakers[k].Trim
	}
	delay, gain, n := 0.0, 0.0, float64(len(subs))
	for _, k := range subs {
		delay += (d.Speakers[k].Delay - out.Speakers[k].Tuning.Delay) / n
		gain += (d.Speakers[k].Trim - out.Speakers[k].Tuning.Gain) / n
	}
	// Halves of a step are rounded to zero, so that a second call changes nothing.
	const nearly = 1 - 1e-6
	delay, gain = stepped(nearly*delay, d.Playback.DelayStep), stepped(nearly*gain, d.Playback.TrimStep)
	for _, k := range subs {
		t := &out.Speakers[k].Tuning
		if !aligned {
			t.Delay, t.Gain = d.Speakers[k].Delay, d.Speakers[k].Trim
			continue
		}
		delay = max(delay, -t.Delay) // no delay below 0
		t.Gain = toMillionth(t.Gain + gain)
	}
	for _, k := range subs {
		if aligned {
			t := &out.Speakers[k].Tuning
			t.Delay = toMillionth(t.Delay + delay)
		}
	}
	return out
}

// toMillionth rounds v to a millionth, which removes the binary rounding from a
// sum of whole steps.
func toMillionth(v float64) float64 { return math.Round(v*1e6)/1e6 + 0 }

// DelayFor returns the delay, ms, that lets a loudspeaker at near metres arrive
// together with one at far metres, in air of speed m/s.
func DelayFor(far, near, speed float64) float64 { return 1000 * (far - near) / speed }

// stepped rounds v to whole steps.
func stepped(v, step float64) float64 {
	if !(step > 0) {
		return v
	}
	// To a millionth, because steps of 0.1 are not exact in binary; adding zero turns
	// a negative zero into a positive one.
	return toMillionth(math.Round(v/step) * step)
}

// Loudness is how long the room may be listened to at its levels; see DoseTime.
type Loudness struct {
	Reference float64 // of one channel, dB
	Peak      float64 // of one channel, dB
	All       float64 // of all channels at their peaks at once, dB
	// The minutes after which each level, held constant, is a full day's dose.
	ReferenceMinutes, PeakMinutes, AllMinutes float64
}

// Loudness returns the levels that the room is set up for and their noise dose.
// The document's levels are C-weighted. The dose is of A-weighted ones, which are
// the same or lower for broad-band sound: the times are lower bounds.
func (d *Direct) Loudness(placed []place.Speaker) Loudness {
	l := Loudness{Reference: d.Playback.Reference, Peak: d.Playback.Reference + d.Playback.Headroom}
	seen := map[string]bool{}
	var all []float64
	for k := range placed {
		if label := placed[k].Label; !seen[label] {
			seen[label] = true
			all = append(all, d.peak(label))
		}
	}
	if l.All = l.Peak; len(all) > 0 {
		l.All = EnergySum(all...)
	}
	l.ReferenceMinutes = DoseTime(l.Reference).Minutes()
	l.PeakMinutes = DoseTime(l.Peak).Minutes()
	l.AllMinutes = DoseTime(l.All).Minutes()
	return l
}
