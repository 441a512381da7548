// SPDX-License-Identifier: MIT

package app

import (
	"earline/app/page"
	"earline/app/page/practice"
	"earline/app/page/proposal"
	"earline/app/page/sight"
	"earline/app/page/sound"
)

// newPages returns the pages, in the order of their tabs.
func (w *Window) newPages() []page.Page {
	f := page.Frame{
		Ask:    w.ask,
		Raise:  func(p page.Page) { w.drawer.show(p) },
		Redraw: w.redraw,
		Status: w.showStatus,
		Commit: w.commit,
		Key:    w.key,
		Rune:   w.rune,
	}
	return []page.Page{
		sight.New(w.session, f, w.sitIn),
		practice.New(w.session, f, w.cfg.Standard),
		sound.New(w.session, f, w.inspector.Speaker),
		proposal.New(w.session, f),
	}
}

// pageChanged is told that another page is on top. Every page keeps the height that
// it was given.
func (w *Window) pageChanged(from, to *leaf) {
	from.share = w.down.Offset
	if to.share != w.down.Offset {
		w.down.SetOffset(to.share)
	}
	w.unmark()
	to.Update()
	w.showOptions()
	w.showStatus()
	w.win.Canvas().Focus(w.view)
}
