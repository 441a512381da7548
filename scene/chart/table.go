// SPDX-License-Identifier: MIT

package chart

import (
	"cmp"
	"encoding/csv"
	"io"
	"math"
	"slices"
	"strconv"
)

// CSV writes the values of all series: a line for each x that any of them has, a
// column for each series, two for an Area. Gaps are empty. Numbers have a point
// and all their digits; units stand in the headings. Seconds are seconds here.
func (c *Chart) CSV(out io.Writer) error {
	t := table{chart: c, rows: map[rowKey][]string{}}
	t.headings()
	column := 1
	for i := range c.Series {
		t.addSeries(&c.Series[i], column)
		column += columns(&c.Series[i])
	}
	return t.write(out)
}

// table is a chart's values on their way to a file.
type table struct {
	chart *Chart
	heads []string
	rows  map[rowKey][]string
}

// rowKey names a line. Where a series has the same x twice, as two reflections that
// arrive at once, it has two lines.
type rowKey struct {
	x  float64
	nr int // 0 for the first point of a series at x, 1 for the second ...
}

// columns returns how many columns a series takes.
func columns(s *Series) int {
	if s.Kind == Area {
		return 2
	}
	return 1
}

func (t *table) headings() {
	c := t.chart
	x := c.X.Label
	if x == "" {
		x = "x"
	}
	t.heads = append(t.heads, heading(x, &c.X))
	for i := range c.Series {
		name := c.Series[i].Name
		if name == "" {
			name = "series " + strconv.Itoa(i+1)
		}
		if c.Series[i].Kind == Area {
			t.heads = append(t.heads, heading(name+" low", &c.Y), heading(name+" high", &c.Y))
		} else {
			t.heads = append(t.heads, heading(name, &c.Y))
		}
	}
}

// heading returns a name with the unit of an axis.
func heading(name string, ax *Axis) string {
	unit := ax.Unit
	switch {
	case ax.Kind == Frequency:
		unit = "Hz"
	case ax.Kind == Time:
		unit = "s"
	case ax.Kind == Decibel && unit == "":
		unit = "dB"
	}
	if unit == "" {
		return name
	}
	return name + " (" + unit + ")"
}

// addSeries enters the points of s from that column on.
func (t *table) addSeries(s *Series, column int) {
	seen := map[float64]int{}
	for k := range s.length() {
		x := s.X[k] + 0 // -0 is 0
		if !finite(x) {
			continue
		}
		row := t.row(rowKey{x, seen[x]})
		seen[x]++
		if s.Kind != Area {
			row[column] = cell(s.Y[k])
			continue
		}
		if k < len(s.Low) {
			row[column] = cell(s.Low[k])
		}
		row[column+1] = cell(s.Y[k])
	}
}

// row returns the line of that key, a new one where there is none.
func (t *table) row(key rowKey) []string {
	row, ok := t.rows[key]
	if !ok {
		row = make([]string, len(t.heads))
		row[0] = t.chart.xText(key.x)
		t.rows[key] = row
	}
	return row
}

// xText writes an x: the name of a category, else the number.
func (c *Chart) xText(x float64) string {
	if c.X.Kind == Category {
		if i := int(x); x == math.Trunc(x) && i >= 0 && i < len(c.X.Categories) {
			return c.X.Categories[i]
		}
	}
	return cell(x)
}

// cell writes a number; empty where it is none.
func cell(v float64) string {
	if !finite(v) {
		return ""
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func (t *table) write(out io.Writer) error {
	w := csv.NewWriter(out)
	if err := w.Write(t.heads); err != nil {
		return err
	}
	keys := make([]rowKey, 0, len(t.rows))
	for key := range t.rows {
		keys = append(keys, key)
	}
	slices.SortFunc(keys, func(a, b rowKey) int {
		return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.nr, b.nr))
	})
	for _, key := range keys {
		if err := w.Write(t.rows[key]); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}
