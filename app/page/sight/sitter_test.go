// SPDX-License-Identifier: MIT

package sight

import (
	"strings"
	"testing"

	"earline/app/session"
	"earline/project/sight"
)

// A taller sitter is tried in one seat: its line of the table, its sentence and its ray
// change, the design and the other seats do not, and another seat ends it.
func TestATallerSitterIsTriedInOneSeat(t *testing.T) {
	sat := session.None
	b, p := onSight(t, "large", &sat)
	if p.sitter.all.Visible() {
		t.Error("there are sliders though no seat is selected")
	}
	seat, speaker := -1, -1
	for i := range b.Session.Result().Seats {
		for k := range b.Session.Result().Speakers {
			if v := b.Session.Result().Pair(i, k).Verdict; seat < 0 && v == sight.Blocked {
				seat, speaker = i, k
			}
		}
	}
	b.Session.LookAlong(seat, speaker)
	if !p.sitter.all.Visible() || p.sitter.size.Value != b.Session.Design().Seating.Sitters.Listener || !p.sitter.planned.Disabled() {
		t.Errorf("sliders shown %v, at P%v", p.sitter.all.Visible(), p.sitter.size.Value)
	}
	design, plan, said := b.Session.Design(), b.Session.Result(), b.Session.PathSentence(seat, speaker)
	p.sitter.size.SetValue(99)
	r := b.Session.Tried()
	if b.Session.Design() != design || b.Session.Result() != plan || r == plan || p.result != r {
		t.Fatal("it is an edit, or not shown")
	}
	if r.Bodies[seat].Ear().Z <= plan.Bodies[seat].Ear().Z || b.Session.PathSentence(seat, speaker) == said {
		t.Errorf("ear at %v, said %q", r.Bodies[seat].Ear(), b.Session.PathSentence(seat, speaker))
	}
	if !strings.HasPrefix(p.sitter.sizeIs.Text, "P99, ear 1.") {
		t.Errorf("it says %q", p.sitter.sizeIs.Text)
	}
	lower := r.Bodies[seat].Ear().Z
	p.sitter.lean.SetValue(p.sitter.lean.Max)
	if got := b.Session.Tried().Bodies[seat].Ear().Z; got >= lower {
		t.Errorf("leaning back the ear is at %v, before at %v", got, lower)
	}
	p.sitter.planned.OnTapped()
	if b.Session.Tried() != plan || !p.sitter.planned.Disabled() {
		t.Error("not as planned again")
	}
	p.sitter.size.SetValue(5)
	b.Session.LookAlong((seat+1)%len(plan.Seats), speaker)
	if b.Session.Tried() != plan {
		t.Error("the sitter is still tried though another seat is selected")
	}
}

// Below the smallest adult the slider seats children, down to six years.
func TestAChildIsTriedInASeat(t *testing.T) {
	sat := session.None
	b, p := onSight(t, "small", &sat)
	b.Session.LookAlong(0, 0)
	p.sitter.size.SetValue(1)
	least := b.Session.Tried().Bodies[0].Ear().Z
	for i, want := range []string{"child of 12", "child of 10", "child of 8", "child of 6"} {
		p.sitter.size.SetValue(float64(-i))
		now := b.Session.Tried().Bodies[0].Ear().Z
		if !strings.HasPrefix(p.sitter.sizeIs.Text, want+", ear ") || now >= least || p.sitter.size.Value != float64(-i) {
			t.Errorf("at %d it says %q, ear at %v, before at %v", -i, p.sitter.sizeIs.Text, now, least)
		}
		least = now
	}
	if p.sitter.size.Min != -3 {
		t.Errorf("it begins at %v", p.sitter.size.Min)
	}
}
