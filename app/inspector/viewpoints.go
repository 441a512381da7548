// SPDX-License-Identifier: MIT

package inspector

import (
	"slices"

	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
)

func (in *Inspector) viewpointsSummary() string {
	if n := len(in.host.Design().Viewpoints); n > 0 {
		return plural(n, "viewpoint")
	}
	return "none"
}

// viewpoint returns a place within the viewpoint that is shown.
func viewpoint[T any](in *Inspector, of func(*project.Viewpoint) *T) value[T] {
	return func(d *project.Design) *T {
		return entry(func() []project.Viewpoint { return d.Viewpoints }, in.viewpoint, of)
	}
}

func (in *Inspector) buildViewpoints(f *field.Form) {
	now := func() project.Viewpoint {
		if all := in.host.Design().Viewpoints; in.viewpoint < len(all) {
			return all[in.viewpoint]
		}
		return project.Viewpoint{}
	}
	some := func() bool { return now().Kind != "" }
	placed := func() bool { return some() && now().Kind != project.Seated }
	listButtons(f, field.NewButton("", func() { in.OnKeepView() }), in.duplicateViewpoint, in.removeViewpoint, some)
	in.picks(f, &in.viewpoint, func() []string {
		var names []string
		for _, v := range in.host.Design().Viewpoints {
			names = append(names, v.Name)
		}
		return names
	})
	words := func(verb string) func() texts {
		return func() texts { return texts{what: verb + " viewpoint " + now().Name} }
	}
	look := field.NewButton("Look from here", func() { in.OnLookFrom(in.viewpoint) })
	earlier := field.NewButtonWithIcon("Earlier", base.MoveUpIcon(), func() { in.moveViewpoint(-1) })
	later := field.NewButtonWithIcon("Later", base.MoveDownIcon(), func() { in.moveViewpoint(1) })
	f.AddObject(container.NewVBox(look, container.NewGridWithColumns(2, earlier, later)), nil).When(some)
	in.text(f, "Name", words("rename"), viewpoint(in, func(v *project.Viewpoint) *string { return &v.Name })).When(some)
	f.AddReadout("How", func() string {
		v := now()
		switch v.Kind {
		case project.Standing:
			return "on foot"
		case project.Free:
			return "camera"
		}
		d := in.host.Design()
		if row, n, ok := d.SeatOf(v.Seat); ok {
			return "in seat " + plainNumber(float64(row)) + "." + plainNumber(float64(n))
		}
		return "in a seat"
	}).When(some)
	for _, l := range []struct {
		name string
		of   func(*project.Viewpoint) *unit.Length
		when func() bool
	}{
		{"From screen wall", func(v *project.Viewpoint) *unit.Length { return &v.At.X }, placed},
		{"From left wall", func(v *project.Viewpoint) *unit.Length { return &v.At.Y }, placed},
		{"Height", func(v *project.Viewpoint) *unit.Length { return &v.At.Z }, func() bool { return now().Kind == project.Free }},
	} {
		in.length(f, l.name, words("move"), viewpoint(in, l.of)).When(l.when)
	}
	in.angle(f, "Looks to the left", words("turn"), viewpoint(in, func(v *project.Viewpoint) *unit.Degrees { return &v.Heading })).When(some)
	in.angle(f, "Looks up", words("turn"), viewpoint(in, func(v *project.Viewpoint) *unit.Degrees { return &v.Pitch })).When(some)
	lights := []project.Scene{"", project.House, project.Preshow, project.Show, project.Cleaning}
	f.AddChoice("Light",
		func() []string { return []string{"as before", "house", "preshow", "show", "cleaning"} },
		func() int { return slices.Index(lights, now().Scene) },
		func(i int) error {
			return edit(in, "light viewpoint "+now().Name, "", viewpoint(in, func(v *project.Viewpoint) *project.Scene { return &v.Scene }), lights[i])
		}).When(some)
	in.given(f, "Stay", words("change how long the tour stays at"), 1, " s", func() string { return plainNumber(project.UsualStay) + " s" }, func() float64 { return project.UsualStay },
		viewpoint(in, func(v *project.Viewpoint) *float64 { return &v.Stay })).When(some)
	f.AddNote("Add keeps what the picture shows, as V does. T plays the tour in this order; without viewpoints it shows the door, the room from the front and the main seat.")
	usual := project.Entrance{}.Usual()
	for _, t := range []struct {
		name, what string
		usual      float64
		of         func(*project.Entrance) *float64
	}{
		{"Lights, each", "change how fast the lights come on", usual.Each, func(e *project.Entrance) *float64 { return &e.Each }},
		{"House light stays", "change how long house light stays", usual.House, func(e *project.Entrance) *float64 { return &e.House }},
		{"Down to the show", "change how fast the lights go down", usual.Down, func(e *project.Entrance) *float64 { return &e.Down }},
	} {
		in.given(f, t.name, say(t.what), 0.5, " s", func() string { return plainNumber(t.usual) + " s" }, func() float64 { return t.usual },
			func(d *project.Design) *float64 { return t.of(&d.Entrance) })
	}
}

// ShowViewpoint shows the viewpoint of that index in the group of viewpoints.
func (in *Inspector) ShowViewpoint(i int) {
	in.viewpoint = i
	in.show()
}

func (in *Inspector) duplicateViewpoint() {
	d := in.host.Design()
	if in.viewpoint >= len(d.Viewpoints) {
		return
	}
	v := d.Viewpoints[in.viewpoint]
	before := v.Name
	v.Name = d.NewViewpointName(v.Name)
	at := in.viewpoint + 1
	if err := in.host.Do("duplicate viewpoint "+before, "", func(d *project.Design) { d.Viewpoints = slices.Insert(d.Viewpoints, at, v) }); err != nil {
		in.note(field.Plain(err))
		return
	}
	in.ShowViewpoint(at)
}

func (in *Inspector) removeViewpoint() {
	d, i := in.host.Design(), in.viewpoint
	if i >= len(d.Viewpoints) {
		return
	}
	in.note(field.Plain(in.host.Do("remove viewpoint "+d.Viewpoints[i].Name, "", func(d *project.Design) {
		d.Viewpoints = slices.Delete(d.Viewpoints, i, i+1)
	})))
}

// moveViewpoint moves the viewpoint that is shown within the tour.
func (in *Inspector) moveViewpoint(by int) {
	d, i := in.host.Design(), in.viewpoint
	to := i + by
	if i >= len(d.Viewpoints) || to < 0 || to >= len(d.Viewpoints) {
		return
	}
	if err := in.host.Do("move viewpoint "+d.Viewpoints[i].Name, "", func(d *project.Design) {
		d.Viewpoints[i], d.Viewpoints[to] = d.Viewpoints[to], d.Viewpoints[i]
	}); err != nil {
		in.note(field.Plain(err))
		return
	}
	in.ShowViewpoint(to)
}
