// SPDX-License-Identifier: MIT

package modal_test

import (
	"fmt"
	"math"
	"testing"

	"earline/geometry/geomtest"
	"earline/project/bass/modal"
)

func TestModes(t *testing.T) {
	const foot = 0.3048
	type mode struct {
		p, q, r int
		f       float64
	}
	for _, tc := range []struct {
		name, source string
		room         modal.Room
		upTo, tol    float64
		want         []mode
	}{
		{
			name:   "7 x 5 x 3 m, first six",
			source: "Long, Architectural Acoustics, 2nd ed., Table 8.1 (printed values need c = 344.7)",
			room:   modal.Room{Length: 7, Width: 5, Height: 3, Speed: 344.7}, upTo: 60.5, tol: 0.06,
			want: []mode{{1, 0, 0, 24.6}, {0, 1, 0, 34.5}, {1, 1, 0, 42.4}, {2, 0, 0, 49.2}, {0, 0, 1, 57.4}, {2, 1, 0, 60.1}},
		},
		{
			name: "6 x 4 x 2.6 m to 90 Hz", source: "closed form (Rayleigh)",
			room: modal.Room{Length: 6, Width: 4, Height: 2.6}, upTo: 90, tol: 0.001,
			want: []mode{
				{1, 0, 0, 28.600}, {0, 1, 0, 42.900}, {1, 1, 0, 51.559}, {2, 0, 0, 57.200}, {0, 0, 1, 66.000}, {2, 1, 0, 71.500},
				{1, 0, 1, 71.930}, {0, 1, 1, 78.717}, {1, 1, 1, 83.752}, {0, 2, 0, 85.800}, {3, 0, 0, 85.800}, {2, 0, 1, 87.338},
			},
		},
		{
			name: "6 x 4.5 x 2.7 m to 100 Hz", source: "closed form (Rayleigh); axial 6, tangential 9, oblique 2",
			room: modal.Room{Length: 6, Width: 4.5, Height: 2.7}, upTo: 100, tol: 0.001,
			want: []mode{
				{1, 0, 0, 28.600}, {0, 1, 0, 38.133}, {1, 1, 0, 47.667}, {2, 0, 0, 57.200}, {0, 0, 1, 63.556}, {2, 1, 0, 68.746},
				{1, 0, 1, 69.694}, {0, 1, 1, 74.118}, {0, 2, 0, 76.267}, {1, 1, 1, 79.444}, {1, 2, 0, 81.453}, {2, 0, 1, 85.505},
				{3, 0, 0, 85.800}, {2, 1, 1, 93.623}, {3, 1, 0, 93.892}, {2, 2, 0, 95.333}, {0, 2, 1, 99.277},
			},
		},
	} {
		got := tc.room.Modes(tc.upTo)
		if len(got) != len(tc.want) {
			t.Errorf("%s: got %d modes %v, want %d (%s)", tc.name, len(got), got, len(tc.want), tc.source)
			continue
		}
		for i, w := range tc.want {
			// Modes of one frequency may come in either order.
			if g := got[i]; (g.P != w.p || g.Q != w.q || g.R != w.r) && math.Abs(g.Frequency-got[max(i-1, 0)].Frequency) > 1e-9 && i+1 < len(got) && math.Abs(g.Frequency-got[i+1].Frequency) > 1e-9 {
				t.Errorf("%s: mode %d is (%d, %d, %d), want (%d, %d, %d)", tc.name, i+1, g.P, g.Q, g.R, w.p, w.q, w.r)
			}
			geomtest.Within(t, fmt.Sprintf("%s: mode %d", tc.name, i+1), got[i].Frequency, w.f, tc.tol)
		}
	}

	// Ballou (ed.), Handbook for Sound Engineers, ch. 6, Table 6-4: 16 x 12 x 8 ft
	// with c = 1130 ft/s.
	room := modal.Room{Length: 16 * foot, Width: 12 * foot, Height: 8 * foot, Speed: 1130 * foot}
	axial := map[[3]int]float64{
		{1, 0, 0}: 35.31, {2, 0, 0}: 70.63, {3, 0, 0}: 105.94,
		{0, 1, 0}: 47.08, {0, 2, 0}: 94.17, {0, 3, 0}: 141.25,
		{0, 0, 1}: 70.63, {0, 0, 2}: 141.25, {0, 0, 3}: 211.88,
	}
	for _, m := range room.Modes(212) {
		if want, ok := axial[[3]int{m.P, m.Q, m.R}]; ok {
			delete(axial, [3]int{m.P, m.Q, m.R})
			geomtest.Within(t, fmt.Sprint("handbook mode ", m), m.Frequency, want, 0.01)
			if m.Kind() != modal.Axial {
				t.Errorf("mode %v is %v, want axial", m, m.Kind())
			}
		}
	}
	if len(axial) > 0 {
		t.Errorf("not found: %v", axial)
	}
}

func TestKinds(t *testing.T) {
	// Closed form: of the 17 modes to 100 Hz 6 are axial, 9 tangential, 2 oblique.
	counts := map[modal.Kind]int{}
	for _, m := range (modal.Room{Length: 6, Width: 4.5, Height: 2.7}).Modes(100) {
		counts[m.Kind()]++
	}
	if counts[modal.Axial] != 6 || counts[modal.Tangential] != 9 || counts[modal.Oblique] != 2 || len(counts) != 3 {
		t.Errorf("got %v, want 6 axial, 9 tangential, 2 oblique", counts)
	}
}

func TestCounts(t *testing.T) {
	room := modal.Room{Length: 6, Width: 4.5, Height: 2.7}
	// Evaluated from the formula; the exact counts from the closed form of the modes.
	geomtest.Within(t, "modes below 100 Hz on average", room.Count(100), 16.859, 0.001)
	geomtest.Within(t, "modes below 200 Hz on average", room.Count(200), 93.804, 0.001)
	if n := len(room.Modes(200)); n != 92 {
		t.Errorf("modes to 200 Hz: got %d, want 92", n)
	}
	// Long, Architectural Acoustics, 2nd ed., Eq. 8.46: 34 per Hz at 1 kHz.
	long := modal.Room{Length: 7, Width: 5, Height: 3, Speed: 344}
	geomtest.Within(t, "density at 1 kHz", long.Density(1000), 34, 0.5)
	// The density is the slope of the count.
	geomtest.Within(t, "slope of the count", (room.Count(150.01)-room.Count(149.99))/0.02, room.Density(150), 1e-6)
	// Schroeder and Kuttruff 1962; Kuttruff, Room Acoustics, 6th ed., Eq. 3.44.
	for _, tc := range []struct{ t60, volume, want, tol float64 }{
		{1, 200, 141.4214, 1e-3}, {0.3, 62.4, 138.675, 1e-3}, {0.4, 72.9, 148.15, 0.01},
		{0.3, 60, 141.42, 0.01}, {0.5, 100, 141.42, 0.01}, {0.25, 72.9, 117.12, 0.01},
	} {
		geomtest.Within(t, fmt.Sprintf("Schroeder %v s %v m3", tc.t60, tc.volume), modal.Schroeder(tc.t60, tc.volume), tc.want, tc.tol)
	}
	// Closed form: 3 ln 10/(pi T).
	geomtest.Within(t, "bandwidth 0.5 s", modal.Bandwidth(0.5), 4.398, 0.001)
	geomtest.Within(t, "bandwidth 1 s", modal.Bandwidth(1), 2.1988, 1e-4)
}
