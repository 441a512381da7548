// SPDX-License-Identifier: MIT

package sound

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"earline/project"
	"earline/project/bass"
	"earline/project/noise"
	"earline/project/shell"
	"earline/project/sight"
)

// Options say what a study covers.
type Options struct {
	Target Target // of the reverberation time
	Empty  bool   // nobody sits in the chairs
	Second bool   // reflections by way of two surfaces too
}

// Result is a whole study. Loudspeakers and seats are in the order of Audit.
type Result struct {
	Name        string
	Options     Options
	Audit       *sight.Result
	Direct      *Direct
	Reflections *Reflections
	// TreatMain is where to treat for the main listening position, TreatSeats for
	// it and every seat.
	TreatMain, TreatSeats []Patch
	Reverb                *Reverb
	Loudness              Loudness
	Noise                 noise.Result // how quiet the room is
	Air                   project.Air  // as given or usual
	// Bass is what the subwoofers can play in the room; nil without subwoofers or
	// where that cannot be computed.
	Bass *bass.Output
	// Remarks list assumptions and omissions, and how far the answers hold.
	Remarks []string
}

// Study computes everything for a valid design. audit is its audit; if nil, Study
// makes it. It is a pure function of d, safe from any goroutine. The error is that
// of ctx.
func Study(ctx context.Context, d *project.Design, audit *sight.Result, o Options) (*Result, error) {
	if audit == nil {
		audit = sight.Audit(d)
	}
	r := &Result{Name: d.Name, Options: o, Audit: audit, Direct: Hear(d, audit), Air: d.Room.Air.OrUsual()}
	s := shell.Of(d)
	var err error
	if r.Reflections, err = reflectIn(ctx, d, s, &audit.Room, ReflectOptions{Second: o.Second}); err != nil {
		return nil, err
	}
	r.TreatMain, r.TreatSeats = r.Reflections.Treat(false), r.Reflections.Treat(true)
	var assumed []string
	r.Reverb, assumed = reverberate(d, s, o.Target, o.Empty)
	if err := r.hearBass(ctx, d); err != nil {
		return nil, err
	}
	r.Loudness = r.Direct.Loudness(audit.Speakers)
	r.Noise = noise.Of(d, r.Reverb.RoomConstant())
	r.remarks(d, assumed)
	return r, nil
}

// Short reports whether something falls short: a loudspeaker that cannot reach its
// peaks at the main listening position, a reflection there that breaks the limit,
// or a reverberation time outside its tolerance.
func (r *Result) Short() bool {
	for k := range r.Direct.Speakers {
		if r.Direct.Speakers[k].Headroom < 0 {
			return true
		}
	}
	for o, judged := range r.Reverb.Judged {
		if judged && !r.Reverb.Within[o] {
			return true
		}
	}
	return slices.ContainsFunc(r.Reflections.All, func(f Reflection) bool { return f.Breaks && f.Seat == MainSeat })
}

// Outside returns the seats outside the nominal coverage of loudspeaker k.
func (r *Result) Outside(k int) []int {
	var out []int
	for i := range r.Audit.Seats {
		if !r.Direct.At(i, k).Inside {
			out = append(out, i)
		}
	}
	return out
}

// SeatWords names a seat by its index: "row 2 seat 3", or the main listening
// position.
func (r *Result) SeatWords(i int) string {
	if i < 0 || i >= len(r.Audit.Seats) {
		return "main position"
	}
	s := r.Audit.Seats[i]
	return fmt.Sprintf("row %d seat %d", s.Row, s.Number)
}

// Way names the surfaces of f: "ceiling, then back wall".
func (r *Reflections) Way(f *Reflection) string {
	w := r.Surfaces[f.Surfaces[0]].Words
	if f.Order == 2 {
		w += ", then " + r.Surfaces[f.Surfaces[1]].Words
	}
	return w
}

