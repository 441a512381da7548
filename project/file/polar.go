// SPDX-License-Identifier: MIT

package file

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"earline/project"
)

// PolarHeader is the first line of a table of polar data.
const PolarHeader = "plane,frequency_hz,angle_deg,level_db"

// DecodePolar reads how a model radiates from the bytes of a comma-separated text
// file; name is the file's name for messages. Its first line is PolarHeader; each
// further line is one level: plane "horizontal" or "vertical", frequency in hertz,
// angle in degrees (0 straight ahead, positive to the right of someone who looks
// at the front, or up), level in dB against the axis. Lines may come in any order;
// empty ones are passed over. Numbers have a decimal point; nothing is quoted.
// Both planes must be there, each curve at the same angles.
//
// Some three times as many lines as the largest table has are read.
//
// The error joins a *project.Fault for each line that is wrong (the first hundred)
// or, when every line reads, for each curve that is incomplete. Source is left
// empty.
func DecodePolar(data []byte, name string) (project.Polar, error) {
	t := polarTable{faults: builder{file: name}, at: map[polarKey]int{}}
	const mostLines = 1_000_000
	if len(data) > MaxSize {
		return project.Polar{}, tooLarge(name)
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")) // as spreadsheets begin a file
	if at := invalidUTF8(data); at >= 0 {
		t.faults.add(place(data, at), fmt.Sprintf("byte 0x%02x", data[at]), "text in UTF-8")
		return project.Polar{}, t.err()
	}
	n := 0
	for line := range strings.Lines(string(data)) {
		if n++; n > mostLines {
			t.faults.add("", fmt.Sprintf("over %d lines", mostLines), "the table of one model")
			break
		}
		t.line(n, strings.TrimRight(line, "\r\n"))
		if n == 1 && len(t.faults.faults) > 0 {
			return project.Polar{}, t.err() // another table: the rest would only say so again
		}
	}
	if n == 0 {
		t.faults.add("line 1", "an empty file", PolarHeader)
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
	at     map[polarKey]int // the line that gave each level
	levels []float64        // by line, from 1; only what at names counts
}

func (t *polarTable) err() error {
	all := t.faults.faults
	if t.faults.more > 0 {
		all = append(all, &project.Fault{File: t.faults.file, Found: fmt.Sprintf("%d faults more", t.faults.more)})
	}
	return errors.Join(all...)
}

// line reads line n, counted from 1.
func (t *polarTable) line(n int, text string) {
	t.levels = append(t.levels, 0)
	where := fmt.Sprintf("line %d", n)
	if n == 1 {
		if strings.TrimSpace(text) != PolarHeader {
			t.faults.add(where, shown(text), PolarHeader)
		}
		return
	}
	if strings.TrimSpace(text) == "" {
		return
	}
	cells := strings.Split(text, ",")
	columns := strings.Split(PolarHeader, ",")
	if len(cells) != len(columns) {
		t.faults.add(where, fmt.Sprintf("%d columns", len(cells)), "4, as in "+PolarHeader)
		return
	}
	var k polarKey
	switch plane := strings.TrimSpace(cells[0]); plane {
	case "horizontal":
	case "vertical":
		k.vertical = true
	default:
		t.faults.add(where+" plane", shown(plane), "horizontal or vertical")
		return
	}
	ok := true
	number := func(i int, lo, hi float64, unit string) float64 {
		v, err := strconv.ParseFloat(strings.TrimSpace(cells[i]), 64)
		allowed := fmt.Sprintf("%g%s to %g%s", lo, unit, hi, unit)
		if err != nil || math.IsNaN(v) {
			t.faults.add(where+" "+columns[i], shown(cells[i]), "a number, "+allowed)
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
		t.faults.add(where, fmt.Sprintf("the place of line %d again", first), "each plane, frequency and angle once")
		return
	}
	t.at[k], t.levels[n-1] = n, level
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
				n, given := t.at[polarKey{i == 1, f, a}]
				if !given {
					t.faults.add(fmt.Sprintf("%s, %g Hz", name, f), fmt.Sprintf("no level at %g°", a), "a level at every angle that the file names")
					break
				}
				c.Level = append(c.Level, t.levels[n-1])
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
