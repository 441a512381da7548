// SPDX-License-Identifier: MIT

package lists

import (
	"fmt"
	"slices"

	"earline/project"
)

// What people need and give off.
const (
	perPerson  = 20  // m³/h of fresh air: DIN 1946, theatres, read at second hand
	leastFresh = 4   // l/s of fresh air each: prEN 16798-1, read at second hand
	warmth     = 100 // W of a person at rest, from memory
)

// Air is the heat of a room and the air that carries it off.
type Air struct {
	People       int
	Fresh, Least float64 // m³/h, of fresh air: usual, and the least
	PeopleHeat   float64 // W
	Projector    float64 // W, of one in the room; behind a port it warms another
	Heat         float64 // W, people and equipment
	Rise         float64 // K, by which the air may warm on its way
	Flow         float64 // m³/h that carries Heat off at that
}

// Flow returns how much air carries off that heat when it warms by rise kelvins, m³/h:
// Q = P / (ρ c ΔT) with 1.2 kg/m³ and 1005 J/(kg K), dry air near 20 °C (textbook
// values, from memory).
func Flow(heat, rise float64) float64 { return heat / (1.2 * 1005 * rise) * 3600 }

// AirOf returns the heat and the air of d with every seat taken. Loudspeakers give off
// little and are left out; the equipment is what the design says of it.
func AirOf(d *project.Design) Air {
	const rise = 8 // K, common practice, no source
	a := Air{Rise: rise}
	for _, r := range d.Seating.Rows {
		a.People += r.Seats
	}
	a.Fresh, a.Least = float64(a.People)*perPerson, float64(a.People)*leastFresh*3.6
	a.PeopleHeat = float64(a.People) * warmth
	if d.Projector.Given() && d.Projector.Mount != project.PortMount {
		model, _ := d.ProjectorModel(d.Projector.Model)
		a.Projector = model.Heat
	}
	a.Heat = a.PeopleHeat + a.Projector + d.Services.Heat
	a.Flow = Flow(a.Heat, a.Rise)
	return a
}

func airTable(d *project.Design) Table {
	a := AirOf(d)
	row := func(what string, v float64, u, source string) []string {
		return []string{what, fmt.Sprintf("%.0f", v), u, source}
	}
	t := Table{Name: "air", Title: Title("air"), Columns: []string{"what", "value", "unit", "from"},
		Rows: [][]string{
			row("people, every seat taken", float64(a.People), "", ""),
			row("fresh air", a.Fresh, "m³/h", fmt.Sprintf("%d m³/h each: DIN 1946, theatres, second hand", perPerson)),
			row("fresh air at least", a.Least, "m³/h", fmt.Sprintf("%d l/s each: prEN 16798-1, second hand", leastFresh)),
			row("heat of people", a.PeopleHeat, "W", fmt.Sprintf("%d W each at rest, from memory", warmth)),
			row("heat of equipment in the room", d.Services.Heat, "W", "the design"),
			row("heat in all", a.Heat, "W", ""),
			row("air that carries it off", a.Flow, "m³/h", fmt.Sprintf("%g K warmer on its way: common practice, no source", a.Rise)),
		},
		Notes: []string{"Fresh air alone does not cool. One sum, no design of ducts: noise, draught and where supply and extract lie are for who builds the system.",
			"Gaps under doors that let air through let sound through."},
	}
	other := "equipment"
	if d.Projector.Given() {
		other = "other equipment"
		from := "its model"
		switch {
		case d.Projector.Mount == project.PortMount:
			from = "behind its port: in another room"
		case a.Projector == 0:
			t.Notes = append(t.Notes, "The heat of the projector is not known yet and counts as nothing.")
		}
		const afterPeople = 4 // rows
		t.Rows = slices.Insert(t.Rows, afterPeople, row("heat of the projector", a.Projector, "W", from))
		t.Rows[afterPeople+1][0] = "heat of other equipment in the room"
	}
	if d.Services.Heat == 0 {
		t.Notes = append(t.Notes, "The heat of the "+other+" is not known yet and counts as nothing.")
	}
	for _, f := range d.Room.Features {
		if f.Kind == project.Vent {
			t.Rows = append(t.Rows, []string{"vent", f.Words(), "", ""})
		}
	}
	return t
}
