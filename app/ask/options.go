// SPDX-License-Identifier: MIT

package ask

import (
	"fmt"
	"strconv"

	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/words"
	"earline/geometry/unit"
	"earline/project"
)

// Options is a form of options, each read into its place when all are right.
type Options struct {
	Units project.Units // in which lengths are shown, and read where none is typed

	items []*widget.FormItem
	first *Entry
	reads []func() error
}

// Items returns the lines of the form.
func (f *Options) Items() []*widget.FormItem { return f.items }

// Read takes in all that was typed.
func (f *Options) Read() error {
	for _, r := range f.reads {
		if err := r(); err != nil {
			return err
		}
	}
	return nil
}

func (f *Options) entry(name, text string, read func(string) error) {
	e := NewEntry()
	e.SetText(text)
	if f.first == nil {
		f.first = e
	}
	f.items = append(f.items, widget.NewFormItem(words.Of(name), e))
	f.reads = append(f.reads, func() error {
		if err := read(e.Text); err != nil {
			return fmt.Errorf("%s: %s", name, field.OneLine(err))
		}
		return nil
	})
}

// First returns the first entry of the form; nil if it has none.
func (f *Options) First() *Entry { return f.first }

// Text asks for a text.
func (f *Options) Text(name string, to *string) {
	f.entry(name, *to, func(text string) error {
		*to = text
		return nil
	})
}

// Degrees asks for an angle.
func (f *Options) Degrees(name string, to *unit.Degrees) {
	f.entry(name, words.Figure(to.String()), func(text string) (err error) {
		*to, err = unit.ParseDegreesSum(text)
		return err
	})
}

// Length asks for a length.
func (f *Options) Length(name string, to *unit.Length) {
	bare := unit.Metre
	if f.Units == project.Imperial {
		bare = unit.Inch
	}
	f.entry(name, words.Figure(to.Format(f.Units != project.Imperial)), func(text string) (err error) {
		*to, err = unit.ParseLengthSum(text, bare)
		return err
	})
}

// Number asks for a number.
func (f *Options) Number(name string, to *float64) {
	f.entry(name, words.Figure(strconv.FormatFloat(*to, 'g', -1, 64)), func(text string) (err error) {
		*to, err = unit.ParseNumber(text)
		return err
	})
}

// Count asks for a whole number.
func (f *Options) Count(name string, to *int) {
	f.entry(name, strconv.Itoa(*to), func(text string) (err error) {
		*to, err = field.Whole(text)
		return err
	})
}

// Tick asks for a choice of yes or no.
func (f *Options) Tick(name string, to *bool) {
	c := field.NewTick(name, func(on bool) { *to = on })
	c.Checked = *to
	f.items = append(f.items, widget.NewFormItem("", c))
}

// Choice asks for a choice of some.
func (f *Options) Choice(name string, options []string, to *uint8) {
	s := field.NewSelect(options, nil)
	s.SetSelectedIndex(int(*to))
	s.OnChanged = func(string) { *to = uint8(s.SelectedIndex()) }
	f.items = append(f.items, widget.NewFormItem(words.Of(name), s))
}

// Options shows a form of options until accept takes what was typed, or it is
// cancelled.
func (a *Asker) Options(title, text, button string, f *Options, accept func()) {
	a.Form(title, text, button, f.items, f.first, func() error {
		if err := f.Read(); err != nil {
			return err
		}
		accept()
		return nil
	})
}
