// SPDX-License-Identifier: MIT

package sheet

// Scale is how much smaller a view is than what it shows.
type Scale struct {
	Ratio float64 // 25: a metre is 40 mm on paper
	Name  string  // "1:25", `1/2" = 1'-0"`
}

// mm returns how many millimetres of paper a metre takes.
func (s Scale) mm() float64 { return 1000 / s.Ratio }

// scales returns the steps in which rooms are drawn, from the largest. The last serve
// halls that no other step brings onto the paper.
func scales(metric bool) []Scale {
	if metric {
		return []Scale{{5, "1:5"}, {10, "1:10"}, {20, "1:20"}, {25, "1:25"}, {50, "1:50"}, {100, "1:100"}, {200, "1:200"}, {500, "1:500"}, {1000, "1:1000"}, {2000, "1:2000"}}
	}
	return []Scale{
		{4, `3" = 1'-0"`}, {8, `1 1/2" = 1'-0"`}, {12, `1" = 1'-0"`}, {16, `3/4" = 1'-0"`}, {24, `1/2" = 1'-0"`},
		{32, `3/8" = 1'-0"`}, {48, `1/4" = 1'-0"`}, {96, `1/8" = 1'-0"`}, {192, `1/16" = 1'-0"`}, {480, `1" = 40'`}, {960, `1" = 80'`}, {1920, `1" = 160'`},
	}
}

// largest returns the largest step at which fits says yes; the smallest when there is
// none.
func largest(steps []Scale, fits func(Scale) bool) Scale {
	for _, s := range steps {
		if fits(s) {
			return s
		}
	}
	return steps[len(steps)-1]
}
