// SPDX-License-Identifier: MIT

package practice

import (
	"math"
	"strings"

	"earline/project/bs2051"
)

// span is a range of degrees.
type span struct{ lo, hi float64 }

// beyond returns how far v is outside s and v turned by whole turns to where it
// is nearest; 0 inside.
func (s span) beyond(v float64) (by, turned float64) {
	by = math.Inf(1)
	for _, t := range [3]float64{v, v - 360, v + 360} {
		if b := max(s.lo-t, t-s.hi, 0); b < by {
			by, turned = b, t
		}
	}
	return by, turned
}

// channelRange is where a system wants a channel.
type channelRange struct {
	label  string
	az, el span
}

// system is one of the sound systems of Rec. ITU-R BS.2051.
type system struct {
	letter, layout string
	channels       []channelRange
}

func (s *system) channel(label string) *channelRange {
	for i := range s.channels {
		if s.channels[i].label == label {
			return &s.channels[i]
		}
	}
	return nil
}

// fitting returns the system that has the most of labels; of equals the one with
// the fewest other channels, then the first; nil when none has any of them.
func fitting(labels []string) *system {
	var best *system
	most := 0
	for i := range systems {
		s := &systems[i]
		n := 0
		for _, l := range labels {
			if s.channel(l) != nil {
				n++
			}
		}
		if n > most || n == most && best != nil && len(s.channels) < len(best.channels) {
			best, most = s, n
		}
	}
	return best
}

// wanted is where a label may be heard, and who says so.
type wanted struct {
	az, el []span
	who    string // "BS.2051 system H asks for"
}

// want returns where s wants label; if s has no such channel, the union of what all
// systems that have it want. ok is false when none has it.
func want(s *system, label string) (w wanted, ok bool) {
	if s != nil {
		if c := s.channel(label); c != nil {
			return wanted{[]span{c.az}, []span{c.el}, "BS.2051 system " + s.letter + " asks for"}, true
		}
	}
	var letters []string
	for i := range systems {
		if c := systems[i].channel(label); c != nil {
			w.az, w.el = union(w.az, c.az), union(w.el, c.el)
			letters = append(letters, systems[i].letter)
		}
	}
	switch n := len(letters); n {
	case 0:
		return w, false
	case 1:
		w.who = "BS.2051 system " + letters[0] + " asks for"
	default:
		w.who = "BS.2051 systems " + strings.Join(letters[:n-1], ", ") + " and " + letters[n-1] + " ask for"
	}
	if s != nil {
		w.who = "not in system " + s.letter + ", but " + w.who
	}
	return w, true
}

// union adds s to all and merges it with those that it meets.
func union(all []span, s span) []span {
	out := make([]span, 0, len(all)+1)
	for _, t := range all {
		if t.lo <= s.hi && s.lo <= t.hi {
			s = span{min(s.lo, t.lo), max(s.hi, t.hi)}
		} else {
			out = append(out, t)
		}
	}
	return append(out, s)
}

// systems are the layouts without their channels for low-frequency effects, most
// of whose angles are placeholders. Read only.
var systems = judged()

func judged() []system {
	var all []system
	for _, l := range bs2051.Layouts() {
		s := system{letter: l.Letter, layout: l.Name}
		for _, c := range l.Channels {
			if !c.LFE() {
				s.channels = append(s.channels, channelRange{c.Label,
					span{c.AzimuthMin, c.AzimuthMax}, span{c.ElevationMin, c.ElevationMax}})
			}
		}
		all = append(all, s)
	}
	return all
}
