// SPDX-License-Identifier: MIT

package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/app/export"
	"earline/project"
	"earline/project/place"
	"earline/project/sight"
	"earline/scene"
	"earline/scene/tour"
)

// tourFlags are what the command line can ask of a recording.
type tourFlags struct {
	out, view string
	size      pixels
	fps       int
	entrance  bool
}

func tourCommand() *cobra.Command {
	var f tourFlags
	c := &cobra.Command{
		Use:   "tour FILE -o FOLDER|FILM.png|FILM.gif",
		Short: "Record a walk from viewpoint to viewpoint, or the lights receiving people",
		Long: `Tour records a walk through the room from viewpoint to viewpoint, at eye height and past
walls, chairs and people, in the light of each. A design without viewpoints is shown
from the door, before the picture and in the main seat, before the show and in it.

A name that ends in .png is an animated PNG, in full colour; one that ends in .gif has
256 colours a picture. Any other name is a folder, for pictures numbered from 1, which
programs that cut films take. A film may have 20 000 pictures and become 1 GiB large.
Ctrl+C ends the recording and keeps the pictures made so far.` + fileNote,
		Args:              takes(1, 1),
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.check(c); err != nil {
				return err
			}
			d, err := load(c, args[0])
			if err != nil {
				return err
			}
			return about(inMessages(args[0]), runTour(c, d, &f))
		},
	}
	c.Flags().StringVarP(&f.out, "output", "o", "", "`FOLDER`, or file that ends in .png or .gif, to write")
	addFlag(c, &f.size, "size", "WIDTHxHEIGHT", "1280x720", "size in pixels", size)
	addFlag(c, &f.fps, "fps", "N", "20", "pictures a second", between(1, 60))
	c.Flags().BoolVar(&f.entrance, "entrance", false, "record how the lights come on group by group and go down for the show")
	addFlag(c, &f.view, "view", "VIEW", "", "with --entrance, where to look from, as of earline render (default: the main seat)", anyText)
	_ = c.RegisterFlagCompletionFunc("view", completeFrom(viewNames))
	return c
}

// between reads a whole number within limits.
func between(lo, hi int) func(string) (int, error) {
	return func(text string) (int, error) {
		n, err := count(text)
		if err == nil && (n < lo || n > hi) {
			err = found(text, fmt.Sprintf("%d to %d", lo, hi))
		}
		return n, err
	}
}

func (f *tourFlags) check(c *cobra.Command) error {
	if err := named(c, "output"); err != nil {
		return err
	}
	const allowed = "the name of a folder, or of a file that ends in .png or .gif"
	if f.out == "" {
		return refuse("--output", "none", allowed)
	}
	if f.out == standard {
		return refuse("--output", strconv.Quote(f.out), allowed)
	}
	if ext := strings.ToLower(filepath.Ext(f.out)); ext != "" && ext != ".png" && ext != ".gif" {
		if info, err := os.Stat(f.out); err != nil || !info.IsDir() {
			return refuse("--output", strconv.Quote(f.out), allowed)
		}
	}
	return needs(c, "entrance", "view")
}

func runTour(c *cobra.Command, d *project.Design, f *tourFlags) error {
	r := place.Of(d)
	s, notes, err := f.sequence(r)
	if err != nil {
		return err
	}
	for _, note := range notes {
		fmt.Fprintf(c.ErrOrStderr(), "earline: %s\n", escaped(note))
	}
	ctx, stop := interruptible(c)
	defer stop()
	tell, done := progress(c, "Recording")
	made, of, err := export.Film(ctx, r, s, export.Filming{W: f.size.w, H: f.size.h, FPS: f.fps}, f.out, tell)
	done()
	p := &printer{c.OutOrStdout()}
	switch {
	case errors.Is(err, context.Canceled) && made == 0:
		return errors.New("given up before the first picture")
	case errors.Is(err, context.Canceled):
		p.printf("Given up: %s.\n", export.Kept(escaped(f.out), made, of))
		return errShort
	case err != nil && made > 0:
		return fmt.Errorf("%s: %w", export.Kept(escaped(f.out), made, of), cause(err))
	case err != nil:
		return fmt.Errorf("%s: %w", escaped(f.out), cause(err))
	}
	p.printf("%s: %s, %.1f s\n", escaped(f.out), counted(made, "picture"), s.Length())
	return nil
}

// sequence returns what is recorded, and what of it cannot be shown as it is listed.
func (f *tourFlags) sequence(r *place.Room) (tour.Sequence, []string, error) {
	if !f.entrance {
		t := tour.Plan(r)
		if len(t.Stops) == 0 {
			return nil, nil, errors.New("nobody can stand in the room, and there is no seat")
		}
		return t, t.Notes, nil
	}
	pose, ok := tour.MainSeat(r)
	if f.view != "" {
		v, err := viewOf(r.Design, sight.Audit(r.Design), f.view, float32(f.size.w)/float32(f.size.h))
		if err != nil {
			return nil, nil, about("--view", err)
		}
		if pose, ok = tour.PoseOf(v); !ok {
			return nil, nil, refuse("--view", strconv.Quote(f.view), "a view in perspective")
		}
	} else if !ok {
		return nil, nil, errors.New("there is no seat: say with --view where to look from")
	}
	e, err := tour.EntranceOf(r, pose)
	return e, nil, err
}

// viewOf returns a view of the room by its name, or the design's viewpoint of that name.
func viewOf(d *project.Design, r *sight.Result, name string, aspect float32) (scene.View, error) {
	v, err := scene.Named(d, r, name, aspect)
	if err == nil {
		return v, nil
	}
	i := d.ViewpointNamed(name)
	if i < 0 {
		if len(d.Viewpoints) > 0 {
			err = fmt.Errorf("%w; or a viewpoint: %s", err, strings.Join(viewpointNames(d), ", "))
		}
		return v, err
	}
	p, err := tour.Of(place.Of(d), &d.Viewpoints[i])
	return p.View(), err
}

func viewpointNames(d *project.Design) (names []string) {
	for _, v := range d.Viewpoints {
		names = append(names, v.Name)
	}
	return names
}
