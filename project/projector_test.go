// SPDX-License-Identifier: MIT

package project_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"earline/assets"
	"earline/project"
	"earline/project/diff"
	"earline/project/file"
)

// projected returns the starter room with a projector and three shapes of picture.
func projected(t *testing.T) *project.Design {
	t.Helper()
	d := start(t)
	d.ProjectorModels = []project.ProjectorModel{{ID: "p", Name: "Projector", Light: 2500, Calibrated: 0.8, Aged: 0.75, PixelsWide: 3840, PixelsHigh: 2160,
		ThrowMin: 1.3, ThrowMax: 2.8, ShiftUp: 0.6, ShiftRight: 0.25, ShiftShape: project.ShiftEllipse, Width: 0.5, Height: 0.2, Depth: 0.5}}
	d.Projector = project.Projector{Model: "p", At: project.Point{X: 5, Y: 2, Z: 2.2}, Mount: project.CeilingMount, Fill: project.Zoom}
	d.Picture = project.Picture{Held: project.HeldHeight, Aspects: []project.Aspect{{Aspect: 2.39, Name: "Scope", Share: 0.6}, {Aspect: 1.78, Share: 0.4}},
		Gains: []project.AngleGain{{Angle: 10, Gain: 0.95}, {Angle: 30, Gain: 0.7}}}
	return d
}

// What cannot be projected with is refused by its field, in one line.
func TestAProjectorThatCannotBeWorkedWithIsRefused(t *testing.T) {
	for want, set := range map[string]func(d *project.Design){
		`projector.model: "q", allowed: the id of one of projector_models`:            func(d *project.Design) { d.Projector.Model = "q" },
		`projector.fill: "", allowed: "zoom", "anamorphic", "scaled"`:                 func(d *project.Design) { d.Projector.Fill = "" },
		`projector.mount: "pole", allowed: "ceiling", "shelf", "port"`:                func(d *project.Design) { d.Projector.Mount = "pole" },
		`projector.stretch: 0.75, allowed: 1 to 2`:                                    func(d *project.Design) { d.Projector.Stretch = 0.75 },
		`projector.port_transmission_share: 92, allowed: 0.1 to 1`:                    func(d *project.Design) { d.Projector.Port = 92 },
		`projector_models[0].calibrated_share: 0, allowed: 0.05 to 1`:                 func(d *project.Design) { d.ProjectorModels[0].Calibrated = 0 },
		`projector_models[0].throw_ratio_max: 1.2, allowed: throw_ratio_min, 1.3, or`: func(d *project.Design) { d.ProjectorModels[0].ThrowMax = 1.2 },
		`projector_models[0].shift_shape: "", allowed: "ellipse"`:                     func(d *project.Design) { d.ProjectorModels[0].ShiftShape = "" },
		`projector_models[0].imager_width_px: 1080 by 2160 px, allowed: 1 to 4 times`: func(d *project.Design) { d.ProjectorModels[0].PixelsWide = 1080 },
		`picture.held: "depth", allowed: "", "height", "width", "area"`:               func(d *project.Design) { d.Picture.Held = "depth" },
		`picture.aspects[1].aspect: 2.39 again, allowed: each shape once`:             func(d *project.Design) { d.Picture.Aspects[1].Aspect = 2.39 },
		`picture.aspects: viewing_share of 1.2 in all, allowed: at most 1`:            func(d *project.Design) { d.Picture.Aspects[0].Share = 0.8 },
		`picture.gain_curve[1].angle_deg: 10°, allowed: above 10°: at 0° the gain is`: func(d *project.Design) { d.Picture.Gains[1].Angle = 10 },
		`projector_models[1].id: "p" again, allowed: an id of its own`:                func(d *project.Design) { d.ProjectorModels = append(d.ProjectorModels, d.ProjectorModels[0]) },
		`projector_models[0].light_lm: not a number, allowed: 10 lm to 200000 lm`: func(d *project.Design) {
			d.ProjectorModels[0].Light = math.NaN()
		},
		`projector_models[0].shift_up_max_share: -0.1, allowed: 0 to 3`:             func(d *project.Design) { d.ProjectorModels[0].ShiftUp = -0.1 },
		`projector_models[0].lens_ahead_m: 40 m, allowed: 0 m to 1 m`:               func(d *project.Design) { d.ProjectorModels[0].LensAhead = 40 },
		`picture.aspects[0].name: "a\nb", allowed: text without control characters`: func(d *project.Design) { d.Picture.Aspects[0].Name = "a\nb" },
		`picture.gain_curve[0].gain: 0, allowed: 0.01 to 20`:                        func(d *project.Design) { d.Picture.Gains[0].Gain = 0 },
		`picture.masking: "top", allowed: "", "none", "sides", "top and bottom", "all"`: func(d *project.Design) {
			d.Picture.Masking = "top"
		},
		`picture.sound_loss_db: 3 entries, allowed: 8, for the octaves 63 Hz to 8 kHz`: func(d *project.Design) { d.Picture.SoundLoss = make([]float64, 3) },
		`picture.sound_loss_db[7]: -3 dB, allowed: 0 dB to 30 dB`:                      func(d *project.Design) { d.Picture.SoundLoss = []float64{7: -3} },
		`picture.masking_box_m: 0.01 m, allowed: 0.02 m to 1 m`:                        func(d *project.Design) { d.Picture.Masking, d.Picture.MaskingBox = project.MaskSides, 0.01 },
		`picture.masking_box_m: 0.200 m where nothing is masked, allowed: 0 m, or picture.masking`: func(d *project.Design) {
			d.Picture.MaskingBox = 0.2
		},
		`picture.aspects[0].aspect: 0, allowed: 1 to 4`:         func(d *project.Design) { d.Picture.Aspects[0].Aspect = 0 },
		`screen.gain: 0, allowed: 0.05 to 20`:                   func(d *project.Design) { d.Screen.Gain = 0 },
		`projector.at.x_m: 5000 m, allowed: -100 m to 100 m`:    func(d *project.Design) { d.Projector.At.X = 5000 },
		`picture.aspects[1].viewing_share: 40, allowed: 0 to 1`: func(d *project.Design) { d.Picture.Aspects[0].Share, d.Picture.Aspects[1].Share = 0, 40 },
	} {
		d := projected(t)
		set(d)
		err := d.Validate()
		if err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("says %v, want %s", err, want)
		}
	}
}

