// SPDX-License-Identifier: MIT

package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"earline/assets"
	"earline/project/picture"
)

// projectorRoom writes the starter room with a projector of so many lumens to a file.
func projectorRoom(t *testing.T, light string) string {
	t.Helper()
	text := strings.Replace(string(assets.Start()), `"version": 1`, `"version": 2`, 1)
	text = strings.Replace(text, `"criteria"`, `"projector_models": [{"id": "p", "name": "Bright", "light_lm": `+light+`, "calibrated_share": 0.8, "aged_share": 0.75,
  "imager_width_px": 3840, "imager_height_px": 2160, "throw_ratio_min": 1.3, "throw_ratio_max": 2.8, "shift_up_max_share": 0.1, "shift_right_max_share": 0.25,
  "shift_shape": "ellipse", "width_m": 0.5, "height_m": 0.2, "depth_m": 0.5}],
 "projector": {"model": "p", "at": {"x_m": 4.6, "y_m": 1.9, "z_m": 2.3}, "mount": "ceiling", "fill": "zoom"},
 "picture": {"aspects": [{"aspect": 2.39, "viewing_share": 0.6}, {"aspect": 1.78}]}, "criteria"`, 1)
	name := filepath.Join(t.TempDir(), "room.earline")
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

func TestPictureIsToldAndWritten(t *testing.T) {
	status, out, errs := earline("picture", projectorRoom(t, "2000"))
	for _, want := range []string{"Bright: 2000 lm stated", "Light from the main position", "zoom", "anamorphic", "scaled", "3840 x 1607", "pixels a degree", "Do not look into the lens", "ISO 26431-1"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in:\n%s%s", want, out, errs)
		}
	}
	if status == statusUnusable {
		t.Error(errs)
	}
	_, out, errs = earline("picture", projectorRoom(t, "2000"), "--json")
	var all map[string]any
	if err := json.Unmarshal([]byte(out), &all); err != nil {
		t.Fatal(err, errs)
	}
	documented(t, all)
	var r picture.Report
	if err := json.Unmarshal([]byte(out), &r); err != nil || r.Projector == nil || len(r.Shapes) != 2 || r.Shapes[0].Fills[0].New <= r.Shapes[0].Fills[0].Aged {
		t.Errorf("%v: %s%s", err, out, errs)
	}
}

func TestATooDarkPictureFallsShort(t *testing.T) {
	if status, out, errs := earline("picture", projectorRoom(t, "200")); status != statusShort || !strings.Contains(out, "too dark even new") {
		t.Errorf("status %d:\n%s%s", status, out, errs)
	}
}

func TestPictureWithoutAProjectorSaysWhatLightItTakes(t *testing.T) {
	name := filepath.Join(t.TempDir(), "room.earline")
	if err := os.WriteFile(name, assets.Start(), 0o600); err != nil {
		t.Fatal(err)
	}
	if status, out, errs := earline("picture", name); status != statusFine || !strings.Contains(out, "Light that must reach the screen, lm") {
		t.Errorf("status %d:\n%s%s", status, out, errs)
	}
}

// Two rows, one behind heads: the table names who hides how much, the row that sees best
// is named with the reason, and every seat has its line when asked for.
func TestHowEachShapeIsSeenIsTold(t *testing.T) {
	status, out, errs := earline("picture", "demo:two-row")
	for _, want := range []string{"as it is seen", "3 of 3 seats, up to 2.5 %, head in row 1 seat 1", "Row 1 sees best: all its seats see all of each shape", "30° wide or more"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in:\n%s%s", want, out, errs)
		}
	}
	if short := strings.Index(out, "Falls short"); status != statusShort || !strings.Contains(out[max(short, 0):], "Television 1.78:1: in row 2 seats 1, 2, 3 miss up to 2.5 %") {
		t.Errorf("status %d: the hidden picture does not fall short", status)
	}
	if _, out, _ = earline("picture", "demo:large", "--seats"); !strings.Contains(out, "3.4") || strings.Contains(out, "BADINDEX") {
		t.Errorf("no line for row 3 seat 4:\n%s", out)
	}
}
