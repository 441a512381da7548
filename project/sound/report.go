// SPDX-License-Identifier: MIT

package sound

import (
	"math"
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/bass"
	"earline/project/noise"
	"earline/project/shell"
)

// octaves are eight values, one an octave.
type octaves [project.OctaveCount]float64

// Report is a whole study as data for other programs. Its JSON keys are stable: a
// key may be added, none is renamed or removed within one Version. Lists of eight
// are by octave, as octaves_hz; positions are in the room frame, metres.
type Report struct {
	Format       string             `json:"format"`  // always "earline-sound"
	Version      int                `json:"version"` // of these keys
	Name         string             `json:"name"`
	OctavesHz    octaves            `json:"octaves_hz"`
	Temperature  float64            `json:"temperature_c"`
	Humidity     float64            `json:"humidity_percent"`
	SpeedOfSound float64            `json:"speed_of_sound_m_s"`
	Reference    float64            `json:"reference_db"`
	Headroom     float64            `json:"headroom_db"`
	Short        bool               `json:"falls_short"`
	Speakers     []ReportSpeaker    `json:"loudspeakers"`
	Reflections  []ReportReflection `json:"reflections"`
	TreatMain    []ReportPatch      `json:"treat_for_main"`
	TreatSeats   []ReportPatch      `json:"treat_for_all"`
	Reverb       ReportReverb       `json:"reverberation"`
	Loudness     ReportLoudness     `json:"loudness"`
	Noise        noise.Report       `json:"noise"`
	// Bass is what the subwoofers can play, as the bass analysis says it; null without
	// subwoofers. Their target_db, needed_w and power_left_db are its main, the
	// _quietest ones its worst.
	Bass    *bass.ReportOutput `json:"subwoofer_output"`
	Remarks []string           `json:"remarks"`
	Caution string             `json:"caution"`
}

// ReportSpeaker is one loudspeaker; its own figures are those of the main position.
type ReportSpeaker struct {
	Name      string                    `json:"name"`
	Model     string                    `json:"model"`
	Subwoofer bool                      `json:"subwoofer"`
	Plays     [project.OctaveCount]bool `json:"plays"`
	Sharing   int                       `json:"channel_loudspeakers"`
	Distance  float64                   `json:"distance_m"`
	Across    float64                   `json:"across_deg"`
	Upright   float64                   `json:"upright_deg"`
	Rated     octaves                   `json:"rated_level_db"`
	Delay     float64                   `json:"delay_ms"`
	DelayFull float64                   `json:"delay_exact_ms"`
	Trim      float64                   `json:"trim_db"`
	TrimFull  float64                   `json:"trim_exact_db"`
	SetDelay  float64                   `json:"set_delay_ms"` // as the document has it
	SetGain   float64                   `json:"set_gain_db"`
	Spread    octaves                   `json:"spread_db"`
	Deviation octaves                   `json:"deviation_db"`
	SpreadAll float64                   `json:"spread_overall_db"`
	DeviatAll float64                   `json:"deviation_overall_db"`
	Blocked   float64                   `json:"spread_blocked_db_at_most"`
	Target    float64                   `json:"target_db"`
	RatedW    float64                   `json:"rated_w"`
	Needed    float64                   `json:"needed_w"`
	NeededFar float64                   `json:"needed_quietest_w"`
	Left      float64                   `json:"power_left_db"`
	LeftFar   float64                   `json:"power_left_quietest_db"`
	Quietest  string                    `json:"quietest_seat"`
	Seats     []ReportHeard             `json:"seats"`
}

// ReportHeard is what one seat gets of one loudspeaker; levels are against the main
// position.
type ReportHeard struct {
	Row      int     `json:"row"`
	Seat     int     `json:"seat"`
	Distance float64 `json:"distance_m"`
	Across   float64 `json:"across_deg"`
	Upright  float64 `json:"upright_deg"`
	Inside   bool    `json:"inside_coverage"`
	OffAxis  float64 `json:"off_axis_4khz_db"`
	Relative octaves `json:"relative_db"`
	Overall  float64 `json:"relative_overall_db"`
	Loss     octaves `json:"loss_db_at_most"`
}

// ReportReflection is a reflection: all of the main position, and those of seats
// that break the limit.
type ReportReflection struct {
	Loudspeaker string       `json:"loudspeaker"`
	Seat        string       `json:"listener"` // "2.3", or "main"
	Way         string       `json:"surface"`
	Points      [][3]float64 `json:"points"`
	Delay       float64      `json:"delay_ms"`
	Level       octaves      `json:"level_db"`
	Strongest   float64      `json:"strongest_db"`
	Scatters    bool         `json:"scatters"`
	Breaks      bool         `json:"breaks_limit"`
}

