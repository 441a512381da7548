// SPDX-License-Identifier: MIT

package handout_test

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/fit"
	"earline/project/lists"
	"earline/project/practice"
	"earline/project/setout"
	"earline/project/sight"
	"earline/scene/drawing"
	"earline/scene/handout"
)

func open(t testing.TB, name string) *project.Design {
	t.Helper()
	if d, ok := file.Demo(name); ok {
		return d
	}
	data, err := os.ReadFile("../../testdata/rooms/" + name + ".earline")
	if err != nil {
		t.Fatal(err)
	}
	d, err := file.Decode(data, name)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// grey stands for a still.
func grey(_ *project.Design, _ string, w, h int, _ bool) (image.Image, error) {
	if w < 50 || h < 50 {
		return nil, fmt.Errorf("a still of %d by %d", w, h)
	}
	return image.NewGray(image.Rect(0, 0, 4, 4)), nil
}

func words(sheets []drawing.Sheet) string {
	var b strings.Builder
	for _, s := range sheets {
		for _, m := range s.Marks {
			if x, ok := m.(drawing.Text); ok {
				b.WriteString(x.Text + "\n")
			}
		}
	}
	return b.String()
}

// within reports what reaches beyond the paper.
func within(t *testing.T, sheets []drawing.Sheet, face *drawing.Typeface) {
	t.Helper()
	for _, s := range sheets {
		for _, m := range s.Marks {
			x, ok := m.(drawing.Text)
			if !ok {
				continue
			}
			w := face.Of(x.Bold).Width(x.Text, x.Size)
			from := x.At.X - w*float64(x.Anchor)/2
			if from < 3 || from+w > s.Paper.Width-3 || x.At.Y > s.Paper.Height-3 || x.At.Y-x.Size < 0 {
				t.Errorf("%s: %q reaches beyond the paper", s.Name(), x.Text)
			}
		}
	}
	if err := drawing.Check(sheets); err != nil {
		t.Error(err)
	}
}

// A client reads no label, no level and no abbreviation.
func TestTheRoomBookIsInPlainWords(t *testing.T) {
	face := drawing.NewTypeface(nil)
	for _, name := range []string{"small", "two-row", "large", "room-b"} {
		d := open(t, name)
		d.Keep(project.Variant{Name: "As found", Role: project.Existing})
		d.Keep(project.Variant{Name: "With a wider picture", Role: project.Option})
		sheets, err := handout.Book(d, grey, face)
		if err != nil {
			t.Fatal(err)
		}
		text := words(sheets)
		if bad := regexp.MustCompile(`\b(UH|[MUBT])[+-]\d|LFE|\bdB\b|\bP\d\d|BS\.|bed layer`).FindString(text); bad != "" {
			t.Errorf("%s: %q in the client's book", name, bad)
		}
		for _, want := range []string{"Your room", "Before and after", "What you can choose", "local code"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no %q", name, want)
			}
		}
		within(t, sheets, face)
	}
}

// It never says that all is well while a seat is blocked.
func TestTheRoomBookTellsWhoSeesAndHears(t *testing.T) {
	d := open(t, "room-b")
	r := sight.Audit(d)
	whole := len(r.Seats) - r.PictureCount[sight.Blocked]
	sheets, err := handout.Book(d, grey, drawing.NewTypeface(nil))
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(words(sheets)), " ")
	if want := fmt.Sprintf("The whole picture is seen from %d of the %d seats.", whole, len(r.Seats)); !strings.Contains(text, want) {
		t.Errorf("no %q in %s", want, text)
	}
}

func TestAStillThatFailsIsTold(t *testing.T) {
	broken := errors.New("no graphics")
	_, err := handout.Book(open(t, "small"), func(*project.Design, string, int, int, bool) (image.Image, error) { return nil, broken }, drawing.NewTypeface(nil))
	if !errors.Is(err, broken) {
		t.Error(err)
	}
}

func list(t testing.TB, d *project.Design) (*sight.Result, *setout.List) {
	t.Helper()
	r := sight.Audit(d)
	l, err := setout.Of(context.Background(), r, practice.Standard{})
	if err != nil {
		t.Fatal(err)
	}
	return r, l
}

// The proof sheet has the audit's own figures, every seat, every hole, and the file's
// fingerprint; what is blocked bears a mark beside its colour.
func TestTheProofSheetSaysWhatTheAuditFound(t *testing.T) {
	face := drawing.NewTypeface(nil)
	for _, name := range []string{"small", "large", "room-b"} {
		d := open(t, name)
		r, l := list(t, d)
		sheets := handout.Proof(r, l, "0123 4567 89ab cdef", face)
		within(t, sheets, face)
		text := words(sheets)
		if n := len(regexp.MustCompile(`(?m)^× [-−0-9]`).FindAllString(text, -1)); n != r.Count[sight.Blocked]+r.PictureCount[sight.Blocked] {
			t.Errorf("%s: %d marks, %d pairs and %d pictures blocked", name, n, r.Count[sight.Blocked], r.PictureCount[sight.Blocked])
		}
		for _, s := range r.Seats {
			if !strings.Contains(text, "\n"+s.Name()+"\n") {
				t.Errorf("%s: no seat %s", name, s.Name())
			}
		}
		for _, it := range l.Items {
			if it.Cutout != nil && !strings.Contains(text, it.Name) {
				t.Errorf("%s: no hole of %s", name, it.Name)
			}
		}
		if said := strings.Contains(text, "Cannot be built as drawn"); said != (len(fit.Findings(d)) > 0) {
			t.Errorf("%s: %d findings, told %v", name, len(fit.Findings(d)), said)
		}
		if !strings.Contains(text, "0123 4567 89ab cdef") {
			t.Errorf("%s: no fingerprint", name)
		}
	}
}

