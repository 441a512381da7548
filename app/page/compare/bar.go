// SPDX-License-Identifier: MIT

package compare

import (
	"errors"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/project"
)

// bar is the choice of a design, what can be done with it, and the fade.
type bar struct {
	page   *comparePage
	object fyne.CanvasObject

	with                            *field.Choice
	keep, bring, swap, rename, drop *field.Button
	fade                            *field.Slider
	before, after                   *field.Button // the ends of the fade
	fading                          fyne.CanvasObject
	chosen                          fyne.CanvasObject
}

func newBar(p *comparePage) *bar {
	b := &bar{page: p}
	button := func(text, tip string, do func()) *field.Button {
		x := field.NewButton(text, do)
		x.Tip, x.Importance = tip, widget.LowImportance
		return x
	}
	b.with = field.NewChoice(func() []string {
		var names []string
		for _, v := range p.session.Design().Variants {
			names = append(names, called(v.Variant))
		}
		return names
	}, p.index, func(i int) error { p.compareWith(i); return nil })
	b.with.Tip = "The design that the plan is compared with"
	b.keep = button("Keep plan…", "Keep a copy of the plan, as it is now, beside it in the file", p.keep)
	b.bring = button("Bring in…", "Keep a room from another file beside the plan", p.bring)
	b.swap = button("Swap with plan…", "Make this design the plan, and keep the plan of now in its place", p.swap)
	b.rename = button("Rename…", "Give this design another name or role", p.rename)
	b.drop = button("Drop…", "Take this design out of the file", p.drop)
	b.before = button("", "Show only this design in the picture", func() { p.glideTo(0) })
	b.after = button("Plan", "Show only the plan in the picture", func() { p.glideTo(1) })
	b.fade = field.NewSlider(0, 1, 0.02, p.fade)
	b.fade.Tip = "Fade in the picture: what both have stays, all else comes and goes"
	b.chosen = container.NewHBox(container.New(layout.NewGridWrapLayout(fyne.NewSize(190, b.with.MinSize().Height)), b.with), b.swap, b.rename, b.drop)
	b.fading = field.Bordered(nil, nil, b.before, b.after, b.fade)
	b.object = container.New(layout.NewCustomPaddedLayout(4, 2, 8, 8), container.New(layout.NewCustomPaddedVBoxLayout(2),
		container.NewHBox(b.chosen, b.keep, b.bring), b.fading))
	return b
}

// update shows what can be chosen now.
func (b *bar) update() {
	p := b.page
	other := p.other()
	if other == nil {
		b.chosen.Hide()
		b.fading.Hide()
		return
	}
	b.chosen.Show()
	b.fading.Show()
	b.with.Update()
	b.before.Button.SetText(field.Shorten(other.Variant.Name, 160, canvas.NewText("", nil)))
	if b.fade.Value != p.share {
		changed := b.fade.OnChanged
		b.fade.OnChanged = nil
		b.fade.SetValue(p.share)
		b.fade.OnChanged = changed
	}
	mark := func(x *field.Button, on bool) {
		importance := widget.LowImportance
		if on {
			importance = widget.HighImportance
		}
		if x.Importance != importance {
			x.Importance = importance
			x.Refresh()
		}
	}
	mark(b.before, p.share == 0)
	mark(b.after, p.share == 1)
}

// roleWords are the roles of a design, in words, in the order in which they are offered.
var roles = []struct {
	role  project.Role
	words string
}{{project.Existing, "as found on site"}, {project.Proposed, "proposed"}, {project.Option, "option"}}

// called returns the name of a design with its role, where that says more.
func called(v project.Variant) string {
	for _, r := range roles {
		if r.role == v.Role {
			return v.Name + " - " + r.words
		}
	}
	return v.Name
}

// needOther refuses what needs a design beside the plan.
func (p *comparePage) needOther() error {
	if p.other() == nil {
		return errors.New("nothing is kept beside the plan")
	}
	return nil
}

// needRoom refuses what would keep one design too many.
func (p *comparePage) needRoom() error {
	if len(p.session.Design().Variants) >= project.MaxVariants {
		return fmt.Errorf("%d designs are kept beside the plan already: drop one first", project.MaxVariants)
	}
	return nil
}
