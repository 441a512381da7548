// SPDX-License-Identifier: MIT

package sound

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2/widget"

	"earline/app/page/pagetest"
	"earline/app/session"
	"earline/project"
	"earline/project/bass"
	"earline/project/sound"
	"earline/scene"
	"earline/scene/chart"
)

// onSound opens the page on a demo at that topic.
func onSound(t *testing.T, demo string, topic topic) (*pagetest.Bench, *soundPage) {
	t.Helper()
	b := pagetest.Open(t, demo)
	p := newPage(b.Session, b.Frame, func() int { return 0 })
	p.panel.Choose(func(to *choice) { to.topic = topic })
	b.Show(p)
	return b, p
}

// said returns all that the page says beside its chart.
func said(p *soundPage) string {
	var b strings.Builder
	for o := range pagetest.Objects[*widget.RichText](p.Body()) {
		b.WriteString(o.String() + "\n")
	}
	return b.String()
}

// heard returns the study of the bass, once it is of the present design.
func heard(b *pagetest.Bench) *bass.Study {
	if st, state := b.Session.Known.Bass.Get(); state == session.Fresh {
		return st
	}
	return nil
}

func speakerNamed(t *testing.T, d *project.Design, name string) int {
	t.Helper()
	k := slices.IndexFunc(d.Speakers, func(l project.Loudspeaker) bool { return l.Name() == name })
	if k < 0 {
		t.Fatalf("no loudspeaker %s", name)
	}
	return k
}

func hasSeries(c *chart.Chart, name string) bool {
	return slices.ContainsFunc(c.Series, func(s chart.Series) bool { return s.Name == name })
}

// The bass of a bare rectangle is there at once; dragging the subwoofer changes
// the curve while it is dragged.
func TestBassFollowsTheSubwoofer(t *testing.T) {
	b, p := onSound(t, "small", bassTopic)
	mean := func() float64 {
		for _, s := range p.panel.Chart().Series {
			if s.Name == "mean of the seats" {
				return s.Y[60]
			}
		}
		return math.NaN()
	}
	before := mean()
	if math.IsNaN(before) || !strings.Contains(said(p), "sum over modes") {
		t.Fatalf("no curve; said %s", said(p))
	}
	k := speakerNamed(t, b.Session.Design(), "LFE1")
	if err := b.Session.Do("move", "", func(d *project.Design) { d.Speakers[k].At.Y += 0.6 }); err != nil {
		t.Fatal(err)
	}
	if after := mean(); after == before {
		t.Errorf("the mean is %v as before", after)
	}
	if err := b.Session.Do("remove", "", func(d *project.Design) { d.Speakers = d.Speakers[:k] }); err != nil {
		t.Fatal(err)
	}
	if s := said(p); !strings.Contains(s, "no subwoofer") {
		t.Errorf("without a subwoofer: %s", s)
	}
}

// The waves of any other room come when they are done; aligning offers another
// set-up beside what is there, which one step of undo takes back.
func TestAligningIsOneStep(t *testing.T) {
	b, p := onSound(t, "two-row", bassTopic)
	b.Queue.Until(t, func() bool { return heard(b) != nil })
	if !strings.Contains(said(p), "finite differences") {
		t.Fatalf("said %s", said(p))
	}
	was := b.Session.Design()
	b.Press(t, "Align the subwoofers")
	b.Queue.Until(t, func() bool { return b.Session.Offer != nil })
	if !hasSeries(p.panel.Chart(), "mean before") || !strings.Contains(said(p), "was ") {
		t.Errorf("before and after are not compared; said %s", said(p))
	}
	for _, once := range []string{"The people in them are left out", "aligned among themselves"} {
		if n := strings.Count(said(p), once); n != 1 {
			t.Errorf("%q is said %d times", once, n)
		}
	}
	b.Press(t, "Refuse")
	if b.Session.Offer != nil || b.Session.Design() != was {
		t.Error("something stays of what was refused")
	}
	b.Press(t, "Align the subwoofers")
	b.Queue.Until(t, func() bool { return b.Session.Offer != nil })
	tuned := b.Session.Offer.Design
	b.Press(t, "Accept")
	for k := range tuned.Speakers {
		if b.Session.Design().Speakers[k].Tuning != tuned.Speakers[k].Tuning {
			t.Errorf("%s is not as offered", tuned.Speakers[k].Name())
		}
	}
	b.Queue.Until(t, func() bool { return heard(b) != nil })
	b.Session.Undo()
	if b.Session.Design().Speakers[0] != was.Speakers[0] || b.Session.Doc.UndoLabel() != "" {
		t.Error("undo does not take it back in one step")
	}
}

