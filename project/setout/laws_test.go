// SPDX-License-Identifier: MIT

package setout

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/projecttest"
	"earline/project/sight"
	"earline/project/sound"
	"earline/project/table"
)

// every calls f with every room that is kept and with some that are drawn.
func every(t *testing.T, f func(t *testing.T, d *project.Design)) {
	for _, name := range rooms(t) {
		t.Run(name, func(t *testing.T) { f(t, open(t, name)) })
	}
	const drawn = 15
	for seed := range uint64(drawn) {
		t.Run(fmt.Sprintf("room %d", seed), func(t *testing.T) { f(t, projecttest.Room(seed)) })
	}
}

// plane is where a printed offset says that something is: x and y that keep it.
type plane struct{ x, y, is float64 }

// planeOf returns the plane of an offset by the name of what it is from: worked out here
// from the corners alone.
func planeOf(t *testing.T, d *project.Design, from string, offset float64) plane {
	t.Helper()
	if from == "centre line" {
		return plane{0, 1, float64(d.Screen.Centre) + offset}
	}
	f := d.Room.Footprint
	area := 0.0
	for i := range f {
		j := (i + 1) % len(f)
		area += float64(f[i].X*f[j].Y - f[j].X*f[i].Y)
	}
	for i := range f {
		if d.Room.WallName(i+1) != from {
			continue
		}
		a, b := f[i], f[(i+1)%len(f)]
		dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
		long := math.Copysign(math.Hypot(dx, dy), area)
		nx, ny := -dy/long, dx/long
		return plane{nx, ny, nx*float64(a.X) + ny*float64(a.Y) + offset}
	}
	t.Fatalf("no wall is called %q", from)
	return plane{}
}

// Every row of the spreadsheet gives back where its thing is, within the printed digit.
func TestTheListGivesBackEveryPlace(t *testing.T) {
	every(t, func(t *testing.T, d *project.Design) {
		l := of(t, d)
		for _, u := range []project.Units{project.Metric, project.Imperial} {
			l.Units = u
			to, most := 0.001, half
			if u == project.Imperial {
				to, most = 0.0254, 0.0254/32
			}
			all, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(l.Table().CSV(), []byte("\ufeff")))).ReadAll()
			if err != nil || len(all) != len(l.Items)+1 {
				t.Fatal(len(all), err)
			}
			column := func(name string) int {
				at := slices.IndexFunc(all[0], func(h string) bool { return h == name || strings.HasPrefix(h, name+" (") })
				if at < 0 {
					t.Fatalf("no column %s", name)
				}
				return at
			}
			for i, row := range all[1:] {
				it := &l.Items[i]
				number := func(name string) float64 {
					v, err := strconv.ParseFloat(row[column(name)], 64)
					if err != nil {
						t.Fatalf("%s: %s: %v", it.Name, name, err)
					}
					return v * to
				}
				if got := table.Unguard(row[column("name")]); got != it.Name {
					t.Errorf("%q reads as %q", it.Name, got)
				}
				if z := l.Datum.Height + number("above line"); math.Abs(z-it.At.Z) > most+1e-9 {
					t.Errorf("%s: stands at %.4f, reads as %.4f", it.Name, it.At.Z, z)
				}
				p := planeOf(t, d, row[column("first from")], number("first offset"))
				q := planeOf(t, d, row[column("second from")], number("second offset"))
				det := p.x*q.y - p.y*q.x
				if math.Abs(det) < 0.25 {
					t.Errorf("%s: measured twice along one line: from %s and %s", it.Name, row[column("first from")], row[column("second from")])
					continue
				}
				x, y := (p.is*q.y-q.is*p.y)/det, (p.x*q.is-q.x*p.is)/det
				if far := math.Hypot(x-it.At.X, y-it.At.Y); far > most*2/math.Abs(det)+1e-9 {
					t.Errorf("%s: is at (%.4f, %.4f), reads as (%.4f, %.4f)", it.Name, it.At.X, it.At.Y, x, y)
				}
			}
		}
	})
}

