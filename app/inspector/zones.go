// SPDX-License-Identifier: MIT

package inspector

import (
	"slices"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
)

func (in *Inspector) zonesSummary() string {
	if n := len(in.host.Design().SubZones); n > 0 {
		return plural(n, "zone")
	}
	return "none"
}

// zone returns a place within the sub zone that is shown.
func zone[T any](in *Inspector, of func(*project.SubZone) *T) value[T] {
	return func(d *project.Design) *T {
		return entry(func() []project.SubZone { return d.SubZones }, in.zone, of)
	}
}

func (in *Inspector) buildZones(f *field.Form) {
	some := func() bool { return in.zone < len(in.host.Design().SubZones) }
	listButtons(f, field.NewButton("", in.addZone), in.duplicateZone, in.removeZone, some)
	in.picks(f, &in.zone, func() []string {
		var names []string
		for i := range in.host.Design().SubZones {
			names = append(names, in.host.Design().ZoneName(i))
		}
		return names
	})
	words := func(verb string) func() texts {
		return func() texts { return texts{what: verb + " " + in.zoneName()} }
	}
	in.text(f, "Name", words("rename"), zone(in, func(z *project.SubZone) *string { return &z.Name })).When(some)
	for _, l := range []struct {
		name string
		of   func(*project.SubZone) *unit.Length
	}{
		{"From screen, from", func(z *project.SubZone) *unit.Length { return &z.From.X }},
		{"From screen, to", func(z *project.SubZone) *unit.Length { return &z.To.X }},
		{"From left, from", func(z *project.SubZone) *unit.Length { return &z.From.Y }},
		{"From left, to", func(z *project.SubZone) *unit.Length { return &z.To.Y }},
		{"Height", func(z *project.SubZone) *unit.Length { return &z.Height }},
	} {
		in.length(f, l.name, words("move"), zone(in, l.of)).When(some)
	}
	f.AddNote("Where the middle of a subwoofer's front may stand; its height is above the room's floor.")
}

func (in *Inspector) zoneName() string {
	if d := in.host.Design(); in.zone < len(d.SubZones) {
		return d.ZoneName(in.zone)
	}
	return "zone"
}

// addZone adds a zone before the screen wall: only where to begin.
func (in *Inspector) addZone() {
	d := in.host.Design()
	lo, _ := d.Room.Polygon().Bounds()
	const off, side, height = 0.5, 0.4, 0.25 // m: off the screen wall, off the side walls, above the floor
	x := lo.X + off
	a, b := widestSpan(d.Room.Polygon(), x)
	if b-a > 2*side {
		a, b = a+side, b-side
	}
	in.insertZone("add a zone", project.SubZone{
		From: project.Corner{X: unit.Length(millimetres(x)), Y: unit.Length(millimetres(a))},
		To:   project.Corner{X: unit.Length(millimetres(x)), Y: unit.Length(millimetres(b))}, Height: height,
	})
}

func (in *Inspector) duplicateZone() {
	d := in.host.Design()
	if in.zone >= len(d.SubZones) {
		return
	}
	z := d.SubZones[in.zone]
	const aside = 0.5 // m, so that it is seen beside the first
	z.From.X, z.To.X = z.From.X+aside, z.To.X+aside
	in.insertZone("duplicate "+in.zoneName(), z)
}

func (in *Inspector) insertZone(label string, z project.SubZone) {
	at := min(in.zone+1, len(in.host.Design().SubZones))
	if err := in.host.Do(label, "", func(d *project.Design) { d.SubZones = slices.Insert(d.SubZones, at, z) }); err != nil {
		in.note(field.Plain(err))
		return
	}
	in.zone = at
	in.show()
}

func (in *Inspector) removeZone() {
	i := in.zone
	if i >= len(in.host.Design().SubZones) {
		return
	}
	in.note(field.Plain(in.host.Do("remove "+in.zoneName(), "", func(d *project.Design) {
		d.SubZones = slices.Delete(d.SubZones, i, i+1)
	})))
}
