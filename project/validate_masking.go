// SPDX-License-Identifier: MIT

package project

// masking checks which borders move and the boxes that they move out of.
func (c *checker) masking(p Picture) {
	oneOf(c, "picture.masking", p.Masking, "", MaskNone, MaskSides, MaskTopBottom, MaskAll)
	c.given("picture.masking_box_m", float64(p.MaskingBox), 0.02, 1, " m")
	if p.MaskingBox != 0 && (p.Masking == "" || p.Masking == MaskNone) {
		c.fault("picture.masking_box_m", p.MaskingBox.String()+" where nothing is masked", "0 m, or picture.masking \"sides\", \"top and bottom\" or \"all\"")
	}
}
