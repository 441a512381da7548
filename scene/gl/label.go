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
	laid := p.lay(img.Rect, labels, cam, scale, depths)
	for _, m := range laid {
		m.lead(img)
	}
	for _, m := range laid {
		draw.Draw(img, m.at, m.plate, image.Point{}, draw.Over)
	}
}

// lay returns the labels to draw in a picture and where. No two plates overlap:
// the selected and then the nearer ones stay, the others move aside, on a leader,
// or are left out.
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

// asides are where a plate may go, in its own heights up and down and half widths
// to the side, the nearest first.
var asides = [][2]int{
	{0, 0}, {0, -1}, {0, 1}, {0, -2}, {0, 2}, {2, 0}, {-2, 0}, {2, -1}, {-2, -1}, {2, 1}, {-2, 1},
	{0, -3}, {0, 3}, {2, -2}, {-2, -2}, {2, 2}, {-2, 2}, {0, -4}, {0, 4}, {3, -3}, {-3, -3}, {3, 3}, {-3, 3},
}

// settle finds a free place for m inside the picture, centred on its point or
// not far from it, and not in the corner of the legend. It returns false if there is
// none.
func (m *mark) settle(picture, corner image.Rectangle, taken []mark) bool {
	size := m.plate.Rect.Size()
	if size.X > picture.Dx() || size.Y > picture.Dy() {
		return false
	}
	for _, by := range asides {
		x := min(max(m.x-size.X/2+by[0]*(size.X+4)/2, 0), picture.Dx()-size.X)
		y := min(max(m.y-size.Y/2+by[1]*(size.Y+1), 0), picture.Dy()-size.Y)
		m.at = image.Rectangle{Max: size}.Add(image.Pt(x, y))
		if !m.at.Overlaps(corner) && !slices.ContainsFunc(taken, func(t mark) bool { return t.at.Overlaps(m.at) }) {
			return true
		}
	}
	return false
}

// lead draws the leader from a plate that had to move aside to its point.
func (m *mark) lead(img *image.RGBA) {
	from := image.Pt(min(max(m.x, m.at.Min.X), m.at.Max.X-1), min(max(m.y, m.at.Min.Y), m.at.Max.Y-1))
	by := image.Pt(m.x, m.y).Sub(from)
	const least = 3 // pixels; less needs no leader
	long := max(by.X, -by.X, by.Y, -by.Y)
	if long < least {
		return
	}
	ink := paint(m.label.Ink, 1)
	for i := range long + 1 {
		img.SetRGBA(from.X+by.X*i/long, from.Y+by.Y*i/long, ink)
	}
	for _, d := range [4]image.Point{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} { // its end
		img.SetRGBA(m.x+d.X, m.y+d.Y, ink)
	}
}
