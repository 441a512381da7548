// SPDX-License-Identifier: MIT

package field

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/app/theme"
	"earline/app/words"
)

// nameWidth is the width of the names of fields, so that all fields of an
// inspector stand in one column.
const nameWidth = 112

// leastField is the least width of a field: "100' 10 15/16"" fits in.
const leastField = 92

// Form is a set of fields, one line each, in one column.
type Form struct {
	// Outer scrolls when the wheel turns over a field that is not focused.
	Outer fyne.Scrollable
	// Resized is called when the form needs more or less height; may be nil.
	Resized func()

	box   *fyne.Container
	lines []*Line
}

// Line is one line of a Form: a name, a field, and under it, when something is
// wrong, a sentence.
type Line struct {
	fyne.CanvasObject
	// Entry is the line's entry, nil when it holds something else.
	Entry *Entry
	// Choice and Check likewise.
	Choice *Choice
	Check  *Check

	form   *Form
	name   string
	update func()
	when   func() bool
	fault  *widget.Label
	offers *offers
	// warn brings up to date what l warns of, and warning says it; see Warn.
	warn    func()
	warning *widget.Label
	whole   *fyne.Container
}

// NewForm returns an empty form.
func NewForm(outer fyne.Scrollable) *Form {
	return &Form{Outer: outer, box: container.New(layout.NewCustomPaddedVBoxLayout(2))}
}

// Object returns what is to be placed in the window.
func (f *Form) Object() fyne.CanvasObject { return f.box }

// Update shows the current values everywhere.
func (f *Form) Update() {
	before := f.box.MinSize().Height
	moved := false
	for _, l := range f.lines {
		if l.when != nil {
			shown := l.when()
			moved = moved || shown != l.Visible()
			if !shown {
				l.Hide()
				continue
			}
			l.Show()
		}
		if l.update != nil {
			l.update()
		}
		if l.warn != nil {
			l.warn()
		}
	}
	if moved || f.box.MinSize().Height != before {
		f.relayout()
	}
}

// relayout gives every line its place anew; Fyne does so by itself only when
// something grows.
func (f *Form) relayout() {
	f.box.Layout.Layout(f.box.Objects, f.box.Size())
	if f.Resized != nil {
		f.Resized()
	}
}

// When shows l only while shown returns true.
func (l *Line) When(shown func() bool) *Line {
	l.when = shown
	if !shown() {
		l.Hide()
	}
	return l
}

// Fault returns the sentence under l, empty when nothing is wrong.
func (l *Line) Fault() string {
	if l.fault == nil || !l.fault.Visible() {
		return ""
	}
	return l.fault.Text
}

func (l *Line) setFault(s string) {
	if l.fault == nil {
		if s == "" {
			return
		}
		l.fault = widget.NewLabel("")
		l.fault.Wrapping = fyne.TextWrapWord
		l.fault.Importance = widget.DangerImportance
		l.whole.Add(l.fault)
	}
	if s == "" {
		l.fault.Hide()
	} else {
		l.fault.SetText(words.Of(s))
		l.fault.Show()
	}
	l.whole.Refresh()
	l.form.relayout()
}

// setOffers asks under l what was meant. It stands above the sentence, which
// changes when the entry is left: a click on an answer must find it where it was.
func (l *Line) setOffers(list []Offer) {
	if l.offers == nil {
		l.offers = newOffers(l.Entry.take)
		l.whole.Objects = slices.Insert(l.whole.Objects, 1, fyne.CanvasObject(l.offers.box))
	}
	l.offers.show(list)
	l.whole.Refresh()
	l.form.relayout()
}

// Offered returns the questions asked under l, the most likely first.
func (l *Line) Offered() []Offer {
	if l.Entry == nil {
		return nil
	}
	return l.Entry.offered
}

func (f *Form) add(name string, field fyne.CanvasObject, l *Line) *Line {
	l.name = name
	l.whole = container.New(layout.NewCustomPaddedVBoxLayout(0), newPair(name, field))
	l.CanvasObject = l.whole
	f.lines = append(f.lines, l)
	f.box.Add(l.whole)
	return l
}

