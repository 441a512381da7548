// SPDX-License-Identifier: MIT

package compare

import (
	"fmt"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/bs2051"
	"earline/project/compare"
	"earline/project/place"
)

// line is a line of the list: a heading, a thing, a cut-out or a cable.
type line struct {
	key         string // finds it again in another comparison
	heading     bool
	fold        bool // stands for what stays
	mark        string
	name, words string
	care        bool       // it makes work that can go wrong
	from, to    place.Item // in the earlier and in the later room
	detail      []string   // what is told of it beside the list
	hole        bool
}

// show returns how lengths are shown in those units.
func show(u project.Units) func(float64) string {
	return func(v float64) string { return unit.Length(v).Format(u != project.Imperial) }
}

// Marks of fates, which tell them apart without colour.
var (
	fateMarks = [...]string{compare.New: "+", compare.Goes: "×", compare.Moves: ">", compare.Changes: "~", compare.Stays: "="}
	holeMarks = [...]string{compare.Cut: "+", compare.Patched: "×", compare.Covered: "!", compare.Widened: "~", compare.Kept: "="}
)

// linesOf returns the lines of a comparison: things by their fate, then cut-outs, then
// cables. stays is whether what stays is listed too, and what else needs no work.
func linesOf(r *compare.Result, stays bool) []line {
	length := show(r.Is.Design.Units)
	count := r.Count()
	var out []line
	heading := func(text string) { out = append(out, line{heading: true, name: text}) }
	earlier := earlierItems(r)
	for f := compare.New; f <= compare.Stays; f++ {
		if count[f] == 0 {
			continue
		}
		if f == compare.Stays {
			l := line{key: "stays", fold: true, mark: "=", name: fmt.Sprintf("%d %s as it is", count[f], plural(f, count[f])), words: "show them"}
			if count[f] > 1 {
				l.name = fmt.Sprintf("%d stay as they are", count[f])
			}
			if stays {
				l.words = "hide them"
			}
			if out = append(out, l); !stays {
				continue
			}
		} else {
			heading(fateHeadings[f])
		}
		for i := range r.Things {
			if t := &r.Things[i]; t.Fate == f {
				out = append(out, thingLine(t, earlier, r, length))
			}
		}
	}
	still := map[string]bool{} // loudspeakers that stay: nothing is done to them
	for i := range r.Things {
		if t := &r.Things[i]; t.Item.Kind == place.SpeakerItem && t.Fate == compare.Stays {
			still[t.Name] = true
		}
	}
	first := true
	for i := range r.Holes {
		if h := &r.Holes[i]; h.Fate != compare.Kept || stays {
			if first {
				heading("Cut-outs")
				first = false
			}
			out = append(out, holeLine(h, i, r, length))
		}
	}
	first = true
	for _, c := range r.Cables {
		if !c.Serves || !still[c.Name] || stays {
			if first {
				heading("Cables that are there")
				first = false
			}
			out = append(out, cableLine(c, r, length))
		}
	}
	return out
}

var fateHeadings = [...]string{compare.New: "New", compare.Goes: "Goes", compare.Moves: "Moves", compare.Changes: "Changes where it is"}

func thingLine(t *compare.Thing, earlier map[string]int, r *compare.Result, length func(float64) string) line {
	l := line{key: fmt.Sprintf("thing %d %s", t.Item.Kind, t.ID), mark: fateMarks[t.Fate], name: bs2051.InFull(t.Name), words: t.Words(length)}
	switch t.Fate {
	case compare.New:
		l.to = t.Item
	case compare.Goes:
		l.from = t.Item
	default:
		l.to, l.from = t.Item, t.Item
		if i, ok := earlier[itemKey(t.Item.Kind, t.ID)]; ok {
			l.from.Index = i
		}
	}
	for _, c := range t.Changes {
		l.detail = append(l.detail, c.Sentence(r.Is.Design.Units))
	}
	if t.Fate == compare.Changes && len(t.Changes) > 0 {
		l.words = t.Changes[0].Sentence(r.Is.Design.Units)
	}
	return l
}

func itemKey(k place.ItemKind, id string) string { return fmt.Sprint(k, " ", id) }

// earlierItems returns where each thing stands in its list of the earlier room.
func earlierItems(r *compare.Result) map[string]int {
	at := map[string]int{}
	d := r.Was.Design
	for i := range d.Speakers {
		at[itemKey(place.SpeakerItem, d.Speakers[i].ID)] = i
	}
	for i := range d.Seating.Rows {
		at[itemKey(place.RowItem, d.Seating.Rows[i].ID)] = i
	}
	for i := range d.Room.Features {
		at[itemKey(place.FeatureItem, d.Room.Features[i].ID)] = i
	}
	for i := range d.Room.Treatments {
		at[itemKey(place.TreatmentItem, d.Room.Treatments[i].ID)] = i
	}
	return at
}

// speakerNamed returns the loudspeaker of that name; nothing where there is none.
func speakerNamed(d *project.Design, name string) place.Item {
	for i := range d.Speakers {
		if d.Speakers[i].Name() == name {
			return place.Item{Kind: place.SpeakerItem, Index: i}
		}
	}
	return place.Item{}
}

func holeLine(h *compare.Hole, i int, r *compare.Result, length func(float64) string) line {
	l := line{key: fmt.Sprintf("hole %d %s", i, h.Name), mark: holeMarks[h.Fate], hole: true, care: h.Fate == compare.Covered,
		name: bs2051.InFull(h.Name), words: h.Words(length)}
	if h.Fate != compare.Cut {
		l.from = speakerNamed(r.Was.Design, h.Name)
	}
	if h.Fate != compare.Patched {
		l.to = speakerNamed(r.Is.Design, h.Name)
	}
	along, up := "along it", "from the floor"
	if h.Wall == 0 {
		along, up = "from the screen wall", "from the left"
	}
	l.detail = []string{
		fmt.Sprintf("%s: %s to %s %s, %s to %s %s", h.Surface, length(h.Rect.From), length(h.Rect.To), along, length(h.Rect.Low), length(h.Rect.High), up),
		h.Words(length),
	}
	return l
}

func cableLine(c compare.Reuse, r *compare.Result, length func(float64) string) line {
	l := line{key: "cable " + c.Name, mark: "✓", name: bs2051.InFull(c.Name), words: "serves again",
		from: speakerNamed(r.Was.Design, c.Name), to: speakerNamed(r.Is.Design, c.Name)}
	there := fmt.Sprintf("%s there, worked out from its way", length(c.There))
	if c.Measured {
		there = length(c.There) + " there, as measured"
	}
	l.detail = []string{there, length(c.Needed) + " needed, without spare", fmt.Sprintf("2 × %g mm² there, 2 × %g mm² wanted", c.ThereArea, c.Wanted)}
	switch {
	case c.Serves:
		l.detail = append(l.detail, "Find its end and draw it to the new place.")
	case c.There < c.Needed:
		l.mark, l.care, l.words = "×", true, "too short by "+length(c.Needed-c.There)
	default:
		l.mark, l.care, l.words = "×", true, fmt.Sprintf("too thin: 2 × %g mm² wanted", c.Wanted)
	}
	return l
}
