// SPDX-License-Identifier: MIT

package gl

import (
	"image"
	"testing"

	"earline/project/sight"
	"earline/scene"
)

// keys returns the legend of all verdicts.
func keys() []scene.Key {
	p := scene.Lamplight()
	var out []scene.Key
	for v := sight.Blocked; v > sight.NotJudged; v-- {
		out = append(out, scene.Key{Look: p.Verdicts[v], Text: v.String(), Line: scene.Stroke(v - sight.Clear), Over: p.Name, Under: p.NamePlate})
	}
	return out
}

// The legend lies in the lower left corner, has both colours of what is blocked, and
// leaves a small picture free.
func TestTheLegendLiesInTheCorner(t *testing.T) {
	p, err := newPlates()
	if err != nil {
		t.Fatal(err)
	}
	for _, scale := range []float32{1, 2} {
		img := image.NewRGBA(image.Rect(0, 0, 800, 500))
		p.drawLegend(img, keys(), scale)
		var at image.Rectangle
		seen := map[scene.RGB]bool{}
		look := keys()[0].Look
		for y := range 500 {
			for x := range 800 {
				c := img.RGBAAt(x, y)
				if c.A > 0 {
					at = at.Union(image.Rect(x, y, x+1, y+1))
				}
				for _, want := range []scene.RGB{look.Ray, look.Gap} {
					if c == paint(want, 1) {
						seen[want] = true
					}
				}
			}
		}
		if at.Min.X > 20 || at.Max.Y < 480 || at.Max.X > 400 || at.Min.Y < 300 {
			t.Errorf("scale %v: the legend lies at %v", scale, at)
		}
		if len(seen) != 2 {
			t.Errorf("scale %v: of blocked only %v is drawn", scale, seen)
		}
	}
	small := image.NewRGBA(image.Rect(0, 0, 120, 60))
	p.drawLegend(small, keys(), 1)
	for _, v := range small.Pix {
		if v != 0 {
			t.Fatal("a small picture has a legend")
		}
	}
}

// A loudspeaker in the corner lost its name under the legend.
func TestLabelsKeepOffTheLegend(t *testing.T) {
	p, err := newPlates()
	if err != nil {
		t.Fatal(err)
	}
	img := image.NewRGBA(image.Rect(0, 0, 800, 500))
	p.drawLegend(img, keys(), 1)
	for y := range 12 {
		for x := range 8 {
			m := mark{plate: image.NewRGBA(image.Rect(0, 0, 40, 16)), x: 20 * x, y: 380 + 10*y}
			if m.settle(img.Rect, p.corner, nil) && m.at.Overlaps(p.corner) {
				t.Errorf("a label at %d, %d lies at %v, under the legend at %v", m.x, m.y, m.at, p.corner)
			}
		}
	}
}

// A legend that stays as it is is not drawn anew for every picture.
func TestTheLegendIsKept(t *testing.T) {
	p, err := newPlates()
	if err != nil {
		t.Fatal(err)
	}
	first := p.legend(keys(), 1)
	if p.legend(keys(), 1) != first {
		t.Error("the same legend was drawn again")
	}
	if p.legend(keys()[:1], 1) == first || p.legend(keys()[:1], 2) == p.legend(keys()[:1], 1) {
		t.Error("another legend was not drawn")
	}
}
