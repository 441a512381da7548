// SPDX-License-Identifier: MIT

package app

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"

	"earline/app/hear"
	"earline/app/session"
	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/sound"
	"earline/scene"
	"earline/scene/chart"
	"earline/scene/figure"
)

// updateSound shows what the page of sound asks for, of the design as it is now.
// It does so only while its page is on top, so that edits elsewhere do not wait
// for it.
func (w *Window) updateSound() {
	if w.drawer.top != soundPage {
		return
	}
	if _, state := w.session.Known.Audit.Get(); state != session.Fresh {
		w.await("Sound", state) // seats and loudspeakers are named by it
		return
	}
	w.hear.Choices(w.heardSpeakers(), w.heardSeats(), octaveNames())
	wish := w.hear.Wish()
	switch wish.Topic {
	case hear.Levels:
		w.hearLevels(wish)
	case hear.Decay:
		w.hearDecay()
	case hear.Arrivals:
		w.hearArrivals(wish)
	case hear.Bass:
		w.hearBass(wish)
	}
	w.showBassProgress()
}

// soundChoiceChanged is told that the page of sound is to show something else.
func (w *Window) soundChoiceChanged(hear.Wish) {
	w.updateSound()
	w.redraw()
}

// soundOverlay is what the page of sound draws in the room.
type soundOverlay struct {
	heat    *scene.Heat
	traces  []scene.Trace
	patches []scene.Patch
}

// overlay puts what the page of sound shows in the room into the options of a
// picture.
func (w *Window) overlay(o *scene.Options) {
	if w.drawer.top != soundPage {
		return
	}
	o.Heat, o.Traces, o.Patches = w.sounds.heat, w.sounds.traces, w.sounds.patches
	if o.Heat != nil || len(o.Traces) > 0 {
		o.Rays = scene.Nothing // those are of sight
	}
	if o.Heat != nil {
		o.Labels = false // the seats and the contours have theirs
	}
}

// clearSoundOverlay takes what the page of sound draws out of the picture.
func (w *Window) clearSoundOverlay() { w.sounds = soundOverlay{} }

// heardSpeakers are the choices of a loudspeaker: all of them, then each.
func (w *Window) heardSpeakers() []string {
	names := []string{"all loudspeakers"}
	for _, s := range w.session.Result().Speakers {
		names = append(names, s.Name())
	}
	return names
}

// heardSeats are the choices of a seat: the main position, then each.
func (w *Window) heardSeats() []string {
	names := []string{"main position"}
	for _, s := range w.session.Result().Seats {
		names = append(names, "seat "+s.Name())
	}
	return names
}

// octaveNames are the choices of an octave: all together, then each.
func octaveNames() []string {
	names := []string{figure.OctaveName(figure.Overall)}
	for o := range project.OctaveCount {
		names = append(names, figure.OctaveName(o))
	}
	return names
}

// await says that something is being worked out where nothing is known of it yet,
// or something else is on show. What is known of an earlier design stays.
func (w *Window) await(heading string, state session.State) {
	if state == session.Missing || w.hear.Shown() != w.hear.Wish() {
		w.clearSoundOverlay()
		w.hear.Show(nil, []hear.Fact{{Text: heading, Weight: hear.Heading}, {Text: "Being worked out."}}, nil)
	}
}

func (w *Window) hearLevels(wish hear.Wish) {
	const heading = "How evenly the seats hear"
	h, state := w.session.Known.Direct.Get()
	if state != session.Fresh {
		w.await(heading, state)
		return
	}
	w.clearSoundOverlay()
	octave := wish.Octave - 1
	var c chart.Chart
	if wish.Speaker > 0 {
		c = figure.Seats(h, w.session.Room(), wish.Speaker-1)
	} else {
		c = figure.Spread(h, w.session.Room(), octave)
	}
	facts := []hear.Fact{{Text: heading, Weight: hear.Heading}}
	if wish.Speaker > 0 {
		facts = append(facts, w.speakerFacts(h, wish.Speaker-1)...)
	} else {
		facts = append(facts, w.worstSpread(h)...)
	}
	l := h.Loudness(w.session.Result().Speakers)
	facts = append(facts, hear.Fact{Weight: hear.Footnote, Text: fmt.Sprintf(
		"Loud sound harms hearing: %.0f dB(A), the peak of one channel, is a full day's dose after %s (NIOSH).", l.Peak, minutes(l.PeakMinutes))})
	if wish.Map {
		at := octave
		if at < 0 {
			at = 6 // 4 kHz: where coverage is narrow
		}
		g, state := w.session.Map(sound.MapOptions{Speaker: wish.Speaker - 1, Octave: at})
		if state == session.Fresh || state == session.Stale && w.session.Dragging() {
			w.sounds.heat = figure.Sheet(g, w.session.Room())
			what := "The map: level against the main position at " + figure.OctaveName(at) + ", at ear height."
			if wish.Speaker == 0 {
				what = "The map: how far the loudspeakers' levels lie apart at " + figure.OctaveName(at) + ", each set up for the main position."
			}
			facts = append(facts, hear.Fact{Text: what, Weight: hear.Footnote})
		}
	}
	w.hear.Show(&c, facts, nil)
}

