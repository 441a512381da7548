// SPDX-License-Identifier: MIT

package inspector

import (
	"math"
	"strconv"
	"strings"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
)

// value is a place in a design: it returns where in d a value stands, or nil
// when d has no such place.
type value[T any] func(d *project.Design) *T

// edit changes one value and strips from an error what the line beside it says.
func edit[T any](in *Inspector, label, merge string, at value[T], to T) error {
	err := in.host.Do(label, merge, func(d *project.Design) {
		if p := at(d); p != nil {
			*p = to
		}
	})
	return field.Plain(err)
}

func read[T any](in *Inspector, at value[T]) (v T) {
	if p := at(in.host.Design()); p != nil {
		v = *p
	}
	return v
}

// texts are the words by which Undo names an edit: what for a value that is
// typed, and up and down for one that is stepped; empty ones are what.
type texts struct{ what, up, down string }

func say(what string) func() texts { return func() texts { return texts{what: what} } }

func (t texts) step(n int) string {
	switch {
	case n > 0 && t.up != "":
		return t.up
	case n < 0 && t.down != "":
		return t.down
	}
	return t.what
}

// length adds a length. Typed without a unit it is metres or inches, by the
// system shown.
func (in *Inspector) length(f *field.Form, name string, words func() texts, at value[unit.Length]) *field.Line {
	return in.lengthBy(f, name, words, at, 10*unit.Millimetre, unit.Inch/2, func(l unit.Length) string {
		return l.Format(in.metric())
	}, unit.Metre)
}

// small adds a length of some millimetres, which are also what it is without a
// unit.
func (in *Inspector) small(f *field.Form, name string, words func() texts, at value[unit.Length]) *field.Line {
	return in.lengthBy(f, name, words, at, unit.Millimetre, unit.Inch/16, func(l unit.Length) string {
		if in.metric() {
			return strconv.FormatFloat(math.Round(float64(l)*1e4)/10, 'f', -1, 64) + " mm"
		}
		return l.Format(false)
	}, unit.Millimetre)
}

func (in *Inspector) lengthBy(f *field.Form, name string, words func() texts, at value[unit.Length],
	metric, imperial unit.Length, show func(unit.Length) string, def unit.Length) *field.Line {
	return in.lengthTo(f, name, words, func() unit.Length { return read(in, at) },
		func(label, merge string, v unit.Length) error { return edit(in, label, merge, at, v) },
		metric, imperial, show, def)
}

// lengthTo adds a length that is more than one place in the design: get returns
// it and set edits it.
func (in *Inspector) lengthTo(f *field.Form, name string, words func() texts, get func() unit.Length,
	set func(label, merge string, v unit.Length) error,
	metric, imperial unit.Length, show func(unit.Length) string, def unit.Length) *field.Line {
	bare := func() unit.Length {
		if !in.metric() {
			return unit.Inch
		}
		return def
	}
	return f.AddEntry(name, field.Binding{
		Value: func() string { return show(get()) },
		Set: func(text string) error {
			v, err := unit.ParseLengthSum(text, bare())
			if err != nil {
				return err
			}
			return set(words().what, "", v)
		},
		Offers: func(text string) []field.Offer {
			return in.meant(text, bare(), get(), func(v unit.Length) error { return set(words().what, "", v) })
		},
		Step: func(n int) error {
			by := metric
			if !in.metric() {
				by = imperial
			}
			return set(words().step(n), key(name, words().what), onGrid(get(), n, by))
		},
	})
}

// meant asks what a number without a unit meant that is refused in the unit bare:
// "240 cm? 2.400 m". Only what the field would take is offered.
func (in *Inspector) meant(text string, bare, now unit.Length, set func(unit.Length) error) []field.Offer {
	var out []field.Offer
	for _, r := range field.Readings(text, bare, now, in.metric(), func(v unit.Length) bool { return in.would(func() error { return set(v) }) }) {
		out = append(out, field.Offer{
			Question: text + " " + r.Unit + "? " + r.Length.Format(in.metric()),
			Take:     func() error { return set(r.Length) },
		})
	}
	return out
}

// onGrid returns v moved by n steps, free of the dust of binary fractions.
func onGrid(v unit.Length, n int, step unit.Length) unit.Length {
	next := float64(v) + float64(n)*float64(step)
	return unit.Length(math.Round(next*1e7) / 1e7)
}

