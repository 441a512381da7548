// SPDX-License-Identifier: MIT

package project

import "reflect"

// MaxSteps is how many edits a History can undo.
const MaxSteps = 200

// History is a design as it is edited: every state it was in, to go back and
// forth between. The states are never changed once made, so Design may be read
// from any goroutine; the methods of History are for one goroutine at a time.
// Make one with NewHistory.
type History struct {
	now    state
	undo   []step  // oldest first
	redo   []step  // next last
	merge  string  // key of the last edit while the next may join it
	serial int     // of the newest state
	ids    numbers // given so far, in any state
	saved  int     // serial of the saved state
}

// state is a design and a number that tells it from every other state.
type state struct {
	design *Design
	serial int
}

// step is an edit and the state on its far side.
type step struct {
	label string
	state state
}

// NewHistory returns a history that starts at a copy of d, which counts as saved.
// In every state everything has an id.
func NewHistory(d *Design) *History {
	h := &History{now: state{design: d.Clone()}}
	h.ids.identify(h.now.design)
	return h
}

// Design returns the present state. It is shared: do not change it, Do instead.
func (h *History) Design() *Design { return h.now.design }

// Do applies edit to a copy of the present state and makes that the present.
// label names the edit in the menu ("move M+090"). Edits in a row with the same
// merge key are one step, as when a value is dragged; an empty key never joins.
//
// An edit that leaves a design which Validate refuses is not made: Do returns
// Validate's error and all stays as it was. An edit that changes nothing makes
// no step. Otherwise what could be redone is gone.
func (h *History) Do(label, merge string, edit func(*Design)) error {
	next := h.now.design.Clone()
	edit(next)
	next = next.Clone() // edit may have kept, or brought in, a list of its own
	ids := h.ids
	ids.identify(next)
	if err := next.Validate(); err != nil {
		return err
	}
	if reflect.DeepEqual(next, h.now.design) {
		return nil
	}
	if joins := merge != "" && merge == h.merge && len(h.undo) > 0; !joins {
		h.undo = append(h.undo, step{label, h.now})
		if len(h.undo) > MaxSteps {
			h.undo = append([]step(nil), h.undo[1:]...)
		}
	}
	h.merge = merge
	h.redo = nil
	h.ids = ids
	h.serial++
	h.now = state{next, h.serial}
	return nil
}

// Undo goes back one step; false when there is none.
func (h *History) Undo() bool { return h.move(&h.undo, &h.redo) }

// Redo takes back one Undo; false when there is none.
func (h *History) Redo() bool { return h.move(&h.redo, &h.undo) }

func (h *History) move(from, to *[]step) bool {
	n := len(*from)
	if n == 0 {
		return false
	}
	s := (*from)[n-1]
	*from = (*from)[:n-1]
	*to = append(*to, step{s.label, h.now})
	h.now, h.merge = s.state, ""
	return true
}

// UndoLabel returns the label of the edit that Undo takes back; empty for none.
func (h *History) UndoLabel() string { return last(h.undo) }

// RedoLabel returns the label of the edit that Redo makes again; empty for none.
func (h *History) RedoLabel() string { return last(h.redo) }

func last(steps []step) string {
	if len(steps) == 0 {
		return ""
	}
	return steps[len(steps)-1].label
}

// MarkSaved notes that the present state is the one on disk. The next edit
// starts a step of its own.
func (h *History) MarkSaved() { h.saved, h.merge = h.now.serial, "" }

// MarkUnsaved notes that no state is the one on disk, as after recovery from a
// crash.
func (h *History) MarkUnsaved() { h.saved, h.merge = -1, "" }

// Dirty reports whether the present state differs from the saved one.
func (h *History) Dirty() bool { return h.now.serial != h.saved }