// speakerFacts say how loudspeaker k plays to the seats and what it takes.
func (w *Window) speakerFacts(h *sound.Direct, k int) []hear.Fact {
	s, placed := &h.Speakers[k], &w.session.Result().Speakers[k]
	out := []hear.Fact{
		{Text: fmt.Sprintf("%s: %.1f dB from the loudest seat to the quietest", placed.Name(), s.SpreadOverall)},
		{Text: fmt.Sprintf("Delay %.2f ms, level %+.1f dB", s.Delay, s.Trim)},
	}
	need := hear.Fact{Text: fmt.Sprintf("%.0f dB at the main position take %.0f W; it is rated %.0f W (%+.1f dB)", s.Target, s.Power, placed.Spec.Power, s.Headroom)}
	if s.Headroom < 0 {
		need.Weight = hear.Failing
	}
	out = append(out, need)
	var off []string
	for i := range w.session.Result().Seats {
		if !h.At(i, k).Inside {
			off = append(off, w.session.Result().Seats[i].Name())
		}
	}
	if len(off) > 0 {
		out = append(out, hear.Fact{Text: "Outside its nominal coverage: " + joinNames(off), Weight: hear.Failing})
	} else if !placed.Spec.Subwoofer() {
		out = append(out, hear.Fact{Text: "Every seat is inside its nominal coverage"})
	}
	return out
}

// worstSpread names the loudspeakers that play most unevenly and those that
// cannot reach their peaks.
func (w *Window) worstSpread(h *sound.Direct) []hear.Fact {
	worst, sum, n := -1, 0.0, 0
	var weak []string
	for k := range h.Speakers {
		if h.Speakers[k].Headroom < 0 {
			weak = append(weak, w.session.Result().Speakers[k].Name())
		}
		if w.session.Result().Speakers[k].Spec.Subwoofer() {
			continue
		}
		sum, n = sum+h.Speakers[k].SpreadOverall, n+1
		if worst < 0 || h.Speakers[k].SpreadOverall > h.Speakers[worst].SpreadOverall {
			worst = k
		}
	}
	var out []hear.Fact
	if worst >= 0 {
		out = append(out,
			hear.Fact{Text: fmt.Sprintf("Widest apart: %s, %.1f dB", w.session.Result().Speakers[worst].Name(), h.Speakers[worst].SpreadOverall)},
			hear.Fact{Text: fmt.Sprintf("Mean of all: %.1f dB", sum/float64(n))})
	}
	if len(weak) > 0 {
		out = append(out, hear.Fact{Text: "Not loud enough for the peaks at the main position: " + joinNames(weak), Weight: hear.Failing})
	}
	return append(out, hear.Fact{Text: "Choose a loudspeaker for its delay, level and power.", Weight: hear.Footnote})
}

// joinNames lists some names and counts the rest.
func joinNames(names []string) string {
	const most = 8
	text := ""
	for i, n := range names {
		if i == most {
			return fmt.Sprintf("%s and %d more", text, len(names)-most)
		}
		if i > 0 {
			text += ", "
		}
		text += n
	}
	return text
}

// minutes prints a time for which one may listen.
func minutes(m float64) string {
	switch {
	case math.IsInf(m, 0) || m > 48*60:
		return "days"
	case m >= 120:
		return fmt.Sprintf("%.0f hours", m/60)
	case m >= 2:
		return fmt.Sprintf("%.0f minutes", m)
	}
	return fmt.Sprintf("%.0f seconds", m*60)
}

