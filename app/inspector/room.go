// SPDX-License-Identifier: MIT

package inspector

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	base "fyne.io/fyne/v2/theme"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
)

func (in *Inspector) roomSummary() string {
	lo, hi := in.host.Design().Room.Polygon().Bounds()
	size := func(v float64) string { return unit.Length(v).Format(in.metric()) }
	return size(hi.X-lo.X) + " × " + size(hi.Y-lo.Y)
}

func (in *Inspector) buildRoom(f *field.Form) {
	in.text(f, "Name", say("rename the room"), func(d *project.Design) *string { return &d.Name })
	sides := func() bool { return !in.outline && rectangle(in.host.Design().Room.Footprint) }
	in.side(f, "Length", "room length", func(c *project.Corner) *unit.Length { return &c.X }).When(sides)
	in.side(f, "Width", "room width", func(c *project.Corner) *unit.Length { return &c.Y }).When(sides)
	outline := field.NewButton("Edit corners", func() {
		in.outline = true
		in.Update()
	})
	f.AddObject(outline, nil).When(sides)

	list := container.New(layout.NewCustomPaddedVBoxLayout(2))
	corners := f.AddObject(list, func() { in.showCorners(f, list) })
	corners.When(func() bool { return !sides() })
	square := field.NewButton("Edit as length and width", func() {
		in.outline = false
		in.Update()
	})
	f.AddObject(square, nil).When(func() bool { return !sides() && rectangle(in.host.Design().Room.Footprint) })

	in.buildCeiling(f)
}

// side adds a side of a rectangular room: the far walls move.
func (in *Inspector) side(f *field.Form, name, what string, axis func(*project.Corner) *unit.Length) *field.Line {
	bounds := func(d *project.Design) (lo, hi unit.Length) {
		if len(d.Room.Footprint) == 0 {
			return 0, 0
		}
		lo, hi = *axis(&d.Room.Footprint[0]), *axis(&d.Room.Footprint[0])
		for i := range d.Room.Footprint {
			v := *axis(&d.Room.Footprint[i])
			lo, hi = min(lo, v), max(hi, v)
		}
		return lo, hi
	}
	size := func() unit.Length {
		lo, hi := bounds(in.host.Design())
		return hi - lo
	}
	set := func(merge string, to unit.Length) error {
		if to <= 0 {
			return &project.Fault{Found: to.Format(in.metric()), Allowed: "more than nothing"}
		}
		return field.Plain(in.host.Do("change the "+what, merge, func(d *project.Design) {
			lo, hi := bounds(d)
			for i := range d.Room.Footprint {
				if v := axis(&d.Room.Footprint[i]); *v == hi {
					*v = lo + to
				}
			}
		}))
	}
	return f.AddEntry(name, field.Binding{
		Value: func() string { return size().Format(in.metric()) },
		Set: func(text string) error {
			v, err := unit.ParseLengthSum(text, in.bare())
			if err != nil {
				return err
			}
			return set("", v)
		},
		Offers: func(text string) []field.Offer {
			return in.meant(text, in.bare(), size(), func(v unit.Length) error { return set("", v) })
		},
		Step: func(n int) error { return set(key(name, what), onGrid(size(), n, in.stride())) },
	})
}

// rectangle reports whether a footprint is a rectangle along the axes.
func rectangle(c []project.Corner) bool {
	if len(c) != 4 {
		return false
	}
	for i := range c {
		a, b := c[i], c[(i+1)%4]
		if (a.X == b.X) == (a.Y == b.Y) {
			return false
		}
		if next := c[(i+2)%4]; a.X == b.X && b.Y != next.Y || a.Y == b.Y && b.X != next.X {
			return false
		}
	}
	return true
}

