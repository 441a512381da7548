// SPDX-License-Identifier: MIT

package setout

import (
	"math"

	"earline/project"
)

// Report is a List as data: lengths in metres, angles in degrees.
type Report struct {
	Format  string       `json:"format"` // always "earline-setout"
	Version int          `json:"version"`
	Name    string       `json:"name"`
	Job     project.Job  `json:"job,omitzero"`
	Datum   ReportDatum  `json:"datum"`
	Items   []ReportItem `json:"items"`
	Warning string       `json:"cannot_be_built"`
}

// ReportDatum is what the figures are measured from.
type ReportDatum struct {
	Line         float64            `json:"line_above_finished_floor_m"`
	Given        float64            `json:"height_m"`
	From         project.FloorLevel `json:"from"`
	FloorBuildup float64            `json:"floor_buildup_m"`
	Across       string             `json:"across_from"`
	Centre       float64            `json:"centre_line_y_m"`
	WallBuildup  []float64          `json:"wall_buildup_m"`
	Assumed      bool               `json:"assumed"`
}

// ReportItem is one thing to set out.
type ReportItem struct {
	ID         string           `json:"id"`
	Part       string           `json:"part,omitempty"`
	Kind       Kind             `json:"kind"`
	Name       string           `json:"name"`
	On         Surface          `json:"on"`
	Wall       int              `json:"wall,omitempty"`
	Place      string           `json:"place"`
	At         project.Point    `json:"at"`
	Height     float64          `json:"above_line_m"`
	Finished   float64          `json:"above_finished_floor_m"`
	Structural float64          `json:"above_structural_floor_m"`
	Offsets    []ReportOffset   `json:"offsets"`
	Aim        *ReportAim       `json:"aim,omitempty"`
	Cutout     *ReportEdges     `json:"cutout,omitempty"`
	Edges      *ReportEdges     `json:"edges,omitempty"`
	Frame      *ReportFrame     `json:"frame,omitempty"`
	Drivers    []ReportDriver   `json:"drivers,omitempty"`
	Mass       float64          `json:"mass_kg,omitempty"`
	Caution    string           `json:"caution,omitempty"`
	Tolerance  *ReportTolerance `json:"tolerance,omitempty"`
}

// ReportOffset is an Offset.
type ReportOffset struct {
	From     string  `json:"from"`
	Wall     int     `json:"wall,omitempty"`
	Distance float64 `json:"distance_m"`
	Rough    float64 `json:"from_rough_m"`
}

// ReportAim is an Aim.
type ReportAim struct {
	Turn float64 `json:"turn_deg"`
	Tilt float64 `json:"tilt_deg"`
}

// ReportEdges is a Cutout.
type ReportEdges struct {
	Left           float64 `json:"left_m"`
	Right          float64 `json:"right_m"`
	Lower          float64 `json:"lower_m"`
	Upper          float64 `json:"upper_m"`
	LeftRightFrom  string  `json:"left_right_from"`
	LowerUpperFrom string  `json:"lower_upper_from"`
	Width          float64 `json:"width_m"`
	Height         float64 `json:"height_m"`
}

// ReportFrame is a Frame.
type ReportFrame struct {
	Width  float64 `json:"width_m"`
	Height float64 `json:"height_m"`
	Depth  float64 `json:"depth_m"`
}

// ReportDriver is a Driver.
type ReportDriver struct {
	Band   project.Band `json:"band"`
	Height float64      `json:"above_line_m"`
}

// ReportReach is a Reach; Limit is empty where nothing limits it as far as was looked.
type ReportReach struct {
	Distance float64 `json:"distance_m"`
	Limit    string  `json:"limit,omitempty"`
}

// ReportTolerance is a Tolerance.
type ReportTolerance struct {
	Up      ReportReach  `json:"up"`
	Down    ReportReach  `json:"down"`
	Left    ReportReach  `json:"left"`
	Right   ReportReach  `json:"right"`
	In      *ReportReach `json:"in,omitempty"`
	Out     *ReportReach `json:"out,omitempty"`
	Blocked int          `json:"already_blocked_seats"`
}

// Report returns l as data.
func (l *List) Report() *Report {
	t := l.Datum
	rep := &Report{Format: "earline-setout", Version: 1, Name: l.Name, Job: l.Job, Items: []ReportItem{}, Warning: l.Warning, Datum: ReportDatum{
		Line: fine(t.Height), Given: fine(t.Given), From: t.From, FloorBuildup: t.FloorBuildup,
		Across: t.Across, Centre: fine(t.Centre), WallBuildup: t.WallBuildup, Assumed: t.Assumed,
	}}
	for i := range l.Items {
		it := &l.Items[i]
		out := ReportItem{
			ID: it.ID, Part: it.Part, Kind: it.Kind, Name: it.Name, On: it.On, Wall: it.Wall, Place: it.Place, At: project.PointOf(it.At),
			Height: fine(it.Height), Finished: fine(it.FinishedHeight), Structural: fine(it.StructuralHeight), Offsets: []ReportOffset{},
			Cutout: reportEdges(it.Cutout), Edges: reportEdges(it.Edges), Mass: it.Mass, Caution: it.Caution,
		}
		for _, o := range it.Offsets {
			out.Offsets = append(out.Offsets, ReportOffset{o.From, o.Wall, fine(o.Distance), fine(o.Rough)})
		}
		if it.Aim != nil {
			out.Aim = &ReportAim{fine(it.Aim.Turn), fine(it.Aim.Tilt)}
		}
		if f := it.Frame; f != nil {
			out.Frame = &ReportFrame{f.Width, f.Height, f.Depth}
		}
		for _, dr := range it.Drivers {
			out.Drivers = append(out.Drivers, ReportDriver{dr.Band, fine(dr.Height)})
		}
		if t := it.Tolerance; t != nil {
			r := t.reaches()
			out.Tolerance = &ReportTolerance{*reportReach(r[0]), *reportReach(r[1]), *reportReach(r[2]), *reportReach(r[3]), reportReach(r[4]), reportReach(r[5]), t.Blocked}
		}
		rep.Items = append(rep.Items, out)
	}
	return rep
}

func reportEdges(c *Cutout) *ReportEdges {
	if c == nil {
		return nil
	}
	return &ReportEdges{fine(c.Left), fine(c.Right), fine(c.Lower), fine(c.Upper), c.LeftRightFrom, c.LowerUpperFrom, fine(c.Width), fine(c.Height)}
}

// reportReach rounds down to a tenth of a millimetre.
func reportReach(r *Reach) *ReportReach {
	if r == nil {
		return nil
	}
	const hair = 1e-9 // m
	return &ReportReach{math.Floor((r.Distance+hair)*1e4) / 1e4, r.Limit}
}

// fine rounds to a millionth, far below any tape, so that the same list reads the same.
func fine(v float64) float64 {
	if r := math.Round(v*1e6) / 1e6; r != 0 {
		return r
	}
	return 0 // never minus zero
}
