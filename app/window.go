// SPDX-License-Identifier: MIT

package app

import (
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"

	"earline/app/command"
	"earline/app/document"
	"earline/app/hear"
	"earline/app/inspector"
	"earline/app/matrix"
	"earline/app/remarks"
	"earline/app/session"
	"earline/app/theme"
	"earline/app/view"
	"earline/project/file"
	"earline/project/place"
	"earline/project/sight"
	"earline/scene"
)

// Window is the window and the document in it.
type Window struct {
	cfg  Config
	fyne fyne.App
	win  fyne.Window

	session *session.Session
	drawn   *sight.Result // whose rays are in the picture

	sounds  soundOverlay // what the page of sound draws in the room
	options scene.Options
	look    look
	drag    *drag // nil while nothing is dragged

	inspector *inspector.Inspector
	view      *view.Viewport
	matrix    *matrix.Matrix
	commands  command.Table
	status    *status
	bar       *bar
	menu      *menu
	side      fyne.CanvasObject // what the client view hides
	drawer    *drawer
	remarks   *remarks.Panel
	hear      *hear.Panel
	sheet     *sheet
	across    *container.Split
	down      *container.Split

	dialog   dialog.Dialog // shown last
	renderer view.Renderer
	closed   bool
}

// newWindow builds the window on a, not yet shown, with the document that cfg
// asks for. A document that cannot be read is reported in the window.
func newWindow(a fyne.App, cfg Config) *Window {
	a.Settings().SetTheme(theme.Theme{})
	if cfg.Autosave == 0 {
		cfg.Autosave = 3 * time.Second
	}
	if cfg.Post == nil {
		cfg.Post = fyne.Do
	}
	w := &Window{cfg: cfg, fyne: a, win: a.NewWindow("Earline"), options: scene.Default()}
	d, trouble := w.first()
	w.session = session.New(d, cfg.Post)
	w.session.Autosave = cfg.Autosave
	w.inspector = inspector.New(w.session)
	w.view = view.New()
	w.view.Post = cfg.Post
	w.matrix = matrix.New()
	w.remarks = remarks.New()
	w.hear = hear.New()
	w.sheet = newSheet(w.session.Refuse, w.session.Refuse, w.accept)
	w.status = newStatus()
	w.commands = w.commandTable()
	w.bar = w.newBar()
	w.menu = w.newMenu()
	w.connect()
	w.layout()
	w.readStandard()
	w.session.Show, w.session.Report = w.changed, w.report
	w.present()
	w.win.SetMainMenu(w.menu.main)
	w.win.Resize(fyne.NewSize(1280, 800))
	w.win.SetCloseIntercept(w.quit)
	w.win.SetOnClosed(func() {
		w.closed = true
		w.session.Close()
		w.stopRenderer(time.Second)
	})
	w.win.SetOnDropped(w.drop)
	if trouble != nil {
		w.report("This file cannot be opened", trouble)
	}
	return w
}

// first returns the document to begin with.
func (w *Window) first() (*document.Document, error) {
	switch {
	case w.cfg.Path != "":
		d, err := document.Open(w.cfg.Path, w.cfg.Dir)
		if err == nil {
			w.remember(d.Path())
			w.noteOpen(d.Path())
			return d, nil
		}
		return document.New(file.New(), w.cfg.Dir), err
	case w.cfg.Demo != "":
		if d, ok := file.Demo(w.cfg.Demo); ok {
			return document.New(d, w.cfg.Dir), nil
		}
	}
	return document.New(file.New(), w.cfg.Dir), nil
}

// drop opens the first of the files that were dropped on the window.
func (w *Window) drop(_ fyne.Position, uris []fyne.URI) {
	if len(uris) > 0 {
		w.confirmUnsaved(func() { w.open(uris[0].Path()) })
	}
}

