// SPDX-License-Identifier: MIT

package picture

import (
	"fmt"
	"math"

	"earline/app/ask"
	"earline/app/field"
	"earline/app/session"
	"earline/project"
	"earline/project/light"
)

// lightRows tell what the room's lamps give the picture in the scene that is chosen, what
// contrast is left, and what falls on seats and ground.
func (p *picturePage) lightRows() []row {
	r, state := p.session.Known.Light.Get()
	switch {
	case state == session.Failed:
		return []row{whole(field.Failing, ask.Lines(p.session.Known.Light.Err()))}
	case state != session.Fresh:
		return []row{whole(field.Body, "Working it out…")}
	}
	return append(sceneRows(r, p.dimmers.scene), fixedRows(r)...)
}

// sceneRows are those that follow the levels of a scene.
func sceneRows(r *light.Result, scene project.Scene) []row {
	d := r.Model.Design
	if len(d.LightGroups) == 0 {
		return []row{whole(field.Body, "The plan has no light groups. Add them in the inspector, under Light: then this page says what they leave of the picture, and sets their levels.")}
	}
	levels := r.Levels(scene)
	screen := light.Over(r.Screen, levels)
	rows := []row{cells(field.Heading, "white of", "cd/m²", "stray light", "contrast left")}
	stray := r.Stray(screen.Mean)
	for _, w := range r.Whites {
		left := "all of it"
		if c := light.Left(w.Luminance, stray); !math.IsInf(c, 1) {
			left = light.Contrast(c)
		}
		rows = append(rows, cells(field.Strong, w.Shape, fmt.Sprintf("%.1f", w.Luminance), light.Figures(stray)+" cd/m²", left))
	}
	rows = append(rows, cells(field.Heading, "light group", "level", "on the picture", "of it straight"))
	for i := range d.LightGroups {
		share := r.Mean(i) * levels[i]
		rows = append(rows, cells(field.Body, d.LightName(i), levelText(levels[i]), light.Lux(share), light.Lux(r.Straight(i)*levels[i])))
	}
	rows = append(rows, cells(field.Strong, "all groups", "", light.Lux(screen.Mean), ""))
	if screen.Most > 0 {
		for _, s := range r.BleedWords(scene) {
			rows = append(rows, whole(field.Body, s))
		}
	}
	rows = append(rows, cells(field.Heading, "where", "least", "mean", ""))
	spread := func(name string, spots []light.Spot) {
		s := light.Over(spots, levels)
		least := ""
		if len(spots) > 1 {
			least = light.Lux(s.Least)
		}
		rows = append(rows, cells(field.Body, name, least, light.Lux(s.Mean), ""))
	}
	spread("seats, at the hands", r.Seats)
	for i := range r.Ground {
		spread(r.Ground[i].Name, r.Ground[i].Spots)
	}
	return rows
}

// fixedRows are those that no level changes.
func fixedRows(r *light.Result) []row {
	rows := []row{whole(field.Body, r.ReturnWords())}
	for _, n := range append(r.Notes(), light.Guidance) {
		rows = append(rows, whole(field.Pale, n))
	}
	return rows
}

// levelText prints a level: "100 %", "2 %", "0.25 %".
func levelText(level float64) string {
	switch {
	case level == 0:
		return "off"
	case level < 0.095:
		return fmt.Sprintf("%.2g %%", 100*level)
	}
	return fmt.Sprintf("%.0f %%", 100*level)
}
