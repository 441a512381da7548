// SPDX-License-Identifier: MIT

package setout

import (
	"fmt"
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

// ShowEdges prints a rectangle by its edges: "left 1447.5 mm, right 1212.5 mm from back
// wall, lower +162.5 mm, upper +537.5 mm".
func (l *List) ShowEdges(c *Cutout) string {
	pair := func(from, one string, a float64, other string, b float64) string {
		first, second := l.offset(a, from == project.CentreLine, from), l.offset(b, from == project.CentreLine, from)
		length, where, _ := strings.Cut(first, l.Show(math.Abs(a)))
		if _, same, ok := strings.Cut(second, l.Show(math.Abs(b))); ok && length == "" && same == where {
			first = l.Show(math.Abs(a))
		}
		return one + " " + first + ", " + other + " " + second
	}
	across := pair(c.LeftRightFrom, "left", c.Left, "right", c.Right)
	if c.LowerUpperFrom == Line {
		return across + ", lower " + l.ShowHeight(c.Lower) + ", upper " + l.ShowHeight(c.Upper)
	}
	return across + ", " + pair(c.LowerUpperFrom, "front", c.Upper, "back", c.Lower)
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
		words := "tilt " + deg(a.Tilt) + " off plumb, towards "
		switch {
		case math.Abs(a.Turn) < 0.05:
			return words + "the screen"
		case math.Abs(a.Turn) > 179.95:
			return words + "the back"
		}
		return words + deg(a.Turn) + side + " of the screen"
	}
	words := "straight out"
	if on == OnFloor {
		words = "straight to the back"
	}
	switch turn := math.Abs(a.Turn); {
	case on == OnFloor && turn > 179.95:
		words = "straight to the screen"
	case turn >= 0.05:
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

// Rough says where an item is from what stands before the finishes; empty where nothing
// is built up.
func (l *List) Rough(it *Item) string {
	var parts []string
	if it.StructuralHeight != it.FinishedHeight {
		parts = append(parts, l.Show(it.StructuralHeight)+" above the structural floor")
	}
	for _, o := range it.Offsets {
		if o.Rough != o.Distance {
			parts = append(parts, l.Show(o.Rough)+" from rough "+o.From)
		}
	}
	return strings.Join(parts, ", ")
}

// Where says where an item goes: its height above the line, then its offsets.
func (l *List) Where(it *Item) string {
	return strings.TrimSuffix(l.ShowHeight(it.Height)+", "+l.Across(it), ", ")
}

// Across says how far along and across the room, or along its wall and off it, an item is.
func (l *List) Across(it *Item) string {
	var parts []string
	for _, o := range it.Offsets {
		parts = append(parts, l.ShowOffset(o))
	}
	return strings.Join(parts, ", ")
}

// More returns all else that the list says of an item, a line each: places from what
// stands before the finishes, hole or edges, aim, size and mass, heights of drivers, how
// far it may be off, what to mind.
func (l *List) More(it *Item) []string {
	var lines []string
	add := func(text string) {
		if text != "" {
			lines = append(lines, text)
		}
	}
	add(l.Rough(it))
	switch {
	case it.Cutout != nil:
		add("hole " + l.Show(it.Cutout.Width) + " wide, " + l.Show(it.Cutout.Height) + " high: " + l.ShowEdges(it.Cutout))
	case it.Edges != nil:
		add("edges: " + l.ShowEdges(it.Edges))
	}
	var what []string
	if it.Aim != nil {
		what = append(what, it.Aim.Words(it.On))
	}
	if f := it.Frame; f != nil {
		what = append(what, l.Show(f.Width)+" wide, "+l.Show(f.Height)+" high, "+l.Show(f.Depth)+" deep")
	}
	if it.Mass > 0 {
		what = append(what, strconv.FormatFloat(it.Mass, 'f', -1, 64)+" kg")
	}
	add(strings.Join(what, "; "))
	add(l.DriverHeights(it))
	if it.Tolerance != nil {
		add("may be off " + it.Tolerance.Words(it.On, l.Units))
	}
	add(it.Caution)
	return lines
}

// DriverHeights says how high the drivers are whose middle is not their box's.
func (l *List) DriverHeights(it *Item) string {
	var parts []string
	for _, dr := range it.Drivers {
		parts = append(parts, string(dr.Band)+" driver at "+l.ShowHeight(dr.Height))
	}
	return strings.Join(parts, ", ")
}

// Words says how far something on a surface may be off.
func (t *Tolerance) Words(on Surface, u project.Units) string {
	names := ways
	if on == OnCeiling || on == OnFloor {
		names[0], names[1] = "forward", "back"
	} else {
		names[0], names[1] = "up", "down"
	}
	var parts []string
	free := false
	for i, r := range t.reaches() {
		switch {
		case r == nil:
		case r.Limit == "":
			free = true
		default:
			parts = append(parts, names[i]+" "+r.Words(u))
		}
	}
	text := strings.Join(parts, ", ")
	switch {
	case len(parts) == 0:
		text = short(Most, u) + " and more either way"
	case free:
		text += ", else " + short(Most, u) + " and more"
	}
	switch t.Blocked {
	case 0:
		return text
	case 1:
		return text + "; already blocked from 1 seat where it is planned"
	}
	return fmt.Sprintf("%s; already blocked from %d seats where it is planned", text, t.Blocked)
}
