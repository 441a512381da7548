// SPDX-License-Identifier: MIT

package lists

import (
	"fmt"
	"strings"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/panel"
)

// panelTable lists treatments, then the panels of every run one by one, and what they
// come to by material.
func panelTable(d *project.Design) Table {
	length, in := show(d)
	t := Table{Name: "panels", Title: Title("panels"), Caution: fireClass,
		Columns: []string{"panel", "on", "kind", "material", "wide, " + in, "high, " + in, "from, " + in, "lower edge, " + in, "area, m²", "cut out for"}}
	names := map[string]string{}
	for _, m := range d.Room.Materials {
		names[m.ID] = m.Name
		if m.Name == "" {
			names[m.ID] = m.ID
		}
	}
	sum := 0.0
	area := map[string]float64{}
	add := func(name string, wall int, kind, material string, r panel.Rect, m2 float64, cuts string) {
		sum += m2
		area[material] += m2
		t.Rows = append(t.Rows, []string{name, d.Room.PanelPlace(wall), kind, names[material], length(r.To - r.From), length(r.High - r.Low),
			length(r.From), length(r.Low), fmt.Sprintf("%.2f", m2), cuts})
	}
	for _, p := range d.Room.Treatments {
		r := panel.Rect{From: float64(p.From), To: float64(p.To), Low: float64(p.Low), High: float64(p.High)}
		add(treatmentName(p), p.Wall, "", p.Material, r, r.Area(), "")
	}
	for _, r := range panel.Of(d) {
		run := &d.Panels[r.Index]
		for i := range r.Modules {
			m := &r.Modules[i]
			name := fmt.Sprintf("%d of %d", m.Number, len(r.Modules))
			cuts := strings.Join(m.Names(), "; ")
			switch material := run.Material(m.Kind); {
			case len(m.Pieces) == 0:
				var away []string
				for _, c := range m.Cuts {
					away = append(away, c.Name)
				}
				t.Rows = append(t.Rows, []string{name, d.Room.PanelPlace(r.Wall), "left out", "", "", "", length(m.From), "", "", strings.Join(away, "; ")})
			case material == "":
				t.Rows = append(t.Rows, []string{name, d.Room.PanelPlace(r.Wall), panel.Words(m.Kind), "", "", "", length(m.From), "", "", ""})
			default:
				whole := m.Around()
				add(name, r.Wall, panel.Words(m.Kind), material, whole, m.Area(), cuts)
			}
		}
	}
	if len(t.Rows) > 0 {
		t.Sums = []string{"in all", "", "", "", "", "", "", "", fmt.Sprintf("%.2f", sum), ""}
		t.Notes = []string{"\"From\" is along the wall from its first corner; under the ceiling from the screen wall, and \"lower edge\" from the left."}
		for _, m := range d.Room.Materials {
			if a := area[m.ID]; a > 0 {
				t.Notes = append(t.Notes, fmt.Sprintf("%s: %.2f m².", names[m.ID], a))
			}
		}
	}
	say := func(v float64) string { return unit.Length(v).Format(d.Units != project.Imperial) }
	for _, r := range panel.Of(d) {
		run := &d.Panels[r.Index]
		text := fmt.Sprintf("Panels on the %s: %s between them, %s at either end, %s deep", d.Room.PanelPlace(r.Wall), say(float64(run.Gap)), say(r.Margin()), say(float64(run.Depth)))
		if n := lit(r); n > 0 {
			text += fmt.Sprintf("; %s with light, %s wide", count(n, "joint", "joints"), say(float64(run.LightGap)))
		}
		t.Notes = append(t.Notes, text+".")
	}
	return t
}

func lit(r panel.Run) (n int) {
	for _, j := range r.Joints {
		if j.Lit {
			n++
		}
	}
	return n
}

// hung counts treatments and panels.
func hung(d *project.Design) int {
	n := len(d.Room.Treatments)
	for _, r := range panel.Of(d) {
		for i := range r.Modules {
			if m := &r.Modules[i]; len(m.Pieces) > 0 && m.Kind != project.BarePanel {
				n++
			}
		}
	}
	return n
}

// mentions reports whether text has one of the words in it, whatever its capitals.
func mentions(text string, words ...string) bool {
	text = strings.ToLower(text)
	for _, w := range words {
		if strings.Contains(text, w) {
			return true
		}
	}
	return false
}
