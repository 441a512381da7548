// SPDX-License-Identifier: MIT

package theme

import "image/color"

// The colours round and on drawings, which are white paper in every theme.
var (
	PaperShadow = color.NRGBA{A: 70}
	PaperHalo   = color.NRGBA{255, 255, 255, 160} // round a mark, so that lines do not touch it
	PaperMark   = color.NRGBA{214, 40, 40, 255}   // of a mark: as red as drawings have nothing else
)
