// SPDX-License-Identifier: MIT

package file

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"

	"earline/project"
	"earline/project/table"
)

// PolarHeader is the first line of a table of polar data.
const PolarHeader = "plane,frequency_hz,angle_deg,level_db"

// DecodePolar reads how a model radiates from the bytes of a table as package table
// reads them; name is the file's name for messages. Its columns are those of
// PolarHeader, in any order; each further line is one level: plane "horizontal" or "vertical", frequency in hertz,
// angle in degrees (0 straight ahead, positive to the right of someone who looks
// at the front, or up), level in dB against the axis. Lines may come in any order;
// empty ones are passed over. Both planes must be there, each curve at the same angles.
//
// Some three times as many lines as the largest table has are read.
//
// The error joins a *project.Fault for each line that is wrong (the first hundred)
// or, when every line reads, for each curve that is incomplete. Source is left
// empty.
func DecodePolar(data []byte, name string) (project.Polar, error) {
	t := polarTable{faults: builder{file: name}, at: map[polarKey]polarLevel{}}
	const mostLines = 1_000_000
	if len(data) > MaxSize {
		return project.Polar{}, tooLarge(name)
	}
	if len(bytes.TrimSpace(data)) == 0 {
		t.faults.add("line 1", "an empty file", PolarHeader)
		return project.Polar{}, t.err()
	}
	r, err := table.Open(data, name)
	if err != nil {
		return project.Polar{}, err
	}
	columns := strings.Split(PolarHeader, ",")
	for i, c := range columns {
		if t.column[i] = r.Column(c); t.column[i] < 0 || len(r.Columns) != len(columns) {
			t.faults.add("line 1", shown(r.Head), PolarHeader)
			return project.Polar{}, t.err()
		}
	}
	over := bytes.Count(data, []byte("\n")) > mostLines // those that are empty among them
	for {
		line, cells, err := r.Next()
		if errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return project.Polar{}, errors.Join(append(t.faults.faults, err)...)
		}
		if line > mostLines {
			break
		}
		t.line(line, cells)
	}
	if over {
		t.faults.add("", fmt.Sprintf("over %d lines", mostLines), "the table of one model")
	}
	if len(t.faults.faults) > 0 {
		return project.Polar{}, t.err()
	}
	p := t.polar()
	if err := t.err(); err != nil {
		return project.Polar{}, err
	}
	return p, nil
}

// polarKey is a place in the table.
type polarKey struct {
	vertical         bool
	frequency, angle float64
}

// polarTable is the table as read.
type polarTable struct {
	faults builder
	column [4]int // of the file, by those of PolarHeader
	at     map[polarKey]polarLevel
}

// polarLevel is a level and the line that gave it.
type polarLevel struct {
	line  int
	level float64
}

func (t *polarTable) err() error {
	all := t.faults.faults
	if t.faults.more > 0 {
		all = append(all, &project.Fault{File: t.faults.file, Found: fmt.Sprintf("%d faults more", t.faults.more)})
	}
	return errors.Join(all...)
}

// line reads line n, counted from 1.
func (t *polarTable) line(n int, cells []string) {
	where := fmt.Sprintf("line %d", n)
	columns := strings.Split(PolarHeader, ",")
	for len(cells) > len(columns) && cells[len(cells)-1] == "" {
		cells = cells[:len(cells)-1]
	}
	if len(cells) != len(columns) {
		t.faults.add(where, fmt.Sprintf("%d columns", len(cells)), "4, as in "+PolarHeader)
		return
	}
	cell := func(i int) string { return cells[t.column[i]] }
	var k polarKey
	switch plane := cell(0); plane {
	case "horizontal":
	case "vertical":
		k.vertical = true
	default:
		t.faults.add(where+" plane", shown(plane), "horizontal or vertical")
		return
	}
	ok := true
	number := func(i int, lo, hi float64, unit string) float64 {
		v, err := table.ParseNumber(cell(i))
		allowed := fmt.Sprintf("%g%s to %g%s", lo, unit, hi, unit)
		if err != nil {
			t.faults.add(where+" "+columns[i], shown(cell(i)), "a number, "+allowed)
			ok = false
		} else if v < lo || v > hi {
			t.faults.add(where+" "+columns[i], fmt.Sprintf("%g%s", v, unit), allowed)
			ok = false
		}
		return v + 0 // no negative zero
	}
	// The limits are those of project.Design.Validate.
	k.frequency = number(1, 10, 100_000, " Hz")
	k.angle = number(2, -180, 180, "°")
	level := number(3, -120, 40, " dB")
	if !ok {
		return
	}
	if first, again := t.at[k]; again {
		t.faults.add(where, fmt.Sprintf("the place of line %d again", first.line), "each plane, frequency and angle once")
		return
	}
	t.at[k] = polarLevel{n, level}
}

// polar puts the table in order, or faults what is missing.
func (t *polarTable) polar() project.Polar {
	angles := map[float64]bool{}
	var curves [2]map[float64]bool // by plane: the frequencies
	for i := range curves {
		curves[i] = map[float64]bool{}
	}
	for k := range t.at {
		angles[k.angle] = true
		curves[plane(k.vertical)][k.frequency] = true
	}
	p := project.Polar{Angles: slices.Sorted(maps.Keys(angles))}
	if n := len(p.Angles); len(t.at) > 0 && (n < 2 || n > project.MaxPolar) {
		t.faults.add("angle_deg", fmt.Sprintf("%d angles", n), fmt.Sprintf("2 to %d", project.MaxPolar))
	}
	for i, name := range [2]string{"horizontal", "vertical"} {
		frequencies := slices.Sorted(maps.Keys(curves[i]))
		if n := len(frequencies); n < 1 || n > project.MaxPolar {
			t.faults.add(name, fmt.Sprintf("%d frequencies", n), fmt.Sprintf("1 to %d", project.MaxPolar))
			continue
		}
		for _, f := range frequencies {
			c := project.PolarCurve{Frequency: f}
			for _, a := range p.Angles {
				l, given := t.at[polarKey{i == 1, f, a}]
				if !given {
					t.faults.add(fmt.Sprintf("%s, %g Hz", name, f), fmt.Sprintf("no level at %g°", a), "a level at every angle that the file names")
					break
				}
				c.Level = append(c.Level, l.level)
			}
			if i == 0 {
				p.Horizontal = append(p.Horizontal, c)
			} else {
				p.Vertical = append(p.Vertical, c)
			}
		}
	}
	return p
}

func plane(vertical bool) int {
	if vertical {
		return 1
	}
	return 0
}

// shown returns text from a file as it can stand in a message of one line.
func shown(text string) string { return strconv.Quote(cut(text)) }