// ReportPatch is where to treat.
type ReportPatch struct {
	Surface   string   `json:"surface"`
	Wall      int      `json:"wall,omitempty"`
	From      float64  `json:"from_m"`
	To        float64  `json:"to_m"`
	Low       float64  `json:"low_m"`
	High      float64  `json:"high_m"`
	Advice    string   `json:"advice"`
	Strongest float64  `json:"strongest_db"`
	Earliest  float64  `json:"earliest_ms"`
	Speakers  []string `json:"for_loudspeakers"`
	Listeners []string `json:"for_listeners"`
}

// ReportReverb is how long the room rings.
type ReportReverb struct {
	Volume    float64                   `json:"volume_m3"`
	Surface   float64                   `json:"surface_m2"`
	Items     []ReportAbsorber          `json:"absorbers"`
	Area      octaves                   `json:"absorption_m2"`
	Air       octaves                   `json:"air_m2"`
	Mean      octaves                   `json:"mean_absorption"`
	Sabine    octaves                   `json:"sabine_s"`
	Eyring    octaves                   `json:"eyring_s"`
	Mid       float64                   `json:"mid_s"`
	Wanted    float64                   `json:"target_s"`
	Tolerance float64                   `json:"tolerance_s"`
	Judged    [project.OctaveCount]bool `json:"judged"`
	Within    [project.OctaveCount]bool `json:"within"`
	Change    octaves                   `json:"change_m2"`
	Least     octaves                   `json:"change_least_m2"`
	Schroeder float64                   `json:"schroeder_hz"`
}

// ReportAbsorber is what absorbs.
type ReportAbsorber struct {
	Name       string  `json:"name"`
	Material   string  `json:"material"`
	Area       float64 `json:"area_m2"`
	Absorption octaves `json:"absorption"`
}

// ReportLoudness is what the levels do to ears.
type ReportLoudness struct {
	Reference        float64 `json:"reference_db"`
	ReferenceMinutes float64 `json:"reference_dose_min"`
	Peak             float64 `json:"peak_db"`
	PeakMinutes      float64 `json:"peak_dose_min"`
	All              float64 `json:"all_peaks_db"`
	AllMinutes       float64 `json:"all_peaks_dose_min"`
}

// Report returns r as data.
func (r *Result) Report() Report {
	d := r.Direct
	rep := Report{Format: "earline-sound", Version: 1, Name: r.Name, OctavesHz: project.Octaves(),
		Temperature: r.Air.Temperature, Humidity: r.Air.Humidity, SpeedOfSound: fine(d.Speed),
		Reference: d.Playback.Reference, Headroom: d.Playback.Headroom, Short: r.Short(),
		Speakers: []ReportSpeaker{}, Reflections: []ReportReflection{},
		TreatMain: r.patches(r.TreatMain), TreatSeats: r.patches(r.TreatSeats), Remarks: r.Remarks, Caution: Caution}
	for k := range d.Speakers {
		rep.Speakers = append(rep.Speakers, r.reportSpeaker(k))
	}
	for i := range r.Reflections.All {
		if f := &r.Reflections.All[i]; f.Breaks || f.Seat == MainSeat {
			q := ReportReflection{Loudspeaker: r.Audit.Speakers[f.Speaker].Name(), Seat: r.listener(f.Seat),
				Way: r.Reflections.Way(f), Delay: fine(f.Delay), Level: fines(f.Level), Strongest: fine(f.Strongest),
				Scatters: f.Scatters, Breaks: f.Breaks}
			for _, p := range f.Points[:f.Order] {
				q.Points = append(q.Points, xyz(p))
			}
			rep.Reflections = append(rep.Reflections, q)
		}
	}
	v := r.Reverb
	rep.Reverb = ReportReverb{Volume: fine(v.Volume), Surface: fine(v.Surface), Items: []ReportAbsorber{},
		Area: fines(v.Area), Air: fines(v.Air), Mean: fines(v.Mean), Sabine: fines(v.Sabine), Eyring: fines(v.Eyring),
		Mid: fine(v.Mid), Wanted: fine(v.Wanted), Tolerance: Tolerance, Judged: v.Judged, Within: v.Within,
		Change: fines(v.Change), Least: fines(v.Least), Schroeder: fine(v.Schroeder)}
	for _, it := range v.Items {
		rep.Reverb.Items = append(rep.Reverb.Items, ReportAbsorber{it.Name, it.Material, fine(it.Area), fines(it.Alpha)})
	}
	if r.Bass != nil {
		rep.Bass = r.Bass.Report()
	}
	l := r.Loudness
	rep.Loudness = ReportLoudness{l.Reference, fine(l.ReferenceMinutes), l.Peak, fine(l.PeakMinutes), fine(l.All), fine(l.AllMinutes)}
	rep.Noise = r.Noise.Report()
	return rep
}

