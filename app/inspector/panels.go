// SPDX-License-Identifier: MIT

package inspector

import (
	"fmt"
	"slices"
	"strings"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/panel"
)

// run returns a place within the run of panels that is shown.
func run[T any](in *Inspector, of func(*project.Panels) *T) value[T] {
	return func(d *project.Design) *T {
		return entry(func() []project.Panels { return d.Panels }, in.run, of)
	}
}

func (in *Inspector) panelsSummary() string {
	n := 0
	for _, r := range panel.Of(in.host.Design()) {
		n += len(r.Modules)
	}
	if n == 0 {
		return "none"
	}
	return plural(n, "panel")
}

// buildPanels makes the lines of a run of panels.
func (in *Inspector) buildPanels(f *field.Form, open func() bool) {
	some := func() bool { return open() && in.run < len(in.host.Design().Panels) }
	listButtons(f, field.NewButton("", in.addPanels), in.duplicatePanels, in.removePanels, some).When(open)
	in.picks(f, &in.run, func() []string {
		var names []string
		for _, p := range in.host.Design().Panels {
			names = append(names, wallName(in.host.Design(), p.Wall))
		}
		return names
	}).When(open)
	words := func(verb string) func() texts {
		return func() texts { return texts{what: verb + " " + in.runName()} }
	}
	wall := run(in, func(p *project.Panels) *int { return &p.Wall })
	f.AddChoice("Along",
		func() []string {
			d := in.host.Design()
			return append(d.Room.WallNames(), wallName(d, 0))
		},
		func() int {
			n := len(in.host.Design().Room.Footprint)
			return (read(in, wall) + n) % (n + 1)
		},
		func(i int) error {
			n := len(in.host.Design().Room.Footprint)
			return field.Plain(edit(in, "hang "+in.runName()+" elsewhere", "", wall, (i+1)%(n+1)))
		}).When(some)
	f.AddReadout("Laid out", in.laidOut).When(some)
	for _, l := range []struct {
		name, verb string
		of         func(*project.Panels) *unit.Length
		small      bool
	}{
		{"Lower edge", "move the lower edge of", func(p *project.Panels) *unit.Length { return &p.Low }, false},
		{"Upper edge (0: all)", "move the upper edge of", func(p *project.Panels) *unit.Length { return &p.High }, false},
		{"Panel width", "change the width of", func(p *project.Panels) *unit.Length { return &p.Module }, false},
		{"Joint", "change the joints of", func(p *project.Panels) *unit.Length { return &p.Gap }, true},
		{"Light joint (0: none)", "change the light of", func(p *project.Panels) *unit.Length { return &p.LightGap }, true},
		{"Depth off wall", "change the depth of", func(p *project.Panels) *unit.Length { return &p.Depth }, true},
	} {
		if l.small {
			in.small(f, l.name, words(l.verb), run(in, l.of)).When(some)
		} else {
			in.length(f, l.name, words(l.verb), run(in, l.of)).When(some)
		}
	}
	in.count(f, "Light every", words("change the light of"), run(in, func(p *project.Panels) *int { return &p.LightEvery })).When(some)
	pattern := run(in, func(p *project.Panels) *[]project.PanelKind { return &p.Pattern })
	f.AddEntry("Pattern", field.Binding{
		Value: func() string {
			if in.run >= len(in.host.Design().Panels) {
				return ""
			}
			return patternText(in.host.Design().Panels[in.run].Pattern)
		},
		Set: func(text string) error {
			kinds, err := readPattern(text)
			if err != nil {
				return err
			}
			label := words("change the pattern of")().what
			return field.Plain(in.host.Do(label, "", func(d *project.Design) {
				if p := pattern(d); p != nil {
					*p = kinds
				}
			}))
		},
	}).When(some)
	in.material(f, "Absorbing", "none", words("change what absorbs in"), run(in, func(p *project.Panels) *string { return &p.Absorb })).When(some)
	in.material(f, "Diffusing of", "none", words("change what diffuses in"), run(in, func(p *project.Panels) *string { return &p.Diffuse })).When(some)
}

