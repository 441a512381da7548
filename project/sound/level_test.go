// SPDX-License-Identifier: MIT

package sound

import (
	"fmt"
	"math"
	"testing"
	"time"

	"earline/geometry/geomtest"
	"earline/project"
)

// perWatt returns a model of 8 ohm of that sensitivity for 1 W, as the rows
// state it.
func perWatt(s float64) project.Model {
	return project.Model{Sensitivity: s + 10*math.Log10(project.Volts*project.Volts/8), Impedance: 8}
}

func TestFreeFieldLevels(t *testing.T) {
	// AC-009, AC-010, LV-010, LV-012, LV-013.
	geomtest.Within(t, "twice as far", Spreading(2)-Spreading(1), -6.0206, 1e-4)
	geomtest.Within(t, "to 1 m from 3.5 m", -Spreading(3.5), 10.881, 0.001)
	geomtest.Within(t, "two equal", EnergySum(0, 0), 3.0103, 1e-4)
	// LV-014 to LV-017: S + 10 lg P - 20 lg r.
	for _, c := range []struct{ s, p, r, want float64 }{
		{87, 100, 3.5, 96.119}, {90, 200, 4, 100.969}, {84, 50, 2.5, 93.031}, {92, 1, 1, 92},
	} {
		geomtest.Within(t, fmt.Sprintf("%g dB, %g W, %g m", c.s, c.p, c.r),
			LevelAtOneMetre(perWatt(c.s), c.p)+Spreading(c.r), c.want, 0.001)
	}
	// LV-018 to LV-020: the inverse.
	for _, c := range []struct{ level, r, s, want float64 }{
		{105, 3.5, 90, 387.38}, {105, 4, 87, 1009.53}, {115, 4, 94, 2014.28},
	} {
		geomtest.Within(t, fmt.Sprintf("%g dB at %g m of %g dB", c.level, c.r, c.s),
			PowerFor(perWatt(c.s), c.level, Spreading(c.r)), c.want, 0.01)
	}
}

func TestSensitivityAndImpedance(t *testing.T) {
	// SUP-LEV-283-4ohm and -6ohm: 2.83 V reads higher than 1 W.
	for ohm, want := range map[float64]float64{4: 3.0151, 6: 1.2542} {
		m := project.Model{Sensitivity: 88, Impedance: ohm}
		geomtest.Within(t, fmt.Sprintf("2.83 V against 1 W, %g ohm", ohm), 88-PerWatt(m), want, 1e-4)
	}
	// SUP-LEV-spl-1: 88 dB for 2.83 V, 100 W into 8 ohm, 3.5 m; printed from
	// 2.83 V exactly.
	m := project.Model{Sensitivity: 88}
	geomtest.Within(t, "88 dB, 100 W, 3.5 m", LevelAtOneMetre(m, 100)+Spreading(3.5), 97.1138, 0.001)
}

func TestEnergySum(t *testing.T) {
	// LV-005 to LV-007: five mains at 105 dB and the LFE at 115 dB.
	geomtest.Within(t, "all at peak", EnergySum(105, 105, 105, 105, 105, 115), 116.761, 0.001)
	// SUP-LEV-sum-mixed and -sum-inc.
	geomtest.Within(t, "85, 85 and 82 dB", EnergySum(85, 85, 82), 88.9815, 0.001)
	geomtest.Within(t, "seven", EnergySum(make([]float64, 7)...), 8.451, 0.001)
}

func TestDoseTime(t *testing.T) {
	// LV-057 to LV-062: NIOSH 98-126, table; LV-064 to LV-069: its formula, minutes.
	for level, want := range map[float64]float64{85: 480, 88: 240, 91: 120, 94: 60, 97: 30, 100: 15,
		80: 1523.905, 82: 960, 83: 761.953, 90: 151.191, 95: 47.622, 105: 4.725} {
		geomtest.Within(t, fmt.Sprintf("%g dB(A)", level), DoseTime(level).Minutes(), want, 0.001)
	}
	if d := DoseTime(-1000); d <= 0 {
		t.Errorf("silence: %v", d)
	}
	if d := DoseTime(1000); d < 0 || d > time.Second {
		t.Errorf("1000 dB: %v", d)
	}
}

// A sealed box falls by 12 dB an octave far below its cut-off, a ported one by
// 24; both are 3 dB down at it.
func TestRolloff(t *testing.T) {
	for order, e := range map[float64]project.Enclosure{12: project.Sealed, 24: project.Ported} {
		m := project.Model{Cutoff: 80, Enclosure: e}
		geomtest.Within(t, string(e)+" at the cut-off", rolloff(m, 80), -3.0103, 1e-4)
		geomtest.Within(t, string(e)+" an octave", rolloff(m, 5)-rolloff(m, 2.5), 6.0206*order/6, 0.01)
	}
}
