// SPDX-License-Identifier: MIT

package measured

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/project"
	"earline/project/file"
)

func demo(t testing.TB, name string) *project.Design {
	t.Helper()
	d, ok := file.Demo(name)
	if !ok {
		t.Fatal(name)
	}
	return d
}

// points are lines of a table from 20 Hz up, a third of an octave apart, each written
// by line.
func pointsOf(n int, line func(hz, db float64) string) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(line(20*math.Pow(2, float64(i)/3), 80+float64(i)))
	}
	return b.String()
}

func TestATableOfOneSeatReadsHoweverItIsWritten(t *testing.T) {
	d := demo(t, "small")
	comma := func(v float64) string { return strings.ReplaceAll(fmt.Sprintf("%.2f", v), ".", ",") }
	for name, text := range map[string]string{
		"seat, hz, db":             "seat,hz,db\n" + pointsOf(9, func(hz, db float64) string { return fmt.Sprintf("1.2,%.2f,%.2f\n", hz, db) }),
		"seat by its words":        "seat,hz,db\n" + pointsOf(9, func(hz, db float64) string { return fmt.Sprintf("Row 1  Seat 2,%.2f,%.2f\n", hz, db) }),
		"seat by its id":           "seat,hz,db\n" + pointsOf(9, func(hz, db float64) string { return fmt.Sprintf("r1.2,%.2f,%.2f\n", hz, db) }),
		"a spreadsheet with comma": "\ufeffSeat;Hz;dB\r\n" + pointsOf(9, func(hz, db float64) string { return "1,2;" + comma(hz) + ";" + comma(db) + "\r\n" }),
		"comments":                 "# a measurement\n* of seat 2\nseat,hz,db\n" + pointsOf(9, func(hz, db float64) string { return fmt.Sprintf("1.2,%.2f,%.2f\n# x\n", hz, db) }),
		"columns in other order":   "db;of;seat;hz\n" + pointsOf(9, func(hz, db float64) string { return fmt.Sprintf("%.2f;;1.2;%.2f\n", db, hz) }),
		"hz, db":                   "hz,db\n" + pointsOf(9, func(hz, db float64) string { return fmt.Sprintf("%.2f,%.2f\n", hz, db) }),
		"units in the head":        "Frequency (Hz)\tSPL (dB)\tPhase (degrees)\n" + pointsOf(9, func(hz, db float64) string { return fmt.Sprintf("%.2f\t%.2f\t-170\n", hz, db) }),
		"numbers alone":            pointsOf(9, func(hz, db float64) string { return fmt.Sprintf("%.2f,%.2f\n", hz, db) }),
		"blanks between":           "* text\n" + pointsOf(9, func(hz, db float64) string { return fmt.Sprintf("  %.2f   %.2f  -12.5\n", hz, db) }),
		"blanks, decimal commas":   pointsOf(9, func(hz, db float64) string { return comma(hz) + " " + comma(db) + "\n" }),
		"semicolons alone":         pointsOf(9, func(hz, db float64) string { return comma(hz) + ";" + comma(db) + ";0,5\n" }),
		"blanks after commas":      pointsOf(9, func(hz, db float64) string { return fmt.Sprintf("%.2f, %.2f,\n", hz, db) }),
		"no line end":              strings.TrimRight(pointsOf(9, func(hz, db float64) string { return fmt.Sprintf("%.2f\t%.2f\r\n", hz, db) }), "\r\n"),
	} {
		o := Options{Name: "t.csv", Source: "t.csv"}
		if !strings.Contains(strings.ToLower(text), "seat") {
			o.Seat = "1.2"
		}
		r, err := Read([]byte(text), d, o)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if len(r.Responses) != 1 || len(r.Remarks) != 0 {
			t.Errorf("%s: %+v", name, r)
			continue
		}
		got := r.Responses[0]
		if got.Seat != "r1.2" || got.Of != project.AllSubwoofers || got.Source != "t.csv" || len(got.Frequencies) != 9 ||
			got.Frequencies[0] != 20 || math.Abs(got.Frequencies[8]-126.99) > 1e-9 || got.Level[8] != 88 {
			t.Errorf("%s: %+v", name, got)
		}
		d.Measured.Responses = r.Responses
		if err := errors.Join(d.Validate()); err != nil || len(d.GoneMeasured()) > 0 {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestWhatIsNoTableOfThisRoomIsRefusedInOneLine(t *testing.T) {
	d := demo(t, "small")
	of := func(seat string, n int) string {
		return pointsOf(n, func(hz, db float64) string { return fmt.Sprintf("%s,%.2f,%.2f\n", seat, hz, db) })
	}
	for _, c := range []struct{ text, seat, want string }{
		{"", "1.1", "t.csv: line 1: an empty file, allowed: a line that names the columns"},
		{"# nothing\n", "1.1", "t.csv: line 1: an empty file, allowed: a line that names the columns"},
		{"seat,hz,db\n", "", "t.csv: no points, allowed: 8 or more for each seat"},
		{"seat,khz,db\n" + of("1.1", 9), "", `t.csv: line 1: "khz", allowed: hz: frequencies in hertz`},
		{"Frequency (kHz),dB\n0.02,80\n", "1.1", `t.csv: line 1: "Frequency (kHz)", allowed: hz: frequencies in hertz`},
		{"hz,db\n" + pointsOf(9, func(hz, db float64) string { return fmt.Sprintf("%g,%g\n", hz/1000, db) }), "1.1", "t.csv: hz: 0.127 at most, allowed: frequencies in hertz; these look like kilohertz"},
		{"hz,db\n" + pointsOf(9, func(hz, db float64) string { return fmt.Sprintf("%g,%.4f\n", hz, 2e-5*math.Pow(10, db/20)) }), "1.1", "t.csv: db: 0.2 to 0.502, allowed: levels in decibels; these look like pascals"},
		{"hz,db\n20,80\n25,81\n25,82\n", "1.1", "t.csv: line 4 hz: 25 Hz after 25 Hz, allowed: frequencies that ascend, seat by seat"},
		{"20 80\n25 81\n24 82\n", "1.1", "t.csv: line 3 hz: 24 Hz after 25 Hz, allowed: frequencies that ascend, seat by seat"},
		{"seat,hz,db\n" + of("1.1", 7), "", "t.csv: seat 1.1: 7 points from 10 Hz to 40 kHz, allowed: 8 or more"},
		{"seat,hz,db\n" + of("1.1", 9) + of("9.1", 9), "", `t.csv: seat: "9.1", allowed: the seats of this room, 1.1 to 1.3`},
		{"seat,hz,db\n" + of("A1", 9) + of("A2", 9) + of("A3", 9) + of("A4", 9) + of("A5", 9), "", `t.csv: seat: "A1", "A2", "A3" and 2 more, allowed: the seats of this room, 1.1 to 1.3; the table may be of another room`},
		{"hz,db\n" + pointsOf(9, func(hz, db float64) string { return fmt.Sprintf("%g,%g\n", hz, db) }), "4.1", `t.csv: seat: "4.1", allowed: the seats of this room, 1.1 to 1.3`},
		{"hz,db\n20,80\n", "", "t.csv: line 1: no column seat, allowed: seat, hz, db; or name the seat of the table"},
		{"seat,hz,db\n1.1,20,80\n", "1.2", "t.csv: line 1: a column of seats, allowed: a table of one seat, where the seat is named beside it"},
		{"seat,hz,volts\n1.1,20,80\n", "", `t.csv: line 1: "seat,hz,volts", allowed: a line that names the columns: seat, hz, db; or hz, db of one seat`},
		{"seat,hz,db\n1.1,20,loud\n", "", `t.csv: line 2 db: "loud", allowed: a number, in decibels`},
		{"seat,hz,db\n1.1,20,900\n", "", "t.csv: line 2 db: 900, allowed: -200 to 200, in decibels"},
		{"seat,hz,db\n1.1,20\n", "", "t.csv: line 2: 2 cells, allowed: 3, as in the line that names the columns"},
		{"seat,of,hz,db\n1.1,LFE9,20,80\n", "", `t.csv: line 2 of: "LFE9", allowed: a loudspeaker of this room, such as LFE1, or subwoofers`},
		{"hz,db\n20,\xff\n", "1.1", "t.csv: line 2 column 4: byte 0xff, allowed: text in UTF-8"},
	} {
		r, err := Read([]byte(c.text), d, Options{Name: "t.csv", Seat: c.seat})
		if err == nil || err.Error() != c.want || r != nil {
			t.Errorf("%.40q:\n got %v\nwant %s", c.text, err, c.want)
		}
	}
}

func TestLevelsBelowZeroAreTakenAndSaidToBeRelative(t *testing.T) {
	r, err := Read([]byte(pointsOf(9, func(hz, db float64) string { return fmt.Sprintf("%g,%g\n", hz, db-120) })), demo(t, "small"), Options{Name: "t", Seat: "1.1"})
	if err != nil || len(r.Remarks) != 1 || !strings.Contains(r.Remarks[0], "negative: taken as relative") || r.Responses[0].Level[0] != -40 {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestAFineTableIsThinnedAndThatIsSaid(t *testing.T) {
	var b strings.Builder
	b.WriteString("hz;db\n")
	for f := 0.0; f < 48_000; f += 2.9296875 {
		fmt.Fprintf(&b, "%g;%g\n", f, 70+10*math.Sin(f/30))
	}
	d := demo(t, "small")
	r, err := Read([]byte(b.String()), d, Options{Name: "t", Seat: "1.1"})
	if err != nil {
		t.Fatal(err)
	}
	if n := len(r.Responses[0].Frequencies); n > project.MaxPoints || n < 300 {
		t.Errorf("%d points", n)
	}
	for k, want := range []string{"thinned to 1/48 octave by the mean power: from 13650 points a response to ", "2734 points below 10 Hz or above 40 kHz are left out"} {
		if k >= len(r.Remarks) || !strings.HasPrefix(r.Remarks[k], want) {
			t.Errorf("%q, want %s", r.Remarks, want)
		}
	}
	d.Measured.Responses = r.Responses
	if err := d.Validate(); err != nil {
		t.Error(err)
	}
}

// Whatever is thinned keeps the mean power of each band, ascends, lies in the band, and
// is no more than a response may have.
func TestThinningKeepsWhatABandCarries(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 3000).Draw(t, "points")
		step := rapid.Float64Range(1.00001, 1.05).Draw(t, "step")
		level := rapid.Float64Range(-100, 100).Draw(t, "level")
		var hz, db []float64
		for f := float64(LowestKept); len(hz) < n && f <= HighestKept; f *= step {
			hz, db = append(hz, f), append(db, level+float64(len(hz)%7))
		}
		f, l := Thin(hz, db)
		if len(f) != len(l) || len(f) > project.MaxPoints || len(f) > len(hz) {
			t.Fatalf("%d points of %d", len(f), len(hz))
		}
		for i := range f {
			if i > 0 && !(f[i] > f[i-1]) {
				t.Fatalf("%g after %g", f[i], f[i-1])
			}
			if l[i] < level-0.006 || l[i] > level+6.006 {
				t.Fatalf("%g dB of %g", l[i], level)
			}
		}
		if f[0] < hz[0]-0.001 || f[len(f)-1] > hz[len(hz)-1]+0.001 {
			t.Fatalf("%g to %g Hz", f[0], f[len(f)-1])
		}
	})
	f, l := Thin([]float64{1000, 1001, 1002, 1100}, []float64{0, 10, 10 * math.Log10(4), 3})
	if len(f) != 2 || l[0] != 6.99 || l[1] != 3 { // (1 + 10 + 4) / 3 = 5: 6.99 dB, by hand
		t.Errorf("%v %v", f, l)
	}
}

// FuzzRead holds that no bytes panic, that what is refused is so in one line, and that
// what is taken is a design that can be kept.
func FuzzRead(f *testing.F) {
	for _, s := range []string{"seat,hz,db\n1.1,20,80\n", "20 80\n25 81\n", "\ufeffhz;db\n\"20,0\";1\n", "#\n*\n20\t3\n", "khz,db", "seat,hz,db\n1.1,20,80\n1.2,30,70\n1.1,20,1", "20,0 80,0\n21,0 3\n"} {
		f.Add([]byte(s), "")
		f.Add([]byte(s), "1.1")
	}
	d := demo(f, "small")
	f.Fuzz(func(t *testing.T, data []byte, seat string) {
		r, err := Read(data, d, Options{Name: "f", Seat: seat})
		if err != nil {
			var fault *project.Fault
			if !errors.As(err, &fault) || strings.ContainsAny(err.Error(), "\n\r") {
				t.Fatalf("%T %v", err, err)
			}
			return
		}
		c := d.Clone()
		c.Measured.Responses = r.Responses
		if err := c.Validate(); err != nil || len(c.GoneMeasured()) > 0 {
			t.Fatal(err)
		}
	})
}
