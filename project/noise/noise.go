// SPDX-License-Identifier: MIT

package noise

import (
	"fmt"
	"math"

	"earline/project"
	"earline/project/place"
)

// What reference listening rooms ask for: NR 10, and never over NR 15.
const (
	Preferred = 10
	Limit     = 15
	// Source is where that is from.
	Source = "Rec. ITU-R BS.1116-3 (02/2015), 8.4.4, from memory"
)

// Verdict is how a room stands.
type Verdict uint8

// The verdicts.
const (
	Unknown Verdict = iota
	Quiet           // as quiet as preferred
	Within          // the limit
	Over            // the limit
)

// Result is what is known of the noise of a room.
type Result struct {
	// NR is the rating at the seat of interest; NaN where nothing is known.
	NR      float64
	Verdict Verdict
	// Measured is that NR is of octave levels that were measured, with the NC of them;
	// NCKnown is false beyond the NC curves, NC then the nearest.
	Measured bool
	NC       float64
	NCKnown  bool
	Octave   int // that decides NR, as in Levels
	// Stated is the background as the design states it, NR; 0 for not.
	Stated float64
	// Projector is the level of the projector at the nearest ear, dB(A), at Distance
	// metres, of seat Seat; 0 where it is not known, or behind glass (Behind).
	Projector, Distance float64
	Seat                string
	Behind              bool
}

// Of returns what is known of the noise of d. constant is the room constant at 1 kHz, m²
// (see RoomConstant); 0 leaves out what the room adds to the projector.
func Of(d *project.Design, constant float64) Result {
	r := Result{NR: math.NaN(), Stated: d.Playback.Background}
	r.projector(d, constant)
	switch {
	case len(d.Measured.Noise) == project.NoiseOctaves:
		l := Levels(d.Measured.Noise)
		r.Measured = true
		r.NR, r.Octave = NR(l)
		r.NC, r.NCKnown = NC(l)
	case r.Stated > 0 && r.Projector > 0:
		r.NR = Sum(r.Stated, RatingOf(r.Projector))
	case r.Stated > 0:
		r.NR = r.Stated
	case r.Projector > 0:
		r.NR = RatingOf(r.Projector)
	default:
		return r
	}
	switch shown := math.Round(r.NR); {
	case shown <= Preferred:
		r.Verdict = Quiet
	case shown <= Limit:
		r.Verdict = Within
	default:
		r.Verdict = Over
	}
	return r
}

// projector looks for the ear that hears the projector best.
func (r *Result) projector(d *project.Design, constant float64) {
	m, ok := d.ProjectorModel(d.Projector.Model)
	if !d.Projector.Given() || !ok || m.Noise <= 0 {
		return
	}
	if d.Projector.Mount == project.PortMount {
		r.Behind = true
		return
	}
	r.Distance = math.Inf(1)
	for _, s := range place.Seats(d) {
		if v := place.Listener(d, s).Ear().Dist(d.Projector.At.Vec()); v < r.Distance {
			r.Distance, r.Seat = v, s.Name()
		}
	}
	if r.Seat == "" {
		r.Distance = 0
		return
	}
	r.Projector = InRoom(m.Noise, r.Distance, constant)
}

// Line says in one line how quiet the room is; length writes metres.
func (r Result) Line(length func(float64) string) string {
	asked := fmt.Sprintf("reference listening rooms ask for NR %d and never over NR %d (%s)", Preferred, Limit, Source)
	if r.Verdict == Unknown {
		text := "Background noise: not known"
		if r.Behind {
			text += " (the projector is behind glass)"
		}
		return text + "; " + asked
	}
	verdict := "as quiet as that"
	switch r.Verdict {
	case Within:
		verdict = "within the limit"
	case Over:
		verdict = fmt.Sprintf("over the limit by %.0f", math.Round(r.NR)-Limit)
	}
	return fmt.Sprintf("Background noise: NR %.0f, %s; %s: %s", r.NR, r.from(length), asked, verdict)
}

// from says what the rating is of.
func (r Result) from(length func(float64) string) string {
	if r.Measured {
		octaves := []string{"31.5 Hz", "63 Hz", "125 Hz", "250 Hz", "500 Hz", "1 kHz", "2 kHz", "4 kHz", "8 kHz"}
		return fmt.Sprintf("measured, decided at %s, %s", octaves[r.Octave], r.ncWords())
	}
	projector := fmt.Sprintf("%.0f dB(A) at seat %s, %s away", r.Projector, r.Seat, length(r.Distance))
	switch {
	case r.Stated > 0 && r.Projector > 0:
		return fmt.Sprintf("NR %.0f as stated with the projector, %s, about NR %.0f", r.Stated, projector, RatingOf(r.Projector))
	case r.Stated > 0 && r.Behind:
		return "as stated, the projector behind glass"
	case r.Stated > 0:
		return "as stated, without a projector"
	}
	return "of the projector alone, " + projector
}

func (r Result) ncWords() string {
	switch {
	case r.NCKnown:
		return fmt.Sprintf("NC %.0f", r.NC)
	case r.NC > lowestNC:
		return fmt.Sprintf("over NC %.0f", r.NC)
	}
	return fmt.Sprintf("below NC %.0f", r.NC)
}

// Remark says what Line rests on; empty where nothing is assumed.
func (r Result) Remark() string {
	if r.Measured || r.Projector == 0 {
		return ""
	}
	return "noise: dB(A) of unknown spectrum less 5 taken as NR (common practice, no source); the projector's level at 1 m taken as of a free field, alike all round, with the room's even field added"
}

// Report is a Result as data for other programs.
type Report struct {
	NR        *float64 `json:"nr,omitempty"` // left out: not known
	NC        *float64 `json:"nc,omitempty"` // left out: not measured, or beyond the curves
	Measured  bool     `json:"measured"`
	Stated    float64  `json:"stated_nr"`
	Projector float64  `json:"projector_dba"` // at the nearest ear; 0: none, not known or behind glass
	Distance  float64  `json:"projector_distance_m"`
	Seat      string   `json:"projector_nearest_seat"`
	Preferred float64  `json:"preferred_nr"`
	Limit     float64  `json:"limit_nr"`
	Source    string   `json:"source"`
	Verdict   string   `json:"verdict"`
}

// Report returns r as data.
func (r Result) Report() Report {
	out := Report{Measured: r.Measured, Stated: r.Stated, Projector: rounded(r.Projector), Distance: rounded(r.Distance), Seat: r.Seat,
		Preferred: Preferred, Limit: Limit, Source: Source, Verdict: r.Verdict.String()}
	if r.Verdict != Unknown {
		v := rounded(r.NR)
		out.NR = &v
	}
	if r.NCKnown {
		v := rounded(r.NC)
		out.NC = &v
	}
	return out
}

// String returns the verdict as data has it.
func (v Verdict) String() string {
	return [...]string{"not known", "as quiet as preferred", "within the limit", "over the limit"}[v]
}

// rounded rounds to a millionth, so that the last bits of a computation do not make equal
// answers differ as text.
func rounded(v float64) float64 { return math.Round(v*1e6)/1e6 + 0 }
