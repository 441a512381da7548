// SPDX-License-Identifier: MIT

package inspector

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
)

func (in *Inspector) surfacesSummary() string {
	d := in.host.Design()
	var what []string
	if n := len(d.Room.Treatments); n > 0 {
		what = append(what, plural(n, "treatment"))
	}
	if len(d.Panels) > 0 {
		what = append(what, in.panelsSummary())
	}
	if len(what) == 0 {
		return "no treatments"
	}
	return strings.Join(what, ", ")
}

func (in *Inspector) buildSurfaces(f *field.Form) {
	surface := func(name, none, what string, of func(*project.Surfaces) *string) {
		in.material(f, name, none, say("change what "+what+" made of"), func(d *project.Design) *string { return of(&d.Room.Surfaces) }).Why("How long the room rings, and how strong the reflections at the seats are, follows from it.")
	}
	surface("Floor", "not known", "the floor is", func(s *project.Surfaces) *string { return &s.Floor })
	surface("Platforms", "as the floor", "the platforms are", func(s *project.Surfaces) *string { return &s.Platforms })
	surface("Ceiling", "not known", "the ceiling is", func(s *project.Surfaces) *string { return &s.Ceiling })
	surface("Walls", "not known", "the walls are", func(s *project.Surfaces) *string { return &s.Walls })

	always := func() bool { return true }
	each := in.section(f, "Each wall", in.wallsSummary, &in.open.eachWall, always)
	in.walls = in.many(f, func() int {
		if !each() {
			return 0
		}
		return len(in.host.Design().Room.Footprint)
	}, in.buildWall)

	treated := in.section(f, "Treatments", func() string { return fmt.Sprint(len(in.host.Design().Room.Treatments)) }, &in.open.treatments, always)
	in.buildTreatments(f, treated)

	panelled := in.section(f, "Panels", in.panelsSummary, &in.open.panels, always)
	in.buildPanels(f, panelled)

	looks := in.section(f, "Finishes", in.looksSummary, &in.open.looks, always)
	in.finishes(f, looks)

	aired := in.section(f, "Air", in.airSummary, &in.open.air, always)
	in.air(f, "Temperature", " °C", "change the air's temperature", func(a *project.Air) *float64 { return &a.Temperature }).When(aired)
	in.air(f, "Humidity", " %", "change the air's humidity", func(a *project.Air) *float64 { return &a.Humidity }).When(aired)
}

func (in *Inspector) looksSummary() string {
	f := &in.host.Design().Room.Finishes
	if !f.Given() {
		return "none chosen"
	}
	if w := f.Walls.Words(); w != "" {
		return w
	}
	return "chosen"
}

func (in *Inspector) wallsSummary() string {
	if n := len(in.host.Design().Room.Surfaces.Wall); n > 0 {
		return fmt.Sprintf("%d of another material", n)
	}
	return "all alike"
}

// buildWall makes the line of wall i+1.
func (in *Inspector) buildWall(f *field.Form, i int) fyne.CanvasObject {
	name := wallName(in.host.Design(), i+1)
	get := func() string {
		for _, w := range in.host.Design().Room.Surfaces.Wall {
			if w.Wall == i+1 {
				return w.Material
			}
		}
		return ""
	}
	in.materialTo(f, title(name), "as the other walls", get, func(d *project.Design, id string) {
		s := &d.Room.Surfaces
		s.Wall = slices.DeleteFunc(s.Wall, func(w project.WallSurface) bool { return w.Wall == i+1 })
		if id != "" {
			at, _ := slices.BinarySearchFunc(s.Wall, i+1, func(w project.WallSurface, n int) int { return w.Wall - n })
			s.Wall = slices.Insert(s.Wall, at, project.WallSurface{Wall: i + 1, Material: id})
		}
	}, say("change what the "+name+" is made of"))
	return f.Object()
}

// title returns a name as a label begins.
func title(name string) string { return strings.ToUpper(name[:1]) + name[1:] }

// wallName names a wall, counted from 1; 0 is the ceiling.
func wallName(d *project.Design, wall int) string {
	if wall == 0 {
		return "ceiling"
	}
	return d.Room.WallName(wall)
}

// treatment returns a place within the treatment that is shown.
func treatment[T any](in *Inspector, of func(*project.Treatment) *T) value[T] {
	return func(d *project.Design) *T {
		return entry(func() []project.Treatment { return d.Room.Treatments }, in.panel, of)
	}
}