// connect joins the parts.
func (w *Window) connect() {
	w.inspector.OnSpeaker = func(k int) { w.session.Choose(session.Selection{Seat: session.None, Speaker: k}) }
	w.inspector.OnRow = func(int) { w.session.Choose(session.Nothing()) } // a row is not marked in the picture
	w.inspector.OnOpened = w.redraw
	w.inspector.OnRefusal = func(why string) { w.session.Say("Not done: " + why) }
	w.view.OnPick = w.pick
	w.view.OnMove = w.showStatus
	w.view.OnGrab, w.view.OnHover = w.grab, w.hover
	w.view.OnKey, w.view.OnRune = w.key, w.rune
	w.view.Ground = func(x, y float64) float64 { return place.FloorOf(w.session.Design()).At(x, y) }
	w.view.Overview = func(aspect float32) scene.Camera { return scene.Overview(w.session.Design(), aspect) }
	w.view.OnFirst = w.cfg.FirstPicture
	w.matrix.OnChoose = w.lookAlong
	w.matrix.OnHover = func(matrix.Cell, bool) { w.showStatus() }
	w.matrix.OnSpeaker, w.matrix.OnSeat = w.selectSpeaker, w.sitIn
	w.matrix.OnKey, w.matrix.OnRune = w.key, w.rune
	w.remarks.OnChoose = w.chooseRemark
	w.remarks.OnSwitch, w.remarks.OnLimits, w.remarks.OnPrinted = w.switchRule, w.limitRule, w.resetRule
	w.hear.OnWish, w.hear.OnExport, w.hear.OnCancel = w.soundChoiceChanged, w.exportChart, w.cancelBass
	w.remarks.OnKey, w.remarks.OnRune = w.key, w.rune
	c := w.win.Canvas()
	c.SetOnTypedKey(w.key)
	c.SetOnTypedRune(w.rune)
}

// layout arranges the parts.
func (w *Window) layout() {
	w.side = container.NewBorder(w.bar.files, nil, nil, nil, w.inspector.Object())
	w.drawer = newDrawer([pageCount]fyne.CanvasObject{w.matrix, w.remarks.Object(), w.hear.Object(), w.sheet.object},
		[pageCount]fyne.CanvasObject{nil, w.remarks.Head(), w.hear.Head(), w.sheet.head}, w.pageChanged)
	w.down = container.NewVSplit(container.NewBorder(w.bar.views, nil, nil, nil, w.view), w.drawer.object)
	w.down.Offset = pictureShare
	w.across = container.NewHSplit(w.side, w.down)
	w.across.Offset = 0.25
	w.win.SetContent(container.NewBorder(nil, w.status.object, nil, nil, w.across))
	w.win.SetPadded(false)
	w.win.Canvas().Focus(w.view)
}

// changed is told by the session what has changed, and shows it.
func (w *Window) changed(c session.Change) {
	switch c {
	case session.DocumentChanged:
		w.present()
	case session.DesignChanged:
		if !w.session.Dragging() {
			w.drag = nil // something else came between
		}
		w.dropProposal()
		w.frame()
		w.show()
	case session.AnswerChanged:
		if w.session.Result() != w.drawn || w.findings() != w.remarks.Shown() {
			w.show()
			return
		}
		w.updateSound()
		if w.drawer.top == soundPage {
			w.redraw()
		}
		w.inspector.Update()
	case session.SelectionChanged:
		w.showSelection()
	case session.ProposalChanged:
		w.showProposal()
	case session.ProgressMade:
		if on, ok := w.working(proposalPage); ok {
			w.sheet.tell(on.Name, on.Share, on.What)
		}
		if w.drawer.top == soundPage {
			w.showBassProgress()
		}
	case session.HintChanged:
		w.showStatus()
	}
}

// present shows a document that was just opened.
func (w *Window) present() {
	w.look, w.drag = look{}, nil
	w.matrix.Choose(nil)
	w.remarks.Unchoose()
	w.dropProposal()
	w.frame()
	w.show()
	w.inspector.Reset()
	w.inspector.OpenFirst()
	w.setView(view.Overview)
	w.view.Fit()
}

