// SPDX-License-Identifier: MIT

package svg_test

import (
	"encoding/xml"
	"fmt"
	"image/color"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"earline/scene/drawing"
	"earline/scene/drawing/svg"
)

var ink = color.NRGBA{0x10, 0x20, 0x30, 0xff}

// A page of millimetres says so, and keeps layers, patterns, anchors and signs that
// XML gives a meaning to.
func Example() {
	c := svg.New(svg.Page{Width: 297, Height: 210, Unit: "mm", Title: "Plan & section", Typeface: drawing.NewTypeface(nil)})
	b := drawing.OnPaper(c)
	b.Layer = "walls"
	b.Lines(ink, 0.5, drawing.Solid, []drawing.Point{drawing.Pt(10, 10), drawing.Pt(100.123, 10)})
	b.Layer = "words"
	b.Text(ink, drawing.Label{X: 20, Y: 15.5, Text: "6.4 < 7", Size: 2.5, Width: 8, Anchor: drawing.Middle})
	b.Layer = ""
	b.Fill(color.NRGBA{R: 0xff, A: 0x80}, []drawing.Point{drawing.Pt(0, 0), drawing.Pt(5, 0), drawing.Pt(0, 5)})
	fmt.Print(string(c.Close()))
	// Output:
	// <svg xmlns="http://www.w3.org/2000/svg" width="297mm" height="210mm" viewBox="0 0 297 210" stroke="none" font-family="&#39;Go&#39;, Arial, Helvetica, sans-serif">
	// <title>Plan &amp; section</title>
	// <g class="walls">
	// <path d="M10 10L100.123 10" fill="none" stroke="#102030" stroke-width="0.5"/>
	// </g>
	// <g class="words">
	// <text x="24" text-anchor="middle" y="15.5" font-size="2.5" fill="#102030">6.4 &lt; 7</text>
	// </g>
	// <path d="M0 0L5 0L0 5Z" fill="#ff0000" fill-opacity="0.502"/>
	// </svg>
}

// Each part lies in a group of its layer, in the order of drawing.
func TestLayersKeepTheOrder(t *testing.T) {
	c := svg.New(svg.Page{Width: 10, Height: 10, Typeface: drawing.NewTypeface(nil)})
	for _, layer := range []string{"a", "a", "b", "", "a", `x"<&`} {
		c.Fill(layer, ink, []drawing.Point{drawing.Pt(0, 0), drawing.Pt(1, 0), drawing.Pt(0, 1)})
	}
	c.Stroke("never", drawing.Pen{}, nil)
	c.Fill("never", ink, nil)
	var got []string
	layer := ""
	dec := xml.NewDecoder(strings.NewReader(string(c.Close())))
	for {
		token, err := dec.Token()
		if err != nil {
			break
		}
		switch e := token.(type) {
		case xml.StartElement:
			switch e.Name.Local {
			case "g":
				layer = e.Attr[0].Value
			case "path":
				got = append(got, layer)
			}
		case xml.EndElement:
			if e.Name.Local == "g" {
				layer = ""
			}
		}
	}
	if diff := cmp.Diff([]string{"a", "a", "b", "", "a", `x"<&`}, got); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}
