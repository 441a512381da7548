// SPDX-License-Identifier: MIT

package lists

import (
	"fmt"
	"strings"

	"earline/project"
	"earline/project/bs2051"
)

// Equipment is what is bought of one kind.
type Equipment struct {
	Role     string   // what it does
	Model    string   // as the design calls it
	Places   []string // in words; nil where it does not matter
	Count    int
	Channels int     // of amplification that one needs
	Power    float64 // W each, rated; 0 is not known or none
	Mass     float64 // kg each; 0 is not known
}

// EquipmentOf returns what a room needs by what it does: loudspeakers model by model
// with where each goes, chairs, the screen, the projector. Nothing is named but by role and by what
// the design calls it.
func EquipmentOf(d *project.Design) []Equipment {
	var out []Equipment
	for _, m := range d.Models {
		e := Equipment{Role: "loudspeaker", Model: m.Name, Channels: 1, Power: m.Power, Mass: m.Mass}
		switch {
		case m.Subwoofer():
			e.Role = "subwoofer"
		case m.Flush:
			e.Role = "loudspeaker, built in"
		}
		for _, l := range d.Speakers {
			if l.Model == m.ID {
				e.Count++
				e.Places = append(e.Places, bs2051.InFull(l.Name()))
			}
		}
		if e.Count > 0 {
			out = append(out, e)
		}
	}
	for _, c := range d.Chairs {
		e := Equipment{Role: "chair", Model: c.Name}
		for i, r := range d.Seating.Rows {
			if r.Chair == c.ID {
				e.Count += r.Seats
				e.Places = append(e.Places, fmt.Sprintf("row %d: %d", i+1, r.Seats))
			}
		}
		if e.Count > 0 {
			out = append(out, e)
		}
	}
	screen := Equipment{Role: "screen", Model: fmt.Sprintf("%.2f:1, %.3f m wide", d.Screen.Aspect, float64(d.Screen.Width)), Count: 1}
	if d.Screen.Transparent {
		screen.Model += ", sound passes through"
	}
	out = append(out, screen)
	if d.Projector.Given() {
		m, _ := d.ProjectorModel(d.Projector.Model)
		out = append(out, Equipment{Role: "projector", Model: m.Name, Places: []string{string(d.Projector.Mount)}, Count: 1, Mass: m.Mass})
	}
	return out
}

func equipmentTable(d *project.Design) Table {
	t := Table{Name: "equipment", Title: Title("equipment"),
		Columns: []string{"what it does", "as the plan calls it", "number", "where", "power each, W", "mass each, kg"},
		Notes:   []string{"By what it does, not by maker. Prices are not kept here: they age."}}
	channels := 0
	known := func(v float64) string {
		if v > 0 {
			return fmt.Sprintf("%g", v)
		}
		return ""
	}
	for _, e := range EquipmentOf(d) {
		channels += e.Count * e.Channels
		t.Rows = append(t.Rows, []string{e.Role, e.Model, fmt.Sprint(e.Count), strings.Join(e.Places, "; "), known(e.Power), known(e.Mass)})
	}
	t.Rows = append(t.Rows, []string{"amplifier channel", "one for each loudspeaker", fmt.Sprint(channels), "", "", ""})
	return t
}
