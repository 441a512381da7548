// SPDX-License-Identifier: MIT

package gl

import (
	"context"
	"image"
)

// Fine draws j with edges as smooth as sixteen samples a pixel make them: at twice its
// size, part by part, so that it takes no more memory than a window's picture, and scaled
// down. draw is a Renderer's Draw. tell, which may be nil, is told what share is drawn.
// Labels and legends are left out. The error is that of draw or of ctx.
func Fine(ctx context.Context, draw func(Job) (*image.RGBA, error), j Job, tell func(share float64)) (*image.RGBA, error) {
	const most = 1024 // pixels of out each way that are drawn at once
	out := image.NewRGBA(image.Rect(0, 0, j.W, j.H))
	cols, rows := (j.W+most-1)/most, (j.H+most-1)/most
	for k := range cols * rows {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		x, y := k%cols*most, k/cols*most
		to := image.Rect(x, y, min(x+most, j.W), min(y+most, j.H))
		twice := j
		twice.W, twice.H, twice.Samples = 2*j.W, 2*j.H, 4
		twice.Part = image.Rectangle{Min: to.Min.Mul(2), Max: to.Max.Mul(2)}
		img, err := draw(twice)
		if err != nil {
			return nil, err
		}
		halve(out.SubImage(to).(*image.RGBA), img)
		if tell != nil {
			tell(float64(k+1) / float64(cols*rows))
		}
	}
	p, err := newPlates()
	if err != nil {
		return nil, err
	}
	p.drawCurtain(out, j.Curtain, j.Scale)
	return out, nil
}

// halve makes each pixel of to the mean of four of from.
func halve(to, from *image.RGBA) {
	for y := range to.Rect.Dy() {
		row := to.Pix[y*to.Stride:]
		a, b := from.Pix[2*y*from.Stride:], from.Pix[(2*y+1)*from.Stride:]
		for i := range 4 * to.Rect.Dx() {
			k := i/4*8 + i%4
			row[i] = uint8((int(a[k]) + int(a[k+4]) + int(b[k]) + int(b[k+4]) + 2) / 4)
		}
	}
}
