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

// What somebody called something is nobody's to translate, though it is made of words that
// the catalogue has.
func TestNamesAreLeftAlone(t *testing.T) {
	c, err := Read(assets.Words("de"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"back of top platform", "Light on the left wall", "In-wall surround", "Three-way front",
		"Recliner, two arms", "Subwoofer, 380 mm driver", "Mum and Dad's cinema", "Cinema 2.0", "Room by the lake"} {
		if got := c.Of(name); got != name {
			t.Errorf("the name %q is shown as %q", name, got)
		}
	}
}

// Sentences of the trade, whole.
func TestSentencesInGerman(t *testing.T) {
	c, err := Read(assets.Words("de"))
	if err != nil {
		t.Fatal(err)
	}
	for english, want := range map[string]string{
		"1 to settle: Sides M±090: blocked for 5 of 14 seats; head in row 2 seat 2 stands 83 mm in the way of row 2 seat 3": "1 zu klären: Seiten M±090: verdeckt für 5 von 14 Plätzen; Kopf in Reihe 2 Platz 2 steht 83 mm im Weg von Reihe 2 Platz 3",
		"M+090 height: 1.400 m to 2.421 m":    "M+090 Höhe: 1,400 m auf 2,421 m",
		"M+000 reaches 13 mm into the wall":   "M+000 reicht 13 mm in die Wand",
		"Picture: 3 of 6 see all":             "Bild: 3 von 6 sehen alles",
		"From here you see the whole picture": "Von hier sehen Sie das ganze Bild",
		"Delay 3.20 ms, level -1.5 dB":        "Verzögerung 3,20 ms, Pegel -1,5 dB",
		"Ctrl+Shift+Z or Ctrl+Y":              "Strg+Umschalt+Z oder Strg+Y",
		"Undo: change the ceiling height":     "Rückgängig: Deckenhöhe ändern",
		"Undo: change the material of door":   "Rückgängig: Material ändern: Tür",
		"3 new, 1 goes, 5 move":               "3 neu, 1 entfällt, 5 ziehen um",
		"Not done: there is nothing to undo.": "Nicht ausgeführt: es gibt nichts rückgängig zu machen.",
		"Overview  |  not saved":              "Überblick  |  nicht gesichert",
	} {
		if got := c.Of(english); got != want {
			t.Errorf("%q\n is %q,\nwant %q", english, got, want)
		}
	}
}