// showCorners lists the corners of the footprint; the list is made anew when
// their number changes.
func (in *Inspector) showCorners(outer *field.Form, list *fyne.Container) {
	n := len(in.host.Design().Room.Footprint)
	if len(in.corners) != n {
		in.corners, list.Objects = nil, nil
		for i := range n {
			list.Add(in.newCorner(outer, i))
		}
	}
	for _, f := range in.corners {
		f.Resized = in.relayout
		f.Update()
	}
}

// newCorner makes one entry of the list of corners.
func (in *Inspector) newCorner(outer *field.Form, i int) fyne.CanvasObject {
	at := func(axis func(*project.Corner) *unit.Length) value[unit.Length] {
		return func(d *project.Design) *unit.Length {
			if i >= len(d.Room.Footprint) {
				return nil
			}
			return axis(&d.Room.Footprint[i])
		}
	}
	words := say(fmt.Sprintf("move corner %d", i+1))
	f := field.NewForm(outer.Outer)
	in.corners = append(in.corners, f)
	in.length(f, fmt.Sprintf("%d: from screen", i+1), words, at(func(p *project.Corner) *unit.Length { return &p.X }))
	in.length(f, "    from left", words, at(func(p *project.Corner) *unit.Length { return &p.Y }))
	do := func(label string, edit func(*project.Design)) func() {
		return func() {
			if i < len(in.host.Design().Room.Footprint) { // the corner may have gone since the last picture
				in.note(field.Plain(in.host.Do(label, "", edit)))
			}
		}
	}
	add := field.NewButtonWithIcon("", base.ContentAddIcon(), do("add a corner", func(d *project.Design) {
		c := d.Room.Footprint
		a, b := c[i], c[(i+1)%len(c)]
		d.Room.Footprint = slices.Insert(c, i+1, project.Corner{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2})
		renumber(d, func(wall int) int { // wall i+1 keeps its first half
			if wall > i+1 {
				return wall + 1
			}
			return wall
		})
	}))
	remove := field.NewButtonWithIcon("", base.ContentRemoveIcon(), do("remove a corner", func(d *project.Design) {
		d.Room.Footprint = slices.Delete(d.Room.Footprint, i, i+1)
		walls := len(d.Room.Footprint)
		renumber(d, func(wall int) int { // the walls on both sides become one
			if wall > i {
				wall--
			}
			if wall == 0 {
				wall = walls
			}
			return wall
		})
	}))
	if len(in.host.Design().Room.Footprint) <= 3 {
		remove.Disable()
	}
	return container.NewBorder(nil, nil, nil, container.NewVBox(add, remove), f.Object())
}

// renumber gives what is on the walls their new numbers. Of two surfaces or looks for
// one wall the first stays.
func renumber(d *project.Design, to func(wall int) int) {
	r := &d.Room
	for i := range d.Panels {
		if p := &d.Panels[i]; p.Wall > 0 {
			p.Wall = to(p.Wall)
		}
	}
	for i := range r.Treatments {
		if t := &r.Treatments[i]; t.Wall > 0 {
			t.Wall = to(t.Wall)
		}
	}
	r.Surfaces.Wall = renumbered(r.Surfaces.Wall, func(w *project.WallSurface) *int { return &w.Wall }, to)
	r.Finishes.Wall = renumbered(r.Finishes.Wall, func(w *project.WallFinish) *int { return &w.Wall }, to)
}

func renumbered[T any](all []T, wall func(*T) *int, to func(int) int) []T {
	taken := map[int]bool{}
	all = slices.DeleteFunc(all, func(w T) bool {
		n := to(*wall(&w))
		twice := taken[n]
		taken[n] = true
		return twice
	})
	for i := range all {
		*wall(&all[i]) = to(*wall(&all[i]))
	}
	return all
}

// bare is the unit of a length typed without one, and stride how far one step
// of it goes.
func (in *Inspector) bare() unit.Length {
	if in.metric() {
		return unit.Metre
	}
	return unit.Inch
}

func (in *Inspector) stride() unit.Length {
	if in.metric() {
		return 10 * unit.Millimetre
	}
	return unit.Inch / 2
}
