// SPDX-License-Identifier: MIT

package handout_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"earline/project"
	"earline/project/handover"
	"earline/scene/drawing"
	"earline/scene/drawing/drawingtest"
	"earline/scene/drawing/pdf"
	"earline/scene/handout"
)

// A usual room is one page, a large one two; whatever the units, nothing is cut off and
// every loudspeaker stands in it.
func TestTheCalibrationRecordIsOnePageForAUsualRoom(t *testing.T) {
	face := drawing.NewTypeface(nil)
	for name, most := range map[string]int{"small": 1, "two-row": 1, "large": 2, "room-b": 2} {
		for _, u := range []project.Units{project.Metric, project.Imperial} {
			d := open(t, name).Clone()
			d.Units = u
			d.Job = project.Job{Reference: "2026-17, lower ground floor", Revision: "C", RevisedOn: "2026-11-29"}
			sheets := handout.Record(handover.Of(d, nil), "0123 4567 89ab cdef", face)
			if len(sheets) > most {
				t.Errorf("%s, %s: %d pages", name, u, len(sheets))
			}
			within(t, sheets, face)
			text := words(sheets)
			for _, l := range d.Speakers {
				if !strings.Contains(text, l.Name()+"\n") {
					t.Errorf("%s: no %s", name, l.Name())
				}
			}
			for _, want := range []string{"Calibration record", "2026-17", "revision C", "measured on, by", "Order of work", "NIOSH", "cd/m²"} {
				if !strings.Contains(text, want) {
					t.Errorf("%s: no %q", name, want)
				}
			}
		}
	}
}

// Other programs read the page: its size, its words, typefaces that are within it.
func TestTheCalibrationRecordAsPDFIsReadByOthers(t *testing.T) {
	face := drawing.NewTypeface(nil)
	d := open(t, "small")
	var b bytes.Buffer
	if lacking, err := pdf.Write(&b, handout.Record(handover.Of(d, nil), "", face), pdf.Info{Title: d.Name}, face); err != nil || len(lacking) > 0 {
		t.Fatal(err, string(lacking))
	}
	name := filepath.Join(t.TempDir(), "record.pdf")
	if err := os.WriteFile(name, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	about := drawingtest.Run(t, "pdfinfo", name)
	if !strings.Contains(about, "(A4)") || !strings.Contains(strings.Join(strings.Fields(about), " "), "Pages: 1 ") {
		t.Error(about)
	}
	fonts := strings.Split(strings.TrimSpace(drawingtest.Run(t, "pdffonts", name)), "\n")
	for _, line := range fonts[2:] {
		if cells := strings.Fields(line); len(cells) < 6 || cells[len(cells)-5] != "yes" {
			t.Errorf("a typeface is not in the file: %s", line)
		}
	}
	text := strings.Join(strings.Fields(drawingtest.Run(t, "pdftotext", "-layout", name, "-")), " ")
	for _, want := range []string{"M+030 left front", "LFE1 subwoofer", "48 ± 10.2", "not kept yet"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
}
