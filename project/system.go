// SPDX-License-Identifier: MIT

package project

// System is the list of channels by which the loudspeakers of a design are judged.
// The zero System is none chosen: then one is guessed from the labels.
type System struct {
	// Name is that of a system that Earline knows, such as "4+7+0", "J" or "7.1.4", or
	// a name for Channels.
	Name string `json:"name"`
	// Channels are a list of the design's own; none for a system that is known.
	Channels []Channel `json:"channels,omitempty"`
}

// Channel is a loudspeaker of an own list of channels: its label, and from where it
// may be heard at the main listening position, in degrees, left and up positive.
type Channel struct {
	Label        string  `json:"label"`
	AzimuthMin   float64 `json:"azimuth_min_deg"`
	AzimuthMax   float64 `json:"azimuth_max_deg"`
	ElevationMin float64 `json:"elevation_min_deg"`
	ElevationMax float64 `json:"elevation_max_deg"`
	Source       string  `json:"source,omitempty"` // where the ranges are from
}

// Chosen reports whether a system is chosen.
func (s System) Chosen() bool { return s.Name != "" }
