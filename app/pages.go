// SPDX-License-Identifier: MIT

package app

import (
	"earline/app/page"
	"earline/app/page/asbuilt"
	"earline/app/page/compare"
	"earline/app/page/lesson"
	"earline/app/page/lists"
	"earline/app/page/picture"
	"earline/app/page/practice"
	"earline/app/page/proposal"
	"earline/app/page/setout"
	"earline/app/page/sight"
	"earline/app/page/sound"
)

// newPages returns the pages, in the order of their tabs.
func (w *Window) newPages() []page.Page {
	f := page.Frame{
		Ask:    w.ask,
		Raise:  func(p page.Page) { w.drawer.show(p) },
		Redraw: w.room.Redraw,
		Status: w.showStatus,
		Commit: w.commit,
		Leave:  w.confirmUnsaved,
		Begin:  w.begin,
		Run:    w.runNamed,
		Key:    w.key,
		Rune:   w.rune,
	}
	return []page.Page{
		sight.New(w.session, f, w.room.SitIn),
		practice.New(w.session, f, w.cfg.Standard),
		sound.New(w.session, f, w.inspector.Speaker),
		picture.New(w.session, f, w.room),
		asbuilt.New(w.session, f),
		setout.New(w.session, f),
		compare.New(w.session, f),
		lists.New(w.session, f),
		lesson.New(w.session, f),
		proposal.New(w.session, f),
	}
}

// pageChanged is told that another page is on top. Every page keeps the height that
// it was given.
func (w *Window) pageChanged(from, to *tab) {
	from.share = w.down.Offset
	if to.share != w.down.Offset {
		w.down.SetOffset(to.share)
	}
	w.session.Unmark() // a remark is drawn on its page only
	to.Update()
	w.room.Redraw()
	w.showControls()
	w.commit()
}
