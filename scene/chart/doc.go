// SPDX-License-Identifier: MIT

// Package chart is a small model of the charts that sound needs, laid out on a
// drawing: responses over frequency, reverberation by octave, arrivals over time,
// levels by loudspeaker. It knows neither Fyne nor a display.
//
// A [Chart] is what is to be shown. [Chart.Layout] places it on a paper, and the
// [Layout] is drawn by [Layout.Image] or [Layout.SVG] and read by [Layout.Nearest].
// [Chart.Write] does all of that for a file. Only export.go names what a chart can
// be kept as.
//
// Every text stands outside the field in which the lines run: the legend beside or
// above it, what marks say in rows over it. So no label covers a curve.
//
// gonum.org/v1/plot 0.16.0 was tried instead: it lays the legend over the lines, has
// no octave axis, lets labels run into each other, and brings a TeX parser, twelve
// fonts and an SVG writer under a licence that is not one for software.
//
// Any goroutine may use a chart and its layouts, one at a time each, as long as the
// chart is not changed meanwhile.
package chart
