// SPDX-License-Identifier: MIT

package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"earline/app/field"
	"earline/app/room"
	"earline/app/theme"
	"earline/app/words"
	"earline/project"
	"earline/scene/bake"
)

// clientBar is the foot of the window in the client view: the light, the exposure, what
// is left of the curtain, and how far the light is.
type clientBar struct {
	object   *fyne.Container
	light    *field.Select
	lights   []project.Scene
	exposure *field.Slider
	stops    *canvas.Text
	before   *field.Select
	divided  fyne.CanvasObject
	save     *field.Button
	state    *canvas.Text
	says     string // state in full
}

// noCurtain is the choice of no curtain.
const noCurtain = "No curtain"

func newClientBar(p *room.Picture, save func(), after func()) *clientBar {
	b := &clientBar{stops: canvas.NewText("", theme.Faint), state: canvas.NewText("", theme.Faint)}
	b.stops.TextSize, b.state.TextSize = 11.5, 11.5
	var names []string
	b.lights, names = lightChoices()
	b.light = field.NewSelect(names, nil)
	b.light.Tip = "The light that the room is seen in"
	b.light.OnChanged = func(string) {
		p.SetLight(b.lights[b.light.SelectedIndex()])
		after()
	}
	b.exposure = field.NewSlider(-bake.MostStops, bake.MostStops, 0.25, p.Expose)
	b.exposure.Tip = "Brighter or darker than the eye would see it, in stops"
	b.before = field.NewSelect(nil, nil)
	b.before.Tip = "The design that is seen left of a curtain"
	b.before.OnChanged = func(string) {
		name := "" // the first is no curtain
		if i := b.before.SelectedIndex(); i > 0 {
			name = b.before.Offered()[i]
		}
		p.SetCurtain(name)
		after()
	}
	b.save = field.NewButton("Save picture…", save)
	wide := func(w float32, o fyne.CanvasObject) fyne.CanvasObject {
		return container.New(layout.NewGridWrapLayout(fyne.NewSize(w, b.light.MinSize().Height)), o)
	}
	b.divided = wide(140, b.before)
	name := canvas.NewText(words.Of("Exposure"), theme.Faint)
	name.TextSize = 11.5
	longest := canvas.NewText(words.Of(room.Stops(0)), theme.Faint)
	longest.TextSize = 11.5
	b.object = container.NewStack(canvas.NewRectangle(theme.Back), container.New(layout.NewCustomPaddedLayout(3, 3, 8, 10), container.New(alongBar{b},
		wide(150, b.light), name, b.exposure, wide(longest.MinSize().Width, b.stops), b.divided, b.save, b.state)))
	b.object.Hide()
	return b
}

// first returns what the keyboard comes to first.
func (b *clientBar) first() fyne.Focusable {
	if b.light.Disabled() {
		return b.save
	}
	return b.light
}

// lightChoices returns the lights of the client view and what they are called.
func lightChoices() (all []project.Scene, names []string) {
	all, names = []project.Scene{""}, []string{"Drawing light"}
	for _, s := range project.LightScenes() {
		all, names = append(all, s), append(names, "Light of "+string(s))
	}
	return all, names
}

// update shows what is chosen.
func (b *clientBar) update(p *room.Picture, d *project.Design) {
	if !b.object.Visible() {
		return
	}
	s, stops, none := p.Light()
	if none != nil {
		b.light.Disable()
		b.light.Tip = "Even light alone: " + none.Error()
	} else {
		b.light.Enable()
		b.light.Tip = "The light that the room is seen in"
	}
	for i, l := range b.lights {
		if l == s {
			quietly(&b.light.OnChanged, func() { b.light.SetSelectedIndex(i) })
		}
	}
	if s == "" {
		b.exposure.Disable()
	} else {
		b.exposure.Enable()
	}
	if b.exposure.Value != stops {
		quietly(&b.exposure.OnChanged, func() { b.exposure.SetValue(stops) })
	}
	setText(b.stops, room.Stops(stops))
	if len(d.Variants) == 0 {
		b.divided.Hide()
	} else {
		names := []string{noCurtain}
		chosen := 0
		before, _ := p.Curtain()
		for i := range d.Variants {
			names = append(names, d.Variants[i].Variant.Name)
			if before == &d.Variants[i] {
				chosen = i + 1
			}
		}
		b.before.SetOptions(names)
		quietly(&b.before.OnChanged, func() { b.before.SetSelectedIndex(chosen) })
		b.divided.Show()
	}
	b.progress(p)
}

// progress shows how far the light is.
func (b *clientBar) progress(p *room.Picture) {
	if says := p.Lighting(); b.object.Visible() && says != b.says {
		b.says = says
		b.object.Refresh() // it is wider or narrower
	}
}

// alongBar lays the controls of the bar side by side, and at the right how far the light
// is. Where it is narrow the exposure gives way first, then those words.
type alongBar struct{ *clientBar }

// The widths of the exposure and what is between two controls, in Fyne's points.
const (
	leastExposure = 80
	mostExposure  = 190
	barGap        = 10
)

// MinSize implements fyne.Layout.
func (b alongBar) MinSize(objects []fyne.CanvasObject) (s fyne.Size) {
	for _, o := range objects {
		if !o.Visible() || o == fyne.CanvasObject(b.state) {
			continue
		}
		m := o.MinSize()
		if o == fyne.CanvasObject(b.exposure) {
			m.Width = leastExposure
		}
		s = fyne.NewSize(s.Width+m.Width+barGap, max(s.Height, m.Height))
	}
	return s
}

// Layout implements fyne.Layout.
func (b alongBar) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	whole := fyne.MeasureText(b.says, b.state.TextSize, b.state.TextStyle).Width
	spare := size.Width - b.MinSize(objects).Width - whole
	x := float32(0)
	for _, o := range objects {
		if !o.Visible() || o == fyne.CanvasObject(b.state) {
			continue
		}
		m := o.MinSize()
		if o == fyne.CanvasObject(b.exposure) {
			m = fyne.NewSize(min(max(leastExposure+spare, leastExposure), mostExposure), size.Height)
		}
		o.Resize(m)
		o.Move(fyne.NewPos(x, (size.Height-m.Height)/2))
		x += m.Width + barGap
	}
	b.state.Text = field.Shorten(b.says, size.Width-x, b.state)
	m := b.state.MinSize()
	b.state.Resize(m)
	b.state.Move(fyne.NewPos(size.Width-m.Width, (size.Height-m.Height)/2))
	b.state.Refresh()
}

// quietly does what would call on, which must not be called.
func quietly[F any](on *func(F), do func()) {
	changed := *on
	*on = nil
	do()
	*on = changed
}
