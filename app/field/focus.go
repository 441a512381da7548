// SPDX-License-Identifier: MIT

package field

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/layout"
)

// canvasOf returns the canvas that o has been painted on; nil before.
func canvasOf(o fyne.CanvasObject) fyne.Canvas {
	return fyne.CurrentApp().Driver().CanvasForObject(o)
}

// Pass gives a key that means nothing to o to whoever listens when nothing has the
// keyboard: the keys of commands work wherever the keyboard is.
func Pass(o fyne.CanvasObject, ev *fyne.KeyEvent) {
	if c := canvasOf(o); c != nil && c.OnTypedKey() != nil {
		c.OnTypedKey()(ev)
	}
}

// PassRune does the same with a character.
func PassRune(o fyne.CanvasObject, r rune) {
	if c := canvasOf(o); c != nil && c.OnTypedRune() != nil {
		c.OnTypedRune()(r)
	}
}

// Focus gives the keyboard to o, if o has been painted.
func Focus(o fyne.Focusable) {
	if c := canvasOf(o.(fyne.CanvasObject)); c != nil {
		c.Focus(o)
	}
}

// Bordered lays out as container.NewBorder does. Tab, which follows the order of
// the objects, goes as one reads: top, left, middle, right, bottom. Each may be nil.
func Bordered(top, bottom, left, right, middle fyne.CanvasObject) *fyne.Container {
	c := container.New(layout.NewBorderLayout(top, bottom, left, right))
	for _, o := range []fyne.CanvasObject{top, left, middle, right, bottom} {
		if o != nil {
			c.Objects = append(c.Objects, o)
		}
	}
	return c
}

// Reveal scrolls what o lies in as far as brings all of o into view.
func Reveal(o fyne.CanvasObject) {
	c := canvasOf(o)
	if c == nil {
		return
	}
	if top := c.Overlays().Top(); top != nil && reveal(top, o) {
		return
	}
	reveal(c.Content(), o)
}

// FocusIn gives the keyboard to o in root, which has been painted, and scrolls o into
// view. o itself may not have been painted yet.
func FocusIn(root fyne.CanvasObject, o fyne.Focusable) {
	if c := canvasOf(root); c != nil {
		c.Focus(o)
	}
	reveal(root, o.(fyne.CanvasObject))
}

// Holds reports whether o lies in root.
func Holds(root, o fyne.CanvasObject) bool {
	if root == o {
		return true
	}
	for _, under := range parts(root) {
		if Holds(under, o) {
			return true
		}
	}
	return false
}

// reveal looks for o under root, and scrolls on the way back. at is where o lies in
// root.
func reveal(root, o fyne.CanvasObject) bool {
	_, found := find(root, o)
	return found
}

func find(root, o fyne.CanvasObject) (at fyne.Position, found bool) {
	if root == o {
		return fyne.Position{}, true
	}
	for _, under := range parts(root) {
		if at, found = find(under, o); found {
			at = at.Add(under.Position())
			break
		}
	}
	if s, ok := root.(*container.Scroll); ok && found {
		at = at.Add(scrollTo(s, at.Add(fyne.NewDelta(s.Offset.X, s.Offset.Y)), o.Size()))
	}
	return at, found
}

// scrollTo brings what lies at a place of what s scrolls into view, its beginning
// if not all of it, and returns by how much that moved.
func scrollTo(s *container.Scroll, at fyne.Position, size fyne.Size) fyne.Delta {
	to := fyne.NewPos(offset(s.Offset.X, at.X, size.Width, s.Size().Width), offset(s.Offset.Y, at.Y, size.Height, s.Size().Height))
	by := fyne.NewDelta(s.Offset.X-to.X, s.Offset.Y-to.Y)
	if by != (fyne.Delta{}) {
		s.ScrollToOffset(to)
	}
	return by
}

// offset returns how far to scroll so that what begins at and is long is seen in a
// room that now begins at from.
func offset(from, at, long, room float32) float32 {
	return min(max(from, at+long-room), at)
}

// parts returns what o holds, as far as that can scroll.
func parts(o fyne.CanvasObject) []fyne.CanvasObject {
	switch o := o.(type) {
	case *fyne.Container:
		return o.Objects
	case *container.Split:
		return []fyne.CanvasObject{o.Leading, o.Trailing}
	case *container.Scroll:
		return []fyne.CanvasObject{o.Content}
	}
	return nil
}

// modifiers returns the modifier keys held down; 0 where it cannot be known.
func modifiers() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}
