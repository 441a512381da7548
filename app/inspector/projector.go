// SPDX-License-Identifier: MIT

package inspector

import (
	"fmt"
	"slices"

	base "fyne.io/fyne/v2/theme"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/picture"
)

func (in *Inspector) projectorSummary() string {
	d := in.host.Design()
	if !d.Projector.Given() {
		return "none"
	}
	m, _ := d.ProjectorModel(d.Projector.Model)
	return plainNumber(m.Light) + " lm, " + string(d.Projector.Fill)
}

// projector returns a place within the projector; there is none where the design has none.
func projector[T any](of func(*project.Projector) *T) value[T] {
	return func(d *project.Design) *T {
		if !d.Projector.Given() {
			return nil
		}
		return of(&d.Projector)
	}
}

// projectorModel returns a place within the model of the projector.
func projectorModel[T any](of func(*project.ProjectorModel) *T) value[T] {
	return func(d *project.Design) *T {
		i := slices.IndexFunc(d.ProjectorModels, func(m project.ProjectorModel) bool { return m.ID == d.Projector.Model })
		return entry(func() []project.ProjectorModel { return d.ProjectorModels }, i, of)
	}
}

func (in *Inspector) buildProjector(f *field.Form) {
	some := func() bool { return in.host.Design().Projector.Given() }
	add := field.NewButtonWithIcon("Add a projector", base.ContentAddIcon(), in.addProjector)
	f.AddObject(add, nil).When(func() bool { return !some() })
	f.AddObject(field.NewButtonWithIcon("Remove the projector", base.ContentRemoveIcon(), in.removeProjector), nil).When(some)
	move, change := say("move the projector"), say("change the projector")
	choice(in, f, "Model", change,
		func() (ids []string) {
			for _, m := range in.host.Design().ProjectorModels {
				ids = append(ids, m.ID)
			}
			return ids
		}, in.projectorName, projector(func(p *project.Projector) *string { return &p.Model })).When(some)
	in.length(f, "From screen wall", move, projector(func(p *project.Projector) *unit.Length { return &p.At.X })).When(some)
	in.length(f, "From left wall", move, projector(func(p *project.Projector) *unit.Length { return &p.At.Y })).When(some)
	in.length(f, "Height of lens", func() texts { return texts{"move the projector", "raise the projector", "lower the projector"} },
		projector(func(p *project.Projector) *unit.Length { return &p.At.Z })).When(some).Why("Within what the lens can shift, and high enough that nobody's head stands in the beam.")
	choice(in, f, "Fixed to", change,
		func() []project.ProjectorMount {
			return []project.ProjectorMount{project.CeilingMount, project.ShelfMount, project.PortMount}
		},
		func(m project.ProjectorMount) string {
			return map[project.ProjectorMount]string{project.CeilingMount: "the ceiling", project.ShelfMount: "a shelf", project.PortMount: "behind a port"}[m]
		}, projector(func(p *project.Projector) *project.ProjectorMount { return &p.Mount })).When(some)
	choice(in, f, "Fills screen by", change,
		func() []project.Fill { all := picture.Fills(); return all[:] },
		func(x project.Fill) string {
			return map[project.Fill]string{project.Zoom: "zoom", project.Anamorphic: "anamorphic lens", project.Scaled: "scaling"}[x]
		}, projector(func(p *project.Projector) *project.Fill { return &p.Fill })).When(some)
	in.given(f, "Stretch of lens", change, 0.01, "", func() string { return "usual, " + plainNumber(project.Projector{}.Widened()) },
		func() float64 { return project.Projector{}.Widened() }, projector(func(p *project.Projector) *float64 { return &p.Stretch })).
		When(func() bool { return in.host.Design().Projector.Fill == project.Anamorphic })
	none, all := func() string { return "none" }, func() float64 { return 1 }
	in.given(f, "Further lens", change, 0.01, "", none, all, projector(func(p *project.Projector) *float64 { return &p.Lens })).When(some)
	in.given(f, "Port glass", change, 0.01, "", none, all, projector(func(p *project.Projector) *float64 { return &p.Port })).When(some)
	f.AddReadout("At the screen", func() string {
		r := picture.Optics(in.host.Design())
		return fmt.Sprintf("%.0f lm, aged %.0f lm", r.New, r.Aged)
	}).When(some)
	in.buildProjectorModel(f, some)
	f.AddNote("Where the middle of its front lens is. Further lens and port glass: the share of light that passes. What it comes to: the Picture page.").When(some)
}

