// SPDX-License-Identifier: MIT

package practice

import (
	"math"
	"strings"
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

// fitting returns the system that has most of labels; of equals the one with the
// fewest others, then the first. nil when none has any of them.
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

// want returns where s wants label; when s has no such channel, what all systems
// that have it want between them. ok is false when none has it.
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

// union adds s to all, as one with those it meets.
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

// systems are the sound systems A to J with the azimuths and elevations they
// allow, degrees, left and up positive. Source: Rec. ITU-R BS.2051 as transcribed
// in the open EBU ADM renderer's 2051_layouts.yaml of 2019-05-22 (a channel
// without a stated range has its nominal direction; the range of M+SC and M-SC
// is that renderer's). LFE channels are left out: most of their angles are
// placeholders there. It is not changed.
var systems = [...]system{
	{"A", "0+2+0", []channelRange{
		{"M+030", span{30, 30}, span{0, 0}}, {"M-030", span{-30, -30}, span{0, 0}},
	}},
	{"B", "0+5+0", []channelRange{
		{"M+030", span{30, 30}, span{0, 0}}, {"M-030", span{-30, -30}, span{0, 0}},
		{"M+000", span{0, 0}, span{0, 0}}, {"M+110", span{100, 120}, span{0, 15}},
		{"M-110", span{-120, -100}, span{0, 15}},
	}},
	{"C", "2+5+0", []channelRange{
		{"M+030", span{30, 30}, span{0, 0}}, {"M-030", span{-30, -30}, span{0, 0}},
		{"M+000", span{0, 0}, span{0, 0}}, {"M+110", span{100, 120}, span{0, 15}},
		{"M-110", span{-120, -100}, span{0, 15}}, {"U+030", span{30, 45}, span{30, 55}},
		{"U-030", span{-45, -30}, span{30, 55}},
	}},
	{"D", "4+5+0", []channelRange{
		{"M+030", span{30, 30}, span{0, 0}}, {"M-030", span{-30, -30}, span{0, 0}},
		{"M+000", span{0, 0}, span{0, 0}}, {"M+110", span{100, 120}, span{0, 0}},
		{"M-110", span{-120, -100}, span{0, 0}}, {"U+030", span{30, 45}, span{30, 55}},
		{"U-030", span{-45, -30}, span{30, 55}}, {"U+110", span{100, 135}, span{30, 55}},
		{"U-110", span{-135, -100}, span{30, 55}},
	}},
	{"E", "4+5+1", []channelRange{
		{"M+030", span{30, 30}, span{0, 0}}, {"M-030", span{-30, -30}, span{0, 0}},
		{"M+000", span{0, 0}, span{0, 0}}, {"M+110", span{100, 120}, span{0, 0}},
		{"M-110", span{-120, -100}, span{0, 0}}, {"U+030", span{30, 45}, span{30, 55}},
		{"U-030", span{-45, -30}, span{30, 55}}, {"U+110", span{100, 135}, span{30, 55}},
		{"U-110", span{-135, -100}, span{30, 55}}, {"B+000", span{0, 0}, span{-30, -15}},
	}},
	{"F", "3+7+0", []channelRange{
		{"M+000", span{0, 0}, span{0, 0}}, {"M+030", span{30, 30}, span{0, 0}},
		{"M-030", span{-30, -30}, span{0, 0}}, {"U+045", span{30, 45}, span{30, 45}},
		{"U-045", span{-45, -30}, span{30, 45}}, {"M+090", span{60, 150}, span{0, 0}},
		{"M-090", span{-150, -60}, span{0, 0}}, {"M+135", span{60, 150}, span{0, 0}},
		{"M-135", span{-150, -60}, span{0, 0}}, {"UH+180", span{180, 180}, span{45, 90}},
	}},
	{"G", "4+9+0", []channelRange{
		{"M+030", span{30, 45}, span{0, 0}}, {"M-030", span{-45, -30}, span{0, 0}},
		{"M+000", span{0, 0}, span{0, 0}}, {"M+090", span{85, 110}, span{0, 0}},
		{"M-090", span{-110, -85}, span{0, 0}}, {"M+135", span{120, 150}, span{0, 0}},
		{"M-135", span{-150, -120}, span{0, 0}}, {"U+045", span{30, 45}, span{30, 55}},
		{"U-045", span{-45, -30}, span{30, 55}}, {"U+135", span{100, 150}, span{30, 55}},
		{"U-135", span{-150, -100}, span{30, 55}}, {"M+SC", span{5, 60}, span{0, 0}},
		{"M-SC", span{-60, -5}, span{0, 0}},
	}},
	{"H", "9+10+3", []channelRange{
		{"M+060", span{45, 60}, span{0, 5}}, {"M-060", span{-60, -45}, span{0, 5}},
		{"M+000", span{0, 0}, span{0, 5}}, {"M+135", span{110, 135}, span{0, 15}},
		{"M-135", span{-135, -110}, span{0, 15}}, {"M+030", span{22.5, 30}, span{0, 5}},
		{"M-030", span{-30, -22.5}, span{0, 5}}, {"M+180", span{180, 180}, span{0, 15}},
		{"M+090", span{90, 90}, span{0, 15}}, {"M-090", span{-90, -90}, span{0, 15}},
		{"U+045", span{45, 60}, span{30, 45}}, {"U-045", span{-60, -45}, span{30, 45}},
		{"U+000", span{0, 0}, span{30, 45}}, {"T+000", span{0, 0}, span{90, 90}},
		{"U+135", span{110, 135}, span{30, 45}}, {"U-135", span{-135, -110}, span{30, 45}},
		{"U+090", span{90, 90}, span{30, 45}}, {"U-090", span{-90, -90}, span{30, 45}},
		{"U+180", span{180, 180}, span{30, 45}}, {"B+000", span{0, 0}, span{-30, -15}},
		{"B+045", span{45, 60}, span{-30, -15}}, {"B-045", span{-60, -45}, span{-30, -15}},
	}},
	{"I", "0+7+0", []channelRange{
		{"M+030", span{30, 45}, span{0, 0}}, {"M-030", span{-45, -30}, span{0, 0}},
		{"M+000", span{0, 0}, span{0, 0}}, {"M+090", span{85, 110}, span{0, 0}},
		{"M-090", span{-110, -85}, span{0, 0}}, {"M+135", span{120, 150}, span{0, 0}},
		{"M-135", span{-150, -120}, span{0, 0}},
	}},
	{"J", "4+7+0", []channelRange{
		{"M+030", span{30, 45}, span{0, 0}}, {"M-030", span{-45, -30}, span{0, 0}},
		{"M+000", span{0, 0}, span{0, 0}}, {"M+090", span{85, 110}, span{0, 0}},
		{"M-090", span{-110, -85}, span{0, 0}}, {"M+135", span{120, 150}, span{0, 0}},
		{"M-135", span{-150, -120}, span{0, 0}}, {"U+045", span{30, 45}, span{30, 55}},
		{"U-045", span{-45, -30}, span{30, 55}}, {"U+135", span{100, 150}, span{30, 55}},
		{"U-135", span{-150, -100}, span{30, 55}},
	}},
}
