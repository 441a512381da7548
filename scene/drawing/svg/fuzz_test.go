// SPDX-License-Identifier: MIT

package svg_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"testing"

	"earline/scene/drawing"
	"earline/scene/drawing/drawingtest"
	"earline/scene/drawing/svg"
)

// elements returns how many elements of each name a document has, or what is wrong with it.
func elements(doc []byte) (map[string]int, error) {
	n := map[string]int{}
	dec := xml.NewDecoder(bytes.NewReader(doc))
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return n, nil
		}
		if err != nil {
			return nil, err
		}
		if e, ok := token.(xml.StartElement); ok {
			n[e.Name.Local]++
		}
	}
}

// Sheets of every kind of mark are well-formed documents.
func TestSheetsAreWellFormed(t *testing.T) {
	for _, s := range drawingtest.Sheets() {
		n, err := elements(svg.Sheet(&s, drawing.NewTypeface(nil)))
		if err != nil || n["text"] < 5 || n["circle"] != 1 {
			t.Errorf("%s: %v, %v", s.Number, n, err)
		}
	}
}

// Whatever people write is text, and no part of the document.
func FuzzText(f *testing.F) {
	f.Add("plan", "walls", "4000")
	f.Add("]]></title><script>", `"><script>`, "&lt;\x00\xff</text>")
	f.Fuzz(func(t *testing.T, title, layer, text string) {
		s := drawing.Sheet{Title: title, Paper: drawing.Papers()[0]}
		s.Marks.Add(drawing.Text{Layer: layer, Ink: ink, Text: text, Size: 3})
		n, err := elements(svg.Sheet(&s, drawing.NewTypeface(nil)))
		if err != nil || n["text"] != 1 || n["svg"] != 1 || len(n) > 4 || n["script"] > 0 {
			t.Errorf("%v, %v", n, err)
		}
	})
}
