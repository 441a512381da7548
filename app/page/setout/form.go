// SPDX-License-Identifier: MIT

package setout

import (
	"math"
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/setout"
)

// form edits what the room is set out from, and what stands in the title block: each
// edit one step of undo.
type form struct {
	page   *setOutPage
	form   *field.Form
	first  *field.Line
	object fyne.CanvasObject
}

func newForm(p *setOutPage) *form {
	f := &form{page: p}
	scroll := container.NewVScroll(nil)
	f.form = field.NewForm(scroll)
	f.datum()
	f.job()
	scroll.Content = container.New(layout.NewCustomPaddedLayout(4, 4, 8, 12), f.form.Object())
	f.object = scroll
	return f
}

func (f *form) update() {
	if f.object.Visible() {
		f.form.Update()
	}
}

// focus gives the keyboard to the first entry.
func (f *form) focus() { field.Focus(f.first.Entry) }

func (f *form) design() *project.Design { return f.page.session.Design() }

// show prints a length as the list does.
func (f *form) show(v unit.Length) string {
	return (&setout.List{Units: f.design().Units}).Show(float64(v))
}

// edit changes the design: one step of undo.
func (f *form) edit(label, merge string, change func(*project.Design)) error {
	return field.Plain(f.page.session.Do(label, merge, change))
}

// length adds a length that is read in millimetres or inches where no unit is typed.
// none says what stands there for 0, which an empty entry means too.
func (f *form) length(name, what string, now func() unit.Length, none func() string, at func(*project.Datum) *unit.Length) *field.Line {
	get := func() unit.Length { d := f.design().Datum; return *at(&d) }
	set := func(merge string, v unit.Length) error {
		return f.edit("change the "+what, merge, func(d *project.Design) { *at(&d.Datum) = v })
	}
	bare := func() unit.Length {
		if f.design().Units == project.Imperial {
			return unit.Inch
		}
		return unit.Millimetre
	}
	return f.form.AddEntry(name, field.Binding{
		Value: func() string {
			if get() == 0 {
				return none()
			}
			return f.show(get())
		},
		Set: func(text string) error {
			if text == "" || text == none() {
				return set("", 0)
			}
			v, err := unit.ParseLengthSum(text, bare())
			if err != nil {
				return err
			}
			return set("", v)
		},
		Offers: func(text string) []field.Offer {
			var out []field.Offer
			for _, r := range field.Readings(text, bare(), now(), f.design().Units != project.Imperial, func(v unit.Length) bool {
				d := f.design().Clone()
				*at(&d.Datum) = v
				return d.Validate() == nil
			}) {
				out = append(out, field.Offer{Question: text + " " + r.Unit + "? " + f.show(r.Length), Take: func() error { return set("", r.Length) }})
			}
			return out
		},
		Step: func(n int) error {
			by := 10 * unit.Millimetre
			if f.design().Units == project.Imperial {
				by = unit.Inch / 2
			}
			return set(name, unit.Length(math.Round((float64(now())+float64(n)*float64(by))*1e7)/1e7))
		},
	})
}

// datum adds what everything is measured from.
func (f *form) datum() {
	line := func() unit.Length {
		if t := f.design().Datum; t.Height != 0 {
			return t.Height
		}
		return unit.Length(f.design().Datum.Line())
	}
	f.first = f.length("Laser line", "height of the laser line", line,
		func() string { return f.show(line()) + " (usual)" },
		func(t *project.Datum) *unit.Length { return &t.Height })
	floors := []project.FloorLevel{project.FinishedFloor, project.StructuralFloor}
	f.form.AddChoice("Above the",
		func() []string { return []string{string(floors[0]), string(floors[1])} },
		func() int { return max(slices.Index(floors, f.design().Datum.From), 0) },
		func(i int) error {
			return f.edit("measure the laser line from the "+string(floors[i]), "", func(d *project.Design) {
				t := &d.Datum
				if t.From = floors[i]; t.Height == 0 && t.From == project.StructuralFloor { // the line stays where it is
					t.Height = unit.Length(project.Datum{}.Line()) + t.FloorBuildup
				}
			})
		})
	f.length("Floor build-up", "build-up of the floor", func() unit.Length { return f.design().Datum.FloorBuildup },
		func() string { return f.show(0) }, func(t *project.Datum) *unit.Length { return &t.FloorBuildup })
	from := func() []string { return f.design().Room.AcrossFrom() }
	f.form.AddChoice("Across from", from,
		func() int { return max(slices.Index(from(), f.design().Datum.AcrossFrom()), 0) },
		func(i int) error {
			return f.edit("measure across from the "+from()[i], "", func(d *project.Design) { d.Datum.Across = from()[i] })
		})
	f.form.AddNote("Heights in list and drawings are above (+) or below (-) the laser line.")
}

// job adds what stands in the title block.
func (f *form) job() {
	text := func(name, what string, at func(*project.Job) *string, step func(int) error) {
		f.form.AddEntry(name, field.Binding{
			Value: func() string { j := f.design().Job; return *at(&j) },
			Set: func(text string) error {
				return f.edit("change the "+what, "", func(d *project.Design) { *at(&d.Job) = text })
			},
			Step: step,
		})
	}
	text("Job", "reference of the job", func(j *project.Job) *string { return &j.Reference }, nil)
	text("Revision", "revision", func(j *project.Job) *string { return &j.Revision }, nil)
	text("Revised on", "day of the revision", func(j *project.Job) *string { return &j.RevisedOn }, func(n int) error {
		return f.edit("change the day of the revision", "revised on", func(d *project.Design) {
			day, err := time.Parse(time.DateOnly, d.Job.RevisedOn)
			if err != nil {
				day, n = time.Now(), 0 // stepping begins today
			}
			d.Job.RevisedOn = day.AddDate(0, 0, n).Format(time.DateOnly)
		})
	})
	f.form.AddNote("They stand in the title block of every sheet. A day is written as year-month-day, such as 2026-11-29; Up and Down step it, beginning today.")
}