// frame tells the view how large the room is.
func (w *Window) frame() {
	d := w.session.Design()
	lo, hi := d.Room.Polygon().Bounds()
	w.view.Lo.X, w.view.Lo.Y, w.view.Lo.Z = lo.X, lo.Y, 0
	w.view.Hi.X, w.view.Hi.Y = hi.X, hi.Y
	w.view.Hi.Z = float64(max(d.Room.Ceiling.Height, d.Room.Ceiling.FarHeight))
}

// pageChanged is told that another page of the drawer is on top. Every page keeps the
// height that it was given.
func (w *Window) pageChanged(from, to page) {
	w.drawer.height[from] = w.down.Offset
	if h := w.drawer.height[to]; h != w.down.Offset {
		w.down.SetOffset(h)
	}
	w.unmark()
	w.remarks.Wake()
	w.updateSound()
	w.redraw()
	w.win.Canvas().Focus(w.view)
}

// show updates every part of the window. It redraws the picture first, so that it
// is drawn while the rest is brought up to date.
func (w *Window) show() {
	marked := w.session.Chosen.Remark != nil
	if marked { // the picture shows what the rules say
		w.check()
	}
	w.followSeat()
	w.updateSound()
	w.redraw()
	if !marked {
		w.check()
	}
	w.inspector.Update()
	w.matrix.Set(w.session.Result(), w.session.Design().Units)
	w.bar.update(w)
	w.menu.update(w)
	w.showStatus()
	w.showTitle()
	w.view.Await(frameWait)
}

// frameWait is how long an edit waits for its picture. A picture that takes
// longer comes when it is ready.
const frameWait = 40 * time.Millisecond

// redraw makes a new picture of what is there.
func (w *Window) redraw() {
	w.drawn = w.session.Result()
	w.view.SetList(scene.Build(w.session.Design(), w.drawn, w.picture()))
}

// picture returns what is drawn: what is set for all pictures, what is selected
// and proposed, and what the page on top lays over the room.
func (w *Window) picture() scene.Options {
	o, c, kind := w.options, w.session.Chosen, w.view.Rig.Kind
	o.Seat, o.Speaker, o.Mark = c.Seat, c.Speaker, w.session.Marked()
	o.Only = c.Path || o.Mark != nil
	o.Plan = kind == view.Plan
	o.Dims = w.dims()
	w.overlay(&o)
	if kind == view.Seat {
		o.FromSeat = w.look.seat
	} else {
		o.Opened = w.inspector.Opened() // from a seat it would lie over the picture
	}
	o.Zones = w.zones()
	if p := w.session.Offer; p != nil && (p.Page != soundPage.String() || w.drawer.top == soundPage) {
		o.Ghost = p.Design     // of the subwoofers it waits on its page
		o.Rays = scene.Nothing // they are of what is there, not of what is proposed
	}
	if kind.Axes() == (scene.Axes{}) {
		o.Hot = place.Item{} // only drawings are dragged in
	}
	if kind == view.Seat && !c.Path && o.Rays == scene.Problems {
		// From a seat one looks at the picture. Rays that begin beside the eye,
		// or pass it, would cover it.
		o.Rays, o.Seat, o.Speaker = scene.Nothing, scene.None, scene.None
	}
	return o
}

// zones reports whether the zones for subwoofers are drawn: where bass is looked
// at, and while they are edited. On other pages they would clutter the rays.
func (w *Window) zones() bool {
	return w.drawer.top == soundPage || slices.ContainsFunc(w.inspector.Opened(), func(it place.Item) bool { return it.Kind == place.ZoneItem })
}

func (w *Window) showTitle() {
	t := "Earline - " + w.session.Doc.Title()
	if w.session.Doc.Dirty() {
		t += " *"
	}
	if t != w.win.Title() {
		w.win.SetTitle(t)
	}
}

// commit takes in what is still being typed in some entry.
func (w *Window) commit() { w.win.Canvas().Focus(w.view) }

// busy reports whether a dialog or menu is open, which keys must not reach
// through.
func (w *Window) busy() bool { return w.win.Canvas().Overlays().Top() != nil }
