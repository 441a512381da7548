// SPDX-License-Identifier: MIT

package measured

import "math"

// Report is a comparison as data for other programs. Its JSON keys are stable: a key may
// be added, none is renamed or removed within one Version.
type Report struct {
	Format  string        `json:"format"`  // always "earline-responses"
	Version int           `json:"version"` // of these keys
	Name    string        `json:"name"`
	Groups  []ReportGroup `json:"groups"`
	Remarks []string      `json:"remarks"`
}

// ReportGroup is what was measured of one loudspeaker, or of all subwoofers.
type ReportGroup struct {
	Of             string         `json:"of"`
	Name           string         `json:"name"`
	Seats          []ReportSeat   `json:"seats"`
	Spreads        []ReportSpread `json:"seat_to_seat"`
	SpreadMeasured *float64       `json:"seat_to_seat_measured_db"` // null for a single seat
	SpreadComputed *float64       `json:"seat_to_seat_computed_db"`
}

// ReportSeat is a seat.
type ReportSeat struct {
	Row     int           `json:"row"`
	Seat    int           `json:"seat"`
	Skipped string        `json:"not_compared,omitempty"` // why
	Offset  float64       `json:"offset_db"`              // taken off the measured levels
	RMS     float64       `json:"rms_db"`
	WorstAt float64       `json:"worst_at_hz"`
	Worst   float64       `json:"worst_db"`
	Thirds  []ReportThird `json:"thirds"`
	Coarse  bool          `json:"too_coarse_for_peaks"`
	Peaks   []ReportPeak  `json:"peaks"`
}

// ReportThird is a third of an octave at a seat; the measured level has the offset
// taken off.
type ReportThird struct {
	Middle     float64 `json:"middle_hz"` // exact
	Measured   float64 `json:"measured_db"`
	Computed   float64 `json:"computed_db"`
	Difference float64 `json:"difference_db"`
}

// ReportPeak is a computed peak; measured_hz is null where none was found.
type ReportPeak struct {
	Computed float64  `json:"computed_hz"`
	Measured *float64 `json:"measured_hz"`
}

// ReportSpread is the standard deviation over the seats in a third of an octave.
type ReportSpread struct {
	Middle   float64 `json:"middle_hz"`
	Measured float64 `json:"measured_db"`
	Computed float64 `json:"computed_db"`
}

// Report returns c as data.
func (c *Comparison) Report() Report {
	r := Report{Format: "earline-responses", Version: 1, Name: c.Design.Name, Groups: []ReportGroup{}, Remarks: append([]string{}, c.Remarks...)}
	for k := range c.Groups {
		g := &c.Groups[k]
		out := ReportGroup{Of: g.Of, Name: g.Name, Spreads: []ReportSpread{}}
		for i := range g.Seats {
			out.Seats = append(out.Seats, g.Seats[i].report())
		}
		for _, s := range g.Spreads {
			out.Spreads = append(out.Spreads, ReportSpread{rounded(s.Middle), rounded(s.Measured), rounded(s.Computed)})
		}
		if len(g.Spreads) > 0 {
			m, k := rounded(g.SpreadMeasured), rounded(g.SpreadComputed)
			out.SpreadMeasured, out.SpreadComputed = &m, &k
		}
		r.Groups = append(r.Groups, out)
	}
	return r
}

func (s *Seat) report() ReportSeat {
	out := ReportSeat{Row: s.Row, Seat: s.Number, Skipped: s.Skipped, Offset: rounded(s.Offset), RMS: rounded(s.RMS),
		WorstAt: rounded(s.Worst.Middle), Worst: rounded(s.Worst.Difference()), Thirds: []ReportThird{}, Coarse: s.Coarse, Peaks: []ReportPeak{}}
	for _, t := range s.Thirds {
		out.Thirds = append(out.Thirds, ReportThird{rounded(t.Middle), rounded(t.Measured), rounded(t.Computed), rounded(t.Difference())})
	}
	for _, p := range s.Peaks {
		q := ReportPeak{Computed: rounded(p.Computed)}
		if p.Measured > 0 {
			v := rounded(p.Measured)
			q.Measured = &v
		}
		out.Peaks = append(out.Peaks, q)
	}
	return out
}

// rounded rounds to a millionth, so that the last bits of a computation do not make equal
// answers differ as text.
func rounded(v float64) float64 { return math.Round(v*1e6)/1e6 + 0 }
