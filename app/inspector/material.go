// SPDX-License-Identifier: MIT

package inspector

import (
	"fmt"
	"slices"

	"earline/app/field"
	"earline/project"
	"earline/project/file"
)

// palette is the materials to choose from: those of a design, then those that
// Earline knows and the design has not.
type palette struct {
	of    *project.Design
	all   []project.Material
	names []string // one a material, all different
}

// palette returns the present design's, worked out once a design.
func (in *Inspector) palette() *palette {
	d, p := in.host.Design(), &in.materials
	if p.of == d {
		return p
	}
	if in.known == nil {
		in.known = file.Materials()
	}
	*p = palette{of: d, all: slices.Clone(d.Room.Materials)}
	for _, m := range in.known {
		if _, had := materialOf(p.all, m.ID); !had {
			p.all = append(p.all, m)
		}
	}
	for _, m := range p.all {
		p.names = append(p.names, materialName(p.all, m.ID))
	}
	return p
}

func materialOf(all []project.Material, id string) (project.Material, bool) {
	i := slices.IndexFunc(all, func(m project.Material) bool { return m.ID == id })
	if i < 0 {
		return project.Material{}, false
	}
	return all[i], true
}

// materialName returns the words for a material among all: its name, with its ID
// where another has the same.
func materialName(all []project.Material, id string) string {
	m, ok := materialOf(all, id)
	if !ok || m.Name == "" {
		return id
	}
	for _, o := range all {
		if o.ID != id && o.Name == m.Name {
			return m.Name + " (" + id + ")"
		}
	}
	return m.Name
}

// adopt sees that d has the material id, which is one of from.
func adopt(d *project.Design, from []project.Material, id string) {
	if _, had := materialOf(d.Room.Materials, id); had || id == "" {
		return
	}
	if m, ok := materialOf(from, id); ok {
		m.Absorption = slices.Clone(m.Absorption)
		d.Room.Materials = append(d.Room.Materials, m)
	}
}

// material adds a choice among all materials. none is what an empty ID means
// ("as the walls"); empty where one must be chosen. What is chosen becomes a
// material of the design. A name too long for the line stands under it in full.
func (in *Inspector) material(f *field.Form, name, none string, words func() texts, at value[string]) *field.Line {
	return in.materialTo(f, name, none, func() string { return read(in, at) }, func(d *project.Design, id string) {
		if p := at(d); p != nil {
			*p = id
		}
	}, words)
}

func (in *Inspector) materialTo(f *field.Form, name, none string, get func() string, set func(*project.Design, string), words func() texts) *field.Line {
	first := 0 // how many choices stand before the materials
	if none != "" {
		first = 1
	}
	line := f.AddChoice(name,
		func() []string {
			if first == 0 {
				return in.palette().names
			}
			return append([]string{none}, in.palette().names...)
		},
		func() int {
			id := get()
			if id == "" {
				return first - 1
			}
			return first + slices.IndexFunc(in.palette().all, func(m project.Material) bool { return m.ID == id })
		},
		func(i int) error {
			id, all := "", in.palette().all
			if i >= first {
				id = all[i-first].ID
			}
			return field.Plain(in.host.Do(words().what, "", func(d *project.Design) {
				adopt(d, all, id)
				set(d, id)
			}))
		})
	const fits = 24 // characters in the line beside its name
	in.prose(f, func() string {
		if !line.Visible() || get() == "" {
			return ""
		}
		if full := materialName(in.host.Design().Room.Materials, get()); len([]rune(full)) > fits {
			return full
		}
		return ""
	})
	return line
}

// absorbs says how much a material absorbs, band by band.
func (in *Inspector) absorbs(id string) string {
	m, ok := materialOf(in.host.Design().Room.Materials, id)
	if !ok || len(m.Absorption) != project.OctaveCount {
		return ""
	}
	return fmt.Sprintf("%.2f at 125 Hz, %.2f at 1 kHz", m.Absorption[1], m.Absorption[4])
}
