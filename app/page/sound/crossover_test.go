// SPDX-License-Identifier: MIT

package sound

import (
	"strings"
	"testing"

	"earline/app/session"
	"earline/project"
	"earline/project/blend"
)

// The crossover shows a main, the subwoofers and both; what is proposed is one step of
// undo, and then nothing more is proposed.
func TestTheSubwoofersAreSetInOneStep(t *testing.T) {
	b, p := onSound(t, "two-row", crossoverTopic)
	fresh := func() *blend.Answer {
		a, state := b.Session.Blend(-1)
		if state != session.Fresh {
			return nil
		}
		return a
	}
	b.Queue.Until(t, func() bool { return fresh() != nil })
	p.Update()
	for _, want := range []string{"M+000 alone", "subwoofers alone", "together as set", "together as proposed"} {
		if !hasSeries(p.panel.Chart(), want) {
			t.Errorf("no %q on the chart", want)
		}
	}
	if s := said(p); !strings.Contains(s, "All subwoofers 0.3 ms later and turned round in polarity") || !strings.Contains(s, "fourth-order Linkwitz-Riley") || !strings.Contains(s, "microphone") || !strings.Contains(s, "paid for by others") {
		t.Errorf("said %s", s)
	}
	if p.panel.speaker.Selected != "the centre" {
		t.Errorf("%q is chosen", p.panel.speaker.Selected)
	}
	was := b.Session.Design()
	b.Press(t, "Set all subwoofers so")
	if b.Session.Design() == was {
		t.Fatal("nothing is set")
	}
	b.Queue.Until(t, func() bool { return fresh() != nil })
	p.Update()
	if fresh().Changes() || !hasSeries(p.panel.Chart(), "together") {
		t.Errorf("more is proposed: %s", fresh().Proposal())
	}
	b.Session.Undo()
	if got := b.Session.Design().Speakers; len(got) != len(was.Speakers) || got[len(got)-1].Tuning != was.Speakers[len(got)-1].Tuning {
		t.Error("undo leaves something")
	}
}

// Without a subwoofer the page says so in one line.
func TestNoCrossoverWithoutSubwoofers(t *testing.T) {
	b, p := onSound(t, "small", crossoverTopic)
	k := speakerNamed(t, b.Session.Design(), "LFE1")
	if err := b.Session.Do("remove", "", func(d *project.Design) { d.Speakers = d.Speakers[:k] }); err != nil {
		t.Fatal(err)
	}
	b.Queue.Until(t, func() bool { _, state := b.Session.Blend(-1); return state == session.Failed })
	p.Update()
	if s := said(p); !strings.Contains(s, "no subwoofer") {
		t.Errorf("said %s", s)
	}
}

// The boundaries name the surface that digs the deepest dip, of all mains or of one.
func TestBoundariesNameTheSurface(t *testing.T) {
	b, p := onSound(t, "small", boundariesTopic)
	if s := said(p); !strings.Contains(s, "Deepest: M+110: -18 dB at 173 Hz, floor") || !strings.Contains(s, "Allison") {
		t.Errorf("said %s", s)
	}
	k := speakerNamed(t, b.Session.Design(), "M+000")
	p.panel.Choose(func(to *choice) { to.Speaker = k + 1 })
	p.Update()
	if !strings.Contains(said(p), "M+000: -15 dB") || len(p.panel.Chart().Marks) != 1 {
		t.Errorf("said %s", said(p))
	}
}
