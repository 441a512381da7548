// SPDX-License-Identifier: MIT

package app

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"earline/app/ask"
	"earline/app/command"
	"earline/app/field"
	"earline/app/guide"
	"earline/app/inspector"
	"earline/app/page"
	"earline/app/repaint"
	"earline/app/room"
	"earline/app/session"
	"earline/app/theme"
	"earline/app/view"
	"earline/project/settle"
	"earline/scene"
)

// Window is the window and the document in it.
type Window struct {
	cfg  Config
	fyne fyne.App
	win  fyne.Window

	session *session.Session
	ask     *ask.Asker

	inspector *inspector.Inspector
	room      *room.Picture
	drawer    *drawer
	commands  command.Table
	controls  *controls
	status    *status
	guide     *guide.Guide
	foot      fyne.CanvasObject // the guide above the status line
	client    *clientBar
	stills    stillChoices
	tips      *field.Tips
	side      fyne.CanvasObject // inspector and the controls above it
	across    *container.Split
	down      *container.Split

	theme    theme.Theme
	renderer view.Renderer
	prompt   repaint.Prompt
	closed   bool
}

// newWindow builds the window on a, not yet shown, with the document that cfg
// asks for. A document that cannot be read is reported in the window.
func newWindow(a fyne.App, cfg Config) *Window {
	if cfg.Autosave == 0 {
		cfg.Autosave = 3 * time.Second
	}
	if cfg.Post == nil {
		cfg.Post = fyne.Do
	}
	w := &Window{cfg: cfg, fyne: a, win: a.NewWindow("Earline")}
	w.win.SetIcon(icon())
	w.theme.Choice = themeNamed(a.Preferences().String(themeKey))
	a.Settings().SetTheme(w.theme)
	d, trouble := w.first()
	w.session = session.New(d, cfg.Post)
	w.session.Autosave = cfg.Autosave
	w.ask = ask.New(w.win, w.folder)
	w.inspector = inspector.New(w.session)
	w.room = room.New(w.session, cfg.Post)
	w.status = newStatus(leads{
		family:  w.leadToFamily,
		blocked: func() { w.leadToPath(settle.Deepest) },
		tight:   func() { w.leadToPath(settle.Tightest) },
		first:   w.leadToFirst,
		rules:   func() { w.showRules(nil) },
	})
	w.client = newClientBar(w.room, w.savePicture, w.commit)
	w.drawer = newDrawer(w.newPages(), w.pageChanged)
	w.commands = w.commandTable()
	w.guide = w.newGuide()
	w.controls = newControls(w.commands, w.run)
	command.AddShortcuts(w.win.Canvas(), w.commands, w.run)
	w.connect()
	w.layout()
	w.followTheme()
	w.session.Show, w.session.Report = w.changed, w.ask.Report
	w.present()
	w.win.SetMainMenu(w.controls.menu.Fyne)
	w.recall()
	w.win.SetCloseIntercept(w.quit)
	w.win.SetOnClosed(func() {
		w.keepLook()
		w.closed = true
		w.prompt.End()
		w.room.Forget()
		w.session.Close()
		w.stopRenderer(time.Second)
	})
	w.win.SetOnDropped(w.drop)
	if trouble != nil {
		w.ask.Report("This file cannot be opened", trouble)
	}
	return w
}

// connect joins the parts.
func (w *Window) connect() {
	w.inspector.OnSpeaker = func(k int) { w.session.Choose(session.Selection{Seat: session.None, Speaker: k}) }
	w.inspector.OnRow = func(int) { w.session.Choose(session.Nothing()) } // a row is not marked in the picture
	w.inspector.OnOpened = w.room.Redraw
	w.inspector.OnWidth = func() {
		if w.across != nil {
			w.across.Refresh()
		}
	}
	w.inspector.OnKeepView = func() {
		w.runNamed("view.keep")
		w.inspector.ShowViewpoint(len(w.session.Design().Viewpoints) - 1)
	}
	w.inspector.OnLookFrom = w.room.LookFrom
	w.inspector.OnRefusal = func(why string) { w.session.Say("Not done: " + why) }
	w.inspector.OnSaid = w.session.Say
	w.room.Overlay = func(o *scene.Options) { w.drawer.top.Overlay(o) }
	w.room.OnTop = func() string { return w.drawer.top.Title() }
	w.room.Opened, w.room.Commit = w.inspector.Opened, w.commit
	w.room.Changed, w.room.OnClient = w.showControls, w.showAround
	w.room.OnAround = w.fullScreen
	w.room.Progress = func() { w.client.progress(w.room) }
	w.room.View.OnMove, w.room.View.OnFirst = w.showStatus, w.cfg.FirstPicture
	w.room.OnKey, w.room.View.OnRune = w.key, w.rune
	c := w.win.Canvas()
	c.SetOnTypedKey(w.key)
	c.SetOnTypedRune(w.rune)
}

