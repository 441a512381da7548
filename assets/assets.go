// SPDX-License-Identifier: MIT

// Package assets holds what Earline carries inside its program: demo designs,
// the design a new room starts from, a table of materials, the JSON Schema of
// the file format, the manual, and the program's icon.
// Rooms and equipment are invented.
package assets

import (
	"embed"
	"strings"
)

//go:embed demos/*.earline start.earline earline.schema.json materials.tsv icon.svg icon.png manual/*.md words/*.json
var files embed.FS

// Demo is a design to look at and learn from.
type Demo struct {
	Name  string // as a command line names it
	Title string
	Story string // one line: what there is to see
	Data  []byte // its file, for project/file.Decode
}

// Demos returns the demos from the smallest room to the largest.
func Demos() []Demo {
	demos := []Demo{
		{Name: "small", Title: "Small room, one row",
			Story: "Three seats, five loudspeakers around and two above; raised surrounds reach every seat over its neighbours."},
		{Name: "two-row", Title: "Two rows under a sloping ceiling",
			Story: "Six seats; the riser is chosen so that the second row sees the picture and the front loudspeakers over heads."},
		{Name: "large", Title: "Large room, three rows",
			Story: "Fourteen seats and one fault to find: side loudspeakers at ear height, with heads in their way."},
	}
	for i := range demos {
		demos[i].Data = read("demos/" + demos[i].Name + ".earline")
	}
	return demos
}

// DemoNamed returns the demo of that name, in any case.
func DemoNamed(name string) (Demo, bool) {
	for _, d := range Demos() {
		if strings.EqualFold(d.Name, name) {
			return d, true
		}
	}
	return Demo{}, false
}

// Start returns the file of the design that a new room starts from.
func Start() []byte { return read("start.earline") }

// Schema returns the JSON Schema (2020-12) of a design file.
func Schema() []byte { return read("earline.schema.json") }

// Icon returns the program's icon, an SVG: an ear, a loudspeaker's cone, and the straight
// line between them.
func Icon() []byte { return read("icon.svg") }

// IconPixels returns the same as a PNG of 128 x 128 pixels: a window that draws its icon
// opens a tenth of a second later.
func IconPixels() []byte { return read("icon.png") }

// Materials returns a table of absorption coefficients, tab separated: id, name,
// the octaves 125 Hz to 8 kHz (the last may be empty), source. The figures are
// those printed in the sources; handbooks differ by up to a factor of three at
// the low end.
func Materials() []byte { return read("materials.tsv") }

// read returns an embedded file. The names are fixed above and checked by test.
func read(name string) []byte {
	data, err := files.ReadFile(name)
	if err != nil {
		panic("assets: " + err.Error())
	}
	return data
}
