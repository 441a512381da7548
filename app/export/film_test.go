// SPDX-License-Identifier: MIT

package export

import (
	"bytes"
	"context"
	"errors"
	"image/gif"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/place"
	"earline/scene"
	"earline/scene/tour"
)

// A recording that is given up keeps the pictures made so far, each whole.
func TestARecordingThatIsGivenUpKeepsWholePictures(t *testing.T) {
	d, _ := file.Demo("small")
	d = d.Clone()
	d.LightGroups = nil // it is about pictures
	d.Viewpoints = []project.Viewpoint{{Name: "a", Kind: project.Standing, At: project.Point{X: 1, Y: 2}, Heading: 180, Stay: 0.1},
		{Name: "b", Kind: project.Standing, At: project.Point{X: 1, Y: 2}, Heading: 90, Stay: 0.1}}
	r := place.Of(d)
	for _, name := range []string{"film.gif", "frames"} {
		path := filepath.Join(t.TempDir(), name)
		ctx, cancel := context.WithCancel(context.Background())
		told := 0
		made, of, err := Film(ctx, r, tour.Plan(r), Filming{W: 32, H: 20, FPS: 30}, path, func(float64) {
			if told++; told > 8 {
				cancel()
			}
		})
		if !errors.Is(err, context.Canceled) || made < 1 || made >= of {
			t.Fatalf("%s: %d of %d, %v", name, made, of, err)
		}
		if name == "frames" {
			if all, err := os.ReadDir(path); err != nil || len(all) != made {
				t.Errorf("%d files of %d pictures, %v", len(all), made, err)
			}
			continue
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := gif.DecodeAll(bytes.NewReader(data)); err != nil {
			t.Error(err)
		}
	}
}

// A minute was recorded, and only then told that it could not be written. Where another
// recording lies, the pictures of both would have run as one film.
func TestWhatCannotBeRecordedIsToldAtOnce(t *testing.T) {
	d, _ := file.Demo("small")
	r, dir := place.Of(d), t.TempDir()
	held := filepath.Join(dir, "held")
	if err := os.Mkdir(held, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(held, "held-0007.png"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	long := Filming{W: 32, H: 20, FPS: 20}
	for _, c := range []struct {
		path, want string
		how        Filming
	}{
		{filepath.Join(dir, "nowhere", "film.gif"), "no such file or directory", long},
		{filepath.Join(dir, "nowhere", "frames"), "no such file or directory", long},
		{held, "holds the pictures of a recording already, such as held-0007.png", long},
		{filepath.Join(dir, "film.png"), "allowed: up to 20000", Filming{W: 32, H: 20, FPS: 1000}},
	} {
		worked := false
		made, _, err := Film(t.Context(), r, tour.Plan(r), c.how, c.path, func(float64) { worked = true })
		if err == nil || !strings.Contains(err.Error(), c.want) || made > 0 || worked {
			t.Errorf("%s: %d pictures, worked %v, %v", c.path, made, worked, err)
		}
	}
	if all, _ := os.ReadDir(dir); len(all) != 1 {
		t.Errorf("left behind: %v", all)
	}
}

// The sitter in whose seat one sits is not drawn before the camera, with lamps or without.
func TestNobodySitsBeforeTheCamera(t *testing.T) {
	d, _ := file.Demo("small")
	d = d.Clone()
	d.LightGroups = nil
	r := place.Of(d)
	l, err := lit(context.Background(), r)
	if err != nil {
		t.Fatal(err)
	}
	p := tour.Plan(r)
	corners := func(list *scene.List) (n int) {
		for _, m := range list.Meshes {
			n += len(m.Pos)
		}
		return n
	}
	all, _ := l.at(p, 0)
	seated, _ := l.at(p, p.Length())
	if corners(seated) >= corners(all) {
		t.Errorf("%d corners from the seat, %d from the door", corners(seated), corners(all))
	}
	if again, _ := l.at(p, p.Length()-0.1); again != seated {
		t.Error("the same picture is built again")
	}
}
