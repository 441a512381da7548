// SPDX-License-Identifier: MIT

package inspector

import (
	"fmt"
	"slices"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/panel"
)

func (in *Inspector) lightSummary() string {
	if n := len(in.host.Design().LightGroups); n > 0 {
		return plural(n, "group")
	}
	return "none"
}

// lightGroup returns a place within the light group that is shown.
func lightGroup[T any](in *Inspector, of func(*project.LightGroup) *T) value[T] {
	return func(d *project.Design) *T {
		return entry(func() []project.LightGroup { return d.LightGroups }, in.lights, of)
	}
}

func (in *Inspector) buildLight(f *field.Form) {
	some := func() bool { return in.lights < len(in.host.Design().LightGroups) }
	kind := func(not ...project.LightKind) func() bool {
		return func() bool { return some() && !slices.Contains(not, in.host.Design().LightGroups[in.lights].Kind) }
	}
	listButtons(f, field.NewButton("", in.addLights), in.duplicateLights, in.removeLights, some)
	in.picks(f, &in.lights, func() []string {
		var names []string
		for i := range in.host.Design().LightGroups {
			names = append(names, in.host.Design().LightName(i))
		}
		return names
	})
	words := func() texts { return texts{what: "change " + in.lightsName()} }
	in.text(f, "Name", func() texts { return texts{what: "rename " + in.lightsName()} }, lightGroup(in, func(g *project.LightGroup) *string { return &g.Name })).When(some)
	kinds := []project.LightKind{project.Strip, project.Downlight, project.StepLight, project.Stars}
	f.AddChoice("Lamps",
		func() (o []string) {
			for _, k := range kinds {
				o = append(o, k.Words())
			}
			return o
		},
		func() int {
			return slices.Index(kinds, read(in, lightGroup(in, func(g *project.LightGroup) *project.LightKind { return &g.Kind })))
		},
		func(i int) error { return in.lampsAre(kinds[i]) }).When(some)
	in.layStrip(f, kind(project.Downlight, project.StepLight, project.Stars))
	in.figure(f, "Light of all", words, 1, 50, " lm", lightGroup(in, func(g *project.LightGroup) *float64 { return &g.Flux })).When(some)
	f.AddReadout("Each", in.lightEach).When(kind(project.Stars))
	in.given(f, "Colour", words, 100, " K", func() string { return "not known" }, func() float64 { return 2700 }, lightGroup(in, func(g *project.LightGroup) *float64 { return &g.Colour })).When(some)
	in.angle(f, "Beam", words, lightGroup(in, func(g *project.LightGroup) *unit.Degrees { return &g.Beam })).When(kind(project.Stars))
	in.angle(f, "Tilt from down", words, lightGroup(in, func(g *project.LightGroup) *unit.Degrees { return &g.Tilt })).When(kind(project.Stars))
	tilted := func() bool {
		return some() && in.host.Design().LightGroups[in.lights].Tilt != 0 && in.host.Design().LightGroups[in.lights].Tilt != 180
	}
	in.angle(f, "Tilted to the left", words, lightGroup(in, func(g *project.LightGroup) *unit.Degrees { return &g.Azimuth })).When(tilted)
	for _, s := range project.LightScenes() {
		in.level(f, s, words).When(some)
	}
	in.lampPlaces(f, words)
	f.AddNote("Levels are shares of the light. Tilt: 0° is straight down, 90° level, 180° up, as in a cove; to the left: 0° is towards the screen, 90° the left wall. A beam of 0° spreads as a matt face. earline light says what it comes to.")
}