// remarks collects the assumptions behind the answers.
func (r *Result) remarks(d *project.Design, assumed []string) {
	add := func(format string, args ...any) {
		if text := fmt.Sprintf(format, args...); !slices.Contains(r.Remarks, text) {
			r.Remarks = append(r.Remarks, text)
		}
	}
	for _, text := range assumed {
		add("%s", text)
	}
	if d.Room.Air == (project.Air{}) {
		add("air: not given, taken as %g °C and %g %% relative humidity", r.Air.Temperature, r.Air.Humidity)
	}
	if p := d.Playback; p.Reference == 0 || p.Headroom == 0 {
		add("playback: levels not given, taken as %g dB(C) and %g dB of headroom", r.Direct.Playback.Reference, r.Direct.Playback.Headroom)
	}
	r.modelRemarks(d, add)
	subs := false
	for k := range r.Audit.Speakers {
		subs = subs || r.Audit.Speakers[k].Spec.Subwoofer()
	}
	if subs {
		add("subwoofers: delay and trim are those of distance in a free field; aligning bass is another analysis")
	}
	if r.Bass != nil {
		for _, text := range r.Bass.Remarks {
			add("%s", text)
		}
	}
	v := r.Reverb
	const largest = 300 // m3, EBU Tech 3276, 2nd ed. (1998)
	if v.Volume > largest {
		add("reverberation: the target is for rooms of up to %d m³, this one has %.0f m³", largest, v.Volume)
	}
	if r.Options.Target == ReferenceRoom && (v.Wanted < 0.2 || v.Wanted > 0.4) {
		add("reverberation: EBU Tech 3276 keeps the target from 0.2 to 0.4 s; for this volume the formula gives %.2f s", v.Wanted)
	}
	if uneven(v) {
		add("reverberation: some surfaces absorb several times the mean; sound between the hard ones will ring longer than the formulas say")
	}
	add("reverberation: the screen's cloth and the loudspeakers are left out")
	add("reverberation: an even field is supposed, which no small room has; below some %.0f Hz (Schroeder) the times mean little", v.Schroeder)
	if text := r.Noise.Remark(); text != "" {
		add("%s", text)
	}
	add("reflections: rays, with no one in the way; the limit is that of reference listening rooms (ITU-R BS.1116, EBU Tech 3276); diffusers are not judged")
	add("levels are of the direct sound, without the room; blocking is an upper bound (endless straight edge, ITU-R P.526)")
}

// modelRemarks lists what is not known about the models in use.
func (r *Result) modelRemarks(d *project.Design, add func(string, ...any)) {
	used := map[string]bool{}
	for _, l := range d.Speakers {
		used[l.Model] = true
	}
	for _, m := range d.Models {
		if !used[m.ID] {
			continue
		}
		if m.Impedance == 0 {
			add("%s: impedance not given, taken as %d ohm", m.Name, project.UsualImpedance)
		}
		if m.Cutoff == 0 {
			add("%s: low end not given, taken as level throughout", m.Name)
		}
		if m.Subwoofer() {
			continue
		}
		if m.Polar.Given() {
			for _, plane := range [][]project.PolarCurve{m.Polar.Horizontal, m.Polar.Vertical} {
				if n := len(plane); n > 0 && (plane[0].Frequency > 1100 || plane[n-1].Frequency < 7000) {
					add("%s: measured from %g to %g Hz; beyond that the last curve serves", m.Name, plane[0].Frequency, plane[n-1].Frequency)
				}
			}
			continue
		}
		r.beaming(m, add)
	}
	for _, m := range d.Models {
		if used[m.ID] && !m.Subwoofer() && !m.Polar.Given() {
			add("directivity: by the nominal coverage where nothing is measured; sides and back are guesses")
			return
		}
	}
}

