// SPDX-License-Identifier: MIT

package project

import (
	"fmt"

	"earline/geometry/unit"
)

// asBuilt checks each measured value by itself. Whether it is one that can be of the
// thing it is said of is asked where it is entered; see package built.
func (c *checker) asBuilt(d *Design) {
	a := d.AsBuilt
	c.date("as_built.measured_on", a.MeasuredOn)
	given := map[string]int{}
	for i := range c.count("as_built.items", len(a.Items), 0, MaxRows+MaxFeatures+MaxSpeakers+2) {
		m, at := a.Items[i], fmt.Sprintf("as_built.items[%d].", i)
		if first, again := given[m.Of]; again {
			c.fault(at+"of", quote(m.Of)+" again", fmt.Sprintf("each thing once; as_built.items[%d] is of it too", first))
		} else {
			given[m.Of] = i
		}
		length := func(field string, v *unit.Length, lo float64) {
			if v != nil {
				c.length(at+field, *v, lo, maxPlace)
			}
		}
		length("x_m", m.X, -maxPlace)
		length("y_m", m.Y, -maxPlace)
		length("z_m", m.Z, -maxPlace)
		length("width_m", m.Width, 0.001)
		if m.Turn != nil {
			c.angle(at+"turn_deg", *m.Turn, -360, 360)
		}
		if m.Tilt != nil {
			c.angle(at+"tilt_deg", *m.Tilt, -90, 90)
		}
		c.text(at+"note", m.Note, maxName)
	}
}

// GoneMeasured returns a fault for everything that was measured of nothing that d has.
// In a file it is a slip; in a design that is being edited it goes with the thing, and
// Identify sees to it.
func (d *Design) GoneMeasured() []*Fault {
	var out []*Fault
	there := d.measurable()
	for i, m := range d.AsBuilt.Items {
		if !there[m.Of] {
			out = append(out, &Fault{Field: fmt.Sprintf("as_built.items[%d].of", i), Found: quote(m.Of),
				Allowed: "the id of a row, feature or loudspeaker, " + PictureID + " or " + ProjectorID})
		}
	}
	return out
}
