// SPDX-License-Identifier: MIT

package chart

import (
	"bytes"

	"earline/project/disk"
)

// Save writes the chart on show to the file at path, wholly or not at all; kind
// is chart.PNG, chart.SVG, chart.PDF or chart.CSV.
func (c *Chart) Save(kind, path string) error {
	var b bytes.Buffer
	if err := c.chart.Write(&b, kind, windowFont()); err != nil {
		return err
	}
	return disk.Replace(path, b.Bytes())
}
