// SPDX-License-Identifier: MIT

// Package pair finds which loudspeakers and features stand left and right of a
// centre line as mirror images of each other, and mirrors them.
package pair

import (
	"math"
	"strings"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// tol is how far two things may be from mirror images and still count as such: what
// a tape and half a millimetre of a centre line leave.
const tol = 0.002 // m

// Pair is two things, left and right. One is the thing asked for, Other its partner:
// indexes into the design's loudspeakers or features.
type Pair struct {
	Kind       place.ItemKind
	One, Other int
	// Line is the y of the centre line about which they are mirrored, or would be.
	Line float64
	// Mirrored is whether they are mirror images now.
	Mirrored bool
}

// Label returns the label of the loudspeaker on the other side: M-090 for M+090. A
// label without a side is its own.
func Label(label string) string {
	i := strings.IndexAny(label, "+-")
	if i < 0 {
		return label
	}
	switch label[i+1:] {
	case "000", "180":
		return label
	}
	sign := "-"
	if label[i] == '-' {
		sign = "+"
	}
	return label[:i] + sign + label[i+1:]
}

// Lines returns the centre lines of d that things may be mirrored about, as y: of
// the screen, of the room, of the main listening position.
func Lines(d *project.Design) []float64 {
	lo, hi := d.Room.Polygon().Bounds()
	return []float64{float64(d.Screen.Centre), (lo.Y + hi.Y) / 2, place.MainPoint(d).Y}
}

// Of returns the pair to which a loudspeaker or a feature belongs; ok is false when it
// has no partner. Loudspeakers are partners by their labels, and failing that, as
// features, by standing as mirror images.
func Of(d *project.Design, it place.Item) (p Pair, ok bool) {
	switch it.Kind {
	case place.SpeakerItem:
		return speaker(d, it.Index)
	case place.FeatureItem:
		return feature(d, it.Index)
	}
	return Pair{}, false
}

func speaker(d *project.Design, i int) (Pair, bool) {
	if i < 0 || i >= len(d.Speakers) {
		return Pair{}, false
	}
	l := d.Speakers[i]
	lines := Lines(d)
	p := Pair{Kind: place.SpeakerItem, One: i, Line: lines[0]}
	if other := Label(l.Label); other != l.Label {
		for j, o := range d.Speakers {
			if o.Label == other && o.Copy == l.Copy {
				p.Other = j
				if line, ok := lineOf(lines, l.At, o.At); ok {
					p.Line, p.Mirrored = line, true
				}
				return p, true
			}
		}
	}
	for j, o := range d.Speakers {
		if j == i || o.Model != l.Model || Label(o.Label) != o.Label && Label(l.Label) != l.Label {
			continue
		}
		if line, ok := lineOf(lines, l.At, o.At); ok {
			p.Other, p.Line, p.Mirrored = j, line, true
			return p, true
		}
	}
	return Pair{}, false
}

func feature(d *project.Design, i int) (Pair, bool) {
	fs := d.Room.Features
	if i < 0 || i >= len(fs) {
		return Pair{}, false
	}
	f := fs[i]
	for j, o := range fs {
		if j == i || o.Kind != f.Kind {
			continue
		}
		line, ok := lineOf(Lines(d), f.At, o.At)
		if ok && near(f.Length, o.Length) && near(f.Across(), o.Across()) && f.Round == o.Round && near(f.Height, o.Height) && (f.Round || sameTurn(f.Turn, -o.Turn)) {
			return Pair{Kind: place.FeatureItem, One: i, Other: j, Line: line, Mirrored: true}, true
		}
	}
	return Pair{}, false
}

// lineOf returns the first of lines about which a and b are mirror images; things on
// the line are nobody's image.
func lineOf(lines []float64, a, b project.Point) (float64, bool) {
	if !near(a.X, b.X) || !near(a.Z, b.Z) {
		return 0, false
	}
	for _, y := range lines {
		if math.Abs(float64(a.Y+b.Y)-2*y) <= tol && math.Abs(float64(a.Y)-y) > tol {
			return y, true
		}
	}
	return 0, false
}

func near(a, b unit.Length) bool { return math.Abs(float64(a-b)) <= tol }

// sameTurn reports whether boxes turned by a and by b stand alike: half a turn
// changes nothing.
func sameTurn(a, b unit.Degrees) bool {
	const slip = 0.01 // degrees
	turn := math.Mod(math.Abs(float64(a-b)), 180)
	return turn < slip || turn > 180-slip
}

// Across returns y mirrored about the line, free of the dust of binary fractions.
func Across(y unit.Length, line float64) unit.Length {
	return unit.Length(math.Round((2*line-float64(y))*1e7) / 1e7)
}

// Speaker returns l with its place and its aim mirrored about the line; its label
// stays.
func Speaker(l project.Loudspeaker, line float64) project.Loudspeaker {
	l.At.Y = Across(l.At.Y, line)
	l.Aim = aim(l.Aim)
	return l
}

func aim(a project.Aim) project.Aim {
	if a.Azimuth != 0 { // no minus zero
		a.Azimuth = -a.Azimuth
	}
	return a
}

// Feature returns f mirrored about the line. A door is hinged on the other side.
func Feature(f project.Feature, line float64) project.Feature {
	f.At.Y = Across(f.At.Y, line)
	f.Turn = turn(f.Turn)
	f.Swing = swing(f.Swing)
	return f
}

func turn(t unit.Degrees) unit.Degrees {
	if t == 0 {
		return 0
	}
	return -t
}

func swing(s project.Swing) project.Swing {
	switch s {
	case project.InLeft:
		return project.InRight
	case project.InRight:
		return project.InLeft
	case project.OutLeft:
		return project.OutRight
	case project.OutRight:
		return project.OutLeft
	}
	return s
}
