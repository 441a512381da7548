// SPDX-License-Identifier: MIT

// Package field holds the controls from which the inspector is made: a text
// entry that commits as a whole, a choice, a tick and a read-out, each one line
// high and bound to a value by functions. UI goroutine only.
package field

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"earline/app/words"
)

// Binding is how an Entry reads and writes its value.
type Binding struct {
	// Value returns the value as it is to be shown.
	Value func() string
	// Set takes a text in. Its error says in one line what is wrong; then the
	// value is unchanged.
	Set func(text string) error
	// Step changes the value by n steps; nil where stepping means nothing.
	Step func(n int) error
	// Offers returns what a text that Set refuses may have meant, most likely first;
	// nil where there is nothing to ask.
	Offers func(text string) []Offer
	// Figure is whether the value is a number, or a word that stands for one, although
	// it has no steps and offers: it is shown in the language of the window, as what
	// somebody called something is not.
	Figure bool
}

// figure reports whether the value is a number or a word that stands for one.
func (b *Binding) figure() bool { return b.Figure || b.Step != nil || b.Offers != nil }

// Entry is a text entry that hands its text over as a whole, on Enter and on
// loss of focus, never while it is being typed. Escape takes back what was
// typed; Up, Down and (when focused) the wheel step the value, Shift by ten. Who
// enters it finds its text selected, so that typing replaces it. A text that may
// have meant something else is asked about: Enter once more takes the first answer.
type Entry struct {
	widget.Entry
	// Tip is shown when the pointer rests on the entry or Tab comes to it; empty for none.
	Tip string
	// Entered is called when Enter has taken the text in, or found it so; may be nil.
	Entered func()

	bind    Binding
	ring    *Ring
	fault   func(string) // shows or (with "") clears a line under the entry
	ask     func([]Offer)
	shown   string
	reason  string  // why the last text was refused
	offered []Offer // what is asked under the entry
	busy    bool    // inside commit
	focused bool
	entered bool // by the mouse button that is still down
}

func newEntry(b Binding, fault func(string), ask func([]Offer)) *Entry {
	e := &Entry{bind: b, fault: fault, ask: ask, ring: NewRing()}
	e.ExtendBaseWidget(e)
	e.OnChanged = func(string) {
		if e.Pending() {
			e.fault("")
			e.offer(nil)
		}
	}
	e.Update()
	return e
}

// Pending reports whether e holds text that is not yet taken in.
func (e *Entry) Pending() bool { return e.Text != e.shown }

// Update shows the current value. A text that somebody is typing stays, and so
// does one that is being judged.
func (e *Entry) Update() {
	if e.busy {
		return
	}
	v := e.value()
	if e.Pending() && e.focused {
		e.shown = v
		return
	}
	e.show(v)
}

// value returns the value as it is shown. What is typed may have either decimal sign.
func (e *Entry) value() string {
	if !e.bind.figure() {
		return e.bind.Value()
	}
	return words.Of(e.bind.Value())
}

// typed returns the text as Set reads it: a word that stands for a number, in English.
func (e *Entry) typed() string {
	text := strings.TrimSpace(e.Text)
	if !e.bind.figure() {
		return text
	}
	return words.Back(text)
}

func (e *Entry) show(v string) {
	e.shown = v
	if e.Text != v {
		e.SetText(v)
	}
}

// commit takes the text in; false means that it was refused and is still there.
func (e *Entry) commit() bool {
	if !e.Pending() {
		return true
	}
	e.busy = true
	err := e.bind.Set(e.typed())
	e.busy = false
	if err != nil {
		e.reason = OneLine(err)
		if e.bind.Offers != nil {
			e.offer(e.bind.Offers(e.typed()))
		}
		switch len(e.offered) {
		case 0:
			e.fault(e.reason)
		case 1:
			e.fault("Enter or a click takes it.")
		default:
			e.fault("Enter takes the first, a click any of them.")
		}
		return false
	}
	e.accepted()
	return true
}

// accepted shows the value after what was typed has been taken in.
func (e *Entry) accepted() {
	e.offer(nil)
	e.show(e.value())
	e.fault("")
}

// offer asks what was meant; nil asks nothing any more.
func (e *Entry) offer(list []Offer) {
	if len(list)+len(e.offered) > 0 {
		e.offered = list
		e.ask(list)
	}
}

// take takes an offer in.
func (e *Entry) take(o Offer) {
	e.busy = true
	err := o.Take()
	e.busy = false
	if err != nil {
		e.offer(nil)
		e.fault(OneLine(err))
		return
	}
	e.accepted()
}

