// SPDX-License-Identifier: MIT

package handover

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/project"
	"earline/project/file"
	"earline/project/projecttest"
	"earline/project/sound"
)

func demo(t testing.TB, name string) *project.Design {
	t.Helper()
	d, ok := file.Demo(name)
	if !ok {
		t.Fatal(name)
	}
	return d.Clone()
}

// Far 3.5, near 3.2 m at 20 °C: 0.8741 ms and -0.7784 dB; 4.0 and 2.4 m: 4.6620 ms,
// -4.4370 dB; 3.0 and 1.85 m: 3.3508 ms, -4.1990 dB ((d1 - d2)/c with c = 343.2 m/s, and
// 20 lg(d2/d1), worked out apart from this code).
func TestDelaysAndTrimsOfDistance(t *testing.T) {
	for _, c := range [][4]float64{{3.5, 3.2, 0.8741, -0.7784}, {4.0, 2.4, 4.6620, -4.4370}, {3.0, 1.85, 3.3508, -4.1990}} {
		if got := sound.DelayFor(c[0], c[1], 343.2); math.Abs(got-c[2]) > 1e-4 {
			t.Errorf("delay %g, want %g", got, c[2])
		}
		if got := sound.Spreading(c[0]) - sound.Spreading(c[1]); math.Abs(got-c[3]) > 1e-4 {
			t.Errorf("trim %g, want %g", got, c[3])
		}
	}
	// The same through the record: two alike loudspeakers that aim at the main position,
	// 3.5 and 3.2 m from it. Air takes some thousandths of a decibel.
	d := demo(t, "small")
	model := d.Speakers[0].Model
	d.Room.Air = project.Air{Temperature: 20, Humidity: 50}
	d.Playback.DelayStep, d.Playback.TrimStep = 0.001, 0.01
	d.Seating.Main = project.MainPosition{At: project.Point{X: 4.5, Y: 2, Z: 1.2}}
	d.Speakers = []project.Loudspeaker{
		{ID: "a", Label: "M+000", Model: model, Mount: project.OnFloor, At: project.Point{X: 1, Y: 2, Z: 1.2}},
		{ID: "b", Label: "M+030", Model: model, Mount: project.OnFloor, At: project.Point{X: 1.3, Y: 2, Z: 1.2}},
	}
	r := Of(d, nil)
	far, near := r.Channels[0], r.Channels[1]
	if math.Abs(far.Distance-3.5) > 1e-9 || math.Abs(near.Distance-3.2) > 1e-9 || !r.Computed {
		t.Fatalf("%+v", r.Channels)
	}
	if math.Abs(near.ExactDelay-0.8741) > 0.0005 || math.Abs(near.ExactTrim+0.7784) > 0.01 || far.Delay != 0 || far.Trim != 0 || near.Delay != 0.874 {
		t.Errorf("%+v", near)
	}
}

// ISO 21727:2016, Table 2, with the levels of ISO 22234 (second hand): 85 dB(C) a channel,
// 95 the LFE channel; loudspeakers that share a channel are that together.
func TestTargetLevels(t *testing.T) {
	r := Of(demo(t, "large"), nil)
	sum := map[string]float64{}
	for _, group := range [][]Channel{r.Channels, r.Subs} {
		for _, c := range group {
			label, _, _ := strings.Cut(c.Name, " ")
			sum[label] += math.Pow(10, c.Target/10)
		}
	}
	if len(sum) < 10 {
		t.Fatal(sum)
	}
	for label, power := range sum {
		want := 85.0
		if strings.HasPrefix(label, "LFE") {
			want = 95
		}
		if got := 10 * math.Log10(power); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %g dB(C), want %g", label, got, want)
		}
	}
}

// What the design sets is what the record says; only where it sets nothing is it worked out.
func TestTheRecordSaysWhatTheDesignSets(t *testing.T) {
	d := demo(t, "small")
	d.Speakers[1].Tuning = project.Tuning{Delay: 7.7, Gain: -3, Inverted: true}
	r := Of(d, nil)
	c := r.Channels[1]
	if r.Computed || c.Delay != 7.7 || c.Trim != -3 || !c.Inverted || r.Channels[0].Delay != 0 {
		t.Errorf("%+v", c)
	}
	d = demo(t, "small")
	if r = Of(d, nil); !r.Computed || d.Speakers[3].Tuning != (project.Tuning{}) {
		t.Error("the design was tuned by asking")
	}
	tuned := sound.Hear(d, nil).Tuned(d)
	for i, l := range tuned.Speakers {
		for _, c := range append(r.Channels, r.Subs...) {
			if c.ID == l.ID && (c.Delay != l.Tuning.Delay || c.Trim != l.Tuning.Gain) {
				t.Errorf("%s: %+v, tuned %+v", d.Speakers[i].Name(), c, l.Tuning)
			}
		}
	}
}

