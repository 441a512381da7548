// SPDX-License-Identifier: MIT

package bs2051

import (
	"bufio"
	"fmt"
	"os"
	"reflect"
	"strings"
	"testing"
)

// The table of systems is the one that testdata has from the source.
func TestSystemsAreThePublished(t *testing.T) {
	f, err := os.Open("../../testdata/bs2051_layouts.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	want := map[string][]Channel{}
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		cells := strings.Split(lines.Text(), "\t")
		if cells[0] == "system" {
			continue
		}
		var c Channel
		if _, err := fmt.Sscan(strings.Join(cells[2:9], " "), &c.Label, &c.Azimuth, &c.Elevation,
			&c.AzimuthMin, &c.AzimuthMax, &c.ElevationMin, &c.ElevationMax); err != nil {
			t.Fatalf("%v: %v", cells, err)
		}
		want[cells[0]] = append(want[cells[0]], c)
	}
	if len(want) != 10 || len(Systems()) != 10 {
		t.Fatalf("%d systems in the source, %d here", len(want), len(Systems()))
	}
	for letter, channels := range want {
		if got, ok := System(letter); !ok || !reflect.DeepEqual(got, channels) {
			t.Errorf("system %s: got %v, want %v", letter, got, channels)
		}
	}
	if _, ok := System("K"); ok {
		t.Error("there is a system K")
	}
}
