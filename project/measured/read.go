// SPDX-License-Identifier: MIT

package measured

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"earline/project"
	"earline/project/place"
	"earline/project/table"
)

// MaxSize is the size of the largest table that is read, in bytes; MaxLines its lines.
const (
	MaxSize  = 16 << 20
	MaxLines = 400_000
)

// The fewest points of a response, and the range of frequencies that is kept, hertz:
// thinned they are no more than project.MaxPoints.
const (
	FewestPoints = 8
	LowestKept   = 10
	HighestKept  = 40_000
	perThird     = 16   // points that are kept of a third of an octave: 48 to the octave
	dust         = 1e-9 // an edge belongs to the band above it
)

// Reading is what a table says.
type Reading struct {
	Responses []project.Response
	Remarks   []string // what was made of it, each in one line
}

// Options say what a table does not.
type Options struct {
	// Seat is whose response a table without a column of seats is, as people name it:
	// "2.3", or "row 2 seat 3".
	Seat string
	// Name is the table's name for messages, Source what is kept of where it is from.
	Name, Source string
}

// Read reads a table of responses at the seats of d: the columns seat, hz and db, a line a
// point; or hz and db of one seat, without a head if need be. A column of says what
// played; without it all subwoofers did. Further columns, such as the phase, are left
// alone. Lines that begin with # or * are comments.
//
// The error is a *project.Fault, one: nothing is used of a table with a fault.
func Read(data []byte, d *project.Design, o Options) (*Reading, error) {
	r := reader{design: d, name: o.Name, at: map[[2]string]int{}, of: map[string]string{project.AllSubwoofers: project.AllSubwoofers}}
	if len(data) > MaxSize {
		return nil, r.fault("", fmt.Sprintf("%.0f MB", float64(len(data))/1e6), fmt.Sprintf("%d MB", MaxSize>>20))
	}
	r.gather()
	t, headed, err := open(data, o.Name)
	if err != nil {
		return nil, err
	}
	if err := r.columns(t, headed, o.Seat); err != nil {
		return nil, err
	}
	if err := r.lines(t, headed); err != nil {
		return nil, err
	}
	return r.finish(o.Source)
}

// NamesSeats reports whether a table has a column of seats: another is of one seat, which
// Options name. It is false for what cannot be read.
func NamesSeats(data []byte) bool {
	t, headed, err := open(data, "")
	return err == nil && headed && t.Column("seat") >= 0
}

// open reads the head of a table; headed is false for one that begins with numbers, whose
// columns are then those of a single response. Comments count as empty lines.
func open(data []byte, name string) (t *table.Reader, headed bool, err error) {
	var lines [][]byte
	head := -1
	for line := range bytes.Lines(bytes.TrimPrefix(data, []byte("\ufeff"))) {
		text := bytes.TrimSpace(line)
		if len(text) > 0 && (text[0] == '#' || text[0] == '*') {
			text = nil
		}
		if head < 0 && len(text) > 0 {
			head = len(lines)
		}
		lines = append(lines, text)
	}
	if head < 0 {
		t, err = table.Open(nil, name)
		return t, true, err
	}
	cells := numbers(lines[head])
	headed = cells == nil
	if !headed {
		named := []string{"hz", "db"}
		for len(named) < len(cells) {
			named = append(named, fmt.Sprintf("column %d", len(named)+1))
		}
		lines = slices.Insert(lines, head, []byte(strings.Join(named, "\t")))
	}
	blanks := headed && !bytes.ContainsAny(lines[head], ",;\t")
	for i, line := range lines {
		if i < head || !headed && i == head {
			continue
		}
		if cells := numbers(line); cells != nil && !headed {
			lines[i] = bytes.Join(cells, []byte{'\t'})
		} else if blanks && len(line) > 0 {
			lines[i] = bytes.Join(bytes.Fields(line), []byte{'\t'})
		}
	}
	t, err = table.Open(bytes.Join(lines, []byte{'\n'}), name)
	return t, headed, err
}

// numbers returns the cells of a line of numbers, two at least, with decimal points: with
// tabs, semicolons or blanks between them, or else commas. It returns nil for another.
func numbers(line []byte) [][]byte {
	for _, mark := range []string{"\t", ";", " ", ","} {
		cells := bytes.Split(bytes.TrimRight(line, mark), []byte(mark))
		if mark == " " {
			cells = bytes.Fields(line)
		}
		if len(cells) > 1 && pointed(cells) {
			return cells
		}
	}
	return nil
}

