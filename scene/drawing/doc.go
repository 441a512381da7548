// SPDX-License-Identifier: MIT

// Package drawing is a sheet of lines, fills and words, in millimetres or pixels and
// on named layers, that any back end can keep.
//
// A [Canvas] is a back end: it takes fills, strokes and texts, each with the layer
// that it lies on, in units of its own. The packages below this one are such back
// ends. A [Brush] draws with a Canvas. There are two kinds, since a display and a
// page want different things:
//
//   - [OnPixels]: a unit is a pixel. The finest lines cover whole pixels, so that
//     they are crisp. Charts in the window are drawn so, and so is their copy as SVG.
//   - [OnPaper]: a unit is a millimetre of the page. [Scaled] brings that to a canvas
//     with other units: the points of a page description, the pixels of a preview.
//
// Drawings for people to build from are [Sheet]s: paper with [View]s of a model, each
// to its scale, and [Mark]s that stay what they are - a dimension, a symbol that is
// inserted - for back ends that know such things. One []Sheet goes to all of them.
// [Marks] is itself a Canvas, so a Brush draws views and sheets as well:
//
//	var v drawing.View                  // Scale, Origin, Window
//	b := drawing.OnPaper(&v.Marks)      // points in mm of the model, widths in mm of the paper
//	b.Layer = "walls"
//	b.Lines(ink, 0.5, drawing.Solid, ring)
//	v.Marks.Add(drawing.Aligned(p, q, 400))
//
// x runs to the right and y down, from the upper left corner.
package drawing