// beaming lists where a driver that moves as a piston would beam more than the
// coverage claims. The octaves of 4 and 8 kHz are assumed to be those of the
// highest driver (common practice, no source).
func (r *Result) beaming(m project.Model, add func(string, ...any)) {
	n := m.Deciding()
	if n < 0 {
		return
	}
	radius := float64(m.Drivers[n].Diameter) / 2
	claimed := max(m.CoverageH, m.CoverageV).Radians() / 2
	for o := kilohertz + 2; o < project.OctaveCount; o++ {
		if a, ok := PistonHalfAngle(radius, Midbands()[o], r.Direct.Speed); ok && a < claimed {
			add("%s: its coverage of %s ends at %.0f° off the axis; a driver of %.0f mm moving as a piston would end at %.0f° at %g kHz: ask for measured data",
				m.Name, max(m.CoverageH, m.CoverageV), claimed*180/math.Pi, 2000*radius, a*180/math.Pi, project.Octaves()[o]/1000)
			return
		}
	}
}

// uneven reports whether large surfaces absorb several times the mean at 1 kHz
// while others, as large, stay hard.
func uneven(v *Reverb) bool {
	const (
		times = 2.5
		share = 0.1 // of the surface
	)
	soft, hard := 0.0, 0.0
	for _, it := range v.Items {
		switch a := it.Alpha[kilohertz]; {
		case a > times*v.Mean[kilohertz]:
			soft += it.Area
		case a < v.Mean[kilohertz]/times:
			hard += it.Area
		}
	}
	return soft > share*v.Surface && hard > share*v.Surface
}

// Caution is said with every answer about levels.
const Caution = "Long loud listening harms hearing, a child's first. The dose times are an occupational limit for adults (NIOSH 98-126), " +
	"not a safe level. Set levels with a meter, and follow local rules."

// sentence says f in one line, lengths by show.
func (r *Result) sentence(f *Reflection, show func(float64) string) string {
	on := &r.Reflections.Surfaces[f.Surfaces[0]]
	p := f.Points[0]
	where := fmt.Sprintf("x %s, y %s, z %s", show(p.X), show(p.Y), show(p.Z))
	if q := on.Flat(p); on.Kind == shell.Wall {
		where = fmt.Sprintf("%s from %s, %s high", show(q.X), on.Begins, show(q.Y))
	}
	word := "below"
	level := -f.Strongest
	if level < 0 {
		word, level = "above", -level
	}
	return fmt.Sprintf("%s to %s by the %s: %.1f ms later, %.1f dB %s the direct sound, at %s",
		r.Audit.Speakers[f.Speaker].Name(), r.SeatWords(f.Seat), r.Reflections.Way(f), f.Delay, level, word, where)
}

// Sentence says in one line what reflection f of r.Reflections.All is.
func (r *Result) Sentence(f *Reflection, u project.Units) string {
	return r.sentence(f, shower(u))
}

// PatchSentence says in one line where and what to treat, and for what.
func (r *Result) PatchSentence(p *Patch, u project.Units) string {
	names := make([]string, len(p.Speakers))
	for i, k := range p.Speakers {
		names[i] = r.Audit.Speakers[k].Name()
	}
	return fmt.Sprintf("%s; strongest %+.1f dB, earliest %.1f ms; %s",
		r.Reflections.Where(p, u), p.Strongest, p.Earliest, strings.Join(names, ", "))
}

// Where says in one line where and what to treat: "left wall: 1.200 m to
// 1.800 m from wall 6, 0.900 m to 1.500 m high: absorption".
func (r *Reflections) Where(p *Patch, u project.Units) string {
	show := shower(u)
	on := &r.Surfaces[p.Surface]
	a, b := "from the screen wall", "from the left wall"
	switch on.Kind {
	case shell.Wall:
		a, b = "from "+on.Begins, "high"
	case shell.Step:
		a, b = "from the left wall", "high"
	case shell.Feature:
		a, b = "from its middle", "up or across from its middle"
	}
	return fmt.Sprintf("%s: %s to %s %s, %s to %s %s: %s",
		p.Words, show(p.From), show(p.To), a, show(p.Low), show(p.High), b, p.Advice)
}
