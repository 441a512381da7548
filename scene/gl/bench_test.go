// SPDX-License-Identifier: MIT

package gl

import (
	"context"
	"fmt"
	"image"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/light"
	"earline/scene"
	"earline/scene/bake"
)

// BenchmarkFrame is a moving view (one sample, budget 16 ms) and a still one
// (four, 30 ms) of a large design, labels and read-back included.
func BenchmarkFrame(b *testing.B) {
	for _, samples := range []int{1, 4} {
		b.Run(fmt.Sprintf("1280x800,samples=%d", samples), func(b *testing.B) {
			r := open(b)
			l := cinema()
			j := Job{W: 1280, H: 800, Camera: corner(), Samples: samples, Scale: 1, List: l}
			got := make(chan Frame)
			r.OnFrame(func(f Frame) { got <- f })
			r.Submit(j)
			if f := <-got; f.Err != nil {
				b.Fatal(f.Err)
			}
			j.List = nil
			b.ReportAllocs()
			for b.Loop() {
				j.Camera.Eye[0] += 0.001 // nothing may be reused from the frame before
				r.Submit(j)
				<-got
			}
		})
	}
}

// BenchmarkBuild is what an edit costs over a plain frame: the small picture
// keeps the drawing itself cheap.
func BenchmarkBuild(b *testing.B) {
	r := open(b)
	j := Job{W: 16, H: 16, Camera: corner(), List: cinema()}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := r.Draw(j); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLabels is the part of a frame spent on 40 labels, without the depth
// read-back.
func BenchmarkLabels(b *testing.B) {
	p, err := newPlates()
	if err != nil {
		b.Fatal(err)
	}
	img := image.NewRGBA(image.Rect(0, 0, 1280, 800))
	l, cam := cinema(), corner()
	clear := func(int, int) (d [9]float32) {
		for i := range d {
			d[i] = 1
		}
		return d
	}
	b.ReportAllocs()
	for b.Loop() {
		cam.Eye[0] += 0.001
		p.draw(img, l.Labels, cam, 1, clear)
	}
}

// BenchmarkLitFrame is a walk through the large demo in the light of a scene, which brings
// its light at every vertex.
func BenchmarkLitFrame(b *testing.B) {
	d, _ := file.Demo("large")
	o := scene.Default()
	o.Client, o.Bare = true, true
	list := scene.Build(d, nil, o)
	m := light.Of(d)
	l, err := bake.Of(list, bake.LampsOf(m, list), bake.Apart).Light(context.Background(), bake.Quick())
	if err != nil {
		b.Fatal(err)
	}
	v, err := scene.Named(d, nil, "walk:9.2,2.8,2.6,0,-12", 1.6)
	if err != nil {
		b.Fatal(err)
	}
	o.Bare = false
	for name, list := range map[string]*scene.List{"drawn": scene.Build(d, nil, o), "lit": l.Show(bake.In(m, project.House))} {
		b.Run(name, func(b *testing.B) {
			r := open(b)
			j := Job{W: 1280, H: 800, Camera: v.Camera, Samples: 1, Scale: 1, List: list}
			got := make(chan Frame)
			r.OnFrame(func(f Frame) { got <- f })
			r.Submit(j)
			if f := <-got; f.Err != nil {
				b.Fatal(f.Err)
			}
			j.List = nil
			for b.Loop() {
				j.Camera.Eye[0] += 0.001
				r.Submit(j)
				<-got
			}
		})
	}
}
