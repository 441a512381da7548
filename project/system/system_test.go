// SPDX-License-Identifier: MIT

package system_test

import (
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/system"
)

func withLabels(labels ...string) *project.Design {
	d := &project.Design{}
	for _, l := range labels {
		d.Speakers = append(d.Speakers, project.Loudspeaker{Label: l})
	}
	return d
}

func split(s string) []string { return strings.Fields(s) }

// Seven in the bed and two heights were judged by the system of ten and one over the
// head, which nobody here had built.
func TestASystemIsGuessedFromWhatIsThere(t *testing.T) {
	for labels, want := range map[string]string{
		"M+030 M-030":                                                                               "0+2+0",
		"M+030 M-030 M+000 M+110 M-110 LFE1":                                                        "0+5+0",
		"M+030 M-030 M+000 M+090 M-090 M+135 M-135 LFE1":                                            "0+7+0",
		"M+030 M-030 M+000 M+090 M-090 M+135 M-135 U+090 U-090":                                     "7.1.2",
		"M+030 M-030 M+000 M+090 M-090 M+135 M-135 U+045 U-045 U+135 U-135 LFE1":                    "4+7+0",
		"M+030 M-030 M+000 M+060 M-060 M+090 M-090 M+135 M-135 U+045 U-045 U+090 U-090 U+135 U-135": "9.1.6",
	} {
		got, ok := system.Guess(withLabels(split(labels)...))
		if !ok || got.Name != want {
			t.Errorf("%s: %q, want %q", labels, got.Name, want)
		}
	}
	if s, ok := system.Guess(withLabels("LFE1")); ok {
		t.Errorf("a subwoofer alone is %q", s.Name)
	}
}

// Nobody is quoted for a range that is not in the data (EBU ADM renderer,
// 2051_layouts.yaml at commit 09776ab): system J gives its bed no elevations.
func TestNoRangeIsQuotedThatIsNotPublished(t *testing.T) {
	j, _ := system.Named("J")
	if c, ok := j.Channel("M+090"); !ok || c.ElevationRange.Given() || c.AzimuthRange != (system.Range{Min: 85, Max: 110}) {
		t.Errorf("M+090 of J: %+v", c)
	}
	h, _ := system.Named("9+10+3")
	if c, _ := h.Channel("M+090"); c.AzimuthRange.Given() || c.ElevationRange != (system.Range{Min: 0, Max: 15}) {
		t.Errorf("M+090 of H: %+v", c)
	}
	g, _ := system.Named("g")
	if c, _ := g.Channel("M+SC"); c.AzimuthRange != (system.Range{Min: 5, Max: 25}) {
		t.Errorf("M+SC of G: %+v", c)
	}
	for _, s := range system.All() {
		for _, c := range s.Channels {
			if s.Published() != (c.Source != "") && !c.LFE() {
				t.Errorf("%s, %s: source %q", s.Name, c.Label, c.Source)
			}
		}
	}
}

// Lists that people order have their numbers: bed with its LFE, and heights.
func TestOrderedSystemsHaveTheirNumbers(t *testing.T) {
	for name, want := range map[string][3]int{"5.1": {5, 1, 0}, "5.1.2": {5, 1, 2}, "7.1.4": {7, 1, 4}, "9.1.6": {9, 1, 6}} {
		s, ok := system.Named(name)
		if !ok {
			t.Errorf("no %s", name)
			continue
		}
		var got [3]int
		for _, c := range s.Channels {
			switch {
			case c.LFE():
				got[1]++
			case c.Label[0] == 'M':
				got[0]++
			default:
				got[2]++
			}
			if !c.LFE() && !(c.AzimuthRange.Min <= c.Azimuth && c.Azimuth <= c.AzimuthRange.Max) {
				t.Errorf("%s, %s: nominal outside its range %+v", name, c.Label, c)
			}
		}
		if got != want {
			t.Errorf("%s has %v, want %v", name, got, want)
		}
	}
}

// What is chosen is kept in the file, whose version is as low as it can be.
func TestTheChosenSystemIsKept(t *testing.T) {
	d := file.New()
	before, err := file.Encode(d)
	if err != nil || !strings.Contains(string(before), `"version": 1,`) {
		t.Fatalf("a design without new things: %v, %.80s", err, before)
	}
	d.System = project.System{Name: "Ours", Channels: []project.Channel{{Label: "M+090", AzimuthMin: 70, AzimuthMax: 100, ElevationMax: 20}}}
	data, err := file.Encode(d)
	if err != nil || !strings.Contains(string(data), `"version": 2,`) {
		t.Fatalf("%v, %.80s", err, data)
	}
	back, err := file.Decode(data, "x")
	if err != nil {
		t.Fatal(err)
	}
	s, ok := system.Of(back)
	if c, found := s.Channel("M+090"); !ok || !found || s.Name != "Ours" || c.ElevationRange.Max != 20 || c.Azimuth != 85 {
		t.Errorf("%+v", s)
	}
	d.System = project.System{Name: "no such"}
	if _, err := file.Encode(d); err == nil || !strings.Contains(err.Error(), "system.name") {
		t.Errorf("an unknown system without channels: %v", err)
	}
}

// A channel of an own list that nobody gave a range was judged by 0 degrees.
func TestAnOwnChannelNeedsARange(t *testing.T) {
	d := file.New()
	d.System = project.System{Name: "Ours", Channels: []project.Channel{{Label: "M+090"}, {Label: "LFE1"}}}
	err := d.Validate()
	if err == nil || err.Error() != "system.channels[0].azimuth_max_deg: no range, allowed: more than azimuth_min_deg" {
		t.Error(err)
	}
}