// pointed puts decimal points into cells; false where one is no number.
func pointed(cells [][]byte) bool {
	for i, c := range cells {
		c = bytes.TrimSpace(c)
		v, err := table.ParseNumber(string(c))
		if err != nil || bytes.HasSuffix(c, []byte{','}) {
			return false
		}
		if cells[i] = c; bytes.Contains(c, []byte{','}) {
			cells[i] = strconv.AppendFloat(nil, v, 'g', -1, 64)
		}
	}
	return true
}

// reader is a table while it is read.
type reader struct {
	design *project.Design
	name   string
	seats  map[string]string // ids, by what people call a seat
	first  string            // names of the first and the last seat
	last   string
	of     map[string]string // what can play, by its name

	seat, hz, db, played int // columns; -1 for none
	only                 string
	at                   map[[2]string]int // which response a seat and what played have
	all                  []points
	unknown              []string // seats that the room has not
}

// points are the points of one response, in the order of the table.
type points struct {
	seat, of string // ids
	hz, db   []float64
}

func (r *reader) fault(field, found, allowed string) error {
	return &project.Fault{File: r.name, Field: field, Found: found, Allowed: allowed}
}

// gather collects what seats and loudspeakers are called.
func (r *reader) gather() {
	r.seats = map[string]string{}
	for _, s := range place.Seats(r.design) {
		id := r.design.Seating.Rows[s.Row-1].SeatID(s.Number)
		r.last = s.Name()
		if r.first == "" {
			r.first = r.last
		}
		for _, name := range []string{r.last, fmt.Sprintf("row %d seat %d", s.Row, s.Number), "seat " + r.last} {
			r.seats[name] = id
		}
		if _, taken := r.seats[id]; !taken { // a row may be called "1" by hand
			r.seats[id] = id
		}
	}
	for _, l := range r.design.Speakers {
		if l.ID != "" {
			r.of[strings.ToLower(l.ID)], r.of[strings.ToLower(l.Name())] = l.ID, l.ID
		}
	}
}

// seatCalled returns the id of a seat by what a table calls it.
func (r *reader) seatCalled(name string) (id string, ok bool) {
	name = strings.ToLower(strings.Join(strings.Fields(name), " "))
	if id, ok = r.seats[name]; !ok {
		id, ok = r.seats[strings.Replace(name, ",", ".", 1)] // what a spreadsheet makes of 1.2
	}
	return id, ok
}

// seatsWanted says which seats the room has.
func (r *reader) seatsWanted() string {
	if r.first == "" {
		return "a room with seats"
	}
	return fmt.Sprintf("the seats of this room, %s to %s", r.first, r.last)
}

// columns finds the columns of a table.
func (r *reader) columns(t *table.Reader, headed bool, seat string) error {
	find := func(names ...string) int {
		for _, n := range names {
			if i := t.Column(n); i >= 0 {
				return i
			}
		}
		return -1
	}
	r.seat, r.played = find("seat"), find("of", "loudspeaker")
	r.hz = find("hz", "frequency", "frequency_hz", "freq")
	r.db = find("db", "level", "level_db", "spl", "spl_db", "magnitude")
	for _, c := range t.Columns {
		if strings.Contains(strings.ToLower(c), "khz") {
			return r.fault("line 1", fmt.Sprintf("%q", c), "hz: frequencies in hertz")
		}
	}
	switch {
	case r.hz < 0 || r.db < 0:
		return r.fault("line 1", fmt.Sprintf("%q", short(t.Head)), "a line that names the columns: seat, hz, db; or hz, db of one seat")
	case headed && r.seat >= 0 && seat != "":
		return r.fault("line 1", "a column of seats", "a table of one seat, where the seat is named beside it")
	case r.seat < 0 && seat == "":
		return r.fault("line 1", "no column seat", "seat, hz, db; or name the seat of the table")
	}
	if r.seat < 0 {
		id, ok := r.seatCalled(seat)
		if !ok {
			return r.fault("seat", fmt.Sprintf("%q", short(seat)), r.seatsWanted())
		}
		r.only = id
	}
	return nil
}