// AddEntry adds a text entry.
func (f *Form) AddEntry(name string, b Binding) *Line {
	l := &Line{form: f}
	l.Entry = newEntry(b, l.setFault, l.setOffers)
	l.update = l.Entry.Update
	return f.add(name, container.NewStack(l.Entry, newWheel(l.Entry, f.Outer)), l)
}

// AddEntryBeside adds a text entry with something at its right.
func (f *Form) AddEntryBeside(name string, b Binding, beside fyne.CanvasObject) *Line {
	l := &Line{form: f}
	l.Entry = newEntry(b, l.setFault, l.setOffers)
	l.update = l.Entry.Update
	return f.add(name, container.NewBorder(nil, nil, nil, beside, l.Entry), l)
}

// AddChoice adds a choice of one of options; see Choice.
func (f *Form) AddChoice(name string, options func() []string, value func() int, set func(int) error) *Line {
	l := &Line{form: f}
	l.Choice = newChoice(options, value, set, l.setFault)
	l.update = l.Choice.Update
	return f.add(name, l.Choice, l)
}

// AddCheck adds a tick.
func (f *Form) AddCheck(name string, value func() bool, set func(bool) error) *Line {
	l := &Line{form: f}
	l.Check = newCheck(value, set, l.setFault)
	l.update = l.Check.Update
	return f.add(name, l.Check, l)
}

// AddReadout adds a value that follows from others and cannot be typed.
func (f *Form) AddReadout(name string, value func() string) *Line {
	text := canvas.NewText(words.Of(value()), theme.Accent)
	text.TextSize = 12
	update := func() {
		if v := words.Of(value()); v != text.Text {
			text.Text = v
			text.Refresh()
		}
	}
	return f.add(name, container.New(layout.NewCustomPaddedLayout(2, 2, 5, 0), text), &Line{update: update})
}

// AddObject adds an object over the whole width. update may be nil.
func (f *Form) AddObject(o fyne.CanvasObject, update func()) *Line {
	l := &Line{update: update}
	l.whole = container.New(layout.NewCustomPaddedVBoxLayout(0), o)
	l.CanvasObject = l.whole
	f.lines = append(f.lines, l)
	f.box.Add(l.whole)
	return l
}

// AddNote adds a faint line of text that wraps.
func (f *Form) AddNote(text string) *Line {
	n := widget.NewLabel(words.Of(text))
	n.Wrapping = fyne.TextWrapWord
	n.Importance = widget.LowImportance
	return f.AddObject(n, nil)
}

// newPair sets field beside its name.
func newPair(name string, field fyne.CanvasObject) fyne.CanvasObject {
	text := canvas.NewText(words.Of(name), theme.Faint)
	text.TextSize = 12
	return container.New(pairLayout{}, text, field)
}

type pairLayout struct{}

// MinSize implements fyne.Layout.
func (pairLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	m := o[1].MinSize()
	return fyne.NewSize(nameWidth+fyne.Max(m.Width, leastField), fyne.Max(m.Height, o[0].MinSize().Height))
}

// Layout implements fyne.Layout.
func (pairLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	h := o[0].MinSize().Height
	o[0].Move(fyne.NewPos(2, (s.Height-h)/2))
	o[0].Resize(fyne.NewSize(nameWidth-4, h))
	o[1].Move(fyne.NewPos(nameWidth, 0))
	o[1].Resize(fyne.NewSize(s.Width-nameWidth, s.Height))
	for _, over := range o[2:] { // the name; see Why
		over.Resize(fyne.NewSize(nameWidth, s.Height))
	}
}

// Line returns the line of that name that is shown, nil for none.
func (f *Form) Line(name string) *Line {
	for _, l := range f.lines {
		if l.name == name && l.Visible() {
			return l
		}
	}
	return nil
}
