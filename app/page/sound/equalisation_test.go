// SPDX-License-Identifier: MIT

package sound

import (
	"slices"
	"strings"
	"testing"

	"earline/project"
)

// Filters are offered beside what is there; accepting is one step, refusing leaves
// nothing, and another boost asks again.
func TestEqualisingIsOneStep(t *testing.T) {
	b, p := onSound(t, "small", equalisationTopic)
	b.Queue.Until(t, func() bool { return heard(b) != nil })
	if !strings.Contains(said(p), "No filters") || !hasSeries(p.panel.Chart(), "target") || hasSeries(p.panel.Chart(), "mean without") {
		t.Fatalf("said %s", said(p))
	}
	was := b.Session.Design()
	b.Press(t, equaliseName)
	b.Queue.Until(t, func() bool { return b.Session.Offer != nil })
	if !hasSeries(p.panel.Chart(), "mean without") || !strings.Contains(said(p), "nearer the target") {
		t.Errorf("before and after are not compared; said %s", said(p))
	}
	first := b.Session.Offer
	p.panel.boost.SetSelected("Boost to 3 dB")
	b.Queue.Until(t, func() bool { return b.Session.Offer != nil && b.Session.Offer != first })
	p.panel.topics[bassTopic].OnTapped() // shows the bass as it is, not the offer
	if strings.Contains(said(p), "is it to be so") {
		t.Errorf("the bass offers filters: %s", said(p))
	}
	p.panel.topics[equalisationTopic].OnTapped()
	b.Press(t, "Refuse")
	if b.Session.Offer != nil || b.Session.Design() != was {
		t.Error("something stays of what was refused")
	}
	b.Press(t, equaliseName)
	b.Queue.Until(t, func() bool { return b.Session.Offer != nil })
	want := b.Session.Offer.Design.Equalisation.Filters
	b.Press(t, "Accept")
	if got := b.Session.Design().Equalisation.Filters; !slices.Equal(got, want) || len(got) == 0 {
		t.Errorf("got %+v, want %+v", got, want)
	}
	b.Queue.Until(t, func() bool { return heard(b) != nil })
	if !strings.Contains(said(p), "1: peak") || !hasSeries(p.panel.Chart(), "mean without") {
		t.Errorf("the filters are not shown: %s", said(p))
	}
	b.Session.Undo()
	if b.Session.Design().Equalisation.Given() || b.Session.Doc.UndoLabel() != "" {
		t.Error("undo does not take it back in one step")
	}
}

// A filter that is typed shows at once in the bass, too.
func TestATypedFilterIsInTheBass(t *testing.T) {
	b, p := onSound(t, "small", bassTopic)
	b.Queue.Until(t, func() bool { return heard(b) != nil })
	before := heard(b).Figures
	if err := b.Session.Do("add a filter", "", func(d *project.Design) {
		d.Equalisation.Filters = []project.Filter{{Of: project.AllSubwoofers, Kind: project.Peak, Frequency: 41, Gain: -10, Q: 5}}
	}); err != nil {
		t.Fatal(err)
	}
	b.Queue.Until(t, func() bool { return heard(b) != nil })
	if after := heard(b).Figures; after.Output >= before.Output || !strings.Contains(said(p), "The filter of the equalisation is in the levels.") {
		t.Errorf("%.2f dB, was %.2f; said %s", after.Output, before.Output, said(p))
	}
}