func (w *Window) hearDecay() {
	const heading = "How long the room rings"
	r, state := w.session.Known.Decay.Get()
	if state != session.Fresh {
		w.await(heading, state)
		return
	}
	w.clearSoundOverlay()
	c := figure.Decay(r.Reverb, sound.ReferenceRoom)
	facts := []hear.Fact{
		{Text: heading, Weight: hear.Heading},
		{Text: fmt.Sprintf("%.2f s in the middle octaves; wanted %.2f s for %.0f m³", r.Mid, r.Wanted, r.Volume)},
	}
	for o, f := range project.Octaves() {
		if !r.Judged[o] || r.Within[o] {
			continue
		}
		verb, area := "add", r.Change[o]
		if area < 0 {
			verb, area = "take away", -area
		}
		facts = append(facts, hear.Fact{Weight: hear.Failing, Text: fmt.Sprintf("%g Hz: %.2f s; %s %.1f m² of absorption", f, r.Eyring[o], verb, area)})
	}
	for _, a := range r.Assumed {
		facts = append(facts, hear.Fact{Text: a, Weight: hear.Footnote})
	}
	w.hear.Show(&c, facts, nil)
}

func (w *Window) hearArrivals(wish hear.Wish) {
	const heading = "What comes after the direct sound"
	r, state := w.session.Known.Reflections.Get()
	if state != session.Fresh {
		w.await(heading, state)
		return
	}
	w.clearSoundOverlay()
	seat, k := wish.Seat-1, wish.Speaker-1
	c := figure.Arrivals(r, w.session.Room(), k, seat) // sound.AllSpeakers is -1
	facts := []hear.Fact{{Text: heading, Weight: hear.Heading}}
	here := sound.Reflections{Surfaces: r.Surfaces}
	strong, all := 0, 0
	for i := range r.All {
		f := &r.All[i]
		if f.Breaks {
			all++
		}
		if k != sound.AllSpeakers && f.Speaker != k || f.Seat != seat {
			continue
		}
		here.All = append(here.All, *f)
		if f.Breaks {
			strong++
		}
		if k == sound.AllSpeakers && !f.Breaks {
			continue // every reflection of every loudspeaker would be unreadable
		}
		t := scene.Trace{Strong: f.Breaks, Points: []geometry.Vec{w.session.Result().Speakers[f.Speaker].At.Vec()}}
		if k != sound.AllSpeakers {
			t.Text = fmt.Sprintf("%.1f ms %+.0f dB", f.Delay, f.Strongest)
		}
		t.Points = append(append(t.Points, f.Points[:f.Order]...), w.earOf(seat))
		w.sounds.traces = append(w.sounds.traces, t)
	}
	line := hear.Fact{Text: fmt.Sprintf("%d too strong for a reference room here, %d in the whole room", strong, all)}
	if strong > 0 {
		line.Weight = hear.Failing
	}
	facts = append(facts, line)
	for _, p := range here.Treat(true) {
		facts = append(facts, hear.Fact{Text: here.Where(&p, w.session.Design().Units)})
		w.sounds.patches = append(w.sounds.patches, scene.Patch{Corners: r.Corners(p), Text: string(p.Advice)})
	}
	for _, a := range r.Remarks {
		facts = append(facts, hear.Fact{Text: a, Weight: hear.Footnote})
	}
	var actions []hear.Action
	if panels := panelsFor(r); len(panels) > 0 {
		actions = []hear.Action{{Name: fmt.Sprintf("Add %d panels for the main position", len(panels)), Do: func() { w.addPanels(panels) }}}
	}
	w.hear.Show(&c, facts, actions)
}

// panel is the material of the panels that are added: an absorber of 50 mm with a
// fabric face, as far as the table of materials has one.
const panel = "panel-fabric"

// panelsFor returns panels where the main position hears a wall or the ceiling too
// strongly.
func panelsFor(r *sound.Reflections) []project.Treatment {
	var out []project.Treatment
	for _, p := range r.Treat(false) {
		if t, ok := r.Treatment(p, panel); ok {
			// Rounded to centimetres, the precision of a saw.
			for _, v := range []*unit.Length{&t.From, &t.To, &t.Low, &t.High} {
				*v = unit.Length(math.Round(float64(*v)*100) / 100)
			}
			if t.To > t.From && t.High > t.Low {
				out = append(out, t)
			}
		}
	}
	return out
}

