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
// Shapes are covered by golang.org/x/image's rasteriser. gonum.org/v1/plot 0.16.0
// was tried as canvas: 24 lines of 200 points took it 17 ms where this takes 5;
// its text passes through a bilinear filter, its plots lay the legend over the
// lines, have no octave axis and let labels run into each other, and it brings a
// TeX parser, twelve fonts and an SVG writer under a licence that is not one for
// software.
//
// Everything here may be called from any goroutine as long as the chart is not
// changed meanwhile.
package plot
