// SPDX-License-Identifier: MIT

package chart_test

import (
	"fmt"
	"math"
	"os"

	"earline/scene/chart"
)

// A response with its target, where the subwoofer hands over, and where the model
// ends: laid out for the window, read at a place, written as a table.
func Example() {
	c := &chart.Chart{
		Title:   "Bass at row 2 seat 3",
		X:       chart.Axis{Label: "Frequency", Kind: chart.Frequency, Min: 20, Max: 200},
		Y:       chart.Axis{Label: "Level", Unit: "dB", Kind: chart.Decibel, Min: -12, Max: 12},
		Series:  []chart.Series{{Name: "row 2 seat 3", X: []float64{31.5, 63, 125}, Y: []float64{4, -3.2, 0.5}}},
		Bands:   []chart.Band{chart.Across(-3, 3, "target ±3 dB")},
		Marks:   []chart.Mark{{X: 80, Label: "crossover 80 Hz"}},
		Outside: []chart.Span{{From: 142, To: math.Inf(1), Label: "outside the model's validity"}},
	}
	d := c.Layout(chart.Paper{W: 950, H: 210, Style: chart.Dark()})
	fmt.Println(d.Image().Bounds().Size())

	px, py, _ := d.Pixel(63, -3)
	if h, ok := d.Nearest(px, py, 24); ok {
		fmt.Println(d.Say(h))
	}
	if err := c.CSV(os.Stdout); err != nil {
		fmt.Println(err)
	}
	// Output:
	// (950,210)
	// 63 Hz   −3.2 dB   row 2 seat 3
	// Frequency (Hz),row 2 seat 3 (dB)
	// 31.5,4
	// 63,-3.2
	// 125,0.5
}
