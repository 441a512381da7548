// SPDX-License-Identifier: MIT

package system

import "strconv"

// ordered are the lists of channels that people order: so many in the bed, so many
// for bass, so many heights. Their azimuth ranges are common practice, without a
// source; elevations are the standard's, by layer. Sides of a bed of five stand where
// they cover the back as well.
func ordered() []System {
	var all []System
	for _, bed := range [...]int{5, 7, 9} {
		for _, heights := range [...]int{0, 2, 4, 6} {
			if bed == 5 && heights == 6 {
				continue // nobody orders it
			}
			s := System{Name: strconv.Itoa(bed) + ".1", Channels: make([]Channel, 0, bed+1+heights)}
			if heights > 0 {
				s.Name += "." + strconv.Itoa(heights)
			}
			s.pair("M+030", "M-030", 30, 0, 22, 45)
			s.Channels = append(s.Channels, Channel{Label: "M+000", AzimuthRange: Range{-5, 5}}, Channel{Label: "LFE1"})
			if bed == 9 {
				s.pair("M+060", "M-060", 60, 0, 45, 75)
			}
			if bed == 5 {
				s.pair("M+110", "M-110", 110, 0, 100, 120)
			} else {
				s.pair("M+090", "M-090", 90, 0, 80, 110)
				s.pair("M+135", "M-135", 135, 0, 120, 150)
			}
			if heights == 4 || heights == 6 {
				s.pair("U+045", "U-045", 45, 45, 30, 60)
			}
			if heights == 2 || heights == 6 {
				s.pair("U+090", "U-090", 90, 45, 65, 115)
			}
			if heights == 4 || heights == 6 {
				s.pair("U+135", "U-135", 135, 45, 115, 150)
			}
			all = append(all, s)
		}
	}
	return all
}

// pair adds the left and the right loudspeaker of a layer.
func (s *System) pair(left, right string, azimuth, elevation, from, to float64) {
	s.Channels = append(s.Channels,
		Channel{Label: left, Azimuth: azimuth, Elevation: elevation, AzimuthRange: Range{from, to}},
		Channel{Label: right, Azimuth: -azimuth, Elevation: elevation, AzimuthRange: Range{-to, -from}})
}
