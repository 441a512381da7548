// SPDX-License-Identifier: MIT

package newroom

import (
	"strings"

	"earline/project/system"
)

// System is a loudspeaker system as it is ordered: loudspeakers around the listeners,
// subwoofers, and loudspeakers above.
type System struct {
	Name string // "7.1.4"
	Says string
}

// stereo is what people call the published system of letter A.
const stereo = "2.0"

// Channels returns the list of channels by which s is placed and judged.
func (s System) Channels() (system.System, bool) {
	if s.Name == stereo {
		return system.Named("A")
	}
	return system.Named(s.Name)
}

// Systems returns the systems that a new room can have, the smallest first.
func Systems() []System {
	return []System{
		{stereo, "left and right"},
		{"5.1", "three at the screen, two surrounds"},
		{"5.1.2", "5.1 with two above"},
		{"5.1.4", "5.1 with four above"},
		{"7.1", "three at the screen, two sides, two rears"},
		{"7.1.4", "7.1 with four above"},
		{"9.1.4", "7.1.4 with two more at the front"},
		{"9.1.6", "9.1.4 with two more above"},
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

// channelsOf returns the name of the list of channels of the system of that name; ""
// for one that a new room cannot have.
func channelsOf(name string) string {
	for _, s := range Systems() {
		if s.Name == strings.TrimSpace(name) {
			list, _ := s.Channels()
			return list.Name
		}
	}
	return ""
}