func (e *Entry) step(n int) {
	if e.bind.Step == nil || !e.commit() {
		return
	}
	e.busy = true
	err := e.bind.Step(n)
	e.busy = false
	if err != nil {
		e.fault(OneLine(err))
		return
	}
	e.show(e.value())
	e.fault("")
}

// TypedKey implements fyne.Focusable.
func (e *Entry) TypedKey(ev *fyne.KeyEvent) {
	TipGone(e)
	n := 1
	if modifiers()&fyne.KeyModifierShift != 0 {
		n = 10
	}
	switch ev.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		if len(e.offered) > 0 && e.Pending() {
			e.take(e.offered[0])
		} else {
			e.commit()
		}
		if !e.Pending() && e.Entered != nil {
			e.Entered()
		}
	case fyne.KeyUp:
		e.step(n)
	case fyne.KeyDown:
		e.step(-n)
	case fyne.KeyEscape:
		if e.Pending() || len(e.offered) > 0 {
			e.accepted()
			return
		}
		Pass(e, ev)
	default:
		if isFunctionKey(ev.Name) {
			Pass(e, ev)
			return
		}
		e.Entry.TypedKey(ev)
	}
}

// isFunctionKey reports whether name is one of F1 to F12, which mean nothing to text.
func isFunctionKey(name fyne.KeyName) bool {
	return len(name) >= 2 && name[0] == 'F' && name[1] >= '1' && name[1] <= '9'
}

// CreateRenderer implements fyne.Widget.
func (e *Entry) CreateRenderer() fyne.WidgetRenderer {
	return ringed{e.Entry.CreateRenderer(), e.ring}
}

// FocusGained implements fyne.Focusable.
func (e *Entry) FocusGained() {
	e.focused = true
	e.ring.Show(true)
	e.Entry.FocusGained()
	e.selectAll()
	Reveal(e)
	if !e.entered {
		TipSoon(e, e.Tip, beside(e))
	}
}

func (e *Entry) selectAll() { e.Entry.TypedShortcut(&fyne.ShortcutSelectAll{}) }

// MouseIn implements desktop.Hoverable, as do the two below.
func (e *Entry) MouseIn(*desktop.MouseEvent) { TipSoon(e, e.Tip, beside(e)) }

// MouseMoved does nothing.
func (e *Entry) MouseMoved(*desktop.MouseEvent) {}

// MouseOut hides the tip.
func (e *Entry) MouseOut() { TipGone(e) }

// TypedRune implements fyne.Focusable: who types has read the tip.
func (e *Entry) TypedRune(r rune) {
	TipGone(e)
	e.Entry.TypedRune(r)
}

// MouseDown implements desktop.Mouseable.
func (e *Entry) MouseDown(m *desktop.MouseEvent) {
	TipGone(e)
	e.entered = !e.focused && m.Button == desktop.MouseButtonPrimary
	e.Entry.MouseDown(m)
}

// MouseUp implements desktop.Mouseable: the click that entered e placed a cursor
// on its way, which nobody asked for yet.
func (e *Entry) MouseUp(m *desktop.MouseEvent) {
	e.Entry.MouseUp(m)
	if e.entered && e.SelectedText() == "" {
		e.selectAll()
	}
	e.entered = false
}

// FocusLost implements fyne.Focusable: it commits. A text that is refused goes
// back to the value; the line that says why stays, with what was typed, and so does
// what is asked, to be clicked.
func (e *Entry) FocusLost() {
	TipGone(e)
	refused := !e.commit()
	e.focused = false
	e.ring.Show(false)
	e.Entry.FocusLost()
	if refused {
		e.show(e.value())
		e.fault("Not used: " + e.reason)
	}
}

// TypedShortcut implements fyne.Shortcutable. Redo means the document's when
// nothing is being typed, and shortcuts that are no text editing are passed on.
func (e *Entry) TypedShortcut(s fyne.Shortcut) {
	if _, undo := s.(*fyne.ShortcutUndo); undo && e.Pending() {
		e.Undo()
		return
	}
	_, redo := s.(*fyne.ShortcutRedo)
	_, custom := s.(*desktop.CustomShortcut)
	c := fyne.CurrentApp().Driver().CanvasForObject(e)
	if up, ok := c.(fyne.Shortcutable); ok && redo && !e.Pending() {
		up.TypedShortcut(s)
		return
	} else if ok && custom {
		up.TypedShortcut(s)
	}
	e.Entry.TypedShortcut(s)
}

// Undo takes back what was typed last. Typing over a selected text is one step,
// though it is a removal and an addition.
func (e *Entry) Undo() {
	e.Entry.Undo()
	if e.Text == "" && e.Pending() {
		e.Entry.Undo()
	}
}
