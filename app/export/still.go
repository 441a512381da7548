// SPDX-License-Identifier: MIT

package export

import (
	"bytes"
	"context"
	"image"
	"image/png"

	"earline/project"
	"earline/project/light"
	"earline/project/sight"
	"earline/scene"
	"earline/scene/bake"
	"earline/scene/gl"
)

// Still is a picture of a room to be kept.
type Still struct {
	W, H    int // pixels
	Design  *project.Design
	Result  *sight.Result // its audit, nil for none
	Camera  scene.Camera
	Options scene.Options
	// Light is the scene of light groups in which the client view is shown; empty for the
	// light of a drawing. Stops is how much brighter it is shown than the eye would see it.
	Light project.Scene
	Stops float64
	Fine  bool // more time is taken over the light, and edges are smoother
	// Before is the room that is seen left of a curtain, nil for none; Curtain the share of
	// the width that is left of it. A room without light groups is seen there in the light
	// of a drawing.
	Before  *project.Design
	Curtain float32
	Spare   int // cores that are left to others
}

// What share of the time the light, and the drawing, of a still takes, about.
const (
	lightShare = 0.85
	drawShare  = 0.10
)

// PNG takes the still and keeps it as PNG. draw is that of a gl.Renderer; tell, which may
// be nil, is told how far it is, from any goroutine. The error is that of ctx, of draw, or
// a *project.Fault of a room that has no light to be seen in.
func (s *Still) PNG(ctx context.Context, draw func(gl.Job) (*image.RGBA, error), tell func(share float64)) ([]byte, error) {
	if tell == nil {
		tell = func(float64) {}
	}
	img, err := s.take(ctx, draw, tell)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return nil, err
	}
	tell(1)
	return b.Bytes(), ctx.Err()
}

func (s *Still) take(ctx context.Context, draw func(gl.Job) (*image.RGBA, error), tell func(share float64)) (*image.RGBA, error) {
	if s.Light != "" {
		if err := bake.Lit(light.Of(s.Design), s.Light); err != nil {
			return nil, err
		}
	}
	rooms := 1
	if s.Before != nil {
		rooms = 2
	}
	lit := func(k int) func(float64) {
		return func(share float64) { tell(lightShare * (float64(k) + share) / float64(rooms)) }
	}
	j := gl.Job{W: s.W, H: s.H, Camera: s.Camera, Samples: 4, Scale: float32(s.H) / 800}
	var err error
	if j.List, err = s.list(ctx, s.Design, s.Result, s.Options, lit(0)); err != nil {
		return nil, err
	}
	if s.Before != nil {
		o := s.Options
		c := gl.Curtain{At: s.Curtain, Left: s.Before.VariantName(), Right: s.Design.VariantName()}
		c.Camera, o.FromSeat = scene.SameSeat(s.Design, s.Before, o.FromSeat, s.Camera)
		if c.List, err = s.list(ctx, s.Before, nil, o, lit(1)); err != nil {
			return nil, err
		}
		j.Curtain = &c
	}
	tell(lightShare)
	if s.Fine {
		return gl.Fine(ctx, draw, j, func(share float64) { tell(lightShare + drawShare*share) })
	}
	return draw(j)
}

// list returns what is drawn of a room.
func (s *Still) list(ctx context.Context, d *project.Design, r *sight.Result, o scene.Options, tell func(share float64)) (*scene.List, error) {
	if s.Light == "" || len(d.LightGroups) == 0 {
		return scene.Build(d, r, o), nil
	}
	from := o.FromSeat
	o.Bare, o.FromSeat = true, scene.None
	list := scene.Build(d, r, o)
	m := light.Of(d)
	quality, apart := bake.Full(), bake.Apart
	if s.Fine {
		quality, apart = bake.Fine(), bake.FinelyApart
	}
	quality.Tell, quality.Spare = tell, s.Spare
	l, err := bake.Of(list, bake.LampsOf(m, list), apart).Light(ctx, quality)
	if err != nil {
		return nil, err
	}
	show := bake.In(m, s.Light)
	show.Exposure, show.FromSeat = s.Stops, from
	return l.Show(show), nil
}
