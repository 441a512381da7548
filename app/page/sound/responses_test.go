// SPDX-License-Identifier: MIT

package sound

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"earline/scene/chart"
)

// A table of measured responses is one step of undo; the curve of the seat on show lies
// dashed over the computed one, and a table that names no seat is asked about.
func TestMeasuredResponsesLieOverTheComputedOnes(t *testing.T) {
	b, p := onSound(t, "small", bassTopic)
	b.Queue.Until(t, func() bool { return heard(b) != nil })
	st := heard(b)
	name := filepath.Join(t.TempDir(), "seats.csv")
	write := func(head, line string) {
		t.Helper()
		text := head
		for i, f := range st.Response.Frequencies {
			if i%4 == 0 {
				text += fmt.Sprintf(line, f, st.Response.Seat(1)[i]-90)
			}
		}
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write("seat,hz,db\n", "1.2,%.2f,%.2f\n")
	if err := p.readResponses(name); err != nil {
		t.Fatal(err)
	}
	b.Queue.Until(t, func() bool { return heard(b) != nil && strings.Contains(said(p), "As measured") })
	p.panel.Choose(func(c *choice) { c.Seat = 2 })
	p.Update()
	broken := func() (n int) {
		for _, s := range p.panel.Chart().Series {
			if strings.HasPrefix(s.Name, "measured, +") && s.Dash == chart.Dashed && s.X[0] >= p.panel.Chart().X.Min {
				n++
			}
		}
		return n
	}
	if n := broken(); n != 1 {
		t.Errorf("%d measured curves at seat 1.2", n)
	}
	for _, want := range []string{"Measured less computed at seat 1.2: 20 Hz ", "Seat 1.2: 0.", "peaks found"} {
		if !strings.Contains(said(p), want) {
			t.Errorf("no %q in %s", want, said(p))
		}
	}
	p.panel.Choose(func(c *choice) { c.Seat = 1 })
	p.Update()
	if broken() > 0 || !strings.Contains(said(p), "Nothing was measured of all subwoofers at seat 1.1") {
		t.Errorf("at seat 1.1: %s", said(p))
	}
	p.removeResponses()
	if d := b.Session.Design(); d.Measured.Given() {
		t.Errorf("%+v is left", d.Measured)
	}
	write("hz,db\n", "%.2f,%.2f\n")
	if err := p.readResponses(name); err != nil || !p.frame.Busy() || b.Session.Design().Measured.Given() {
		t.Errorf("%v, taken %v", err, b.Session.Design().Measured)
	}
	write("seat,hz,db\n", "7.2,%.2f,%.2f\n")
	if err := p.readResponses(name); err == nil || !strings.Contains(err.Error(), "may be of another room") {
		t.Error(err)
	}
}
