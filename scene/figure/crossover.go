// SPDX-License-Identifier: MIT

package figure

import (
	"fmt"
	"math"

	"earline/project/blend"
	"earline/project/place"
	"earline/project/sound"
	"earline/scene/chart"
)

// Crossover charts how a main and the subwoofers add up: each alone and both together
// with the proposal at one seat, by index, both as they are set where that is
// something else, and both at the other seats. seats name the seats, for the read-out.
func Crossover(a *blend.Answer, seat int, seats func(i int) string) chart.Chart {
	was, now := a.Sum(a.Main, a.AsIs(a.Main)), a.Sum(a.Main, a.Set)
	f := now.Together.Frequencies
	m := &a.Mains[a.Main]
	c := chart.Chart{
		Title: m.Name + " and the subwoofers",
		X:     chart.Axis{Label: "Frequency", Kind: chart.Frequency, Min: f[0], Max: f[len(f)-1]},
		Y:     chart.Axis{Label: "Level against that set", Unit: "dB", Kind: chart.Decibel},
		Note:  "0 dB is the level to which both are set in the octave either side of the crossover, at the main position.",
		Marks: []chart.Mark{{X: a.Set.Crossover, Label: fmt.Sprintf("crossover %.0f Hz", a.Set.Crossover)}},
	}
	top := math.Inf(-1)
	for i := range now.Together.Seats {
		level := now.Together.Seat(i)
		for _, l := range level {
			top = max(top, l)
		}
		if i != seat {
			c.Series = append(c.Series, chart.Series{Name: seats(i), X: f, Y: level, Quiet: true, Group: "other seats"})
		}
	}
	const shown = 45 // dB
	c.Y.Max = math.Ceil(top/5) * 5
	c.Y.Min = c.Y.Max - shown
	c.Series = append(c.Series,
		chart.Series{Name: m.Name + " alone", X: f, Y: now.Main.Seat(seat), Ink: 2, Dash: chart.Dotted},
		chart.Series{Name: "subwoofers alone", X: f, Y: now.Subs.Seat(seat), Ink: 3, Dash: chart.DashDotted})
	if a.Changes() {
		c.Series = append(c.Series, chart.Series{Name: "together as set", X: f, Y: was.Together.Seat(seat), Ink: 5, Dash: chart.Dashed},
			chart.Series{Name: "together as proposed", X: f, Y: now.Together.Seat(seat), Heavy: true, Ink: 1, Dash: chart.Solid})
	} else {
		c.Series = append(c.Series, chart.Series{Name: "together", X: f, Y: now.Together.Seat(seat), Heavy: true, Ink: 1, Dash: chart.Solid})
	}
	return c
}

// Boundaries charts what the surfaces around the mains do to their sound at the main
// position; shown, an index in all, is drawn heavily.
func Boundaries(all []sound.Interference, room *place.Room, shown int) chart.Chart {
	c := chart.Chart{
		Title: "Boundaries around the mains",
		X:     chart.Axis{Label: "Frequency", Kind: chart.Frequency, Min: sound.BoundaryFrom, Max: sound.BoundaryTo},
		Y:     chart.Axis{Label: "Against the direct sound", Unit: "dB", Kind: chart.Decibel, Min: -20, Max: 10},
		Note:  "Direct sound and the first image in each surface, over a twelfth of an octave.",
	}
	for i := range all {
		if n := &all[i]; i != shown {
			c.Series = append(c.Series, chart.Series{Name: room.Speakers[n.Speaker].Name(), X: n.Frequencies, Y: n.Level, Quiet: true, Group: "other mains"})
		}
	}
	if shown >= 0 && shown < len(all) {
		n := &all[shown]
		c.Series = append(c.Series, chart.Series{Name: room.Speakers[n.Speaker].Name(), X: n.Frequencies, Y: n.Level, Heavy: true, Ink: 1, Dash: chart.Solid})
		if n.Dip.Matters() {
			c.Marks = []chart.Mark{{X: n.Dip.Frequency, Label: fmt.Sprintf("%s %.0f Hz", n.Bounces[n.Dip.Bounce].Words, n.Dip.Frequency)}}
		}
	}
	return c
}
