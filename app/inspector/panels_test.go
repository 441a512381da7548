// SPDX-License-Identifier: MIT

package inspector

import (
	"reflect"
	"strings"
	"testing"

	"earline/project"
)

func TestPanelsComeAndGo(t *testing.T) {
	b := newBench(t, "small")
	b.in.open.panels = true
	before := b.Design()
	b.in.addPanels()
	if all := b.Design().Panels; len(all) != 1 || all[0].Wall != 1 || all[0].Absorb != "panel-fabric" {
		t.Fatalf("added %+v", all)
	}
	oneStep(t, b, before, "add panels")
	if text := b.in.laidOut(); !strings.Contains(text, "m at either end") {
		t.Errorf("laid out: %s", text)
	}
	before = b.Design()
	enter(b.line(t, surfacesGroup, "Panel width"), "0.5")
	if w := b.Design().Panels[0].Module; w != 0.5 {
		t.Errorf("width %v", w)
	}
	oneStep(t, b, before, "change the width of the panels on the "+b.Design().Room.WallName(1))
	enter(b.line(t, surfacesGroup, "Pattern"), "a, bare")
	if got := b.Design().Panels[0].Pattern; !reflect.DeepEqual(got, []project.PanelKind{project.AbsorbPanel, project.BarePanel}) {
		t.Errorf("pattern %v", got)
	}
	before = b.Design()
	enter(b.line(t, surfacesGroup, "Pattern"), "wool")
	enter(b.line(t, surfacesGroup, "Panel width"), "4.9")
	if b.Design() != before {
		t.Error("what cannot be is taken")
	}
	b.line(t, surfacesGroup, "Along").Choice.SetSelected("ceiling")
	if b.Design().Panels[0].Wall != 0 {
		t.Errorf("on wall %d, want the ceiling", b.Design().Panels[0].Wall)
	}
	b.in.duplicatePanels()
	if all := b.Design().Panels; len(all) != 2 || all[1].Wall != 1 {
		t.Errorf("two runs: %+v", all)
	}
	b.in.removePanels()
	b.in.removePanels()
	if len(b.Design().Panels) != 0 || b.in.panelsSummary() != "none" {
		t.Errorf("left %+v", b.Design().Panels)
	}
}
