// SPDX-License-Identifier: MIT

package blend

import (
	"slices"

	"earline/project"
	"earline/project/bass/field"
)

// Option is one crossover with the delay and polarity that serve it best.
type Option struct {
	Setting
	Figures Figures // at the main position
	// Reached is whether the main plays down to it.
	Reached bool
}

// Frequencies returns the crossovers that Compare tries, hertz.
func Frequencies() []float64 { return []float64{60, 70, 80, 90, 100, 110, 120} }

// Options returns every crossover of Frequencies with every slope for a main,
// [slope][frequency] in the order of project.CrossoverSlopes, each solved for. Levels
// stay as they are set.
func (s *Study) Options(main int) [][]Option {
	one := s.alone(s.Seat)
	var all [][]Option
	for _, slope := range project.CrossoverSlopes() {
		var row []Option
		for _, hz := range Frequencies() {
			o := Option{Setting: one.Solve(main, Setting{Crossover: hz, Slope: slope}), Reached: hz >= s.Mains[main].Reach}
			o.Figures = one.Sum(main, o.Setting).Figures(0, hz)
			row = append(row, o)
		}
		all = append(all, row)
	}
	return all
}

// Flattest returns the option whose level is the least uneven of those that the main
// reaches and that keep the subwoofers out of the range where they are heard as a place of
// their own: all but those of first order (common practice, no source). ok is false where
// it reaches none.
func Flattest(all [][]Option) (best Option, ok bool) {
	for _, row := range all {
		for _, o := range row {
			if o.Reached && o.Slope != project.Butterworth1 && (!ok || o.Figures.Uneven < best.Figures.Uneven) {
				best, ok = o, true
			}
		}
	}
	return best, ok
}

// alone returns the study at one seat.
func (s *Study) alone(seat int) *Study {
	n := len(s.grid.Frequencies)
	of := func(all []complex128) []complex128 { return all[seat*n : (seat+1)*n] }
	one := *s
	one.grid, one.subs, one.Seat = field.New(0, 1, s.grid.Frequencies), of(s.subs), 0
	one.Mains = slices.Clone(s.Mains)
	for i := range one.Mains {
		one.Mains[i].sound = of(s.Mains[i].sound)
	}
	return &one
}