// addPanels adds panels to the room: one step of undo.
func (w *Window) addPanels(panels []project.Treatment) {
	err := w.session.Do("add panels", "", func(d *project.Design) {
		known := func(m project.Material) bool { return m.ID == panel }
		if !slices.ContainsFunc(d.Room.Materials, known) {
			all := file.Materials()
			d.Room.Materials = append(d.Room.Materials, all[slices.IndexFunc(all, known)])
		}
		for _, p := range panels {
			if len(d.Room.Treatments) < project.MaxTreatments {
				d.Room.Treatments = append(d.Room.Treatments, p)
			}
		}
	})
	if err != nil {
		w.report("The panels are not added", err)
		return
	}
	w.session.Say("The panels are among the treatments in the inspector. Overhead panels are to be fixed by licensed people, fabrics to pass the local fire rules.")
}

// earOf is between the ears of a seat, or the main position.
func (w *Window) earOf(seat int) geometry.Vec {
	if seat < 0 || seat >= len(w.session.Result().Bodies) {
		return w.session.Result().Main
	}
	b := w.session.Result().Bodies[seat]
	return b.Ear()
}

// exportChart keeps the chart on show in a file.
func (w *Window) exportChart(kind string) {
	if w.busy() {
		return
	}
	c := w.hear.Chart()
	name := fileName(w.session.Doc.Title() + " " + strings.ToLower(c.Title))
	w.askPath("Save the chart as", name+"."+kind, "."+kind, func(path string) {
		if err := w.hear.SaveChart(kind, path); err != nil {
			w.report("The chart is not saved", err)
			return
		}
		w.session.Say("Chart saved as " + path)
	})
}

// showTopic opens the page of sound at a topic.
func (w *Window) showTopic(t hear.Topic) {
	w.hear.Choose(func(to *hear.Wish) { to.Topic = t })
	if w.drawer.top != soundPage {
		w.drawer.show(soundPage) // listens
		return
	}
	w.soundChoiceChanged(w.hear.Wish())
}

// setDelaysAndLevels sets every loudspeaker's delay and level for the main position: one step
// of undo.
func (w *Window) setDelaysAndLevels() {
	w.cancelDrag()
	h, state := w.session.Known.Direct.Get()
	if state != session.Fresh {
		w.session.Say("The direct sound is still being worked out.")
		return
	}
	to := h.Tuned(w.session.Doc.Design())
	if err := w.session.Do("set delays and levels", "", func(d *project.Design) { *d = *to }); err != nil {
		w.report("Delays and levels are not set", err)
		return
	}
	w.session.Say("Delays and levels are set for the main position, by distance and direct sound. Check them by measurement; align the subwoofers by their response.")
}

// choosePolar asks for a table of measured directivity for the model of the
// loudspeaker that the inspector shows.
func (w *Window) choosePolar() {
	if w.busy() {
		return
	}
	d, k := w.session.Doc.Design(), w.inspector.Speaker()
	if k < 0 || k >= len(d.Speakers) {
		w.report("There is no loudspeaker", errors.New("choose one in the inspector: its model gets the data"))
		return
	}
	id := d.Speakers[k].Model
	ask := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err == nil && r != nil {
			defer r.Close()
			err = w.readPolar(id, r.URI().Path())
		}
		if err != nil {
			w.report("The directivity cannot be read", err)
		}
	}, w.win)
	ask.SetFilter(storage.NewExtensionFileFilter([]string{".csv"}))
	if l, err := storage.ListerForURI(storage.NewFileURI(w.folder())); err == nil {
		ask.SetLocation(l)
	}
	w.pop(ask, 860, 560)
}

// readPolar gives a model the directivity in the table at path.
func (w *Window) readPolar(model, path string) error {
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	polar, err := file.DecodePolar(data, filepath.Base(path))
	if err != nil {
		return err
	}
	polar.Source = filepath.Base(path)
	if err := w.session.Do("read the directivity", "", func(d *project.Design) {
		for i := range d.Models {
			if d.Models[i].ID == model {
				d.Models[i].Polar = polar
			}
		}
	}); err != nil {
		return err
	}
	w.session.Say("The directivity of " + filepath.Base(path) + " is that of every loudspeaker of this model.")
	return nil
}
