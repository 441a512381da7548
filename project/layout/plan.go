// SPDX-License-Identifier: MIT

package layout

import (
	"context"
	"fmt"
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/fit"
	"earline/project/practice"
	"earline/project/sight"
	"earline/project/system"
)

// Fill returns shell with everything that w asks for in it, and a door where it has
// none: a new room. It returns a *project.Fault for a wish outside its limits, and for
// more seats than the room holds.
func Fill(ctx context.Context, shell *project.Design, w Wish) (*project.Design, error) {
	if err := w.fill(shell); err != nil {
		return nil, err
	}
	p := newPlanner(ctx, shell, w)
	ways := p.ways()
	if len(ways) == 0 {
		return nil, p.tooMany()
	}
	p.wantDoor = true
	d := p.best(ways)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	setPower(d, nil)
	return d, nil
}

// planner plans one room.
type planner struct {
	ctx  context.Context
	wish Wish
	base *project.Design // what is there; rows and loudspeakers are replaced
	hall                 // the one that is being filled
	all  []hall
	// middle and wall are of the screen wall's free span: y of its middle, and width.
	middle, wall float64
	system       system.System
	std          practice.Standard
	limits       limits
	seats        []seat
	stools       []project.Row
	standing     []rect
	hanging      []hanging
	ceiling      geometry.Ceiling
	doors        []rect
	poly         geometry.Polygon
	mirrored     bool
	kit          kit
	sat          map[seatKey]sitters
	paths, puts  int // of sound looked at, and places tried, so far
	wantDoor     bool
	// limitNames are what sets the height of each picture that was looked at.
	limitNames map[pictureKey]string
	// share is the share of all effort, one in so many, that a plan may take.
	share int
	// leave plans for stools at a bar without holding the plan to what they see.
	leave bool
	// loose plans rows that do not see all that they should: the most that can be had.
	loose bool
}

func newPlanner(ctx context.Context, d *project.Design, w Wish) *planner {
	p := &planner{ctx: ctx, wish: w, base: d, sat: map[seatKey]sitters{}, limitNames: map[pictureKey]string{}, seats: seatsOf(d), poly: d.Room.Polygon(), std: w.Standard.For(d), ceiling: d.Room.Slopes(), share: 1}
	p.limits = limitsOf(d, p.std)
	p.system, _ = w.system(d)
	left, right := screenWall(p.poly)
	p.middle, p.wall = (left+right)/2, right-left
	p.all = halls(p.poly)
	if !w.Keep.Rows {
		for _, r := range d.Seating.Rows {
			if atBar(d, r) {
				p.stools = append(p.stools, r)
			}
		}
	}
	p.survey()
	for i := range p.all {
		p.all[i].stop = p.stopAt(p.all[i])
	}
	p.hall = p.all[0]
	p.mirrored = p.mirroredRoom()
	p.kit = kitOf(d)
	return p
}

// long returns the length of the hall that seats and picture share.
func (h hall) long() float64 { return h.stop - h.near }

// way is an arrangement in a hall.
type way struct {
	hall
	arrangement
}

// ways returns the arrangements of all halls, those of the widest first.
func (p *planner) ways() []way {
	var out []way
	for _, h := range p.all {
		p.hall = h
		for _, a := range p.arrangements() {
			out = append(out, way{h, a})
		}
		if p.wish.Keep.Rows {
			break
		}
	}
	return out
}

// tooMany says how many seats fit.
func (p *planner) tooMany() error {
	lo, hi := p.poly.Bounds()
	metric := p.base.Units != project.Imperial
	show := func(v float64) string { return unit.Length(v).Format(metric) }
	_, top := p.ceiling.Range(p.poly)
	size := fmt.Sprintf("%s by %s by %s", show(hi.X-lo.X), show(hi.Y-lo.Y), show(top))
	if n := p.fitting(); n > 0 {
		found := fmt.Sprint(p.wish.Seats)
		if p.wish.Rows > 0 {
			found += fmt.Sprintf(" in %d rows", p.wish.Rows)
		}
		return &project.Fault{Field: "seats", Found: found, Allowed: fmt.Sprintf("%d or fewer in a room of %s", n, size)}
	}
	return &project.Fault{Field: "room", Found: size, Allowed: "a larger one: no seat fits before a picture"}
}

// fitting returns the most seats, fewer than wished for, that fit.
func (p *planner) fitting() int {
	for n := p.wish.Seats - 1; n > 0 && p.ctx.Err() == nil; n-- {
		q := *p
		q.wish.Seats = n
		q.wish.Rows = min(q.wish.Rows, n)
		if len(q.ways()) > 0 {
			return n
		}
	}
	return 0
}

// best returns the first arrangement without a fault, else the one with the least.
func (p *planner) best(ways []way) *project.Design {
	const (
		good  = 3       // arrangements without a rule broken to choose from
		paths = 60_000  // of sound looked at in each search, with all effort: about half a second
		puts  = 120_000 // places tried in each
		step  = 0.005   // by how much an arrangement must be better to be looked at closely
		// broken is less than what any broken rule costs.
		broken  = 0.9
		closely = 40 // arrangements to be audited in each search
	)
	var best *project.Design
	var least fault
	// search looks for what costs less than most.
	search := func(most float64) {
		found, audited, until, last := 0, 0, p.paths+paths/p.share, p.puts+puts/p.share
		for i := range ways {
			if p.ctx.Err() != nil {
				return
			}
			p.hall = ways[i].hall
			d := p.build(&ways[i].arrangement)
			p.limitNames[ways[i].key()] = ways[i].limit
			cost, ok := p.loudspeakers(d, most)
			if p.paths > until || p.puts > last {
				return
			}
			if !ok {
				continue
			}
			if p.wantDoor {
				p.door(d)
			}
			f := p.faultOf(d)
			if best == nil || f.less(least) {
				best, least = d, f
			}
			if f.kept() {
				found++
			}
			if audited++; f.none() || found == good || audited >= closely/p.share {
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
		p.hall = ways[0].hall
		best = p.build(&ways[0].arrangement)
	}
	return best
}

// fault is what is wrong with a room, the worst first.
type fault [5]int

func (p *planner) faultOf(d *project.Design) fault {
	r := sight.Audit(d)
	n := practice.Check(d, r, p.std).Counts()
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

// Shell returns an empty room of that size, to be filled.
func Shell(long, wide, high unit.Length, units project.Units) *project.Design {
	d := file.New()
	d.Units = units
	d.Room.Footprint = []project.Corner{{}, {X: long}, {X: long, Y: wide}, {Y: wide}}
	d.Room.Ceiling = project.Ceiling{Slope: project.Flat, Height: high}
	d.Room.Features, d.Room.Treatments, d.SubZones = nil, nil, nil
	d.Chairs, d.Seating.Rows, d.Models, d.Speakers, d.System = nil, nil, nil, nil, project.System{}
	d.Screen = project.Screen{Border: 0.06, Transparent: true, Gain: 1}
	for _, m := range file.Materials() {
		if m.ID == "door-wood" {
			d.Room.Materials = append(d.Room.Materials, m)
		}
	}
	return d
}
