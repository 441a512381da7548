// SPDX-License-Identifier: MIT

package inspector

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

func TestZonesComeAndGo(t *testing.T) {
	everyDemo(t, func(t *testing.T, b *bench) {
		n := len(b.Design().SubZones)
		before := b.Design()
		b.in.addZone()
		zs := b.Design().SubZones
		if len(zs) != n+1 {
			t.Fatalf("%d zones, want %d", len(zs), n+1)
		}
		z := zs[b.in.zone]
		poly := b.Design().Room.Polygon()
		for _, c := range []project.Corner{z.From, z.To} {
			at := poly[0]
			at.X, at.Y = float64(c.X), float64(c.Y)
			if !poly.Contains(at) {
				t.Errorf("a corner of the new zone is at %v, outside the room", c)
			}
		}
		oneStep(t, b, before, "add a zone")
		before = b.Design()
		b.in.duplicateZone()
		if got := b.Design().SubZones[b.in.zone].From.X - z.From.X; !near(float64(got), 0.5) {
			t.Errorf("the duplicate is %v farther back, want 0.5 m", got)
		}
		oneStep(t, b, before, "duplicate "+before.ZoneName(b.in.zone-1))
		for range n + 4 {
			b.in.removeZone()
		}
		if len(b.Design().SubZones) != 0 || b.in.groups[zonesGroup].form.Line("Name") != nil {
			t.Errorf("%d zones left", len(b.Design().SubZones))
		}
		b.in.duplicateZone()
	})
}

func TestZonesAreEdited(t *testing.T) {
	b := newBench(t, "small")
	now := func() project.SubZone { return b.Design().SubZones[b.in.zone] }
	for _, c := range []struct {
		line, text string
		get        func() unit.Length
		want       float64
	}{
		{"From screen, from", "0.3 m", func() unit.Length { return now().From.X }, 0.3},
		{"From screen, to", "90 cm", func() unit.Length { return now().To.X }, 0.9},
		{"From left, from", "2", func() unit.Length { return now().From.Y }, 2},
		{"From left, to", "1 ft", func() unit.Length { return now().To.Y }, 0.3048},
		{"Height", "300 mm", func() unit.Length { return now().Height }, 0.3},
	} {
		before := b.Design()
		enter(b.line(t, zonesGroup, c.line), c.text)
		if !near(float64(c.get()), c.want) {
			t.Errorf("%s: %v, want %v", c.line, c.get(), c.want)
		}
		oneStep(t, b, before, "move front wall")
	}
	enter(b.line(t, zonesGroup, "Name"), "")
	if got := b.in.zoneName(); got != "subwoofer zone 1" {
		t.Errorf("without a name it is %q", got)
	}
}

// The slope is chosen by name; the usual one leaves the file as it was.
func TestTheSlopeOfTheCrossover(t *testing.T) {
	b := newBench(t, "two-row")
	l := b.line(t, playbackGroup, "Slope")
	before := b.Design()
	l.Choice.SetSelected("third-order Butterworth")
	if got := b.Design().Playback.Slope; got != project.Butterworth3 {
		t.Errorf("%q", got)
	}
	oneStep(t, b, before, "change the slope of the crossover")
	l.Choice.SetSelected("fourth-order Linkwitz-Riley")
	if got := b.Design().Playback.Slope; got != project.LinkwitzRiley4 && got != "" {
		t.Errorf("%q", got)
	}
}

