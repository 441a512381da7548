// SPDX-License-Identifier: MIT

package project_test

import (
	"bytes"
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
)

func bytesOf(t interface{ Fatal(...any) }, d *project.Design) []byte {
	data, err := file.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func rename(name string) func(*project.Design) {
	return func(d *project.Design) { d.Name = name }
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func TestHistory(t *testing.T) {
	start := file.New()
	h := project.NewHistory(start)
	start.Name = "changed behind its back"
	if h.Design().Name != "New room" {
		t.Error("the history shares the design it was given")
	}
	if h.Dirty() || h.Undo() || h.Redo() || h.UndoLabel() != "" || h.RedoLabel() != "" {
		t.Error("a fresh history is not fresh")
	}
	must(t, h.Do("rename", "", rename("a")))
	must(t, h.Do("move M+030", "", func(d *project.Design) { d.Speakers[0].At.X = 1 }))
	if got := h.UndoLabel(); got != "move M+030" || !h.Dirty() {
		t.Errorf("undo label %q, dirty %v", got, h.Dirty())
	}
	h.MarkSaved()
	if h.Dirty() {
		t.Error("dirty after save")
	}
	h.Undo()
	if h.UndoLabel() != "rename" || h.RedoLabel() != "move M+030" || !h.Dirty() || h.Design().Speakers[0].At.X == 1 {
		t.Errorf("after undo: labels %q %q, dirty %v", h.UndoLabel(), h.RedoLabel(), h.Dirty())
	}
	h.Redo()
	if h.Dirty() || h.Design().Speakers[0].At.X != 1 {
		t.Error("redo does not come back to the saved state")
	}
	h.Undo()
	must(t, h.Do("rename", "", rename("b")))
	if h.Redo() || !h.Dirty() {
		t.Error("an edit keeps what was undone")
	}
	h.MarkUnsaved()
	for h.Undo() {
	}
	if !h.Dirty() {
		t.Error("clean though no state is on disk")
	}
}

// A dragged slider is one step, until something else happens.
func TestHistoryCoalesces(t *testing.T) {
	h := project.NewHistory(file.New())
	steps := func() (n int) {
		for h.Undo() {
			n++
		}
		for h.Redo() {
		}
		return n
	}
	drag := func(x unit.Length) {
		must(t, h.Do("move M+030", "x of 0", func(d *project.Design) { d.Speakers[0].At.X = x }))
	}
	drag(1)
	drag(1.1)
	drag(1.2)
	must(t, h.Do("rename", "", rename("a")))
	must(t, h.Do("rename", "", rename("b"))) // no key: a step of its own
	drag(1.3)
	h.MarkSaved()
	drag(1.4)
	drag(1.5)
	if !h.Dirty() {
		t.Error("an edit joined the saved step")
	}
	h.Undo()
	if h.Dirty() || h.Design().Speakers[0].At.X != 1.3 {
		t.Errorf("undo after save leads to x = %v", h.Design().Speakers[0].At.X)
	}
	h.Redo()
	drag(1.6) // after redo, a step of its own
	if got := steps(); got != 6 {
		t.Errorf("%d steps, want 6", got)
	}
	for h.Undo() {
	}
	if !bytes.Equal(bytesOf(t, h.Design()), bytesOf(t, file.New())) {
		t.Error("undoing everything does not lead back")
	}
}

func TestHistoryRefuses(t *testing.T) {
	h := project.NewHistory(file.New())
	before := h.Design()
	if err := h.Do("seats", "", func(d *project.Design) { d.Seating.Rows[0].Seats = 0 }); err == nil {
		t.Error("a design without seats was accepted")
	}
	if err := h.Do("nothing", "", func(*project.Design) {}); err != nil {
		t.Error(err)
	}
	if h.Design() != before || h.Dirty() || h.UndoLabel() != "" {
		t.Error("a refused or empty edit left a trace")
	}
	// What the edit keeps hold of is not part of the state.
	kept := []project.Loudspeaker{before.Speakers[0]}
	must(t, h.Do("replace", "", func(d *project.Design) { d.Speakers = kept }))
	kept[0].Label = "LFE9"
	if h.Design().Speakers[0].Label != "M+030" {
		t.Error("the state shares a list with the edit")
	}
}

func TestHistoryIsBounded(t *testing.T) {
	h := project.NewHistory(file.New())
	for i := range project.MaxSteps + 50 {
		must(t, h.Do("rename", "", rename(fmt.Sprint("room ", i))))
	}
	n := 0
	for h.Undo() {
		n++
	}
	if n != project.MaxSteps || h.Design().Name != "room 49" || !h.Dirty() {
		t.Errorf("%d steps back to %q, dirty %v; want %d, \"room 49\", true", n, h.Design().Name, h.Dirty(), project.MaxSteps)
	}
}

// play runs a history along ops against a plain list of every state's bytes,
// and holds that all undone gives the first bytes and all redone the last.
func play(t interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}, ops []byte) {
	t.Helper()
	h := project.NewHistory(file.New())
	states, at := [][]byte{bytesOf(t, h.Design())}, 0
	for _, op := range ops {
		switch op % 4 {
		case 0:
			if h.Undo() != (at > 0) {
				t.Fatalf("Undo at state %d", at)
			}
			at = max(at-1, 0)
		case 1:
			if h.Redo() != (at < len(states)-1) {
				t.Fatalf("Redo at state %d of %d", at, len(states))
			}
			at = min(at+1, len(states)-1)
		default:
			err := h.Do("edit", "", func(d *project.Design) {
				i := int(op) % len(d.Speakers)
				d.Speakers[i].At.X = unit.Length(op) / 100
				if op%8 == 7 {
					d.Room.Features = append(d.Room.Features, project.Feature{Kind: project.Column, Length: 1, Width: 1, Height: 1})
				}
			})
			if err != nil {
				t.Fatal(err)
			}
			if now := bytesOf(t, h.Design()); !bytes.Equal(now, states[at]) {
				states, at = append(states[:at+1], now), at+1
			}
		}
		if !bytes.Equal(bytesOf(t, h.Design()), states[at]) {
			t.Fatalf("state %d is not what it was", at)
		}
		if h.Dirty() != (at != 0) {
			t.Fatalf("state %d: dirty %v", at, h.Dirty())
		}
	}
	for h.Undo() {
	}
	if !bytes.Equal(bytesOf(t, h.Design()), states[0]) {
		t.Fatal("undoing everything does not lead back")
	}
	for h.Redo() {
	}
	if !bytes.Equal(bytesOf(t, h.Design()), states[len(states)-1]) {
		t.Fatal("redoing everything does not lead forth")
	}
}

func TestUndoRedo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { play(t, rapid.SliceOfN(rapid.Byte(), 0, 40).Draw(t, "ops")) })
}

func FuzzUndoRedo(f *testing.F) {
	f.Add([]byte{2, 3, 0, 1, 7, 0, 0, 15})
	f.Fuzz(func(t *testing.T, ops []byte) { play(t, ops[:min(len(ops), 60)]) })
}