// mirrored returns d with left and right exchanged.
func mirrored(d *project.Design) *project.Design {
	m := d.Clone()
	m.Identify()
	lo, hi := d.Room.Polygon().Bounds()
	about := unit.Length(lo.Y + hi.Y)
	label := strings.NewReplacer("+", "-", "-", "+")
	for i := range m.Room.Footprint {
		m.Room.Footprint[i].Y = about - m.Room.Footprint[i].Y
	}
	if m.Room.Ceiling.Slope == project.LeftToRight {
		c := &m.Room.Ceiling
		c.Height, c.FarHeight = c.FarHeight, c.Height
	}
	for i := range m.Room.Ceiling.Planes {
		p := &m.Room.Ceiling.Planes[i]
		p.From.Y, p.To.Y = about-p.From.Y, about-p.To.Y
	}
	for i := range m.Room.Features {
		f := &m.Room.Features[i]
		f.At.Y, f.Turn = about-f.At.Y, -f.Turn
	}
	for i := range m.Room.Treatments {
		if tr := &m.Room.Treatments[i]; tr.Wall == 0 {
			tr.Low, tr.High = about-tr.High, about-tr.Low
		}
	}
	m.Screen.Centre = about - m.Screen.Centre
	if m.Projector.Given() {
		m.Projector.At.Y = about - m.Projector.At.Y
	}
	for i := range m.Models {
		m.Models[i].AimRight = -m.Models[i].AimRight
		for k := range m.Models[i].Drivers {
			m.Models[i].Drivers[k].Right = -m.Models[i].Drivers[k].Right
		}
	}
	for i := range m.Speakers {
		s := &m.Speakers[i]
		s.At.Y, s.Aim.Azimuth = about-s.At.Y, -s.Aim.Azimuth
		if l := label.Replace(s.Label); !strings.HasSuffix(l, "000") && !strings.HasSuffix(l, "180") {
			s.Label = l
		}
	}
	for i := range m.Seating.Rows {
		r := &m.Seating.Rows[i]
		r.Centre, r.Stagger = about-r.Centre, -r.Stagger
		left, right := r.Left, r.Right
		r.Left, r.Right = 0, 0
		if right > 0 {
			r.Left = max(about-right, 0)
		}
		if left > 0 {
			r.Right = about - left
		}
		for k := range r.Steps {
			st := &r.Steps[k]
			switch st.Side {
			case project.LeftSide:
				st.Side = project.RightSide
			case project.RightSide:
				st.Side = project.LeftSide
			default:
				st.At = about - st.At
			}
		}
	}
	m.Seating.Main.At.Y = about - m.Seating.Main.At.Y
	m.SubZones = nil
	return m
}

// In a room with left and right exchanged every offset is the same from the other side,
// and what may be off to the left may be off to the right.
func TestAMirroredRoomIsSetOutMirrored(t *testing.T) {
	every(t, func(t *testing.T, d *project.Design) {
		d = d.Clone()
		d.Identify()
		d.SubZones = nil
		a, b := of(t, d), of(t, mirrored(d))
		if len(a.Items) != len(b.Items) {
			t.Fatalf("%d items, mirrored %d", len(a.Items), len(b.Items))
		}
		for _, it := range a.Items {
			if it.ID == "" {
				t.Errorf("%s has no ID", it.Name)
			}
		}
		byKey := map[[2]string]*Item{}
		for i := range b.Items {
			k := [2]string{b.Items[i].ID, b.Items[i].Part}
			if byKey[k] != nil {
				t.Errorf("%s is %q a second time", b.Items[i].Name, k)
			}
			byKey[k] = &b.Items[i]
		}
		other := strings.NewReplacer("left", "right", "right", "left")
		for i := range a.Items {
			p := &a.Items[i]
			part := other.Replace(p.Part)
			if n, ok := strings.CutPrefix(part, "middle of seat "); ok {
				k, _ := strconv.Atoi(n)
				for _, r := range d.Seating.Rows {
					if r.ID == p.ID {
						part = fmt.Sprintf("middle of seat %d", r.Seats+1-k)
					}
				}
			}
			q := byKey[[2]string{p.ID, part}]
			if q == nil {
				t.Errorf("%s is not there in the mirror", p.Name)
				continue
			}
			const hair = 1e-6
			near(t, p.Name+" height", q.Height, p.Height, hair)
			for n := range p.Offsets {
				want := p.Offsets[n].Distance
				if p.Offsets[n].Wall == 0 {
					want = -want
				}
				near(t, p.Name+" offset", q.Offsets[n].Distance, want, hair)
			}
			if p.Aim != nil && math.Abs(math.Abs(p.Aim.Turn)-180) > hair {
				near(t, p.Name+" turn", q.Aim.Turn, -p.Aim.Turn, hair)
				near(t, p.Name+" tilt", q.Aim.Tilt, p.Aim.Tilt, hair)
			}
			if p.Tolerance == nil {
				continue
			}
			const errs = 0.6e-3 // m: each errs by a quarter of a millimetre for sight
			near(t, p.Name+" up", q.Tolerance.Up.Distance, p.Tolerance.Up.Distance, errs)
			near(t, p.Name+" down", q.Tolerance.Down.Distance, p.Tolerance.Down.Distance, errs)
			near(t, p.Name+" left", q.Tolerance.Left.Distance, p.Tolerance.Right.Distance, errs)
			near(t, p.Name+" right", q.Tolerance.Right.Distance, p.Tolerance.Left.Distance, errs)
		}
	})
}

// exact judges directions without what the rules allow for the tape.
func exact(d *project.Design) practice.Standard {
	none := 0.0
	return practice.Standard{Changes: map[string]practice.Change{
		"azimuth":   {Max: &none, Reason: "exact"},
		"elevation": {Max: &none, Reason: "exact"},
	}}.For(d)
}

// state is what a loudspeaker does at its place.
type state struct {
	verdicts []sight.Verdict
	inside   []bool
	beyond   map[string]bool
}

