// SPDX-License-Identifier: MIT

package file

import (
	"errors"
	"fmt"
	"io"

	"earline/project"
	"earline/project/table"
)

// TargetHeader is the first line of a table of a target.
const TargetHeader = "hz,db"

// DecodeTarget reads a target for the bass from the bytes of a table as package table
// reads them; name is the file's name for messages. Its columns are those of
// TargetHeader; each further line is a point, frequencies ascending. What may stand in a
// point says Design.Validate; the error is a *project.Fault for a line that cannot be read.
func DecodeTarget(data []byte, name string) (project.Target, error) {
	var t project.Target
	fault := func(where, found, allowed string) (project.Target, error) {
		return project.Target{}, &project.Fault{File: name, Field: where, Found: found, Allowed: allowed}
	}
	if len(data) > MaxSize {
		return project.Target{}, tooLarge(name)
	}
	r, err := table.Open(data, name)
	if err != nil {
		return project.Target{}, err
	}
	hz, db := r.Column("hz"), r.Column("db")
	if hz < 0 || db < 0 {
		return fault("line 1", shown(r.Head), TargetHeader)
	}
	for {
		line, cells, err := r.Next()
		if errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return project.Target{}, err
		}
		where := fmt.Sprintf("line %d", line)
		if len(t.Points) == project.MaxTargetPoints {
			return fault(where, "one more point", fmt.Sprintf("at most %d", project.MaxTargetPoints))
		}
		if len(cells) <= max(hz, db) {
			return fault(where, fmt.Sprintf("%d columns", len(cells)), "as many as line 1 has")
		}
		var p project.TargetPoint
		for _, v := range []struct {
			name string
			cell string
			to   *float64
		}{{"hz", cells[hz], &p.Frequency}, {"db", cells[db], &p.Level}} {
			if *v.to, err = table.ParseNumber(v.cell); err != nil {
				return fault(where+" "+v.name, shown(v.cell), "a number")
			}
		}
		t.Points = append(t.Points, p)
	}
	if len(t.Points) == 0 {
		return fault("", "no points", "a line for each point after "+TargetHeader)
	}
	return t, nil
}
