// SPDX-License-Identifier: MIT

package decay

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"earline/project"
	"earline/project/table"
)

// Header is the first line of a table of measured times.
const Header = "hz,t60_s"

// MaxSize is the size up to which a table is read, bytes.
const MaxSize = 1 << 20

// heads are what the columns may be called besides; T20, T30 and EDT are all stated for a
// fall by 60 dB.
var heads = [2][]string{
	{"hz", "frequency_hz", "frequency", "freq", "f", "third", "band"},
	{"t60_s", "t60", "rt60_s", "rt60", "t30_s", "t30", "t20_s", "t20", "seconds", "s", "time_s", "time"},
}

// Reading is what a table says.
type Reading struct {
	Times   []project.ThirdTime // ascending
	Remarks []string            // what was passed over, and how the table was taken
}

// Read reads measured times from the bytes of a table as package table reads them; name is
// the file's name for messages. A line each third of an octave: its middle in hertz,
// nominal or exact, and its time in seconds, in columns that Header names, or in that
// order without a head. Lines may come in any order; empty cells are not measured.
//
// The error is a *project.Fault that says in one line what is wrong: milliseconds, the
// columns the other way round, a frequency that is no third of an octave, one given twice,
// a time that no room has.
func Read(data []byte, name string) (*Reading, error) {
	fault := func(field, found, allowed string) error {
		return &project.Fault{File: name, Field: field, Found: found, Allowed: allowed}
	}
	if len(data) > MaxSize {
		return nil, fault("", fmt.Sprintf("%d bytes", len(data)), fmt.Sprintf("at most %d", MaxSize))
	}
	t, err := table.Open(data, name)
	if err != nil {
		return nil, err
	}
	var lines []line
	column, headless := columns(t)
	switch {
	case headless:
		lines = append(lines, line{1, t.Columns[0], t.Columns[1]})
	case column[0] < 0 || column[1] < 0:
		return nil, fault("line 1", quoted(t.Head), "columns "+Header)
	case strings.Contains(strings.ToLower(t.Columns[column[1]]), "ms"):
		return nil, fault("line 1", quoted(t.Columns[column[1]]), "times in seconds")
	case strings.Contains(strings.ToLower(t.Columns[column[0]]), "khz"):
		return nil, fault("line 1", quoted(t.Columns[column[0]]), "frequencies in hertz")
	}
	for {
		n, cells, err := t.Next()
		if errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, err
		}
		if len(cells) <= max(column[0], column[1]) {
			if len(cells) > column[0] { // no time: not measured
				continue
			}
			return nil, fault(fmt.Sprintf("line %d", n), fmt.Sprintf("%d cells", len(cells)), "a frequency and a time")
		}
		lines = append(lines, line{n, cells[column[0]], cells[column[1]]})
	}
	return taken(lines, fault)
}

// line is one line of a table.
type line struct {
	n        int
	hz, time string
}

// columns returns where the frequency and the time stand; headless is whether the first
// line is one of numbers already.
func columns(t *table.Reader) (at [2]int, headless bool) {
	if len(t.Columns) >= 2 {
		_, a := table.ParseNumber(t.Columns[0])
		_, b := table.ParseNumber(t.Columns[1])
		if a == nil && b == nil {
			return [2]int{0, 1}, true
		}
	}
	for i, names := range heads {
		at[i] = -1
		for _, n := range names {
			if c := t.Column(n); c >= 0 && at[i] < 0 {
				at[i] = c
			}
		}
	}
	return at, false
}

