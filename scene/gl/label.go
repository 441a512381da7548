// SPDX-License-Identifier: MIT

package gl

import (
	"cmp"
	"image"
	"image/draw"
	"slices"

	"github.com/go-gl/mathgl/mgl32"

	"earline/scene"
)

// touch is how far in front of a label's point something may stand and not
// hide it, metres: the surface that the point lies on, and its roundness.
const touch = 0.05

// mark is a label with its place in the picture.
type mark struct {
	label *scene.Label
	x, y  int
	depth float32
	plate *image.RGBA
	at    image.Rectangle // where the plate goes
}

// draw puts the labels that can be seen over img, the picture cam took. depths
// reads the picture's depths about a pixel; it is asked for Hidden labels only.
func (p *plates) draw(img *image.RGBA, labels []scene.Label, cam scene.Camera, scale float32, depths func(x, y int) [9]float32) {
	p.next()
	for _, m := range p.lay(img.Rect, labels, cam, scale, depths) {
		draw.Draw(img, m.at, m.plate, image.Point{}, draw.Over)
	}
}

// lay returns the labels to draw in a picture and where. No two plates overlap:
// the selected and then the nearer ones stay, the others move up or down by up
// to two heights or are left out.
func (p *plates) lay(picture image.Rectangle, labels []scene.Label, cam scene.Camera, scale float32, depths func(x, y int) [9]float32) []mark {
	w, h := picture.Dx(), picture.Dy()
	var marks []mark
	for i := range labels {
		l := &labels[i]
		x, y, depth, ok := cam.Project(l.At, w, h)
		inside := x >= 0 && y >= 0 && x < float32(w) && y < float32(h) && depth >= 0 && depth <= 1
		if !ok || !inside || l.Text == "" {
			continue
		}
		m := mark{label: l, x: int(x), y: int(y), depth: depth}
		if l.Hidden && w >= 3 && h >= 3 && covered(l.At, cam, w, h, depths(m.x, m.y)) {
			continue
		}
		marks = append(marks, m)
	}
	slices.SortStableFunc(marks, func(a, b mark) int {
		if a.label.Bold != b.label.Bold {
			if a.label.Bold {
				return -1
			}
			return 1
		}
		return cmp.Compare(a.depth, b.depth)
	})
	laid := marks[:0]
	for _, m := range marks {
		m.plate = p.plate(*m.label, scale)
		if m.settle(picture, p.corner, laid) {
			laid = append(laid, m)
		}
	}
	return laid
}

// covered tells whether most pixels about p show something nearer than p. What
// is drawn on top does not count: its depth says nothing.
func covered(p mgl32.Vec3, cam scene.Camera, w, h int, seen [9]float32) bool {
	toEye := cam.Eye.Sub(p)
	if cam.FOV <= 0 {
		toEye = cam.Eye.Sub(cam.At)
	}
	if far := toEye.Len(); far > touch {
		p = p.Add(toEye.Mul(touch / far))
	}
	_, _, depth, ok := cam.Project(p, w, h)
	nearer := 0
	for _, d := range seen {
		if d < depth && d > topBand {
			nearer++
		}
	}
	return ok && nearer > len(seen)/2
}

// settle finds a free place for m inside the picture, centred on its point or
// up to two heights above or below, and not in the corner of the legend. It returns
// false if there is none.
func (m *mark) settle(picture, corner image.Rectangle, taken []mark) bool {
	size := m.plate.Rect.Size()
	if size.X > picture.Dx() || size.Y > picture.Dy() {
		return false
	}
	for _, steps := range [5]int{0, -1, 1, -2, 2} {
		x := min(max(m.x-size.X/2, 0), picture.Dx()-size.X)
		y := min(max(m.y-size.Y/2+steps*(size.Y+1), 0), picture.Dy()-size.Y)
		m.at = image.Rectangle{Max: size}.Add(image.Pt(x, y))
		if !m.at.Overlaps(corner) && !slices.ContainsFunc(taken, func(t mark) bool { return t.at.Overlaps(m.at) }) {
			return true
		}
	}
	return false
}
