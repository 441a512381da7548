// SPDX-License-Identifier: MIT

// Package plot is a small model of the charts that sound needs - responses over
// frequency, reverberation by octave, arrivals over time, levels by loudspeaker -
// and their drawing as picture, as SVG and as table. It knows neither Fyne nor a
// display: a window shows what [Drawing.Image] returns, a report takes
// [Drawing.SVG].
//
// Every text stands outside the field in which the lines run: the legend beside
// or above it, what marks say in lanes over it. So no label covers a curve.
//
// Paths, SVG and the metrics of type are those of gonum.org/v1/plot/vg; the
// arrangement is our own, for gonum's plots lay their legend over the lines,
// have no octave axis, and let labels run into each other.
//
// Everything here may be called from any goroutine as long as the chart is not
// changed meanwhile.
package plot
