// SPDX-License-Identifier: MIT

package inspector

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	base "fyne.io/fyne/v2/theme"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
)

func (in *Inspector) buildCeiling(f *field.Form) {
	slopes := []project.Slope{project.Flat, project.FrontToBack, project.LeftToRight}
	f.AddChoice("Ceiling",
		func() []string { return []string{"flat", "slopes front to back", "slopes left to right"} },
		func() int { return slices.Index(slopes, in.host.Design().Room.Ceiling.Slope) },
		func(i int) error {
			return field.Plain(in.host.Do("change the ceiling's slope", "", func(d *project.Design) {
				c := &d.Room.Ceiling
				c.Slope = slopes[i]
				if c.Slope != project.Flat && c.FarHeight == 0 {
					c.FarHeight = c.Height // begins level
				}
			}))
		})
	slope := func() project.Slope { return in.host.Design().Room.Ceiling.Slope }
	height := func(d *project.Design) *unit.Length { return &d.Room.Ceiling.Height }
	far := func(d *project.Design) *unit.Length { return &d.Room.Ceiling.FarHeight }
	words := say("change the ceiling height")
	why(in.length(f, "Height", words, height).When(func() bool { return slope() == project.Flat }), "headroom")
	why(in.length(f, "Height at screen", words, height).When(func() bool { return slope() == project.FrontToBack }), "headroom")
	why(in.length(f, "Height at back", words, far).When(func() bool { return slope() == project.FrontToBack }), "headroom")
	why(in.length(f, "Height at left", words, height).When(func() bool { return slope() == project.LeftToRight }), "headroom")
	why(in.length(f, "Height at right", words, far).When(func() bool { return slope() == project.LeftToRight }), "headroom")

	list := container.New(layout.NewCustomPaddedVBoxLayout(2))
	f.AddObject(list, func() { in.showPlanes(f, list) }).When(func() bool { return len(in.host.Design().Room.Ceiling.Planes) > 0 })
	f.AddObject(field.NewButton("Add a ceiling plane", in.addPlane), nil).When(func() bool {
		return len(in.host.Design().Room.Ceiling.Planes) < project.MaxPlanes
	})
}

// addPlane adds a plane from the middle of the room down to a wall: to the right, the
// left, the back or the front, the first that lowers anything. Two make a gable, four
// a hip.
func (in *Inspector) addPlane() {
	const lower = 0.7 // of the height in the middle; our own choice, to begin with
	d := in.host.Design()
	lo, hi := d.Room.Polygon().Bounds()
	mid := project.Corner{X: unit.Length(millimetres((lo.X + hi.X) / 2)), Y: unit.Length(millimetres((lo.Y + hi.Y) / 2))}
	h := d.Room.CeilingAt(float64(mid.X), float64(mid.Y))
	right, left, back, front := mid, mid, mid, mid
	right.Y, left.Y, back.X, front.X = unit.Length(hi.Y), unit.Length(lo.Y), unit.Length(hi.X), unit.Length(lo.X)
	var err error
	for _, to := range [4]project.Corner{right, left, back, front} {
		p := project.CeilingPlane{From: mid, FromHeight: unit.Length(millimetres(h)), To: to, ToHeight: unit.Length(millimetres(lower * h))}
		add := func(d *project.Design) { d.Room.Ceiling.Planes = append(slices.Clone(d.Room.Ceiling.Planes), p) }
		with := d.Clone()
		if add(with); with.Validate() == nil {
			in.note(field.Plain(in.host.Do("add a ceiling plane", "", add)))
			return
		} else if err == nil {
			err = with.Validate()
		}
	}
	in.note(field.Plain(err))
}

// showPlanes lists the planes of the ceiling; the list is made anew when their number
// changes.
func (in *Inspector) showPlanes(outer *field.Form, list *fyne.Container) {
	n := len(in.host.Design().Room.Ceiling.Planes)
	if len(in.planes) != n {
		in.planes, list.Objects = nil, nil
		for i := range n {
			list.Add(in.newPlane(outer, i))
		}
	}
	for _, f := range in.planes {
		f.Resized = in.relayout
		f.Update()
	}
}

// newPlane makes one entry of the list of planes.
func (in *Inspector) newPlane(outer *field.Form, i int) fyne.CanvasObject {
	words := say(fmt.Sprintf("change ceiling plane %d", i+1))
	f := field.NewForm(outer.Outer)
	in.planes = append(in.planes, f)
	for _, l := range []struct {
		name string
		of   func(*project.CeilingPlane) *unit.Length
	}{
		{fmt.Sprintf("Plane %d: height", i+1), func(p *project.CeilingPlane) *unit.Length { return &p.FromHeight }},
		{"    at, from screen", func(p *project.CeilingPlane) *unit.Length { return &p.From.X }},
		{"    at, from left", func(p *project.CeilingPlane) *unit.Length { return &p.From.Y }},
		{"    to height", func(p *project.CeilingPlane) *unit.Length { return &p.ToHeight }},
		{"    at, from screen", func(p *project.CeilingPlane) *unit.Length { return &p.To.X }},
		{"    at, from left", func(p *project.CeilingPlane) *unit.Length { return &p.To.Y }},
	} {
		in.length(f, l.name, words, func(d *project.Design) *unit.Length {
			if i >= len(d.Room.Ceiling.Planes) {
				return nil
			}
			return l.of(&d.Room.Ceiling.Planes[i])
		})
	}
	remove := field.NewButtonWithIcon("", base.ContentRemoveIcon(), func() {
		if i < len(in.host.Design().Room.Ceiling.Planes) { // it may have gone since the last picture
			in.note(field.Plain(in.host.Do(fmt.Sprintf("remove ceiling plane %d", i+1), "", func(d *project.Design) {
				d.Room.Ceiling.Planes = slices.Delete(d.Room.Ceiling.Planes, i, i+1)
			})))
		}
	})
	return container.NewBorder(nil, nil, nil, container.NewVBox(remove), f.Object())
}
