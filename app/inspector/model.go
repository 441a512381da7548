// SPDX-License-Identifier: MIT

package inspector

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/sound"
)

// modelPart returns a place within the model of the loudspeaker that is shown.
func modelPart[T any](in *Inspector, of func(*project.Model) *T) value[T] {
	return func(d *project.Design) *T {
		l := in.current(d)
		if l == nil {
			return nil
		}
		i := slices.IndexFunc(d.Models, func(m project.Model) bool { return m.ID == l.Model })
		return entry(func() []project.Model { return d.Models }, i, of)
	}
}

// model returns the model of the loudspeaker that is shown; nil for none.
func (in *Inspector) model() *project.Model {
	return modelPart(in, func(m *project.Model) *project.Model { return m })(in.host.Design())
}

// ownName is what a model is called where nothing else tells: by its name, or
// its ID.
func (in *Inspector) ownName() string {
	if m := in.model(); m != nil {
		return in.modelName(m.ID)
	}
	return "model"
}

func (in *Inspector) buildTuning(f *field.Form, some func() bool) {
	open := in.section(f, "Tuning", in.tuningSummary, &in.open.tuning, some)
	words := func() texts { return texts{what: "tune " + in.speakerName()} }
	in.figure(f, "Delay", words, 1, 0.1, " ms", part(in, func(l *project.Loudspeaker) *float64 { return &l.Tuning.Delay })).When(open)
	in.figure(f, "Gain", words, 1, 0.5, " dB", part(in, func(l *project.Loudspeaker) *float64 { return &l.Tuning.Gain })).When(open)
	common := func() float64 { return in.host.Design().Playback.OrUsual().Crossover }
	main := func() bool {
		l := in.current(in.host.Design())
		return open() && l != nil && !sound.LFE(l.Label)
	}
	in.given(f, "Crossover", words, 5, " Hz", func() string { return "common, " + plainNumber(common()) + " Hz" }, common,
		part(in, func(l *project.Loudspeaker) *float64 { return &l.Tuning.Crossover })).When(main)
	inverted := part(in, func(l *project.Loudspeaker) *bool { return &l.Tuning.Inverted })
	f.AddCheck("Polarity inverted", func() bool { return read(in, inverted) }, func(on bool) error {
		return edit(in, words().what, "", inverted, on)
	}).When(open)
}

func (in *Inspector) tuningSummary() string {
	l := in.current(in.host.Design())
	if l == nil {
		return ""
	}
	text := plainNumber(l.Tuning.Delay) + " ms, " + plainNumber(l.Tuning.Gain) + " dB"
	if l.Tuning.Inverted {
		text += ", inverted"
	}
	if l.Tuning.Crossover != 0 {
		text += ", " + plainNumber(l.Tuning.Crossover) + " Hz"
	}
	return text
}