// short cuts text from a file for a message.
func short(text string) string {
	const most = 60
	if c := []rune(text); len(c) > most {
		return string(c[:most]) + "…"
	}
	return text
}

// lines reads the points.
func (r *reader) lines(t *table.Reader, headed bool) error {
	need := max(r.seat, r.hz, r.db, r.played) + 1
	for {
		line, cells, err := t.Next()
		if errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
		if !headed {
			line--
		}
		where := fmt.Sprintf("line %d", line)
		if line > MaxLines {
			return r.fault(where, "more lines", fmt.Sprintf("%d", MaxLines))
		}
		if len(cells) < need {
			return r.fault(where, fmt.Sprintf("%d cells", len(cells)), fmt.Sprintf("%d, as in the line that names the columns", len(t.Columns)))
		}
		if err := r.point(where, cells); err != nil {
			return err
		}
	}
}

// point takes in one line.
func (r *reader) point(where string, cells []string) error {
	seat, of := r.only, project.AllSubwoofers
	if r.seat >= 0 {
		id, ok := r.seatCalled(cells[r.seat])
		if !ok {
			if name := short(cells[r.seat]); !slices.Contains(r.unknown, name) {
				r.unknown = append(r.unknown, name)
			}
			return nil // all of them are told at the end
		}
		seat = id
	}
	if r.played >= 0 && cells[r.played] != "" {
		id, ok := r.of[strings.ToLower(cells[r.played])]
		if !ok {
			return r.fault(where+" of", fmt.Sprintf("%q", short(cells[r.played])), "a loudspeaker of this room, such as LFE1, or "+project.AllSubwoofers)
		}
		of = id
	}
	number := func(column int, name, what string, lo, hi float64) (float64, error) {
		v, err := table.ParseNumber(cells[column])
		if err != nil {
			return 0, r.fault(where+" "+name, fmt.Sprintf("%q", short(cells[column])), "a number, "+what)
		} else if !(v >= lo && v <= hi) {
			return 0, r.fault(where+" "+name, fmt.Sprintf("%g", v), fmt.Sprintf("%g to %g, %s", lo, hi, what))
		}
		return v, nil
	}
	hz, err := number(r.hz, "hz", "in hertz", 0, 1e6)
	if err != nil {
		return err
	}
	db, err := number(r.db, "db", "in decibels", -200, 200)
	if err != nil {
		return err
	}
	key := [2]string{seat, of}
	i, there := r.at[key]
	if !there {
		i = len(r.all)
		if i == project.MaxResponses {
			return r.fault(where, "one response more", fmt.Sprintf("%d responses", project.MaxResponses))
		}
		r.at[key], r.all = i, append(r.all, points{seat: seat, of: of})
	}
	p := &r.all[i]
	if n := len(p.hz); n > 0 && !(hz > p.hz[n-1]) {
		return r.fault(where+" hz", fmt.Sprintf("%g Hz after %g Hz", hz, p.hz[n-1]), "frequencies that ascend, seat by seat")
	}
	p.hz, p.db = append(p.hz, hz), append(p.db, db)
	return nil
}

