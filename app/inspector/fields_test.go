// SPDX-License-Identifier: MIT

package inspector

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"earline/app/field"
	"earline/project"
)

func questions(l *field.Line) (out []string) {
	for _, o := range l.Offered() {
		out = append(out, o.Question)
	}
	return out
}

// Seen: "240" in a height of 2.5 m was refused as 240 m, and 2400 as 2400 m.
func TestALengthThatCannotBeMetresIsAskedAbout(t *testing.T) {
	b := newBench(t, "small")
	height := b.line(t, roomGroup, "Height")
	now := func() float64 { return float64(b.Design().Room.Ceiling.Height) }
	for _, c := range []struct {
		text, first string
		want        float64
	}{
		{"240", "240 cm? 2.400 m", 2.4}, // 0.240 m would be no ceiling
		{"2450", "2450 mm? 2.450 m", 2.45},
		{"5200/2", "5200/2 mm? 2.600 m", 2.6},
	} {
		before := now()
		enter(height, c.text)
		if got := questions(height); len(got) == 0 || got[0] != c.first || now() != before {
			t.Errorf("typed %s: asked %q at %v m, want %q first and nothing changed", c.text, got, now(), c.first)
			continue
		}
		height.Entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
		if !near(now(), c.want) || len(height.Offered()) != 0 || height.Fault() != "" {
			t.Errorf("typed %s and Enter twice: %v m, still asked %q, %q", c.text, now(), questions(height), height.Fault())
		}
	}

	// A click takes the answer, also after the field is left.
	enter(height, "235")
	b.win.Canvas().Unfocus()
	if got := questions(height); len(got) != 1 {
		t.Fatalf("the question went when the field was left: %q", got)
	}
	if err := height.Offered()[0].Take(); err != nil || !near(now(), 2.35) {
		t.Errorf("after the click %v m, %v", now(), err)
	}

	// Of several, that which is nearest to what stands there.
	width := b.line(t, screenGroup, "Picture width")
	enter(width, "220")
	if got := questions(width); len(got) != 2 || got[0] != "220 cm? 2.200 m" || got[1] != "220 mm? 0.220 m" {
		t.Errorf("asked %q", got)
	}
	width.Entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if len(width.Offered()) != 0 {
		t.Error("Escape leaves the question")
	}
	enter(width, "240 m")
	if len(width.Offered()) != 0 || !strings.HasPrefix(width.Fault(), "240 m is not possible here") {
		t.Errorf("a length with its unit is asked about: %q, %q", questions(width), width.Fault())
	}
}

func TestInFeetAnInchIsAskedAbout(t *testing.T) {
	b := newBench(t, "small")
	if err := b.Do("units", "", func(d *project.Design) { d.Units = project.Imperial }); err != nil {
		t.Fatal(err)
	}
	height := b.line(t, roomGroup, "Height")
	enter(height, "8")
	if got := questions(height); len(got) == 0 || got[0] != `8 ft? 8' 0"` {
		t.Errorf("asked %q", got)
	}
}

// Seen: no arithmetic; the room was measured in two pieces.
func TestSumsAreTakenInFields(t *testing.T) {
	b := newBench(t, "small")
	width := b.line(t, screenGroup, "Picture width")
	enter(width, "2.3+0.1")
	if got := float64(b.Design().Screen.Width); !near(got, 2.4) || width.Entry.Text != "2.400 m" {
		t.Errorf("2.3+0.1: %v m, shown %q", got, width.Entry.Text)
	}
	enter(width, "2 m + 4 in")
	if got := float64(b.Design().Screen.Width); math.Abs(got-2.1016) > 1e-9 {
		t.Errorf("2 m + 4 in: %v m", got)
	}
	recline := b.line(t, rowsGroup, "Recline")
	enter(recline, "30/2")
	if got := b.Design().Seating.Rows[0].Recline; got != 15 {
		t.Errorf("30/2: %v", got)
	}
	gain := b.line(t, screenGroup, "Gain")
	enter(gain, "0x1p3")
	if gain.Fault() == "" || b.Design().Screen.Gain == 8 {
		t.Error("0x1p3 is taken for a number")
	}
}

// Seen: `found "", allowed: ...`, and `"", allowed: a copy that tells it from
// loudspeakers[0], also M+030` on giving a label a second time.
func TestWhatIsWrongIsSaidInWords(t *testing.T) {
	b := newBench(t, "small")
	width := b.line(t, screenGroup, "Picture width")
	label := b.line(t, speakersGroup, "Label")
	for _, c := range []struct {
		line *field.Line
		text string
		want string
	}{
		{width, "", "Nothing is written. Possible: a length such as"},
		{width, "wide", `"wide" cannot be read. Possible: a length such as`},
		{label, "", "Nothing is written. Possible: a label of Rec. ITU-R BS.2051"},
		{label, b.Design().Speakers[1].Label, b.Design().Speakers[1].Label + " again is not possible here. Possible: a copy that tells it from loudspeaker 1"},
	} {
		enter(c.line, c.text)
		if got := c.line.Fault(); !strings.HasPrefix(got, c.want) || strings.Contains(got, "found") {
			t.Errorf("typed %q: %q, want it to begin %q", c.text, got, c.want)
		}
		c.line.Entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	}
}
