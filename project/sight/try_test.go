// SPDX-License-Identifier: MIT

package sight_test

import (
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"earline/project"
	"earline/project/place"
	"earline/project/projecttest"
	"earline/project/sight"
)

// Who is as the plan has them hears and sees what the plan says.
func TestTryingTheSitterOfThePlanChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := projecttest.Rooms{Seats: 6, Speakers: 6}.Draw(t)
		r := sight.Audit(d)
		for i, s := range r.Seats {
			got := sight.Try(r, i, place.Sitter{Percentile: d.Seating.Sitters.Listener, Recline: s.Recline})
			if !reflect.DeepEqual(got.Pairs, r.Pairs) || !reflect.DeepEqual(got.Views, r.Views) || got.Count != r.Count || got.PictureCount != r.PictureCount {
				t.Fatalf("seat %s differs", s.Name())
			}
		}
	})
}

// Another size in one seat finds there what a plan for that size finds, the main
// listening position and so all aims held where they were.
func TestTryingASizeAgreesWithAPlanForIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := projecttest.Rooms{Seats: 6, Speakers: 6}.Draw(t)
		d.Seating.Main = project.MainPosition{At: project.PointOf(place.MainPoint(d))}
		r := sight.Audit(d)
		size := rapid.Float64Range(1, 99).Draw(t, "percentile")
		other := d.Clone()
		other.Seating.Sitters.Listener = size
		want := sight.Audit(other)
		for i, s := range r.Seats {
			got := sight.Try(r, i, place.Sitter{Percentile: size, Recline: s.Recline})
			for k := range r.Speakers {
				if !reflect.DeepEqual(got.Pair(i, k), want.Pair(i, k)) {
					t.Fatalf("seat %s to %s: %+v, the plan %+v", s.Name(), r.Speakers[k].Name(), got.Pair(i, k), want.Pair(i, k))
				}
			}
			if !reflect.DeepEqual(got.Views[i], want.Views[i]) {
				t.Fatalf("seat %s sees %+v, in the plan %+v", s.Name(), got.Views[i], want.Views[i])
			}
		}
	})
}

// Who leans back has the ears lower and farther back, and only in that seat.
func TestLeaningBackMovesOneSitter(t *testing.T) {
	r := sight.Audit(projecttest.Room(2))
	got := sight.Try(r, 0, place.Sitter{Percentile: 50, Recline: r.Seats[0].Recline + 0.4})
	if a, b := r.Bodies[0].Ear(), got.Bodies[0].Ear(); b.Z >= a.Z || math.Hypot(b.X-a.X, b.Y-a.Y) < 0.05 {
		t.Errorf("from %v to %v", a, b)
	}
	if !reflect.DeepEqual(got.Bodies[1:], r.Bodies[1:]) {
		t.Error("others moved")
	}
	if none := sight.Try(r, len(r.Seats), place.Sitter{Percentile: 50}); none != r {
		t.Error("a seat that is not there was answered")
	}
}
