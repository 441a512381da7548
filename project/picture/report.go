// SPDX-License-Identifier: MIT

package picture

import (
	"math"

	"earline/project"
)

// Report is a Result as data.
type Report struct {
	Format     string            `json:"format"` // always "earline-picture"
	Version    int               `json:"version"`
	Name       string            `json:"name"`
	Projector  *ProjectorReport  `json:"projector"` // null without one
	Held       project.Held      `json:"held"`
	Gain       float64           `json:"gain"`
	References []ReferenceReport `json:"references"`
	Shapes     []ShapeReport     `json:"shapes"`
	Main       SeatReport        `json:"main_position"`
	Stand      *StandReport      `json:"lens_may_stand"` // null without a projector
	InBeam     []ObstacleReport  `json:"in_beam"`
	Passages   []PassageReport   `json:"in_beam_on_the_way"`
	Seats      []SeatReport      `json:"seats"`
	Rows       []RowReport       `json:"rows"`
	Masking    MaskingReport     `json:"masking"`
	Short      []string          `json:"short"`
	Notes      []string          `json:"notes"`
	Caution    string            `json:"caution"`
}

// ProjectorReport is what a projector sends to the screen.
type ProjectorReport struct {
	Name       string       `json:"name"`
	Fill       project.Fill `json:"fill"`
	Light      float64      `json:"light_lm"`
	Calibrated float64      `json:"calibrated_share"`
	Aged       float64      `json:"aged_share"`
	Passed     float64      `json:"transmission_share"`
	NewFlux    float64      `json:"new_lm"`
	AgedFlux   float64      `json:"aged_lm"`
}

// ReferenceReport is a Reference.
type ReferenceReport struct {
	Name   string  `json:"name"`
	White  float64 `json:"white_cd_m2"`
	Within float64 `json:"within_cd_m2"`
	Source string  `json:"source"`
}

// ShapeReport is a Shape.
type ShapeReport struct {
	Aspect  float64        `json:"aspect"`
	Name    string         `json:"name"`
	Share   float64        `json:"viewing_share"`
	Width   float64        `json:"width_m"`
	Height  float64        `json:"height_m"`
	Bottom  float64        `json:"bottom_m"`
	Across  float64        `json:"border_across_m"`
	Upright float64        `json:"border_upright_m"`
	Fills   []FilledReport `json:"fills"`
}

// FilledReport is a Filled. What a projector gives is 0 without one.
type FilledReport struct {
	Fill         project.Fill `json:"fill"`
	Chosen       bool         `json:"chosen"`
	RasterWidth  float64      `json:"raster_width_m"`
	RasterHeight float64      `json:"raster_height_m"`
	Used         float64      `json:"imager_used_share"`
	Wide         int          `json:"width_px"`
	High         int          `json:"height_px"`
	Needed       float64      `json:"needed_lm"`
	LuminanceReport
	Throw *ThrowReport `json:"throw"` // null without a projector before the screen
}

// ThrowReport is a Throw, and what its lens cannot do.
type ThrowReport struct {
	Distance  float64         `json:"distance_m"`
	Ratio     float64         `json:"ratio"`
	Up        float64         `json:"shift_up_share"`
	Right     float64         `json:"shift_right_share"`
	ZoomFits  bool            `json:"zoom_fits"`
	ShiftFits bool            `json:"shift_fits"`
	Keystone  *KeystoneReport `json:"keystone_if_tilted"` // null where the shift suffices
}

// KeystoneReport is a Keystone.
type KeystoneReport struct {
	Tilt  float64 `json:"tilt_deg"`
	Ratio float64 `json:"ratio"`
}

// MaskingReport is which borders move, and what the shapes come to whatever they keep.
type MaskingReport struct {
	Moves   project.Masking `json:"moves"`
	Box     float64         `json:"box_m"`
	Across  float64         `json:"moves_across_m"`
	Upright float64         `json:"moves_upright_m"`
	Keeping []KeptReport    `json:"keeping"`
}

// KeptReport is a Kept.
type KeptReport struct {
	Held   project.Held      `json:"held"`
	Shapes []KeptShapeReport `json:"shapes"`
}

