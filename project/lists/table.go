// SPDX-License-Identifier: MIT

package lists

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/bs2051"
	"earline/project/table"
)

// Table is one list, ready to be printed, kept as CSV or drawn on a sheet.
type Table struct {
	Name    string // by which it is asked for: "cables"
	Title   string
	Columns []string // heads, with units: "length, m"
	Rows    [][]string
	Sums    []string // a last line, like Rows; nil for none
	Notes   []string // what is assumed, and where figures are from
	Caution string   // empty where the work can hurt nobody
}

// CSV returns t as a file that spreadsheets open.
func (t *Table) CSV() []byte {
	out := table.Table{Header: t.Columns}
	rows := t.Rows
	if t.Sums != nil {
		rows = append(slices.Clone(rows), t.Sums)
	}
	for _, row := range rows {
		cells := make([]table.Cell, len(row))
		for i, text := range row {
			cells[i] = table.Text(text)
			if v, err := strconv.ParseFloat(text, 64); err == nil {
				_, decimals, _ := strings.Cut(text, ".")
				cells[i] = table.Number(v, len(decimals))
			}
		}
		out.Add(cells...)
	}
	return out.CSV()
}

// Names returns the names of all lists, in their order.
func Names() []string {
	return []string{"equipment", "cables", "masses", "outlets", "air", "panels", "lights", "stages"}
}

// Title returns the title of the list of that name.
func Title(name string) string {
	switch name {
	case "equipment":
		return "Equipment list"
	case "cables":
		return "Cable list"
	case "masses":
		return "Mass list"
	case "outlets":
		return "Outlet list"
	case "air":
		return "Air list"
	case "panels":
		return "Panel list"
	case "lights":
		return "Light list"
	case "stages":
		return "Stages of the work"
	}
	return ""
}

// All returns every list of d.
func All(d *project.Design) []Table {
	return []Table{equipmentTable(d), cableTable(d), massTable(d), outletTable(d), airTable(d), panelTable(d), lightTable(d), stageTable(d)}
}

// Find returns the list of that name.
func Find(d *project.Design, name string) (Table, bool) {
	if i := slices.Index(Names(), name); i >= 0 {
		return All(d)[i], true
	}
	return Table{}, false
}

// Cautions, wherever the work can hurt someone.
const (
	electric  = "Mains and everything fixed to it: licensed electricians, to local code. This list plans places and loads, not circuits."
	overhead  = "Loads overhead: fix to what carries them, with a second, independent securing where people sit or walk below; licensed practice and local code decide how."
	buried    = "Cables in walls and ceilings: rated for it by local code, away from mains, and tested before the boards close."
	fireClass = "Linings and fabrics: ask for the fire class that local code wants of this room, in writing."
)

// show returns how lengths are shown: "metres with three decimals", or feet and inches.
func show(d *project.Design) (func(v float64) string, string) {
	if d.Units == project.Imperial {
		return func(v float64) string { return unit.Length(v).Format(false) }, "ft and in"
	}
	return func(v float64) string { return fmt.Sprintf("%.3f", v) }, "m"
}

func cableTable(d *project.Design) Table {
	length, in := show(d)
	t := Table{Name: "cables", Title: Title("cables"), Caution: buried,
		Columns: []string{"loudspeaker", "way", "run, " + in, "length with spare, " + in, "cores × mm²", "loop resistance, ohm", "load, ohm", "loss, dB", "cable there, " + in}}
	all := Cables(d)
	if all == nil {
		t.Notes = []string{"Where the rack stands is not known yet: enter it, and every loudspeaker gets a cable."}
		return t
	}
	sums := map[float64]float64{}
	for _, c := range all {
		there := ""
		if c.There > 0 {
			there = length(c.There)
			if c.There >= c.Run {
				there += ", reaches"
			} else {
				there += ", too short by " + length(c.Run-c.There)
			}
		}
		t.Rows = append(t.Rows, []string{bs2051.InFull(c.Name), c.Way, length(c.Run), length(c.Length),
			fmt.Sprintf("2 × %g", c.Area), fmt.Sprintf("%.4f", c.Resistance), fmt.Sprintf("%g", c.Load), fmt.Sprintf("%.2f", c.Loss), there})
		sums[c.Area] += c.Length
	}
	var areas []float64
	for a := range sums {
		areas = append(areas, a)
	}
	slices.Sort(areas)
	var parts []string
	for _, a := range areas {
		parts = append(parts, fmt.Sprintf("2 × %g mm²: %s", a, length(sums[a])))
	}
	t.Sums = []string{"in all", strings.Join(parts, "; "), "", "", "", "", "", "", ""}
	t.Notes = []string{
		"Ways run square along walls, at " + length(runHeight(d)) + " up; doors, windows and what is in the walls are for the site to see.",
		"Resistance of finely stranded copper at 20 °C: IEC 60228 (class 5), read at second hand. Loss into the nominal load, taken as a resistance.",
		fmt.Sprintf("Cross-section: the least from 1.5 mm² that loses no more than %g dB; common practice, no source.", MostLoss),
	}
	return t
}
