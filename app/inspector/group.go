// SPDX-License-Identifier: MIT

package inspector

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/layout"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/theme"
	"earline/app/words"
)

// group is a part of the inspector that opens and closes by its heading. A
// closed group says in its heading what it holds.
type group struct {
	form  *field.Form
	open  bool
	built bool

	title     string
	resized   func() // told when the group opens or closes
	turned    func() // told when the user opened or closed it
	summarize func() string
	build     func(*field.Form)
	head      *heading
	whole     *fyne.Container
}

func newGroup(title string, summarize func() string, build func(*field.Form)) *group {
	g := &group{title: title, summarize: summarize, build: build}
	g.head = newHeading(title, func() {
		g.setOpen(!g.open)
		g.turned()
	})
	g.whole = container.New(layout.NewCustomPaddedVBoxLayout(0), g.head)
	return g
}

func (g *group) object() fyne.CanvasObject { return g.whole }

func (g *group) setOpen(open bool) {
	if g.open == open {
		return
	}
	g.open = open
	if open && !g.built {
		g.built = true
		g.build(g.form)
		g.whole.Add(container.New(layout.NewCustomPaddedLayout(3, 6, 8, 8), g.form.Object()))
	}
	if len(g.whole.Objects) > 1 {
		if open {
			g.whole.Objects[1].Show()
		} else {
			g.whole.Objects[1].Hide()
		}
	}
	g.update()
	g.resized()
}

func (g *group) update() {
	g.head.show(g.open, g.summarize())
	if g.open {
		g.form.Update()
	}
}

// heading is the bar that opens a group: by a click, Enter or Space.
type heading struct {
	widget.BaseWidget
	tap           func()
	ring          *field.Ring
	back          *canvas.Rectangle
	arrow         *canvas.Image
	title, detail *canvas.Text
}

func newHeading(title string, tap func()) *heading {
	h := &heading{tap: tap, ring: field.NewRing(),
		back:   canvas.NewRectangle(theme.Head),
		arrow:  canvas.NewImageFromResource(base.NewThemedResource(base.MenuExpandIcon())),
		title:  canvas.NewText(words.Of(title), theme.Ink),
		detail: canvas.NewText("", theme.Faint),
	}
	h.title.TextSize, h.detail.TextSize = 12.5, 11
	h.title.TextStyle.Bold = true
	h.ExtendBaseWidget(h)
	return h
}

func (h *heading) show(open bool, detail string) {
	icon := base.MenuExpandIcon()
	if open {
		icon = base.MenuDropDownIcon()
	}
	if h.arrow.Resource != icon {
		h.arrow.Resource = icon
		h.arrow.Refresh()
	}
	if detail = words.Of(detail); h.detail.Text != detail {
		h.detail.Text = detail
		h.detail.Refresh()
		h.Refresh()
	}
}

// Tapped implements fyne.Tappable.
func (h *heading) Tapped(*fyne.PointEvent) { h.tap() }

// FocusGained implements fyne.Focusable, as do the methods below.
func (h *heading) FocusGained() {
	h.ring.Show(true)
	field.Reveal(h)
}

// FocusLost hides the ring.
func (h *heading) FocusLost() { h.ring.Show(false) }

// TypedKey opens or closes the group, or passes the key on.
func (h *heading) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		h.tap()
	default:
		field.Pass(h, ev)
	}
}

// TypedRune passes a character on.
func (h *heading) TypedRune(r rune) {
	if r != ' ' {
		field.PassRune(h, r)
	}
}

// Cursor implements desktop.Cursorable.
func (h *heading) Cursor() desktop.Cursor { return desktop.PointerCursor }

// MouseIn implements desktop.Hoverable.
func (h *heading) MouseIn(*desktop.MouseEvent) {
	h.back.FillColor = theme.Button
	h.back.Refresh()
}

// MouseMoved implements desktop.Hoverable.
func (h *heading) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (h *heading) MouseOut() {
	h.back.FillColor = theme.Head
	h.back.Refresh()
}

// CreateRenderer implements fyne.Widget.
func (h *heading) CreateRenderer() fyne.WidgetRenderer { return &headingRenderer{h} }

type headingRenderer struct{ *heading }

func (r *headingRenderer) Destroy()           {}
func (r *headingRenderer) Refresh()           { r.Layout(r.Size()); canvas.Refresh(r.heading) }
func (r *headingRenderer) MinSize() fyne.Size { return fyne.NewSize(160, 24) }
func (r *headingRenderer) Objects() []fyne.CanvasObject {
	return append([]fyne.CanvasObject{r.back, r.arrow, r.title, r.detail}, r.ring.Objects()...)
}

// Layout sets the detail at the right and cuts it where the title needs room.
func (r *headingRenderer) Layout(s fyne.Size) {
	r.back.Resize(s)
	r.ring.Resize(s)
	r.arrow.Resize(fyne.NewSquareSize(16))
	r.arrow.Move(fyne.NewPos(4, (s.Height-16)/2))
	t, d := r.title.MinSize(), r.detail.MinSize()
	r.title.Move(fyne.NewPos(24, (s.Height-t.Height)/2))
	r.title.Resize(t)
	if d.Width > s.Width-t.Width-40 {
		r.detail.Hide()
	} else {
		r.detail.Show()
	}
	r.detail.Move(fyne.NewPos(s.Width-d.Width-8, (s.Height-d.Height)/2))
	r.detail.Resize(d)
}
