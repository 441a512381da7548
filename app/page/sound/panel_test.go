// SPDX-License-Identifier: MIT

package sound

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"earline/app/field"
	"earline/app/theme"
	"earline/scene/chart"
)

// open shows a panel in a window of the test driver.
func open(t *testing.T) *panel {
	t.Helper()
	a := test.NewTempApp(t)
	a.Settings().SetTheme(theme.Theme{})
	p := newPanel()
	w := test.NewTempWindow(t, p.Object())
	w.Resize(fyne.NewSize(950, 260))
	p.Choices([]string{"all loudspeakers", "M+030", "M-030"}, []string{"main position", "seat 1.1"}, []string{"all it plays", "63 Hz"})
	return p
}

// What is clicked is told, once.
func TestClicksAreTold(t *testing.T) {
	p := open(t)
	var got []choice
	p.OnChoice = func(w choice) { got = append(got, w) }
	test.Tap(p.topics[levelsTopic])
	p.speaker.SetSelected("M-030")
	p.octave.SetSelected("63 Hz")
	test.Tap(p.topics[levelsTopic]) // as it is
	p.mapped.SetChecked(true)
	test.Tap(p.topics[arrivalsTopic])
	p.seat.SetSelected("seat 1.1")
	want := []choice{
		{topic: levelsTopic}, {topic: levelsTopic, Speaker: 2}, {topic: levelsTopic, Speaker: 2, Octave: 1}, {topic: levelsTopic, Speaker: 2, Octave: 1, Map: true},
		{topic: arrivalsTopic, Speaker: 2, Octave: 1, Map: true}, {topic: arrivalsTopic, Speaker: 2, Seat: 1, Octave: 1, Map: true},
	}
	if !slices.Equal(got, want) {
		t.Errorf("choices\n%+v, want\n%+v", got, want)
	}
}

// A choice stays where it is still there, and goes to the nearest where not,
// without a choice: nobody clicked.
func TestChoicesStay(t *testing.T) {
	p := open(t)
	p.Choose(func(w *choice) { w.topic, w.Speaker = levelsTopic, 2 })
	p.OnChoice = func(w choice) { t.Errorf("a choice nobody made: %+v", w) }
	p.Choices([]string{"all loudspeakers", "M+030", "M-030", "M+000"}, []string{"main position"}, []string{"all it plays"})
	if w := p.Choice(); w.Speaker != 2 || p.speaker.Selected != "M-030" {
		t.Errorf("%+v, %q is chosen", w, p.speaker.Selected)
	}
	p.Choices([]string{"all loudspeakers"}, []string{"main position"}, []string{"all it plays"})
	if w := p.Choice(); w.Speaker != 0 || p.speaker.Selected != "all loudspeakers" {
		t.Errorf("%+v, %q is chosen", w, p.speaker.Selected)
	}
}

// Only the choices that matter are there.
func TestChoicesThatMatter(t *testing.T) {
	p := open(t)
	for topic, want := range map[topic][4]bool{ // loudspeaker, octave, seat, map
		bassTopic: {false, false, true, false}, crossoverTopic: {true, false, true, false}, boundariesTopic: {true, false, false, false}, levelsTopic: {true, true, false, true}, decayTopic: {}, arrivalsTopic: {true, false, true, false},
	} {
		p.Choose(func(w *choice) { w.topic = topic })
		got := [4]bool{p.boxes[p.speaker].Visible(), p.boxes[p.octave].Visible(), p.boxes[p.seat].Visible(), p.mapped.Visible()}
		if got != want {
			t.Errorf("%v shows %v, want %v", topic, got, want)
		}
	}
}

// Facts, actions and the state of long work are shown, and taken away.
func TestShow(t *testing.T) {
	p := open(t)
	done := false
	p.Show(&chart.Chart{Title: "Response"}, []fact{{Text: "Bass", weight: asHeading}, {Text: "too little", weight: asFailing}}, []action{{Name: "Align", Do: func() { done = true }}})
	if p.Chart().Title != "Response" || len(p.facts.Segments) != 2 || p.facts.String() != "Basstoo little" {
		t.Errorf("%q, %q", p.Chart().Title, p.facts.String())
	}
	test.Tap(p.actions.Objects[0].(*field.Button))
	if !done {
		t.Error("the button did nothing")
	}
	p.Working(0.5, "waves")
	if !p.busy.Visible() || p.bar.Value != 0.5 || p.what.Text != "waves" {
		t.Error("work is not shown")
	}
	p.Working(1, "")
	p.Show(nil, nil, nil)
	if p.busy.Visible() || len(p.actions.Objects) != 0 || len(p.facts.Segments) != 0 {
		t.Error("what is over is still there")
	}
}