// taken turns the lines into times.
func taken(lines []line, fault func(field, found, allowed string) error) (*Reading, error) {
	type value struct {
		line     int
		hz, time float64
	}
	var values []value
	for _, l := range lines {
		if l.time == "" {
			continue
		}
		where := fmt.Sprintf("line %d", l.n)
		hz, err := table.ParseNumber(l.hz)
		if err != nil {
			return nil, fault(where, quoted(l.hz), "a frequency in hertz, such as 31.5")
		}
		time, err := table.ParseNumber(l.time)
		if err != nil {
			return nil, fault(where, quoted(l.time), "a time in seconds, such as 0.45")
		}
		values = append(values, value{l.n, hz, time})
	}
	if len(values) == 0 {
		return nil, fault("", "no times", "a line for each third of an octave: "+Header)
	}
	third := func(f float64) (float64, bool) {
		const near = 0.03 // as a logarithm: exact and nominal middles differ by less than 1 %
		t := project.NearestThird(f)
		return t, f > 0 && math.Abs(math.Log(f/t)) < near
	}
	isTime := func(v float64) bool { return v >= project.MinDecay && v <= project.MaxDecay }
	every := func(test func(value) bool) bool {
		return !slices.ContainsFunc(values, func(v value) bool { return !test(v) })
	}
	swapped := func(v value) bool { _, ok := third(v.time); return ok && isTime(v.hz) }
	if every(swapped) && !every(func(v value) bool { _, ok := third(v.hz); return ok && isTime(v.time) }) {
		return nil, fault("", "times first, frequencies second", "frequencies first, or a head: "+Header)
	}
	if every(func(v value) bool { return v.time > project.MaxDecay }) {
		return nil, fault("", fmt.Sprintf("times such as %g: milliseconds?", values[0].time), fmt.Sprintf("seconds, %g to %d", project.MinDecay, project.MaxDecay))
	}
	r := &Reading{}
	from := map[float64]int{} // line by third
	all := project.Thirds()
	lowest, highest := all[0], all[len(all)-1]
	var out []string
	for _, v := range values {
		where := fmt.Sprintf("line %d", v.line)
		hz, ok := third(v.hz)
		beyond := v.hz > 0 && (v.hz < lowest*0.9 || v.hz > highest*1.1)
		switch first, again := from[hz]; {
		case beyond && isTime(v.time):
			out = append(out, fmt.Sprintf("%g", v.hz))
			continue
		case !(v.hz > 0):
			return nil, fault(where, fmt.Sprintf("%g Hz", v.hz), fmt.Sprintf("%g to %g Hz", lowest, highest))
		case !ok:
			return nil, fault(where, fmt.Sprintf("%g Hz", v.hz), fmt.Sprintf("the middle of a third of an octave; the nearest is %g Hz", hz))
		case again:
			return nil, fault(where, fmt.Sprintf("%g Hz again", hz), fmt.Sprintf("each third once; line %d has it too", first))
		case !isTime(v.time):
			return nil, fault(where, fmt.Sprintf("%g s at %g Hz", v.time, hz), fmt.Sprintf("%g to %d s", project.MinDecay, project.MaxDecay))
		}
		from[hz] = v.line
		r.Times = append(r.Times, project.ThirdTime{Hz: hz, Time: v.time})
	}
	if len(r.Times) == 0 {
		return nil, fault("", "no third from 16 Hz to 10 kHz", "a line for each third of an octave: "+Header)
	}
	slices.SortFunc(r.Times, func(a, b project.ThirdTime) int { return int(math.Copysign(1, a.Hz-b.Hz)) })
	if len(out) > 0 {
		r.Remarks = append(r.Remarks, fmt.Sprintf("%s Hz left out: times are kept from %g Hz to %g kHz.", strings.Join(out, ", "), lowest, highest/1000))
	}
	octaves := append(slices.Clone(octaveMiddles()), 31.5, 16)
	if len(r.Times) >= 3 && !slices.ContainsFunc(r.Times, func(t project.ThirdTime) bool { return !slices.Contains(octaves, t.Hz) }) {
		r.Remarks = append(r.Remarks, "The table has octaves only: each is taken for the third in its middle.")
	}
	return r, nil
}

func octaveMiddles() []float64 { o := project.Octaves(); return o[:] }

// quoted returns text from a file in quotes, cut where it grows long.
func quoted(s string) string {
	const most = 60
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "…"
	}
	return fmt.Sprintf("%q", s)
}

// Doubts returns a question for each of the times that is over ten times as long or as
// short as is computed for the room as planned, one line each: a slip of the unit, or
// another room's.
func (r *Result) Doubts(times []project.ThirdTime) []string {
	const most = 10
	var out []string
	for _, m := range times {
		for _, t := range r.Thirds {
			computed := t.Modal
			if computed == 0 {
				computed = t.Diffuse
			}
			if t.Hz != m.Hz || computed == 0 {
				continue
			}
			if by := m.Time / computed; by > most || by < 1.0/most {
				much := fmt.Sprintf("%.0f times as long as", by)
				if by < 1 {
					much = fmt.Sprintf("%.0f times as short as", 1/by)
				}
				out = append(out, fmt.Sprintf("%g Hz: %g s is %s computed for this room, %.2f s: is it so?", m.Hz, m.Time, much, computed))
			}
		}
	}
	return out
}
