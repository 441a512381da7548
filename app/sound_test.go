// SPDX-License-Identifier: MIT

package app

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"earline/app/hear"
	"earline/app/session"
	"earline/app/view"
	"earline/geometry"
	"earline/project"
	"earline/project/bass"
	"earline/project/sound"
	"earline/scene"
	"earline/scene/chart"
)

// onSound opens the page of sound on a demo at that topic.
func onSound(t *testing.T, demo string, topic hear.Topic) (*Window, *fakeRenderer, *queue) {
	t.Helper()
	q := new(queue)
	w, f := testWindow(t, Config{Demo: demo, Post: q.post})
	w.hear.Choose(func(to *hear.Wish) { to.Topic = topic })
	w.drawer.show(soundPage)
	return w, f, q
}

// said returns all that the page says beside its chart.
func said(w *Window) string {
	var b strings.Builder
	for o := range objects[*widget.RichText](w.hear.Object()) {
		b.WriteString(o.String() + "\n")
	}
	return b.String()
}

// push presses the button of that name on the page.
func push(t *testing.T, w *Window, name string) {
	t.Helper()
	for b := range objects[*widget.Button](w.hear.Object()) {
		if b.Text == name && b.Visible() {
			b.OnTapped()
			return
		}
	}
	t.Fatalf("no button %q", name)
}

// heard returns the study of the bass, once it is of the design on show.
func heard(w *Window) *bass.Study {
	if st, state := w.session.Known.Bass.Get(); state == session.Fresh {
		return st
	}
	return nil
}

func hasSeries(c *chart.Chart, name string) bool {
	return slices.ContainsFunc(c.Series, func(s chart.Series) bool { return s.Name == name })
}

// The bass of a bare rectangle is there at once; dragging the subwoofer changes
// the curve while it is dragged.
func TestBassFollowsTheSubwoofer(t *testing.T) {
	w, _, _ := onSound(t, "small", hear.Bass)
	mean := func() float64 {
		for _, s := range w.hear.Chart().Series {
			if s.Name == "mean of the seats" {
				return s.Y[60]
			}
		}
		return math.NaN()
	}
	before := mean()
	if math.IsNaN(before) || !strings.Contains(said(w), "sum over modes") {
		t.Fatalf("no curve; said %s", said(w))
	}
	k := speakerNamed(t, w.session.Design(), "LFE1")
	if err := w.session.Do("move", "", func(d *project.Design) { d.Speakers[k].At.Y += 0.6 }); err != nil {
		t.Fatal(err)
	}
	if after := mean(); after == before {
		t.Errorf("the mean is %v as before", after)
	}
	if err := w.session.Do("remove", "", func(d *project.Design) { d.Speakers = d.Speakers[:k] }); err != nil {
		t.Fatal(err)
	}
	if s := said(w); !strings.Contains(s, "no subwoofer") {
		t.Errorf("without a subwoofer: %s", s)
	}
}

// The waves of any other room come when they are done; aligning offers another
// set-up beside what is there, which one step of undo takes back.
func TestAligningIsOneStep(t *testing.T) {
	w, _, q := onSound(t, "two-row", hear.Bass)
	q.until(t, func() bool { return heard(w) != nil })
	if !strings.Contains(said(w), "finite differences") {
		t.Fatalf("said %s", said(w))
	}
	was := w.session.Design()
	push(t, w, "Align the subwoofers")
	q.until(t, func() bool { return w.session.Offer != nil })
	if !hasSeries(w.hear.Chart(), "mean before") || !strings.Contains(said(w), "was ") {
		t.Errorf("before and after are not compared; said %s", said(w))
	}
	for _, once := range []string{"chairs and people are not in it", "aligned among themselves"} {
		if n := strings.Count(said(w), once); n != 1 {
			t.Errorf("%q is said %d times", once, n)
		}
	}
	push(t, w, "Refuse")
	if w.session.Offer != nil || w.session.Design() != was {
		t.Error("something stays of what was refused")
	}
	push(t, w, "Align the subwoofers")
	q.until(t, func() bool { return w.session.Offer != nil })
	tuned := w.session.Offer.Design
	push(t, w, "Accept")
	for k := range tuned.Speakers {
		if w.session.Design().Speakers[k].Tuning != tuned.Speakers[k].Tuning {
			t.Errorf("%s is not as offered", tuned.Speakers[k].Name())
		}
	}
	q.until(t, func() bool { return heard(w) != nil })
	w.undo()
	if w.session.Design().Speakers[0] != was.Speakers[0] || w.session.Doc.UndoLabel() != "" {
		t.Error("undo does not take it back in one step")
	}
}

