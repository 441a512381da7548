// SPDX-License-Identifier: MIT

package lists

import (
	"fmt"

	"earline/geometry"
	"earline/project"
	"earline/project/bs2051"
	"earline/project/panel"
)

// Mass is a load on a surface.
type Mass struct {
	Surface  string // "ceiling", "left wall", "floor", "behind the screen"
	Overhead bool
	Name     string
	Each     float64 // kg; 0 is not known
}

// Masses returns what hangs on each surface: overhead first, then wall by wall as the
// footprint runs, then what stands. Of treatments, lights and vents no mass is known. A
// projector behind a port is in another room.
func Masses(d *project.Design) []Mass {
	var ceiling, walls, rest []Mass
	perWall := make([][]Mass, len(d.Room.Footprint))
	outline := d.Room.Polygon()
	for _, l := range d.Speakers {
		model, _ := d.Model(l.Model)
		m := Mass{Name: bs2051.InFull(l.Name()), Each: model.Mass}
		switch l.Mount {
		case project.OnCeiling:
			m.Surface, m.Overhead = "ceiling", true
			ceiling = append(ceiling, m)
		case project.OnWall:
			edge, _ := outline.Nearest(geometry.Vec2{X: float64(l.At.X), Y: float64(l.At.Y)})
			if edge < 0 {
				continue
			}
			m.Surface = d.Room.WallName(edge + 1)
			perWall[edge] = append(perWall[edge], m)
		case project.BehindScreen:
			m.Surface = "behind the screen"
			rest = append(rest, m)
		default:
			m.Surface = "floor"
			rest = append(rest, m)
		}
	}
	if d.Projector.Given() {
		model, _ := d.ProjectorModel(d.Projector.Model)
		m := Mass{Name: projectorName(model), Each: model.Mass}
		switch d.Projector.Mount {
		case project.CeilingMount:
			m.Surface, m.Overhead = "ceiling", true
			ceiling = append(ceiling, m)
		case project.ShelfMount:
			m.Surface = "shelf"
			rest = append(rest, m)
		}
	}
	for _, f := range d.Room.Features {
		if f.Kind == project.Light || f.Kind == project.Vent {
			ceiling = append(ceiling, Mass{Surface: "ceiling", Overhead: true, Name: f.Words()})
		}
	}
	for _, t := range d.Room.Treatments {
		m := Mass{Name: treatmentName(t)}
		if t.Wall == 0 {
			m.Surface, m.Overhead = "ceiling", true
			ceiling = append(ceiling, m)
		} else if t.Wall <= len(perWall) {
			m.Surface = d.Room.WallName(t.Wall)
			perWall[t.Wall-1] = append(perWall[t.Wall-1], m)
		}
	}
	for _, r := range panel.Of(d) {
		m := Mass{Name: count(len(r.Modules), "panel", "panels") + " of a run"}
		if r.Wall == 0 {
			m.Surface, m.Overhead = "ceiling", true
			ceiling = append(ceiling, m)
		} else if r.Wall <= len(perWall) {
			m.Surface = d.Room.WallName(r.Wall)
			perWall[r.Wall-1] = append(perWall[r.Wall-1], m)
		}
	}
	for _, w := range perWall {
		walls = append(walls, w...)
	}
	return append(append(ceiling, walls...), rest...)
}

func projectorName(m project.ProjectorModel) string {
	if m.Name != "" {
		return "projector " + m.Name
	}
	return "projector"
}

func treatmentName(t project.Treatment) string {
	if t.Name != "" {
		return t.Name
	}
	return "treatment"
}

func massTable(d *project.Design) Table {
	t := Table{Name: "masses", Title: Title("masses"), Columns: []string{"on", "what", "mass, kg"}, Caution: overhead,
		Notes: []string{"Masses are those of the models, without brackets. \"not known\" must be found out before anything is fixed."}}
	sum, unknown := 0.0, 0
	surface, on := "", 0.0
	flush := func() {
		if on > 0 {
			t.Rows = append(t.Rows, []string{surface, "in all", fmt.Sprintf("%.1f", on)})
		}
	}
	for _, m := range Masses(d) {
		if m.Surface != surface {
			flush()
			surface, on = m.Surface, 0
		}
		mass := "not known"
		if m.Each > 0 {
			mass = fmt.Sprintf("%.1f", m.Each)
			on, sum = on+m.Each, sum+m.Each
		} else {
			unknown++
		}
		t.Rows = append(t.Rows, []string{m.Surface, m.Name, mass})
	}
	flush()
	if sum > 0 || unknown > 0 {
		t.Sums = []string{"in all", "", fmt.Sprintf("%.1f", sum)}
		if unknown > 0 {
			t.Sums[1] = fmt.Sprintf("and %d of which the mass is not known", unknown)
		}
	}
	return t
}
