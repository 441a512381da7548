// SPDX-License-Identifier: MIT

package newroom

import (
	"strings"

	"earline/project/bs2051"
)

// System is a loudspeaker system as it is ordered: loudspeakers around the listeners,
// subwoofers, and loudspeakers above.
type System struct {
	Name   string // "7.1.4"
	Layout string // of Rec. ITU-R BS.2051, by which its loudspeakers are placed
	Says   string
}

// Systems returns the systems that a new room can have, the smallest first.
func Systems() []System {
	return []System{
		{"2.0", "0+2+0", "left and right"},
		{"5.1", "0+5+0", "three at the screen, two surrounds"},
		{"5.1.2", "2+5+0", "5.1 with two above"},
		{"5.1.4", "4+5+0", "5.1 with four above"},
		{"7.1", "0+7+0", "three at the screen, two sides, two rears"},
		{"7.1.4", "4+7+0", "7.1 with four above"},
		{"9.1.4", "4+9+0", "7.1.4 with five at the screen"},
	}
}

// SystemNames returns the names of the systems, the smallest first.
func SystemNames() []string {
	var names []string
	for _, s := range Systems() {
		names = append(names, s.Name)
	}
	return names
}

// channels returns the channels of the system of that name.
func channels(name string) ([]bs2051.Channel, bool) {
	for _, s := range Systems() {
		if s.Name == strings.TrimSpace(name) {
			return bs2051.System(s.Layout)
		}
	}
	return nil, false
}