func TestWhatIsMeasuredStandsInItsBoxAndAllElseIsEmpty(t *testing.T) {
	d := demo(t, "small")
	boxes := func() (n int, text string) {
		r := Of(d, nil)
		for _, table := range r.Tables() {
			for i, row := range table.Rows {
				if len(row) != len(table.Columns) {
					t.Fatalf("%s: %q under %q", table.Title, row, table.Columns)
				}
				for k := range row {
					if table.Box(i, k) {
						n++
					}
				}
				text += strings.Join(row, "|") + "\n"
			}
		}
		return n, text
	}
	empty, _ := boxes()
	d.Measured.Decay = []project.ThirdTime{{Hz: 400, Time: 0.3}, {Hz: 500, Time: 0.4}, {Hz: 630, Time: 0.5}, {Hz: 800, Time: 9}, {Hz: 1000, Time: 0.33}}
	d.Measured.Noise = []float64{40, 35, 30, 25, 20, 15, 12, 10, 8}
	some, text := boxes()
	if empty-some != 3 {
		t.Errorf("%d boxes of %d, 500 Hz, 1 kHz and noise are measured", some, empty)
	}
	// 500 Hz: the mean of 0.3, 0.4 and 0.5; 1 kHz: that of 9 and 0.33, by hand.
	if !strings.Contains(text, "measured||||0.40|4.67|||") || !strings.Contains(text, "|NR 16") {
		t.Error(text)
	}
}

func TestCrossoversAndFiltersOfTheDesignStandInTheRecord(t *testing.T) {
	d := demo(t, "small")
	d.Playback.Slope = project.LinkwitzRiley2
	d.Speakers[0].Tuning.Crossover = 100
	d.Equalisation.Target.Name = "a little warm"
	d.Equalisation.Filters = []project.Filter{
		{Of: project.AllSubwoofers, Kind: project.Peak, Frequency: 41.5, Gain: -6, Q: 4},
		{Of: d.Speakers[0].ID, Kind: project.HighPass, Frequency: 60, Q: 0.7},
	}
	r := Of(d, nil)
	var text string
	for _, table := range r.Tables() {
		for _, row := range table.Rows {
			text += strings.Join(row, "|") + "\n"
		}
		text += strings.Join(table.Notes, "\n")
	}
	csv := string(r.CSV())
	for _, want := range []string{"|100 Hz|", "|80 to 100 Hz|", "second-order Linkwitz-Riley", "peak 41.5 Hz -6 dB, Q 4", d.Speakers[0].Name() + ": high-pass 60 Hz, Q 0.7", "a little warm"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	for _, want := range []string{"subwoofers,all,filter,\"peak 41.5 Hz -6 dB, Q 4\"", "high-pass,100 Hz", "slope,second-order Linkwitz-Riley"} {
		if !strings.Contains(csv, want) {
			t.Errorf("no %q in\n%s", want, csv)
		}
	}
}

func TestTheTableOpensInSpreadsheets(t *testing.T) {
	d := demo(t, "large")
	d.Measured.Decay = []project.ThirdTime{{Hz: 500, Time: 0.4}}
	r := Of(d, nil)
	lines, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(r.CSV()), "\ufeff"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]bool{}
	for _, l := range d.Speakers {
		want[l.Name()+" delay"] = true
	}
	for _, l := range lines[1:] {
		delete(want, l[1]+" "+l[2])
		if l[1] == "500 Hz" && l[5] != "0.400" {
			t.Errorf("%q", l)
		}
	}
	if len(want) > 0 {
		t.Errorf("no %v", want)
	}
}

// Any room has a record, whose data can be written.
func TestAnyRoomHasARecord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Of(projecttest.Room(rapid.Uint64Range(0, 500).Draw(t, "room")), nil)
		data, err := json.Marshal(r.Report())
		if err != nil || strings.Contains(string(data), ":null") {
			t.Fatal(err, string(data))
		}
		r.Tables()
		r.CSV()
		for _, s := range append(r.MicrophoneWords(), r.Cautions()) {
			if s == "" || strings.Contains(s, "NaN") {
				t.Fatal(s)
			}
		}
	})
}

// A room without subwoofers was to have its mains set to a high-pass of 80 Hz, and nothing
// would have played below.
func TestWithoutSubwoofersNoHighPassIsSet(t *testing.T) {
	d := demo(t, "small")
	d.Speakers = slices.DeleteFunc(d.Speakers, func(l project.Loudspeaker) bool { return sound.LFE(l.Label) })
	for _, c := range Of(d, nil).Channels {
		if c.Crossover != "none" {
			t.Errorf("%s: %s", c.Name, c.Crossover)
		}
	}
}

// Aligned subwoofers of one channel, 0 and -6 dB, were each to measure the same alone, and
// nothing said that their gains stay.
func TestSubwoofersOfOneChannelKeepWhatAligningGaveThem(t *testing.T) {
	for name, shared := range map[string]bool{"small": false, "two-row": true} {
		r := Of(demo(t, name), nil)
		table := r.subs()
		if got := strings.Contains(strings.Join(table.Notes, " "), "What aligning gave them stays"); got != shared {
			t.Errorf("%s: said %v: %q", name, got, table.Notes)
		}
	}
}
