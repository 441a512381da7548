// SPDX-License-Identifier: MIT

// Package guide leads a newcomer through the window, one step at a time. A step counts
// as done once the user has done it, by mouse or keyboard or with its button, not when
// it was read. UI goroutine only.
package guide

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/theme"
	"earline/app/words"
)

// Step is one thing to try in the window.
type Step struct {
	Title, Text string
	// Word is on the button that calls Do, which does it for the user. Do is nil for a
	// step that has no such button.
	Word string
	Do   func()
	// Begin is called when the step comes up, and returns what tells whether it has been
	// done since. nil is for a step that is only read.
	Begin func() (done func() bool)
}

// Guide is the band in which the steps are told. It is hidden until Offer or Start.
type Guide struct {
	object *fyne.Container
	title  *canvas.Text
	text   *widget.Label
	do     *field.Button
	back   *field.Button
	next   *field.Button
	end    *field.Button

	steps []Step
	at    int // the step on show, or question
	done  func() bool
	begin func() // see Offer

	// Ended is told that the user has left the steps, or refused them. Shown is told that
	// the band has come or gone, so that what is about it makes room.
	Ended, Shown func()
	// Width is how wide the band will be, which decides how high it is.
	Width func() float32
}

// question is Guide.at while it is only asked whether to begin.
const question = -1

// New returns a guide through those steps.
func New(steps []Step) *Guide {
	g := &Guide{steps: steps, title: canvas.NewText("", theme.Ink), text: widget.NewLabel("")}
	g.title.TextStyle.Bold = true
	g.text.Wrapping = fyne.TextWrapWord
	g.do = field.NewButton("", func() { g.steps[g.at].Do() })
	g.back = field.NewButton("Back", func() { g.show(g.at - 1) })
	g.next = field.NewButton("Next", g.forward)
	g.end = field.NewButton("", g.leave)
	g.back.Tip, g.next.Tip = "Shows the step before.", "Goes on to the next step, done or not."
	buttons := container.NewHBox(g.do, g.back, g.next, g.end)
	g.object = container.New(band{g}, canvas.NewRectangle(theme.Panel), canvas.NewRectangle(theme.Accent), g.title, buttons, g.text)
	g.object.Hide()
	return g
}

// Object returns the band.
func (g *Guide) Object() *fyne.Container { return g.object }

// First returns the button that the keyboard comes to first: that which does the step or,
// once it is done, goes on.
func (g *Guide) First() fyne.Focusable {
	if g.do.Visible() && g.do.Importance == widget.HighImportance {
		return g.do
	}
	return g.next
}

// Running reports whether a step is on show.
func (g *Guide) Running() bool { return g.object.Visible() && g.at != question }

// Offer asks whether to begin. begin is called if the user says so; it is to call Start.
func (g *Guide) Offer(title, text string, begin func()) {
	g.at, g.done, g.begin = question, nil, begin
	g.fill(title, text)
	g.do.Hide()
	g.back.Hide()
	g.end.Show()
	g.next.SetText("Begin")
	g.next.Importance = widget.HighImportance
	g.next.Tip = ""
	g.end.SetText("Not now")
	g.end.Tip = "Help > First steps leads here again."
	g.setVisible(true)
}

// Start shows the first step.
func (g *Guide) Start() {
	g.show(0)
	g.setVisible(true)
}

// End leaves the steps as the user would; without a step on show it does nothing.
func (g *Guide) End() {
	if g.Running() {
		g.leave()
	}
}

// Hide hides the band and forgets how far it was.
func (g *Guide) Hide() {
	g.at, g.done = question, nil
	g.setVisible(false)
}

func (g *Guide) setVisible(on bool) {
	setShown(g.object, on)
	if g.Shown != nil {
		g.Shown()
	}
}

// Update looks whether the step has been done meanwhile.
func (g *Guide) Update() {
	if !g.Running() || g.done == nil || !g.done() {
		return
	}
	g.done = nil
	g.title.Text = words.Of("Done. " + g.heading())
	g.title.Refresh()
	g.emphasise(g.next)
	g.keepKeyboard()
}

func (g *Guide) forward() {
	switch {
	case g.at == question:
		g.begin()
	case g.at == len(g.steps)-1:
		g.leave()
	default:
		g.show(g.at + 1)
	}
}

func (g *Guide) leave() {
	g.Hide()
	if g.Ended != nil {
		g.Ended()
	}
}