// Every list has its page, every cell is on it, and what can hurt has its caution.
func TestTheListsArePrintedWhole(t *testing.T) {
	face := drawing.NewTypeface(nil)
	for _, name := range []string{"large", "room-b"} {
		d := open(t, name)
		d.Services.Rack = project.Point{X: 7.5, Y: 0.4, Z: 0.4}
		sheets := handout.Lists(d, face)
		within(t, sheets, face)
		text := strings.Join(strings.Fields(words(sheets)), " ")
		for _, l := range lists.All(d) {
			if !strings.Contains(text, l.Title) || !strings.Contains(text, strings.Join(strings.Fields(l.Caution), " ")) {
				t.Errorf("%s: no %s, or without its caution", name, l.Title)
			}
			for _, row := range l.Rows {
				for _, cell := range row {
					for _, word := range strings.Fields(cell) {
						if !strings.Contains(text, word) {
							t.Errorf("%s: %s lacks %q", name, l.Title, word)
						}
					}
				}
			}
		}
	}
}

// A card for every hole and no other.
func TestThereIsACardForEveryHole(t *testing.T) {
	face := drawing.NewTypeface(nil)
	d := open(t, "large")
	d.Services.Rack = project.Point{X: 8, Y: 0.4, Z: 0.4}
	_, l := list(t, d)
	sheets := handout.Cards(d, l, face)
	within(t, sheets, face)
	text, n := words(sheets), 0
	for _, it := range l.Items {
		if it.Cutout != nil {
			n++
			if !strings.Contains(text, it.Name) {
				t.Errorf("no card of %s", it.Name)
			}
		}
	}
	if len(sheets) != (n+3)/4 || n == 0 {
		t.Errorf("%d pages for %d holes", len(sheets), n)
	}
	if !strings.Contains(text, "rack, ") {
		t.Error("no way of a cable")
	}
}

// A card had -1083 and -1318 mm from the centre line, without a word of which side, and
// a distance from the screen wall with a plus.
func TestACardSaysWhichSideOfTheCentreLine(t *testing.T) {
	face := drawing.NewTypeface(nil)
	for _, name := range []string{"room-b", "small"} {
		d := open(t, name)
		_, l := list(t, d)
		sheets := handout.Cards(d, l, face)
		within(t, sheets, face)
		text := strings.ReplaceAll(words(sheets), "\n", " ")
		for _, it := range l.Items {
			if it.Cutout != nil && !strings.Contains(text, l.ShowEdges(it.Cutout)) {
				t.Errorf("%s, %s: no %q", name, it.Name, l.ShowEdges(it.Cutout))
			}
		}
		if bad := regexp.MustCompile(`[-−]\S+ mm (from|left|right)|(front|back) \+`).FindString(text); bad != "" {
			t.Errorf("%s: %q on a card", name, bad)
		}
	}
}

// The hole of a tall loudspeaker was drawn wide, and what hangs overhead ran into the
// foot of its card.
func TestACardDrawsItsHoleInProportionAndKeepsOffItsFoot(t *testing.T) {
	face := drawing.NewTypeface(nil)
	d := open(t, "room-b")
	_, l := list(t, d)
	long := setout.Reach{Distance: 0.03, Limit: "sight, row 2 seat 3: shoulders in row 1 seat 4"}
	for i := range l.Items {
		if it := &l.Items[i]; it.Cutout != nil {
			it.Caution = setout.Overhead
			it.Tolerance = &setout.Tolerance{Up: long, Down: long, Left: long, Right: long}
		}
	}
	for _, s := range handout.Cards(d, l, face) {
		tall := 0
		for _, m := range s.Marks {
			switch m := m.(type) {
			case drawing.Lines:
				if r := m.Lines[0]; len(r) == 5 {
					if w, h := r[1].X-r[0].X, r[2].Y-r[1].Y; math.Abs(h/w-375.0/235) > 1e-6 {
						t.Errorf("a hole of 235 x 375 drawn %.1f x %.1f", w, h)
					}
					tall++
				}
			case drawing.Text:
				for _, foot := range []float64{s.Paper.Height/2 - 6, s.Paper.Height - 6} {
					if m.At.Y > foot-3 && m.At.Y < foot-0.1 {
						t.Errorf("%q runs into the foot", m.Text)
					}
				}
			}
		}
		if tall == 0 {
			t.Error("no hole drawn")
		}
	}
}