func (r *Result) reportSpeaker(k int) ReportSpeaker {
	sp, s := &r.Audit.Speakers[k], &r.Direct.Speakers[k]
	out := ReportSpeaker{Name: sp.Name(), Model: sp.Spec.Name, Subwoofer: sp.Spec.Subwoofer(), Plays: s.Plays, Sharing: s.Channel,
		Distance: fine(s.Main.Distance), Across: degrees(s.Main.Bearing.Across), Upright: degrees(s.Main.Bearing.Upright),
		Rated: fines(s.Main.Rated(sp.Spec)),
		Delay: fine(s.Delay), DelayFull: fine(s.DelayExact), Trim: fine(s.Trim), TrimFull: fine(s.TrimExact),
		SetDelay: sp.Tuning.Delay, SetGain: sp.Tuning.Gain,
		Spread: fines(s.Spread), Deviation: fines(s.Deviation), SpreadAll: fine(s.SpreadOverall), DeviatAll: fine(s.DeviationOverall),
		Blocked: fine(s.SpreadBlocked), Target: fine(s.Target), RatedW: sp.Spec.Power, Needed: fine(s.Power), NeededFar: fine(s.PowerQuietest),
		Left: fine(s.Headroom), LeftFar: fine(s.HeadroomQuietest), Quietest: r.listener(s.Quietest), Seats: []ReportHeard{}}
	if r.Bass != nil && slices.Contains(r.Bass.Speakers, k) {
		out.Quietest = r.listener(r.Bass.Worst.Seat)
	}
	for i, seat := range r.Audit.Seats {
		h := r.Direct.At(i, k)
		out.Seats = append(out.Seats, ReportHeard{Row: seat.Row, Seat: seat.Number, Distance: fine(h.Distance),
			Across: degrees(h.Bearing.Across), Upright: degrees(h.Bearing.Upright), Inside: h.Inside, OffAxis: fine(h.Directivity[kilohertz+2]),
			Relative: fines(r.Direct.Relative(i, k)), Overall: fine(h.Overall - s.Main.Overall), Loss: fines(h.Loss)})
	}
	return out
}

func (r *Result) patches(all []Patch) []ReportPatch {
	out := []ReportPatch{}
	for i := range all {
		p := &all[i]
		q := ReportPatch{Surface: p.Words, From: fine(p.From), To: fine(p.To), Low: fine(p.Low), High: fine(p.High),
			Advice: string(p.Advice), Strongest: fine(p.Strongest), Earliest: fine(p.Earliest)}
		if on := &r.Reflections.Surfaces[p.Surface]; on.Kind == shell.Wall {
			q.Wall = on.Index
		}
		for _, k := range p.Speakers {
			q.Speakers = append(q.Speakers, r.Audit.Speakers[k].Name())
		}
		for _, i := range p.Seats {
			q.Listeners = append(q.Listeners, r.listener(i))
		}
		out = append(out, q)
	}
	return out
}

// listener returns the short name of a seat by its index: "2.3", or "main".
func (r *Result) listener(i int) string {
	if i < 0 || i >= len(r.Audit.Seats) {
		return "main"
	}
	return r.Audit.Seats[i].Name()
}

func degrees(a float64) float64 { return fine(float64(unit.FromRadians(a))) }

func xyz(v geometry.Vec) [3]float64 { return [3]float64{fine(v.X), fine(v.Y), fine(v.Z)} }

func fines(v [project.OctaveCount]float64) octaves {
	for o := range v {
		v[o] = fine(v[o])
	}
	return v
}

// fine rounds to a millionth, so that the last bits of a computation do not make
// two equal studies differ as text; without a negative zero.
func fine(x float64) float64 { return math.Round(x*1e6)/1e6 + 0 }

// shower returns how lengths are written in those units.
func shower(u project.Units) func(float64) string {
	return func(v float64) string { return unit.Length(v).Format(u != project.Imperial) }
}