func (in *Inspector) buildTreatments(f *field.Form, open func() bool) {
	some := func() bool { return open() && in.panel < len(in.host.Design().Room.Treatments) }
	listButtons(f, field.NewButton("", in.addTreatment), in.duplicateTreatment, in.removeTreatment, some).When(open)
	in.picks(f, &in.panel, func() []string {
		var names []string
		for _, t := range in.host.Design().Room.Treatments {
			names = append(names, treatmentName(in.host.Design(), t))
		}
		return names
	}).When(open)

	words := func(verb string) func() texts {
		return func() texts { return texts{what: verb + " " + in.panelName()} }
	}
	in.text(f, "Name", words("rename"), treatment(in, func(t *project.Treatment) *string { return &t.Name })).When(some)
	in.material(f, "Material", "", words("change the material of"), treatment(in, func(t *project.Treatment) *string { return &t.Material })).When(some)
	material := treatment(in, func(t *project.Treatment) *string { return &t.Material })
	f.AddReadout("Absorption", func() string { return in.absorbs(read(in, material)) }).When(some)
	f.AddCheck("Diffusing",
		func() bool {
			m, _ := materialOf(in.host.Design().Room.Materials, read(in, material))
			return m.Scatters
		},
		func(on bool) error {
			id := read(in, material)
			return field.Plain(in.host.Do("change whether "+materialName(in.host.Design().Room.Materials, id)+" is diffusing", "", func(d *project.Design) {
				for i := range d.Room.Materials {
					if d.Room.Materials[i].ID == id {
						d.Room.Materials[i].Scatters = on
					}
				}
			}))
		}).When(some)

	wall := treatment(in, func(t *project.Treatment) *int { return &t.Wall })
	f.AddChoice("On",
		func() []string {
			d := in.host.Design()
			var o []string
			for i := range d.Room.Footprint {
				o = append(o, wallName(d, i+1))
			}
			return append(o, wallName(d, 0))
		},
		func() int {
			n := len(in.host.Design().Room.Footprint)
			return (read(in, wall) + n) % (n + 1)
		},
		func(i int) error {
			n := len(in.host.Design().Room.Footprint)
			return field.Plain(in.host.Do("hang "+in.panelName()+" elsewhere", "", func(d *project.Design) {
				rehang(d, &d.Room.Treatments[in.panel], (i+1)%(n+1))
			}))
		}).When(some)
	above := func() bool { return some() && read(in, wall) == 0 }
	beside := func() bool { return some() && read(in, wall) != 0 }
	for _, s := range []struct {
		wall, ceiling string
		from, to      func(*project.Treatment) *unit.Length
	}{
		{"Along wall, ", "From screen, ", func(t *project.Treatment) *unit.Length { return &t.From }, func(t *project.Treatment) *unit.Length { return &t.To }},
		{"Height, ", "From left, ", func(t *project.Treatment) *unit.Length { return &t.Low }, func(t *project.Treatment) *unit.Length { return &t.High }},
	} {
		for _, l := range []struct {
			name string
			when func() bool
		}{{s.wall, beside}, {s.ceiling, above}} {
			in.span(f, l.name+"from", s.from, s.to, false).When(l.when)
			in.span(f, l.name+"to", s.from, s.to, true).When(l.when)
		}
	}
}

// span adds one end of a stretch of a treatment. An end that would pass the
// other is refused in words about the two of them.
func (in *Inspector) span(f *field.Form, name string, from, to func(*project.Treatment) *unit.Length, end bool) *field.Line {
	lo, hi := treatment(in, from), treatment(in, to)
	at, other := lo, hi
	if end {
		at, other = hi, lo
	}
	return in.lengthTo(f, name, func() texts { return texts{what: "move an edge of " + in.panelName()} },
		func() unit.Length { return read(in, at) },
		func(label, merge string, v unit.Length) error {
			o := read(in, other)
			switch {
			case end && v <= o:
				return &project.Fault{Found: v.Format(in.metric()), Allowed: "more than where it begins, " + o.Format(in.metric())}
			case !end && v >= o:
				return &project.Fault{Found: v.Format(in.metric()), Allowed: "less than where it ends, " + o.Format(in.metric())}
			}
			return edit(in, label, merge, at, v)
		},
		10*unit.Millimetre, unit.Inch/2, func(l unit.Length) string { return l.Format(in.metric()) }, unit.Metre)
}

func treatmentName(d *project.Design, t project.Treatment) string {
	if t.Name != "" {
		return t.Name
	}
	return materialName(d.Room.Materials, t.Material)
}

func (in *Inspector) panelName() string {
	if d := in.host.Design(); in.panel < len(d.Room.Treatments) {
		return treatmentName(d, d.Room.Treatments[in.panel])
	}
	return "treatment"
}

// carrierSize returns how long and how high what carries a treatment is: a wall, or
// for the ceiling the room along x and y.
func carrierSize(d *project.Design, wall int) (long, high float64) {
	poly := d.Room.Polygon()
	if wall < 1 || wall > len(poly) {
		lo, hi := poly.Bounds()
		return hi.X - lo.X, hi.Y - lo.Y
	}
	a, b := poly.Edge(wall - 1)
	return a.Dist(b), min(d.Room.CeilingAt(a.X, a.Y), d.Room.CeilingAt(b.X, b.Y))
}

