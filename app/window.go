// SPDX-License-Identifier: MIT

package app

import (
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"earline/app/ask"
	"earline/app/command"
	"earline/app/document"
	"earline/app/inspector"
	"earline/app/page"
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
	ask     *ask.Asker
	drawn   *sight.Result // whose rays are in the picture

	options scene.Options
	look    look
	drag    *drag // nil while nothing is dragged

	inspector *inspector.Inspector
	view      *view.Viewport
	commands  command.Table
	status    *status
	bar       *bar
	menu      *menu
	side      fyne.CanvasObject // what the client view hides
	drawer    *drawer
	across    *container.Split
	down      *container.Split

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
	w.ask = ask.New(w.win, w.folder)
	w.inspector = inspector.New(w.session)
	w.view = view.New()
	w.view.Post = cfg.Post
	w.status = newStatus()
	w.drawer = newDrawer(w.newPages(), w.pageChanged)
	w.commands = w.commandTable()
	w.bar = w.newBar()
	w.menu = w.newMenu()
	w.connect()
	w.layout()
	w.session.Show, w.session.Report = w.changed, w.ask.Report
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
		w.ask.Report("This file cannot be opened", trouble)
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
	c := w.win.Canvas()
	c.SetOnTypedKey(w.key)
	c.SetOnTypedRune(w.rune)
}

// layout arranges the parts.
func (w *Window) layout() {
	w.side = container.NewBorder(w.bar.files, nil, nil, nil, w.inspector.Object())
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
		w.drawer.leaveClosed()
		w.frame()
		w.show()
		w.view.Await(frameWait)
	case session.AnswerChanged:
		audited := w.session.Result() != w.drawn
		w.show()
		if audited {
			w.view.Await(frameWait)
		}
	case session.SelectionChanged:
		w.showSelection()
	case session.ProposalChanged:
		w.drawer.openTransient()
		w.drawer.top.Update()
		w.showOptions()
		w.showStatus()
	case session.ProgressMade:
		if p, ok := w.drawer.top.Page.(page.Worker); ok {
			p.Progress()
		}
	case session.HintChanged:
		w.showStatus()
	}
}

// present shows a document that was just opened.
func (w *Window) present() {
	w.look, w.drag = look{}, nil
	w.drawer.leaveClosed()
	w.frame()
	w.show()
	w.view.Await(frameWait)
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

// show updates every part of the window: the page on top first, because the picture
// shows what the page lays over it.
func (w *Window) show() {
	w.followSeat()
	w.drawer.top.Update()
	w.redraw()
	w.inspector.Update()
	w.bar.update(w)
	w.menu.update(w)
	w.showStatus()
	w.showTitle()
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
	// Elsewhere the zones for subwoofers would clutter the rays.
	o.Zones = slices.ContainsFunc(w.inspector.Opened(), func(it place.Item) bool { return it.Kind == place.ZoneItem })
	w.drawer.top.Overlay(&o)
	if kind == view.Seat {
		o.FromSeat = w.look.seat
	} else {
		o.Opened = w.inspector.Opened() // from a seat it would lie over the picture
	}
	if p := w.session.Offer; p != nil && (!p.OnPage || p.Page == w.drawer.top.Title()) {
		o.Ghost = p.Design
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

// through.
