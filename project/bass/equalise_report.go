// SPDX-License-Identifier: MIT

package bass

import "earline/project"

// ReportEqualised is an Equalised as data. Its JSON keys are stable: a key may be added,
// none is renamed or removed within one Version. Levels are dB SPL for 2.83 V at each
// subwoofer before its gain.
type ReportEqualised struct {
	Format  string         `json:"format"`  // always "earline-equalise"
	Version int            `json:"version"` // of these keys
	Name    string         `json:"name"`
	Way     string         `json:"way"`
	Target  project.Target `json:"target"`
	// From and To bound the band that is brought to the target.
	From    float64          `json:"from_hz"`
	To      float64          `json:"to_hz"`
	Filters []project.Filter `json:"filters"` // of all subwoofers alike
	// Deviation is the root mean square distance of the mean from the target, Highest its
	// highest peak above it.
	DeviationBefore float64                `json:"deviation_before_db"`
	Deviation       float64                `json:"deviation_db"`
	HighestBefore   float64                `json:"highest_before_db"`
	Highest         float64                `json:"highest_db"`
	Boost           float64                `json:"boost_db"` // the most that any frequency is raised
	VarianceBefore  float64                `json:"mean_spatial_variance_before_db2"`
	Variance        float64                `json:"mean_spatial_variance_db2"` // the same: every seat changes alike
	Thirds          []ReportEqualisedThird `json:"thirds"`
	Unfilled        []ReportDip            `json:"unfilled"`
	Frequencies     []float64              `json:"frequencies_hz"`
	MeanBefore      []float64              `json:"mean_before_db"` // power mean as the seats are weighed
	Mean            []float64              `json:"mean_db"`
	Wanted          []float64              `json:"target_level_db"`
	Level           []float64              `json:"filters_db"` // what the filters do
	Apart           []float64              `json:"seats_deviation_db"`
	Remarks         []string               `json:"remarks"`
	Caution         string                 `json:"caution"`
}

// ReportEqualisedThird is a third of an octave.
type ReportEqualisedThird struct {
	Mid            float64 `json:"middle_hz"` // exact
	Before         float64 `json:"before_db"`
	After          float64 `json:"after_db"`
	Target         float64 `json:"target_level_db"`
	Apart          float64 `json:"seats_deviation_db"`
	HeadroomBefore float64 `json:"headroom_before_db"`
	Headroom       float64 `json:"headroom_db"`
	Within         bool    `json:"equalised"`
}

// ReportDip is where the mean stays below the target.
type ReportDip struct {
	From  float64 `json:"from_hz"`
	To    float64 `json:"to_hz"`
	At    float64 `json:"deepest_hz"`
	Depth float64 `json:"depth_db"`
	Apart float64 `json:"seats_deviation_db"`
	Why   string  `json:"why"`
}

// Report returns e as data.
func (e *Equalised) Report() *ReportEqualised {
	r := &ReportEqualised{Format: "earline-equalise", Version: 1, Name: e.Design.Name, Way: e.Before.Way.String(), Target: e.Design.Equalisation.Target,
		From: e.From, To: e.To, Filters: append([]project.Filter{}, e.Filters...),
		DeviationBefore: e.RMSBefore, Deviation: e.RMSAfter, HighestBefore: e.OverBefore, Highest: e.OverAfter, Boost: e.Boost,
		VarianceBefore: e.Before.Figures.MeanSpatialVariance, Variance: e.After.Figures.MeanSpatialVariance,
		Unfilled: []ReportDip{}, Frequencies: e.Before.Response.Frequencies, MeanBefore: e.Result.Before, Mean: e.Result.After,
		Wanted: e.Result.Target, Level: e.Level, Apart: e.Apart, Remarks: e.Remarks, Caution: Caution}
	for _, t := range e.Thirds() {
		r.Thirds = append(r.Thirds, ReportEqualisedThird{t.Mid, t.Before, t.After, t.Target, t.Apart, t.HeadroomBefore, t.Headroom, t.Within})
	}
	for _, d := range e.Unfilled {
		r.Unfilled = append(r.Unfilled, ReportDip{d.From, d.To, d.At, d.Depth, d.Apart, string(d.Why)})
	}
	return r
}