// rehang moves t to another wall or the ceiling: it keeps its size and, among
// walls, its place, as far as there is room.
func rehang(d *project.Design, t *project.Treatment, wall int) {
	long, high := carrierSize(d, wall)
	wide, tall := min(float64(t.To-t.From), long), min(float64(t.High-t.Low), high)
	from, low := float64(t.From), float64(t.Low)
	if (t.Wall == 0) != (wall == 0) {
		from, low = (long-wide)/2, (high-tall)/2
		if wall == 0 {
			lo, _ := d.Room.Polygon().Bounds()
			from, low = from+lo.X, low+lo.Y
		}
	} else if wall != 0 {
		from, low = max(min(from, long-wide), 0), max(min(low, high-tall), 0)
	}
	mm := func(v float64) unit.Length { return unit.Length(math.Round(v*1000) / 1000) }
	t.Wall, t.From, t.To, t.Low, t.High = wall, mm(from), mm(from+wide), mm(low), mm(low+tall)
}

// addTreatment adds a fabric panel in the middle of the longest wall, at the
// height of seated heads: only where to begin.
func (in *Inspector) addTreatment() {
	d, all := in.host.Design(), in.palette().all
	best, long := 1, 0.0
	for i := range d.Room.Footprint {
		if l, _ := carrierSize(d, i+1); l > long {
			best, long = i+1, l
		}
	}
	const side, low = 1.2, 0.8 // m
	wide := min(side, long)
	id := "panel-fabric"
	if _, ok := materialOf(all, id); !ok {
		id = all[0].ID
	}
	t := project.Treatment{Material: id, From: unit.Length((long - wide) / 2), To: unit.Length((long + wide) / 2), Low: low, High: low + side}
	rehang(d, &t, best)
	in.insertTreatment("add a treatment", t)
}

func (in *Inspector) duplicateTreatment() {
	d := in.host.Design()
	if in.panel >= len(d.Room.Treatments) {
		return
	}
	t := d.Room.Treatments[in.panel]
	by := t.To - t.From + 0.1 // m between them
	if long, _ := carrierSize(d, t.Wall); float64(t.To+by) > long && t.From >= by {
		by = -by
	}
	t.From, t.To = t.From+by, t.To+by
	in.insertTreatment("duplicate "+in.panelName(), t)
}

func (in *Inspector) insertTreatment(label string, t project.Treatment) {
	at := min(in.panel+1, len(in.host.Design().Room.Treatments))
	all := in.palette().all
	if err := in.host.Do(label, "", func(d *project.Design) {
		adopt(d, all, t.Material)
		d.Room.Treatments = slices.Insert(d.Room.Treatments, at, t)
	}); err != nil {
		in.note(field.Plain(err))
		return
	}
	in.panel = at
	in.show()
}

func (in *Inspector) removeTreatment() {
	i := in.panel
	if i >= len(in.host.Design().Room.Treatments) {
		return
	}
	in.note(field.Plain(in.host.Do("remove "+in.panelName(), "", func(d *project.Design) {
		d.Room.Treatments = slices.Delete(d.Room.Treatments, i, i+1)
	})))
}

func (in *Inspector) airSummary() string {
	a := in.host.Design().Room.Air
	text := plainNumber(a.OrUsual().Temperature) + " °C, " + plainNumber(a.OrUsual().Humidity) + " %"
	if a == (project.Air{}) {
		return "usual: " + text
	}
	return text
}

// air adds a property of the air. An empty entry is the usual one.
func (in *Inspector) air(f *field.Form, name, suffix, what string, of func(*project.Air) *float64) *field.Line {
	get := func() float64 {
		a := in.host.Design().Room.Air.OrUsual()
		return *of(&a)
	}
	set := func(merge string, v float64) error {
		return field.Plain(in.host.Do(what, merge, func(d *project.Design) {
			a := d.Room.Air.OrUsual()
			*of(&a) = v
			if a == (project.Air{}).OrUsual() {
				a = project.Air{}
			}
			d.Room.Air = a
		}))
	}
	return f.AddEntry(name, field.Binding{
		Value: func() string { return plainNumber(get()) + suffix },
		Set: func(text string) error {
			if text == "" {
				usual := (project.Air{}).OrUsual()
				return set("", *of(&usual))
			}
			v, err := field.Number(text, suffix)
			if err != nil {
				return err
			}
			return set("", v)
		},
		Step: func(n int) error { return set(key(name, what), math.Round(get())+float64(n)) },
	})
}
