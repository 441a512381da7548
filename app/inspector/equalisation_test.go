// SPDX-License-Identifier: MIT

package inspector

import (
	"slices"
	"testing"

	"earline/project"
)

func TestFiltersComeAndGo(t *testing.T) {
	b := newBench(t, "small")
	now := func() project.Filter { return b.Design().Equalisation.Filters[b.in.filter] }
	before := b.Design()
	b.in.addFilter()
	oneStep(t, b, before, "add a filter")
	enter(b.line(t, equalisationGroup, "Frequency"), "52")
	enter(b.line(t, equalisationGroup, "Gain"), "-7,5 dB")
	enter(b.line(t, equalisationGroup, "Q"), "5.5")
	if want := (project.Filter{Of: project.AllSubwoofers, Kind: project.Peak, Frequency: 52, Gain: -7.5, Q: 5.5}); now() != want {
		t.Errorf("got %+v, want %+v", now(), want)
	}
	b.line(t, equalisationGroup, "Kind").Choice.SetSelected("high-pass")
	if now().Kind != project.HighPass || now().Gain != 0 {
		t.Errorf("a high-pass is %+v", now())
	}
	b.in.duplicateFilter()
	if n := len(b.Design().Equalisation.Filters); n != 2 || b.in.filter != 1 {
		t.Errorf("%d filters, the %d. is shown", n, b.in.filter+1)
	}
	for range 3 {
		b.in.removeFilter()
	}
	if b.Design().Equalisation.Given() {
		t.Errorf("left: %+v", b.Design().Equalisation)
	}
	b.in.duplicateFilter()
}

func TestTheTargetIsTypedInOneLine(t *testing.T) {
	b := newBench(t, "small")
	points := b.line(t, equalisationGroup, "Target points")
	want := []project.TargetPoint{{Frequency: 20, Level: 6}, {Frequency: 31.5, Level: 4.5}, {Frequency: 80}}
	for _, text := range []string{"20 6; 31.5 4.5; 80 0", "20 Hz 6 dB; 31,5Hz 4,5dB;80 Hz 0 dB;"} {
		enter(points, text)
		if got := b.Design().Equalisation.Target.Points; !slices.Equal(got, want) || points.Fault() != "" {
			t.Errorf("%q: %+v, said %q", text, got, points.Fault())
		}
	}
	if got := points.Entry.Text; got != "20 Hz 6 dB; 31.5 Hz 4.5 dB; 80 Hz 0 dB" {
		t.Errorf("shown as %q", got)
	}
	for _, text := range []string{"20", "20 loud", "80 0; 20 6", "20 6 3"} {
		enter(points, text)
		if points.Fault() == "" || len(b.Design().Equalisation.Target.Points) != 3 {
			t.Errorf("%q was taken", text)
		}
	}
	enter(points, "")
	if b.Design().Equalisation.Given() {
		t.Errorf("left: %+v", b.Design().Equalisation)
	}
}
