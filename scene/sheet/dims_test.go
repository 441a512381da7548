// SPDX-License-Identifier: MIT

package sheet

import (
	"math"
	"slices"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
)

func TestLengthsReadAsATapeDoes(t *testing.T) {
	for _, c := range []struct {
		metric bool
		metres float64
		want   string
	}{
		{true, 2.4, "2400"}, {true, 0.0005, "1"}, {true, -0.1125, "-113"}, {true, 0, "0"},
		{true, 1.6175 - 1e-13, "1618"},
		{false, 2.4003, `7' 10 1/2"`}, {false, 0.0254 / 16, `1/16"`},
	} {
		if got := measure(c.metric, c.metres); got != c.want {
			t.Errorf("measure(%t, %g) = %q, want %q", c.metric, c.metres, got, c.want)
		}
	}
	for _, c := range []struct {
		metres float64
		want   string
	}{{0.566, "+566"}, {0, "±0"}, {-1, "−1000"}, {0.3785, "+379"}} {
		if got := signed(true, c.metres); got != c.want {
			t.Errorf("signed(%g) = %q, want %q", c.metres, got, c.want)
		}
	}
}

// A hole of 235 mm about a half millimetre is not 236 mm wide.
func TestAHoleIsAsWideAsItIs(t *testing.T) {
	r := row{metric: true, stops: tidy(stopsAt(-0.1175, 0.1175))}
	if got := r.word(0); got != "235" {
		t.Errorf("got %s, want 235", got)
	}
}

// The parts of a chain add up to the whole.
func TestChainsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.SliceOfN(rapid.Float64Range(-5, 5), 2, 12).Draw(t, "at")
		r := row{metric: true, stops: tidy(stopsAt(at...))}
		sum := 0
		for i := range len(r.stops) - 1 {
			n, err := strconv.Atoi(r.word(i))
			if err != nil {
				t.Fatal(err)
			}
			sum += n
		}
		if len(r.stops) < 2 {
			return
		}
		whole := row{metric: true, stops: stopsAt(r.stops[0].at, r.stops[len(r.stops)-1].at)}
		if got := whole.word(0); got != strconv.Itoa(sum) {
			t.Errorf("parts add up to %d, the whole is %s", sum, got)
		}
	})
}

// What is spread keeps its order and its distances, stays where it may, and its middle
// where it was.
func TestSpread(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := rapid.SliceOfN(rapid.Float64Range(0, 100), 1, 20).Draw(t, "want")
		width := make([]float64, len(want))
		for i := range width {
			width[i] = rapid.Float64Range(1, 8).Draw(t, "width")
		}
		got := spread(want, width)
		order := make([]int, len(want))
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int {
			if want[a] < want[b] {
				return -1
			}
			if want[a] > want[b] {
				return 1
			}
			return 0
		})
		free, moved := true, 0.0
		for k, i := range order {
			moved += got[i] - want[i]
			if k == 0 {
				continue
			}
			j := order[k-1]
			apart := (width[i] + width[j]) / 2
			if got[i]-got[j] < apart-1e-9 {
				t.Fatalf("%g and %g are nearer than %g", got[j], got[i], apart)
			}
			free = free && want[i]-want[j] >= apart
		}
		if math.Abs(moved) > 1e-6 { // the least squares keep the mean of every block
			t.Errorf("all together moved by %g", moved)
		}
		if free && !slices.EqualFunc(got, want, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }) {
			t.Errorf("moved what had room: %v to %v", want, got)
		}
	})
}

func TestLeftAndRightAreNamedAsOne(t *testing.T) {
	for _, c := range []struct{ in, want []string }{
		{[]string{"U+045", "U-045"}, []string{"U±045"}},
		{[]string{"U-045", "light", "U+045"}, []string{"U±045", "light"}},
		{[]string{"M+030", "M+000"}, []string{"M+030", "M+000"}},
	} {
		if got := paired(c.in); !slices.Equal(got, c.want) {
			t.Errorf("paired(%v) = %v, want %v", c.in, got, c.want)
		}
	}
}

// The worked example of a mitred corner: walls 0.12 m thick about a room of 4 by 3 m.
func TestWallsHaveTheirThickness(t *testing.T) {
	outline := offset([]geometry.Vec2{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 3}, {X: 0, Y: 3}}, 0.12)
	want := []geometry.Vec2{{X: -0.12, Y: -0.12}, {X: 4.12, Y: -0.12}, {X: 4.12, Y: 3.12}, {X: -0.12, Y: 3.12}}
	for i := range want {
		if outline[i].Dist(want[i]) > 1e-12 {
			t.Errorf("corner %d at %v, want %v", i, outline[i], want[i])
		}
	}
}
