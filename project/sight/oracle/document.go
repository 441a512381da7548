// SPDX-License-Identifier: MIT

package oracle

import (
	"encoding/json"
	"fmt"
)

// document is what sight depends on in a file, by the keys of
// assets/earline.schema.json. Lengths are metres and angles degrees, as plain
// numbers; texts with units are not understood.
type document struct {
	Format string `json:"format"`
	Room   struct {
		Footprint []struct {
			X float64 `json:"x_m"`
			Y float64 `json:"y_m"`
		} `json:"footprint"`
		Ceiling struct {
			Slope  string  `json:"slope"`
			Near   float64 `json:"height_m"`
			Far    float64 `json:"far_height_m"`
			Planes []struct {
				From struct {
					X float64 `json:"x_m"`
					Y float64 `json:"y_m"`
				} `json:"from"`
				FromHeight float64 `json:"from_height_m"`
				To         struct {
					X float64 `json:"x_m"`
					Y float64 `json:"y_m"`
				} `json:"to"`
				ToHeight float64 `json:"to_height_m"`
			} `json:"planes"`
		} `json:"ceiling"`
		Features []struct {
			Kind   string  `json:"kind"`
			Name   string  `json:"name"`
			At     spot    `json:"at"`
			Length float64 `json:"length_m"`
			Width  float64 `json:"width_m"`
			Height float64 `json:"height_m"`
			Turn   float64 `json:"turn_deg"`
			Round  bool    `json:"round"`
		} `json:"features"`
	} `json:"room"`
	Screen struct {
		Aspect      float64 `json:"aspect"`
		Width       float64 `json:"width_m"`
		Bottom      float64 `json:"bottom_m"`
		Distance    float64 `json:"distance_m"`
		Centre      float64 `json:"centre_m"`
		Border      float64 `json:"border_m"`
		Transparent bool    `json:"sound_transparent"`
	} `json:"screen"`
	Chairs  []chair `json:"chair_models"`
	Seating struct {
		Rows    []row `json:"rows"`
		Sitters struct {
			Listener float64 `json:"listener_percentile"`
			Others   float64 `json:"others_percentile"`
			Women    float64 `json:"women_share"`
			Sink     float64 `json:"seat_sink_m"`
			Slump    float64 `json:"slump_m"`
		} `json:"sitters"`
		Main struct {
			Row int  `json:"row"`
			At  spot `json:"at"`
		} `json:"main_position"`
	} `json:"seating"`
	Models     []model       `json:"loudspeaker_models"`
	Speakers   []loudspeaker `json:"loudspeakers"`
	Projectors []struct {
		ID        string  `json:"id"`
		Width     float64 `json:"width_m"`
		Height    float64 `json:"height_m"`
		Depth     float64 `json:"depth_m"`
		LensAhead float64 `json:"lens_ahead_m"`
	} `json:"projector_models"`
	Projector struct {
		Model string `json:"model"`
		At    spot   `json:"at"`
		Mount string `json:"mount"`
	} `json:"projector"`
	Criteria struct {
		Margin        float64 `json:"margin_m"`
		PictureMargin float64 `json:"picture_margin_m"`
	} `json:"criteria"`
}

type spot struct {
	X float64 `json:"x_m"`
	Y float64 `json:"y_m"`
	Z float64 `json:"z_m"`
}

func (s spot) vec() Vec { return Vec(s) }

type chair struct {
	ID            string  `json:"id"`
	PanHeight     float64 `json:"pan_height_m"`
	PanDepth      float64 `json:"pan_depth_m"`
	PanWidth      float64 `json:"pan_width_m"`
	BackHeight    float64 `json:"back_height_m"`
	BackThickness float64 `json:"back_thickness_m"`
	Headrest      float64 `json:"headrest_m"`
	HeadrestWidth float64 `json:"headrest_width_m"`
	ArmWidth      float64 `json:"arm_width_m"`
	ArmHeight     float64 `json:"arm_height_m"`
	MinRecline    float64 `json:"recline_min_deg"`
	MaxRecline    float64 `json:"recline_max_deg"`
}

type row struct {
	Chair    string  `json:"chair"`
	Distance float64 `json:"distance_m"`
	Riser    float64 `json:"riser_m"`
	Front    float64 `json:"platform_front_m"`
	Back     float64 `json:"platform_back_m"`
	From     float64 `json:"platform_from_left_m"`
	To       float64 `json:"platform_to_right_m"`
	Steps    []struct {
		Side  string  `json:"side"`
		At    float64 `json:"at_m"`
		Width float64 `json:"width_m"`
		Tread float64 `json:"tread_m"`
		Rise  float64 `json:"rise_m"`
	} `json:"steps"`
	Seats   int     `json:"seats"`
	Pitch   float64 `json:"pitch_m"`
	Centre  float64 `json:"centre_m"`
	Stagger float64 `json:"stagger_m"`
	Curve   float64 `json:"curve_radius_m"`
	Recline float64 `json:"recline_deg"`
}

type model struct {
	ID       string   `json:"id"`
	Width    float64  `json:"width_m"`
	Height   float64  `json:"height_m"`
	Depth    float64  `json:"depth_m"`
	Flush    bool     `json:"flush"`
	Drivers  []driver `json:"drivers"`
	AimRight float64  `json:"aim_right_deg"`
	AimUp    float64  `json:"aim_up_deg"`
}

type driver struct {
	Band     string  `json:"band"`
	Right    float64 `json:"right_m"`
	Up       float64 `json:"up_m"`
	Diameter float64 `json:"diameter_m"`
}

type loudspeaker struct {
	Label string `json:"label"`
	Copy  string `json:"copy"`
	Model string `json:"model"`
	Mount string `json:"mount"`
	At    spot   `json:"at"`
	Aim   struct {
		Fixed     bool    `json:"fixed"`
		Azimuth   float64 `json:"azimuth_deg"`
		Elevation float64 `json:"elevation_deg"`
	} `json:"aim"`
}

// Read reads a room from the bytes of an *.earline file that package file
// accepts, and works out where everything is.
func Read(data []byte) (*Room, error) {
	doc := new(document)
	if err := json.Unmarshal(data, doc); err != nil {
		return nil, fmt.Errorf("oracle: %w", err)
	}
	if doc.Format != "earline" {
		return nil, fmt.Errorf("oracle: format %q", doc.Format)
	}
	return newRoom(doc)
}
