// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"math"
	"reflect"
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/panel"
	"earline/project/projecttest"
	"earline/project/sound"
)

func panels(t *testing.T, d *project.Design, o PanelsOptions) *PanelsProposal {
	t.Helper()
	p, err := Panels(context.Background(), d, o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// What the tool proposes its own rules accept: package sound, asked about the file that
// is written, finds the room in the tolerance of BS.1116 from 250 Hz to 4 kHz and nothing
// of walls and ceiling left to treat.
func TestPanelsOfRoomA(t *testing.T) {
	d := room(t, "../../testdata/rooms/room-a.earline")
	p := panels(t, d, PanelsOptions{})
	if !p.Solved() || p.Patches != 14 || p.Treated != 14 {
		t.Errorf("%d of %d patches, %+v", p.Treated, p.Patches, p.Obstacles())
	}
	data, err := file.Encode(p.Design)
	if err != nil {
		t.Fatal(err)
	}
	again, err := file.Decode(data, "again")
	if err != nil {
		t.Fatal(err)
	}
	r, err := sound.Study(context.Background(), again, nil, sound.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(r.Reverb.Wanted-0.21) > 0.006 {
		t.Errorf("target %.3f s", r.Reverb.Wanted)
	}
	for o, f := range project.Octaves() {
		if f >= 250 && f <= 4000 && !r.Reverb.Within[o] {
			t.Errorf("%g Hz: %.3f s, want %.3f s", f, r.Reverb.Eyring[o], r.Reverb.Wanted)
		}
	}
	for _, q := range r.TreatMain {
		if _, ok := r.Reflections.Treatment(q, ""); ok {
			t.Errorf("left to treat: %+v", q)
		}
	}
	if !strings.Contains(p.Note, "125 Hz") {
		t.Errorf("nothing is said about 125 Hz: %s", p.Note)
	}
	if q := panels(t, d, PanelsOptions{}); !reflect.DeepEqual(p.Design, q.Design) {
		t.Error("not the same a second time")
	}
	if q := panels(t, p.Design, PanelsOptions{}); len(q.Design.Panels) != len(p.Design.Panels) || !q.Solved() {
		t.Errorf("%d runs in place of %d when asked again", len(q.Design.Panels), len(p.Design.Panels))
	}
	alike(t, p)
}

// alike holds that the left wall and the right one, which runs the other way, have the
// same panels, and the back wall the same from either end.
func alike(t *testing.T, p *PanelsProposal) {
	t.Helper()
	kinds := map[string][]project.PanelKind{}
	for _, r := range p.Runs {
		for _, m := range r.Modules {
			side := p.Design.Room.WallSide(r.Wall)
			kinds[side] = append(kinds[side], m.Kind)
		}
	}
	reversed := func(a, b []project.PanelKind) bool {
		for i := range a {
			if a[i] != b[len(b)-1-i] {
				return false
			}
		}
		return len(a) == len(b)
	}
	if !reversed(kinds["left"], kinds["right"]) || !reversed(kinds["back"], kinds["back"]) {
		t.Errorf("left %v, right %v, back %v", kinds["left"], kinds["right"], kinds["back"])
	}
}

// Cloth over 25 mm of glass fibre takes 0.07 at 125 Hz (Barron 2003, Appendix D).
func TestThinPanelsDoNothingForTheBass(t *testing.T) {
	p := panels(t, room(t, "../../testdata/rooms/room-a.earline"), PanelsOptions{Absorb: "ceiling-board", Depth: 0.025})
	if p.Is.Eyring[1] < p.Was.Eyring[1]-0.08 || !strings.Contains(p.Note, "At 125 Hz the room still rings") {
		t.Errorf("125 Hz: %.2f s before, %.2f s after; %s", p.Was.Eyring[1], p.Is.Eyring[1], p.Note)
	}
	if p.Solved() {
		t.Error("solved")
	}
}

func TestPanelsOptionsRefused(t *testing.T) {
	d := room(t, "../../testdata/rooms/room-a.earline")
	for _, o := range []PanelsOptions{{Walls: []int{9}}, {Module: 7}, {Gap: -1}, {Absorb: "nothing"}, {LightEvery: -1}, {Depth: 3}} {
		if p, err := Panels(context.Background(), d, o); err == nil || p != nil || strings.Contains(err.Error(), "\n") {
			t.Errorf("%+v: %v", o, err)
		}
	}
	if _, err := Panels(context.Background(), nil, PanelsOptions{}); err == nil {
		t.Error("no design is taken")
	}
}

// In rooms drawn by number: what is proposed is valid, and no panel adds a clash.
func TestPanelsOfDrawnRooms(t *testing.T) {
	for seed := range uint64(30) {
		d := projecttest.Room(seed)
		p, err := Panels(context.Background(), d, PanelsOptions{})
		if err != nil {
			if project.Faults(err) == nil {
				t.Fatalf("room %d: %v", seed, err)
			}
			continue
		}
		if err := p.Design.Validate(); err != nil {
			t.Fatalf("room %d: %v", seed, err)
		}
		if p.After.Findings > p.Before.Findings || len(p.Runs) == 0 {
			t.Errorf("room %d: %d runs, %d clashes, %d before", seed, len(p.Runs), p.After.Findings, p.Before.Findings)
		}
		if !reflect.DeepEqual(panel.Of(p.Design), p.Runs) {
			t.Errorf("room %d: other runs than are laid out", seed)
		}
		if p.Treated < 0 || p.Treated > p.Patches || p.RowTreated > p.Row {
			t.Errorf("room %d: %d of %d patches, %d of %d reflections", seed, p.Treated, p.Patches, p.RowTreated, p.Row)
		}
	}
}

// A panel under a ceiling with a notch in it reached 50 mm outside the room, and the
// whole proposal was dropped.
func TestCeilingPanelsStayInTheRoom(t *testing.T) {
	p := panels(t, projecttest.Room(0x3688c9cc), PanelsOptions{})
	if len(p.Changes) == 0 || p.After.Findings > p.Before.Findings {
		t.Errorf("%d changes, %d clashes, %d before", len(p.Changes), p.After.Findings, p.Before.Findings)
	}
}
