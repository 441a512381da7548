// SPDX-License-Identifier: MIT

package solve

import (
	"math"
	"strings"
	"testing"

	"earline/geometry/unit"
	"earline/project/fit"
)

// Lift put the flush sides of room B at 2.170 m, their frames 20 mm into the soffits at
// 2.350 m. It stops 0.200 m below them, half a frame, says so, and the fronts still rise.
func TestLiftedFramesStopUnderTheSoffit(t *testing.T) {
	d := room(t, "../../testdata/rooms/room-b.earline")
	p := lift(t, d, LiftOptions{})
	for k, s := range p.Design.Speakers {
		switch z := float64(s.At.Z); {
		case s.Label == "M+090" || s.Label == "M-090":
			if math.Abs(z-2.150) > 1e-4 {
				t.Errorf("%s at %.4f m", s.Name(), z)
			}
		case isFront(d, s) && z <= float64(d.Speakers[k].At.Z):
			t.Errorf("%s stays at %.3f m", s.Name(), z)
		}
	}
	if p.After.Findings != p.Before.Findings {
		t.Errorf("findings %d, then %d: %v", p.Before.Findings, p.After.Findings, fit.Findings(p.Design))
	}
	if o := p.Proof[0]; o.Constraint != "the soffit left" || !strings.Contains(o.Text, "the soffit left allows 2.150 m") {
		t.Errorf("%+v", o)
	}
}

// Where only a soffit is in the way, the proof says what height there would have to be:
// with that much under it, it is enough.
func TestASoffitTooLowForAFrame(t *testing.T) {
	d := demo(t, "large")
	hang := func(z float64) *Proposal {
		d := d.Clone()
		for i := range d.Room.Features {
			if f := &d.Room.Features[i]; strings.HasSuffix(f.Name, " soffit") && f.Name != "back soffit" {
				f.At.Z, f.Height = unit.Length(z), d.Room.Ceiling.Height-unit.Length(z)
			}
		}
		return lift(t, d, LiftOptions{Allowance: -1})
	}
	const low = 2.260
	short := func(p *Proposal) (o Obstacle) {
		for _, o := range p.Proof {
			if strings.HasPrefix(o.Where, "M+090 b") && strings.HasSuffix(o.Constraint, " soffit") {
				return o
			}
		}
		return o
	}
	o := short(hang(low))
	if !strings.Contains(o.Text, "would have to hang at") || !strings.Contains(o.Text, "soffit allows 2.060 m") {
		t.Fatalf("%+v", o)
	}
	if again := short(hang(low + o.Short + 0.001)); again.Text != "" {
		t.Errorf("with what is missing: %+v", again)
	}
}

// One side is let into the face of a soffit, the other hangs lower on the wall under the
// other soffit: no height serves both, and that must not undo what rises elsewhere.
func TestAPairThatASoffitHoldsBackLeavesTheOthersToRise(t *testing.T) {
	d := room(t, "../../testdata/rooms/flush-in-soffit.earline")
	p := lift(t, d, LiftOptions{})
	for k, s := range p.Design.Speakers {
		rises := s.At.Z > d.Speakers[k].At.Z
		if s.Label == "M+090" && rises != (s.Copy == "b") {
			t.Errorf("%s at %v, was at %v", s.Name(), s.At.Z, d.Speakers[k].At.Z)
		}
	}
	if p.After.Findings > 0 || !strings.Contains(p.Proof[0].Text, "over what the right soffit allows") {
		t.Errorf("%+v", p.Proof[0])
	}
}

// A side as given too high under a soffit, with heads in its way, comes down under it.
func TestAFrameInTheSoffitComesDown(t *testing.T) {
	d := room(t, "../../testdata/rooms/room-b.earline")
	for i := range d.Speakers {
		if s := &d.Speakers[i]; s.Label == "M+090" || s.Label == "M-090" {
			s.At.Z = 2.17
		}
	}
	p := lift(t, d, LiftOptions{})
	for _, f := range fit.Findings(p.Design) {
		if strings.Contains(f.Text, "frame") {
			t.Errorf("proposed: %v", f)
		}
	}
}
