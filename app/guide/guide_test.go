// SPDX-License-Identifier: MIT

package guide_test

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/guide"
)

// words returns what the band says and offers: title, then the buttons on show.
func words(g *guide.Guide) (title string, buttons map[string]*field.Button) {
	buttons = map[string]*field.Button{}
	var look func(o fyne.CanvasObject)
	look = func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *fyne.Container:
			for _, in := range o.Objects {
				look(in)
			}
		case *canvas.Text:
			title = o.Text
		case *field.Button:
			if o.Visible() {
				buttons[o.Text] = o
			}
		}
	}
	look(g.Object())
	return title, buttons
}

func press(t *testing.T, g *guide.Guide, name string) {
	t.Helper()
	_, buttons := words(g)
	if buttons[name] == nil {
		t.Fatalf("no button %q among %v", name, buttons)
	}
	test.Tap(buttons[name])
}

// A step is done when it was done, not when it was read; one may go on, back and away at
// any time, and what was refused is gone.
func TestGuideGoesOnWhenItIsDone(t *testing.T) {
	test.NewTempApp(t)
	turned, ended, shown := false, 0, 0
	g := guide.New([]guide.Step{
		{Title: "Turn", Text: "Turn it.", Begin: func() func() bool { return func() bool { return turned } }},
		{Title: "Press", Text: "Press it.", Word: "Do it", Do: func() { turned = false }},
	})
	g.Ended, g.Shown = func() { ended++ }, func() { shown++ }
	if g.Running() || g.Object().Visible() {
		t.Error("on show before it was begun")
	}
	g.Offer("New?", "Two steps.", g.Start)
	press(t, g, "Begin")
	if title, buttons := words(g); title != "Step 1 of 2: Turn" || buttons["Back"] != nil {
		t.Errorf("%q, %v", title, buttons)
	}
	g.Update()
	if title, _ := words(g); strings.HasPrefix(title, "Done") {
		t.Errorf("%q before it was done", title)
	}
	turned = true
	g.Update()
	if title, _ := words(g); title != "Done. Step 1 of 2: Turn" {
		t.Errorf("%q when it was done", title)
	}
	press(t, g, "Next")
	press(t, g, "Do it")
	if turned {
		t.Error("the button did nothing")
	}
	press(t, g, "Back")
	press(t, g, "Next")
	press(t, g, "Done")
	if g.Object().Visible() || ended != 1 {
		t.Errorf("visible %v, ended %d times", g.Object().Visible(), ended)
	}
	g.Offer("New?", "Two steps.", g.Start)
	press(t, g, "Not now")
	if g.Object().Visible() || ended != 2 || shown != 5 {
		t.Errorf("visible %v, ended %d times, told %d times", g.Object().Visible(), ended, shown)
	}
}

// At 960 points the question took three lines for one of text, and what is above the band
// lost their room; text that needs more has it.
func TestTheBandIsAsHighAsItsText(t *testing.T) {
	test.NewTempApp(t)
	g := guide.New([]guide.Step{
		{Title: "Turn", Text: "Turn it."},
		{Title: "Press", Text: strings.Repeat("Press it and see what becomes of it. ", 8)},
	})
	wide := float32(960)
	g.Width = func() float32 { return wide }
	one := fyne.MeasureText("X", fyne.CurrentApp().Settings().Theme().Size("text"), fyne.TextStyle{}).Height
	g.Offer("New?", "Two steps.", g.Start)
	short := g.Object().MinSize().Height
	press(t, g, "Begin")
	long := g.Object().MinSize().Height
	if long < short+one {
		t.Errorf("the steps have %v, the question %v", long, short)
	}
	press(t, g, "Next")
	if now := g.Object().MinSize().Height; now != long {
		t.Errorf("the window jumps from %v to %v at the next step", long, now)
	}
	g.Object().Resize(fyne.NewSize(wide, long))
	for _, o := range g.Object().Objects {
		if l, ok := o.(*widget.Label); ok {
			if need := l.MinSize().Height; l.Position().Y+need > long+0.5 {
				t.Errorf("the text ends at %v of %v", l.Position().Y+need, long)
			}
		}
	}
	wide = 480
	if now := g.Object().MinSize().Height; now < long+one {
		t.Errorf("half as wide it is %v high, before %v", now, long)
	}
}
