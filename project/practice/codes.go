// SPDX-License-Identifier: MIT

package practice

import (
	"math"

	"earline/project"
)

// DwellingCode is what a dwelling code asks of steps and platforms, in metres. Without
// a Name it is common practice, and nobody's code.
type DwellingCode struct {
	Name     string
	Step     Band // height of a step
	Headroom Band // over stairs and where people stand
	Guard    Band // drop that needs none
	Aisle    Band // width of a way with steps
	// StepsWithoutRail is how many steps of a flight need no handrail, and
	// RiseWithoutRail how high it may rise; 0 where the code does not say.
	StepsWithoutRail int
	RiseWithoutRail  float64
	RailSource       Source
}

// Chosen reports whether c is a code that was chosen.
func (c DwellingCode) Chosen() bool { return c.Name != "" }

// rail returns how many steps of that height a flight may have without a handrail.
func (c DwellingCode) rail(step float64) float64 {
	if c.RiseWithoutRail > 0 && step > 0 {
		return math.Floor(c.RiseWithoutRail/step + 1e-9)
	}
	return float64(c.StepsWithoutRail)
}

// codeOf returns a code as it is printed.
func codeOf(code project.Code) DwellingCode {
	quoted := func(document, edition, clause string) Source {
		return Source{document, edition, clause, "as quoted in public text"}
	}
	remembered := func(document, edition, clause string) Source {
		return Source{document, edition, clause, FromMemory}
	}
	switch code {
	case project.IRC:
		return DwellingCode{
			Name:             "IRC",
			Step:             Band{between(0.102, 0.196), quoted("IRC R311.7.5.1", "2018", "riser 7 3/4 in at most; 4 in at least: IBC 2015 1011.5.2")},
			Headroom:         Band{atLeast(2.032), quoted("IRC R311.7.2", "2018", "stair headroom, 6 ft 8 in")},
			Guard:            Band{atMost(0.762), quoted("IRC R312.1.1", "", "30 in")},
			Aisle:            Band{atLeast(0.914), quoted("IRC R311.7.1", "2018", "clear width of a stair, 36 in")},
			StepsWithoutRail: 3, RailSource: remembered("IRC R311.7.8", "2018", "four risers or more"),
		}
	case project.EnglandK:
		const k = "Approved Document K"
		return DwellingCode{
			Name:            k,
			Step:            Band{between(0.150, 0.220), quoted(k, "2013", "Table 1.1, private stair, rise")},
			Headroom:        Band{atLeast(2.0), remembered(k, "2013", "1.11, headroom of 2 m")},
			Guard:           Band{atMost(0.600), remembered(k, "2013", "3.1, dwellings, drop of 600 mm")},
			Aisle:           Band{atLeast(0.7), Source{}},
			RiseWithoutRail: 0.600, RailSource: remembered(k, "2013", "1.34, rise of 600 mm"),
		}
	}
	return DwellingCode{
		Step: Band{Limits: between(0.1, 0.22)}, Headroom: Band{Limits: atLeast(2)}, Guard: Band{Limits: atMost(0.6)},
		Aisle: Band{Limits: atLeast(0.7)}, StepsWithoutRail: 3,
	}
}

// Code returns what a dwelling code asks, with what the house standard sets instead.
func (s Standard) Code(code project.Code) DwellingCode {
	c := codeOf(code)
	for rule, b := range map[string]*Band{"step-height": &c.Step, "headroom": &c.Headroom, "guard": &c.Guard, "aisle-stepped": &c.Aisle} {
		if l := s.Changes[rule].Limits(); l != (Limits{}) {
			*b = Bands{Good: *b, Accepted: *b, Limit: *b}.house(l).Good
		}
	}
	return c
}

// StepHeights returns how high a step may be under a dwelling code, metres.
func (s Standard) StepHeights(code project.Code) Band { return s.Code(code).Step }
