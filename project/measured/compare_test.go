// SPDX-License-Identifier: MIT

package measured

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/project"
	"earline/project/bass"
)

func study(t testing.TB, d *project.Design) *bass.Study {
	t.Helper()
	p, err := bass.Of(d, bass.Shown())
	if err != nil {
		t.Fatal(err)
	}
	var store bass.Store
	st, err := store.New(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return st
}

// as returns d with a response at every seat that is the computed one, each frequency
// times stretch, and over it.
func as(d *project.Design, st *bass.Study, stretch float64, over func(seat int, hz float64) float64) *project.Design {
	d = d.Clone()
	for i, s := range st.Plan.Seats {
		r := project.Response{Seat: d.Seating.Rows[s.Row-1].SeatID(s.Number), Of: project.AllSubwoofers}
		for k, f := range st.Response.Frequencies {
			r.Frequencies = append(r.Frequencies, f*stretch)
			r.Level = append(r.Level, st.Response.Seat(i)[k]+over(i, f))
		}
		d.Measured.Responses = append(d.Measured.Responses, r)
	}
	return d
}

// What is computed, measured: nothing differs but the reference, which is told.
func TestTheComputedResponseMeasuredIsFoundAlike(t *testing.T) {
	for _, name := range []string{"small", "two-row"} {
		d := demo(t, name)
		st := study(t, d)
		d = as(d, st, 1, func(int, float64) float64 { return -93 })
		if err := d.Validate(); err != nil {
			t.Fatal(err)
		}
		c, err := Compare(d, st)
		if err != nil || len(c.Groups) != 1 || len(c.Groups[0].Seats) != len(st.Plan.Seats) {
			t.Fatalf("%+v %v", c, err)
		}
		g := &c.Groups[0]
		for i := range g.Seats {
			s := &g.Seats[i]
			if s.Skipped != "" || s.Coarse || s.RMS > 1e-9 || math.Abs(s.Offset+93) > 1e-9 || len(s.Thirds) != 8 { // 20 to 100 Hz
				t.Errorf("%s: %s %+v", name, s.Sentence(), s)
			}
			for _, p := range s.Peaks {
				if p.Measured != p.Computed {
					t.Errorf("%s: %s", name, s.Sentence())
				}
			}
			if s.OffsetWords() != "+93.0 dB" {
				t.Error(s.OffsetWords())
			}
		}
		if g.OffsetApart > 1e-9 || math.Abs(g.SpreadMeasured-g.SpreadComputed) > 1e-9 || g.SpreadComputed == 0 {
			t.Errorf("%s: %s", name, g.SpreadSentence())
		}
	}
}

// A tilt of 3 dB at one seat above 60 Hz is found there and nowhere else.
func TestWhereTheRoomDiffersIsTold(t *testing.T) {
	d := demo(t, "small")
	st := study(t, d)
	d = as(d, st, 1, func(seat int, hz float64) float64 {
		if _, hi := bass.Edges(100); seat == 1 && hz >= 56 && hz < hi {
			return 3
		}
		return 0
	})
	c, err := Compare(d, st)
	if err != nil {
		t.Fatal(err)
	}
	s := &c.Groups[0].Seats[1]
	// By hand: three of the six thirds from 31.5 to 100 Hz are 3 dB up, so the offset is
	// 1.5 dB, and every third of the eight lies 1.5 dB off.
	if math.Abs(s.Offset-1.5) > 0.01 || math.Abs(s.RMS-1.5) > 0.01 || math.Abs(math.Abs(s.Worst.Difference())-1.5) > 0.01 {
		t.Errorf("%s, offset %.2f", s.Sentence(), s.Offset)
	}
	if c.Groups[0].Seats[0].RMS > 1e-9 || math.Abs(c.Groups[0].OffsetApart-1.5) > 0.01 {
		t.Errorf("%+v", c.Groups[0].Seats[0])
	}
}

// A peak is found when it is off by less than 5 %, and not when by more.
func TestAPeakIsFoundWithinAFewPerCent(t *testing.T) {
	d := demo(t, "small")
	st := study(t, d)
	seen := 0
	for stretch, want := range map[float64]bool{1.04: true, 0.96: true, 1.12: false} {
		c, err := Compare(as(d, st, stretch, func(int, float64) float64 { return 0 }), st)
		if err != nil {
			t.Fatal(err)
		}
		for i := range c.Groups[0].Seats {
			s := &c.Groups[0].Seats[i]
			for k, p := range s.Peaks {
				alone := true // no other peak is near enough to be taken for it
				for m, q := range s.Peaks {
					alone = alone && (m == k || math.Abs(q.Computed*stretch/p.Computed-1) > PeakWithin)
				}
				if alone && p.Computed*stretch < bass.Highest && (p.Measured > 0) != want {
					t.Errorf("times %g: %+v at seat %s", stretch, p, s.Name())
				}
				seen++
			}
		}
	}
	if seen == 0 {
		t.Error("no peak was looked for")
	}
	// Two bumps on a level floor: the second does not stand out by 3 dB.
	f := bass.Octaves(20, 120, 48)
	db := make([]float64, len(f))
	for i, v := range f {
		db[i] = 6*math.Exp(-math.Pow(math.Log2(v/40)*8, 2)) + 2*math.Exp(-math.Pow(math.Log2(v/80)*8, 2))
	}
	if got := peaksOf(f, db, prominence); len(got) != 1 || math.Abs(got[0]/40-1) > 0.01 {
		t.Errorf("%v", got)
	}
}

func TestWhatCannotBeComparedIsSaid(t *testing.T) {
	d := demo(t, "small")
	st := study(t, d)
	row := d.Seating.Rows[0]
	other := d.Speakers[slices.IndexFunc(d.Speakers, func(l project.Loudspeaker) bool { return l.Label == "M+000" })]
	d.Measured.Responses = []project.Response{
		{Seat: row.SeatID(1), Of: project.AllSubwoofers, Frequencies: []float64{200, 400}, Level: []float64{1, 2}},
		{Seat: row.SeatID(2), Of: project.AllSubwoofers, Frequencies: []float64{20, 25, 31.5, 40, 50, 63, 80, 100}, Level: []float64{1, 2, 3, 4, 5, 6, 7, 8}},
		{Seat: row.SeatID(2), Of: other.ID, Frequencies: []float64{20, 40}, Level: []float64{1, 2}},
	}
	c, err := Compare(d, st)
	if err != nil || len(c.Groups) != 2 {
		t.Fatal(c, err)
	}
	for got, want := range map[string]string{
		c.Groups[0].Seats[0].Sentence(): "seat 1.1: not compared, it reaches over too little of 30 to 100 Hz",
		c.Groups[0].Seats[1].Sentence(): "measured too coarsely to place peaks",
		c.Groups[1].Seats[0].Sentence(): "seat 1.2: not compared, only subwoofers are computed in the bass",
		c.Groups[1].Name:                "M+000",
		c.Groups[0].SpreadSentence():    "",
	} {
		if !strings.Contains(got, want) || want == "" && got != "" {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if c, err = Compare(d, nil); err != nil || c.Groups[0].Seats[1].Skipped != "the room has no subwoofer to compare with" {
		t.Errorf("%+v %v", c.Groups[0].Seats[1], err)
	}
	if fmt.Sprint(c.Report().Groups[0].SpreadMeasured) != "<nil>" {
		t.Error("a spread of a single seat")
	}
}

// One subwoofer alone is compared with that one alone.
func TestASubwooferAloneIsComparedWithItselfAlone(t *testing.T) {
	d := demo(t, "two-row")
	st := study(t, d)
	if len(st.Plan.Speakers) < 2 {
		t.Fatal("one subwoofer only, which is all of them")
	}
	for i, k := range st.Plan.Speakers {
		alone, err := st.Alone(i)
		if err != nil {
			t.Fatal(err)
		}
		c := d.Clone()
		c.Measured.Responses = []project.Response{{Seat: c.Seating.Rows[0].SeatID(1), Of: c.Speakers[k].ID, Frequencies: alone.Frequencies, Level: alone.Seat(0)}}
		got, err := Compare(c, st)
		if err != nil || got.Groups[0].Seats[0].RMS > 1e-9 || math.Abs(got.Groups[0].Seats[0].Offset) > 1e-9 || got.Groups[0].Name != c.Speakers[k].Name() {
			t.Errorf("%+v %v", got.Groups[0], err)
		}
	}
}

// The reference of a measurement counts for nothing: so many decibels more everywhere move
// the offset by as many, and nothing else.
func TestTheReferenceOfAMeasurementCountsForNothing(t *testing.T) {
	d := demo(t, "small")
	st := study(t, d)
	rapid.Check(t, func(t *rapid.T) {
		more := rapid.Float64Range(-60, 60).Draw(t, "more")
		tilt := rapid.Float64Range(-6, 6).Draw(t, "tilt")
		over := func(add float64) *Comparison {
			c, err := Compare(as(d, st, 1, func(seat int, hz float64) float64 { return add + tilt*math.Sin(hz/9+float64(seat)) }), st)
			if err != nil {
				t.Fatal(err)
			}
			return c
		}
		was, is := &over(0).Groups[0], &over(more).Groups[0]
		if math.Abs(was.SpreadMeasured-is.SpreadMeasured) > 1e-6 {
			t.Fatalf("seat to seat %g, was %g", is.SpreadMeasured, was.SpreadMeasured)
		}
		for i := range was.Seats {
			a, b := &was.Seats[i], &is.Seats[i]
			if math.Abs(b.Offset-a.Offset-more) > 1e-6 || math.Abs(a.RMS-b.RMS) > 1e-6 || len(a.Peaks) != len(b.Peaks) {
				t.Fatalf("%+v, was %+v", b, a)
			}
		}
	})
}
