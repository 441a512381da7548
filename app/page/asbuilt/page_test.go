// SPDX-License-Identifier: MIT

package asbuilt

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"earline/app/page/pagetest"
	"earline/app/session"
	"earline/project"
	"earline/project/built"
	"earline/project/place"
	"earline/scene"
)

func open(t *testing.T) (*pagetest.Bench, *asBuiltPage) {
	t.Helper()
	b := pagetest.Open(t, "small")
	p := newPage(b.Session, b.Frame)
	b.Show(p)
	b.Queue.Until(t, func() bool { _, state := b.Session.Known.AsBuilt.Get(); return state == session.Fresh })
	return b, p
}

// filled writes a site list in which the first loudspeaker's height reads as given.
func filled(t *testing.T, p *asBuiltPage, fill func(planned string) string) string {
	t.Helper()
	lines := strings.Split(string(p.sheet.List()), "\r\n")
	for i, l := range lines {
		cells := strings.Split(l, ",")
		if cells[0] == p.design.Speakers[0].ID && cells[2] == "from laser line" {
			cells[5] = fill(cells[4])
			lines[i] = strings.Join(cells, ",")
		}
	}
	path := filepath.Join(t.TempDir(), "site.csv")
	if err := os.WriteFile(path, []byte(strings.Join(lines, "\r\n")), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// A filled-in list of centimetres is asked about; yes enters millimetres, in one step of
// undo, and no leaves the figure out.
func TestASiteListInCentimetresIsAskedAbout(t *testing.T) {
	b, p := open(t)
	path := filled(t, p, func(planned string) string { // 100.0 mm and 250.0 mm alike: a tenth of it
		return planned[:len(planned)-3] + "." + planned[len(planned)-3:len(planned)-2]
	})
	p.takeList(path)
	b.Press(t, "Leave it out")
	if p.session.Design().AsBuilt.Given() {
		t.Error("left out, and yet it is entered")
	}
	p.takeList(path)
	b.Press(t, "Yes")
	m := p.session.Design().AsBuilt.Of(p.design.Speakers[0].ID)
	if m.Z == nil || *m.Z != p.design.Speakers[0].At.Z {
		t.Errorf("%+v, planned %v", m, p.design.Speakers[0].At)
	}
	b.Session.Undo()
	if p.session.Design().AsBuilt.Given() {
		t.Error("one step of undo does not take the list back")
	}
}

// Of what is off the picture shows both places; without anything off nothing is laid
// over it.
func TestWhereItWasBuiltIsLaidOverThePlan(t *testing.T) {
	b, p := open(t)
	o := scene.Default()
	if p.Overlay(&o); o.Ghost != nil {
		t.Error("nothing was measured, and something is laid over the plan")
	}
	k := p.design.Speakers[0]
	v := float64(k.At.X) + 0.02
	if err := b.Session.Do("measure", "", func(d *project.Design) { built.Enter(d, k.ID, built.FromScreen, &v) }); err != nil {
		t.Fatal(err)
	}
	b.Queue.Until(t, func() bool { _, state := b.Session.Known.AsBuilt.Get(); return state == session.Fresh })
	p.Update()
	if p.Overlay(&o); o.Ghost == nil || float64(o.Ghost.Speakers[0].At.X) != v || b.Session.Design().Speakers[0] != k {
		t.Error("not both places are shown")
	}
	p.choose(k.ID)
	if c := b.Session.Chosen; c.Item != (place.Item{Kind: place.SpeakerItem}) || c.Speaker != 0 {
		t.Errorf("%+v is chosen", c)
	}
}
