// SPDX-License-Identifier: MIT

package light

import (
	"math"

	"earline/project"
)

// Report is a Result as data. Illuminance of a group is at its full level.
type Report struct {
	Format   string         `json:"format"` // always "earline-light"
	Version  int            `json:"version"`
	Name     string         `json:"name"`
	Groups   []GroupReport  `json:"groups"`
	Scenes   []SceneReport  `json:"scenes"`
	Picture  OwnReport      `json:"own_light_of_the_picture"`
	Finishes []FinishReport `json:"finishes"` // that are given and count
	Assumed  []TakenReport  `json:"assumed"`
	Notes    []string       `json:"notes"`
	Guidance string         `json:"guidance"`
}

// GroupReport is a light group with what it gives at full level.
type GroupReport struct {
	ID             string              `json:"id"`
	Name           string              `json:"name"`
	Kind           project.LightKind   `json:"kind"`
	Flux           float64             `json:"flux_lm"`
	Lamps          int                 `json:"lamps"`
	Length         float64             `json:"length_m"`
	Colour         float64             `json:"colour_k"` // 0: not known
	Levels         project.SceneLevels `json:"levels"`
	Screen         SpreadReport        `json:"picture"`
	ScreenStraight float64             `json:"picture_straight_mean_lx"`
	LampsOnScreen  []LampReport        `json:"straight_onto_picture"`
	Seats          SpreadReport        `json:"seats"`
	Ground         []GroundReport      `json:"ground"`
}

// LampReport is a Lamp.
type LampReport struct {
	Lamp int     `json:"lamp"` // from 1
	X    float64 `json:"x_m"`
	Y    float64 `json:"y_m"`
	Z    float64 `json:"z_m"`
	Lux  float64 `json:"mean_lx"`
}

// SpreadReport is a Spread.
type SpreadReport struct {
	Least float64 `json:"least_lx"`
	Mean  float64 `json:"mean_lx"`
	Most  float64 `json:"most_lx"`
}

// GroundReport is the light on a part of where people walk.
type GroundReport struct {
	Name string `json:"name"`
	Step bool   `json:"step"`
	SpreadReport
}

// SeatReport is the light at a seat.
type SeatReport struct {
	Seat string  `json:"seat"`
	Lux  float64 `json:"illuminance_lx"`
}

// SceneReport is what a scene comes to.
type SceneReport struct {
	Scene    project.Scene  `json:"scene"`
	Screen   SpreadReport   `json:"picture"`
	Stray    float64        `json:"stray_cd_m2"`
	Contrast []LeftReport   `json:"contrast_left"`
	Seats    []SeatReport   `json:"seats"`
	Ground   []GroundReport `json:"ground"`
}

// LeftReport is the contrast left of a white.
type LeftReport struct {
	Shape     string   `json:"shape"`
	Luminance float64  `json:"white_cd_m2"`
	Left      *float64 `json:"contrast"` // null where there is no stray light
}

// OwnReport is what the picture's own light does by way of the room.
type OwnReport struct {
	Returned  float64  `json:"returned_share"`
	HalfWhite *float64 `json:"half_white_contrast"` // null where nothing is thrown back
}

// FinishReport is a finish that the numbers go by.
type FinishReport struct {
	What        string  `json:"what"`
	Finish      string  `json:"finish"` // empty where only a reflectance is given
	Reflectance float64 `json:"reflectance"`
}

// TakenReport is an Assumption.
type TakenReport struct {
	What        string  `json:"what"`
	Reflectance float64 `json:"reflectance"`
}

func finite(v float64) *float64 {
	if math.IsInf(v, 0) {
		return nil
	}
	return &v
}

// Report returns r as data, with all scenes, or those alone.
func (r *Result) Report(scenes ...project.Scene) Report {
	d := r.Model.Design
	if len(scenes) == 0 {
		all := project.LightScenes()
		scenes = all[:]
	}
	out := Report{Format: "earline-light", Version: 1, Name: d.Name, Groups: []GroupReport{}, Scenes: []SceneReport{}, Finishes: []FinishReport{}, Assumed: []TakenReport{},
		Picture: OwnReport{r.Returned(), finite(r.HalfWhite())}, Notes: r.Notes(), Guidance: Guidance}
	for i := range d.LightGroups {
		out.Groups = append(out.Groups, r.group(i))
	}
	for _, s := range scenes {
		out.Scenes = append(out.Scenes, r.scene(s))
	}
	for _, t := range r.Model.Taken {
		out.Finishes = append(out.Finishes, FinishReport(t))
	}
	for _, a := range r.Model.Assumed {
		out.Assumed = append(out.Assumed, TakenReport(a))
	}
	return out
}

func (r *Result) group(i int) GroupReport {
	g := &r.Model.Design.LightGroups[i]
	full := make([]float64, r.Model.Layers)
	full[i] = 1
	out := GroupReport{ID: g.ID, Name: g.Name, Kind: g.Kind, Flux: g.Flux, Lamps: len(g.At), Length: g.Length(), Colour: g.Colour, Levels: g.Scenes,
		Screen: SpreadReport(Over(r.Screen, full)), Seats: SpreadReport(Over(r.Seats, full)), Ground: r.ground(full),
		ScreenStraight: r.Straight(i), LampsOnScreen: []LampReport{}}
	for _, l := range r.Lamps {
		if l.Layer == i {
			out.LampsOnScreen = append(out.LampsOnScreen, LampReport{l.Lamp + 1, l.At.X, l.At.Y, l.At.Z, l.Lux})
		}
	}
	return out
}

func (r *Result) ground(levels []float64) []GroundReport {
	out := []GroundReport{}
	for _, g := range r.Ground {
		out = append(out, GroundReport{g.Name, g.Step, SpreadReport(Over(g.Spots, levels))})
	}
	return out
}

func (r *Result) scene(s project.Scene) SceneReport {
	levels := r.Levels(s)
	screen := Over(r.Screen, levels)
	out := SceneReport{Scene: s, Screen: SpreadReport(screen), Stray: r.Stray(screen.Mean), Contrast: []LeftReport{}, Seats: []SeatReport{}, Ground: r.ground(levels)}
	for _, w := range r.Whites {
		out.Contrast = append(out.Contrast, LeftReport{w.Shape, w.Luminance, finite(Left(w.Luminance, out.Stray))})
	}
	for i := range r.Seats {
		out.Seats = append(out.Seats, SeatReport{r.Seats[i].Name, r.Seats[i].In(levels)})
	}
	return out
}
