// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"image/gif"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
)

// brief returns the file of a demo with two viewpoints on one spot and short stays; lamps
// take time.
func brief(t *testing.T, lamps bool) string {
	t.Helper()
	d, _ := file.Demo("small")
	d = d.Clone()
	at := project.Point{X: 1, Y: 2}
	d.Viewpoints = []project.Viewpoint{{Name: "By the screen", Kind: project.Standing, At: at, Heading: 180, Stay: 0.2}, {Name: "Turned", Kind: project.Standing, At: at, Heading: 150, Stay: 0.2}}
	d.Entrance = project.Entrance{Each: 0.1, House: 0.1, Down: 0.1}
	if !lamps {
		d.LightGroups = nil
	}
	data, err := file.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "brief.earline")
	if err := os.WriteFile(name, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

// A tour is recorded as numbered pictures, as an animated PNG or as a GIF.
func TestATourIsRecorded(t *testing.T) {
	if testing.Short() {
		t.Skip("it takes seconds")
	}
	design, dir := brief(t, false), t.TempDir()
	for _, out := range []string{"frames", "film.png", "film.gif"} {
		name := filepath.Join(dir, out)
		status, said, errs := earline("tour", design, "-o", name, "--size", "64x40", "--fps", "5")
		if status != statusFine || !strings.Contains(said, " pictures, ") {
			t.Fatalf("%s: status %d, %s%s", out, status, said, errs)
		}
		switch filepath.Ext(out) {
		case "":
			all, _ := os.ReadDir(name)
			if len(all) < 5 || all[0].Name() != "frames-0001.png" {
				t.Errorf("%d files", len(all))
			}
			name = filepath.Join(name, all[len(all)-1].Name())
			fallthrough
		case ".png":
			data, _ := os.ReadFile(name)
			m, err := png.Decode(bytes.NewReader(data))
			if err != nil || m.Bounds().Dx() != 64 {
				t.Errorf("%s: %v", name, err)
			}
		case ".gif":
			data, _ := os.ReadFile(name)
			g, err := gif.DecodeAll(bytes.NewReader(data))
			if err != nil || len(g.Image) < 3 {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
	if status, said, errs := earline("tour", brief(t, true), "-o", filepath.Join(dir, "light.gif"), "--entrance", "--size", "64x40", "--fps", "5"); status != statusFine {
		t.Errorf("entrance: status %d, %s%s", status, said, errs)
	}
}

// A viewpoint is rendered by its name; another name is refused with those there are.
func TestAViewpointIsRenderedByItsName(t *testing.T) {
	design, dir := brief(t, false), t.TempDir()
	if status, _, errs := earline("render", design, "-o", filepath.Join(dir, "x.png"), "--view", "By the screen", "--client", "--size", "64x40"); status != statusFine {
		t.Errorf("status %d, %s", status, errs)
	}
	status, _, errs := earline("render", design, "-o", filepath.Join(dir, "x.png"), "--view", "By the door", "--size", "64x40")
	if status != statusUnusable || !strings.Contains(errs, "or a viewpoint: By the screen, Turned") {
		t.Errorf("status %d, %s", status, errs)
	}
}
