// SPDX-License-Identifier: MIT

package export

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/png"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"earline/project/disk"
	"earline/project/light"
	"earline/project/place"
	"earline/scene"
	"earline/scene/bake"
	"earline/scene/film"
	"earline/scene/gl"
	"earline/scene/tour"
)

// Filming says how a sequence is recorded.
type Filming struct {
	W, H int // pixels
	FPS  int // pictures a second
}

// MostPictures is how many pictures a recording may have.
const MostPictures = 20_000

// Film records a sequence of a room as a file that ends in .png or .gif, or as numbered
// pictures in the folder of another name, which is made if it is not there. It returns how
// many pictures of how many are kept. One that ends early, with the error of ctx or
// another, keeps those that were made, each whole. What cannot be written is told before
// the first. tell is told a share of the work; it may be nil.
func Film(ctx context.Context, r *place.Room, s tour.Sequence, how Filming, path string, tell func(share float64)) (made, of int, err error) {
	of = tour.Frames(s.Length(), how.FPS)
	if of > MostPictures {
		return 0, of, fmt.Errorf("%d pictures in %.0f s, allowed: up to %d: fewer a second, or shorter stays", of, s.Length(), MostPictures)
	}
	ending := strings.ToLower(filepath.Ext(path))
	if ending != ".png" && ending != ".gif" {
		if err := newFrames(path, of); err != nil {
			return 0, of, err
		}
		return shoot(ctx, r, s, how, func(i int, m *image.RGBA) error {
			var b bytes.Buffer
			if err := png.Encode(&b, m); err != nil {
				return err
			}
			return disk.Replace(frame(path, i, of), b.Bytes())
		}, tell)
	}
	f, err := film.New(ending, how.FPS)
	if err == nil {
		err = disk.CanReplace(path)
	}
	if err != nil {
		return 0, of, err
	}
	made, of, err = shoot(ctx, r, s, how, func(_ int, m *image.RGBA) error { return f.Add(m) }, tell)
	if made == 0 {
		return 0, of, err
	}
	data, fault := f.Data()
	if fault == nil {
		fault = disk.Replace(path, data)
	}
	if fault != nil {
		return 0, of, fault
	}
	return made, of, err
}

// newFrames makes the folder of a recording where it is not there. One that holds another
// recording is refused: the pictures of both would run as one film.
func newFrames(path string, of int) error {
	if err := os.Mkdir(path, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	all, err := os.ReadDir(path)
	if err != nil {
		return err
	}
	for _, e := range all {
		if strings.HasPrefix(e.Name(), filepath.Base(path)+"-") && strings.EqualFold(filepath.Ext(e.Name()), ".png") {
			return fmt.Errorf("holds the pictures of a recording already, such as %s: choose another name", e.Name())
		}
	}
	return disk.CanReplace(frame(path, 0, of))
}

// frame returns the path of picture i, counted from 0, of a recording in a folder.
func frame(folder string, i, of int) string {
	return filepath.Join(folder, film.Name(filepath.Base(folder), i, of))
}

// Kept says what a recording that ended early left.
func Kept(path string, made, of int) string {
	return fmt.Sprintf("%s holds the first %d of %d pictures", path, made, of)
}

// shoot draws a sequence picture by picture and hands them over in their order.
func shoot(ctx context.Context, r *place.Room, s tour.Sequence, how Filming, take func(i int, m *image.RGBA) error, tell func(share float64)) (made, of int, err error) {
	const lighting = 0.1 // of the work, about, until there is light
	if tell == nil {
		tell = func(float64) {}
	}
	of = tour.Frames(s.Length(), how.FPS)
	lists, err := lit(ctx, r)
	if err != nil {
		return 0, of, err
	}
	tell(lighting)
	c, err := gl.NewContext()
	if err != nil {
		return 0, of, err
	}
	g, err := gl.Start(c)
	if err != nil {
		return 0, of, err
	}
	defer g.Close()
	drawn := make(chan gl.Frame, 1)
	g.OnFrame(func(f gl.Frame) { drawn <- f })
	var shown *scene.List
	for i := range of {
		if err := ctx.Err(); err != nil {
			return i, of, err
		}
		list, pose := lists.at(s, float64(i)/float64(how.FPS))
		j := gl.Job{W: how.W, H: how.H, Camera: pose.Camera(), Samples: 4, Scale: float32(how.H) / 800}
		if list != shown {
			j.List, shown = list, list
		}
		g.Submit(j)
		f := <-drawn
		if f.Err != nil {
			return i, of, f.Err
		}
		if err := take(i, f.Img); err != nil {
			return i, of, err
		}
		tell(lighting + (1-lighting)*float64(i+1)/float64(of))
	}
	return of, of, nil
}

// lists are the pictures of a room in its light, or in that of a drawing where it has no
// lamps.
type lists struct {
	r     *place.Room
	model *light.Model
	light *bake.Light // nil without lamps
	set   bake.Dimmed // of last
	last  *scene.List
}

// lit works out the light of a room.
func lit(ctx context.Context, r *place.Room) (*lists, error) {
	l := &lists{r: r, model: light.Of(r.Design)}
	if len(r.Design.LightGroups) == 0 {
		return l, nil
	}
	list := scene.Build(r.Design, nil, clientOptions(true))
	var err error
	l.light, err = bake.Of(list, bake.LampsOf(l.model, list), bake.Apart).Light(ctx, bake.Full())
	return l, err
}

// clientOptions show the room alone; bare, for who computes its light.
func clientOptions(bare bool) scene.Options {
	o := scene.Default()
	o.Client, o.Bare = true, bare
	return o
}

// at returns what is to be drawn s seconds from the start of a sequence: the same list as
// long as nothing but the camera changes.
func (l *lists) at(q tour.Sequence, s float64) (*scene.List, tour.Pose) {
	pose, set := q.Show(l.model, s)
	if l.last != nil && (set.Same(l.set) || l.light == nil && set.FromSeat == l.set.FromSeat) {
		return l.last, pose
	}
	l.set = set
	if l.light != nil {
		l.last = l.light.Show(set)
	} else {
		o := clientOptions(false)
		o.FromSeat = set.FromSeat
		l.last = scene.Build(l.r.Design, nil, o)
	}
	return l.last, pose
}
