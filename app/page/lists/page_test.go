// SPDX-License-Identifier: MIT

package lists

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"earline/app/ask"
	"earline/app/field"
	"earline/app/page/pagetest"
	"earline/project"
	"earline/project/lists"
	"earline/scene"
)

// opened shows the page of a demo at a list.
func opened(t *testing.T, demo, name string) (*pagetest.Bench, *listsPage) {
	t.Helper()
	b := pagetest.Open(t, demo)
	p := newPage(b.Session, b.Frame)
	b.Show(p)
	b.Press(t, strings.ToUpper(name[:1])+name[1:])
	return b, p
}

// enter types a text into the entry of that name and presses Enter.
func enter(t *testing.T, p *listsPage, name, text string) *field.Line {
	t.Helper()
	l := p.forms[p.name].form.Line(name)
	if l == nil || l.Entry == nil {
		t.Fatalf("no entry %s is shown", name)
	}
	l.Entry.SetText(text)
	l.Entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	return l
}

// every list has all its rows, its notes and its caution on the page.
func TestEveryListIsShownWhole(t *testing.T) {
	b, p := opened(t, "large", "cables")
	d := b.Session.Design()
	for _, want := range lists.All(d) {
		p.show(want.Name)
		var texts []string
		for _, r := range p.grid.Rows() {
			texts = append(texts, r.Cells...)
		}
		for _, n := range append(slices.Clone(want.Notes), want.Caution) {
			if n != "" && !slices.Contains(texts, n) {
				t.Errorf("%s: not shown: %q", want.Name, n)
			}
		}
		for _, r := range want.Rows {
			for _, c := range r {
				if c != "" && c != "do" && c != "check" && !slices.ContainsFunc(texts, func(s string) bool { return s == c || s == "check: "+c }) {
					t.Errorf("%s: not shown: %q", want.Name, c)
				}
			}
		}
		if p.head.Text != want.Title {
			t.Errorf("%s: head says %q", want.Name, p.head.Text)
		}
	}
}

// Once the rack has its place every loudspeaker has a cable, drawn in the picture; each
// figure is one step of undo.
func TestTheRackGivesEveryLoudspeakerACable(t *testing.T) {
	b, p := opened(t, "small", "cables")
	if rows := p.table.Rows; len(rows) != 0 {
		t.Fatalf("%d cables before there is a rack", len(rows))
	}
	if v := p.forms[cableList].form.Line("Height").Entry.Text; v != "not known" {
		t.Errorf("the rack stands at %q", v)
	}
	enter(t, p, "From left wall", "0,4 m")
	enter(t, p, "Spare", "2 m")
	enter(t, p, "Height of runs", "2,3 m")
	d := b.Session.Design()
	if len(p.table.Rows) != len(d.Speakers) || d.Services.Spare != 2 || d.Services.RunHeight != 2.3 {
		t.Fatalf("%d cables for %d loudspeakers, %+v", len(p.table.Rows), len(d.Speakers), d.Services)
	}
	o := scene.Default()
	if p.Overlay(&o); len(o.Traces) != len(d.Speakers)+1 {
		t.Errorf("%d ways are drawn", len(o.Traces))
	}
	p.choose(2)
	if b.Session.Chosen.Speaker != 1 {
		t.Error("the loudspeaker of a cable is not selected")
	}
	enter(t, p, "Is there", "12 m")
	enter(t, p, "Cross-section", "4")
	want := project.Cable{Serves: d.Speakers[1].ID, Area: 4, Length: 12}
	if got := b.Session.Design().Services.Cables; len(got) != 1 || got[0] != want {
		t.Errorf("%+v", got)
	}
	for range 5 {
		b.Session.Undo()
	}
	if s := b.Session.Design().Services; s.Rack != (project.Point{}) || len(s.Cables) > 0 || b.Session.Doc.UndoLabel() != "" {
		t.Errorf("five steps of undo leave %+v", s)
	}
}

