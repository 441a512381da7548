// SPDX-License-Identifier: MIT

package built

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf16"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/table"
)

// The columns of a site list.
const (
	idColumn       = "id"
	itemColumn     = "item"
	quantityColumn = "quantity"
	unitColumn     = "unit"
	plannedColumn  = "planned"
	measuredColumn = "measured"
	noteColumn     = "note" // read where somebody adds it
)

// columns returns those of a site list that is written.
func columns() []string {
	return []string{idColumn, itemColumn, quantityColumn, unitColumn, plannedColumn, measuredColumn}
}

// MaxSize is the size of the largest site list that is read, in bytes.
const MaxSize = 1 << 20

const mostLines = 10_000 // of a site list: many times as many as the largest room has

// List returns the site list, as CSV: a line for each figure to be taken, with the
// planned one, to be filled in on site. What was measured already stands there.
func (s *Sheet) List() []byte {
	one, name, decimals := unit.Millimetre, "mm", 1 // tenths of a millimetre: rounding eats no tolerance
	if s.Design.Units == project.Imperial {
		one, name, decimals = unit.Inch, "in", 3
	}
	list := table.Table{Header: columns()}
	for i := range s.Items {
		it := &s.Items[i]
		for k := range it.Measures {
			m := &it.Measures[k]
			line := s.Line(it, m.Quantity)
			unit, show := name, func(v float64) table.Cell { return table.Number(line.Shown(v)/float64(one), decimals) }
			if m.Quantity.Angle() {
				unit, show = "deg", func(v float64) table.Cell { return table.Number(line.Shown(v), 1) }
			}
			measured := table.Empty()
			if m.Known {
				measured = show(m.Measured)
			}
			list.Add(table.Text(it.ID), table.Text(it.Name), table.Text(s.Called(it, m.Quantity)), table.Text(unit), show(m.Planned), measured)
		}
	}
	return list.CSV()
}

// Reading is what a filled-in site list says.
type Reading struct {
	// AsBuilt is what is known with it: what was measured before, and in its place what
	// the list has anew.
	AsBuilt   project.AsBuilt
	Taken     int // figures
	Questions []Asked
}

// Asked is a question about a figure of a site list.
type Asked struct {
	Where string // "site.csv: line 5 measured"
	Item  *Item
	Question
	quantity Quantity
}

// String returns the question as a line.
func (a *Asked) String() string { return a.Where + ": " + a.Item.Name + ": " + a.Text }

type entry struct {
	id    string
	q     Quantity
	value float64
}

// Accept answers every question with yes and returns how many there were.
func (r *Reading) Accept() int {
	n := len(r.Questions)
	for len(r.Questions) > 0 {
		r.Answer(true)
	}
	return n
}

// Answer answers the first question.
func (r *Reading) Answer(yes bool) {
	a := r.Questions[0]
	r.Questions = r.Questions[1:]
	if yes {
		r.enter(entry{a.Item.ID, a.quantity, a.Value})
	}
}

func (r *Reading) enter(e entry) {
	d := project.Design{AsBuilt: r.AsBuilt}
	Enter(&d, e.id, e.q, &e.value)
	r.AsBuilt = d.AsBuilt
	r.Taken++
}

// Read reads a site list that was filled in, wholly or in part; name is the file's for
// messages. Figures that may be slips are asked about and not entered. The error joins
// a *project.Fault for each line that cannot be used (the first hundred); then nothing
// is to be entered.
func (s *Sheet) Read(data []byte, name string) (*Reading, error) {
	if len(data) > MaxSize {
		return nil, &project.Fault{File: name, Found: "over 1 MB", Allowed: "a site list"}
	}
	t, err := table.Open([]byte(strings.ToValidUTF8(plain(data), "?")), name) // what is not UTF-8 is in names, which are not read
	if err != nil {
		return nil, err
	}
	l := lister{sheet: s, name: name, taken: map[figureKey]int{}, out: &Reading{AsBuilt: s.Design.Clone().AsBuilt}}
	for _, c := range []struct {
		name   string
		at     *int
		needed bool
	}{{idColumn, &l.id, true}, {quantityColumn, &l.quantity, true}, {measuredColumn, &l.measured, true}, {unitColumn, &l.unit, false}, {plannedColumn, &l.planned, false}, {noteColumn, &l.note, false}} {
		if *c.at = t.Column(c.name); *c.at < 0 && c.needed {
			l.fault("line 1", "no column "+c.name, strings.Join(columns(), ", "))
		}
	}
	if len(l.faults) > 0 {
		return nil, errors.Join(l.faults...)
	}
	const mostFaults = 100
	for n := 0; len(l.faults) < mostFaults; n++ {
		line, cells, err := t.Next()
		if errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			l.faults = append(l.faults, err)
			break
		}
		if n == mostLines {
			l.fault("", fmt.Sprintf("over %d lines", mostLines), "a site list")
			break
		}
		l.line(line, cells, len(t.Columns))
	}
	if len(l.faults) > 0 {
		return nil, errors.Join(l.faults...)
	}
	return l.out, nil
}