// An edit takes an offer away: it was for the design before.
func TestAnEditEndsAnOffer(t *testing.T) {
	w, _, q := onSound(t, "small", hear.Bass)
	push(t, w, "Seek places in the zones")
	q.until(t, func() bool { return w.session.Offer != nil })
	if err := w.session.Do("rename", "", func(d *project.Design) { d.Name = "another" }); err != nil {
		t.Fatal(err)
	}
	if w.session.Offer != nil {
		t.Error("the offer is still there")
	}
}

// The map lies in the picture while its page is on top, with the number of every
// seat, and not else.
func TestTheMapIsDrawnOnItsPage(t *testing.T) {
	w, f, _ := onSound(t, "large", hear.Levels)
	w.hear.Choose(func(to *hear.Wish) { to.Map, to.Speaker = true, 1 })
	w.updateSound()
	w.redraw()
	drawn := func() bool {
		return slices.ContainsFunc(f.lastList().Meshes, func(m scene.Mesh) bool { return m.Name == "heat" })
	}
	if !drawn() || len(w.sounds.heat.Seats) != 14 {
		t.Error("no map")
	}
	w.drawer.show(sightPage)
	if drawn() {
		t.Error("the map stays on another page")
	}
	w.drawer.show(soundPage)
	if !drawn() {
		t.Error("the map does not come back")
	}
}

// Arrivals draw the paths of one loudspeaker to one seat; of all loudspeakers only
// those that are too strong.
func TestArrivalsDrawTheirPaths(t *testing.T) {
	w, f, _ := onSound(t, "large", hear.Arrivals)
	if w.hear.Chart().Title != "All loudspeakers at the main position" {
		t.Errorf("%q", w.hear.Chart().Title)
	}
	for _, tr := range w.sounds.traces {
		if !tr.Strong {
			t.Fatal("a path that is not too strong is drawn")
		}
	}
	if len(w.sounds.traces) == 0 || !slices.ContainsFunc(f.lastList().Lines, func(l scene.Lines) bool { return l.Name == "traces" }) {
		t.Error("no paths")
	}
	w.hear.Choose(func(to *hear.Wish) { to.Speaker = 1 })
	w.soundChoiceChanged(w.hear.Wish())
	if w.hear.Chart().Title != "M+030 at the main position" || !slices.ContainsFunc(w.sounds.traces, func(tr scene.Trace) bool { return !tr.Strong && tr.Text != "" }) {
		t.Errorf("%q", w.hear.Chart().Title)
	}
	w.hear.Choose(func(to *hear.Wish) { to.Seat = 8 })
	w.soundChoiceChanged(w.hear.Wish())
	if w.hear.Chart().Title != "M+030 at row 2 seat 3" {
		t.Error(w.hear.Chart().Title)
	}
	for _, tr := range w.sounds.traces {
		if end := tr.Points[len(tr.Points)-1]; end.Dist(w.earOf(7)) > 1e-9 {
			t.Errorf("a path ends at %v", end)
		}
	}
}

// What was worked out for another design is not shown for this one: opening a
// room with the page open shows that room.
func TestAnotherRoomAnotherDecay(t *testing.T) {
	w, _, q := onSound(t, "large", hear.Decay)
	one := said(w)
	w.openDemo(demoNamed(t, "small"))
	q.until(t, func() bool { return w.session.Result() != nil && len(w.session.Result().Seats) == 3 })
	if two := said(w); two == one || !strings.Contains(two, "wanted 0.17 s") {
		t.Errorf("said %s", two)
	}
}

