// SPDX-License-Identifier: MIT

package inspector

import (
	"cmp"
	"fmt"
	"slices"

	base "fyne.io/fyne/v2/theme"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
)

// chairPart returns a place within the chair model of the row that is shown.
func chairPart[T any](in *Inspector, of func(*project.Chair) *T) value[T] {
	return func(d *project.Design) *T {
		if in.row >= len(d.Seating.Rows) {
			return nil
		}
		i := slices.IndexFunc(d.Chairs, func(c project.Chair) bool { return c.ID == d.Seating.Rows[in.row].Chair })
		return entry(func() []project.Chair { return d.Chairs }, i, of)
	}
}

func (in *Inspector) chair() *project.Chair {
	return chairPart(in, func(c *project.Chair) *project.Chair { return c })(in.host.Design())
}

func (in *Inspector) ownChair() string {
	if c := in.chair(); c != nil {
		return in.chairName(c.ID)
	}
	return "chair"
}

// buildChair adds the chair model of the row that is shown.
func (in *Inspector) buildChair(f *field.Form) {
	open := in.section(f, "Chair model", func() string {
		if c := in.chair(); c != nil {
			return "seat at " + c.PanHeight.Format(in.metric())
		}
		return ""
	}, &in.open.chair, func() bool { return in.chair() != nil })
	in.prose(f, func() string {
		if !open() {
			return ""
		}
		return usedBy(in.chairUsers())
	})
	f.AddObject(field.NewButtonWithIcon("New model from this one", base.ContentCopyIcon(), in.newChair), nil).When(open)

	change := func() texts { return texts{what: "change the chair " + in.ownChair()} }
	in.text(f, "Name", change, chairPart(in, func(c *project.Chair) *string { return &c.Name })).When(open)
	size := func(name string, of func(*project.Chair) *unit.Length) *field.Line {
		return in.length(f, name, change, chairPart(in, of)).When(open)
	}
	why(size("Seat height", func(c *project.Chair) *unit.Length { return &c.PanHeight }), "sight", "picture-margin")
	size("Seat depth", func(c *project.Chair) *unit.Length { return &c.PanDepth })
	size("Seat width", func(c *project.Chair) *unit.Length { return &c.PanWidth })
	why(size("Back height", func(c *project.Chair) *unit.Length { return &c.BackHeight }), "sight")
	why(size("Back thickness", func(c *project.Chair) *unit.Length { return &c.BackThickness }), "row-passage")
	rest := chairPart(in, func(c *project.Chair) *unit.Length { return &c.Headrest })
	why(in.lengthTo(f, "Headrest height", change, func() unit.Length { return read(in, rest) },
		func(label, merge string, v unit.Length) error {
			return field.Plain(in.host.Do(label, merge, func(d *project.Design) {
				c := chairPart(in, func(c *project.Chair) *project.Chair { return c })(d)
				if c == nil {
					return
				}
				if c.Headrest = v; v > 0 && c.HeadrestWidth == 0 {
					c.HeadrestWidth = c.PanWidth / 2 // somewhere to begin
				}
			}))
		}, 10*unit.Millimetre, unit.Inch/2, func(l unit.Length) string { return l.Format(in.metric()) }, unit.Metre).When(open), "sight")
	in.length(f, "Headrest width", change, chairPart(in, func(c *project.Chair) *unit.Length { return &c.HeadrestWidth })).
		When(func() bool { return open() && read(in, rest) > 0 })
	size("Arm width", func(c *project.Chair) *unit.Length { return &c.ArmWidth })
	size("Arms above seat", func(c *project.Chair) *unit.Length { return &c.ArmHeight })
	for _, r := range []struct {
		name string
		of   func(*project.Chair) *unit.Degrees
	}{
		{"Recline from", func(c *project.Chair) *unit.Degrees { return &c.MinRecline }},
		{"Recline to", func(c *project.Chair) *unit.Degrees { return &c.MaxRecline }},
	} {
		at := chairPart(in, r.of)
		set := func(merge string, v unit.Degrees) error {
			return reclined(in.host.Do(change().what, merge, func(d *project.Design) {
				if p := at(d); p != nil {
					*p = v
				}
			}))
		}
		f.AddEntry(r.name, field.Binding{
			Value: func() string { return read(in, at).String() },
			Set: func(text string) error {
				v, err := unit.ParseDegreesSum(text)
				if err != nil {
					return err
				}
				return set("", v)
			},
			Step: func(n int) error { return set(key(r.name, change().what), read(in, at)+unit.Degrees(n)) },
		}).When(open)
	}
	why(size("Footrest reach", func(c *project.Chair) *unit.Length { return &c.Footrest }), "row-footrest")
	in.material(f, "Upholstery", "not known", change, chairPart(in, func(c *project.Chair) *string { return &c.Upholstery })).When(open)
}

// reclined names the row whose recline the chair would no longer have, since the
// line beside which that is said is the chair's.
func reclined(err error) error {
	for _, f := range project.Faults(err) {
		var row int
		if n, _ := fmt.Sscanf(f.Field, "seating.rows[%d].recline_deg", &row); n == 1 {
			return fmt.Errorf("row %d reclines by %s", row+1, f.Found)
		}
	}
	return field.Plain(err)
}

// chairUsers returns the other rows of the chair.
func (in *Inspector) chairUsers() (names []string) {
	rows := in.host.Design().Seating.Rows
	for i, r := range rows {
		if i != in.row && r.Chair == rows[in.row].Chair {
			names = append(names, fmt.Sprintf("row %d", i+1))
		}
	}
	return names
}

// newChair gives the row that is shown a chair of its own, which begins as its
// present one.
func (in *Inspector) newChair() {
	c := in.chair()
	if c == nil {
		return
	}
	var names []string
	for _, o := range in.host.Design().Chairs {
		names = append(names, o.Name)
	}
	in.note(field.Plain(in.host.Do("new model from "+in.ownChair(), "", func(d *project.Design) {
		n := *c
		n.ID, n.Name = free(c.ID, "-", in.chairIDs()), free(cmp.Or(c.Name, c.ID), " ", names)
		d.Chairs = append(d.Chairs, n)
		d.Seating.Rows[in.row].Chair = n.ID
	})))
}

// free returns text with the first number from 2 after it, behind between, that
// none of taken is.
func free(text, between string, taken []string) string {
	for n := 2; ; n++ {
		if s := fmt.Sprint(text, between, n); !slices.Contains(taken, s) {
			return s
		}
	}
}
