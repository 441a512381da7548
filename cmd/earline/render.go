// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"context"
	"fmt"
	"image/png"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/project"
	"earline/project/disk"
	"earline/project/sight"
	"earline/scene"
	"earline/scene/figure"
	"earline/scene/gl"
)

func renderCommand() *cobra.Command {
	var out, view, size, rays, mapped, octave string
	var client, plain, cones, paper bool
	c := &cobra.Command{
		Use:   "render FILE -o PICTURE.png",
		Short: "Draw the room in 3D to a PNG file, with no window",
		Long: `Render draws the room as the window would, with no window and, on Linux, with no
display at all.

FILE is a design, or demo:NAME. Views: ` + scene.ViewNames + `.`,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			w, h, err := parseSize(size)
			if err != nil {
				return err
			}
			if out == "" {
				return fmt.Errorf("--output: none given; name the PNG file to write")
			}
			if ext := filepath.Ext(out); !strings.EqualFold(ext, ".png") {
				return fmt.Errorf("--output %s: found ending %q; allowed is .png", out, ext)
			}
			d, err := load(args[0])
			if err != nil {
				return err
			}
			r := sight.Audit(d)
			v, err := scene.Named(d, r, view, float32(w)/float32(h))
			if err != nil {
				return err
			}
			opts := v.Apply(scene.Default())
			opts.Client, opts.Labels, opts.Cones = client, !plain, cones
			if paper {
				opts.Palette = scene.Paper()
			}
			show, ok := shows[rays]
			if !ok {
				return fmt.Errorf("--rays %s: allowed is problems, all or none", rays)
			}
			opts.Rays = show
			if mapped != "" {
				if opts.Heat, err = heatOf(d, r, mapped, octave); err != nil {
					return err
				}
				opts.Rays, opts.Labels = scene.NoRays, false // the map has its own
			}
			img, err := gl.Still(gl.Job{
				W: w, H: h, Camera: v.Camera,
				List: scene.Build(d, r, opts), Samples: 4, Scale: float32(h) / 800,
			})
			if err != nil {
				return err
			}
			var b bytes.Buffer
			if err := png.Encode(&b, img); err != nil {
				return err
			}
			return disk.Replace(out, b.Bytes())
		},
	}
	c.Flags().StringVarP(&out, "output", "o", "", "PNG file to write")
	c.Flags().StringVar(&view, "view", "overview", "where to look from: "+scene.ViewNames)
	c.Flags().StringVar(&size, "size", "1280x800", "width x height in pixels")
	c.Flags().StringVar(&rays, "rays", "problems", "rays from ear to driver: problems, all or none")
	c.Flags().StringVar(&mapped, "map", "", "lay the level of that loudspeaker over the plane of the ears, such as M+030; all: how far they lie apart")
	c.Flags().StringVar(&octave, "octave", "4000", "octave of the map, hertz")
	c.Flags().BoolVar(&cones, "cones", false, "draw the nominal coverage of every loudspeaker")
	c.Flags().BoolVar(&client, "client", false, "leave out all engineering")
	c.Flags().BoolVar(&plain, "no-labels", false, "leave out the labels")
	c.Flags().BoolVar(&paper, "paper", false, "draw on white ground, for paper")
	return c
}

// heatOf returns the map of a loudspeaker, or of all.
func heatOf(d *project.Design, r *sight.Result, speaker, octave string) (*scene.Heat, error) {
	if speaker == "all" {
		speaker = ""
	}
	g, err := soundMap(context.Background(), d, &soundFlags{speaker: speaker, octave: octave})
	if err != nil {
		return nil, err
	}
	return figure.Sheet(&g, &r.Room), nil
}

// shows are the words for how many rays are drawn.
var shows = map[string]scene.Show{"problems": scene.Problems, "all": scene.All, "none": scene.NoRays}

// parseSize reads WIDTHxHEIGHT in pixels.
func parseSize(s string) (w, h int, err error) {
	const most = 8192
	a, b, ok := strings.Cut(strings.ToLower(s), "x")
	if ok {
		w, err = strconv.Atoi(strings.TrimSpace(a))
		if err == nil {
			h, err = strconv.Atoi(strings.TrimSpace(b))
		}
	}
	if !ok || err != nil || w < 16 || h < 16 || w > most || h > most {
		return 0, 0, fmt.Errorf("--size %s: allowed is WIDTHxHEIGHT, each 16 to %d pixels, such as 1280x800", s, most)
	}
	return w, h, nil
}