// laidOut says how many panels hang, and what is left over.
func (in *Inspector) laidOut() string {
	d := in.host.Design()
	for _, r := range panel.Of(d) {
		if r.Index != in.run {
			continue
		}
		cut := 0
		for i := range r.Modules {
			if len(r.Modules[i].Cuts) > 0 {
				cut++
			}
		}
		text := fmt.Sprintf("%s, %s at either end", plural(len(r.Modules), "panel"), unit.Length(r.Margin()).Format(in.metric()))
		if cut > 0 {
			text += fmt.Sprintf(", %d cut", cut)
		}
		return text
	}
	return "none"
}

func patternText(kinds []project.PanelKind) string {
	words := make([]string, len(kinds))
	for i, k := range kinds {
		words[i] = string(k)
	}
	return strings.Join(words, ", ")
}

// readPattern reads kinds of panel with commas or spaces between; a, d and b will do.
func readPattern(text string) ([]project.PanelKind, error) {
	var kinds []project.PanelKind
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r == ',' || r == ' ' || r == ';' }) {
		at := slices.IndexFunc(project.PanelKinds(), func(k project.PanelKind) bool { return strings.HasPrefix(string(k), w) })
		if at < 0 {
			return nil, &project.Fault{Found: fmt.Sprintf("%q", w), Allowed: patternText(project.PanelKinds())}
		}
		kinds = append(kinds, project.PanelKinds()[at])
	}
	if len(kinds) == 0 {
		return nil, &project.Fault{Found: "nothing", Allowed: patternText(project.PanelKinds()) + ", one for each panel"}
	}
	return kinds, nil
}

func (in *Inspector) runName() string {
	if d := in.host.Design(); in.run < len(d.Panels) {
		return "the panels on the " + wallName(d, d.Panels[in.run].Wall)
	}
	return "panels"
}

// addPanels adds panels on the first wall that has none, all absorbing: only where to
// begin.
func (in *Inspector) addPanels() {
	d, all := in.host.Design(), in.palette().all
	id := "panel-fabric"
	if _, ok := materialOf(all, id); !ok {
		id = all[0].ID
	}
	p := project.Panels{Wall: 1, Module: 0.6, Gap: 0.01, Depth: 0.06, Pattern: []project.PanelKind{project.AbsorbPanel}, Absorb: id}
	for w := 1; w <= len(d.Room.Footprint); w++ {
		p.Wall = w
		if p.Count(d.Room.PanelLength(w)) > 0 && !slices.ContainsFunc(d.Panels, func(q project.Panels) bool { return q.Wall == w }) {
			in.insertPanels("add panels", p)
			return
		}
	}
	p.Wall = 0
	in.insertPanels("add panels", p)
}

func (in *Inspector) duplicatePanels() {
	d := in.host.Design()
	if in.run >= len(d.Panels) {
		return
	}
	p := d.Panels[in.run]
	p.Wall = (p.Wall + 1) % (len(d.Room.Footprint) + 1)
	in.insertPanels("duplicate "+in.runName(), p)
}

func (in *Inspector) insertPanels(label string, p project.Panels) {
	at := min(in.run+1, len(in.host.Design().Panels))
	all := in.palette().all
	if err := in.host.Do(label, "", func(d *project.Design) {
		for _, id := range []string{p.Absorb, p.Diffuse} {
			if id != "" {
				adopt(d, all, id)
			}
		}
		d.Panels = slices.Insert(d.Panels, at, p)
		d.Panels[at].Pattern = slices.Clone(p.Pattern)
	}); err != nil {
		in.note(field.Plain(err))
		return
	}
	in.run = at
	in.show()
}

func (in *Inspector) removePanels() {
	i := in.run
	if i >= len(in.host.Design().Panels) {
		return
	}
	in.note(field.Plain(in.host.Do("remove "+in.runName(), "", func(d *project.Design) {
		d.Panels = slices.Delete(d.Panels, i, i+1)
	})))
}
