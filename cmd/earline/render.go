// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/project"
	"earline/project/picture"
	"earline/project/sight"
	"earline/scene"
	"earline/scene/figure"
	"earline/scene/gl"
)

// renderFlags are what the command line can ask of a picture.
type renderFlags struct {
	out, view, rays, mapOf string
	size                   pixels
	scene                  string // of the light groups, "" for the light of a drawing
	client, plain, cones   bool
	fine                   bool
	paper                  bool // white ground
	beam                   float64
	mapped                 mapFlags
}

func renderCommand() *cobra.Command {
	var f renderFlags
	c := &cobra.Command{
		Use:   "render FILE -o PICTURE.png",
		Short: "Draw the room in 3D to a PNG file, with no window",
		Long: `Render draws the room as the window would, with no window and, on Linux, with no
display at all. The views are

  ` + strings.ReplaceAll(scene.ViewNames, ", ", "\n  ") + fileNote,
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
			return about(inMessages(args[0]), runRender(c, d, &f))
		},
	}
	fs := c.Flags()
	fs.StringVarP(&f.out, "output", "o", "", "PNG `FILE` to write, or -")
	addFlag(c, &f.view, "view", "VIEW", "overview", "where to look from, as listed above", anyText)
	addFlag(c, &f.size, "size", "WIDTHxHEIGHT", "1280x800", "size in pixels", size)
	addFlag(c, &f.rays, "rays", "WORD", "problems", "rays from ear to driver: problems, all or none", oneOf(rayWords...))
	addFlag(c, &f.mapOf, "map", "NAME", "", "lay the level of that loudspeaker over the plane of the ears; all: how far they lie apart", anyText)
	f.mapped.octaveFlag(c)
	fs.BoolVar(&f.cones, "cones", false, "draw the nominal coverage of every loudspeaker")
	addFlag(c, &f.beam, "beam", "RATIO", "", "draw the projector's beam for that shape of picture, such as 2.39, and how far the lens can shift it", aspect)
	fs.BoolVar(&f.client, "client", false, "leave out all engineering")
	addFlag(c, &f.scene, "scene", "NAME", "", "with --client, show it in the light of that scene: "+strings.Join(sceneNames(), ", "), oneOf(sceneNames()...))
	fs.BoolVar(&f.fine, "fine", false, "with --scene, take more time over the light and smoother edges")
	fs.BoolVar(&f.plain, "no-labels", false, "leave out the labels")
	fs.BoolVar(&f.paper, "paper", false, "draw on white ground, for paper")
	_ = c.RegisterFlagCompletionFunc("view", completeFrom(viewNames))
	_ = c.RegisterFlagCompletionFunc("scene", completeWords(sceneNames))
	_ = c.RegisterFlagCompletionFunc("rays", completeWords(func() []string { return rayWords }))
	_ = c.RegisterFlagCompletionFunc("map", completeFrom(func(d *project.Design) []string { return append(speakerNames(d), allSpeakers) }))
	return c
}

// allSpeakers is the word for a map of how far all loudspeakers lie apart.
const allSpeakers = "all"

// rayWords are the words for how many rays are drawn.
var rayWords = []string{"problems", "all", "none"}

var shows = map[string]scene.Show{"problems": scene.Problems, "all": scene.All, "none": scene.NoRays}

func (f *renderFlags) check(c *cobra.Command) error {
	if err := named(c, "output"); err != nil {
		return err
	}
	if f.out == "" {
		return refuse("--output", "none", "the name of the PNG file to write, or -")
	}
	if ext := filepath.Ext(f.out); f.out != standard && !strings.EqualFold(ext, ".png") {
		return refuse("--output", strconv.Quote(f.out), "a name that ends in .png, or -")
	}
	if c.Flags().Changed("map") && f.mapOf == "" {
		return refuse("--map", "no name", "a loudspeaker, such as M+030, or all")
	}
	if err := needs(c, "client", "scene"); err != nil {
		return err
	}
	if err := needs(c, "scene", "fine"); err != nil {
		return err
	}
	const most = 4096 // pixels: what is fine is drawn at twice the size
	if f.fine && max(f.size.w, f.size.h) > most {
		return refuse("--size", fmt.Sprintf("%dx%d with --fine", f.size.w, f.size.h), fmt.Sprintf("up to %d pixels each way", most))
	}
	return needs(c, "map", "octave")
}

// shapeOf returns the index of a shape of picture that d shows, by its width over height.
func shapeOf(d *project.Design, aspect float64) (int, error) {
	r := picture.Optics(d)
	if !r.Projected {
		return 0, refuse("--beam", "a design without a projector", "a design with one")
	}
	var names []string
	for i := range r.Shapes {
		const rounding = 0.005 // as shapes are spoken of
		if math.Abs(r.Shapes[i].Aspect.Aspect-aspect) <= rounding {
			return i, nil
		}
		names = append(names, strconv.FormatFloat(r.Shapes[i].Aspect.Aspect, 'g', 3, 64))
	}
	return 0, refuse("--beam", strconv.FormatFloat(aspect, 'g', 6, 64), strings.Join(names, ", "))
}

func runRender(c *cobra.Command, d *project.Design, f *renderFlags) error {
	r := sight.Audit(d)
	v, err := scene.Named(d, r, f.view, float32(f.size.w)/float32(f.size.h))
	if err != nil {
		return about("--view", err)
	}
	opts := v.Apply(scene.Default())
	opts.Client, opts.Labels, opts.Cones, opts.Rays = f.client, !f.plain, f.cones, shows[f.rays]
	if f.beam != 0 {
		if opts.Shape, err = shapeOf(d, f.beam); err != nil {
			return err
		}
		opts.Beam = true
	}
	if f.paper {
		opts.Palette = scene.Paper()
	}
	if f.mapOf != "" {
		m := f.mapped
		if f.mapOf != allSpeakers {
			m.speaker = f.mapOf
		}
		g, err := mapOf(c.Context(), d, m, "--map")
		if err != nil {
			return err
		}
		opts.Heat = figure.Sheet(g, &r.Room)
		opts.Rays, opts.Labels = scene.NoRays, false // the map has its own
	}
	job := gl.Job{W: f.size.w, H: f.size.h, Camera: v.Camera, Samples: 4, Scale: float32(f.size.h) / 800}
	if f.scene == "" {
		job.List = scene.Build(d, r, opts)
	} else if job.List, err = lit(c.Context(), d, r, opts, f); err != nil {
		return err
	}
	var img *image.RGBA
	if f.fine {
		img, err = halved(job)
	} else {
		img, err = gl.Still(job)
	}
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return err
	}
	return write(c, f.out, b.Bytes())
}