// finish judges what was read as a whole and thins it.
func (r *reader) finish(source string) (*Reading, error) {
	if n := len(r.unknown); n > 0 {
		told := r.unknown[:min(n, 3)]
		found := fmt.Sprintf("%q", told)
		found = strings.Trim(strings.ReplaceAll(found, `" "`, `", "`), "[]")
		if n > len(told) {
			found += fmt.Sprintf(" and %d more", n-len(told))
		}
		allowed := r.seatsWanted()
		if len(r.all) == 0 {
			allowed += "; the table may be of another room"
		}
		return nil, r.fault("seat", found, allowed)
	}
	if len(r.all) == 0 {
		return nil, r.fault("", "no points", fmt.Sprintf("%d or more for each seat", FewestPoints))
	}
	out := &Reading{}
	top, most, left, outside, relative := 0.0, 0, 0, 0, 0
	softest, loudest := math.Inf(1), math.Inf(-1)
	for i := range r.all {
		p := &r.all[i]
		top = max(top, p.hz[len(p.hz)-1])
		softest, loudest = min(softest, slices.Min(p.db)), max(loudest, slices.Max(p.db))
		if slices.Max(p.db) < 0 {
			relative++
		}
	}
	const audible = 25 // Hz: a table that ends there is in kilohertz
	if top < audible {
		return nil, r.fault("hz", fmt.Sprintf("%.4g at most", top), "frequencies in hertz; these look like kilohertz")
	}
	// A pascal is 94 dB, ten are 114 dB; a room varies by more, and levels of a reference of
	// its own lie below 0 too.
	const pascals = 10
	if softest > 0 && loudest < pascals {
		return nil, r.fault("db", fmt.Sprintf("%.3g to %.3g", softest, loudest), "levels in decibels; these look like pascals")
	}
	for i := range r.all {
		p := &r.all[i]
		n := len(p.hz)
		p.cut()
		outside += n - len(p.hz)
		if len(p.hz) < FewestPoints {
			return nil, r.fault("seat "+r.nameOf(p.seat), fmt.Sprintf("%d points from %d Hz to %d kHz", len(p.hz), LowestKept, HighestKept/1000), fmt.Sprintf("%d or more", FewestPoints))
		}
		most, n = max(most, len(p.hz)), len(p.hz)
		hz, db := Thin(p.hz, p.db)
		left = max(left, len(hz))
		if n == len(hz) {
			hz, db = p.hz, p.db
		}
		out.Responses = append(out.Responses, project.Response{Seat: p.seat, Of: p.of, Frequencies: hz, Level: db, Source: source})
	}
	if left < most {
		out.Remarks = append(out.Remarks, fmt.Sprintf("thinned to 1/%d octave by the mean power: from %d points a response to %d at most", 3*perThird, most, left))
	}
	if outside > 0 {
		out.Remarks = append(out.Remarks, fmt.Sprintf("%d points below %d Hz or above %d kHz are left out", outside, LowestKept, HighestKept/1000))
	}
	if relative > 0 {
		out.Remarks = append(out.Remarks, "the levels are negative: taken as relative, such as dBFS; how loud it was they do not say")
	}
	return out, nil
}

// nameOf returns what people call a seat.
func (r *reader) nameOf(id string) string {
	row, n, _ := r.design.SeatOf(id)
	return fmt.Sprintf("%d.%d", row, n)
}

// cut leaves out what lies outside the range that is kept.
func (p *points) cut() {
	lo, _ := slices.BinarySearch(p.hz, LowestKept)
	hi, there := slices.BinarySearch(p.hz, HighestKept)
	if there {
		hi++
	}
	hi = max(hi, lo)
	p.hz, p.db = p.hz[lo:hi], p.db[lo:hi]
}

// Thin returns a response with one point at most in each 1/48 octave, sixteen to each
// third of an octave of IEC 61260-1:2014, base-ten, so that none lies across its edge: the
// geometric mean of the frequencies in it and the mean of their powers, so that what a
// band carries stays the same. Frequencies are kept to a thousandth, levels to a
// hundredth. hz ascends.
func Thin(hz, db []float64) (f, level []float64) {
	band := func(v float64) float64 { return math.Floor(10*perThird*math.Log10(v/1000) + dust) }
	for i := 0; i < len(hz); {
		n, logs, power := 0, 0.0, 0.0
		for b := band(hz[i]); i < len(hz) && band(hz[i]) == b; i++ {
			logs += math.Log(hz[i])
			power += math.Pow(10, db[i]/10)
			n++
		}
		v := math.Floor(1000*math.Exp(logs/float64(n))) / 1000
		if last := len(f) - 1; last >= 0 && !(v > f[last]) { // about an edge
			v = math.Round(1000*f[last]+1) / 1000
		}
		f, level = append(f, v), append(level, math.Round(1000*math.Log10(power/float64(n)))/100+0)
	}
	return f, level
}

// Into puts what was read into d, in the place of what was measured before of the same
// seats and loudspeakers, of which it returns the number.
func (r *Reading) Into(d *project.Design) (replaced int) {
	for _, one := range r.Responses {
		var again bool
		if d.Measured.Responses, again = project.SetResponse(d.Measured.Responses, one); again {
			replaced++
		}
	}
	return replaced
}
