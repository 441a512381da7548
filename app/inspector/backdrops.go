// SPDX-License-Identifier: MIT

package inspector

import (
	"fmt"
	"slices"

	base "fyne.io/fyne/v2/theme"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
)

func (in *Inspector) backdropsSummary() string {
	if n := len(in.host.Design().Backdrops); n > 0 {
		return plural(n, "backdrop")
	}
	return "none"
}

// backdrop returns a place within the backdrop that is shown.
func backdrop[T any](in *Inspector, of func(*project.Backdrop) *T) value[T] {
	return func(d *project.Design) *T {
		return entry(func() []project.Backdrop { return d.Backdrops }, in.backdrop, of)
	}
}

func (in *Inspector) buildBackdrops(f *field.Form) {
	some := func() bool { return in.backdrop < len(in.host.Design().Backdrops) }
	in.picks(f, &in.backdrop, func() []string {
		var names []string
		for i := range in.host.Design().Backdrops {
			b := &in.host.Design().Backdrops[i]
			if b.Name == "" {
				names = append(names, fmt.Sprintf("backdrop %d", i+1))
				continue
			}
			names = append(names, b.Name)
		}
		return names
	})
	words := func(verb string) func() texts {
		return func() texts { return texts{what: verb + " " + in.backdropName()} }
	}
	in.text(f, "Name", words("rename"), backdrop(in, func(b *project.Backdrop) *string { return &b.Name })).When(some)
	for _, l := range []struct {
		name string
		of   func(*project.Backdrop) *unit.Length
	}{
		{"From screen wall", func(b *project.Backdrop) *unit.Length { return &b.At.X }},
		{"From left wall", func(b *project.Backdrop) *unit.Length { return &b.At.Y }},
		{"Above floor", func(b *project.Backdrop) *unit.Length { return &b.At.Z }},
	} {
		in.length(f, l.name, words("move"), backdrop(in, l.of)).When(some)
	}
	in.angle(f, "Turn", words("turn"), backdrop(in, func(b *project.Backdrop) *unit.Degrees { return &b.Turn })).When(some)
	hidden := backdrop(in, func(b *project.Backdrop) *bool { return &b.Hidden })
	f.AddCheck("Shown", func() bool { return some() && !read(in, hidden) }, func(on bool) error {
		verb := "hide "
		if on {
			verb = "show "
		}
		return edit(in, verb+in.backdropName(), "", hidden, !on)
	}).When(some)
	obstacle := backdrop(in, func(b *project.Backdrop) *bool { return &b.Obstacle })
	f.AddCheck("In the way of sight", func() bool { return read(in, obstacle) }, func(on bool) error {
		what := " out of the way of sight"
		if on {
			what = " in the way of sight"
		}
		return edit(in, in.backdropName()+what, "", obstacle, on)
	}).When(some)
	f.AddReadout("Holds", in.backdropHolds).When(some)
	f.AddObject(field.NewButtonWithIcon("Remove", base.ContentRemoveIcon(), in.removeBackdrop), func() {}).When(some)
	f.AddNote("Meshes and plan lines of other programs: File, Import backdrop. Only triangles can be in the way of sight.")
}

// backdropHolds says how large the shape of the backdrop that is shown is.
func (in *Inspector) backdropHolds() string {
	d := in.host.Design()
	if in.backdrop >= len(d.Backdrops) {
		return ""
	}
	b := &d.Backdrops[in.backdrop]
	m, err := b.Mesh()
	if err != nil {
		return ""
	}
	text := plural(len(m.Triangles), "triangle") + ", " + plural(len(m.Lines), "line")
	if b.File != "" {
		text += " of " + b.File
	}
	return text
}

func (in *Inspector) backdropName() string {
	if d := in.host.Design(); in.backdrop < len(d.Backdrops) {
		return d.Backdrops[in.backdrop].Words()
	}
	return "backdrop"
}

func (in *Inspector) removeBackdrop() {
	i := in.backdrop
	if i >= len(in.host.Design().Backdrops) {
		return
	}
	in.note(field.Plain(in.host.Do("remove "+in.backdropName(), "", func(d *project.Design) {
		d.Backdrops = slices.Delete(d.Backdrops, i, i+1)
	})))
}