// level adds a line with a slider for the level in a scene.
func (in *Inspector) level(f *field.Form, s project.Scene, words func() texts) *field.Line {
	at := lightGroup(in, func(g *project.LightGroup) *float64 { return g.Scenes.Level(s) })
	name := title(string(s))
	merge := func() string { return key(name, words().what) }
	slide := field.NewSlider(0, 100, 1, nil)
	slide.Tip = "The level in this scene"
	slide.OnChanged = func(v float64) {
		if v != read(in, at)*100 {
			in.note(edit(in, words().what, merge(), at, v/100))
		}
	}
	const wide, high = 108, 26
	return f.AddEntryBeside(name, field.Binding{
		Value: func() string {
			v := read(in, at) * 100
			if slide.Value != v { // shown alike, however it was set
				slide.Value = v
				slide.Refresh()
			}
			return plainNumber(v) + " %"
		},
		Set: func(text string) error {
			v, err := field.Number(text, " %")
			if err != nil {
				return err
			}
			return edit(in, words().what, "", at, v/100)
		},
		Step: func(n int) error {
			return edit(in, words().what, merge(), at, min(max(read(in, at)+0.05*float64(n), 0), 1))
		},
	}, container.NewGridWrap(fyne.NewSize(wide, high), slide))
}

// lampPlaces adds where the lamps of the group are, or the points of its strip.
func (in *Inspector) lampPlaces(f *field.Form, words func() texts) {
	count := func() int { return len(*in.points(in.host.Design())) }
	many := func() bool { return count() > 0 }
	in.picks(f, &in.lamp, func() []string {
		var names []string
		for i := range count() {
			names = append(names, strconv.Itoa(i+1))
		}
		return names
	}).When(many)
	for _, l := range []struct {
		name string
		of   func(*project.Point) *unit.Length
	}{
		{"From screen wall", func(p *project.Point) *unit.Length { return &p.X }},
		{"From left wall", func(p *project.Point) *unit.Length { return &p.Y }},
		{"Height", func(p *project.Point) *unit.Length { return &p.Z }},
	} {
		in.length(f, l.name, words, func(d *project.Design) *unit.Length {
			return entry(func() []project.Point { return *in.points(d) }, in.lamp, l.of)
		}).When(many)
	}
	add := field.NewButtonWithIcon("One more", base.ContentAddIcon(), in.addLamp)
	gone := field.NewButtonWithIcon("One less", base.ContentRemoveIcon(), in.removeLamp)
	f.AddObject(container.NewGridWithColumns(2, add, gone), nil).When(many)
}

// points returns the lamps of the group that is shown, or the points of its strip.
func (in *Inspector) points(d *project.Design) *[]project.Point {
	if in.lights >= len(d.LightGroups) {
		return new([]project.Point)
	}
	g := &d.LightGroups[in.lights]
	if g.Kind == project.Strip {
		return &g.Path
	}
	return &g.At
}

func (in *Inspector) lightsName() string {
	if d := in.host.Design(); in.lights < len(d.LightGroups) {
		return d.LightName(in.lights)
	}
	return "lights"
}

// lampsAre makes the group of another kind, at the same places where it has some.
func (in *Inspector) lampsAre(k project.LightKind) error {
	if in.lights >= len(in.host.Design().LightGroups) {
		return nil
	}
	begin := in.overSeats()
	return field.Plain(in.host.Do(fmt.Sprintf("make %s %s", in.lightsName(), k.Words()), "", func(d *project.Design) {
		g := &d.LightGroups[in.lights]
		points := slices.Concat(g.Path, g.At)
		if len(points) == 0 {
			points = []project.Point{begin}
		}
		const usual = 40 // degrees, of downlights in rooms. No source
		g.Kind, g.Path, g.At, g.Area, g.Panels, g.Nosings = k, nil, nil, nil, "", false
		switch k {
		case project.Strip:
			if g.Path = points; len(points) < 2 {
				far := points[0]
				far.X++
				g.Path = append(g.Path, far)
			}
		case project.Stars:
			g.Beam, g.Tilt, g.Azimuth = 0, 0, 0
		default:
			if g.At = points; k == project.Downlight && g.Beam == 0 {
				g.Beam = usual
			}
		}
	}))
}