// buildModel adds the model of the loudspeaker that is shown.
func (in *Inspector) buildModel(f *field.Form, some func() bool) {
	open := in.section(f, "Model", func() string {
		m := in.model()
		if m == nil {
			return ""
		}
		show := func(l unit.Length) string { return plainNumber(float64(l) * 1000) }
		unitName := " mm"
		if !in.metric() {
			show = func(l unit.Length) string { return fmt.Sprintf("%.1f", float64(l/unit.Inch)) }
			unitName = " in"
		}
		return show(m.Width) + " × " + show(m.Height) + " × " + show(m.Depth) + unitName
	}, &in.open.model, func() bool { return some() && in.model() != nil })
	in.prose(f, func() string {
		if !open() {
			return ""
		}
		return usedBy(in.modelUsers())
	})
	fresh := field.NewButtonWithIcon("New model from this one", base.ContentCopyIcon(), in.newModel)
	f.AddObject(fresh, nil).When(open)

	change := func() texts { return texts{what: "change the model " + in.ownName()} }
	in.text(f, "Name", change, modelPart(in, func(m *project.Model) *string { return &m.Name })).When(open)
	for _, s := range []struct {
		name string
		of   func(*project.Model) *unit.Length
	}{
		{"Box width", func(m *project.Model) *unit.Length { return &m.Width }},
		{"Box height", func(m *project.Model) *unit.Length { return &m.Height }},
		{"Box depth", func(m *project.Model) *unit.Length { return &m.Depth }},
	} {
		at := modelPart(in, s.of)
		in.lengthTo(f, s.name, change, func() unit.Length { return read(in, at) },
			func(label, merge string, v unit.Length) error { return in.sizeModel(label, merge, at, v) },
			10*unit.Millimetre, unit.Inch/2, func(l unit.Length) string { return l.Format(in.metric()) }, unit.Metre).When(open)
	}
	flush := modelPart(in, func(m *project.Model) *bool { return &m.Flush })
	f.AddCheck("Flush in its wall", func() bool { return read(in, flush) }, func(on bool) error {
		return edit(in, change().what, "", flush, on)
	}).When(open)
	size := func(name string, of func(*project.Model) *unit.Length) *field.Line {
		return in.length(f, name, change, modelPart(in, of))
	}
	isFlush := func() bool { return open() && read(in, flush) }
	size("Cut-out width", func(m *project.Model) *unit.Length { return &m.CutoutW }).When(isFlush)
	size("Cut-out height", func(m *project.Model) *unit.Length { return &m.CutoutH }).When(isFlush)
	number := func(name string, step float64, suffix string, of func(*project.Model) *float64) *field.Line {
		return in.figure(f, name, change, 1, step, suffix, modelPart(in, of))
	}
	angle := func(name string, of func(*project.Model) *unit.Degrees) *field.Line {
		return in.angle(f, name, change, modelPart(in, of))
	}
	why(angle("Coverage, horiz.", func(m *project.Model) *unit.Degrees { return &m.CoverageH }).When(open), "coverage-across")
	why(angle("Coverage, vert.", func(m *project.Model) *unit.Degrees { return &m.CoverageV }).When(open), "coverage-upright")
	f.AddReadout("Polar data", in.polarWords).When(func() bool { return open() && in.model().Polar.Given() })
	why(angle("Built-in aim, right", func(m *project.Model) *unit.Degrees { return &m.AimRight }).When(open), "coverage-across")
	why(angle("Built-in aim, up", func(m *project.Model) *unit.Degrees { return &m.AimUp }).When(open), "coverage-upright")
	number("Sensitivity", 0.5, " dB", func(m *project.Model) *float64 { return &m.Sensitivity }).When(open).Why("With the power it decides how loud the peaks can be at every seat.")
	unknown := func() string { return "not known" }
	in.given(f, "Impedance", change, 1, " ohm", unknown, func() float64 { return 8 }, modelPart(in, func(m *project.Model) *float64 { return &m.Impedance })).When(open)
	number("Power, continuous", 10, " W", func(m *project.Model) *float64 { return &m.Power }).When(open).Why("With the sensitivity it decides how loud the peaks can be at every seat.")
	in.given(f, "Low cut-off, −3 dB", change, 1, " Hz", unknown, func() float64 { return 80 }, modelPart(in, func(m *project.Model) *float64 { return &m.Cutoff })).When(open)
	choice(in, f, "Enclosure", change,
		func() []project.Enclosure { return []project.Enclosure{"", project.Sealed, project.Ported} },
		func(e project.Enclosure) string {
			if e == "" {
				return "not known: as sealed"
			}
			return string(e)
		}, modelPart(in, func(m *project.Model) *project.Enclosure { return &m.Enclosure })).When(open)
	isSub := func() bool { return open() && in.model().Subwoofer() }
	choice(in, f, "Sensitivity is for", change,
		func() []project.Space { return []project.Space{"", project.FreeField, project.HalfSpace} },
		func(s project.Space) string {
			if m := in.model(); s == "" && m != nil {
				return "not said: " + string(project.Model{Flush: m.Flush}.SensedIn())
			}
			return string(s)
		}, modelPart(in, func(m *project.Model) *project.Space { return &m.Space })).When(isSub)
	in.given(f, "Peak excursion", change, 1, " mm", unknown, func() float64 { return 10 }, modelPart(in, func(m *project.Model) *float64 { return &m.Excursion })).When(isSub)
	number("Mass", 0.5, " kg", func(m *project.Model) *float64 { return &m.Mass }).When(open)

	in.drivers = in.many(f, func() int {
		if !open() {
			return 0
		}
		return len(in.model().Drivers)
	}, in.buildDriver)
	f.AddObject(field.NewButtonWithIcon("Add a driver", base.ContentAddIcon(), in.addDriver), nil).When(open)
}

