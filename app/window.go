// SPDX-License-Identifier: MIT

package app

import (
	"context"
	"reflect"
	"runtime"
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"

	"earline/app/command"
	"earline/app/document"
	"earline/app/hear"
	"earline/app/inspector"
	"earline/app/job"
	"earline/app/matrix"
	"earline/app/remarks"
	"earline/app/theme"
	"earline/app/view"
	"earline/project"
	"earline/project/file"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
	"earline/scene"
)

// manySeats is the number of seats beyond which the audit goes to the
// background: it would hold the window up for longer than a frame.
const manySeats = 24

// Window is the window and the document in it.
type Window struct {
	cfg  Config
	fyne fyne.App
	win  fyne.Window

	doc      *document.Document
	result   *sight.Result
	audited  *project.Design // whose audit result is; nil when that is not known
	auditing job.Latest[*sight.Result]
	everyone *sight.RangeResult // for whom the design holds; nil while not known
	ranging  job.Latest[*sight.RangeResult]
	settled  *time.Timer // starts ranging

	limits     limits // of the loudspeaker on show, as far as known
	asked      limits // those on their way, without t
	limiting   job.Latest[limits]
	limitsSoon *time.Timer // starts limiting
	autosave   *time.Timer

	practice *practice.Result
	standard practice.Standard // the house's
	solving  job.Task[*offer]
	proposal *offer // on show; nil for none

	heard   listening
	low     low
	heat    *scene.Heat // with traces and patches: what the page of sound draws
	traces  []scene.Trace
	patches []scene.Patch

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

var _ inspector.Host = (*Window)(nil)

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
	w.doc = d
	w.low.store.Workers = max(runtime.NumCPU()-1, 1) // one is left for the picture
	w.inspector = inspector.New(w)
	w.view = view.New()
	w.view.Post, w.auditing.Post, w.ranging.Post = cfg.Post, cfg.Post, cfg.Post
	w.limiting.Post = cfg.Post
	w.solving.Post, w.low.waving.Post, w.low.seeking.Post = cfg.Post, cfg.Post, cfg.Post
	w.matrix = matrix.New()
	w.remarks = remarks.New()
	w.hear = hear.New()
	w.sheet = newSheet(w.refuse, w.refuse, w.accept)
	w.status = newStatus()
	w.commands = w.commandTable()
	w.bar = w.newBar()
	w.menu = w.newMenu()
	w.connect()
	w.lay()
	w.readStandard()
	w.present()
	w.win.SetMainMenu(w.menu.main)
	w.win.Resize(fyne.NewSize(1280, 800))
	w.win.SetCloseIntercept(w.quit)
	w.win.SetOnClosed(func() {
		w.closed = true
		w.auditing.Cancel()
		w.limiting.Cancel()
		if w.limitsSoon != nil {
			w.limitsSoon.Stop()
		}
		w.stopRanging()
		w.solving.Cancel()
		w.low.waving.Cancel()
		w.stopBass()
		w.stopAutosave()
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
		w.ask(func() { w.open(uris[0].Path()) })
	}
}

// connect joins the parts.
func (w *Window) connect() {
	w.inspector.OnSpeaker = w.selectSpeaker
	w.inspector.OnRow = w.selectRow
	w.inspector.OnOpened = w.redraw
	w.inspector.OnRefusal = func(why string) {
		w.status.hint("Not done: " + why)
		w.showStatus()
	}
	w.view.OnPick = w.pick
	w.view.OnMove = w.showStatus
	w.view.OnGrab, w.view.OnHover = w.grab, w.hover
	w.view.OnKey, w.view.OnRune = w.key, w.rune
	w.view.Ground = func(x, y float64) float64 { return place.FloorOf(w.Design()).At(x, y) }
	w.view.Overview = func(aspect float32) scene.Camera { return scene.Overview(w.Design(), aspect) }
	w.view.OnFirst = w.cfg.FirstPicture
	w.matrix.OnChoose = w.choose
	w.matrix.OnHover = func(matrix.Cell, bool) { w.showStatus() }
	w.matrix.OnSpeaker = func(k int) {
		w.inspector.ShowSpeaker(k)
		w.selectSpeaker(k)
	}
	w.matrix.OnSeat = func(i int) { w.sitIn(i) }
	w.matrix.OnKey, w.matrix.OnRune = w.key, w.rune
	w.remarks.OnChoose = w.chooseRemark
	w.remarks.OnSwitch, w.remarks.OnLimits, w.remarks.OnPrinted = w.switchRule, w.limitRule, w.printed
	w.hear.OnWish, w.hear.OnExport, w.hear.OnCancel = w.wished, w.exportChart, w.cancelBass
	w.remarks.OnKey, w.remarks.OnRune = w.key, w.rune
	c := w.win.Canvas()
	c.SetOnTypedKey(w.key)
	c.SetOnTypedRune(w.rune)
}

// lay arranges the parts.
func (w *Window) lay() {
	w.side = container.NewBorder(w.bar.files, nil, nil, nil, w.inspector.Object())
	w.drawer = newDrawer([pageCount]fyne.CanvasObject{w.matrix, w.remarks.Object(), w.hear.Object(), w.sheet.object},
		[pageCount]fyne.CanvasObject{nil, w.remarks.Head(), w.hear.Head(), w.sheet.head}, w.turned)
	w.down = container.NewVSplit(container.NewBorder(w.bar.views, nil, nil, nil, w.view), w.drawer.object)
	w.down.Offset = pictureShare
	w.across = container.NewHSplit(w.side, w.down)
	w.across.Offset = 0.25
	w.win.SetContent(container.NewBorder(nil, w.status.object, nil, nil, w.across))
	w.win.SetPadded(false)
	w.win.Canvas().Focus(w.view)
}

// Design implements inspector.Host. What is being dragged is where it is now.
func (w *Window) Design() *project.Design {
	if w.drag != nil && w.drag.draft != nil {
		return w.drag.draft
	}
	return w.doc.Design()
}

// Everyone implements inspector.Host.
func (w *Window) Everyone() *sight.RangeResult { return w.everyone }

// Limits implements inspector.Host.
func (w *Window) Limits(speaker int) (t sight.Tolerances, ok bool) {
	if w.limits.of != nil && w.limits.of == w.result && w.limits.speaker == speaker {
		return w.limits.t, true
	}
	if w.result != nil && !w.moving() {
		w.startLimits(speaker)
	}
	return sight.Tolerances{}, false
}

// limits are how far one loudspeaker may be off, of one audit.
type limits struct {
	of      *sight.Result
	speaker int
	t       sight.Tolerances
}

// moving reports whether something is being dragged.
func (w *Window) moving() bool { return w.drag != nil && w.drag.draft != nil }

// startLimits works the limits of a loudspeaker out, once edits have paused.
func (w *Window) startLimits(speaker int) {
	if w.asked.of == w.result && w.asked.speaker == speaker {
		return // on its way
	}
	w.asked = limits{of: w.result, speaker: speaker}
	if w.limitsSoon != nil {
		w.limitsSoon.Stop()
	}
	d, r := w.Design(), w.result
	w.limitsSoon = time.AfterFunc(pause/2, func() {
		w.cfg.Post(func() {
			if w.closed || w.result != r {
				return
			}
			w.limiting.Start(func() limits { return limits{r, speaker, sight.Tolerance(d, r, speaker)} }, func(l limits) {
				w.limits = l
				w.inspector.Update()
			})
		})
	})
}

// startRanging works out for whom the design holds, once edits have paused: it
// takes longer than an edit may, and its core is needed for the picture.
func (w *Window) startRanging() {
	w.stopRanging()
	w.settled = time.AfterFunc(pause, func() {
		w.cfg.Post(func() {
			if w.closed {
				return
			}
			d := w.Design()
			w.ranging.Start(func() *sight.RangeResult {
				r, err := sight.Range(context.Background(), d)
				if err != nil {
					return nil
				}
				return r
			}, func(r *sight.RangeResult) {
				w.everyone = r
				w.inspector.Update()
			})
		})
	})
}

func (w *Window) stopRanging() {
	w.everyone = nil
	w.ranging.Cancel()
	if w.settled != nil {
		w.settled.Stop()
	}
}

// pause is how long edits must have paused before what takes longer is begun.
const pause = 400 * time.Millisecond

// Result implements inspector.Host.
func (w *Window) Result() *sight.Result { return w.result }

// Do implements inspector.Host: the one way in which the design changes.
func (w *Window) Do(label, merge string, edit func(*project.Design)) error {
	w.drag = nil // something else came between
	before := w.doc.Design()
	if err := w.doc.Do(label, merge, edit); err != nil {
		return err
	}
	if w.doc.Design() != before {
		w.changed()
	}
	return nil
}

// changed shows the design after an edit and sees to its recovery copy.
func (w *Window) changed() {
	w.refuse() // a proposal is for the design it was made from
	w.dropBass()
	w.refresh()
	w.startAutosave()
}

// present shows a document that was just opened.
func (w *Window) present() {
	w.look, w.drag = look{}, nil
	w.options.Seat, w.options.Speaker, w.options.FromSeat, w.options.Only = scene.None, scene.None, scene.None, false
	w.result, w.audited = nil, nil
	w.matrix.Choose(nil)
	w.remarks.Unchoose()
	w.refuse()
	w.dropBass()
	w.low.study, w.low.of, w.heard = nil, nil, listening{}
	w.refresh()
	w.inspector.Reset()
	w.inspector.OpenFirst()
	w.setView(view.Overview)
	w.view.Fit()
}

// refresh audits the design and shows it everywhere.
func (w *Window) refresh() {
	d := w.Design()
	poly := d.Room.Polygon()
	lo, hi := poly.Bounds()
	w.view.Lo.X, w.view.Lo.Y, w.view.Lo.Z = lo.X, lo.Y, 0
	w.view.Hi.X, w.view.Hi.Y = hi.X, hi.Y
	w.view.Hi.Z = float64(max(d.Room.Ceiling.Height, d.Room.Ceiling.FarHeight))
	if moved, ok := onlyMoved(w.audited, d); ok && w.result != nil && seatsOf(d) <= manySeats {
		w.auditing.Cancel()
		w.takeOf(d, sight.Update(w.result, d, moved...))
		return
	}
	if seatsOf(d) <= manySeats || w.result == nil {
		w.auditing.Cancel()
		w.takeOf(d, sight.Audit(d))
		return
	}
	w.show() // the old answers, until the new ones come
	w.auditing.Start(func() *sight.Result { return sight.Audit(d) }, func(r *sight.Result) { w.takeOf(d, r) })
}

// takeOf takes the audit of d.
func (w *Window) takeOf(d *project.Design, r *sight.Result) {
	w.audited = d
	w.take(r)
}

// onlyMoved returns the indexes of the loudspeakers that are the only thing, and
// in nothing but place, aim, mount and tuning, that differs between two designs;
// ok is false when anything else does.
func onlyMoved(was, is *project.Design) (moved []int, ok bool) {
	if was == nil || len(was.Speakers) != len(is.Speakers) {
		return nil, false
	}
	for k := range is.Speakers {
		a, b := was.Speakers[k], is.Speakers[k]
		if a == b {
			continue
		}
		a.At, a.Aim, a.Mount, a.Tuning = b.At, b.Aim, b.Mount, b.Tuning
		if a != b {
			return nil, false
		}
		moved = append(moved, k)
	}
	a, b := *was, *is
	a.Speakers, b.Speakers = nil, nil
	return moved, reflect.DeepEqual(a, b)
}

func (w *Window) take(r *sight.Result) {
	w.result = r
	w.startRanging()
	if w.options.Mark != nil { // the picture shows what the rules say
		w.check()
		w.show()
		return
	}
	w.show(w.check)
}

// turned is told that another page of the drawer is on top. Every page keeps the
// height that it was given.
func (w *Window) turned(from, to page) {
	w.drawer.height[from] = w.down.Offset
	if h := w.drawer.height[to]; h != w.down.Offset {
		w.down.SetOffset(h)
	}
	w.unmark()
	w.remarks.Wake()
	w.listen()
	w.redraw()
	w.win.Canvas().Focus(w.view)
}

// show brings every part up to date with the design and the audit, and does then
// what else the rest waits for and the picture does not.
func (w *Window) show(then ...func()) {
	w.status.hint("")
	w.followLook()
	w.listen()
	w.redraw() // first: the picture is drawn while the rest is brought up to date
	for _, f := range then {
		f()
	}
	w.inspector.Update()
	w.matrix.Set(w.result, w.Design().Units)
	w.bar.update(w)
	w.menu.update(w)
	w.showStatus()
	w.showTitle()
	w.view.Await(patience)
}

// patience is how long an edit waits for its picture. A picture that takes
// longer comes when it is ready.
const patience = 40 * time.Millisecond

// redraw makes a new picture of what is there.
func (w *Window) redraw() {
	o := w.options
	o.Plan = w.view.Rig.Kind == view.Plan
	o.Dims = w.dims()
	w.overlay(&o)
	if w.view.Rig.Kind != view.Seat { // there it would lie over the picture
		o.Opened = w.inspector.Opened()
	}
	o.Zones = w.zones()
	if o.Ghost != nil {
		o.Rays = scene.Nothing // they are of what is there, not of what is proposed
	}
	if w.view.Rig.Kind.Axes() == (scene.Axes{}) {
		o.Hot = scene.Item{} // only drawings are dragged in
	}
	if w.view.Rig.Kind == view.Seat && w.look.cell == nil && o.Rays == scene.Problems {
		// From a seat one looks at the picture. Rays that begin beside the eye,
		// or pass it, would cover it.
		o.Rays, o.Seat, o.Speaker = scene.Nothing, scene.None, scene.None
	}
	w.view.SetList(scene.Build(w.Design(), w.result, o))
}

// zones reports whether the zones for subwoofers are drawn: where bass is looked
// at, and while they are edited. Elsewhere they would lie about among the rays.
func (w *Window) zones() bool {
	return w.drawer.top == soundPage || slices.ContainsFunc(w.inspector.Opened(), func(it scene.Item) bool { return it.Kind == scene.HitZone })
}

func (w *Window) showTitle() {
	t := "Earline - " + w.doc.Title()
	if w.doc.Dirty() {
		t += " *"
	}
	if t != w.win.Title() {
		w.win.SetTitle(t)
	}
}

// room returns where everything of the design is as last audited, nil before.
func (w *Window) room() *place.Room {
	if w.result == nil {
		return nil
	}
	return &w.result.Room
}

// commit takes in what is still being typed in some entry.
func (w *Window) commit() { w.win.Canvas().Focus(w.view) }

// busy reports whether a dialog or menu is open, which keys must not reach
// through.
func (w *Window) busy() bool { return w.win.Canvas().Overlays().Top() != nil }
