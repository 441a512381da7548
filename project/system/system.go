// SPDX-License-Identifier: MIT

// Package system says by which list of channels a design's loudspeakers are judged:
// a system of Rec. ITU-R BS.2051, a list that people order by numbers (bed, bass,
// heights), or the design's own.
package system

import (
	"slices"
	"strconv"
	"strings"

	"earline/project"
	"earline/project/bs2051"
)

// System is a list of channels.
type System struct {
	Name     string // "4+7+0", "7.1.4", or the design's own name for it
	Letter   string // of a published one
	Channels []Channel
}

// Channel is one loudspeaker of a system.
type Channel struct {
	Label string
	// Azimuth and Elevation are the nominal direction from the main listening
	// position, degrees, left and up positive.
	Azimuth, Elevation float64
	// AzimuthRange and ElevationRange are where else it may be heard; empty where the
	// source gives no range.
	AzimuthRange, ElevationRange Range
	Source                       string // of the ranges; empty is common practice
}

// Range is a range of degrees. The zero Range is none.
type Range struct{ Min, Max float64 }

// Given reports whether there is a range.
func (r Range) Given() bool { return r != Range{} }

// LFE reports whether c is a channel for low-frequency effects, which has no
// direction to be judged by.
func (c Channel) LFE() bool { return strings.HasPrefix(c.Label, "LFE") }

// Channel returns the channel of that label.
func (s System) Channel(label string) (Channel, bool) {
	i := slices.IndexFunc(s.Channels, func(c Channel) bool { return c.Label == label })
	if i < 0 {
		return Channel{}, false
	}
	return s.Channels[i], true
}

// Published reports whether s is a system of Rec. ITU-R BS.2051.
func (s System) Published() bool { return s.Letter != "" }

// String names s in a sentence: "BS.2051 system J (4+7+0)", "7.1.4".
func (s System) String() string {
	if s.Published() {
		return "BS.2051 system " + s.Letter + " (" + s.Name + ")"
	}
	return s.Name
}

// All returns the systems that are known: the published ones in the order of their
// letters, then those that people order.
func All() []System { return append(published(), ordered()...) }

// Names returns the names of all systems that are known.
func Names() []string {
	var names []string
	for _, s := range All() {
		names = append(names, s.Name)
	}
	return names
}

// Named returns the system of that name, or of that letter.
func Named(name string) (System, bool) {
	name = strings.ToUpper(strings.TrimSpace(name))
	for _, s := range All() {
		if name != "" && (name == s.Name || name == s.Letter) {
			return s, true
		}
	}
	return System{}, false
}

// Of returns the system by which d is judged: the one that it has chosen, else the
// one that fits its labels best. ok is false when it has chosen none and none fits.
func Of(d *project.Design) (s System, ok bool) {
	if !d.System.Chosen() {
		return Guess(d)
	}
	if len(d.System.Channels) == 0 {
		return Named(d.System.Name)
	}
	s.Name = d.System.Name
	for _, c := range d.System.Channels {
		s.Channels = append(s.Channels, Channel{
			Label: c.Label, Azimuth: (c.AzimuthMin + c.AzimuthMax) / 2, Elevation: (c.ElevationMin + c.ElevationMax) / 2,
			AzimuthRange: Range{c.AzimuthMin, c.AzimuthMax}, ElevationRange: Range{c.ElevationMin, c.ElevationMax}, Source: c.Source,
		})
	}
	return s, true
}

// Guess returns the system with the fewest channels that d lacks and the fewest of
// d's labels that it does not have, counted together; of equals the first of All. ok
// is false when no system has any of d's labels.
func Guess(d *project.Design) (best System, ok bool) {
	labels := map[string]bool{}
	for _, l := range d.Speakers {
		if !strings.HasPrefix(l.Label, "LFE") {
			labels[l.Label] = true
		}
	}
	least := 0
	for _, s := range All() {
		shared, off := 0, len(labels)
		for _, c := range s.Channels {
			switch {
			case c.LFE():
			case labels[c.Label]:
				shared, off = shared+1, off-1
			default:
				off++
			}
		}
		if shared > 0 && (!ok || off < least) {
			best, least, ok = s, off, true
		}
	}
	return best, ok
}

// published are the systems of Rec. ITU-R BS.2051. Where the data give a channel no
// range they repeat its nominal direction; that is no range.
func published() []System {
	var all []System
	for _, l := range bs2051.Layouts() {
		s := System{Name: l.Name, Letter: l.Letter, Channels: make([]Channel, 0, len(l.Channels))}
		source := "BS.2051 system " + l.Letter
		for _, c := range l.Channels {
			to := Channel{Label: c.Label, Azimuth: c.Azimuth, Elevation: c.Elevation, Source: source}
			if c.AzimuthMin < c.AzimuthMax {
				to.AzimuthRange = Range{c.AzimuthMin, c.AzimuthMax}
			}
			if c.ElevationMin < c.ElevationMax {
				to.ElevationRange = Range{c.ElevationMin, c.ElevationMax}
			}
			s.Channels = append(s.Channels, to)
		}
		all = append(all, s)
	}
	return all
}

// Check returns what is wrong with the system that d has chosen: a name that nobody
// knows, without channels. Nil when nothing is.
func Check(d *project.Design) *project.Fault {
	if _, ok := Of(d); ok || !d.System.Chosen() {
		return nil
	}
	return &project.Fault{Field: "system.name", Found: strconv.Quote(d.System.Name),
		Allowed: "a letter from A to J, " + strings.Join(Names(), ", ") + ", or a name with channels of its own"}
}
