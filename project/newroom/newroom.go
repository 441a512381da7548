// SPDX-License-Identifier: MIT

package newroom

import (
	"fmt"
	"math"
	"strings"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/bs2051"
	"earline/project/file"
	"earline/project/fit"
	"earline/project/practice"
	"earline/project/sight"
)

// Wish is what a new room is to be.
type Wish struct {
	Length, Width, Height unit.Length
	Seats                 int
	Rows                  int // 0: as many as suit the room
	System                string
	Units                 project.Units
}

// Usual returns the wish that is offered first.
func Usual() Wish {
	return Wish{Length: 6, Width: 4.5, Height: 2.7, Seats: 4, System: "7.1.4", Units: project.Metric}
}

// The limits of a wish, metres.
const (
	minLength, maxLength = 2.5, 20
	minWidth, maxWidth   = 2, 15
	minHeight, maxHeight = 2.1, 6
	maxSeats             = 60
)

func (w Wish) validate() error {
	show := func(v unit.Length) string { return v.Format(w.Units != project.Imperial) }
	size := func(field string, v, lo, hi unit.Length) error {
		if !(v >= lo && v <= hi) {
			return &project.Fault{Field: field, Found: show(v), Allowed: show(lo) + " to " + show(hi)}
		}
		return nil
	}
	for _, err := range []error{size("length", w.Length, minLength, maxLength), size("width", w.Width, minWidth, maxWidth),
		size("height", w.Height, minHeight, maxHeight)} {
		if err != nil {
			return err
		}
	}
	if w.Seats < 1 || w.Seats > maxSeats {
		return &project.Fault{Field: "seats", Found: fmt.Sprint(w.Seats), Allowed: fmt.Sprintf("1 to %d", maxSeats)}
	}
	if w.Rows < 0 || w.Rows > w.Seats {
		return &project.Fault{Field: "rows", Found: fmt.Sprint(w.Rows), Allowed: fmt.Sprintf("1 to %d", w.Seats)}
	}
	if _, ok := channels(w.System); !ok {
		return &project.Fault{Field: "system", Found: fmt.Sprintf("%q", w.System), Allowed: strings.Join(SystemNames(), ", ")}
	}
	return nil
}

// Design returns a room as wished for. It returns a *project.Fault for a wish outside
// its limits, and for more seats than the room holds.
func Design(w Wish) (*project.Design, error) {
	if err := w.validate(); err != nil {
		return nil, err
	}
	p := newPlanner(w)
	ways := p.arrangements()
	if len(ways) == 0 {
		return nil, p.tooMany()
	}
	return p.best(ways), nil
}

// planner plans one room.
type planner struct {
	wish             Wish
	long, wide, high float64
	channels         []bs2051.Channel
	base             *project.Design // the shell, and whatever does not depend on the plan
	sat              map[string]sitters
	paths            int // of sound looked at so far
}

func newPlanner(w Wish) *planner {
	p := &planner{wish: w, long: float64(w.Length), wide: float64(w.Width), high: float64(w.Height), sat: map[string]sitters{}}
	p.channels, _ = channels(w.System)
	d := file.New()
	d.Units = w.Units
	d.Room.Footprint = []project.Corner{{}, {X: w.Length}, {X: w.Length, Y: w.Width}, {Y: w.Width}}
	d.Room.Ceiling = project.Ceiling{Slope: project.Flat, Height: w.Height}
	d.Room.Features, d.Room.Treatments, d.SubZones = nil, nil, nil
	for _, m := range file.Materials() {
		if m.ID == "door-wood" {
			d.Room.Materials = append(d.Room.Materials, m)
		}
	}
	p.base = d
	return p
}

func (p *planner) sitters(c seat) sitters {
	s, ok := p.sat[c.ID]
	if !ok {
		s = sittersIn(p.base, c)
		p.sat[c.ID] = s
	}
	return s
}

// tooMany says how many seats fit.
func (p *planner) tooMany() error {
	show := func(v unit.Length) string { return v.Format(p.wish.Units != project.Imperial) }
	for n := p.wish.Seats - 1; n > 0; n-- {
		q := *p
		q.wish.Seats = n
		if len(q.arrangements()) > 0 {
			found := fmt.Sprint(p.wish.Seats)
			if p.wish.Rows > 0 {
				found += fmt.Sprintf(" in %d rows", p.wish.Rows)
			}
			return &project.Fault{Field: "seats", Found: found,
				Allowed: fmt.Sprintf("%d or fewer in a room of %s by %s by %s", n, show(p.wish.Length), show(p.wish.Width), show(p.wish.Height))}
		}
	}
	return &project.Fault{Field: "room", Found: fmt.Sprintf("%s by %s by %s", show(p.wish.Length), show(p.wish.Width), show(p.wish.Height)),
		Allowed: "a larger one: no seat fits before a picture"}
}

// best returns the first arrangement without a fault, else the one with the least.
func (p *planner) best(ways []arrangement) *project.Design {
	const (
		good  = 3      // arrangements without a rule broken to choose from
		paths = 60_000 // of sound looked at in each search: about half a second
		step  = 0.005  // by how much an arrangement must be better to be looked at closely
		// broken is less than what any broken rule costs.
		broken = 0.9
	)
	var best *project.Design
	var least fault
	// search looks for what costs less than most.
	search := func(most float64) {
		found, until := 0, p.paths+paths
		for i := range ways {
			d := p.build(&ways[i])
			cost, ok := p.loudspeakers(d, most)
			if p.paths > until {
				return
			}
			if !ok {
				continue
			}
			p.door(d)
			f := faultOf(d)
			if best == nil || f.less(least) {
				best, least = d, f
			}
			if f.kept() {
				found++
			}
			if f.none() || found == good {
				return
			}
			if most > broken {
				most = min(most, max(cost-step, broken))
			}
		}
	}
	search(broken)
	if best == nil || !least.kept() {
		search(math.Inf(1))
	}
	if best == nil { // the system has no place here at all
		best = p.build(&ways[0])
	}
	setPower(best)
	return best
}

// fault is what is wrong with a room, the worst first.
type fault [5]int

func faultOf(d *project.Design) fault {
	r := sight.Audit(d)
	n := practice.Check(d, r, practice.Standard{}).Counts()
	return fault{len(fit.Findings(d)), n[practice.Must], n[practice.Should], r.Count[sight.Tight], n[practice.Note]}
}

// kept reports whether nothing more than notes is against it.
func (f fault) kept() bool { f[4] = 0; return f.none() }

func (f fault) none() bool { return f == fault{} }

func (f fault) less(g fault) bool {
	for i := range f {
		if f[i] != g[i] {
			return f[i] < g[i]
		}
	}
	return false
}