// The three kinds of file that a chart can be kept as.
func TestChartsAreKept(t *testing.T) {
	w, _, _ := onSound(t, "small", hear.Decay)
	for kind, begins := range map[string]string{"png": "\x89PNG", "svg": "<svg ", "csv": ""} {
		name := filepath.Join(t.TempDir(), "decay."+kind)
		if err := w.hear.SaveChart(kind, name); err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(name)
		if err != nil || len(data) < 100 || !strings.HasPrefix(string(data), begins) {
			t.Errorf("%s: %v, begins %.40q", kind, err, data)
		}
	}
}

// Nothing on the page is cut off at 1280 by 800: neither buttons nor choices.
func TestNothingOnThePageIsCutOff(t *testing.T) {
	w, _, q := onSound(t, "large", hear.Bass)
	w.win.Resize(fyne.NewSize(1280, 800))
	q.until(t, func() bool { return heard(w) != nil })
	for _, topic := range []hear.Topic{hear.Bass, hear.Levels, hear.Decay, hear.Arrivals} {
		w.hear.Choose(func(to *hear.Wish) { to.Topic = topic })
		w.updateSound()
		for text := range objects[*canvas.Text](w.hear.Head()) {
			if text.Visible() && strings.HasSuffix(text.Text, "…") {
				t.Errorf("%v: %q", topic, text.Text)
			}
		}
		for b := range objects[*widget.Button](w.hear.Object()) {
			if b.Visible() && b.Size().Width < b.MinSize().Width {
				t.Errorf("%v: button %q has %v of %v", topic, b.Text, b.Size().Width, b.MinSize().Width)
			}
		}
	}
}

// An edit away from the page costs it nothing, and what it shows is of the audit.
func TestThePageSleepsWhenItIsNotOnTop(t *testing.T) {
	w, _, _ := onSound(t, "large", hear.Levels)
	w.drawer.show(sightPage)
	if err := w.session.Do("rename", "", func(d *project.Design) { d.Name = "another" }); err != nil {
		t.Fatal(err)
	}
	direct := &w.session.Known.Direct
	if direct.Last().Key.Design == w.session.Design() {
		t.Error("worked out though nobody looks")
	}
	w.drawer.show(soundPage)
	if direct.Last().Key.Design != w.session.Design() {
		t.Error("what is shown is not of this design")
	}
}

// While the waves of a changed room are worked out the page of bass does not show
// another page's chart.
func TestAnotherTopicsChartIsNotTheBass(t *testing.T) {
	w, _, q := onSound(t, "two-row", hear.Bass)
	q.until(t, func() bool { return heard(w) != nil })
	w.showTopic(hear.Decay)
	k := speakerNamed(t, w.session.Design(), "LFE1")
	if err := w.session.Do("move", "", func(d *project.Design) { d.Speakers[k].At.Y += 0.1 }); err != nil {
		t.Fatal(err)
	}
	w.showTopic(hear.Bass)
	if s := said(w); !strings.Contains(s, "Being worked out") {
		t.Errorf("said %s", s)
	}
	q.until(t, func() bool { return heard(w) != nil })
	if !hasSeries(w.hear.Chart(), "mean of the seats") {
		t.Error("the response does not come")
	}
}

// Delays and levels are those that the study proposes, in one step.
func TestTuningIsOneStep(t *testing.T) {
	w, _, _ := onSound(t, "small", hear.Levels)
	h, _ := w.session.Known.Direct.Get()
	w.setDelaysAndLevels()
	for k, l := range w.session.Design().Speakers {
		if l.Tuning.Delay != h.Speakers[k].Delay {
			t.Errorf("%s has %v ms, want %v", l.Name(), l.Tuning.Delay, h.Speakers[k].Delay)
		}
	}
	w.undo()
	if w.session.Design().Speakers[0].Tuning != (project.Tuning{}) || w.session.Doc.UndoLabel() != "" {
		t.Error("undo does not take it back in one step")
	}
}

