// SPDX-License-Identifier: MIT

package handover

import (
	"math"
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/bs2051"
	"earline/project/noise"
	"earline/project/picture"
	"earline/project/sight"
	"earline/project/sound"
)

// Record is the calibration record of a design.
type Record struct {
	Design   *project.Design
	Playback project.Playback // as given or usual
	// Computed is that delays and trims are worked out from distance, as the design has
	// none: they are not in it yet.
	Computed bool
	Channels []Channel // loudspeakers but subwoofers, in the order of the design
	Subs     []Channel
	Decay    []Octave
	Wanted   float64 // reverberation time, s, from 250 Hz to 4 kHz
	Noise    noise.Result
	Picture  Picture
	Loudness sound.Loudness
	Place    Place // of the microphone
}

// Channel is what one loudspeaker is set to.
type Channel struct {
	ID, Name, Plain string  // Plain says where it belongs
	Distance        float64 // from the main position, m
	Delay           float64 // ms
	Trim            float64 // dB
	Inverted        bool
	Sub             bool
	Crossover       string   // between it and the subwoofers, in words
	Filters         []string // of it alone, in words
	// Target is the level at the main position with reference noise, this loudspeaker
	// alone, dB(C) SPL; Sharing is how many play its channel.
	Target  float64
	Sharing int
	// ExactDelay and ExactTrim are what distance and direct sound ask for before they are
	// rounded to the steps of the processor.
	ExactDelay, ExactTrim float64
}

// Octave is the reverberation in one octave, s; Measured is 0 where it was not.
type Octave struct {
	Hz                 float64
	Computed, Measured float64
	Judged             bool // against Record.Wanted
}

// Picture is what white is to measure.
type Picture struct {
	Reference picture.Reference
	Shape     string  // the first shape of picture, which the figures are of
	New, Aged float64 // cd/m² towards the main position as planned; 0 without a projector
}

// Place is where the main position lies for the microphone.
type Place struct {
	Height, Screen, Wall float64 // ears over the row's platform; distance to the picture and to the nearest wall, m
}

// Of makes the record of a design. audit is its audit; if nil, Of makes it.
func Of(d *project.Design, audit *sight.Result) *Record {
	if audit == nil {
		audit = sight.Audit(d)
	}
	direct := sound.Hear(d, audit)
	r := &Record{Design: d, Playback: direct.Playback, Loudness: direct.Loudness(audit.Speakers)}
	tuned := d
	r.Computed = !slices.ContainsFunc(d.Speakers, func(l project.Loudspeaker) bool { return l.Tuning.Delay != 0 || l.Tuning.Gain != 0 })
	if r.Computed {
		tuned = direct.Tuned(d)
	}
	for k := range audit.Speakers {
		s, l := &direct.Speakers[k], tuned.Speakers[k]
		c := Channel{ID: l.ID, Name: l.Name(), Plain: bs2051.Means(l.Name()), Distance: s.Main.Distance,
			Delay: l.Tuning.Delay, Trim: l.Tuning.Gain, Inverted: l.Tuning.Inverted, Sharing: s.Channel,
			Crossover: crossoverOf(d, l), Filters: filtersOf(d, l.ID), ExactDelay: s.DelayExact, ExactTrim: s.TrimExact,
			Target: r.Playback.Reference - 10*math.Log10(float64(s.Channel))}
		if sound.LFE(l.Label) {
			c.Sub = true
			c.Target += r.Playback.LFEGain
			r.Subs = append(r.Subs, c)
		} else {
			r.Channels = append(r.Channels, c)
		}
	}
	r.decay()
	r.picture()
	r.place(audit)
	return r
}

// decay sets the computed and the measured times side by side.
func (r *Record) decay() {
	v, _ := sound.Reverberate(r.Design, sound.ReferenceRoom, false)
	r.Wanted = v.Wanted
	for o, hz := range project.Octaves() {
		r.Decay = append(r.Decay, Octave{Hz: hz, Computed: v.Eyring[o], Measured: inOctave(r.Design.Measured.Decay, hz),
			Judged: v.Judged[o]})
	}
	r.Noise = noise.Of(r.Design, v.RoomConstant())
}

// inOctave returns the mean of the measured times of the thirds of an octave about hz,
// s; 0 where there are none.
func inOctave(times []project.ThirdTime, hz float64) float64 {
	sum, n := 0.0, 0.0
	for _, t := range times {
		if math.Abs(math.Log2(t.Hz/hz)) < 0.4 { // its thirds lie 1/3 beside it
			sum, n = sum+t.Time, n+1
		}
	}
	if n == 0 {
		return 0
	}
	return sum / n
}

func (r *Record) picture() {
	p := picture.Of(r.Design)
	r.Picture.Reference = picture.References()[0]
	if len(p.Shapes) == 0 {
		return
	}
	s := &p.Shapes[0]
	r.Picture.Shape = s.Called
	if p.Projected {
		f := &s.Fills[p.Chosen()]
		r.Picture.New, r.Picture.Aged = p.Toward(&p.Main, f.New), p.Toward(&p.Main, f.Aged)
	}
}

func (r *Record) place(audit *sight.Result) {
	at := audit.Main
	r.Place.Height = at.Z
	if m := r.Design.Seating.Main.Row; m >= 1 && m <= len(r.Design.Seating.Rows) {
		r.Place.Height -= float64(r.Design.Seating.Rows[m-1].Riser)
	}
	r.Place.Screen = at.X - float64(r.Design.Screen.Distance)
	flat := geometry.Vec2{X: at.X, Y: at.Y}
	_, foot := r.Design.Room.Polygon().Nearest(flat)
	r.Place.Wall = flat.Dist(foot)
}

// length prints metres in the units of the design.
func (r *Record) length(v float64) string {
	return unit.Length(v).Format(r.Design.Units != project.Imperial)
}
