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
// x runs to the right and y down, from the upper left corner.
package drawing
