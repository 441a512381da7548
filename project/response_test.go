// SPDX-License-Identifier: MIT

package project_test

import (
	"math"
	"strings"
	"testing"

	"earline/project"
	"earline/project/projecttest"
)

// heard returns a design in which a response is measured at its first seat.
func heard(seed uint64) *project.Design {
	d := projecttest.Room(seed).Clone()
	d.Identify()
	d.Measured.Responses = []project.Response{{Seat: d.Seating.Rows[0].SeatID(1), Of: project.AllSubwoofers,
		Frequencies: []float64{20, 25, 31.5}, Level: []float64{80, 82.5, -3}}}
	return d
}

func TestAMeasuredResponseThatCannotBeIsRefusedByName(t *testing.T) {
	for want, edit := range map[string]func(r *project.Response){
		"measured.responses[0].frequencies_hz[1]: 20 Hz, allowed: more than the frequency before, 20 Hz": func(r *project.Response) { r.Frequencies[1] = 20 },
		"measured.responses[0].frequencies_hz[0]: 0.02 Hz, allowed: 1 Hz to 100000 Hz":                   func(r *project.Response) { r.Frequencies[0] = 0.02 },
		"measured.responses[0].level_db[2]: not a number, allowed: -200 dB to 200 dB":                    func(r *project.Response) { r.Level[2] = math.NaN() },
		"measured.responses[0].level_db: 2 entries, allowed: 3, one a frequency":                         func(r *project.Response) { r.Level = r.Level[:2] },
		"measured.responses[0].frequencies_hz: 1 entry, allowed: 2 to 577":                               func(r *project.Response) { r.Frequencies, r.Level = r.Frequencies[:1], r.Level[:1] },
	} {
		d := heard(1)
		edit(&d.Measured.Responses[0])
		if err := d.Validate(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
	d := heard(1)
	d.Measured.Responses = append(d.Measured.Responses, d.Measured.Responses[0])
	if err := d.Validate(); err == nil || !strings.Contains(err.Error(), "each seat once for what plays; measured.responses[0] is of it too") {
		t.Error(err)
	}
	for range project.MaxResponses {
		d.Measured.Responses = append(d.Measured.Responses, d.Measured.Responses[0])
	}
	if err := d.Validate(); err == nil || !strings.Contains(err.Error(), "measured.responses: 66 entries, allowed: 0 to 64") {
		t.Error(err)
	}
}

func TestAResponseOfASeatThatIsTakenAwayGoesWithItAndUndoBringsItBack(t *testing.T) {
	h := project.NewHistory(heard(1))
	last := h.Design().Seating.Rows[0]
	do := func(edit func(*project.Design)) {
		t.Helper()
		if err := h.Do("edit", "", edit); err != nil {
			t.Fatal(err)
		}
	}
	do(func(d *project.Design) { d.Measured.Responses[0].Seat = last.SeatID(last.Seats) })
	do(func(d *project.Design) { d.Seating.Rows[0].Seats-- })
	if d := h.Design(); d.Measured.Given() || len(d.GoneMeasured()) > 0 {
		t.Errorf("%+v is left of a seat that is gone", d.Measured)
	}
	h.Undo()
	if len(h.Design().Measured.Responses) != 1 {
		t.Error("undo did not bring it back")
	}
	d := heard(2)
	d.Measured.Responses[0].Seat, d.Measured.Responses[0].Of = "r1.99", "x"
	if f := d.GoneMeasured(); len(f) != 2 || f[0].Field != "measured.responses[0].seat" || f[1].Field != "measured.responses[0].of" {
		t.Errorf("%v", f)
	}
}

func TestAMeasuredResponseOfACopyIsItsOwn(t *testing.T) {
	d := heard(1)
	c := d.Clone()
	c.Measured.Responses[0].Level[0], c.Measured.Responses[0].Frequencies[0] = 1, 1
	if r := d.Measured.Responses[0]; r.Level[0] != 80 || r.Frequencies[0] != 20 {
		t.Error("the copy's response is the original's")
	}
	all, replaced := project.SetResponse(d.Measured.Responses, c.Measured.Responses[0])
	if !replaced || len(all) != 1 || all[0].Level[0] != 1 || d.Measured.Responses[0].Level[0] != 80 {
		t.Error("a response of the same seat takes the place of the first, in a list of its own")
	}
}

func TestSeatsAreReferredToByTheirRow(t *testing.T) {
	d := heard(1)
	for i, r := range d.Seating.Rows {
		for n := range r.Seats {
			if row, number, ok := d.SeatOf(r.SeatID(n + 1)); !ok || row != i+1 || number != n+1 {
				t.Errorf("%s is %d.%d, %v", r.SeatID(n+1), row, number, ok)
			}
		}
	}
	for _, id := range []string{"", ".", "r1", "r1.", "r1.0", "r1.01", "r1.+1", "x.1", "1.1", "r1.999", "r1.1.1"} {
		if _, _, ok := d.SeatOf(id); ok {
			t.Errorf("%q is a seat", id)
		}
	}
}