// KeptShapeReport is one shape of a Kept.
type KeptShapeReport struct {
	Width   float64 `json:"width_m"`
	Height  float64 `json:"height_m"`
	Across  float64 `json:"border_across_m"`
	Upright float64 `json:"border_upright_m"`
	Filled  float64 `json:"screen_filled_share"`
}

func (r *Result) maskingReport() MaskingReport {
	by := r.moves()
	out := MaskingReport{Moves: r.Design.Picture.Masking, Box: float64(r.Design.Picture.MaskingBox), Across: by.Across, Upright: by.Upright, Keeping: []KeptReport{}}
	for _, k := range r.Kepts() {
		kept := KeptReport{k.Held, []KeptShapeReport{}}
		for i, f := range k.Pictures {
			kept.Shapes = append(kept.Shapes, KeptShapeReport{f.Width, f.Height, k.Borders[i].Across, k.Borders[i].Upright, k.Filled[i]})
		}
		out.Keeping = append(out.Keeping, kept)
	}
	return out
}

// ObstacleReport is an Obstacle.
type ObstacleReport struct {
	Name     string   `json:"name"`
	Standing bool     `json:"standing"`
	Shape    string   `json:"shape"`
	Face     string   `json:"reaches_in_from"`
	Depth    float64  `json:"depth_m"`
	Upright  *float64 `json:"upright_m"`       // null from the sides
	ClearAt  *float64 `json:"lens_clear_at_m"` // null where no height clears it
}

// PassageReport is a Passage.
type PassageReport struct {
	Rows    []int    `json:"rows"`
	From    float64  `json:"from_screen_wall_m"`
	To      float64  `json:"to_screen_wall_m"`
	Shape   string   `json:"shape"`
	Upright *float64 `json:"upright_m"`       // null from the sides
	ClearAt *float64 `json:"lens_clear_at_m"` // null where no height clears it
}

func (r *Result) passageReports() []PassageReport {
	out := []PassageReport{}
	for _, p := range r.Passages() {
		rep := PassageReport{p.Rows, p.From, p.To, r.Shapes[p.Shape].Called, nil, nil}
		if !math.IsNaN(p.Upright) {
			rep.Upright = &p.Upright
		}
		if !math.IsNaN(p.ClearAt) {
			rep.ClearAt = &p.ClearAt
		}
		out = append(out, rep)
	}
	return out
}

func (r *Result) obstacleReports() []ObstacleReport {
	out := []ObstacleReport{}
	for i := range r.InBeam {
		o := &r.InBeam[i]
		rep := ObstacleReport{o.Called(), o.Standing, r.Shapes[o.Shape].Called, o.Face.String(), o.Depth, nil, nil}
		if !math.IsInf(o.Upright, 1) {
			rep.Upright = &o.Upright
		}
		if !math.IsNaN(o.ClearAt) {
			rep.ClearAt = &o.ClearAt
		}
		out = append(out, rep)
	}
	return out
}

// StandReport is a Stand, in the room unless behind a port. A range that is null serves no place.
type StandReport struct {
	FromWall *[2]float64 `json:"from_screen_wall_m"`
	FromLeft *[2]float64 `json:"from_left_wall_m"`
	Height   *[2]float64 `json:"height_m"`
	Zoom     float64     `json:"zoom_range"`
	Memory   bool        `json:"lens_memory"`
}

func standReport(s Stand) *StandReport {
	span := func(s Span) *[2]float64 {
		if s.None() {
			return nil
		}
		return &[2]float64{s.From, s.To}
	}
	return &StandReport{span(s.FromWall), span(s.FromLeft), span(s.Height), s.Zoom, s.Memory}
}

func (r *Result) throwReport(f *Filled) *ThrowReport {
	t := f.Throw
	if !(t.Distance > 0) {
		return nil
	}
	out := &ThrowReport{Distance: t.Distance, Ratio: t.Ratio, Up: t.Up, Right: t.Right, ZoomFits: t.ZoomFits(&r.Model), ShiftFits: t.ShiftFits()}
	if k, ok := r.Tilted(f); ok {
		out.Keystone = &KeystoneReport{k.Tilt, k.Ratio}
	}
	return out
}

