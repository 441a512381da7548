// SPDX-License-Identifier: MIT

package words

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"earline/assets"
)

// Every entry has the placeholders of its key, and stands on a line of its own, in order.
func TestTheGermanCatalogueCanBeRead(t *testing.T) {
	data := assets.Words("de")
	if _, err := Read(data); err != nil {
		t.Fatal(err)
	}
	var keys []string
	for _, line := range strings.Split(strings.Trim(string(data), "{}\n"), "\n") {
		var one map[string]string
		if err := json.Unmarshal([]byte("{"+strings.TrimSuffix(line, ",")+"}"), &one); err != nil || len(one) != 1 {
			t.Fatalf("%s is no entry on a line of its own: %v", line, err)
		}
		for k, v := range one {
			keys = append(keys, k)
			if v == "" || strings.TrimSpace(k) == "" {
				t.Errorf("%q has no translation", k)
			}
			if strings.Count(k, "\n") != strings.Count(v, "\n") && !strings.HasPrefix(k, "\n") {
				t.Errorf("%q has other lines than %q", v, k)
			}
		}
	}
	if !slices.IsSorted(keys) {
		t.Error("the entries are not sorted")
	}
	if bytes.Contains(data, []byte("\r")) {
		t.Error("a carriage return stands in the catalogue")
	}
}
