// SPDX-License-Identifier: MIT

// Package sound is the page of what every seat hears: a chart, in words beside it
// what matters of it, and what can be done. UI goroutine only.
//
// page.go is the page and its commands, panel.go the widgets, which know no analysis;
// bass.go, crossover.go, levels.go, decay.go, arrivals.go and equalisation.go fill them, a topic each.
package sound

import (
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"earline/app/ask"
	"earline/app/command"
	"earline/app/page"
	"earline/app/session"
	"earline/project"
	"earline/project/sound"
	"earline/scene"
	"earline/scene/chart"
	"earline/scene/figure"
)

// soundPage shows what is known of the sound of the session's design.
type soundPage struct {
	session *session.Session
	frame   page.Frame
	panel   *panel
	speaker func() int // the loudspeaker that the inspector shows

	// What the page draws in the room.
	heat    *scene.Heat
	traces  []scene.Trace
	patches []scene.Patch
}

// New returns the page. speaker returns the index of the loudspeaker that the
// inspector shows.
func New(s *session.Session, f page.Frame, speaker func() int) page.Page {
	return newPage(s, f, speaker)
}

func newPage(s *session.Session, f page.Frame, speaker func() int) *soundPage {
	p := &soundPage{session: s, frame: f, panel: newPanel(), speaker: speaker}
	p.panel.OnChoice, p.panel.OnExport, p.panel.OnCancel = p.choiceChanged, p.exportChart, p.cancel
	return p
}

const title = "Sound"

// Title implements page.Page, as do the methods below.
func (p *soundPage) Title() string { return title }

// Says says what the page shows.
func (p *soundPage) Says() string { return "Shows what every seat hears." }

// Body returns the chart and the words beside it.
func (p *soundPage) Body() fyne.CanvasObject { return p.panel.Object() }

// Head returns the choice of what is charted.
func (p *soundPage) Head() fyne.CanvasObject { return p.panel.Head() }

// PictureShare leaves less to the picture than other pages: charts are read by their
// height. It implements page.Sized.
func (p *soundPage) PictureShare() float64 { return 0.58 }

// First returns the topic that is on show. It implements page.Keyed.
func (p *soundPage) First() fyne.Focusable { return p.panel.topics[p.panel.choice.topic] }

// Update shows what is asked for, of the design as it is now.
func (p *soundPage) Update() {
	if _, state := p.session.Known.Audit.Get(); state != session.Fresh {
		p.await(title, state) // seats and loudspeakers are named by it
		return
	}
	p.panel.Choices(p.speakerChoices(), p.seatChoices(), octaveChoices())
	choice := p.panel.Choice()
	switch choice.topic {
	case levelsTopic:
		p.showLevels(choice)
	case decayTopic:
		p.showDecay(choice)
	case arrivalsTopic:
		p.showArrivals(choice)
	case bassTopic:
		p.updateBass(choice)
	case equalisationTopic:
		p.showEqualisation()
	case crossoverTopic:
		p.showCrossover(choice)
	case boundariesTopic:
		p.showBoundaries(choice)
	}
	p.Progress()
}

// choiceChanged is told that something else is to be shown.
func (p *soundPage) choiceChanged(now choice) {
	if offer := p.session.OfferOf(title); offer != nil {
		switch made := offer.Details.(type) {
		case *subwooferProposal:
			if made.giveUp != now.GiveUp {
				made.again()
			}
		case *equaliserProposal:
			if made.boost != now.Boost {
				made.again()
			}
		}
	}
	p.Update()
	p.frame.Redraw()
}

// Overlay draws the map, the paths and the panels of what is on show, and the zones
// for subwoofers.
func (p *soundPage) Overlay(o *scene.Options) {
	o.Heat, o.Traces, o.Patches, o.Zones = p.heat, p.traces, p.patches, true
	if o.Heat != nil || len(o.Traces) > 0 {
		o.Rays = scene.NoRays // those are of sight
	}
	if o.Heat != nil {
		o.Labels = false // the seats and the contours have theirs
	}
}

// Forget begins another document without a map and at the first topic.
func (p *soundPage) Forget() {
	p.clear()
	p.panel.Choose(func(to *choice) { *to = choice{} })
}

// clear takes what the page draws out of the picture.
func (p *soundPage) clear() { p.heat, p.traces, p.patches = nil, nil, nil }

