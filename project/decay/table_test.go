// SPDX-License-Identifier: MIT

package decay

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"earline/project"
)

func TestATableOfTimesReadsHoweverItIsWritten(t *testing.T) {
	want := []project.ThirdTime{{Hz: 31.5, Time: 0.9}, {Hz: 63, Time: 0.65}}
	for name, text := range map[string]string{
		"as it is written":    "hz,t60_s\n31.5,0.9\n63,0.65\n",
		"without a head":      "31.5,0.9\n63,0.65\n",
		"decimal commas":      "hz;t60_s\n31,5;0,9\n63;0,65\n",
		"another order":       "T30 (s)\tFrequency (Hz)\n0.65\t63\n0.9\t31.5\n",
		"exact middles":       "frequency,rt60\n31.62,0.9\n63.1,0.65\n",
		"more columns":        "band,EDT,T20,note\n31.5,0.7,0.9,a\n63,0.5,0.65,\n",
		"one is not measured": "hz,t60_s\n31.5,0.9\n40,\n50\n63,0.65\n",
		"one is too high":     "hz,t60_s\n31.5,0.9\n63,0.65\n16000,0.3\n",
	} {
		r, err := Read([]byte(text), "t.csv")
		if err != nil || !slices.Equal(r.Times, want) {
			t.Errorf("%s: %+v, %v", name, r, err)
		} else if told := len(r.Remarks) > 0; told != (name == "one is too high") {
			t.Errorf("%s: %q", name, r.Remarks)
		}
	}
}

func TestATableThatCannotBeOfARoomIsRefusedInOneLine(t *testing.T) {
	for text, want := range map[string]string{
		"":                                   "t.csv: line 1: an empty file, allowed: a line that names the columns",
		"a,b\n1,2\n":                         `t.csv: line 1: "a,b", allowed: columns hz,t60_s`,
		"hz,t60_s\n":                         "t.csv: no times, allowed: a line for each third of an octave: hz,t60_s",
		"hz,T60 (ms)\n63,650\n":              `t.csv: line 1: "T60 (ms)", allowed: times in seconds`,
		"f (kHz),t60\n0.063,0.65\n":          `t.csv: line 1: "f (kHz)", allowed: frequencies in hertz`,
		"hz,t60_s\n63,650\n80,600\n":         "t.csv: times such as 650: milliseconds?, allowed: seconds, 0.05 to 20",
		"0.65,63\n0.6,80\n":                  "t.csv: times first, frequencies second, allowed: frequencies first, or a head: hz,t60_s",
		"hz,t60_s\n63,-0.5\n":                "t.csv: line 2: -0.5 s at 63 Hz, allowed: 0.05 to 20 s",
		"hz,t60_s\n63,0.5\n80,99\n":          "t.csv: line 3: 99 s at 80 Hz, allowed: 0.05 to 20 s",
		"hz,t60_s\n-63,0.5\n":                "t.csv: line 2: -63 Hz, allowed: 16 to 10000 Hz",
		"hz,t60_s\n70,0.5\n":                 "t.csv: line 2: 70 Hz, allowed: the middle of a third of an octave; the nearest is 63 Hz",
		"hz,t60_s\n63,0.5\n80,1\n63.1,0.6\n": "t.csv: line 4: 63 Hz again, allowed: each third once; line 2 has it too",
		"hz,t60_s\n63,long\n":                `t.csv: line 2: "long", allowed: a time in seconds, such as 0.45`,
		"hz,t60_s\nlow,0.5\n":                `t.csv: line 2: "low", allowed: a frequency in hertz, such as 31.5`,
		"hz,t60_s\n16000,0.5\n":              "t.csv: no third from 16 Hz to 10 kHz, allowed: a line for each third of an octave: hz,t60_s",
	} {
		if _, err := Read([]byte(text), "t.csv"); err == nil || err.Error() != want {
			t.Errorf("%q:\n got %v\nwant %s", text, err, want)
		}
	}
}

func TestOctavesAreTakenForTheThirdsInTheirMiddleAndThatIsSaid(t *testing.T) {
	r, err := Read([]byte("63,0.8\n125,0.6\n250,0.5\n"), "t.csv")
	if err != nil || len(r.Times) != 3 || len(r.Remarks) != 1 || !strings.Contains(r.Remarks[0], "octaves only") {
		t.Errorf("%+v, %v", r, err)
	}
}

// FuzzRead holds that no table panics, that what is refused is so in one line, and that
// what is read can be kept in a design.
func FuzzRead(f *testing.F) {
	f.Add([]byte("hz,t60_s\n31.5,0.9\n63,0.65\n"))
	f.Add([]byte("T30 (ms);f\n1e99;-63\n"))
	f.Add([]byte("31,5\t0,9\n"))
	f.Add([]byte("hz,t60_s\n63\nNaN,Inf\n"))
	d := decayed(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := Read(data, "t")
		if err != nil {
			var fault *project.Fault
			if !errors.As(err, &fault) || strings.ContainsAny(err.Error(), "\n\r") {
				t.Fatalf("%T %v", err, err)
			}
			return
		}
		c := d.Clone()
		c.Measured.Decay = r.Times
		if err := c.Validate(); err != nil {
			t.Fatal(err)
		}
	})
}