// overSeats returns a point in the ceiling over the main position: only where to begin.
func (in *Inspector) overSeats() project.Point {
	d := in.host.Design()
	at := project.Point{X: d.Seating.Main.At.X, Y: d.Seating.Main.At.Y}
	if n := d.Seating.Main.Row; n > 0 && n <= len(d.Seating.Rows) {
		at.X, at.Y = d.Seating.Rows[n-1].Distance, d.Seating.Rows[n-1].Centre
	}
	at.Z = unit.Length(millimetres(d.Room.CeilingAt(float64(at.X), float64(at.Y))))
	return at
}

// addLights adds a group of one downlight over the main position: only where to begin.
func (in *Inspector) addLights() {
	in.insertLights("add lights", project.LightGroup{Kind: project.Downlight, At: []project.Point{in.overSeats()}, Flux: 500, Colour: 2700, Beam: 40,
		Scenes: project.SceneLevels{House: 1, Preshow: 0.2, Cleaning: 1}})
}

func (in *Inspector) duplicateLights() {
	d := in.host.Design()
	if in.lights >= len(d.LightGroups) {
		return
	}
	g := d.Clone().LightGroups[in.lights]
	const aside = 0.5 // m, so that it is seen beside the first
	for _, points := range [2][]project.Point{g.At, g.Path} {
		for i := range points {
			points[i].X += aside
		}
	}
	in.insertLights("duplicate "+in.lightsName(), g)
}

func (in *Inspector) insertLights(label string, g project.LightGroup) {
	at := min(in.lights+1, len(in.host.Design().LightGroups))
	if err := in.host.Do(label, "", func(d *project.Design) { d.LightGroups = slices.Insert(d.LightGroups, at, g) }); err != nil {
		in.note(field.Plain(err))
		return
	}
	in.lights, in.lamp = at, 0
	in.show()
}

func (in *Inspector) removeLights() {
	i := in.lights
	if i >= len(in.host.Design().LightGroups) {
		return
	}
	in.note(field.Plain(in.host.Do("remove "+in.lightsName(), "", func(d *project.Design) {
		d.LightGroups = slices.Delete(d.LightGroups, i, i+1)
	})))
}

// lightEach says what one lamp gives, or a metre of a strip.
func (in *Inspector) lightEach() string {
	d := in.host.Design()
	if in.lights >= len(d.LightGroups) {
		return ""
	}
	g := &d.LightGroups[in.lights]
	if g.Follows() {
		strips := panel.Strips(d, panel.Of(d), g)
		l := panel.StripLength(strips)
		if l == 0 {
			return "nowhere: the room has none"
		}
		return fmt.Sprintf("%.4g lm/m, %s", g.Flux/l, unit.Length(l).Format(in.metric()))
	}
	each := fmt.Sprintf("%.4g lm", g.Flux/g.Measure())
	if g.Kind == project.Strip {
		return each + "/m, " + unit.Length(g.Length()).Format(in.metric())
	}
	return each + ", " + plural(len(g.At), "lamp")
}

// addLamp adds a lamp as bright as the others, or a point of a strip, a metre behind the
// one that is shown.
func (in *Inspector) addLamp() {
	if err := in.host.Do("add to "+in.lightsName(), "", func(d *project.Design) {
		g, points := &d.LightGroups[in.lights], in.points(d)
		each := g.Flux / g.Measure()
		p := (*points)[in.lamp]
		p.X++
		*points = slices.Insert(*points, in.lamp+1, p)
		g.Flux = each * g.Measure()
	}); err != nil {
		in.note(field.Plain(err))
		return
	}
	in.lamp++
	in.show()
}

func (in *Inspector) removeLamp() {
	in.note(field.Plain(in.host.Do("take from "+in.lightsName(), "", func(d *project.Design) {
		g, points := &d.LightGroups[in.lights], in.points(d)
		each := g.Flux / g.Measure()
		*points = slices.Delete(*points, in.lamp, in.lamp+1)
		if n := g.Measure(); n > 0 { // else it is refused
			g.Flux = each * n
		}
	})))
}