// What aligning costs stands beside what it gains, and another choice of how much
// may be given up aligns again.
func TestGivingUpMoreAlignsAgain(t *testing.T) {
	b, p := onSound(t, "two-row", bassTopic)
	b.Queue.Until(t, func() bool { return heard(b) != nil })
	b.Press(t, "Align the subwoofers")
	b.Queue.Until(t, func() bool { return b.Session.Offer != nil })
	for _, want := range []string{"as weighed, from", "Change by third of an octave: 20 Hz", "more than 3 dB below the best"} {
		if !strings.Contains(said(p), want) {
			t.Errorf("%q is not said: %s", want, said(p))
		}
	}
	first := b.Session.Offer
	if !p.panel.boxes[p.panel.giveUp].Visible() {
		t.Fatal("how much may be given up cannot be chosen")
	}
	p.panel.giveUp.SetSelected("Give up 6 dB")
	b.Queue.Until(t, func() bool { return b.Session.Offer != nil && b.Session.Offer != first })
	if !strings.Contains(said(p), "more than 6 dB below the best") {
		t.Errorf("said %s", said(p))
	}
	p.panel.topics[levelsTopic].OnTapped()
	if p.panel.boxes[p.panel.giveUp].Visible() {
		t.Error("it stays where it means nothing")
	}
}

// An edit takes an offer away: it was for the design before.
func TestAnEditEndsAnOffer(t *testing.T) {
	b, _ := onSound(t, "small", bassTopic)
	b.Press(t, "Seek places in the zones")
	b.Queue.Until(t, func() bool { return b.Session.Offer != nil })
	if err := b.Session.Do("rename", "", func(d *project.Design) { d.Name = "another" }); err != nil {
		t.Fatal(err)
	}
	if b.Session.Offer != nil {
		t.Error("the offer is still there")
	}
}

// Arrivals draw the paths of one loudspeaker to one seat; of all loudspeakers only
// those that are too strong.
func TestArrivalsDrawTheirPaths(t *testing.T) {
	_, p := onSound(t, "large", arrivalsTopic)
	if p.panel.Chart().Title != "All loudspeakers at the main position" {
		t.Errorf("%q", p.panel.Chart().Title)
	}
	for _, tr := range p.traces {
		if !tr.Strong {
			t.Fatal("a path that is not too strong is drawn")
		}
	}
	if len(p.traces) == 0 {
		t.Error("no paths")
	}
	p.panel.Choose(func(to *choice) { to.Speaker = 1 })
	p.Update()
	if p.panel.Chart().Title != "M+030 at the main position" || !slices.ContainsFunc(p.traces, func(tr scene.Trace) bool { return !tr.Strong && tr.Text != "" }) {
		t.Errorf("%q", p.panel.Chart().Title)
	}
	p.panel.Choose(func(to *choice) { to.Seat = 8 })
	p.Update()
	if p.panel.Chart().Title != "M+030 at row 2 seat 3" {
		t.Error(p.panel.Chart().Title)
	}
	for _, tr := range p.traces {
		if end := tr.Points[len(tr.Points)-1]; end.Dist(p.earOf(7)) > 1e-9 {
			t.Errorf("a path ends at %v", end)
		}
	}
}

// What was worked out for another design is not shown for this one: opening a
// room with the page open shows that room.
func TestAnotherRoomAnotherDecay(t *testing.T) {
	b, p := onSound(t, "large", decayTopic)
	rings := func() bool { _, state := b.Session.Known.Ringing.Get(); return state == session.Fresh }
	b.Queue.Until(t, rings)
	one := said(p)
	b.Session.Open(pagetest.Demo(t, "small"))
	b.Queue.Until(t, func() bool { return b.Session.Result() != nil && len(b.Session.Result().Seats) == 3 && rings() })
	if two := said(p); two == one || !strings.Contains(two, "wanted 0.18 s") {
		t.Errorf("said %s", two)
	}
}

// The three kinds of file that a chart can be kept as.
func TestChartsAreKept(t *testing.T) {
	b, p := onSound(t, "small", decayTopic)
	b.Queue.Until(t, func() bool { return hasSeries(p.panel.Chart(), "bass, by thirds") })
	for kind, begins := range map[string]string{"png": "\x89PNG", "svg": "<svg ", "csv": ""} {
		name := filepath.Join(t.TempDir(), "decay."+kind)
		if err := p.panel.SaveChart(kind, name); err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(name)
		if err != nil || len(data) < 100 || !strings.HasPrefix(string(data), begins) {
			t.Errorf("%s: %v, begins %.40q", kind, err, data)
		}
	}
}

