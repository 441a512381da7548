// SPDX-License-Identifier: MIT

// Package bs2051 holds the loudspeaker layouts of Rec. ITU-R BS.2051.
package bs2051

import (
	"fmt"
	"strings"
)

// A Channel is one loudspeaker of a system of Rec. ITU-R BS.2051: its label,
// nominal direction and allowed ranges, in degrees.
type Channel struct {
	Label                      string
	Azimuth, Elevation         float64
	AzimuthMin, AzimuthMax     float64
	ElevationMin, ElevationMax float64
}

// LFE reports whether c is a channel for low-frequency effects, for which most
// systems' angles are placeholders.
func (c Channel) LFE() bool { return strings.HasPrefix(c.Label, "LFE") }

// A Layout is one sound system: its letter, its name, such as "4+5+0", and its
// channels.
type Layout struct {
	Letter, Name string
	Channels     []Channel
}

// Layouts returns all systems, in the order of the letters A to J.
func Layouts() []Layout {
	var all []Layout
	for _, block := range strings.Split(systems, "\n\n") {
		lines := strings.Split(block, "\n")
		letter, name, _ := strings.Cut(lines[0], " ")
		l := Layout{Letter: letter, Name: name}
		for _, line := range lines[1:] {
			var c Channel
			// The table is ours and a test reads all of it.
			fmt.Sscan(line, &c.Label, &c.Azimuth, &c.Elevation, &c.AzimuthMin, &c.AzimuthMax, &c.ElevationMin, &c.ElevationMax)
			l.Channels = append(l.Channels, c)
		}
		all = append(all, l)
	}
	return all
}

// Systems returns the names of the systems, in the order of the letters.
func Systems() []string {
	var names []string
	for _, l := range Layouts() {
		names = append(names, l.Name)
	}
	return names
}

// System returns the channels of a system by its name ("4+5+0") or letter ("C").
func System(name string) ([]Channel, bool) {
	for _, l := range Layouts() {
		if name = strings.ToUpper(name); name == l.Name || name == l.Letter {
			return l.Channels, true
		}
	}
	return nil, false
}

// systems are the systems A to J of Rec. ITU-R BS.2051 (a channel without a stated
// range has its nominal direction; that M+SC and M-SC have no specified position, and what
// their range is, the renderer says): label, nominal azimuth
// and elevation, azimuth range, elevation range; degrees. As transcribed in the
// open EBU ADM renderer (2051_layouts.yaml, 2019-05-22), the same as
// testdata/bs2051_layouts.tsv, with which a test compares it.
const systems = `A 0+2+0
M+030 30 0 30 30 0 0
M-030 -30 0 -30 -30 0 0

B 0+5+0
M+030 30 0 30 30 0 0
M-030 -30 0 -30 -30 0 0
M+000 0 0 0 0 0 0
LFE1 45 -30 -180 180 -90 90
M+110 110 0 100 120 0 15
M-110 -110 0 -120 -100 0 15

C 2+5+0
M+030 30 0 30 30 0 0
M-030 -30 0 -30 -30 0 0
M+000 0 0 0 0 0 0
LFE1 45 -30 -180 180 -90 90
M+110 110 0 100 120 0 15
M-110 -110 0 -120 -100 0 15
U+030 30 30 30 45 30 55
U-030 -30 30 -45 -30 30 55

D 4+5+0
M+030 30 0 30 30 0 0
M-030 -30 0 -30 -30 0 0
M+000 0 0 0 0 0 0
LFE1 45 -30 -180 180 -90 90
M+110 110 0 100 120 0 0
M-110 -110 0 -120 -100 0 0
U+030 30 30 30 45 30 55
U-030 -30 30 -45 -30 30 55
U+110 110 30 100 135 30 55
U-110 -110 30 -135 -100 30 55

E 4+5+1
M+030 30 0 30 30 0 0
M-030 -30 0 -30 -30 0 0
M+000 0 0 0 0 0 0
LFE1 45 -30 -180 180 -90 90
M+110 110 0 100 120 0 0
M-110 -110 0 -120 -100 0 0
U+030 30 30 30 45 30 55
U-030 -30 30 -45 -30 30 55
U+110 110 30 100 135 30 55
U-110 -110 30 -135 -100 30 55
B+000 0 -30 0 0 -30 -15

F 3+7+0
M+000 0 0 0 0 0 0
M+030 30 0 30 30 0 0
M-030 -30 0 -30 -30 0 0
U+045 45 30 30 45 30 45
U-045 -45 30 -45 -30 30 45
M+090 90 0 60 150 0 0
M-090 -90 0 -150 -60 0 0
M+135 135 0 60 150 0 0
M-135 -135 0 -150 -60 0 0
UH+180 180 45 180 180 45 90
LFE1 45 -30 30 90 -30 -15
LFE2 -45 -30 -90 -30 -30 -15

G 4+9+0
M+030 30 0 30 45 0 0
M-030 -30 0 -45 -30 0 0
M+000 0 0 0 0 0 0
LFE1 45 -30 -180 180 -90 90
M+090 90 0 85 110 0 0
M-090 -90 0 -110 -85 0 0
M+135 135 0 120 150 0 0
M-135 -135 0 -150 -120 0 0
U+045 45 30 30 45 30 55
U-045 -45 30 -45 -30 30 55
U+135 135 30 100 150 30 55
U-135 -135 30 -150 -100 30 55
M+SC 15 0 5 25 0 0
M-SC -15 0 -25 -5 0 0

H 9+10+3
M+060 60 0 45 60 0 5
M-060 -60 0 -60 -45 0 5
M+000 0 0 0 0 0 5
LFE1 45 -30 30 90 -30 -15
M+135 135 0 110 135 0 15
M-135 -135 0 -135 -110 0 15
M+030 30 0 22.5 30 0 5
M-030 -30 0 -30 -22.5 0 5
M+180 180 0 180 180 0 15
LFE2 -45 -30 -90 -30 -30 -15
M+090 90 0 90 90 0 15
M-090 -90 0 -90 -90 0 15
U+045 45 30 45 60 30 45
U-045 -45 30 -60 -45 30 45
U+000 0 30 0 0 30 45
T+000 0 90 0 0 90 90
U+135 135 30 110 135 30 45
U-135 -135 30 -135 -110 30 45
U+090 90 30 90 90 30 45
U-090 -90 30 -90 -90 30 45
U+180 180 30 180 180 30 45
B+000 0 -30 0 0 -30 -15
B+045 45 -30 45 60 -30 -15
B-045 -45 -30 -60 -45 -30 -15

I 0+7+0
M+030 30 0 30 45 0 0
M-030 -30 0 -45 -30 0 0
M+000 0 0 0 0 0 0
LFE1 45 -30 -180 180 -90 90
M+090 90 0 85 110 0 0
M-090 -90 0 -110 -85 0 0
M+135 135 0 120 150 0 0
M-135 -135 0 -150 -120 0 0

J 4+7+0
M+030 30 0 30 45 0 0
M-030 -30 0 -45 -30 0 0
M+000 0 0 0 0 0 0
LFE1 45 -30 -180 180 -90 90
M+090 90 0 85 110 0 0
M-090 -90 0 -110 -85 0 0
M+135 135 0 120 150 0 0
M-135 -135 0 -150 -120 0 0
U+045 45 30 30 45 30 55
U-045 -45 30 -45 -30 30 55
U+135 135 30 100 150 30 55
U-135 -135 30 -150 -100 30 55`
