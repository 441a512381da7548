// SPDX-License-Identifier: MIT

package practice

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/sight"
)

// Directions holds the loudspeakers of a design to where their channels may be heard
// from at the main listening position. It is not changed by its methods.
type Directions struct {
	main geometry.Vec
	held []heldChannel // by loudspeaker
}

// heldChannel is what one loudspeaker's channel is held to, without it.
type heldChannel struct {
	others             geometry.Vec // sum of the directions of the channel's others
	azimuth, elevation *heard       // nil: not held
}

// DirectionsOf returns the directions of d, of which r is the audit.
func DirectionsOf(d *project.Design, r *sight.Result, std Standard) *Directions {
	c := newChecker(d, r, std.For(d))
	out := &Directions{main: r.Main, held: make([]heldChannel, len(r.Speakers))}
	for id, of := range map[string]func(*heard) bool{"azimuth": c.azimuthOf, "elevation": c.elevationOf} {
		rule, _ := Find(id)
		if !c.take(&rule) {
			continue
		}
		for i := range c.groups {
			h := &heard{channel: &c.groups[i]}
			if !of(h) || h.grade() == Beyond {
				continue // it cannot get worse
			}
			// What the rule allows for the tape is not there to be built away.
			if asked := h.bands.widened(-h.tape); !c.limitOverridden && asked.Grade(h.v) != Beyond {
				h.bands = asked
			}
			for _, k := range h.speakers {
				held := &out.held[k]
				if id == "azimuth" {
					held.azimuth = h
				} else {
					held.elevation = h
				}
				held.others = geometry.Vec{}
				for _, j := range h.speakers {
					if j != k {
						held.others = held.others.Add(c.directions[j].toward)
					}
				}
			}
		}
	}
	return out
}

// Leaves returns which rule the channel of loudspeaker k would leave what is accepted
// by if the loudspeaker stood at p and all others where they are: "azimuth" or
// "elevation", with what is accepted. It is empty for none, and for what is beyond
// already.
func (o *Directions) Leaves(k int, p geometry.Vec) (rule string, accepted Limits) {
	h := &o.held[k]
	u, ok := p.Sub(o.main).Unit()
	if !ok {
		return "", Limits{}
	}
	az, el, ok := geometry.AzEl(h.others.Add(u))
	if !ok {
		return "", Limits{}
	}
	if b := h.azimuth; b != nil && b.bands.Grade(turned(az/unit.Degree, b.bands)) == Beyond && math.Abs(el) < upright*unit.Degree {
		return "azimuth", b.bands.Accepted.Limits
	}
	if b := h.elevation; b != nil && b.bands.Grade(el/unit.Degree) == Beyond {
		return "elevation", b.bands.Accepted.Limits
	}
	return "", Limits{}
}