// speakerChoices are the choices of a loudspeaker: all of them, or the centre for the
// crossover, then each.
func (p *soundPage) speakerChoices() []string {
	names := []string{"all loudspeakers"}
	if p.panel.Choice().topic == crossoverTopic {
		names[0] = "the centre"
	}
	for _, s := range p.session.Result().Speakers {
		names = append(names, s.Name())
	}
	return names
}

// seatChoices are the choices of a seat: the main position, then each.
func (p *soundPage) seatChoices() []string {
	names := []string{"main position"}
	for _, s := range p.session.Result().Seats {
		names = append(names, "seat "+s.Name())
	}
	return names
}

// octaveChoices are the choices of an octave: all together, then each.
func octaveChoices() []string {
	names := []string{figure.OctaveName(figure.Overall)}
	for o := range project.OctaveCount {
		names = append(names, figure.OctaveName(o))
	}
	return names
}

// await says that something is being worked out where nothing is known of it yet,
// or something else is on show. What is known of an earlier design stays.
func (p *soundPage) await(heading string, state session.State) {
	if state == session.Missing || p.panel.Shown() != p.panel.Choice() {
		p.clear()
		p.panel.Show(nil, []fact{{Text: heading, weight: asHeading}, {Text: "Working it out…"}}, nil)
	}
}

// Commands returns the topics and what can be done about sound.
func (p *soundPage) Commands() []command.Command {
	topic := func(id string, t topic, says string) command.Command {
		return command.Command{ID: "sound." + id, Name: t.String(), Menu: "Sound", Says: says,
			Do: func() { p.open(t) },
			On: func() bool { return p.onTop() && p.panel.Choice().topic == t }}
	}
	return []command.Command{
		topic("bass", bassTopic, "Shows the response of the subwoofers at every seat."),
		topic("crossover", crossoverTopic, "Shows how each main and the subwoofers add up, and what delay and polarity serve best."),
		topic("boundaries", boundariesTopic, "Shows which wall, floor or ceiling digs a dip into each main, from 100 to 500 Hz."),
		topic("levels", levelsTopic, "Shows the levels of the direct sound, seat by seat and over the room."),
		topic("decay", decayTopic, "Shows how long the room rings, third by third, and how the bass dies away at a seat."),
		topic("arrivals", arrivalsTopic, "Shows when direct sound and reflections arrive at a seat."),
		topic("equalisation", equalisationTopic, "Shows how near the bass is to its target, and what filters do."),
		{ID: "sound.map", Name: "Map of levels", Menu: "Sound",
			Says: "Lays the levels over the room, or takes them away.",
			Do:   p.toggleMap,
			On:   func() bool { return p.onTop() && p.panel.Choice().topic == levelsTopic && p.panel.Choice().Map }},
		{ID: "sound.align", Name: alignName, Menu: "Solve",
			Says: "Proposes levels, delays and polarities that make the bass alike at every seat.",
			Can:  p.needSubwoofer,
			Do:   p.align},
		{ID: "sound.equalise", Name: equaliseName, Menu: "Solve",
			Says: "Proposes filters, the same for all subwoofers, that bring the bass to its target.",
			Can:  p.needSubwoofer,
			Do:   p.equalise},
		{ID: "sound.seek-places", Name: seekName, Menu: "Solve",
			Says: "Proposes places for the subwoofers within their zones, and aligns them there.",
			Can:  p.needZone,
			Do:   p.seekPlaces},
		{ID: "sound.set-subwoofers", Name: "Set the subwoofers against the mains", Menu: "Solve",
			Says: "Proposes one delay and polarity for all subwoofers at the crossover.",
			Can:  p.needSubwoofer,
			Do:   p.proposeCrossover},
		{ID: "sound.add-panels", Name: "Add panels for the main position", Menu: "Sound", LineAbove: true,
			Says: "Adds absorbing panels where a reflection at the main position is over the limit.",
			Can:  p.needSpeaker,
			Do:   p.addPanels},
		{ID: "sound.set-delays", Name: "Set delays and levels for the main position", Menu: "Sound",
			Says: "Sets each loudspeaker from its distance and direct sound.",
			Can:  p.needSpeaker,
			Do:   p.setDelaysAndLevels},
		{ID: "sound.read-directivity", Name: "Read measured directivity…", Menu: "Sound", LineAbove: true,
			Says: "Reads a table of measurements for the loudspeaker model in the inspector.",
			Can:  p.needSpeaker,
			Do:   p.choosePolar},
		{ID: "sound.read-responses", Name: "Read measured responses…", Menu: "Sound",
			Says: "Reads a table of levels by frequency at the seats, to lie over the computed bass.",
			Can:  p.needSeat,
			Do:   p.chooseResponses},
		{ID: "sound.read-decay", Name: "Read measured decay times…", Menu: "Sound",
			Says: "Reads a table of times by thirds of an octave, by which the bass then rings.",
			Can:  p.needRinging,
			Do:   p.chooseTimes},
		{ID: "sound.export", Name: "Export chart", Menu: "Sound",
			Says:  "Saves the chart on show as an image or a table.",
			Items: p.exportCommands},
		{ID: "sound.cancel", Name: "Cancel the calculation", Menu: "Sound",
			Says: "Stops working out the bass, or a proposal for the subwoofers.",
			Can: func() error {
				if p.atWork() {
					return nil
				}
				return errors.New("nothing is being worked out")
			},
			Do: p.cancel},
	}
}

