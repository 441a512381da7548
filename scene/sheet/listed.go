// SPDX-License-Identifier: MIT

package sheet

import (
	"fmt"
	"math"
	"strings"

	"earline/project/setout"
)

func numbered(code string, i int) string { return fmt.Sprintf("%s-%d", code, i+1) }

func partOf(title string, i, n int) string { return fmt.Sprintf("%s, %d of %d", title, i+1, n) }

// listSheets writes the set-out list.
func (s *set) listSheets() {
	columns := []column{
		{"what", 0.20, false}, {"height from laser line", 0.08, true}, {"from", 0.11, true}, {"from", 0.11, true},
		{"turn", 0.055, true}, {"tilt", 0.055, true}, {"cut-out left and right edge", 0.115, true}, {"lower and upper edge", 0.115, true},
		{"cut-out", 0.08, true}, {"depth", 0.08, true},
	}
	var lines []line
	at := ""
	for i := range s.list.Items {
		it := &s.list.Items[i]
		if it.Place != at {
			at = it.Place
			lines = append(lines, line{cells: []string{at}, head: true})
		}
		what := it.Name
		if it.Part != "" {
			what += ", " + it.Part
		}
		cells := make([]string, len(columns))
		cells[0], cells[1] = what, signed(s.metric, it.Height)
		for k, o := range it.Offsets {
			if k < 2 {
				cells[2+k] = o.From + " " + s.length(o.Distance)
			}
		}
		if it.Aim != nil {
			cells[4], cells[5] = turnWords(it.Aim.Turn), tiltWords(it.Aim.Tilt)
		}
		if c := it.Cutout; c != nil {
			cells[6] = s.length(c.Left) + " / " + s.length(c.Right)
			if c.LowerUpperFrom == "line" {
				cells[7] = signed(s.metric, c.Lower) + " / " + signed(s.metric, c.Upper)
			} else {
				cells[7] = s.length(c.Lower) + " / " + s.length(c.Upper)
			}
			cells[8] = s.length(c.Width) + " × " + s.length(c.Height)
		}
		if it.Frame != nil && it.Frame.Depth > 0 {
			cells[9] = s.length(it.Frame.Depth)
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
	s.table("S5", first, "Set-out list", "In the order of the walk round the room. Heights are over (+) and under (−) the laser line. Offsets are level, to finished faces, to the middle of the front.", columns, lines)
}

func turnWords(degrees float64) string {
	if math.Abs(degrees) < 0.05 {
		return "straight"
	}
	if degrees > 0 {
		return fmt.Sprintf("%.1f° right", degrees)
	}
	return fmt.Sprintf("%.1f° left", -degrees)
}

func tiltWords(degrees float64) string {
	if math.Abs(degrees) < 0.05 {
		return "level"
	}
	if degrees > 0 {
		return fmt.Sprintf("%.1f° up", degrees)
	}
	return fmt.Sprintf("%.1f° down", -degrees)
}

// checkSheets writes what to mind, and how far every item may end up from its place.
func (s *set) checkSheets() {
	columns := []column{
		{"check", 0.20, false}, {"up", 0.06, true}, {"down", 0.06, true}, {"left", 0.06, true}, {"right", 0.06, true},
		{"measured", 0.10, false}, {"beyond that", 0.26, false}, {"mind", 0.20, false},
	}
	lines := []line{}
	for _, c := range s.cautions() {
		lines = append(lines, line{cells: []string{c}, head: true, ink: red})
	}
	for i := range s.list.Items {
		it := &s.list.Items[i]
		if it.Tolerance == nil && it.Caution == "" {
			continue
		}
		what := it.Name
		if it.Part != "" {
			what += ", " + it.Part
		}
		cells := make([]string, len(columns))
		cells[0], cells[7] = what, it.Caution
		if t := it.Tolerance; t != nil {
			limits := []string{}
			for k, r := range []setout.Reach{t.Up, t.Down, t.Left, t.Right} {
				cells[1+k] = s.reach(r)
				if r.Limit != "" && !contains(limits, r.Limit) {
					limits = append(limits, r.Limit)
				}
			}
			cells[6] = strings.Join(limits, "; ")
		}
		lines = append(lines, line{cells: cells, item: it.ID, box: true})
	}
	s.table("S6", 0, "Cautions and checks", "Tick when measured. Up, down, left and right are how far an item may end up from its place before something else is broken; left and right as one faces it, on the ceiling as one faces the screen, up towards the screen.", columns, lines)
}

// reach writes a tolerance, rounded down: what is printed must be kept.
func (s *set) reach(r setout.Reach) string {
	if s.metric {
		return fmt.Sprintf("%.0f", math.Floor(r.Distance*1000+1e-6))
	}
	const sixteenth = 0.0254 / 16
	return s.length(math.Floor(r.Distance/sixteenth+1e-6) * sixteenth)
}

func contains(all []string, s string) bool {
	for _, a := range all {
		if a == s {
			return true
		}
	}
	return false
}

// cautions are what to mind before work begins.
func (s *set) cautions() []string {
	out := []string{
		"Check the size of the room and the laser line before the first cut: the plan knows the finished faces only.",
		"Before cutting find pipes, cables and studs in wall and ceiling. Electrical work is for a licensed person.",
		"What hangs overhead needs a fixing and a second line chosen by a qualified person for its mass.",
	}
	if s.list.Datum.Assumed {
		out = append(out, "The design names no laser line: "+s.length(s.laser)+" over the finished floor is assumed. Mark it all round before anything else.")
	}
	return out
}