// Outlets are added, edited and removed, each edit one step of undo.
func TestOutletsAreEdited(t *testing.T) {
	b, p := opened(t, "small", "outlets")
	outlets := func() []project.Outlet { return b.Session.Design().Services.Outlets }
	b.Press(t, "Add")
	if len(outlets()) != 1 || outlets()[0].Kind != project.Mains || outlets()[0].ID == "" {
		t.Fatalf("%+v", outlets())
	}
	enter(t, p, "Serves", "recliners of row 1")
	enter(t, p, "Load", "150")
	enter(t, p, "From screen wall", "3 m")
	if l := enter(t, p, "Height", "very high"); l.Fault() == "" {
		t.Error("a height that cannot be read is not refused")
	}
	f := p.forms[outletList].form
	f.Line("Kind").Choice.SetSelected("network")
	b.Press(t, "Add")
	if p.outlet != 1 {
		t.Error("the new outlet is not chosen")
	}
	p.grid.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	want := project.Outlet{ID: outlets()[0].ID, Kind: project.Network, Serves: "recliners of row 1", Load: 150, At: project.Point{X: 3, Z: 0.3}}
	if outlets()[0] != want || p.outlet != 0 || f.Line("Serves").Entry.Text != want.Serves {
		t.Errorf("%+v", outlets()[0])
	}
	o := scene.Default()
	if p.Overlay(&o); len(o.Traces) != 2 || o.Traces[0].Text != "network: recliners of row 1" {
		t.Errorf("drawn: %+v", o.Traces)
	}
	b.Press(t, "Remove")
	if len(outlets()) != 1 || outlets()[0].Kind != project.Mains {
		t.Errorf("%+v", outlets())
	}
	b.Press(t, "Remove")
	if len(outlets()) != 0 || f.Line("Serves") != nil {
		t.Error("the fields of an outlet stay when there is none")
	}
	b.Session.Undo()
	b.Session.Undo()
	if len(outlets()) != 2 || outlets()[0] != want {
		t.Errorf("two steps of undo: %+v", outlets())
	}
}

// The heat of the equipment is typed where the air is listed.
func TestHeatIsTypedBesideTheAir(t *testing.T) {
	b, p := opened(t, "small", "air")
	enter(t, p, "Heat, equipment", "600 W")
	if b.Session.Design().Services.Heat != 600 {
		t.Fatal("it is not taken in")
	}
	if !slices.ContainsFunc(p.table.Rows, func(r []string) bool { return r[0] == "heat of other equipment in the room" && r[1] == "600" }) {
		t.Errorf("%q", p.table.Rows)
	}
	if l := enter(t, p, "Heat, equipment", "1000000"); l.Fault() == "" {
		t.Error("a heat beyond all bounds is not refused")
	}
	enter(t, p, "Heat, equipment", "")
	if b.Session.Design().Services.Heat != 0 {
		t.Error("it is not taken back")
	}
}

// What is saved is what the command line writes.
func TestAListIsSaved(t *testing.T) {
	b, p := opened(t, "large", "equipment")
	path := filepath.Join(t.TempDir(), "list.csv")
	pagetest.Run(t, p, "lists.save")
	entries := slices.Collect(pagetest.Objects[*ask.Entry](b.Window.Canvas().Overlays().Top()))
	entries[1].SetText(path)
	b.Press(t, "Save")
	got, err := os.ReadFile(path)
	want, _ := lists.Find(b.Session.Design(), "equipment")
	if err != nil || string(got) != string(want.CSV()) {
		t.Errorf("%v, %d bytes", err, len(got))
	}
}

// Another document begins with nothing chosen of the one before.
func TestAnotherDocumentIsListed(t *testing.T) {
	b, p := opened(t, "large", "outlets")
	b.Press(t, "Add")
	b.Press(t, "Add")
	p.Forget()
	b.Session.Open(pagetest.Demo(t, "small"))
	p.Update()
	if p.outlet != 0 || p.chosen != -1 {
		t.Errorf("outlet %d, row %d", p.outlet, p.chosen)
	}
}
