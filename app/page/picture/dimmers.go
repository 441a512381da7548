// SPDX-License-Identifier: MIT

package picture

import (
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/theme"
	"earline/app/words"
	"earline/project"
)

// dimmers are the levels of the light groups in the scene that is chosen.
type dimmers struct {
	page   *picturePage
	object fyne.CanvasObject
	scene  project.Scene

	scenes []*field.Button // in the order of project.LightScenes
	box    *fyne.Container
	all    []*dimmer // in the order of the groups
}

// dimmer is the level of one group.
type dimmer struct {
	name, level *canvas.Text
	slider      *field.Slider
}

func newDimmers(p *picturePage) *dimmers {
	m := &dimmers{page: p, scene: project.Show, box: container.New(layout.NewCustomPaddedVBoxLayout(0))}
	line := container.New(layout.NewCustomPaddedHBoxLayout(2))
	for _, s := range project.LightScenes() {
		b := field.NewButton(strings.ToUpper(string(s[:1]))+string(s[1:]), func() { m.choose(s) })
		b.Tip = map[project.Scene]string{project.House: "People come and go", project.Preshow: "People sit, nothing runs yet",
			project.Show: "The picture runs", project.Cleaning: "Everything is to be seen"}[s]
		m.scenes = append(m.scenes, b)
		line.Add(b)
	}
	inner := container.New(layout.NewCustomPaddedVBoxLayout(4), line, m.box)
	m.object = container.NewStack(canvas.NewRectangle(theme.Panel), container.NewVScroll(container.New(layout.NewCustomPaddedLayout(4, 4, 8, 14), inner)))
	return m
}

// forget begins another document at the scene in which the picture runs.
func (m *dimmers) forget() { m.scene = project.Show }

// choose shows another scene.
func (m *dimmers) choose(s project.Scene) {
	m.scene = s
	m.page.Update()
}

// update shows the levels of the design as it is now.
func (m *dimmers) update() {
	d := m.page.session.Design()
	for i, s := range project.LightScenes() {
		importance := widget.LowImportance
		if s == m.scene {
			importance = widget.HighImportance
		}
		if b := m.scenes[i]; b.Importance != importance {
			b.Importance = importance
			b.Refresh()
		}
	}
	if len(m.all) != len(d.LightGroups) {
		m.all, m.box.Objects = nil, nil
		for i := range d.LightGroups {
			one := newDimmer(func(place float64) { m.set(i, levelAt(place)) })
			m.all = append(m.all, one)
			m.box.Add(container.New(layout.NewCustomPaddedVBoxLayout(-6), container.NewBorder(nil, nil, nil, one.level, one.name), one.slider))
		}
		m.box.Refresh()
	}
	for i, one := range m.all {
		one.show(d.LightName(i), d.LightGroups[i].Scenes.At(m.scene))
	}
}

// set sets the level of a group: one step of undo for all of a drag.
func (m *dimmers) set(i int, level float64) {
	s := m.page.session
	if i >= len(s.Design().LightGroups) {
		return
	}
	label := fmt.Sprintf("dim %s in %s", s.Design().LightName(i), m.scene)
	if err := s.Do(label, label, func(d *project.Design) { *d.LightGroups[i].Scenes.Level(m.scene) = level }); err != nil {
		m.page.frame.Ask.Report("The level is not set", err)
	}
}

func newDimmer(changed func(float64)) *dimmer {
	const step = 0.01 // of the way
	one := &dimmer{name: canvas.NewText("", theme.Ink), level: canvas.NewText("", theme.Accent), slider: field.NewSlider(0, 1, step, changed)}
	one.name.TextSize, one.level.TextSize = 12, 12
	one.slider.Tip = "The share of its light; low levels have more of the way, as on a dimmer"
	return one
}

// show shows a level without setting it.
func (one *dimmer) show(name string, level float64) {
	set := func(t *canvas.Text, text string) {
		if text = words.Of(text); t.Text != text {
			t.Text = text
			t.Refresh()
		}
	}
	set(one.name, name)
	set(one.level, levelText(level))
	if math.Abs(levelAt(one.slider.Value)-level) < 1e-9 {
		return
	}
	changed := one.slider.OnChanged
	one.slider.OnChanged = nil
	one.slider.SetValue(placeOf(level))
	one.slider.OnChanged = changed
}

// levelAt returns the level at a place on the way of a slider, 0 to 1, and placeOf the
// place of a level: the square law by which dimmers are built, so that what is left on in
// a show can be set (common practice, no source).
func levelAt(place float64) float64 { return math.Round(place*place*1e6) / 1e6 }
func placeOf(level float64) float64 { return math.Sqrt(level) }
