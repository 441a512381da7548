// SPDX-License-Identifier: MIT

package move

import (
	"strings"

	"earline/geometry"
	"earline/project"
	"earline/project/pair"
	"earline/project/place"
	"earline/scene"
)

// mark is a coordinate that something snaps to.
type mark struct {
	at   float64
	from geometry.Vec // what it is in line with
	text string
	// image is where a partner's mirror image is, for the text that begins mirrors.
	image geometry.Vec
}

// mirrors begins the text of what is a mirror image only when it is met along every
// axis.
const mirrors = "mirrors "

// marks returns what a loudspeaker snaps to along an axis: first the mirror
// image of its partner on the other side of the main position, then the main
// position, then every other loudspeaker.
func (m *Move) marks(l project.Loudspeaker, along func(geometry.Vec) float64) []mark {
	main := place.MainPoint(m.d)
	across := along(geometry.V(0, 1, 0)) == 1
	var out []mark
	for _, o := range m.d.Speakers {
		if o.Label != pair.Label(l.Label) || o.Copy != l.Copy || o.Label == l.Label || m.pair != nil {
			continue
		}
		image := o.At.Vec()
		image.Y = 2*main.Y - image.Y
		out = append(out, mark{along(image), o.At.Vec(), mirrors + o.Name(), image})
	}
	if across {
		out = append(out, mark{at: main.Y, from: main, text: "middle"})
	}
	words := "level with "
	switch {
	case across:
		words = "in line with "
	case along(geometry.V(1, 0, 0)) == 1:
		words = "abreast of "
	}
	for i, o := range m.d.Speakers {
		if i != m.item.Index && (m.pair == nil || i != m.pair.Other) {
			out = append(out, mark{at: along(o.At.Vec()), from: o.At.Vec(), text: words + o.Name()})
		}
	}
	return out
}

// rowMarks returns what row i snaps to: where it is as far behind its neighbour
// as rows are elsewhere.
func (m *Move) rowMarks(i int) []mark {
	rows := m.d.Seating.Rows
	at := func(k int) geometry.Vec {
		r := rows[k]
		return geometry.V(float64(r.Distance), float64(r.Centre+r.Stagger), float64(r.Riser))
	}
	var out []mark
	for k := range len(rows) - 1 {
		if k == i || k+1 == i {
			continue
		}
		gap := at(k+1).X - at(k).X
		if i > 0 {
			out = append(out, mark{at: at(i-1).X + gap, from: at(i - 1), text: "even rows"})
		}
		if i+1 < len(rows) {
			out = append(out, mark{at: at(i+1).X - gap, from: at(i + 1), text: "even rows"})
		}
	}
	if 0 < i && i+1 < len(rows) {
		out = append(out, mark{at: (at(i-1).X + at(i+1).X) / 2, from: at(i - 1), text: "even rows"})
	}
	return out
}

// guides draws a line from what was met to where the item is now; one for each
// thing met, though it be met along two axes. One that is in line with a mirror image,
// and no more, says so.
func guides(met []*mark, to geometry.Vec) []scene.Dim {
	var out []scene.Dim
	for i, k := range met {
		text := k.text
		const tol = 0.002 // m
		if name, ok := strings.CutPrefix(text, mirrors); ok && k.image.Dist(to) > tol {
			text = "in line with the mirror image of " + name
		}
		twice := false
		for _, before := range met[:i] {
			twice = twice || before.from == k.from
		}
		if !twice {
			out = append(out, scene.Dim{From: k.from, To: to, Text: text, Guide: true})
		}
	}
	return out
}
