// SPDX-License-Identifier: MIT

package app

import (
	"slices"

	"fyne.io/fyne/v2"

	"earline/app/page"
)

// The preferences in which the window keeps what it looks like from one start to the
// next. Those of a page end in its title.
const (
	widthKey  = "window.width" // in Fyne's points
	heightKey = "window.height"
	filledKey = "window.filled" // whether it filled the screen
	acrossKey = "window.inspector"
	pageKey   = "window.page"
	shareKey  = "window.picture."
)

// usual is the size of the window at its first start, and leastSize what is no window
// any more. filling is how much of the screen may be left by a window that fills it,
// for its frame.
var (
	usual     = fyne.NewSize(1280, 800)
	leastSize = fyne.NewSize(400, 300)
	filling   = fyne.NewSize(16, 64)
)

// recall looks as the window did last. What is out of bounds in the preferences is
// passed over.
func (w *Window) recall() {
	p := w.fyne.Preferences()
	size := fyne.NewSize(float32(p.Float(widthKey)), float32(p.Float(heightKey)))
	const most = 16384 // points; no screen is as large
	if !(size.Width >= leastSize.Width && size.Width <= most && size.Height >= leastSize.Height && size.Height <= most) {
		size = usual
	}
	w.win.Resize(size)
	share := func(key string, to *float64) {
		if v := p.Float(key); v > 0.05 && v < 0.95 {
			*to = v
		}
	}
	share(acrossKey, &w.across.Offset)
	for _, t := range w.drawer.tabs {
		share(shareKey+t.Title(), &t.share)
	}
	w.down.Offset = w.drawer.top.share
	title := p.String(pageKey)
	if i := slices.IndexFunc(w.drawer.tabs, func(t *tab) bool { return t.Title() == title && t.open() }); i >= 0 {
		w.drawer.show(w.drawer.tabs[i].Page)
	}
}

// fitScreen makes the window no larger than the screen, and as large as that where it
// filled the screen before. It must be shown already.
func (w *Window) fitScreen() {
	if w.cfg.screen == nil {
		return
	}
	wide, high, ok := w.cfg.screen()
	if !ok {
		return
	}
	scale := w.win.Canvas().Scale()
	screen := fyne.NewSize(float32(wide)/scale, float32(high)/scale)
	size := w.win.Canvas().Size()
	if w.fyne.Preferences().Bool(filledKey) {
		size = screen
	}
	if size = size.Min(screen); size != w.win.Canvas().Size() {
		w.win.Resize(size)
	}
}

// keepLook keeps in the preferences what the window looks like.
func (w *Window) keepLook() {
	p, size := w.fyne.Preferences(), w.win.Canvas().Size()
	whole := w.win.FullScreen() // the size is the screen's then
	if !whole {
		p.SetFloat(widthKey, float64(size.Width))
		p.SetFloat(heightKey, float64(size.Height))
	}
	if w.cfg.screen != nil && !whole {
		if wide, high, ok := w.cfg.screen(); ok {
			scale := w.win.Canvas().Scale()
			p.SetBool(filledKey, size.Width >= float32(wide)/scale-filling.Width && size.Height >= float32(high)/scale-filling.Height)
		}
	}
	p.SetFloat(acrossKey, w.across.Offset)
	w.drawer.top.share = w.down.Offset
	for _, t := range w.drawer.tabs {
		p.SetFloat(shareKey+t.Title(), t.share)
	}
	if _, passing := w.drawer.top.Page.(page.Transient); !passing {
		p.SetString(pageKey, w.drawer.top.Title())
	}
}
