// SPDX-License-Identifier: MIT

// Package table keeps lists as comma separated values that spreadsheets open as they
// are meant: UTF-8 with a byte order mark, a header, units in the header, numbers
// with a decimal point, and no text that a spreadsheet would take for a formula.
package table

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"strings"
)

// Cell is what stands in one cell, as it is written.
type Cell struct{ text string }

// Text returns a cell that reads as s and is never taken for a formula.
func Text(s string) Cell { return Cell{Guard(s)} }

// Number returns a cell with v to that many decimals, never minus zero.
func Number(v float64, decimals int) Cell {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return Cell{s}
}

// Empty returns a cell with nothing in it: not known, or does not apply.
func Empty() Cell { return Cell{} }

// mark is the byte order mark, by which spreadsheets know UTF-8.
const mark = "\ufeff"

// Table is a list that is to be kept.
type Table struct {
	Header []string
	rows   [][]Cell
}

// Add adds a row.
func (t *Table) Add(cells ...Cell) { t.rows = append(t.rows, cells) }

// CSV returns t as a file: the same table gives the same bytes. Lines end as RFC 4180
// wants, with a return and a new line.
func (t *Table) CSV() []byte {
	var b bytes.Buffer
	b.WriteString(mark)
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	line := make([]string, len(t.Header))
	for i, h := range t.Header {
		line[i] = Guard(h)
	}
	_ = w.Write(line) // a buffer takes everything
	for _, row := range t.rows {
		line = line[:0]
		for _, c := range row {
			line = append(line, c.text)
		}
		_ = w.Write(line)
	}
	w.Flush()
	return b.Bytes()
}

// Guard returns s with an apostrophe before what a spreadsheet would run as a formula,
// and before an apostrophe that stands first; see Unguard.
func Guard(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r'", rune(s[0])) {
		return "'" + s
	}
	return s
}

// Unguard returns what Guard was given. Text that was never guarded comes back as it
// is, unless somebody put an apostrophe before it as Guard does.
func Unguard(s string) string {
	if len(s) > 1 && s[0] == '\'' && strings.ContainsRune("=+-@\t\r'", rune(s[1])) {
		return s[1:]
	}
	return s
}
