// SPDX-License-Identifier: MIT

package svg

import "earline/scene/drawing"

// Sheet returns a sheet as a document of its size. Its links are left out: a document
// does not know where the others are kept.
func Sheet(s *drawing.Sheet, t *drawing.Typeface) []byte {
	c := New(Page{Width: s.Paper.Width, Height: s.Paper.Height, Unit: "mm", Title: s.Name(), Typeface: t})
	s.Draw(c, t)
	return c.Close()
}