func (p *soundPage) exportCommands() []command.Command {
	export := func(kind, says string) command.Command {
		return command.Command{ID: "sound.export." + kind, Name: strings.ToUpper(kind) + "…", Says: says,
			Can: func() error {
				if !p.onTop() || len(p.panel.Chart().Series) == 0 {
					return errors.New("no chart is on show")
				}
				return nil
			},
			Do: func() { p.exportChart(kind) }}
	}
	return []command.Command{
		export(chart.PNG, "Saves the chart as a PNG image."),
		export(chart.SVG, "Saves the chart as an SVG drawing."),
		export(chart.PDF, "Saves the chart as a PDF document, to be printed or pasted at any size."),
		export(chart.CSV, "Saves the figures of the chart as a table."),
	}
}

func (p *soundPage) needSpeaker() error {
	if len(p.session.Doc.Design().Speakers) == 0 {
		return errors.New("the room has no loudspeaker")
	}
	return nil
}

func (p *soundPage) needSubwoofer() error {
	d := p.session.Doc.Design()
	if !slices.ContainsFunc(d.Speakers, func(l project.Loudspeaker) bool { return sound.LFE(l.Label) }) {
		return errors.New("there is no subwoofer: a loudspeaker labelled LFE1 or LFE2")
	}
	return nil
}

func (p *soundPage) needZone() error {
	if len(p.session.Doc.Design().SubZones) == 0 {
		return errors.New("there is no zone for subwoofers")
	}
	return p.needSubwoofer()
}

// onTop reports whether the page is on top: the window hides the others.
func (p *soundPage) onTop() bool { return p.panel.Object().Visible() }

// open brings the page to the top at a topic.
func (p *soundPage) open(t topic) {
	p.panel.Choose(func(to *choice) { to.topic = t })
	p.raise()
}

// raise brings the page to the top and shows what is asked for.
func (p *soundPage) raise() {
	if !p.onTop() {
		p.frame.Raise(p) // which updates it
		return
	}
	p.choiceChanged(p.panel.Choice())
}

// toggleMap draws the level over the room, or takes it away.
func (p *soundPage) toggleMap() {
	w := p.panel.Choice()
	on := !p.onTop() || w.topic != levelsTopic || !w.Map
	p.panel.Choose(func(to *choice) { to.topic, to.Map = levelsTopic, on })
	p.raise()
}

// exportChart keeps the chart on show in a file.
func (p *soundPage) exportChart(kind string) {
	if p.frame.Busy() {
		return
	}
	name := ask.FileName(p.session.Doc.Title() + " " + strings.ToLower(p.panel.Chart().Title))
	p.frame.Ask.Save("Save the chart as", name+"."+kind, "."+kind, "", func(path string) {
		if err := p.panel.SaveChart(kind, path); err != nil {
			p.frame.Ask.Report("The chart is not saved", err)
			return
		}
		p.session.Say("Chart saved as " + path)
	})
}

// accept makes the proposal the design: one step of undo.
func (p *soundPage) accept() { p.frame.Accept(p.session) }

var _ interface {
	page.Sized
	page.Worker
} = (*soundPage)(nil)
