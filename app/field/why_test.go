// SPDX-License-Identifier: MIT

package field

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// What a field is called said nothing of why it matters. The name and the field say it,
// by mouse and by keyboard, and beside the fields that come next.
func TestANameAndItsFieldSayWhyTheValueMatters(t *testing.T) {
	const why = "People climb in the dark."
	f := NewForm(nil)
	value := "0.300 m"
	l := f.AddEntry("Riser height", Binding{Value: func() string { return value }, Set: func(s string) error { value = s; return nil }}).Why(why)
	tips, w := tipWindow(t, f.Object())
	tips.Post = func(func()) {}
	pair := l.whole.Objects[0].(*fyne.Container)
	name := pair.Objects[2].(*named)
	if s := name.Size(); s.Width < nameWidth/2 || s.Height < l.Entry.Size().Height/2 {
		t.Errorf("over the name there is %v that says so", s)
	}
	name.MouseIn(&desktop.MouseEvent{})
	if tips.owner != fyne.CanvasObject(name) {
		t.Error("over the name no tip is awaited")
	}
	name.MouseOut()
	l.Entry.MouseIn(&desktop.MouseEvent{})
	if tips.owner != fyne.CanvasObject(l.Entry) {
		t.Error("over the field no tip is awaited")
	}
	l.Entry.MouseOut()
	if tips.owner != nil {
		t.Error("a tip stays")
	}
	w.Canvas().Focus(l.Entry)
	if tips.owner != fyne.CanvasObject(l.Entry) {
		t.Error("Tab brings no tip")
	}
	tips.show(l.Entry, l.Tip(), beside(l.Entry))
	if tips.Shown() != why {
		t.Errorf("the tip says %q", tips.Shown())
	}
	if at := tips.box; at.X < pair.Size().Width && at.Y > l.Entry.Position().Y {
		t.Errorf("the tip at %v covers the field below", at)
	}
	l.Entry.TypedRune('1')
	if tips.Shown() != "" {
		t.Error("who types cannot see past the tip")
	}
}
