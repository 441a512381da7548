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
	// The same x twice in a series, two reflections at once, makes two lines.
	type key struct {
		x  float64
		nr int
	}
	unit := func(ax *Axis) string {
		switch {
		case ax.Kind == Frequency:
			return "Hz"
		case ax.Kind == Time:
			return "s"
		case ax.Kind == Decibel && ax.Unit == "":
			return "dB"
		}
		return ax.Unit
	}
	head := func(name, unit string) string {
		if unit == "" {
			return name
		}
		return name + " (" + unit + ")"
	}
	x := c.X.Label
	if x == "" {
		x = "x"
	}
	heads := []string{head(x, unit(&c.X))}
	rows := map[key][]string{}
	var keys []key
	columns := 0
	for i := range c.Series {
		s := &c.Series[i]
		if s.Kind == Area {
			columns++
		}
		columns++
	}
	cell := func(v float64) string {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return ""
		}
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	at := 1
	for i := range c.Series {
		s := &c.Series[i]
		name := s.Name
		if name == "" {
			name = "series " + strconv.Itoa(i+1)
		}
		u := unit(&c.Y)
		wide := 1
		if s.Kind == Area {
			heads = append(heads, head(name+" low", u), head(name+" high", u))
			wide = 2
		} else {
			heads = append(heads, head(name, u))
		}
		seen := map[float64]int{}
		for k := range s.length() {
			if math.IsNaN(s.X[k]) || math.IsInf(s.X[k], 0) {
				continue
			}
			id := key{s.X[k] + 0, seen[s.X[k]]} // -0 is 0
			seen[s.X[k]]++
			row, ok := rows[id]
			if !ok {
				row = make([]string, 1+columns)
				row[0] = c.place(id.x)
				keys = append(keys, id)
			}
			if s.Kind == Area {
				if k < len(s.Low) {
					row[at] = cell(s.Low[k])
				}
				row[at+1] = cell(s.Y[k])
			} else {
				row[at] = cell(s.Y[k])
			}
			rows[id] = row
		}
		at += wide
	}
	slices.SortFunc(keys, func(a, b key) int {
		return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.nr, b.nr))
	})
	w := csv.NewWriter(out)
	if err := w.Write(heads); err != nil {
		return err
	}
	for _, id := range keys {
		if err := w.Write(rows[id]); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

// place writes an x: the name of a category, else the number.
func (c *Chart) place(x float64) string {
	if c.X.Kind == Category {
		if i := int(x); x == math.Trunc(x) && i >= 0 && i < len(c.X.Categories) {
			return c.X.Categories[i]
		}
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}
