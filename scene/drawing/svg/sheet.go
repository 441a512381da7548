// SPDX-License-Identifier: MIT

package svg

import "earline/scene/drawing"

// Sheet returns a sheet as a document of its size. Its links are left out: a document
// does not know where the others are kept.
func Sheet(s *drawing.Sheet, t *drawing.Typeface) []byte {
	title := s.Number
	if title != "" && s.Title != "" {
		title += " "
	}
	c := New(Page{Width: s.Paper.Width, Height: s.Paper.Height, Unit: "mm", Title: title + s.Title, Typeface: t})
	s.Draw(c, t)
	return c.Close()
}
