// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/light"
	"earline/project/lists"
)

func lightCommand() *cobra.Command {
	var f answer
	var scene string
	c := &cobra.Command{
		Use:   "light FILE",
		Short: "Say what the room's lamps give picture, seats and floor in each scene, and what contrast is left",
		Long: `Light says, for each light group and each scene, how much light falls on the picture, at
every seat, on the floor and on the steps; how much contrast the stray light leaves of
the picture's white; which lamps send most onto the picture; and what the picture's own
light does by way of the room.` + fileNote,
		Args:              takes(1, 1),
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.one(c); err != nil {
				return err
			}
			d, err := load(c, args[0])
			if err != nil {
				return err
			}
			r, err := light.Study(c.Context(), d)
			if err != nil {
				return err
			}
			all := project.LightScenes()
			scenes := all[:]
			if scene != "" {
				scenes = []project.Scene{project.Scene(scene)}
			}
			return f.give(c, func() any { return r.Report(scenes...) }, func(p *printer) { printLight(p, r, scenes) })
		},
	}
	f.flags(c)
	addFlag(c, &scene, "scene", "NAME", "", "only that scene: "+strings.Join(sceneNames(), ", "), oneOf(sceneNames()...))
	_ = c.RegisterFlagCompletionFunc("scene", completeWords(sceneNames))
	return c
}

func sceneNames() (out []string) {
	for _, s := range project.LightScenes() {
		out = append(out, string(s))
	}
	return out
}

// printLight prints tables, what reaches the picture and what the numbers rest on.
func printLight(p *printer, r *light.Result, scenes []project.Scene) {
	const width = 100
	say := func(text string) { p.printf("  %s\n", wrapped(text, width, "  ")) }
	d := r.Model.Design
	p.printf("Light of %s\n", d.Name)
	if len(d.LightGroups) == 0 {
		say("The design has no light groups: only what the picture's own light does can be told.")
	}
	p.printf("\n")
	if len(d.LightGroups) > 0 {
		for _, t := range lightTables(r, scenes) {
			printTable(p, &t)
		}
		p.printf("Stray light on the picture\n")
		for _, s := range scenes {
			say(r.SceneWords(s))
			if len(scenes) > 1 && (s == project.House || s == project.Cleaning) {
				continue // no picture runs
			}
			for _, b := range r.BleedWords(s) {
				p.printf("    %s\n", wrapped(b, width, "    "))
			}
		}
		p.printf("\n")
	}
	p.printf("The picture's own light\n")
	say(r.ReturnWords())
	p.printf("\n")
	for _, n := range slices.Concat(r.Notes(), []string{light.Guidance}) {
		say(n)
	}
}

// lightTables returns the groups at full level, then seats and ground scene by scene.
func lightTables(r *light.Result, scenes []project.Scene) []lists.Table {
	d := r.Model.Design
	groups := lists.Table{Title: "Light groups", Columns: []string{"group", "kind", "lamps", "light, lm", "colour, K", "house / preshow / show / cleaning, %"}}
	full := lists.Table{Title: "At full level, lx", Columns: []string{"group", "picture, mean", "most", "of it straight", "seats, mean", "floor, mean"}}
	for i := range d.LightGroups {
		g := &d.LightGroups[i]
		lamps := fmt.Sprint(len(g.At))
		switch g.Kind {
		case project.Strip:
			lamps = unit.Length(g.Length()).Format(d.Units != project.Imperial)
		case project.Stars:
			lamps = "-"
		}
		colour := "-"
		if g.Colour > 0 {
			colour = fmt.Sprintf("%.0f", g.Colour)
		}
		var levels []string
		for _, s := range project.LightScenes() {
			levels = append(levels, fmt.Sprintf("%.3g", 100*g.Scenes.At(s)))
		}
		groups.Rows = append(groups.Rows, []string{d.LightName(i), g.Kind.Words(), lamps, fmt.Sprintf("%.4g", g.Flux), colour, strings.Join(levels, " / ")})
		one := make([]float64, r.Model.Layers)
		one[i] = 1
		screen := light.Over(r.Screen, one)
		floor := "-"
		if len(r.Ground) > 0 {
			floor = light.Figures(light.Over(r.Ground[0].Spots, one).Mean)
		}
		full.Rows = append(full.Rows, []string{d.LightName(i), light.Figures(screen.Mean), light.Figures(screen.Most), light.Figures(r.Straight(i)), light.Figures(light.Over(r.Seats, one).Mean), floor})
	}
	seats := lists.Table{Title: "At each seat, level at the hands, lx", Columns: []string{"seat"}}
	ground := lists.Table{Title: "On the floor and on steps, mean (least), lx", Columns: []string{"where"}}
	for _, s := range scenes {
		seats.Columns, ground.Columns = append(seats.Columns, string(s)), append(ground.Columns, string(s))
	}
	for i := range r.Seats {
		cells := []string{r.Seats[i].Name}
		for _, s := range scenes {
			cells = append(cells, light.Figures(r.Seats[i].In(r.Levels(s))))
		}
		seats.Rows = append(seats.Rows, cells)
	}
	for i := range r.Ground {
		g := &r.Ground[i]
		cells := []string{g.Name}
		for _, s := range scenes {
			over := light.Over(g.Spots, r.Levels(s))
			text := light.Figures(over.Mean)
			if len(g.Spots) > 1 {
				text += " (" + light.Figures(over.Least) + ")"
			}
			cells = append(cells, text)
		}
		ground.Rows = append(ground.Rows, cells)
	}
	return []lists.Table{groups, full, seats, ground}
}
