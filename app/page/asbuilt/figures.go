// SPDX-License-Identifier: MIT

package asbuilt

import (
	"errors"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	ours "earline/app/theme"
	"earline/app/words"
	"earline/project"
	"earline/project/built"
	"earline/project/sight"
)

// figures are the entries of the item that is chosen: what is typed is taken in with
// Enter, which goes on to the next, and from the last to the first of the next item.
type figures struct {
	page   *asBuiltPage
	object fyne.CanvasObject
	name   *widget.Label
	hint   *widget.Label
	box    *fyne.Container
	scroll *container.Scroll

	form  *field.Form
	lines []*figure
	of    string // the ID of the item that the form is made for
}

// figure is one entry.
type figure struct {
	line         *field.Line
	planned, off *canvas.Text // off, and how far it may be, under the entry
}

func newFigures(p *asBuiltPage) *figures {
	f := &figures{page: p, name: widget.NewLabel(""), hint: widget.NewLabel(""), box: container.NewStack()}
	f.name.TextStyle.Bold = true
	f.name.Truncation, f.hint.Truncation = fyne.TextTruncateEllipsis, fyne.TextTruncateEllipsis
	f.hint.Importance = widget.LowImportance
	f.hint.SetText(words.Of("Enter takes a figure and goes on to the next."))
	f.scroll = container.NewVScroll(f.box)
	f.object = field.Bordered(f.name, f.hint, nil, nil, f.scroll)
	return f
}

// large makes entries that can be read from a ladder.
type large struct{ fyne.Theme }

// Size implements fyne.Theme.
func (t large) Size(n fyne.ThemeSizeName) float32 {
	const size = 17
	if n == theme.SizeNameText {
		return size
	}
	return t.Theme.Size(n)
}

// update shows the figures of the chosen item.
func (f *figures) update() {
	p := f.page
	it := p.shown()
	if it == nil {
		return
	}
	if f.of != it.ID || len(f.lines) != len(it.Measures) || f.form == nil {
		f.make(it)
	}
	f.name.SetText(words.Of(it.Name))
	f.form.Update()
	exact := p.known(it.ID)
	u := p.design.Units
	for i, l := range f.lines {
		m := &it.Measures[i]
		l.planned.Text = words.Of("planned " + p.sheet.Show(it, m.Quantity, m.Planned))
		l.off.Text, l.off.Color = words.Of(m.Words(u)), ours.Faint
		if m.Known && exact != nil {
			m = &exact.Measures[i]
			l.off.Color = ours.VerdictInk(sight.Clear)
			if !m.Within() {
				l.off.Text += words.Of(", " + m.Allowed(u))
				l.off.Color = ours.VerdictInk(sight.Tight)
				for k := range p.result.Move {
					if p.result.Move[k].ID == it.ID {
						l.off.Color = ours.VerdictInk(sight.Blocked)
					}
				}
			}
		}
		for _, t := range []*canvas.Text{l.planned, l.off} {
			t.Refresh()
		}
	}
}

// make makes the entries of an item.
func (f *figures) make(it *built.Item) {
	f.of, f.lines = it.ID, nil
	f.form = field.NewForm(f.scroll)
	for i := range it.Measures {
		q := it.Measures[i].Quantity
		l := &figure{planned: canvas.NewText("", ours.Faint), off: canvas.NewText("", ours.Faint)}
		l.planned.TextSize, l.off.TextSize = 12, 12
		beside := container.New(layout.NewGridWrapLayout(fyne.NewSize(besideWide, 36)), l.planned)
		l.line = f.form.AddEntryBeside(f.page.sheet.Called(it, q), f.binding(it.ID, q), beside)
		l.line.Entry.Entered = func() { f.entered(i) }
		f.form.AddObject(container.New(layout.NewCustomPaddedLayout(0, 4, 4, 0), l.off), nil).When(func() bool {
			it := f.page.shown()
			return it != nil && i < len(it.Measures) && it.Measures[i].Known
		})
		f.lines = append(f.lines, l)
	}
	f.box.Objects = []fyne.CanvasObject{container.NewThemeOverride(f.form.Object(), large{fyne.CurrentApp().Settings().Theme()})}
	f.box.Refresh()
}

// besideWide is room for "planned 1234.5 mm".
const besideWide = 112

// binding reads and writes one figure.
func (f *figures) binding(id string, q built.Quantity) field.Binding {
	p := f.page
	enter := func(v *float64) error {
		it := p.find(id)
		if it == nil {
			return errors.New("it is no longer in the plan")
		}
		return p.session.Do("measure "+it.Name+" "+p.sheet.Called(it, q), "", func(d *project.Design) { built.Enter(d, id, q, v) })
	}
	judge := func(text string) (v float64, ask *built.Question, err error) {
		it := p.find(id)
		if it == nil {
			return 0, nil, errors.New("it is no longer in the plan")
		}
		return p.sheet.Typed(it, q, text)
	}
	return field.Binding{
		Value: func() string {
			if it := p.find(id); it != nil {
				for i := range it.Measures {
					if m := &it.Measures[i]; m.Quantity == q && m.Known {
						return p.sheet.Show(it, q, m.Measured)
					}
				}
			}
			return ""
		},
		Set: func(text string) error {
			if text == "" {
				return enter(nil)
			}
			v, ask, err := judge(text)
			if err != nil {
				return err
			}
			if ask != nil {
				return errors.New(ask.Text)
			}
			return enter(&v)
		},
		Offers: func(text string) []field.Offer {
			if _, ask, err := judge(text); err == nil && ask != nil {
				return []field.Offer{{Question: ask.Text, Take: func() error { return enter(&ask.Value) }}}
			}
			return nil
		},
	}
}

// entered goes on after entry i.
func (f *figures) entered(i int) {
	if i+1 < len(f.lines) {
		field.Focus(f.lines[i+1].line.Entry)
		return
	}
	if f.page.next() {
		f.focus()
	}
}

// focus gives the keyboard to the first entry.
func (f *figures) focus() {
	c := fyne.CurrentApp().Driver().CanvasForObject(f.scroll) // a new entry is on none before it is painted
	if c != nil && len(f.lines) > 0 {
		c.Focus(f.lines[0].line.Entry)
	}
}

// begin begins to type in the first entry; false where there is none.
func (f *figures) begin(r rune) bool {
	if len(f.lines) == 0 {
		return false
	}
	f.focus()
	f.lines[0].line.Entry.TypedRune(r)
	return true
}