// sizeModel edits a size of the model. A driver that would lie beyond the front
// is named, since the line beside which that is said is the box's.
func (in *Inspector) sizeModel(label, merge string, at value[unit.Length], v unit.Length) error {
	err := in.host.Do(label, merge, func(d *project.Design) {
		if p := at(d); p != nil {
			*p = v
		}
	})
	for _, f := range project.Faults(err) {
		_, rest, found := strings.Cut(f.Field, ".drivers[")
		var i int
		if n, _ := fmt.Sscanf(rest, "%d", &i); found && n == 1 {
			return fmt.Errorf("driver %d would lie beyond the front", i+1)
		}
	}
	return field.Plain(err)
}

func (in *Inspector) polarWords() string {
	m := in.model()
	if m == nil {
		return ""
	}
	return fmt.Sprintf("measured, %d + %d curves", len(m.Polar.Horizontal), len(m.Polar.Vertical))
}

// buildDriver makes the lines of driver i of the model.
func (in *Inspector) buildDriver(f *field.Form, i int) fyne.CanvasObject {
	words := func() texts { return texts{what: fmt.Sprintf("change driver %d of %s", i+1, in.ownName())} }
	at := func(of func(*project.Driver) *unit.Length) value[unit.Length] { return driver(in, i, of) }
	choice(in, f, fmt.Sprintf("%d: band", i+1), words,
		func() []project.Band {
			return []project.Band{project.High, project.Mid, project.Low, project.Full, project.Sub}
		},
		func(b project.Band) string { return string(b) }, driver(in, i, func(d *project.Driver) *project.Band { return &d.Band }))
	in.small(f, "    diameter", words, at(func(d *project.Driver) *unit.Length { return &d.Diameter }))
	in.small(f, "    to the right", words, at(func(d *project.Driver) *unit.Length { return &d.Right }))
	in.small(f, "    up", words, at(func(d *project.Driver) *unit.Length { return &d.Up }))
	remove := field.NewButtonWithIcon("", base.ContentRemoveIcon(), func() { in.removeDriver(i) })
	if m := in.model(); m != nil && len(m.Drivers) < 2 {
		remove.Disable()
	}
	return container.NewBorder(nil, nil, nil, container.NewVBox(remove), f.Object())
}

func driver[T any](in *Inspector, i int, of func(*project.Driver) *T) value[T] {
	return func(d *project.Design) *T {
		m := modelPart(in, func(m *project.Model) *project.Model { return m })(d)
		if m == nil {
			return nil
		}
		return entry(func() []project.Driver { return m.Drivers }, i, of)
	}
}

func (in *Inspector) addDriver() {
	in.note(field.Plain(in.host.Do("add a driver to "+in.ownName(), "", func(d *project.Design) {
		if m := modelPart(in, func(m *project.Model) *project.Model { return m })(d); m != nil && len(m.Drivers) > 0 {
			m.Drivers = append(m.Drivers, m.Drivers[len(m.Drivers)-1])
		}
	})))
}

func (in *Inspector) removeDriver(i int) {
	in.note(field.Plain(in.host.Do(fmt.Sprintf("remove driver %d of %s", i+1, in.ownName()), "", func(d *project.Design) {
		if m := modelPart(in, func(m *project.Model) *project.Model { return m })(d); m != nil && i < len(m.Drivers) {
			m.Drivers = slices.Delete(m.Drivers, i, i+1)
		}
	})))
}

// modelUsers returns the names of the other loudspeakers of the model.
func (in *Inspector) modelUsers() (names []string) {
	d := in.host.Design()
	l := in.current(d)
	if l == nil {
		return nil
	}
	for i, o := range d.Speakers {
		if o.Model == l.Model && i != in.speaker {
			names = append(names, o.Name())
		}
	}
	return names
}

// usedBy says what else a change of a model changes.
func usedBy(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return "Also used by " + strings.Join(names, ", ") + ": a change changes them too."
}

// newModel gives the loudspeaker that is shown, and not its partner, a model of its own,
// which begins as its present one.
func (in *Inspector) newModel() {
	m := in.model()
	if m == nil {
		return
	}
	var names []string
	for _, o := range in.host.Design().Models {
		names = append(names, o.Name)
	}
	in.note(field.Plain(in.host.Host.Do("new model from "+in.ownName(), "", func(d *project.Design) {
		n := *m
		n.ID, n.Name = free(m.ID, "-", in.modelIDs()), free(cmp.Or(m.Name, m.ID), " ", names)
		d.Models = append(d.Models, n)
		in.current(d).Model = n.ID
	})))
}
