// SPDX-License-Identifier: MIT

package practice

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"earline/project"
	"earline/project/file"
	"earline/project/practice"
)

func found(t *testing.T, std practice.Standard) *practice.Result {
	t.Helper()
	d, ok := file.Demo("large")
	if !ok {
		t.Fatal("no demo")
	}
	return practice.Check(d, nil, std)
}

func TestTheWorstComeFirst(t *testing.T) {
	r := found(t, practice.Standard{})
	all := lines(r, practice.Standard{}, true)
	short := lines(r, practice.Standard{}, false)
	if len(short) == 0 || len(all) <= len(short) {
		t.Fatalf("%d lines fall short of %d", len(short), len(all))
	}
	last := practice.Must
	n := 0
	for _, l := range short {
		if l.remark != nil {
			if l.remark.OK {
				t.Errorf("%q is met", l.remark.Text)
			}
			n++
		} else if l.worst > last {
			t.Errorf("%s (%v) comes after a rule of severity %v", l.rule.ID, l.worst, last)
		} else {
			last = l.worst
		}
	}
	if want := len(r.Failing()); n != want {
		t.Errorf("%d remarks are listed, %d fall short", n, want)
	}
	c := r.Counts()
	if c[practice.Must]+c[practice.Should]+c[practice.Note] != n {
		t.Errorf("counted %v of %d", c, n)
	}
}

func TestARuleThatIsOffStaysInSight(t *testing.T) {
	std := practice.Standard{Changes: map[string]practice.Change{"azimuth": {Off: true, Reason: "an old room"}}}
	ls := lines(found(t, std), std, false)
	last := ls[len(ls)-1]
	if last.rule.ID != "azimuth" || !last.off || last.reason != "an old room" || last.count() != "switched off" {
		t.Errorf("the last line is %+v", last)
	}
	for _, l := range ls[:len(ls)-1] {
		if l.rule.ID == "azimuth" {
			t.Error("it still finds something")
		}
	}
}

func TestBadgesTellSeveritiesApart(t *testing.T) {
	seen := map[string]bool{}
	for s := practice.Note; s <= practice.Must; s++ {
		_, _, letter := badge(s, false)
		if letter == "" || seen[letter] {
			t.Errorf("%v has the letter %q", s, letter)
		}
		seen[letter] = true
	}
	if _, _, letter := badge(practice.Must, true); seen[letter] {
		t.Errorf("what is met has the letter %q of what is not", letter)
	}
}

func TestChoosingShowsReasonSourceAndLimit(t *testing.T) {
	test.NewTempApp(t)
	p := newPanel()
	w := test.NewTempWindow(t, p.Object())
	w.Resize(fyne.NewSize(900, 300))
	r := found(t, practice.Standard{})
	p.Set(r, practice.Standard{}, project.Metric)
	var told *practice.Remark
	p.OnChoose = func(m *practice.Remark) { told = m }
	p.choose(1)
	if told == nil || told != p.Chosen() || told.Text != p.side.text.Text {
		t.Fatalf("chosen %+v, told %+v, shown %q", p.Chosen(), told, p.side.text.Text)
	}
	rule, _ := practice.Find(told.Rule)
	var facts strings.Builder
	for _, s := range p.side.facts.Segments {
		facts.WriteString(s.Textual() + "\n")
	}
	for _, want := range []string{rule.Why, rule.Source.String(), limitWords(told.Limits, rule.Unit, project.Metric), rule.Measures} {
		if !strings.Contains(facts.String(), want) {
			t.Errorf("%q is not said in:\n%s", want, facts.String())
		}
	}
	// The same place is still chosen after an edit, another value.
	text := told.Text
	again := found(t, practice.Standard{})
	p.Set(again, practice.Standard{}, project.Metric)
	if c := p.Chosen(); c == nil || c == told || c.Text != text {
		t.Errorf("after an edit %+v is chosen", c)
	}
	p.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	if p.index() != 2 {
		t.Errorf("Down goes to line %d", p.index())
	}
	p.Unchoose()
	if p.Chosen() != nil || p.side.buttons.Visible() {
		t.Error("something is still chosen")
	}
	p.Set(nil, practice.Standard{}, project.Metric)
	p.choose(3)
}

func TestLimitsAreReadInTheUnitOfTheRule(t *testing.T) {
	for _, c := range []struct {
		text string
		unit practice.Unit
		u    project.Units
		want float64
	}{
		{"12.5°", practice.Degrees, project.Metric, 12.5},
		{"0.9", practice.Metres, project.Metric, 0.9},
		{"36", practice.Metres, project.Imperial, 0.9144}, // an inch is 25.4 mm exactly (international yard, 1959)
		{"95 %", practice.Share, project.Metric, 0.95},
		{"0.95", practice.Share, project.Metric, 0.95},
		{"3", practice.Count, project.Metric, 3},
	} {
		got, err := parseValue(c.text, c.unit, c.u)
		if err != nil || got == nil || *got-c.want > 1e-12 || c.want-*got > 1e-12 {
			t.Errorf("parseValue(%q, %v) = %v, %v; want %v", c.text, c.unit, got, err, c.want)
		}
		shown := valueWords(c.want, c.unit, project.Metric) // lengths to a millimetre
		if back, err := parseValue(shown, c.unit, project.Metric); err != nil || *back-c.want > 0.0005 || c.want-*back > 0.0005 {
			t.Errorf("what valueWords prints of %v, %s, is not read as that: %v", c.want, shown, err)
		}
	}
	if v, err := parseValue("  ", practice.Degrees, project.Metric); v != nil || err != nil {
		t.Errorf("nothing is %v, %v", v, err)
	}
	for _, bad := range []string{"x", "NaN", "1 kg"} {
		for _, u := range []practice.Unit{practice.Degrees, practice.Metres, practice.Ratio} {
			if _, err := parseValue(bad, u, project.Metric); err == nil {
				t.Errorf("%q is taken as %v", bad, u)
			}
		}
	}
}

func TestAChangeNeedsALimitAndAReason(t *testing.T) {
	rule, ok := practice.Find("symmetry-azimuth")
	if !ok {
		t.Fatal("no such rule")
	}
	c, err := changedLimits("", "3°", " as built ", rule, project.Metric)
	if err != nil || c.Min != nil || c.Max == nil || *c.Max != 3 || c.Reason != "as built" {
		t.Errorf("%+v, %v", c, err)
	}
	for _, bad := range [][3]string{{"", "", "why"}, {"", "3", ""}, {"x", "3", "why"}} {
		if _, err := changedLimits(bad[0], bad[1], bad[2], rule, project.Metric); err == nil {
			t.Errorf("%q is taken", bad)
		}
	}
}

func TestLongTextIsCut(t *testing.T) {
	test.NewTempApp(t)
	r := newRow()
	long := strings.Repeat("wide ", 60)
	r.show(listRow{remark: &practice.Remark{Text: long}})
	r.Resize(fyne.NewSize(300, rowHeight))
	if r.text.Position().X+r.text.MinSize().Width > 300 || !strings.HasSuffix(r.text.Text, "…") {
		t.Errorf("%q is %v wide", r.text.Text, r.text.MinSize().Width)
	}
}