// plain returns text as UTF-8, which a spreadsheet may save as UTF-16 ("Unicode text").
func plain(data []byte) string {
	var order binary.ByteOrder
	switch {
	case len(data) < 2:
	case data[0] == 0xFF && data[1] == 0xFE:
		order = binary.LittleEndian
	case data[0] == 0xFE && data[1] == 0xFF:
		order = binary.BigEndian
	}
	if order == nil {
		return string(data)
	}
	var units []uint16
	for data = data[2:]; len(data) > 1; data = data[2:] {
		units = append(units, order.Uint16(data))
	}
	return string(utf16.Decode(units))
}

// figureKey is one figure of a list.
type figureKey struct {
	id string
	q  Quantity
}

// lister reads a site list.
type lister struct {
	sheet  *Sheet
	name   string
	faults []error
	out    *Reading
	taken  map[figureKey]int // the line that gave each figure

	id, quantity, measured, unit, planned, note int // columns; -1 for none
}

func (l *lister) fault(field, found, allowed string) {
	l.faults = append(l.faults, &project.Fault{File: l.name, Field: field, Found: found, Allowed: allowed})
}

// line reads one line of the list.
func (l *lister) line(n int, cells []string, columns int) {
	where := fmt.Sprintf("line %d", n)
	cell := func(i int) string {
		if i < 0 || i >= len(cells) {
			return ""
		}
		return cells[i]
	}
	for i := columns; i < len(cells); i++ {
		if cells[i] != "" {
			l.fault(where, fmt.Sprintf("%d cells", len(cells)), fmt.Sprintf("%d; with decimal commas, semicolons between the cells", columns))
			return
		}
	}
	measured, planned := cell(l.measured), cell(l.planned)
	if measured == "" && planned == "" {
		return
	}
	it := l.item(cell(l.id))
	if it == nil {
		if measured != "" {
			l.fault(where+" "+idColumn, strconv.Quote(cut(cell(l.id))), "an id of the plan: the list may be of another room")
		}
		return
	}
	m := l.measure(it, cell(l.quantity))
	if m == nil {
		if measured != "" {
			names := make([]string, len(it.Measures))
			for i := range it.Measures {
				names[i] = l.sheet.Called(it, it.Measures[i].Quantity)
			}
			l.fault(where+" "+quantityColumn, strconv.Quote(cut(cell(l.quantity))), "of "+it.Name+": "+strings.Join(names, ", "))
		}
		return
	}
	one, ok := scale(m.Quantity, cell(l.unit))
	if !ok {
		l.fault(where+" "+unitColumn, strconv.Quote(cut(cell(l.unit))), "mm, cm, m, in or ft; deg of an angle")
		return
	}
	plan := l.sheet.Line(it, m.Quantity).Shown(m.Planned)
	listed := plan // what the list says is planned
	if planned != "" {
		v, err := read(planned, m.Quantity, one)
		if err != nil {
			l.fault(where+" "+plannedColumn, strconv.Quote(cut(planned)), err.Error())
			return
		}
		listed = v
	}
	printed := 0.6e-3 // m: what rounding to a millimetre may do
	if m.Quantity.Angle() {
		printed = 0.6 // degrees
	}
	stale := math.Abs(away(m.Quantity, listed, plan)) > printed
	if measured == "" {
		// Over the limit the plan has moved since: nobody took this for a measurement.
		if _, _, err := l.sheet.Judge(it, m, listed); stale && err == nil {
			l.judge(where+" "+plannedColumn, it, m, listed, fmt.Sprintf("%s where %s is planned: was this measured?", l.show(m, listed), l.show(m, plan)))
		}
		return
	}
	v, err := read(measured, m.Quantity, one)
	if err != nil {
		l.fault(where+" "+measuredColumn, strconv.Quote(cut(measured)), err.Error())
		return
	}
	if first, again := l.taken[figureKey{it.ID, m.Quantity}]; again {
		l.fault(where, fmt.Sprintf("%s %s again", it.Name, l.sheet.Called(it, m.Quantity)), fmt.Sprintf("each figure once; line %d has it", first))
		return
	}
	l.taken[figureKey{it.ID, m.Quantity}] = n
	if note := cell(l.note); note != "" {
		a := &l.out.AsBuilt
		known := a.Of(it.ID)
		known.Note = cut(note)
		a.Set(known)
	}
	where += " " + measuredColumn
	switch {
	case !stale:
		l.judge(where, it, m, v, "")
	case math.Abs(away(m.Quantity, v, plan)) <= printed:
		l.judge(where, it, m, listed, fmt.Sprintf("planned %s and measured %s the wrong way round?", l.show(m, listed), l.show(m, v)))
	default:
		l.judge(where, it, m, v, fmt.Sprintf("the list was written for %s, %s is planned now: is it still %s?", l.show(m, listed), l.show(m, plan), l.show(m, v)))
	}
}

