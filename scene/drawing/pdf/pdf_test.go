// SPDX-License-Identifier: MIT

package pdf_test

import (
	"bytes"
	"testing"
	"time"

	"earline/scene/drawing"
	"earline/scene/drawing/drawingtest"
	"earline/scene/drawing/pdf"
)

var info = pdf.Info{Title: "Set-out Łódź", Creator: "Earline", Made: time.Date(2026, 11, 29, 8, 0, 0, 0, time.UTC)}

func written(t testing.TB, info pdf.Info, s []drawing.Sheet) ([]byte, []rune) {
	t.Helper()
	var b bytes.Buffer
	lacking, err := pdf.Write(&b, s, info, drawing.NewTypeface(nil))
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes(), lacking
}

// The same sheets of the same date are the same bytes.
func TestReproducible(t *testing.T) {
	a, lacking := written(t, info, drawingtest.Sheets())
	b, _ := written(t, info, drawingtest.Sheets())
	if !bytes.Equal(a, b) {
		t.Error("two runs differ")
	}
	if len(lacking) > 0 {
		t.Errorf("no font has %q", lacking)
	}
	undated, _ := written(t, pdf.Info{}, drawingtest.Sheets())
	if bytes.Contains(undated, []byte("Date")) {
		t.Error("says a date where none was given")
	}
}
