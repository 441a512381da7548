// SPDX-License-Identifier: MIT

package file

import (
	"reflect"
	"strings"
	"testing"

	"earline/project"
)

// What was measured at the seats comes back as it was, a line for each list, and an older
// Earline is told by the version that it cannot read it.
func TestMeasuredResponsesAndNoiseComeBackFromTheirFile(t *testing.T) {
	d := New()
	d.Identify()
	d.Measured.Responses = []project.Response{{Seat: d.Seating.Rows[0].SeatID(1), Of: project.AllSubwoofers,
		Frequencies: []float64{20, 25.5, 31}, Level: []float64{-3.25, 80, 81}, Smoothing: "1/12 octave", Source: "a.csv"}}
	d.Measured.Noise = []float64{45, 38, 30, 26, 21, 18, 16, 15, 15}
	data, err := Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"version": 2`, `"frequencies_hz": [20, 25.5, 31]`, `"level_db": [-3.25, 80, 81]`, `"noise_db": [45, 38, 30, 26, 21, 18, 16, 15, 15]`} {
		if !strings.Contains(string(data), want) {
			t.Errorf("no %s in the file", want)
		}
	}
	got, err := Decode(data, "x")
	if err != nil || !reflect.DeepEqual(got.Measured, d.Measured) {
		t.Errorf("%+v, %v", got.Measured, err)
	}
	lost := strings.Replace(string(data), `"seat": "r1.1"`, `"seat": "r1.999"`, 1)
	if _, err := Decode([]byte(lost), "x"); err == nil || err.Error() != `x: measured.responses[0].seat: "r1.999", allowed: the id of a row, a point and the number of one of its seats, such as r1.2` {
		t.Error(err)
	}
	d = New()
	d.Playback.Background = 18
	if data, err = Encode(d); err != nil || !strings.Contains(string(data), `"version": 2`) {
		t.Errorf("a background noise in a file of version 1 (%v)", err)
	}
}