// A table of measured directivity goes to every loudspeaker of the model; one
// that is none says where it is wrong and changes nothing.
func TestDirectivityIsRead(t *testing.T) {
	w, _, _ := onSound(t, "small", hear.Levels)
	model := w.session.Design().Speakers[0].Model
	if err := w.readPolar(model, filepath.Join("..", "testdata", "polar_sample.csv")); err != nil {
		t.Fatal(err)
	}
	m, _ := w.session.Design().Model(model)
	if !m.Polar.Given() || m.Polar.Source != "polar_sample.csv" {
		t.Errorf("%+v", m.Polar)
	}
	bad := filepath.Join(t.TempDir(), "bad.csv")
	if err := os.WriteFile(bad, []byte("plane,frequency_hz,angle_deg,level_db\nupwards,1000,0,0\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	was := w.session.Design()
	if err := w.readPolar(model, bad); err == nil || !strings.Contains(err.Error(), "bad.csv") || w.session.Design() != was {
		t.Errorf("said %v", err)
	}
}

// Panels where the main position hears too much: after them it hears less that is
// too strong, and one undo takes them all back.
func TestPanelsAreAdded(t *testing.T) {
	w, _, _ := onSound(t, "large", hear.Arrivals)
	strong := func() (n int) {
		r, _ := w.session.Known.Reflections.Get()
		for _, f := range r.All {
			if f.Breaks && f.Seat == sound.MainSeat {
				n++
			}
		}
		return n
	}
	before, had := strong(), len(w.session.Design().Room.Treatments)
	r, _ := w.session.Known.Reflections.Get()
	panels := panelsFor(r)
	w.addPanels(panels)
	if len(w.session.Design().Room.Treatments) != had+len(panels) || len(panels) == 0 {
		t.Fatalf("%d treatments, had %d, %d panels", len(w.session.Design().Room.Treatments), had, len(panels))
	}
	if after := strong(); after >= before {
		t.Errorf("%d too strong, were %d", after, before)
	}
	w.undo()
	if len(w.session.Design().Room.Treatments) != had || w.session.Doc.UndoLabel() != "" {
		t.Error("undo does not take them back in one step")
	}
}

// While a subwoofer is dragged its response is that of where it is now; given up,
// it is that of before.
func TestTheResponseFollowsADrag(t *testing.T) {
	w, _ := drawing(t, "small", view.Plan)
	w.hear.Choose(func(to *hear.Wish) { to.Topic = hear.Bass })
	w.drawer.show(soundPage)
	level := func() float64 { return heard(w).Response.Seat(0)[40] }
	before := level()
	at := w.session.Design().Speakers[speakerNamed(t, w.session.Design(), "LFE1")].At.Vec()
	p := where(t, w, at)
	pressAt(w, p)
	pull(t, w, p, at, geometry.V(0.4, 0.5, 0))
	if w.session.Design() == w.session.Doc.Design() {
		t.Fatal("nothing was dragged")
	}
	if level() == before {
		t.Error("the response does not follow")
	}
	if !w.cancelDrag() || level() != before {
		t.Error("given up, the response is not that of before")
	}
}

// The zones for subwoofers are drawn where bass is looked at, and not among the
// rays of sight.
func TestZonesAreDrawnWithTheBass(t *testing.T) {
	w, f, _ := onSound(t, "large", hear.Bass)
	drawn := func() bool {
		return slices.ContainsFunc(f.lastList().Lines, func(l scene.Lines) bool { return l.Name == "sub zones" })
	}
	if !drawn() {
		t.Error("no zones on the page of sound")
	}
	w.drawer.show(sightPage)
	if drawn() {
		t.Error("zones on the page of sight")
	}
}