// judge enters a figure, or asks about it; doubt is a question that stands already.
func (l *lister) judge(where string, it *Item, m *Measure, v float64, doubt string) {
	value, q, err := l.sheet.Judge(it, m, v)
	var no *Refusal
	switch {
	case errors.As(err, &no):
		if o := l.sheet.swapped(it, m, v); o != nil {
			no.Found += "; that is " + l.sheet.Called(it, o.Quantity)
		}
		l.fault(where, it.Name+" "+l.sheet.Called(it, m.Quantity)+": "+no.Found, no.Allowed)
		return
	case q != nil && doubt == "":
		doubt, value = q.Text, q.Value
		if o := l.sheet.swapped(it, m, v); o != nil {
			doubt = fmt.Sprintf("%s is what is planned %s: two figures changed places? If not, yes takes it as it is.", l.show(m, v), l.sheet.Called(it, o.Quantity))
			value = l.sheet.Line(it, m.Quantity).Frame(v)
		}
	case q != nil:
		value = q.Value
		doubt += " " + q.Text
	}
	if doubt != "" {
		l.out.Questions = append(l.out.Questions, Asked{Where: l.name + ": " + where, Item: it, quantity: m.Quantity,
			Question: Question{l.sheet.Called(it, m.Quantity) + ": " + doubt, value}})
		return
	}
	l.out.enter(entry{it.ID, m.Quantity, value})
}

func (l *lister) show(m *Measure, v float64) string {
	return figure(m.Quantity, v, l.sheet.Design.Units)
}

// item returns the item with that id; nil for none.
func (l *lister) item(id string) *Item {
	for i := range l.sheet.Items {
		if l.sheet.Items[i].ID == id {
			return &l.sheet.Items[i]
		}
	}
	return nil
}

// measure returns the measure of it that is called so; nil for none.
func (l *lister) measure(it *Item, called string) *Measure {
	for i := range it.Measures {
		if m := &it.Measures[i]; strings.EqualFold(called, l.sheet.Called(it, m.Quantity)) {
			return m
		}
	}
	return nil
}

// scale returns what one of a unit is in metres, or 1 for degrees.
func scale(q Quantity, name string) (one float64, ok bool) {
	name = strings.ToLower(strings.Trim(name, " []()."))
	if q.Angle() {
		return 1, name == "" || name == "deg" || name == "°" || name == "degrees"
	}
	units := map[string]unit.Length{"": unit.Millimetre, "mm": unit.Millimetre, "cm": unit.Centimetre, "m": unit.Metre, "in": unit.Inch, "\"": unit.Inch, "ft": unit.Foot, "'": unit.Foot}
	l, ok := units[name]
	return float64(l), ok
}

// read reads a figure; a length may have a unit of its own.
func read(cell string, q Quantity, one float64) (float64, error) {
	if v, err := table.ParseNumber(cell); err == nil {
		return v * one, nil
	}
	if q.Angle() {
		v, err := unit.ParseDegrees(cell)
		return float64(v), allowed(err)
	}
	v, err := unit.ParseLength(cell, unit.Length(one))
	return float64(v), allowed(err)
}

// allowed returns what an error of package unit says is allowed.
func allowed(err error) error {
	var p *unit.ParseError
	if errors.As(err, &p) {
		return errors.New(p.Allowed)
	}
	return err
}

// cut shortens what is shown of a cell.
func cut(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:60]) + "…"
	}
	return s
}
