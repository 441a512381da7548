// SPDX-License-Identifier: MIT

package bs2051

import "testing"

// M+090 and U-045 were explained nowhere in the window.
func TestLabelsAreExplained(t *testing.T) {
	for label, want := range map[string]string{
		"M+090": "left side, ear level", "U-045": "right front, height layer", "M+000": "centre, ear level",
		"M-135": "right rear, ear level", "M+060": "left wide, ear level", "M+180": "rear centre, ear level",
		"T+000": "overhead, top layer", "B+000": "centre, bottom layer", "LFE2": "subwoofer",
		"": "", "M": "", "M90": "", "X+030": "", "M+": "", "M+400": "",
	} {
		if got := Means(label); got != want {
			t.Errorf("%q: %q, want %q", label, got, want)
		}
	}
	for _, l := range Layouts() {
		for _, c := range l.Channels {
			if Means(c.Label) == "" {
				t.Errorf("%s of system %s is not explained", c.Label, l.Letter)
			}
		}
	}
}
