// SPDX-License-Identifier: MIT

package file

import (
	"reflect"
	"strings"
	"testing"

	"earline/project"
)

func TestDecodeTarget(t *testing.T) {
	want := project.Target{Points: []project.TargetPoint{{Frequency: 20, Level: 6}, {Frequency: 31.5, Level: 4.5}, {Frequency: 80}}}
	for _, text := range []string{"hz,db\n20,6\n31.5,4.5\n80,0\n", "Hz;dB\r\n20;6\r\n31,5;4,5\r\n80;0\r\n", "db,hz,note\n6,20,low\n4.5,31.5,\n\n0,80,\n"} {
		got, err := DecodeTarget([]byte(text), "t.csv")
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%q: %+v, %v", text, got, err)
		}
	}
}

func TestBadTargetsGetOneLine(t *testing.T) {
	for text, want := range map[string]string{
		"hz,level\n20,1\n":                       `t.csv: line 1: "hz,level", allowed: hz,db`,
		"hz,db\n":                                "t.csv: no points, allowed: a line for each point after hz,db",
		"hz,db\n20,loud\n":                       `t.csv: line 2 db: "loud", allowed: a number`,
		"hz,db\n" + strings.Repeat("20,1\n", 41): "t.csv: line 42: one more point, allowed: at most 40",
	} {
		if _, err := DecodeTarget([]byte(text), "t.csv"); err == nil || err.Error() != want {
			t.Errorf("got %v, want %s", err, want)
		}
	}
}

// FuzzDecodeTarget holds that no bytes panic, and that what is refused is so in one line.
func FuzzDecodeTarget(f *testing.F) {
	for _, s := range []string{"hz,db\n20,6\n80,0\n", "Hz;dB\n31,5;4,5\n", "hz,db\n1e999,NaN\n", "\xff\xfe", "hz,db\n20\n", "hz\tdb\n20\t1"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := DecodeTarget(data, "t.csv")
		if err != nil && strings.Contains(err.Error(), "\n") {
			t.Errorf("more than a line: %v", err)
		}
		if err == nil && (len(got.Points) == 0 || len(got.Points) > project.MaxTargetPoints) {
			t.Errorf("%d points", len(got.Points))
		}
	})
}
