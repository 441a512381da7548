// SPDX-License-Identifier: MIT

package sheet

import (
	"fmt"
	"strings"

	"earline/project/setout"
)

// listSheets writes the set-out list, in its own words.
func (s *set) listSheets() {
	columns := []column{
		{"what", 0.17, false}, {"from the laser line", 0.08, true}, {"from", 0.15, false}, {"and from", 0.15, false},
		{"aim", 0.14, false}, {"hole or edges", 0.21, false}, {"size, depth", 0.10, true},
	}
	l := s.list
	var lines []line
	at := ""
	for i := range l.Items {
		it := &l.Items[i]
		place := it.Place
		if it.Wall > 0 { // a wall and what stands before it are one walk
			place = s.design.Room.WallName(it.Wall)
		}
		if place != at {
			at = place
			lines = append(lines, line{cells: []string{capitalised(at)}, head: true})
		}
		cells := make([]string, len(columns))
		cells[0], cells[1] = s.what(it), l.ShowHeight(it.Height)
		for k, o := range it.Offsets {
			if k < 2 {
				cells[2+k] = l.ShowOffset(o)
			}
		}
		if rough := l.Rough(it); rough != "" {
			cells[3] += "; " + rough
		}
		if it.Aim != nil {
			cells[4] = it.Aim.Words(it.On)
		}
		switch {
		case it.Cutout != nil:
			cells[5] = "hole " + l.ShowEdges(it.Cutout)
			cells[6] = s.length(it.Cutout.Width) + " × " + s.length(it.Cutout.Height)
		case it.Edges != nil:
			cells[5] = l.ShowEdges(it.Edges)
			cells[6] = s.length(it.Edges.Width) + " × " + s.length(it.Edges.Height)
		case it.Frame != nil:
			cells[6] = s.length(it.Frame.Width) + " × " + s.length(it.Frame.Height)
		}
		if it.Kind == setout.Speaker && it.Frame != nil {
			cells[6] += ", " + s.length(it.Frame.Depth)
		}
		for k := range cells { // numbers stay with their unit
			cells[k] = strings.ReplaceAll(cells[k], " mm", together+"mm")
		}
		lines = append(lines, line{cells: cells, item: it.ID})
	}
	first := 0
	for i := range s.pages {
		if c := &s.pages[i]; strings.HasPrefix(c.number, "S5") {
			first++
			c.number = numbered("S5", first-1)
		}
	}
	note := "In the order of the walk round the room. " + strings.Join(l.Datum.Words(l.Units), " ") +
		" Heights are to the middle of the front. Facing each wall, left and right are as seen. Halves of a millimetre are rounded on the drawings."
	s.table("S5", first, "Set-out list", note, columns, lines)
}

// what names an item.
func (s *set) what(it *setout.Item) string {
	name := it.Name
	if it.On == setout.BehindScreen && !strings.Contains(name, "behind") {
		name += ", behind the screen"
	}
	return name
}

func numbered(code string, i int) string { return fmt.Sprintf("%s-%d", code, i+1) }

func partOf(title string, i, n int) string { return fmt.Sprintf("%s, %d of %d", title, i+1, n) }
