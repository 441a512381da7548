// SPDX-License-Identifier: MIT

package inspector

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/theme"
	"earline/app/words"
	"earline/project/sight"
)

// chip is one of a number of small plates, of which one is chosen. Its verdict
// stands as a letter after the name when it falls short.
type chip struct {
	widget.BaseWidget
	set         *chips
	index       int // in the set
	ring        *field.Ring
	width       float32
	full        string // name in full; shown cut where it does not fit
	back, edge  *canvas.Rectangle
	name, state *canvas.Text
}

func newChip(set *chips, index int) *chip {
	c := &chip{set: set, index: index, width: set.width, ring: field.NewRing(), back: canvas.NewRectangle(theme.Line), edge: canvas.NewRectangle(nil),
		name: canvas.NewText("", theme.Ink), state: canvas.NewText("", theme.Ink)}
	c.name.TextSize, c.state.TextSize = 11, 11
	c.state.TextStyle.Bold = true
	c.back.CornerRadius, c.edge.CornerRadius = 3, 3
	c.ExtendBaseWidget(c)
	return c
}

func (c *chip) show(name string, v sight.Verdict, chosen bool) {
	c.full, c.state.Text = name, ""
	if v == sight.Tight || v == sight.Blocked {
		_, _, letter := theme.Verdict(v)
		c.state.Text, c.state.Color = words.Of(letter), theme.VerdictInk(v)
	}
	c.back.FillColor = theme.Well
	c.edge.StrokeColor, c.edge.StrokeWidth = theme.Edge, 1
	c.name.Color = theme.Ink
	if chosen {
		c.back.FillColor, c.edge.StrokeColor, c.edge.StrokeWidth = theme.Button, theme.Accent, 2
	}
	c.Refresh()
}

// Tapped implements fyne.Tappable.
func (c *chip) Tapped(*fyne.PointEvent) { c.set.choose(c.index) }

// Tab stops at one chip of a set: the others say that they are disabled, which to
// Fyne is what Tab passes over.
var _ fyne.Disableable = (*chip)(nil)

// Disabled implements fyne.Disableable.
func (c *chip) Disabled() bool { return c.set.stop != c.index }

// Disable and Enable do nothing: which chip is the stop, the set knows.
func (c *chip) Disable() {}

// Enable does nothing.
func (c *chip) Enable() {}

// FocusGained implements fyne.Focusable, as do the methods below.
func (c *chip) FocusGained() {
	c.ring.Show(true)
	field.Reveal(c)
	c.explain()
}

// FocusLost hides the ring.
func (c *chip) FocusLost() {
	c.ring.Show(false)
	field.TipGone(c)
}

// TypedKey moves to another chip, chooses this one, or passes the key on.
func (c *chip) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		c.set.choose(c.index)
	case fyne.KeyLeft:
		c.set.enter(c.index - 1)
	case fyne.KeyRight:
		c.set.enter(c.index + 1)
	case fyne.KeyUp:
		c.set.enter(c.index - c.set.columns())
	case fyne.KeyDown:
		c.set.enter(c.index + c.set.columns())
	case fyne.KeyHome:
		c.set.enter(0)
	case fyne.KeyEnd:
		c.set.enter(len(c.set.names) - 1)
	default:
		field.Pass(c, ev)
	}
}

// TypedRune passes a character on.
func (c *chip) TypedRune(r rune) {
	if r != ' ' {
		field.PassRune(c, r)
	}
}

// explain says the name in full where it is cut, and what a label means.
func (c *chip) explain() {
	text := c.set.explain(c.full)
	if text == "" && c.name.Text != words.Of(c.full) {
		text = c.full
	}
	field.TipSoon(c, text, fyne.NewPos(0, c.Size().Height))
}

// MouseIn implements desktop.Hoverable.
func (c *chip) MouseIn(*desktop.MouseEvent) { c.explain() }

// MouseMoved implements desktop.Hoverable.
func (c *chip) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (c *chip) MouseOut() { field.TipGone(c) }

// Cursor implements desktop.Cursorable.
func (c *chip) Cursor() desktop.Cursor { return desktop.PointerCursor }

// CreateRenderer implements fyne.Widget.
func (c *chip) CreateRenderer() fyne.WidgetRenderer { return &chipRenderer{c} }

type chipRenderer struct{ *chip }

func (r *chipRenderer) Destroy()           {}
func (r *chipRenderer) Refresh()           { r.Layout(r.Size()); canvas.Refresh(r.chip) }
func (r *chipRenderer) MinSize() fyne.Size { return fyne.NewSize(r.width, 21) }
func (r *chipRenderer) Objects() []fyne.CanvasObject {
	return append([]fyne.CanvasObject{r.back, r.edge, r.name, r.state}, r.ring.Objects()...)
}
func (r *chipRenderer) Layout(s fyne.Size) {
	r.back.Resize(s)
	r.edge.Resize(s)
	r.ring.Resize(s)
	t := r.state.MinSize()
	r.name.Text = field.Shorten(r.full, s.Width-t.Width-12, r.name)
	n := r.name.MinSize()
	r.name.Move(fyne.NewPos(6, (s.Height-n.Height)/2))
	r.name.Resize(n)
	r.state.Move(fyne.NewPos(s.Width-t.Width-5, (s.Height-t.Height)/2))
	r.state.Resize(t)
}

// Widths of chips: of short names, such as loudspeakers' labels, four a line,
// and of names of one's own, two a line.
const (
	shortChip = 66
	longChip  = 146
)

// chips is a set of chips that wraps. To Tab it is one stop; the arrows move in it.
type chips struct {
	box    *fyne.Container
	width  float32
	names  []string
	stop   int // where Tab stops
	choose func(int)
	// explain returns what a name means; empty for nothing.
	explain func(string) string
}

func newChips(width float32, choose func(int)) *chips {
	return &chips{box: container.NewGridWrap(fyne.NewSize(width, 21)), width: width, choose: choose,
		explain: func(string) string { return "" }}
}

// show makes as many chips as there are names.
func (c *chips) show(names []string, chosen int, verdict func(int) sight.Verdict) {
	if len(c.box.Objects) != len(names) {
		c.box.Objects = nil
		for i := range names {
			c.box.Objects = append(c.box.Objects, newChip(c, i))
		}
	}
	c.stop = chosen
	for i, n := range names {
		c.box.Objects[i].(*chip).show(n, verdict(i), i == chosen)
	}
	if !slices.Equal(c.names, names) {
		c.names = names
		c.box.Refresh()
	}
}

// enter gives the keyboard to a chip, if there is one of that index.
func (c *chips) enter(i int) {
	if i >= 0 && i < len(c.box.Objects) {
		c.stop = i
		field.Focus(c.box.Objects[i].(*chip))
	}
}

// columns returns how many chips stand in a line.
func (c *chips) columns() int {
	n := 1
	for n < len(c.box.Objects) && c.box.Objects[n].Position().Y == c.box.Objects[0].Position().Y {
		n++
	}
	return n
}