func stateOf(d *project.Design, k int) state {
	r := sight.Audit(d)
	s := state{beyond: map[string]bool{}}
	direct := sound.Hear(d, r)
	for i := range r.Seats {
		s.verdicts = append(s.verdicts, r.Pair(i, k).Verdict)
		s.inside = append(s.inside, direct.At(i, k).Inside)
	}
	for _, m := range practice.Check(d, r, exact(d)).Remarks {
		if slices.Contains(m.Speakers, k) && (m.Rule == "azimuth" || m.Rule == "elevation") && m.Grade == practice.Beyond {
			s.beyond[m.Rule] = true
		}
	}
	return s
}

// worse returns what is worse in b than in a.
func (a state) worse(b state) (what []string) {
	for i := range a.verdicts {
		if b.verdicts[i] > a.verdicts[i] && b.verdicts[i] != sight.NotJudged {
			what = append(what, "sight")
		}
		if a.inside[i] && !b.inside[i] {
			what = append(what, "coverage")
		}
	}
	for rule := range b.beyond {
		if !a.beyond[rule] {
			what = append(what, rule)
		}
	}
	return what
}

// What may be off may: moved to just inside its tolerance a loudspeaker keeps every
// verdict, coverage and direction that the plan has, and moved to just outside it loses
// what the list names. Moved designs are audited afresh, by every rule.
func TestAToleranceHoldsAndNoMore(t *testing.T) {
	checked := map[string]int{}
	for _, name := range []string{"small-with-column", "small", "two-row", "room-a"} {
		d := open(t, name)
		l, err := Of(t.Context(), sight.Audit(d), exact(d))
		if err != nil {
			t.Fatal(err)
		}
		placed := place.Speakers(d)
		for k := range placed {
			sp := &placed[k]
			at := slices.IndexFunc(l.Items, func(it Item) bool { return it.Tolerance != nil && it.At == sp.At.Vec() })
			if at < 0 || sp.Spec.Subwoofer() {
				continue
			}
			it := &l.Items[at]
			moved := func(w geometry.Vec, by float64) *project.Design {
				m := d.Clone()
				s := &m.Speakers[k]
				if !sp.Spec.Flush { // not turned on the way
					az, el, _ := geometry.AzEl(sp.Axis)
					s.Aim = project.Aim{Fixed: true, Azimuth: unit.Degrees(az / unit.Degree), Elevation: unit.Degrees(el / unit.Degree)}
				}
				s.At = project.PointOf(sp.At.Vec().Add(w.Mul(by)))
				return m
			}
			plan := stateOf(d, k)
			four := sight.Audit(d).Ways(k)
			for n, reach := range []Reach{it.Tolerance.Up, it.Tolerance.Down, it.Tolerance.Left, it.Tolerance.Right} {
				what, _, _ := strings.Cut(reach.Limit, ",")
				const near = 0.6e-3 // m: sight errs by a quarter of a millimetre, to the safe side
				if inside := plan.worse(stateOf(moved(four[n].Toward, max(reach.Distance-1e-5, 0)), k)); len(inside) > 0 {
					t.Errorf("%s: %s %s %.2f mm breaks %v", name, it.Name, four[n].Name, reach.Distance*1000, inside)
				}
				if what == "" || what == "fit" {
					continue
				}
				checked[what]++
				if outside := plan.worse(stateOf(moved(four[n].Toward, reach.Distance+near), k)); !slices.Contains(outside, what) {
					t.Errorf("%s: %s %s beyond %.2f mm breaks %v, not %s", name, it.Name, four[n].Name, reach.Distance*1000, outside, what)
				}
			}
		}
	}
	for _, what := range []string{"sight", "azimuth", "coverage"} {
		if checked[what] == 0 {
			t.Errorf("nothing is limited by %s: looked at %v", what, checked)
		}
	}
}

// No room that can be drawn makes setting out fail, and no distance is negative or more
// than is looked for.
func TestEveryRoomCanBeSetOut(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := projecttest.Draw(rt)
		l, err := Of(t.Context(), sight.Audit(d), practice.Of(d))
		if err != nil {
			rt.Fatal(err)
		}
		for i := range l.Items {
			for _, r := range l.Items[i].Tolerance.reaches() {
				if r != nil && !(r.Distance >= 0 && r.Distance <= Most) {
					rt.Fatalf("%s may be off %g m", l.Items[i].Name, r.Distance)
				}
			}
			if len(l.Items[i].Offsets) != 2 {
				rt.Fatalf("%s has %d offsets", l.Items[i].Name, len(l.Items[i].Offsets))
			}
		}
		l.Report()
		l.Table()
	})
}

// go test ./project/setout -run '^$' -bench Of
func BenchmarkOf(b *testing.B) {
	d := open(b, "large")
	r := sight.Audit(d)
	for b.Loop() {
		if _, err := Of(b.Context(), r, practice.Of(d)); err != nil {
			b.Fatal(err)
		}
	}
}
