// SPDX-License-Identifier: MIT

package lists

import (
	"fmt"

	"earline/project"
)

// Stage is a part of the work and what is due in it.
type Stage struct {
	Name  string
	Do    []string
	Check []string // before the next stage begins
}

// Stages returns the stages of a build, in order, with what this design makes due.
// What belongs where is common practice, no source.
func Stages(d *project.Design) []Stage {
	built, overheads, holes := 0, 0, 0
	for _, l := range d.Speakers {
		m, _ := d.Model(l.Model)
		if m.Flush {
			built++
			if l.Mount == project.OnWall || l.Mount == project.OnCeiling {
				holes++
			}
		}
		if l.Mount == project.OnCeiling {
			overheads++
		}
	}
	projectors := 0 // overhead
	if d.Projector.Mount == project.CeilingMount {
		projectors = 1
	}
	platforms, steps := 0, 0
	for _, r := range d.Seating.Rows {
		if r.Riser > 0 {
			platforms++
		}
		steps += len(r.Steps)
	}
	kinds := map[project.FeatureKind]int{}
	for _, f := range d.Room.Features {
		kinds[f.Kind]++
	}
	var strip, rough, before, cut, finish, measure, over Stage
	add := func(list *[]string, n int, format string, args ...any) {
		if n > 0 {
			*list = append(*list, fmt.Sprintf(format, args...))
		}
	}

	strip.Name = "Strip out"
	add(&strip.Do, d.AsFound()+1, "take out what the list of changes says goes; keep what moves or stays")
	add(&strip.Do, 1, "find what runs in walls and ceiling, and what carries them")
	add(&strip.Check, 1, "two diagonals of the floor, walls plumb, ceiling height in every corner: enter them before anything is ordered")

	rough.Name = "Rough-in"
	add(&rough.Do, len(d.Speakers), "%s: one cable each, by the cable list, with its spare coiled at both ends", count(len(d.Speakers), "loudspeaker", "loudspeakers"))
	add(&rough.Do, len(d.Services.Outlets), "%s, by the outlet list (licensed electricians)", count(len(d.Services.Outlets), "outlet", "outlets"))
	add(&rough.Do, overheads, "something that carries behind %s in or under the ceiling (licensed practice)", count(overheads, "loudspeaker", "loudspeakers"))
	add(&rough.Do, projectors, "something that carries over the projector (licensed practice)")
	add(&rough.Do, kinds[project.Vent], "ducts to %s, kept away from the heights", count(kinds[project.Vent], "vent", "vents"))
	add(&rough.Do, platforms, "frames of %s, to the set-out", count(platforms, "platform", "platforms"))
	add(&rough.Check, len(d.Speakers), "every cable rung through and labelled at both ends")

	before.Name = "Before the boards close"
	add(&before.Do, 1, "photographs of every wall and of the ceiling, with a tape in the picture")
	add(&before.Check, holes, "a stud, pipe or duct behind none of %s: lay the cut-outs out from the laser line", count(holes, "cut-out", "cut-outs"))
	add(&before.Check, len(d.Services.Outlets), "electrical inspection, as local code wants it")
	add(&before.Check, overheads+projectors, "fixings overhead looked at by who answers for them")

	cut.Name = "Cut-out"
	add(&cut.Do, holes, "%s, edges from the set-out, after measuring each place once more from the line", count(holes, "hole", "holes"))
	add(&cut.Check, holes, "heights of the holes entered as built and checked: who is in the way now is known before the paint")

	finish.Name = "Finish"
	add(&finish.Do, hung(d), "%s, by the panel list, with their fire class on paper", count(hung(d), "panel", "panels"))
	add(&finish.Do, len(d.Seating.Rows), "%s set on their line", count(len(d.Seating.Rows), "row", "rows"))
	add(&finish.Do, steps, "%s: edges marked and lit, as local code wants it", count(steps, "flight of steps", "flights of steps"))
	add(&finish.Do, 1, "the screen, its lower edge at the height of the set-out")
	add(&finish.Check, kinds[project.Door], "doors open all the way past chairs and platforms")

	measure.Name = "Measure"
	add(&measure.Do, 1, "every place of the site list measured and entered: the room is checked again as built")
	add(&measure.Do, 1, "delays, levels and subwoofers set from the measured distances; levels measured at the main position and at each row")
	add(&measure.Check, 1, "nobody blocked as built who was clear in the plan; what must move is moved")
	add(&measure.Check, 1, "levels tried out quietly first; protect your hearing, and that of others in the house")

	over.Name = "Hand over"
	add(&over.Do, 1, "room book, set-out as built, lists and photographs to the owner")
	add(&over.Do, 1, "the owner sits in every seat")
	add(&over.Check, 1, "steps, rails and way out seen in the dark, with the lights of each scene")
	return []Stage{strip, rough, before, cut, finish, measure, over}
}

func stageTable(d *project.Design) Table {
	t := Table{Name: "stages", Title: Title("stages"), Columns: []string{"stage", "due", "what", "done"},
		Caution: "Each trade answers for its own work, to local code. This list replaces no inspection.",
		Notes:   []string{"Made from what the plan holds. What belongs to which stage is common practice, no source."}}
	for _, s := range Stages(d) {
		for _, x := range s.Do {
			t.Rows = append(t.Rows, []string{s.Name, "do", x, ""})
		}
		for _, x := range s.Check {
			t.Rows = append(t.Rows, []string{s.Name, "check", x, ""})
		}
	}
	return t
}

// count says how many: "1 hole", "3 holes".
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
