// SPDX-License-Identifier: MIT

package sound

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	chartwidget "earline/app/chart"
	"earline/app/field"
	"earline/app/theme"
	"earline/app/words"
	"earline/scene/chart"
)

// topic is what is charted.
type topic uint8

// The topics.
const (
	bassTopic         topic = iota // the subwoofers at every seat
	crossoverTopic                 // mains and subwoofers together
	boundariesTopic                // what the surfaces do to the mains
	levelsTopic                    // how far the seats lie apart
	decayTopic                     // how long the room rings
	arrivalsTopic                  // what comes after the direct sound
	equalisationTopic              // the bass against a target
	topicCount
)

// String returns the name of t.
func (t topic) String() string {
	return [...]string{"Bass", "Crossover", "Boundaries", "Levels", "Decay", "Arrivals", "Equalisation"}[t]
}

// choice is what is to be shown.
type choice struct {
	topic topic
	// Speaker and Seat are indexes into the choices that were set; the first seat
	// is the main position, the first of the map's loudspeakers all of them.
	Speaker, Seat int
	// Octave is an index into the octaves that were set.
	Octave int
	// Map is whether the level is drawn over the floor.
	Map bool
	// GiveUp is an index into giveUps.
	GiveUp int
	// Falls is whether the decay is shown as a waterfall at a seat.
	Falls bool
	// Boost is an index into boosts.
	Boost int
}

// action is something that can be done about what is shown.
type action struct {
	Name string
	Do   func()
	Main bool // what the page is for just now: it stands last, as in dialogs
}

// panel is the chart, the words beside it and the choice of what is charted. It says
// what is wanted and shows what it is given.
type panel struct {
	// OnChoice is told of another choice.
	OnChoice func(choice)
	// OnCancel is asked to end what is being worked out.
	OnCancel func()
	// OnExport is asked to keep the chart: chart.PNG, SVG, PDF or CSV.
	OnExport func(kind string)

	choice choice
	shown  choice // what Show was last called for
	quiet  bool   // while choices are set

	object fyne.CanvasObject
	head   fyne.CanvasObject
	topics [topicCount]*field.Button
	// speaker, seat and octave are the choices, shown where they matter.
	speaker, seat, octave, giveUp, view, boost *field.Select

	boxes   map[*field.Select]*fyne.Container // where each choice stands
	mapped  *field.Tick
	chart   *chartwidget.Chart
	facts   *widget.RichText
	actions *fyne.Container
	bar     *field.Progress
	what    *widget.Label
	busy    fyne.CanvasObject
}

// newPanel returns an empty panel.
func newPanel() *panel {
	p := &panel{chart: chartwidget.New()}
	strip := container.New(layout.NewCustomPaddedHBoxLayout(2))
	for t := range topicCount {
		p.topics[t] = field.NewButton(t.String(), func() { p.change(func(w *choice) { w.topic = t }) })
		strip.Add(p.topics[t])
	}
	choose := func(set func(*choice, int)) *field.Select {
		s := field.NewSelect(nil, nil)
		s.OnChanged = func(string) { p.change(func(w *choice) { set(w, max(s.SelectedIndex(), 0)) }) }
		return s
	}
	p.speaker = choose(func(w *choice, i int) { w.Speaker = i })
	p.seat = choose(func(w *choice, i int) { w.Seat = i })
	p.octave = choose(func(w *choice, i int) { w.Octave = i })
	p.giveUp = choose(func(w *choice, i int) { w.GiveUp = i })
	p.giveUp.SetOptions(giveUpChoices())
	p.giveUp.SetSelectedIndex(0)
	p.view = choose(func(w *choice, i int) { w.Falls = i == 1 })
	p.view.SetOptions([]string{"Times", "Waterfall"})
	p.view.SetSelectedIndex(0)
	p.boost = choose(func(w *choice, i int) { w.Boost = i })
	p.boost.SetOptions(boostChoices())
	p.boost.SetSelectedIndex(0)
	p.mapped = field.NewTick("map", func(on bool) { p.change(func(w *choice) { w.Map = on }) })
	rule := canvas.NewRectangle(theme.Line) // between the drawer's tabs and these
	rule.SetMinSize(fyne.NewSize(1, 18))
	p.head = container.New(layout.NewCustomPaddedHBoxLayout(2), rule, strip)
	// The choices stand over the facts, where they take another line as they need it: in
	// the head they would make the window wider than half a screen.
	p.boxes = map[*field.Select]*fyne.Container{}
	choices := container.NewGridWrap(fyne.NewSize(126, p.speaker.MinSize().Height))
	for _, s := range []*field.Select{p.speaker, p.octave, p.giveUp, p.view, p.boost, p.seat} {
		p.boxes[s] = container.NewStack(s)
		choices.Add(p.boxes[s])
	}
	choices.Add(p.mapped)

	p.chart.OnExport = func(kind string) {
		if p.OnExport != nil {
			p.OnExport(kind)
		}
	}
	p.facts = widget.NewRichText()
	p.facts.Wrapping = fyne.TextWrapWord
	p.actions = container.New(layout.NewCustomPaddedVBoxLayout(3))
	p.bar, p.what = field.NewProgress(), widget.NewLabel("")
	p.what.Truncation = fyne.TextTruncateEllipsis
	cancel := field.NewButton("Cancel", func() {
		if p.OnCancel != nil {
			p.OnCancel()
		}
	})
	p.busy = container.NewBorder(p.what, nil, nil, cancel, p.bar)
	p.busy.Hide()
	side := container.NewStack(canvas.NewRectangle(theme.Panel),
		container.NewBorder(container.NewVBox(choices, p.busy), container.New(layout.NewCustomPaddedLayout(2, 4, 6, 6), p.actions), nil, nil, container.NewVScroll(p.facts)))
	split := container.NewHSplit(p.chart, side)
	split.Offset = 0.72
	p.object = split
	p.update()
	return p
}