// A measured table is one step of undo, and the bass then rings by it; one of another
// room is asked about.
func TestMeasuredTimesAreReadOnThePage(t *testing.T) {
	b, p := onSound(t, "small", decayTopic)
	b.Queue.Until(t, func() bool { return hasSeries(p.panel.Chart(), "bass, by thirds") })
	name := filepath.Join(t.TempDir(), "times.csv")
	table := func(text string) {
		t.Helper()
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	table("hz,t60_s\n50,0.45\n63,0.4\n")
	if err := p.readTimes(name); err != nil {
		t.Fatal(err)
	}
	b.Queue.Until(t, func() bool { return hasSeries(p.panel.Chart(), "measured") })
	if s := said(p); !strings.Contains(s, "as was measured at 50, 63 Hz") {
		t.Errorf("said %s", s)
	}
	p.removeTimes()
	if d := b.Session.Design(); d.Measured.Given() {
		t.Errorf("%+v is left", d.Measured)
	}
	table("hz,t60_s\n63,400\n")
	if err := p.readTimes(name); err == nil || !strings.Contains(err.Error(), "milliseconds?") {
		t.Error(err)
	}
	b.Queue.Until(t, func() bool { _, state := b.Session.Known.Ringing.Get(); return state == session.Fresh })
	table("hz,t60_s\n63,19\n")
	if err := p.readTimes(name); err != nil || !p.frame.Busy() || b.Session.Design().Measured.Given() {
		t.Errorf("%v, taken %v", err, b.Session.Design().Measured)
	}
}

// What half and twice the absorption would do is shaded at the seat once it is known.
func TestHowFarAbsorptionIsOffIsShadedOnTheBassChart(t *testing.T) {
	b, p := onSound(t, "small", bassTopic)
	b.Queue.Until(t, func() bool {
		return slices.ContainsFunc(p.panel.Chart().Series, func(s chart.Series) bool { return strings.Contains(s.Name, "absorption halved to doubled") })
	})
}

func TestTheWaterfallIsOfTheChosenSeat(t *testing.T) {
	b, p := onSound(t, "small", decayTopic)
	p.panel.Choose(func(c *choice) { c.Falls, c.Seat = true, 2 })
	p.Update()
	b.Queue.Until(t, func() bool { return hasSeries(p.panel.Chart(), "after 300 ms") })
	if title := p.panel.Chart().Title; title != "How the bass dies away at row 1 seat 2" {
		t.Error(title)
	}
}

// While the waves of a changed room are worked out the page of bass does not show
// another page's chart.
func TestAnotherTopicsChartIsNotTheBass(t *testing.T) {
	b, p := onSound(t, "two-row", bassTopic)
	b.Queue.Until(t, func() bool { return heard(b) != nil })
	p.open(decayTopic)
	k := speakerNamed(t, b.Session.Design(), "LFE1")
	if err := b.Session.Do("move", "", func(d *project.Design) { d.Speakers[k].At.Y += 0.1 }); err != nil {
		t.Fatal(err)
	}
	p.open(bassTopic)
	if s := said(p); !strings.Contains(s, "Working it out") {
		t.Errorf("said %s", s)
	}
	b.Queue.Until(t, func() bool { return heard(b) != nil })
	if !hasSeries(p.panel.Chart(), "mean of the seats") {
		t.Error("the response does not come")
	}
}

// Delays and levels are those that the study proposes, in one step.
func TestTuningIsOneStep(t *testing.T) {
	b, p := onSound(t, "small", levelsTopic)
	h, _ := b.Session.Known.Direct.Get()
	p.setDelaysAndLevels()
	for k, l := range b.Session.Design().Speakers {
		if l.Tuning.Delay != h.Speakers[k].Delay {
			t.Errorf("%s has %v ms, want %v", l.Name(), l.Tuning.Delay, h.Speakers[k].Delay)
		}
	}
	b.Session.Undo()
	if b.Session.Design().Speakers[0].Tuning != (project.Tuning{}) || b.Session.Doc.UndoLabel() != "" {
		t.Error("undo does not take it back in one step")
	}
}

// A table of measured directivity goes to every loudspeaker of the model; one
// that is none says where it is wrong and changes nothing.
func TestDirectivityIsRead(t *testing.T) {
	b, p := onSound(t, "small", levelsTopic)
	model := b.Session.Design().Speakers[0].Model
	if err := p.readPolar(model, filepath.Join("..", "..", "..", "testdata", "polar_sample.csv")); err != nil {
		t.Fatal(err)
	}
	m, _ := b.Session.Design().Model(model)
	if !m.Polar.Given() || m.Polar.Source != "polar_sample.csv" {
		t.Errorf("%+v", m.Polar)
	}
	bad := filepath.Join(t.TempDir(), "bad.csv")
	if err := os.WriteFile(bad, []byte("plane,frequency_hz,angle_deg,level_db\nupwards,1000,0,0\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	was := b.Session.Design()
	if err := p.readPolar(model, bad); err == nil || !strings.Contains(err.Error(), "bad.csv") || b.Session.Design() != was {
		t.Errorf("said %v", err)
	}
}

// Panels where the main position hears too much: after them it hears less that is
// too strong, and one undo takes them all back.
func TestPanelsAreAdded(t *testing.T) {
	b, p := onSound(t, "large", arrivalsTopic)
	strong := func() (n int) {
		r, _ := b.Session.Known.Reflections.Get()
		for _, f := range r.All {
			if f.Breaks && f.Seat == sound.MainSeat {
				n++
			}
		}
		return n
	}
	before, had := strong(), len(b.Session.Design().Room.Treatments)
	r, _ := b.Session.Known.Reflections.Get()
	panels := panelsFor(r)
	p.addPanels()
	if len(b.Session.Design().Room.Treatments) != had+len(panels) || len(panels) == 0 {
		t.Fatalf("%d treatments, had %d, %d panels", len(b.Session.Design().Room.Treatments), had, len(panels))
	}
	if after := strong(); after >= before {
		t.Errorf("%d too strong, were %d", after, before)
	}
	b.Session.Undo()
	if len(b.Session.Design().Room.Treatments) != had || b.Session.Doc.UndoLabel() != "" {
		t.Error("undo does not take them back in one step")
	}
}

// The map has the number of every seat, and takes the rays and the names away.
func TestTheMapNamesEverySeat(t *testing.T) {
	_, p := onSound(t, "large", levelsTopic)
	p.panel.Choose(func(to *choice) { to.Map, to.Speaker = true, 1 })
	p.Update()
	o := scene.Default()
	p.Overlay(&o)
	if o.Heat == nil || len(o.Heat.Seats) != 14 || o.Labels || o.Rays != scene.NoRays {
		t.Errorf("%+v", o)
	}
}

// What the buttons of the page do can be chosen from the menu too, on any page: it
// brings the page up first.
func TestButtonsAreCommands(t *testing.T) {
	b, p := onSound(t, "small", decayTopic)
	p.Body().Hide() // as while another page is on top
	pagetest.Run(t, p, "sound.align")
	if b.Raised != p || p.panel.Choice().topic != bassTopic {
		t.Fatal("the bass is not on show")
	}
	b.Queue.Until(t, func() bool { return b.Session.OfferOf(title) != nil })
	b.Session.Refuse()
	pagetest.Run(t, p, "sound.seek-places")
	b.Queue.Until(t, func() bool { return b.Session.OfferOf(title) != nil })
	if !b.Session.Offer.OnPage {
		t.Error("it is drawn on every page")
	}
}

// The watts beside a subwoofer were those of a free field; they are those of the bass,
// on both topics.
func TestTheWattsOfASubwooferAreThoseOfTheBass(t *testing.T) {
	b, p := onSound(t, "small", levelsTopic)
	o := heard(b).Output(b.Session.Design())
	k := speakerNamed(t, b.Session.Design(), "LFE1")
	p.panel.Choose(func(to *choice) { to.Speaker = k + 1 })
	p.Update()
	for _, want := range []string{needWords(o, 0), o.Sentence(o.Main)} {
		if !strings.Contains(said(p), want) {
			t.Errorf("levels do not say %q: %s", want, said(p))
		}
	}
	p.panel.Choose(func(to *choice) { to.Speaker = 0 })
	p.Update()
	if said := said(p); o.Short() != strings.Contains(said, "LFE1") {
		t.Errorf("short: %v, but said %s", o.Short(), said)
	}
	p.open(bassTopic)
	if !strings.Contains(said(p), needWords(o, 0)) {
		t.Errorf("bass does not say the same: %s", said(p))
	}
}
