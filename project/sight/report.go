// SPDX-License-Identifier: MIT

package sight

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/fit"
	"earline/project/place"
)

// Report is a whole audit as data for other programs. Its JSON keys are stable:
// a key may be added, none is renamed or removed within one Version. Positions
// are in the room frame, metres: x back from the screen wall, y from the left
// wall, z up.
type Report struct {
	Format  string  `json:"format"`  // always "earline-audit"
	Version int     `json:"version"` // of these keys
	Name    string  `json:"name"`
	Margin  float64 `json:"margin_m"`
	// Main is the main listening position.
	Main     [3]float64      `json:"main_position"`
	BandsHz  [8]float64      `json:"bands_hz"`
	Seats    []ReportSeat    `json:"seats"`
	Speakers []ReportSpeaker `json:"loudspeakers"`
	Pairs    []ReportPair    `json:"pairs"`
	Totals   Totals          `json:"totals"`
	Pictures Totals          `json:"picture_totals"`
	Findings []fit.Finding   `json:"findings"`
}

// Totals counts verdicts.
type Totals struct {
	Clear     int `json:"clear"`
	Tight     int `json:"tight"`
	Blocked   int `json:"blocked"`
	NotJudged int `json:"not_judged"`
}

// ReportSeat is one seat and its view of the picture.
type ReportSeat struct {
	Row      int           `json:"row"`
	Seat     int           `json:"seat"`
	EarLeft  [3]float64    `json:"ear_left"`
	EarRight [3]float64    `json:"ear_right"`
	Eye      [3]float64    `json:"eye"`
	Picture  ReportPicture `json:"picture"`
}

// ReportPicture is what a seat sees of the picture.
type ReportPicture struct {
	Verdict   string  `json:"verdict"`
	Visible   float64 `json:"visible_share"`
	Clearance float64 `json:"clearance_m"`
	Blocker   string  `json:"blocker"`
}

// ReportSpeaker is one placed loudspeaker as seen from the main position.
type ReportSpeaker struct {
	Name      string     `json:"name"`
	Label     string     `json:"label"`
	At        [3]float64 `json:"at"`
	Azimuth   float64    `json:"azimuth_deg"`
	Elevation float64    `json:"elevation_deg"`
	Distance  float64    `json:"distance_m"`
}

// ReportPair is the answer for one seat and one loudspeaker; its own fields are
// those of the path that decides.
type ReportPair struct {
	Row         int          `json:"row"`
	Seat        int          `json:"seat"`
	Loudspeaker string       `json:"loudspeaker"`
	Verdict     string       `json:"verdict"`
	Paths       []ReportPath `json:"paths"`
	Deciding    int          `json:"deciding_path"` // index into paths; -1 for none
}

// ReportPath is one ear and one driver.
type ReportPath struct {
	Ear       string     `json:"ear"`
	Driver    int        `json:"driver"`
	Band      string     `json:"band"`
	Verdict   string     `json:"verdict"`
	Clearance float64    `json:"clearance_m"`
	Angle     float64    `json:"clearance_deg"`
	Blocker   string     `json:"blocker"`
	Nearest   [3]float64 `json:"nearest"`
	Visible   float64    `json:"visible_share"`
	Loss      [8]float64 `json:"loss_db_at_most"`
}

// Report returns r as data, for the design it was made from.
func (r *Result) Report(d *project.Design) Report {
	main := place.MainPoint(d)
	rep := Report{
		Format: "earline-audit", Version: 1, Name: d.Name, Margin: float64(d.Criteria.Margin),
		Main: xyz(main), BandsHz: Bands,
		Totals: TotalsOf(r.Count), Pictures: TotalsOf(r.PictureCount),
		Seats: []ReportSeat{}, Speakers: []ReportSpeaker{}, Pairs: []ReportPair{},
		Findings: fit.Findings(d),
	}
	if rep.Findings == nil {
		rep.Findings = []fit.Finding{}
	}
	for i, s := range r.Seats {
		b, v := r.Bodies[i], r.Views[i]
		rep.Seats = append(rep.Seats, ReportSeat{
			Row: s.Row, Seat: s.Number,
			EarLeft: xyz(b.EarLeft), EarRight: xyz(b.EarRight), Eye: xyz(v.Eye),
			Picture: ReportPicture{v.Verdict.String(), fine(v.Visible), fine(v.Clearance), r.WordsFrom(i, v.Blocker)},
		})
	}
	for _, sp := range r.Speakers {
		to := sp.At.Vec().Sub(main)
		az, el, _ := geometry.AzEl(to)
		rep.Speakers = append(rep.Speakers, ReportSpeaker{
			Name: sp.Name(), Label: sp.Label, At: xyz(sp.At.Vec()),
			Azimuth:   fine(float64(unit.FromRadians(az))),
			Elevation: fine(float64(unit.FromRadians(el))),
			Distance:  fine(to.Len()),
		})
	}
	for i, s := range r.Seats {
		for k, sp := range r.Speakers {
			p := r.Pair(i, k)
			rp := ReportPair{Row: s.Row, Seat: s.Number, Loudspeaker: sp.Name(),
				Verdict: p.Verdict.String(), Deciding: p.Worst, Paths: []ReportPath{}}
			for n := range p.Paths {
				q := &p.Paths[n]
				rq := ReportPath{
					Ear: q.Ear.String(), Driver: q.Driver, Band: string(sp.Spec.Drivers[q.Driver].Band),
					Verdict: q.Verdict.String(), Clearance: fine(q.Clearance),
					Angle: fine(q.Angle / unit.Degree), Blocker: r.WordsFrom(i, q.Blocker),
					Nearest: xyz(q.Nearest), Visible: fine(q.Visible),
				}
				for b, f := range Bands {
					rq.Loss[b] = fine(q.Loss(f))
				}
				rp.Paths = append(rp.Paths, rq)
			}
			rep.Pairs = append(rep.Pairs, rp)
		}
	}
	return rep
}

// TotalsOf returns counts by Verdict under their names.
func TotalsOf(c [4]int) Totals { return Totals{c[Clear], c[Tight], c[Blocked], c[NotJudged]} }

func xyz(v geometry.Vec) [3]float64 { return [3]float64{fine(v.X), fine(v.Y), fine(v.Z)} }

// fine rounds to a millionth, so that the last bits of a computation do not
// make two equal audits differ as text.
func fine(x float64) float64 {
	r := math.Round(x*1e6) / 1e6
	if r == 0 {
		return 0 // no negative zero
	}
	return r
}
