// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"reflect"
	"strings"
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/bs2051"
	"earline/project/fit"
)

// emptyRoom returns a room with one chair whose back is lower than the ears.
func emptyRoom(long, wide, high float64) *project.Design {
	d := hall(1, 1, 0)
	d.Room.Footprint = rectangle(long, wide)
	d.Room.Ceiling.Height = unit.Length(high)
	d.Seating.Rows[0].Centre = unit.Length(wide / 2)
	d.Chairs[0].BackHeight, d.Chairs[0].Headrest = 0.5, 0
	return d
}

func layout(t testing.TB, d *project.Design, o LayoutOptions) *LayoutProposal {
	t.Helper()
	p, err := Layout(context.Background(), d, o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Every system, for one listener in a room with space around: all loudspeakers
// within the published ranges, nothing blocked or tight, nothing unbuildable.
func TestLayoutOfEverySystem(t *testing.T) {
	for _, name := range bs2051.Systems() {
		p := layout(t, emptyRoom(6, 4.6, 2.9), LayoutOptions{System: name, Seats: 1})
		for _, o := range p.Proof {
			t.Errorf("%s: %s", name, o.Text)
		}
		channels, _ := bs2051.System(name)
		judged := 0
		for k, c := range p.Placed {
			if c.Channel != channels[k] || !c.InRange {
				t.Errorf("%s: %+v", name, c)
			}
			if !c.LFE() {
				judged++
			}
		}
		if a := p.After; len(p.Placed) != len(channels) || a.Clear != judged || a.Blocked+a.Tight+a.PictureBlocked+a.Findings > 0 {
			t.Errorf("%s: %d of %d, %+v", name, len(p.Placed), len(channels), a)
		}
		if err := p.Design.Validate(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Eight listeners: within ranges that leave no elevation heads are in the way,
// and the proof says whose; beyond them fewer are, or none.
func TestLayoutForMany(t *testing.T) {
	d := emptyRoom(7.5, 5.2, 3)
	within := layout(t, d, LayoutOptions{System: "4+7+0", Seats: 8})
	if within.Solved() || !strings.Contains(within.Proof[0].Text+within.Proof[1].Text, "head in row") {
		t.Fatalf("%+v", within.Proof)
	}
	beyond := layout(t, d, LayoutOptions{System: "4+7+0", Seats: 8, Beyond: true})
	if beyond.After.Blocked >= within.After.Blocked {
		t.Errorf("blocked: within the ranges %d, beyond them %d", within.After.Blocked, beyond.After.Blocked)
	}
	if beyond.After.PictureBlocked > 0 || beyond.After.Findings > 0 {
		t.Errorf("%+v %v", beyond.After, fit.Findings(beyond.Design))
	}
	if again := layout(t, d, LayoutOptions{System: "4+7+0", Seats: 8, Beyond: true}); !reflect.DeepEqual(again, beyond) {
		t.Error("another answer the second time")
	}
	t.Logf("within %+v, beyond %+v", within.After, beyond.After)
}

// Rooms that hold no seat, or fewer than asked, say which wall is in the way.
func TestLayoutWithNoSolution(t *testing.T) {
	for _, c := range []struct {
		name             string
		long, wide, high float64
		seats            int
		constraint       string
	}{
		{"too narrow", 6, 1.7, 2.6, 2, "room width"},
		{"too short", 3.2, 4, 2.6, 2, "room length"},
		{"too many", 6, 4, 2.6, 40, "room length"},
		{"too low", 6, 4, 1.6, 4, "picture"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := layout(t, emptyRoom(c.long, c.wide, c.high), LayoutOptions{System: "B", Seats: c.seats})
			if p.Solved() || p.Proof[0].Constraint != c.constraint || !(p.Proof[0].Short > 0) {
				t.Fatalf("%+v", p.Proof)
			}
			if err := p.Design.Validate(); err != nil {
				t.Error(err)
			}
		})
	}
}

func BenchmarkLayout(b *testing.B) {
	d := emptyRoom(9, 6, 3.2)
	b.ReportAllocs()
	for b.Loop() {
		if p := layout(b, d, LayoutOptions{System: "9+10+3", Seats: 15, Beyond: true}); len(p.Placed) == 0 {
			b.Fatal("nothing placed")
		}
	}
}
