// SPDX-License-Identifier: MIT

package blend

import (
	"math"

	"earline/project"
	"earline/project/bass"
	"earline/project/sound"
)

// Report is an answer as data for other programs. Its JSON keys are stable: a key may be
// added, none is renamed or removed within one Version. Levels are dB against that to
// which mains and subwoofers are set.
type Report struct {
	Format   string                 `json:"format"` // always "earline-crossover"
	Version  int                    `json:"version"`
	Name     string                 `json:"name"`
	Way      string                 `json:"way"`
	Slope    project.CrossoverSlope `json:"slope"`
	Main     string                 `json:"main"` // that the subwoofers are set against
	Row      int                    `json:"main_row"`
	Seat     int                    `json:"main_seat"`
	Proposal ReportProposal         `json:"proposal"`
	Mains    []ReportMain           `json:"mains"`
	// Hz are the frequencies of all levels; those of Main, of the subwoofers and of both
	// are at each seat.
	Hz       []float64      `json:"frequencies_hz"`
	Seats    []ReportSeat   `json:"seats"`
	Options  []ReportOption `json:"options"`
	Findings []string       `json:"findings"`
	// Boundaries are what surfaces do to each main.
	Boundaries []ReportBoundary `json:"boundaries"`
	Remarks    []string         `json:"remarks"`
	Caution    string           `json:"caution"`
}

// ReportProposal is what is proposed for all subwoofers.
type ReportProposal struct {
	Later    float64 `json:"later_ms"` // negative: earlier
	Inverted bool    `json:"inverted"` // against the design
	Words    string  `json:"words"`
	Price    string  `json:"price"` // what others pay; "" for nothing
}

// ReportFigures are figures of a sum.
type ReportFigures struct {
	Level  float64 `json:"level_at_crossover_db"`
	Dip    float64 `json:"dip_db"` // against the sum in phase
	DipAt  float64 `json:"dip_hz"`
	Uneven float64 `json:"uneven_db"` // root mean square, 40 to 160 Hz
}

// ReportMain is a main at the main position.
type ReportMain struct {
	Name      string        `json:"name"`
	Crossover float64       `json:"crossover_hz"`
	Reach     float64       `json:"low_cutoff_hz"` // 0 is not known
	Before    ReportFigures `json:"before"`
	After     ReportFigures `json:"after"`
}

// ReportSeat is what is heard of Main's channel at a seat.
type ReportSeat struct {
	Row      int           `json:"row"`
	Seat     int           `json:"seat"`
	Before   ReportFigures `json:"before"`
	After    ReportFigures `json:"after"`
	Main     []float64     `json:"main_db"`
	Subs     []float64     `json:"subwoofers_db"`
	Together []float64     `json:"together_db"`
	Proposed []float64     `json:"together_proposed_db"`
}

// ReportOption is a crossover with the delay and polarity that serve it best.
type ReportOption struct {
	Crossover float64                `json:"crossover_hz"`
	Slope     project.CrossoverSlope `json:"slope"`
	Later     float64                `json:"later_ms"`
	Inverted  bool                   `json:"inverted"`
	Reached   bool                   `json:"reached"` // by the main's own low end
	ReportFigures
}

// ReportBoundary is what surfaces do to a main at the main position, dB against the
// direct sound.
type ReportBoundary struct {
	Name    string         `json:"name"`
	Flush   bool           `json:"flush"`
	Hz      []float64      `json:"frequencies_hz"`
	Level   []float64      `json:"level_db"`
	Dip     float64        `json:"dip_db"`
	DipAt   float64        `json:"dip_hz"`
	Surface string         `json:"surface"` // that digs the dip; "" for none
	Words   string         `json:"words"`
	Bounces []ReportBounce `json:"images"`
}

// ReportBounce is the image in a surface.
type ReportBounce struct {
	Surface  string  `json:"surface"`
	Distance float64 `json:"distance_m"`
	Ear      float64 `json:"main_position_m"` // from the surface
	Later    float64 `json:"later_m"`
	Near     float64 `json:"above_band_within_m"`
	Far      float64 `json:"below_band_beyond_m"` // 0 is nowhere
}

// Report returns the answer about d as data, with what boundaries do to its mains.
func (a *Answer) Report(d *project.Design, boundaries []sound.Interference) *Report {
	at := a.Plan.Seats[a.Study.Seat]
	r := &Report{Format: "earline-crossover", Version: 1, Name: d.Name, Way: a.Plan.Way().String(), Slope: a.Slope, Main: a.Mains[a.Main].Name,
		Row: at.Row, Seat: at.Number, Hz: a.grid.Frequencies, Findings: []string{}, Boundaries: []ReportBoundary{}, Remarks: append(a.Remarks[:len(a.Remarks):len(a.Remarks)], sound.BoundaryRemark),
		Caution:  Caution + " " + bass.Caution,
		Proposal: ReportProposal{Later: milliseconds(a.Set.Delay), Inverted: a.Set.Inverted, Words: a.Proposal(), Price: a.Price()}}
	r.Findings = append(r.Findings, a.Reaches()...)
	for i, m := range a.Mains {
		r.Mains = append(r.Mains, ReportMain{m.Name, m.Crossover, m.Reach, figuresOf(a.Rows[i].Before), figuresOf(a.Rows[i].After)})
	}
	was, now := a.Sum(a.Main, a.AsIs(a.Main)), a.Sum(a.Main, a.Set)
	for i, s := range a.Plan.Seats {
		r.Seats = append(r.Seats, ReportSeat{s.Row, s.Number, figuresOf(a.Seats[i].Before), figuresOf(a.Seats[i].After),
			was.Main.Seat(i), was.Subs.Seat(i), was.Together.Seat(i), now.Together.Seat(i)})
	}
	for _, row := range a.Options {
		for _, o := range row {
			r.Options = append(r.Options, ReportOption{o.Crossover, o.Slope, milliseconds(o.Delay), o.Inverted, o.Reached, figuresOf(o.Figures)})
		}
	}
	for i := range boundaries {
		r.Boundaries = append(r.Boundaries, boundaryOf(&boundaries[i], d))
	}
	return r
}

func boundaryOf(n *sound.Interference, d *project.Design) ReportBoundary {
	b := ReportBoundary{Name: d.Speakers[n.Speaker].Name(), Flush: n.Flush, Hz: n.Frequencies, Level: n.Level, Dip: n.Dip.Level, DipAt: n.Dip.Frequency, Words: n.Sentence(d), Bounces: []ReportBounce{}}
	if n.Dip.Bounce >= 0 {
		b.Surface = n.Bounces[n.Dip.Bounce].Words
	}
	for _, o := range n.Bounces {
		b.Bounces = append(b.Bounces, ReportBounce{o.Words, o.Distance, o.Ear, o.Later, o.Near, o.Far})
	}
	return b
}

func figuresOf(f Figures) ReportFigures { return ReportFigures(f) }

// milliseconds returns seconds as milliseconds, to a millionth, so that whole steps print
// as such.
func milliseconds(s float64) float64 { return math.Round(1e9*s)/1e6 + 0 }