// buildProjectorModel adds the model of the projector.
func (in *Inspector) buildProjectorModel(f *field.Form, some func() bool) {
	open := in.section(f, "Projector model", func() string { return in.projectorName(in.host.Design().Projector.Model) }, &in.open.projector, some)
	f.AddObject(field.NewButtonWithIcon("New model from this one", base.ContentCopyIcon(), in.newProjectorModel), nil).When(open)
	words := func() texts {
		return texts{what: "change the model " + in.projectorName(in.host.Design().Projector.Model)}
	}
	in.text(f, "Name", words, projectorModel(func(m *project.ProjectorModel) *string { return &m.Name })).When(open)
	number := func(name string, factor, step float64, suffix string, of func(*project.ProjectorModel) *float64) {
		in.figure(f, name, words, factor, step, suffix, projectorModel(of)).When(open)
	}
	number("Light, stated", 1, 50, " lm", func(m *project.ProjectorModel) *float64 { return &m.Light })
	number("Left, calibrated", 100, 1, " %", func(m *project.ProjectorModel) *float64 { return &m.Calibrated })
	number("Left of that, aged", 100, 1, " %", func(m *project.ProjectorModel) *float64 { return &m.Aged })
	in.count(f, "Pixels across", words, projectorModel(func(m *project.ProjectorModel) *int { return &m.PixelsWide })).When(open)
	in.count(f, "Pixels upright", words, projectorModel(func(m *project.ProjectorModel) *int { return &m.PixelsHigh })).When(open)
	number("Throw ratio, least", 1, 0.05, "", func(m *project.ProjectorModel) *float64 { return &m.ThrowMin })
	number("Throw ratio, most", 1, 0.05, "", func(m *project.ProjectorModel) *float64 { return &m.ThrowMax })
	number("Shift up and down", 100, 1, " %", func(m *project.ProjectorModel) *float64 { return &m.ShiftUp })
	number("Shift to a side", 100, 1, " %", func(m *project.ProjectorModel) *float64 { return &m.ShiftRight })
	choice(in, f, "Both shifts within", words,
		func() []project.ShiftShape {
			return []project.ShiftShape{project.ShiftEllipse, project.ShiftDiamond, project.ShiftRectangle}
		},
		func(s project.ShiftShape) string { return string(s) }, projectorModel(func(m *project.ProjectorModel) *project.ShiftShape { return &m.ShiftShape })).When(open)
	unknown := func() string { return "not known" }
	known := func(name string, step, from float64, suffix string, of func(*project.ProjectorModel) *float64) {
		in.given(f, name, words, step, suffix, unknown, func() float64 { return from }, projectorModel(of)).When(open)
	}
	known("Noise", 1, 28, " dB(A)", func(m *project.ProjectorModel) *float64 { return &m.Noise })
	known("Heat", 10, 300, " W", func(m *project.ProjectorModel) *float64 { return &m.Heat })
	known("Mass", 0.5, 12, " kg", func(m *project.ProjectorModel) *float64 { return &m.Mass })
	for _, l := range []struct {
		name string
		of   func(*project.ProjectorModel) *unit.Length
	}{
		{"Cabinet width", func(m *project.ProjectorModel) *unit.Length { return &m.Width }},
		{"Cabinet height", func(m *project.ProjectorModel) *unit.Length { return &m.Height }},
		{"Cabinet depth", func(m *project.ProjectorModel) *unit.Length { return &m.Depth }},
		{"Lens ahead of it", func(m *project.ProjectorModel) *unit.Length { return &m.LensAhead }},
	} {
		in.length(f, l.name, words, projectorModel(l.of)).When(open)
	}
}

// projectorName is what a projector model is called: by its name, or its ID.
func (in *Inspector) projectorName(id string) string {
	if m, ok := in.host.Design().ProjectorModel(id); ok && m.Name != "" {
		return m.Name
	}
	return id
}

// addProjector adds a projector under the ceiling, where the middle of its zoom lights the
// screen's own picture; and a model of a usual kind where the design has none: only where
// to begin.
func (in *Inspector) addProjector() {
	d := in.host.Design()
	m := project.ProjectorModel{ID: "projector", Name: "Projector, 2000 lm", Light: 2000, Calibrated: 0.8, Aged: 0.8, PixelsWide: 3840, PixelsHigh: 2160,
		ThrowMin: 1.35, ThrowMax: 2.75, ShiftUp: 0.6, ShiftRight: 0.25, ShiftShape: project.ShiftEllipse, Width: 0.5, Height: 0.2, Depth: 0.5}
	fresh := len(d.ProjectorModels) == 0
	if !fresh {
		m = d.ProjectorModels[0]
	}
	const under, behind = 0.3, 0.2 // m: the lens under the ceiling, its cabinet off the back wall
	s := d.Screen
	_, hi := d.Room.Polygon().Bounds()
	x := float64(s.Distance) + (m.ThrowMin+m.ThrowMax)/2*float64(s.Width)
	x = max(min(x, hi.X-behind-float64(m.Depth+m.LensAhead)), float64(s.Distance)+m.ThrowMin*float64(s.Width))
	at := project.Point{X: unit.Length(millimetres(x)), Y: s.Centre}
	at.Z = unit.Length(millimetres(max(d.Room.CeilingAt(x, float64(s.Centre))-under, under)))
	in.note(field.Plain(in.host.Do("add a projector", "", func(d *project.Design) {
		if fresh {
			d.ProjectorModels = append(d.ProjectorModels, m)
		}
		d.Projector = project.Projector{Model: m.ID, At: at, Mount: project.CeilingMount, Fill: project.Zoom}
	})))
	in.show()
}

// removeProjector takes the projector out; its model stays.
func (in *Inspector) removeProjector() {
	in.note(field.Plain(in.host.Do("remove the projector", "", func(d *project.Design) { d.Projector = project.Projector{} })))
	in.show()
}

// newProjectorModel gives the projector a model of its own, which begins as its present
// one.
func (in *Inspector) newProjectorModel() {
	d := in.host.Design()
	m, ok := d.ProjectorModel(d.Projector.Model)
	if !ok {
		return
	}
	var ids, names []string
	for _, o := range d.ProjectorModels {
		ids, names = append(ids, o.ID), append(names, o.Name)
	}
	in.note(field.Plain(in.host.Do("new model from "+in.projectorName(m.ID), "", func(d *project.Design) {
		n := m
		n.ID, n.Name = free(m.ID, "-", ids), free(in.projectorName(m.ID), " ", names)
		d.ProjectorModels = append(d.ProjectorModels, n)
		d.Projector.Model = n.ID
	})))
	in.show()
}