func TestPlayback(t *testing.T) {
	b := newBench(t, "two-row")
	for _, c := range []struct {
		line, usual, text, shown, label string
		get                             func(project.Playback) float64
		want                            float64
	}{
		{"Reference level", "usual, 85 dB(C)", "82", "82 dB(C)", "change the reference level", func(p project.Playback) float64 { return p.Reference }, 82},
		{"Headroom", "usual, 20 dB", "18 dB", "18 dB", "change the headroom", func(p project.Playback) float64 { return p.Headroom }, 18},
		{"LFE gain", "usual, 10 dB", "12", "12 dB", "change the LFE gain", func(p project.Playback) float64 { return p.LFEGain }, 12},
		{"Crossover", "usual, 80 Hz", "100 Hz", "100 Hz", "change the crossover", func(p project.Playback) float64 { return p.Crossover }, 100},
		{"Delay step", "usual, 0.1 ms", "0.02", "0.02 ms", "change the processor's delay step", func(p project.Playback) float64 { return p.DelayStep }, 0.02},
		{"Trim step", "usual, 0.5 dB", "0,25", "0.25 dB", "change the processor's trim step", func(p project.Playback) float64 { return p.TrimStep }, 0.25},
	} {
		l := b.line(t, playbackGroup, c.line)
		if l.Entry.Text != c.usual {
			t.Errorf("%s shows %q, want %q", c.line, l.Entry.Text, c.usual)
		}
		before := b.Design()
		enter(l, c.text)
		if got := c.get(b.Design().Playback); !near(got, c.want) || l.Entry.Text != c.shown {
			t.Errorf("%s typed %q: %v shown as %q", c.line, c.text, got, l.Entry.Text)
		}
		oneStep(t, b, before, c.label)
		for _, back := range []string{"", "usual", c.usual} {
			enter(l, c.text)
			enter(l, back)
			if got := c.get(b.Design().Playback); got != 0 || l.Entry.Text != c.usual {
				t.Errorf("%s typed %q: %v shown as %q", c.line, back, got, l.Entry.Text)
			}
		}
		enter(l, "0")
		if l.Fault() == "" {
			t.Errorf("%s: 0 would mean the usual one, and is taken for 0", c.line)
		}
		enter(l, "")
	}
	l := b.line(t, playbackGroup, "Background noise")
	if l.Entry.Text != "not known" {
		t.Errorf("the background noise shows %q", l.Entry.Text)
	}
	if enter(l, "18"); b.Design().Playback.Background != 18 || l.Entry.Text != "18 NR" {
		t.Errorf("the background noise is %g, shown as %q", b.Design().Playback.Background, l.Entry.Text)
	}
	if enter(l, ""); b.Design().Playback.Background != 0 || l.Entry.Text != "not known" {
		t.Errorf("taken away, the background noise shows %q", l.Entry.Text)
	}
	if got := b.in.playbackSummary(); got != "85 dB(C), 80 Hz" {
		t.Errorf("the heading says %q", got)
	}
}

// The picture is told what is open to be edited, when it is opened and when
// another is chosen.
func TestWhatIsOpenIsTold(t *testing.T) {
	b := newBench(t, "large") // every group is open
	told := 0
	b.in.OnOpened = func() { told++ }
	want := func(n int, items ...place.Item) {
		t.Helper()
		if got := b.in.Opened(); !slices.Equal(got, items) || told != n {
			t.Errorf("told %d times of %v, want %d times of %v", told, got, n, items)
		}
	}
	feature, panel, zone, projector := place.Item{Kind: place.FeatureItem}, place.Item{Kind: place.TreatmentItem}, place.Item{Kind: place.ZoneItem}, place.Item{Kind: place.ProjectorItem}
	want(0, feature, panel, zone, projector)
	test.Tap(b.in.groups[surfacesGroup].head)
	want(1, feature, zone, projector)
	var second fyne.Tappable
	for _, o := range test.LaidOutObjects(b.in.groups[builtGroup].whole) {
		if c, ok := o.(*chip); ok && c.full == "back soffit" {
			second = c
		}
	}
	test.Tap(second)
	feature.Index = 2
	want(2, feature, zone, projector)
	b.in.Show(place.Item{Kind: place.FeatureItem, Index: 4})
	feature.Index = 4
	if got := b.in.Opened(); got[0] != feature {
		t.Errorf("%v is open", got)
	}
}