// layout arranges the parts.
func (w *Window) layout() {
	w.side = field.Bordered(w.controls.files, nil, nil, nil, w.inspector.Object())
	w.down = container.NewVSplit(container.New(underStrip{}, w.controls.views, w.room.View), w.drawer.object)
	w.down.Offset = pictureShare
	w.across = container.NewHSplit(w.side, w.down)
	w.across.Offset = 0.25
	w.tips = field.NewTips()
	w.tips.Post = w.cfg.Post
	w.foot = container.NewVBox(w.guide.Object(), w.status.object)
	w.win.SetContent(w.tips.Over(field.Bordered(nil, container.NewStack(w.foot, w.client.object), nil, nil, w.across)))
	w.guide.Shown = w.win.Content().Refresh
	w.guide.Width = func() float32 { return w.win.Canvas().Size().Width }
	w.win.SetPadded(false)
	w.win.Canvas().Focus(w.room.View)
}

// changed is told by the session what has changed, and shows it.
func (w *Window) changed(c session.Change) {
	switch c {
	case session.DocumentChanged:
		w.present()
	case session.DesignChanged:
		w.mark("change")
		w.drawer.leaveClosed()
		w.show()
		w.room.Await()
		w.mark("picture")
	case session.AnswerChanged:
		audited := w.session.Result() != w.room.Drawn()
		w.show()
		if audited {
			w.room.Await()
		}
	case session.SelectionChanged:
		w.showSelection()
	case session.ProposalChanged:
		w.drawer.openTransient()
		w.drawer.top.Update()
		w.room.Redraw()
		w.showControls()
	case session.ProgressMade:
		if p, ok := w.drawer.top.Page.(page.Worker); ok {
			p.Progress()
		}
	case session.HintChanged:
		w.showStatus()
		w.room.Tell(w.session.Hint)
	}
}

// mark tells who measures that a step is done.
func (w *Window) mark(step string) {
	if w.cfg.Mark != nil {
		w.cfg.Mark(step)
	}
}

// present shows a document that was just opened.
func (w *Window) present() {
	w.room.Forget()
	for _, t := range w.drawer.tabs {
		if p, ok := t.Page.(page.Forgetful); ok {
			p.Forget()
		}
	}
	w.drawer.show(w.drawer.first())
	w.drawer.leaveClosed()
	w.show()
	w.room.Await()
	w.inspector.Reset()
	w.inspector.OpenFirst()
	w.room.Reset()
	w.tellOthers()
}

// show updates every part of the window: the page on top before the picture, which
// shows what the page lays over it.
func (w *Window) show() {
	w.room.Follow()
	w.drawer.top.Update()
	w.mark("page")
	w.room.Redraw()
	w.mark("list")
	w.inspector.Update()
	w.showControls()
	w.showTitle()
	w.mark("panel")
}

// showSelection shows what is selected in every part of the window.
func (w *Window) showSelection() {
	w.drawer.top.Update()
	c := w.session.Chosen
	if c.Path {
		w.inspector.Follow(c.Speaker)
	}
	w.inspector.Show(c.Item)
	w.room.ShowSelection()
	w.showStatus()
}

// showControls shows what is on and what can be done.
func (w *Window) showControls() {
	w.controls.update()
	w.client.update(w.room, w.session.Design())
	w.showStatus()
}

// commit takes in what is still being typed in some entry.
func (w *Window) commit() { w.win.Canvas().Focus(w.room.View) }