// show brings up a step.
func (g *Guide) show(i int) {
	g.at = i
	s := g.steps[i]
	g.done = nil
	if s.Begin != nil {
		g.done = s.Begin()
	}
	g.fill(g.heading(), s.Text)
	g.do.SetText(s.Word)
	g.back.SetText("Back")
	g.next.SetText("Next")
	g.next.Tip = "Goes on to the next step, done or not."
	g.end.SetText("End")
	g.end.Tip = "Ends the first steps; Help > First steps leads here again."
	setShown(g.do, s.Do != nil)
	setShown(g.back, i > 0)
	setShown(g.end, i < len(g.steps)-1)
	switch {
	case i == len(g.steps)-1:
		g.next.SetText("Done")
		g.next.Tip = "Help > First steps leads here again."
		g.emphasise(g.next)
	case s.Do != nil:
		g.emphasise(g.do)
	case g.done == nil:
		g.emphasise(g.next)
	default:
		g.emphasise(nil)
	}
	g.Update()
	g.keepKeyboard()
}

// keepKeyboard gives the keyboard to what is to be pressed now, if it is in the band: the
// button that had it may be gone with the step before.
func (g *Guide) keepKeyboard() {
	c := fyne.CurrentApp().Driver().CanvasForObject(g.object)
	if c == nil {
		return
	}
	for _, b := range []*field.Button{g.do, g.back, g.next, g.end} {
		if c.Focused() == fyne.Focusable(b) {
			c.Focus(g.First())
			return
		}
	}
}

// heading is the title of the step on show with its number.
func (g *Guide) heading() string {
	return fmt.Sprintf("Step %d of %d: %s", g.at+1, len(g.steps), g.steps[g.at].Title)
}

func (g *Guide) fill(title, text string) {
	g.title.Text, g.title.Color = words.Of(title), theme.Ink
	g.text.SetText(words.Of(text))
	g.object.Refresh()
}

// emphasise makes b the button to press.
func (g *Guide) emphasise(b *field.Button) {
	for _, o := range []*field.Button{g.do, g.next} {
		o.Importance = widget.MediumImportance
		if o == b {
			o.Importance = widget.HighImportance
		}
		o.Refresh()
	}
	g.object.Refresh()
}

func setShown(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// lines returns how many lines of that width the text takes: that on show, and of the
// steps the longest, so that the window does not jump from step to step.
func (g *Guide) lines(width float32) int {
	n := linesOf(g.text.Text, width)
	if g.at != question {
		for _, s := range g.steps {
			n = max(n, linesOf(s.Text, width))
		}
	}
	return n
}

// linesOf returns how many lines of that width a text takes.
func linesOf(text string, width float32) int {
	n, line := 1, ""
	for _, word := range strings.Fields(text) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && fyne.MeasureText(longer, fynetheme.TextSize(), fyne.TextStyle{}).Width > width {
			n, longer = n+1, word
		}
		line = longer
	}
	return n
}

// band lays a ground, a line along its top, a title, buttons at its right, and under both
// the text.
type band struct{ *Guide }

const (
	margin = 8 // Fyne's points
	edge   = 2 // Fyne's points, of the line
)

// MinSize implements fyne.Layout.
func (b band) MinSize(o []fyne.CanvasObject) fyne.Size {
	title, buttons := o[2].MinSize(), o[3].MinSize()
	least := title.Width + buttons.Width + 3*margin
	wide := least
	if b.Width != nil {
		wide = max(b.Width(), least)
	}
	inner := fynetheme.InnerPadding()
	text := float32(b.lines(wide - margin - 2*inner))
	one := fyne.MeasureText("X", fynetheme.TextSize(), fyne.TextStyle{}).Height
	return fyne.NewSize(least, edge+margin+max(title.Height, buttons.Height)+text*one+2*inner)
}

// Layout implements fyne.Layout.
func (band) Layout(o []fyne.CanvasObject, s fyne.Size) {
	ground, line, title, buttons, text := o[0], o[1], o[2], o[3], o[4]
	head := max(title.MinSize().Height, buttons.MinSize().Height)
	ground.Resize(s)
	line.Resize(fyne.NewSize(s.Width, edge))
	title.Move(fyne.NewPos(margin, edge+margin/2+(head-title.MinSize().Height)/2))
	title.Resize(title.MinSize())
	right := buttons.MinSize()
	buttons.Move(fyne.NewPos(s.Width-margin-right.Width, edge+margin/2))
	buttons.Resize(fyne.NewSize(right.Width, head))
	text.Move(fyne.NewPos(margin/2, edge+margin/2+head))
	text.Resize(fyne.NewSize(s.Width-margin, s.Height-head-edge-margin/2))
}
