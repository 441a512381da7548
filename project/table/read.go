// SPDX-License-Identifier: MIT

package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"earline/geometry/unit"
	"earline/project"
)

// Reader reads a table line by line, whatever a spreadsheet of any country made of it:
// commas, semicolons or tabs between the cells, decimal commas, a mark at the
// beginning, quotes. Columns are known by their heads, whatever their order.
type Reader struct {
	Head    string   // the first line that is not empty, as it stands there
	Columns []string // what it says, cell by cell

	csv  *csv.Reader
	name string
}

// Open reads the head of the table in data; name is the file's name for messages. The
// error is a *project.Fault: no UTF-8, nothing in it.
func Open(data []byte, name string) (*Reader, error) {
	data = bytes.TrimPrefix(data, []byte(mark))
	if line, column, ok := invalid(data); ok {
		return nil, &project.Fault{File: name, Field: fmt.Sprintf("line %d column %d", line, column),
			Found: fmt.Sprintf("byte 0x%02x", data[offset(data, line, column)]), Allowed: "text in UTF-8"}
	}
	r := &Reader{name: name, csv: csv.NewReader(bytes.NewReader(data))}
	for line := range bytes.Lines(data) {
		if r.Head = strings.TrimRight(string(line), "\r\n"); strings.TrimSpace(r.Head) != "" {
			break
		}
	}
	r.csv.Comma = separator(r.Head)
	r.csv.FieldsPerRecord, r.csv.LazyQuotes, r.csv.ReuseRecord = -1, true, true
	if _, cells, err := r.Next(); err == nil {
		r.Columns = append(r.Columns, cells...)
		for len(r.Columns) > 0 && r.Columns[len(r.Columns)-1] == "" {
			r.Columns = r.Columns[:len(r.Columns)-1]
		}
	} else if !errors.Is(err, io.EOF) {
		return nil, err
	}
	if len(r.Columns) == 0 {
		return nil, &project.Fault{File: name, Field: "line 1", Found: "an empty file", Allowed: "a line that names the columns"}
	}
	return r, nil
}

// separator returns what stands between the cells of a head: the one of comma,
// semicolon and tab that it has most of.
func separator(head string) rune {
	best, most := ',', strings.Count(head, ",")
	for _, s := range ";\t" {
		if n := strings.Count(head, string(s)); n > most {
			best, most = s, n
		}
	}
	return best
}

// invalid returns where data is no UTF-8, counted from 1, in bytes.
func invalid(data []byte) (line, column int, ok bool) {
	if utf8.Valid(data) {
		return 0, 0, false
	}
	line, column = 1, 1
	for i := 0; i < len(data); {
		c, n := utf8.DecodeRune(data[i:])
		if c == utf8.RuneError && n == 1 {
			return line, column, true
		}
		if i, column = i+n, column+n; c == '\n' {
			line, column = line+1, 1
		}
	}
	return 0, 0, false
}

func offset(data []byte, line, column int) int {
	at := 0
	for ; line > 1; line-- {
		at += bytes.IndexByte(data[at:], '\n') + 1
	}
	return at + column - 1
}

// Next returns the next line that is not empty: its number, counted from 1, and its
// cells, without the blanks round them. They hold until Next is called again. The
// error is io.EOF after the last, else a *project.Fault.
func (r *Reader) Next() (line int, cells []string, err error) {
	for {
		cells, err = r.csv.Read()
		if errors.Is(err, io.EOF) {
			return 0, nil, io.EOF
		}
		var wrong *csv.ParseError
		if errors.As(err, &wrong) {
			return wrong.Line, nil, r.fault(wrong.StartLine, "a cell that cannot be told from the next", "quotes round the whole of a cell, or none")
		} else if err != nil {
			return 0, nil, err
		}
		line, _ = r.csv.FieldPos(0)
		empty := true
		for i, c := range cells {
			if strings.ContainsAny(c, "\n\r") {
				return line, nil, r.fault(line, "a cell of several lines", "one line; a quote may not be closed")
			}
			c = Unguard(strings.TrimSpace(c))
			cells[i] = c
			empty = empty && c == ""
		}
		if !empty {
			return line, cells, nil
		}
	}
}

func (r *Reader) fault(line int, found, allowed string) error {
	return &project.Fault{File: r.name, Field: fmt.Sprintf("line %d", line), Found: found, Allowed: allowed}
}

// Column returns which column is headed name: capitals, blanks and a unit in brackets
// after it do not matter. -1 for none.
func (r *Reader) Column(name string) int {
	for i, c := range r.Columns {
		if plain(c) == plain(name) {
			return i
		}
	}
	return -1
}

// plain returns a head as heads are compared: "Measured [mm]" is "measured".
func plain(head string) string {
	head, _, _ = strings.Cut(head, "(")
	head, _, _ = strings.Cut(head, "[")
	return strings.ToLower(strings.Join(strings.FieldsFunc(head, func(r rune) bool { return r == ' ' || r == '_' || r == '-' }), "_"))
}

// ParseNumber reads a number with a decimal point or a decimal comma. The error says in one
// line what was found and what is allowed.
func ParseNumber(cell string) (float64, error) {
	if v, err := strconv.ParseFloat(cell, 64); err == nil && !math.IsNaN(v) && !math.IsInf(v, 0) {
		return v, nil
	}
	return unit.ParseNumber(cell)
}
