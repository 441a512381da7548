// SPDX-License-Identifier: MIT

package main

import (
	"context"
	"image"

	"golang.org/x/image/draw"

	"earline/project"
	"earline/project/light"
	"earline/project/sight"
	"earline/scene"
	"earline/scene/bake"
	"earline/scene/gl"
)

// lit returns the picture of d in the light of a scene.
func lit(ctx context.Context, d *project.Design, r *sight.Result, o scene.Options, f *renderFlags) (*scene.List, error) {
	if len(d.LightGroups) == 0 {
		return nil, refuse("--scene", "a room without light groups", "one with light_groups: the window adds them")
	}
	from := o.FromSeat
	o.Bare, o.FromSeat = true, scene.None
	list := scene.Build(d, r, o)
	m := light.Of(d)
	quality, apart := bake.Full(), bake.Apart
	if f.fine {
		quality, apart = bake.Fine(), bake.FinelyApart
	}
	l, err := bake.Of(list, bake.LampsOf(m, list), apart).Light(ctx, quality)
	if err != nil {
		return nil, err
	}
	show := bake.In(m, project.Scene(f.scene))
	show.FromSeat = from
	return l.Show(show), nil
}

// halved draws a picture at twice its size, where that can be drawn, and scales it down.
func halved(j gl.Job) (*image.RGBA, error) {
	out := image.NewRGBA(image.Rect(0, 0, j.W, j.H))
	j.W, j.H, j.Scale = 2*j.W, 2*j.H, 2*j.Scale
	img, err := gl.Still(j)
	if err != nil {
		return nil, err
	}
	draw.CatmullRom.Scale(out, out.Rect, img, img.Rect, draw.Src, nil)
	return out, nil
}