// Object returns what is to be placed in the window.
func (p *panel) Object() fyne.CanvasObject { return p.object }

// Head returns what is to be placed in the line over the panel.
func (p *panel) Head() fyne.CanvasObject { return p.head }

// choice returns what is to be shown.
func (p *panel) Choice() choice { return p.choice }

// Shown returns what is on show, as of the last Show.
func (p *panel) Shown() choice { return p.shown }

// Choices sets what can be chosen; what was chosen stays chosen where it is still
// there.
func (p *panel) Choices(speakers, seats, octaves []string) {
	p.quiet = true
	defer func() { p.quiet = false }()
	set := func(s *field.Select, names []string, at *int) {
		if !slices.Equal(s.Offered(), names) {
			s.SetOptions(names)
		}
		*at = min(max(*at, 0), max(len(names)-1, 0))
		if len(names) > 0 && s.SelectedIndex() != *at {
			s.SetSelectedIndex(*at)
		}
	}
	set(p.speaker, speakers, &p.choice.Speaker)
	set(p.seat, seats, &p.choice.Seat)
	set(p.octave, octaves, &p.choice.Octave)
}

// Choose changes the choice as a click would, without telling OnChoice.
func (p *panel) Choose(edit func(*choice)) {
	edit(&p.choice)
	p.quiet = true
	view := 0
	if p.choice.Falls {
		view = 1
	}
	for s, i := range map[*field.Select]int{p.view: view, p.speaker: p.choice.Speaker, p.seat: p.choice.Seat, p.octave: p.choice.Octave, p.giveUp: p.choice.GiveUp, p.boost: p.choice.Boost} {
		if i >= 0 && i < len(s.Options) && s.SelectedIndex() != i {
			s.SetSelectedIndex(i)
		}
	}
	p.mapped.SetChecked(p.choice.Map)
	p.quiet = false
	p.update()
}

// change takes a choice in and passes it on.
func (p *panel) change(edit func(*choice)) {
	if p.quiet {
		return
	}
	before := p.choice
	edit(&p.choice)
	if p.choice == before {
		return
	}
	p.update()
	if p.OnChoice != nil {
		p.OnChoice(p.choice)
	}
}

// update shows the choices that matter for the topic.
func (p *panel) update() {
	for t, b := range p.topics {
		b.Importance = widget.LowImportance
		if topic(t) == p.choice.topic {
			b.Importance = widget.HighImportance
		}
		b.Refresh()
	}
	show := func(o fyne.CanvasObject, on bool) {
		if on {
			o.Show()
		} else {
			o.Hide()
		}
	}
	t := p.choice.topic
	show(p.boxes[p.speaker], t == arrivalsTopic || t == levelsTopic || t == crossoverTopic || t == boundariesTopic)
	show(p.boxes[p.octave], t == levelsTopic)
	show(p.boxes[p.seat], t == arrivalsTopic || t == bassTopic || t == crossoverTopic || t == decayTopic && p.choice.Falls)
	show(p.boxes[p.view], t == decayTopic)
	show(p.boxes[p.giveUp], t == bassTopic)
	show(p.boxes[p.boost], t == equalisationTopic)
	show(p.mapped, t == levelsTopic)
}

// Show shows a chart, lines of facts beside it, of which the first is the
// heading, and what can be done.
func (p *panel) Show(c *chart.Chart, facts []fact, actions []action) {
	p.shown = p.choice
	p.chart.Set(c)
	p.facts.Segments = segments(facts)
	p.facts.Refresh()
	p.actions.RemoveAll()
	line := p.actions
	if slices.ContainsFunc(actions, func(a action) bool { return a.Main }) {
		line = container.NewGridWithColumns(len(actions))
		p.actions.Add(line)
	}
	for _, a := range actions {
		b := field.NewButton(a.Name, a.Do)
		if a.Main {
			b.Importance = widget.HighImportance
		}
		line.Add(b)
	}
}

// Chart returns the chart on show.
func (p *panel) Chart() *chart.Chart { return p.chart.Shown() }

// Working shows how far long work is; done 1 or more takes it away.
func (p *panel) Working(done float64, what string) {
	if done >= 1 {
		p.busy.Hide()
		return
	}
	p.busy.Show()
	p.bar.SetValue(done)
	p.what.SetText(words.Of(what))
}

// SaveChart writes the chart on show to the file at path.
func (p *panel) SaveChart(kind, path string) error { return p.chart.Save(kind, path) }
