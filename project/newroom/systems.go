// SPDX-License-Identifier: MIT

package newroom

import "strings"

// System is a loudspeaker system as it is ordered: loudspeakers around the listeners,
// subwoofers, and loudspeakers above.
type System struct {
	Name string // "7.1.4"
	List string // the list of channels by which it is placed and judged
	Says string
}

// Systems returns the systems that a new room can have, the smallest first.
func Systems() []System {
	return []System{
		{"2.0", "0+2+0", "left and right"},
		{"5.1", "5.1", "three at the screen, two surrounds"},
		{"5.1.2", "5.1.2", "5.1 with two above"},
		{"5.1.4", "5.1.4", "5.1 with four above"},
		{"7.1", "7.1", "three at the screen, two sides, two rears"},
		{"7.1.4", "7.1.4", "7.1 with four above"},
		{"9.1.4", "9.1.4", "7.1.4 with two more at the front"},
		{"9.1.6", "9.1.6", "9.1.4 with two more above"},
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

// channelsOf returns the list of channels of the system of that name.
func channelsOf(name string) string {
	for _, s := range Systems() {
		if s.Name == strings.TrimSpace(name) {
			return s.List
		}
	}
	return ""
}