// angle adds an angle.
func (in *Inspector) angle(f *field.Form, name string, words func() texts, at value[unit.Degrees]) *field.Line {
	return f.AddEntry(name, field.Binding{
		Value: func() string { return read(in, at).String() },
		Set: func(text string) error {
			v, err := unit.ParseDegreesSum(text)
			if err != nil {
				return err
			}
			return edit(in, words().what, "", at, v)
		},
		Step: func(n int) error {
			v := math.Round(float64(read(in, at))*1000)/1000 + float64(n)
			return edit(in, words().step(n), key(name, words().what), at, unit.Degrees(v))
		},
	})
}

// number adds a bare number, shown and typed times factor and before suffix.
func (in *Inspector) number(f *field.Form, name, what string, factor, step float64, suffix string, at value[float64]) *field.Line {
	return in.figure(f, name, say(what), factor, step, suffix, at)
}

// figure is number with words that depend on what is shown.
func (in *Inspector) figure(f *field.Form, name string, words func() texts, factor, step float64, suffix string, at value[float64]) *field.Line {
	return f.AddEntry(name, field.Binding{
		Value: func() string { return plainNumber(read(in, at)*factor) + suffix },
		Set: func(text string) error {
			v, err := field.Number(text, suffix)
			if err != nil {
				return err
			}
			return edit(in, words().what, "", at, v/factor)
		},
		Step: func(n int) error {
			v := math.Round(read(in, at)*factor/step)*step + float64(n)*step
			return edit(in, words().what, key(name, words().what), at, math.Round(v*1e6)/1e6/factor)
		},
	})
}

func plainNumber(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e4)/1e4, 'f', -1, 64)
}

// given adds a number that need not be given: an empty entry, or the word for
// it, takes it back. none returns what stands there then: "usual, 80 Hz", or
// "not known"; from is where stepping begins then.
func (in *Inspector) given(f *field.Form, name string, words func() texts, step float64, suffix string,
	none func() string, from func() float64, at value[float64]) *field.Line {
	return f.AddEntry(name, field.Binding{
		Value: func() string {
			if v := read(in, at); v != 0 {
				return plainNumber(v) + suffix
			}
			return none()
		},
		Set: func(text string) error {
			if word, _, _ := strings.Cut(none(), ","); text == "" || strings.EqualFold(text, none()) || strings.EqualFold(text, word) {
				return edit(in, words().what, "", at, 0)
			}
			v, err := field.Number(text, suffix)
			if err != nil {
				return err
			}
			if v == 0 { // in the document that is "not given"
				return &project.Fault{Found: text, Allowed: "another number, or nothing"}
			}
			return edit(in, words().what, "", at, v)
		},
		Step: func(n int) error {
			v := read(in, at)
			if v == 0 {
				v = from()
			}
			v = math.Round(v/step)*step + float64(n)*step
			return edit(in, words().what, key(name, words().what), at, math.Round(v*1e6)/1e6)
		},
	})
}

// count adds a whole number.
func (in *Inspector) count(f *field.Form, name string, words func() texts, at value[int]) *field.Line {
	return f.AddEntry(name, field.Binding{
		Value: func() string { return strconv.Itoa(read(in, at)) },
		Set: func(text string) error {
			v, err := field.Whole(text)
			if err != nil {
				return err
			}
			return edit(in, words().what, "", at, v)
		},
		Step: func(n int) error {
			return edit(in, words().what, key(name, words().what), at, read(in, at)+n)
		},
	})
}

// text adds a line of text.
func (in *Inspector) text(f *field.Form, name string, words func() texts, at value[string]) *field.Line {
	return f.AddEntry(name, field.Binding{
		Value: func() string { return read(in, at) },
		Set:   func(text string) error { return edit(in, words().what, "", at, text) },
	})
}

// key tells apart the values whose successive steps join: by the name of the
// line and what it changes.
func key(name, what string) string { return name + ": " + what }

// choice adds a choice among values, shown by words.
func choice[T comparable](in *Inspector, f *field.Form, name string, words func() texts, values func() []T, show func(T) string, at value[T]) *field.Line {
	return f.AddChoice(name,
		func() []string {
			var o []string
			for _, v := range values() {
				o = append(o, show(v))
			}
			return o
		},
		func() int {
			now := read(in, at)
			for i, v := range values() {
				if v == now {
					return i
				}
			}
			return -1
		},
		func(i int) error { return edit(in, words().what, "", at, values()[i]) })
}
