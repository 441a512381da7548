// SPDX-License-Identifier: MIT

package field_test

import (
	"fmt"
	"math"
	"testing"

	"earline/geometry/geomtest"
	"earline/project"
	"earline/project/bass/field"
)

// The closed form against the integral over all directions, and the way back.
func TestAbsorption(t *testing.T) {
	for _, g := range []float64{0.001, 0.01, 0.1, 0.3, 0.6, 1, 3} {
		const n = 20000
		sum := 0.0
		for i := range n {
			a := (float64(i) + 0.5) / n * math.Pi / 2
			c := math.Cos(a)
			sum += 4 * g * c / ((g + c) * (g + c)) * math.Sin(2*a) * math.Pi / 2 / n
		}
		geomtest.Within(t, fmt.Sprint("absorption of ", g), field.Absorption(g), sum, 1e-6)
		if g < 0.63 {
			geomtest.Within(t, fmt.Sprint("back to ", g), field.Admittance(field.Absorption(g)), g, 1e-6)
		}
	}
	// Kuttruff, Room Acoustics, ch. 2 (from memory): never above 0.951.
	geomtest.Within(t, "greatest", field.Absorption(field.Admittance(1)), 0.951, 0.0005)
	geomtest.Within(t, "normal incidence", 1-math.Pow((1-field.AdmittanceNormal(0.3))/(1+field.AdmittanceNormal(0.3)), 2), 0.3, 1e-12)
	if field.Admittance(0) != 0 || field.Admittance(-1) != 0 || field.Absorption(0) != 0 {
		t.Error("a rigid surface takes something")
	}
}

func TestRows(t *testing.T) {
	tr := field.New(2, 3, []float64{20, 30})
	for i := range tr.P {
		tr.P[i] = complex(float64(i), 0)
	}
	if got := tr.At(1, 2, 1); got != 11 {
		t.Errorf("got %v, want 11", got)
	}
	if got := tr.Source(1); len(got) != 6 || got[0] != 6 {
		t.Errorf("got %v, want 6 to 11", got)
	}
}

func TestAscending(t *testing.T) {
	for _, bad := range [][]float64{nil, {0}, {-1}, {20, 20}, {30, 20}, {math.NaN()}, {math.Inf(1)}} {
		if len(project.Faults(field.Ascending(bad))) != 1 {
			t.Errorf("%v passed", bad)
		}
	}
	if err := field.Ascending([]float64{20, 30}); err != nil {
		t.Error(err)
	}
}
