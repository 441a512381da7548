// SPDX-License-Identifier: MIT

package field

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"earline/app/words"
	"earline/geometry/unit"
)

// speakGerman has the window speak a few words of German until the test ends.
func speakGerman(t *testing.T) {
	t.Helper()
	c, err := words.Read([]byte(`{"straight": "gerade", "long": "längs", "cross": "quer", "Radius": "Halbmesser"}`))
	if err != nil {
		t.Fatal(err)
	}
	words.Speak(c)
	t.Cleanup(func() { words.Speak(nil) })
}

// In a German window numbers have a decimal comma, and what is typed either sign; a word
// that stands for a number is typed as it is shown, or in English.
func TestEntriesAreReadInBothLanguages(t *testing.T) {
	speakGerman(t)
	test.NewTempApp(t)
	now := unit.Length(0)
	f := NewForm(nil)
	l := f.AddEntry("Radius", Binding{
		Value: func() string {
			if now == 0 {
				return "straight"
			}
			return now.Format(true)
		},
		Set: func(text string) error {
			if strings.EqualFold(text, "straight") {
				now = 0
				return nil
			}
			v, err := unit.ParseLengthSum(text, unit.Metre)
			if err == nil {
				now = v
			}
			return err
		},
		Step: func(int) error { return nil },
	})
	w := test.NewTempWindow(t, f.Object())
	w.Canvas().Focus(l.Entry)
	for _, c := range []struct{ typed, shown string }{
		{"", "gerade"}, {"2,5 m", "2,500 m"}, {"2.75", "2,750 m"}, {"gerade", "gerade"}, {"1 m", "1,000 m"}, {"straight", "gerade"},
	} {
		if c.typed != "" {
			l.Entry.SetText(c.typed)
			l.Entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
		}
		if l.Entry.Text != c.shown || l.Fault() != "" {
			t.Errorf("%q is shown as %q, want %q; %s", c.typed, l.Entry.Text, c.shown, l.Fault())
		}
	}
	if f.Line("Radius") != l {
		t.Error("a line is not found by its English name")
	}
}

// A drop-down shows its options in German and knows them in English.
func TestASelectShowsItsOptionsInGerman(t *testing.T) {
	speakGerman(t)
	test.NewTempApp(t)
	s := NewSelect([]string{"long", "cross"}, nil)
	s.ShowIndex(1)
	if s.Selected != "quer" || s.SelectedIndex() != 1 || s.Offered()[1] != "cross" {
		t.Errorf("shown %q of %q, offered %q", s.Selected, s.Options, s.Offered())
	}
}

// What the user called something is nobody's to translate.
func TestATextEntryKeepsItsText(t *testing.T) {
	speakGerman(t)
	test.NewTempApp(t)
	name := "straight"
	l := NewForm(nil).AddEntry("Name", Binding{Value: func() string { return name }, Set: func(text string) error { name = text; return nil }})
	if l.Entry.Text != "straight" {
		t.Fatalf("the name straight is shown as %q", l.Entry.Text)
	}
	l.Entry.SetText("gerade")
	l.Entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if name != "gerade" {
		t.Fatalf("the name gerade is taken as %q", name)
	}
}
