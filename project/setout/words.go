// SPDX-License-Identifier: MIT

package setout

import (
	"math"
	"strconv"
	"strings"

	"earline/geometry/unit"
	"earline/project"
)

// short prints v metres as it is read off a tape: millimetres to the tenth, or feet and
// inches to the nearest sixteenth.
func short(v float64, u project.Units) string {
	if u == project.Imperial {
		return unit.Length(v).Format(false)
	}
	return millimetres(v) + " mm"
}

// millimetres prints v metres in millimetres, with a tenth where there is one.
func millimetres(v float64) string {
	s := strings.TrimSuffix(strconv.FormatFloat(v*1000, 'f', 1, 64), ".0")
	if s == "-0" {
		return "0"
	}
	return s
}

// Show prints v metres in the units of l.
func (l *List) Show(v float64) string { return short(v, l.Units) }

// ShowHeight prints a height above the line with its sign: "+566 mm".
func (l *List) ShowHeight(v float64) string {
	text := l.Show(v)
	if !strings.HasPrefix(text, "-") && strings.ContainsAny(text, "123456789") {
		return "+" + text
	}
	return text
}

// ShowOffset prints an offset: "1036 mm left of the centre line", "420 mm from left wall".
func (l *List) ShowOffset(o Offset) string { return l.offset(o.Distance, o.Wall == 0, o.From) }

func (l *List) offset(v float64, centred bool, from string) string {
	if !centred {
		return l.Show(v) + " from " + from
	}
	side := "right of"
	if v < 0 {
		side = "left of"
	}
	text := l.Show(math.Abs(v))
	if !strings.ContainsAny(text, "123456789") {
		return "on the centre line"
	}
	return text + " " + side + " the centre line"
}

// ShowEdges prints a rectangle by its edges.
func (l *List) ShowEdges(c *Cutout) string {
	across := func(v float64) string { return l.offset(v, c.LeftRightFrom == project.CentreLine, c.LeftRightFrom) }
	if c.LowerUpperFrom == Line {
		return "left " + across(c.Left) + ", right " + across(c.Right) + ", lower " + l.ShowHeight(c.Lower) + ", upper " + l.ShowHeight(c.Upper)
	}
	along := func(v float64) string { return l.offset(v, false, c.LowerUpperFrom) }
	return "left " + across(c.Left) + ", right " + across(c.Right) + ", front " + along(c.Upper) + ", back " + along(c.Lower)
}

// Words says where a points: "turn 28.0° right, tilt 17.7° down".
func (a *Aim) Words(on Surface) string {
	deg := func(v float64) string { return strconv.FormatFloat(math.Abs(v), 'f', 1, 64) + "°" }
	side := " right"
	if a.Turn < 0 {
		side = " left"
	}
	if on == OnCeiling {
		if math.Abs(a.Tilt) < 0.05 {
			return "straight down"
		}
		return "tilt " + deg(a.Tilt) + " off plumb, towards " + deg(a.Turn) + side + " of the screen"
	}
	words := "straight out"
	if math.Abs(a.Turn) >= 0.05 {
		words = "turn " + deg(a.Turn) + side
	}
	switch {
	case a.Tilt >= 0.05:
		words += ", tilt " + deg(a.Tilt) + " up"
	case a.Tilt <= -0.05:
		words += ", tilt " + deg(a.Tilt) + " down"
	default:
		words += ", level"
	}
	return words
}

// Words says what l is measured from, in a sentence each.
func (t *Datum) Words(u project.Units) []string {
	line := "Line " + short(t.Given, u) + " above the " + string(t.From)
	if t.From == project.StructuralFloor {
		line += ", " + short(t.Height, u) + " above the finished floor"
	} else if t.FloorBuildup > 0 {
		line += ", " + short(t.Height+t.FloorBuildup, u) + " above the structural floor"
	}
	if t.Assumed {
		line += " (the plan gives none)"
	}
	across := "Across the room from the " + t.Across
	if t.Across == project.CentreLine {
		across += ", through the middle of the picture, left and right as one faces the screen"
	}
	out := []string{line + ".", across + "."}
	for _, w := range t.WallBuildup {
		if w > 0 {
			out = append(out, "Offsets are to the finished faces; those from rough walls stand beside them.")
			break
		}
	}
	return out
}
