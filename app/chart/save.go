// SPDX-License-Identifier: MIT

package chart

import (
	"bytes"
	"fmt"
	"io"

	"earline/project/disk"
	"earline/scene/plot"
)

// What is exported is for paper, and large enough for half a page: 900 by 500
// points, twice as many pixels.
const (
	paperWidth  = 900
	paperHeight = 500
	paperScale  = 2
)

// Write writes a chart, with its title and note, as that kind of file: PNG, SVG
// or CSV.
func Write(out io.Writer, p *plot.Chart, kind string) error {
	s := plot.Light()
	s.Font = windowFont()
	switch kind {
	case PNG:
		return p.Lay(plot.Paper{W: paperWidth * paperScale, H: paperHeight * paperScale, Scale: paperScale, Style: s}).PNG(out)
	case SVG:
		return p.Lay(plot.Paper{W: paperWidth, H: paperHeight, Scale: 1, Style: s}).SVG(out)
	case CSV:
		return p.CSV(out)
	}
	return fmt.Errorf("chart: found kind %q; allowed is %s, %s or %s", kind, PNG, SVG, CSV)
}

// Save writes the chart on show to the file at path, wholly or not at all.
func (c *Chart) Save(kind, path string) error {
	var b bytes.Buffer
	if err := Write(&b, c.chart, kind); err != nil {
		return err
	}
	return disk.Replace(path, b.Bytes())
}
