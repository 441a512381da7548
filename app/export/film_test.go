// SPDX-License-Identifier: MIT

package export

import (
	"bytes"
	"context"
	"errors"
	"image/gif"
	"os"
	"path/filepath"
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
