// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"math/rand/v2"
	"strings"
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/sight"
)

func rows(t testing.TB, d *project.Design, o RowsOptions) *RowsProposal {
	t.Helper()
	p, err := Rows(context.Background(), d, o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// rowClear reports whether every eye of row i (from 0) of the whole design sees
// the picture with its margin.
func rowClear(d *project.Design, i int) bool {
	r := sight.Audit(d)
	for n, v := range r.Views {
		if r.Seats[n].Row == i+1 && v.Verdict != sight.Clear {
			return false
		}
	}
	return true
}

// In random rooms the risers found let every eye see, and no riser down to the
// floor, every 5 mm, does for the same row: the least. The whole room's audit is
// the judge.
func TestRowsAreLeast(t *testing.T) {
	const seed = 3
	r := rand.New(rand.NewPCG(seed, seed))
	looked := 0
	for room := range 12 {
		d := hall(2+r.IntN(2), 1+r.IntN(5), 2)
		d.Screen.Bottom = unit.Length(0.6 + 0.5*r.Float64())
		d.Room.Ceiling.Height = 3.4
		for i := range d.Seating.Rows {
			d.Seating.Rows[i].Riser = 0
			d.Seating.Rows[i].Stagger = unit.Length(0.4 * (r.Float64() - 0.5))
		}
		p := rows(t, d, RowsOptions{AnyRise: true, MostRise: 3})
		if p.After.PictureBlocked > 0 {
			t.Fatalf("seed %d room %d: %v", seed, room, p.Proof)
		}
		for i, need := range p.Rows {
			if !rowClear(p.Design, i) {
				t.Errorf("seed %d room %d: row %d at %.4f m does not see", seed, room, i+1, need.Riser)
			}
			front := 0.0
			if i > 0 {
				front = p.Rows[i-1].Riser
			}
			low := p.Design.Clone()
			for u := need.Least - 2*resolution; u >= front; u -= 0.005 {
				looked++
				setRiser(low, i, u)
				if rowClear(low, i) {
					t.Fatalf("seed %d room %d: row %d sees from %.4f m, found %.4f m", seed, room, i+1, u, need.Least)
				}
			}
		}
	}
	if looked < 100 {
		t.Fatalf("only %d lower risers looked at", looked)
	}
}

// The least lower edge: 1 mm lower and somebody does not see; the trade-off
// falls.
func TestLowestBottomAndTradeOff(t *testing.T) {
	d := hall(2, 4, 2)
	p := rows(t, d, RowsOptions{Vary: Bottom, Settle: true, Curve: 5})
	if !p.Solved() || p.After.PictureBlocked > 0 {
		t.Fatal(p.Proof)
	}
	low := p.Design.Clone()
	for drop := unit.Length(0.0012); drop < 0.5; drop += 0.01 {
		if low.Screen.Bottom = p.Design.Screen.Bottom - drop; rowClear(low, 0) && rowClear(low, 1) {
			t.Fatalf("all see from %v, found %v", low.Screen.Bottom, p.Design.Screen.Bottom)
		}
	}
	if len(p.Curve) != 5 {
		t.Fatalf("%d points", len(p.Curve))
	}
	for i := 1; i < len(p.Curve); i++ {
		if a, b := p.Curve[i-1], p.Curve[i]; b.Bottom <= a.Bottom || b.LastRiser > a.LastRiser+0.11 {
			t.Errorf("edge %.3f riser %.3f, then edge %.3f riser %.3f", a.Bottom, a.LastRiser, b.Bottom, b.LastRiser)
		}
	}
}

// What is proposed can be stepped up to, and whole steps are whole.
func TestRowsFitSteps(t *testing.T) {
	d := hall(3, 3, 2)
	d.Room.Ceiling.Height = 3.6
	for i := range d.Seating.Rows {
		d.Seating.Rows[i].Riser = 0
	}
	const minStep, maxStep = 0.102, 0.196 // IBC 2015 1011.5.2, IRC 2018 R311.7.5.1
	d.Criteria.Code = project.IRC
	p := rows(t, d, RowsOptions{Step: 0.15})
	front := 0.0
	for i, n := range p.Rows {
		rise := n.Riser - front
		if n.Riser < n.Least || rise > 0 && (rise/float64(n.Steps) > maxStep || rise/float64(n.Steps) < minStep) {
			t.Errorf("row %d: least %.4f, riser %.4f in %d steps", i+1, n.Least, n.Riser, n.Steps)
		}
		if k := n.Riser / 0.15; k-float64(int(k+0.5)) > 1e-9 {
			t.Errorf("row %d: %.4f is no multiple of 0.15 m", i+1, n.Riser)
		}
		front = n.Riser
	}
	if !strings.Contains(p.Note, "local building code") {
		t.Error("no caution about steps")
	}
}

// Rows too close under a low ceiling: the proof names row, ceiling and a way out.
func TestRowsWithNoSolution(t *testing.T) {
	d := hall(2, 4, 2)
	d.Room.Ceiling.Height = 2.4
	d.Screen.Bottom, d.Screen.Width = 0.3, 2.4
	d.Seating.Rows[1].Distance = d.Seating.Rows[0].Distance + 1.0
	p := rows(t, d, RowsOptions{})
	if p.Solved() {
		t.Fatal("solved")
	}
	o := p.Proof[0]
	if !strings.HasPrefix(o.Where, "row 2") || o.Short <= 0 || !strings.Contains(o.Text, "lower edge") {
		t.Errorf("%+v", o)
	}
	// The riser that it says is needed does, with that much more ceiling.
	d.Room.Ceiling.Height += unit.Length(o.Short + 0.11)
	if p := rows(t, d, RowsOptions{AnyRise: true, MostRise: 3}); !p.Solved() {
		t.Errorf("%+v", p.Proof)
	}
}

func BenchmarkRows(b *testing.B) {
	d := hall(4, 6, 16)
	b.ReportAllocs()
	for b.Loop() {
		if p := rows(b, d, RowsOptions{}); len(p.Rows) != 4 {
			b.Fatal("no rows")
		}
	}
}
