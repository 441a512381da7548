// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"strings"
)

// viewpoints checks from where the room is shown, and the times of the entrance. Whether a
// seat is there is for GoneViewpoints.
func (c *checker) viewpoints(d *Design) {
	first := map[string]string{}
	for i := range c.count("viewpoints", len(d.Viewpoints), 0, MaxViewpoints) {
		v, at := &d.Viewpoints[i], fmt.Sprintf("viewpoints[%d].", i)
		c.text(at+"name", v.Name, maxName)
		if strings.TrimSpace(v.Name) == "" {
			c.fault(at+"name", "empty", "a name of its own")
		} else if other, taken := first[v.Name]; taken {
			c.fault(at+"name", quote(v.Name)+" again", "a name of its own; "+other+" has this one")
		} else {
			first[v.Name] = at + "name"
		}
		oneOf(c, at+"kind", v.Kind, Standing, Seated, Free)
		c.point(at+"at", v.At)
		switch {
		case v.Kind == Seated && v.At != Point{}:
			c.fault(at+"at", "in a seat", "for standing and free only")
		case v.Kind == Seated && v.Seat == "":
			c.fault(at+"seat", "none", seatForm)
		case v.Kind != Seated && v.Seat != "":
			c.fault(at+"seat", quote(v.Seat), "for the kind seat only")
		}
		c.text(at+"seat", v.Seat, 40)
		c.angle(at+"heading_deg", v.Heading, -360, 360)
		c.angle(at+"pitch_deg", v.Pitch, -89, 89)
		if v.Sees != 0 {
			c.angle(at+"sees_deg", v.Sees, 2, 120)
		}
		oneOf(c, at+"scene", v.Scene, "", House, Preshow, Show, Cleaning)
		c.given(at+"stay_s", v.Stay, 0.1, 600, " s")
	}
	c.given("entrance.each_s", d.Entrance.Each, 0.1, 60, " s")
	c.given("entrance.house_s", d.Entrance.House, 0.1, 600, " s")
	c.given("entrance.down_s", d.Entrance.Down, 0.1, 120, " s")
}

// GoneViewpoints returns a fault for every viewpoint in a seat that d has not. In a file it
// is a slip; in a design that is being edited it goes with the seat, and Identify sees to
// it.
func (d *Design) GoneViewpoints() []*Fault {
	var out []*Fault
	known := d // rows may have no ids yet
	if len(d.Viewpoints) > 0 {
		known = d.Clone()
		known.Identify()
	}
	for i, v := range d.Viewpoints {
		if _, _, ok := known.SeatOf(v.Seat); v.Kind == Seated && !ok {
			out = append(out, &Fault{Field: fmt.Sprintf("viewpoints[%d].seat", i), Found: quote(v.Seat), Allowed: seatForm})
		}
	}
	return out
}
