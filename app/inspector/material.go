// SPDX-License-Identifier: MIT

package inspector

import (
	"fmt"
	"slices"

	"earline/app/field"
	"earline/project"
	"earline/project/file"
)

// palette returns the materials to choose from: those of the design, then those
// that Earline knows and the design has not.
func (in *Inspector) palette() []project.Material {
	if in.known == nil {
		in.known = file.Materials()
	}
	all := slices.Clone(in.host.Design().Room.Materials)
	for _, m := range in.known {
		if _, had := materialOf(all, m.ID); !had {
			all = append(all, m)
		}
	}
	return all
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

// adopt sees that d has the material id, which is one of palette.
func adopt(d *project.Design, palette []project.Material, id string) {
	if _, had := materialOf(d.Room.Materials, id); had || id == "" {
		return
	}
	if m, ok := materialOf(palette, id); ok {
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
	ids := func() []string {
		var o []string
		if none != "" {
			o = append(o, "")
		}
		for _, m := range in.palette() {
			o = append(o, m.ID)
		}
		return o
	}
	line := f.AddChoice(name,
		func() []string {
			all := in.palette()
			var o []string
			for _, id := range ids() {
				if id == "" {
					o = append(o, none)
				} else {
					o = append(o, materialName(all, id))
				}
			}
			return o
		},
		func() int { return slices.Index(ids(), get()) },
		func(i int) error {
			id, all := ids()[i], in.palette()
			return plain(in.host.Do(words().what, "", func(d *project.Design) {
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
	return fmt.Sprintf("%.2f at 125, %.2f at 1k", m.Absorption[1], m.Absorption[4])
}