// A design with a projector is a file of version 2 and comes back as it was; one without
// stays at version 1. A copy shares nothing with it, and undo can say what changed.
func TestAProjectorIsKeptAtVersion2(t *testing.T) {
	d := projected(t)
	data, err := file.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(data), `"version": 2`) {
		t.Errorf("%.60s", data)
	}
	again, err := file.Decode(data, "x")
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(again.ProjectorModels, d.ProjectorModels) || again.Projector != d.Projector || !reflect.DeepEqual(again.Picture, d.Picture) {
		t.Errorf("came back as %+v %+v %+v", again.ProjectorModels, again.Projector, again.Picture)
	}
	copied := d.Clone()
	copied.ProjectorModels[0].Light, copied.Picture.Aspects[0].Share, copied.Picture.Gains[0].Gain = 1, 0, 0
	if !reflect.DeepEqual(again.ProjectorModels, d.ProjectorModels) || !reflect.DeepEqual(again.Picture, d.Picture) {
		t.Error("an edit of the copy reached the original")
	}
	if first := string(assets.Start()); !strings.Contains(first, `"version": 1`) {
		t.Error("the starter room is not of version 1")
	}
}

func TestWhatChangesOfAProjectorIsSaid(t *testing.T) {
	for want, set := range map[string]func(d *project.Design){
		"projector height: 2.200 m to 2.300 m":          func(d *project.Design) { d.Projector.At.Z = 2.3 },
		"projector fills the screen by: zoom to scaled": func(d *project.Design) { d.Projector.Fill = project.Scaled },
		"projector is gone":                             func(d *project.Design) { d.Projector = project.Projector{} },
		"the projector models":                          func(d *project.Design) { d.ProjectorModels[0].Heat = 400 },
		"the shapes of picture":                         func(d *project.Design) { d.Picture.Aspects[1].Aspect = 1.85 },
		"what all pictures share: height to width":      func(d *project.Design) { d.Picture.Held = project.HeldWidth },
		"borders that move: not said to sides":          func(d *project.Design) { d.Picture.Masking = project.MaskSides },
		"the screen's gain by angle":                    func(d *project.Design) { d.Picture.Gains[1].Gain = 0.6 },
	} {
		d := projected(t)
		set(d)
		all := diff.Compare(projected(t), d)
		if len(all) != 1 || all[0].Sentence(project.Metric) != want {
			t.Errorf("%v, want %s", all, want)
		}
	}
}