// LuminanceReport is the luminance of white.
type LuminanceReport struct {
	New    float64 `json:"new_cd_m2"`
	Aged   float64 `json:"aged_cd_m2"`
	NewFL  float64 `json:"new_fl"`
	AgedFL float64 `json:"aged_fl"`
}

func luminanceReport(l, aged float64) LuminanceReport {
	return LuminanceReport{l, aged, l / FootLambert, aged / FootLambert}
}

// SeatReport is a Seat with the luminance of each shape, as the design fills the screen.
type SeatReport struct {
	Row    int               `json:"row,omitempty"`
	Seat   int               `json:"seat,omitempty"`
	Before bool              `json:"before_picture"`
	Angle  float64           `json:"angle_deg"`
	Gain   float64           `json:"gain"`
	Shapes []LuminanceReport `json:"shapes"`
}

// RowReport is a Row.
type RowReport struct {
	Row      int          `json:"row"`
	Distance float64      `json:"distance_m"`
	Shapes   []ViewReport `json:"shapes"`
}

// ViewReport is a View, as the design fills the screen.
type ViewReport struct {
	Across  float64 `json:"across_deg"`
	Heights float64 `json:"distance_heights"`
	Pixels  float64 `json:"pixels_per_degree"`
}

// Report returns r as data. Luminance of a shape is along the normal of the screen.
func (r *Result) Report() Report {
	out := Report{Format: "earline-picture", Version: 1, Name: r.Design.Name, Held: r.Design.Picture.Held, Gain: r.Design.Screen.Gain, References: []ReferenceReport{}, Shapes: []ShapeReport{},
		Seats: []SeatReport{}, Rows: []RowReport{}, InBeam: r.obstacleReports(), Passages: r.passageReports(), Short: r.Short(), Notes: r.Notes(), Caution: Caution, Main: r.seatReport(&r.Main)}
	if out.Short == nil {
		out.Short = []string{}
	}
	if p := r.Design.Projector; r.Projected {
		out.Projector = &ProjectorReport{r.Model.Name, p.Fill, r.Model.Light, r.Model.Calibrated, r.Model.Aged, p.Passed(), r.New, r.Aged}
		out.Stand = standReport(r.InRoom(r.Stands[r.Chosen()]))
	}
	out.Masking = r.maskingReport()
	for _, f := range References() {
		out.References = append(out.References, ReferenceReport(f))
	}
	for i := range r.Shapes {
		s := &r.Shapes[i]
		shape := ShapeReport{s.Aspect.Aspect, s.Aspect.Name, s.Aspect.Share, s.Picture.Width, s.Picture.Height, s.Picture.Bottom(), s.Border.Across, s.Border.Upright, nil}
		for k := range s.Fills {
			f := &s.Fills[k]
			shape.Fills = append(shape.Fills, FilledReport{f.Fill, r.Projected && k == r.Chosen(), f.Raster.Width, f.Raster.Height, f.Used, f.Wide, f.High, f.Needed, luminanceReport(f.New, f.Aged), r.throwReport(f)})
		}
		out.Shapes = append(out.Shapes, shape)
	}
	for i := range r.Seats {
		out.Seats = append(out.Seats, r.seatReport(&r.Seats[i]))
	}
	for i := range r.Rows {
		row := RowReport{Row: r.Rows[i].Row, Distance: r.Rows[i].Distance, Shapes: []ViewReport{}}
		for _, v := range r.Rows[i].Views {
			row.Shapes = append(row.Shapes, ViewReport{v.Across, v.Heights, v.PixelsPerDegree[r.Chosen()]})
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

func (r *Result) seatReport(s *Seat) SeatReport {
	out := SeatReport{s.Row, s.Number, s.Before, s.Angle, s.Gain, []LuminanceReport{}}
	for i := range r.Shapes {
		f := &r.Shapes[i].Fills[r.Chosen()]
		out.Shapes = append(out.Shapes, luminanceReport(r.Toward(s, f.New), r.Toward(s, f.Aged)))
	}
	return out
}
