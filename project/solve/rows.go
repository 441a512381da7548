// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/diff"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
)

// Vary says what Rows may change.
type Vary uint8

// What Rows may change: the risers, or the lower edge of the picture.
const (
	Risers Vary = iota
	Bottom
)

// RowsOptions are the limits of Rows. The zero value is ready to use.
type RowsOptions struct {
	Vary
	// Step makes every riser a whole multiple of it; 0 leaves them free.
	Step unit.Length
	// MaxStep and MinStep are the limits of a single step between platforms, and
	// Headroom is the least height from a platform to the ceiling; 0 is what the
	// design's dwelling code asks, or common practice without one.
	MaxStep, MinStep, Headroom unit.Length
	// AnyRise takes the least risers as they come, whether steps fit or not.
	AnyRise bool
	// MostRise is the most that a row rises above the one in front of it; 0 is the
	// drop at a platform's edge that needs no guard. A row that stands higher
	// already may stay.
	MostRise unit.Length
	// Settle lets rows and picture also come down, to the least; otherwise none does.
	Settle bool
	// Curve is how many points of the trade-off between the picture's lower edge
	// and the last riser to work out; 0 for none.
	Curve int
	// People widens the range of people for whom the result holds.
	People
	// Standard has the limits; the zero value is the one that the design has chosen.
	Standard practice.Standard
	Progress
}

// RowsProposal is the answer of Rows.
type RowsProposal struct {
	Proposal
	Rows []RowNeed // in the order of the design
	// Curve is the trade-off, from the lowest edge to the highest.
	Curve []TradeOff
}

// RowNeed is what one row needs.
type RowNeed struct {
	// Least is the least riser with which every eye of the row has the margin
	// over everyone in front, the rows in front being as proposed.
	Least float64
	// Riser is what is proposed and Steps the steps up from the row in front.
	Riser float64
	Steps int
}

// TradeOff is one way to have every eye see the picture.
type TradeOff struct {
	Bottom, LastRiser float64   // metres
	Risers            []float64 // of every row, in the order of the design
	OK                bool      // within the limits
}

const (
	// blindStep is the step of the searches for a view that is hidden by
	// something no bound is known for, such as a soffit from above, metres.
	blindStep = 0.001
	// behindRow is the floor left behind a row's line before the next platform
	// begins: a reclined back and a way through. No source: common practice.
	behindRow = 0.68 // m
	// maxRiser is the most a platform is raised, whatever the room, metres: what
	// a design may hold.
	maxRiser = 10.0
)

// Rows finds, row by row from the front, the least riser with which every eye
// sees the whole picture over everyone in front by the design's picture margin;
// or, with the risers as they are, the lowest lower edge of the picture that
// all rows see.
//
// The least values are exact to 0.1 mm: going up, the search skips a value only if
// it lacks more clearance than the eye moves. They are then rounded up to whole
// millimetres and to steps that can be built. With Everyone, the certificate of
// sight.RangeFor proves that no eye of the range has anything in front of the
// picture either; the least is then exact to 1 mm.
func Rows(ctx context.Context, d *project.Design, o RowsOptions) (*RowsProposal, error) {
	if d == nil {
		d = &project.Design{} // which begin refuses
	}
	if err := o.fill(d); err != nil {
		return nil, err
	}
	out, err := rowsFor(ctx, d, o)
	if err != nil || !o.Everyone || out.Solved() {
		return out, err
	}
	// A compromise for everyone must not cost the set sitters their picture. The
	// proposal is that compromise, what the set sitters need, or the rows as they
	// are.
	people := o.People
	o.Everyone, o.Curve, o.Progress = false, 0, nil
	set, err := rowsFor(ctx, d, o)
	if err != nil {
		return nil, err
	}
	asIs := &RowsProposal{Proposal: Proposal{Design: d.Clone(), After: out.Before}}
	for i, r := range d.Seating.Rows {
		asIs.Rows = append(asIs.Rows, RowNeed{Least: out.Rows[i].Least, Riser: float64(r.Riser)})
	}
	best, least := out, [2]int{math.MaxInt}
	for _, p := range []*RowsProposal{asIs, set, out} {
		short, err := people.viewsShort(ctx, p.Design)
		if err != nil {
			return nil, err
		}
		if n := [2]int{p.After.PictureBlocked, short}; slices.Compare(n[:], least[:]) < 0 {
			best, least = p, n
		}
	}
	if best != out {
		out.Design, out.Changes, out.After, out.Rows = best.Design, best.Changes, best.After, best.Rows
		what := "what the set sitters need"
		if best == asIs {
			what = "to leave the rows as they are"
		} else {
			out.Proof = append(out.Proof, set.Proof...)
		}
		out.Note += fmt.Sprintf(" Proposed is %s: raising for everyone what can be raised would hide more of the picture, from the set sitters or from others.", what)
	}
	return out, nil
}

// viewsShort counts the seats from which not everyone sees the whole picture.
func (p *People) viewsShort(ctx context.Context, d *project.Design) (int, error) {
	d = d.Clone()
	d.Seating.Main = project.MainPosition{At: project.PointOf(place.MainPoint(d))}
	d.Speakers = nil
	r, err := sight.RangeFor(ctx, d, p.Range)
	if err != nil {
		return 0, err
	}
	return r.PictureCount.Breaks + r.PictureCount.Open, nil
}

// rowsFor is Rows with complete options; its compromise may be a bad one for the
// set sitters.
func rowsFor(ctx context.Context, d *project.Design, o RowsOptions) (*RowsProposal, error) {
	p, was, err := begin(ctx, d, o.Standard)
	if err != nil {
		return nil, err
	}
	s := &rowSolver{viewers: viewers{ctx: ctx, People: o.People}, o: o, d: p.Design, out: &RowsProposal{Proposal: Proposal{std: p.std}}}
	if o.Vary == Bottom {
		err = s.bottom()
	} else {
		err = s.risers()
	}
	if err != nil {
		return nil, err
	}
	if err := s.curve(); err != nil {
		return nil, err
	}
	rows := s.out.Rows
	s.out.Proposal = Proposal{Design: p.Design, Before: p.Before, Proof: s.out.Proof, std: p.std}
	s.finish(d, was)
	if len(s.out.Changes) == 0 { // dropped, or nothing to do
		for i, r := range d.Seating.Rows {
			rows[i].Riser, rows[i].Steps = float64(r.Riser), 0
		}
	}
	return s.out, ctx.Err()
}

func (o *RowsOptions) fill(d *project.Design) error {
	def := func(v *unit.Length, d unit.Length) {
		if *v == 0 {
			*v = d
		}
	}
	code := o.Standard.For(d).Code(d.Criteria.Code)
	def(&o.MaxStep, unit.Length(code.Step.Most()))
	def(&o.MinStep, unit.Length(code.Step.Least()))
	def(&o.Headroom, unit.Length(code.Headroom.Least()))
	def(&o.MostRise, unit.Length(code.Guard.Most()))
	if err := o.People.fill(); err != nil {
		return err
	}
	for _, err := range []error{
		length("rows step", o.Step, 0, 2), length("rows highest step", o.MaxStep, 0.01, 2),
		length("rows lowest step", o.MinStep, 0.001, float64(o.MaxStep)), length("rows headroom", o.Headroom, 0, 30),
		length("rows highest rise", o.MostRise, 0, maxRiser),
	} {
		if err != nil {
			return err
		}
	}
	if o.Curve < 0 || o.Curve > 100 {
		return &project.Fault{Field: "rows curve", Found: fmt.Sprint(o.Curve), Allowed: "0 to 100 points"}
	}
	return nil
}

// rowSolver is one run of Rows.
type rowSolver struct {
	viewers
	o   RowsOptions
	d   *project.Design
	out *RowsProposal
	// skipProofs omits proofs; points of the trade-off curve only need feasibility.
	skipProofs bool
}

// fromFront returns the indexes of the rows from the front.
func fromFront(d *project.Design) []int {
	order := make([]int, len(d.Seating.Rows))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := d.Seating.Rows[a].Distance, d.Seating.Rows[b].Distance
		switch {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	return order
}

// seen returns a copy of d with these rows only and no loudspeakers, to ask what
// the seats see.
func seen(d *project.Design, rows []int) *project.Design {
	c := d.Clone()
	c.Speakers = nil
	c.Seating.Main = project.MainPosition{At: project.PointOf(place.MainPoint(d))}
	c.Seating.Rows = nil
	for _, i := range rows {
		c.Seating.Rows = append(c.Seating.Rows, d.Seating.Rows[i])
	}
	return c
}

// risers finds the riser of every row.
func (s *rowSolver) risers() error {
	order := fromFront(s.d)
	s.out.Rows = make([]RowNeed, len(order))
	for n, i := range order {
		s.o.tell(float64(n)/float64(len(order)), fmt.Sprintf("row %d", i+1))
		need, err := s.riser(order[:n+1])
		if err != nil {
			return err
		}
		s.out.Rows[i] = need
	}
	s.o.tell(1, "rows done")
	return nil
}

// riser sets the riser of the last of rows; those of the others are final.
func (s *rowSolver) riser(rows []int) (RowNeed, error) {
	i := rows[len(rows)-1]
	row := &s.d.Seating.Rows[i]
	front := 0.0 // of the row in front; the front row starts from its own
	lo := float64(row.Riser)
	if n := len(rows); n > 1 {
		front = float64(s.d.Seating.Rows[rows[n-2]].Riser)
		lo = front
	}
	own := float64(row.Riser)
	hi, limit := s.mostRiser(i), "the headroom"
	if most := max(front+float64(s.o.MostRise), own); most < hi {
		hi, limit = most, "a platform's edge without a guard"
	}
	c := seen(s.d, rows)
	last := len(rows) - 1
	try := func(u float64) viewShortfall {
		setRiser(c, last, u)
		return s.look(c, last)
	}
	if !s.o.Settle {
		if lo = max(lo, own); own == lo && !s.look(c, last).fails {
			return RowNeed{Least: own, Riser: own}, nil
		}
	}
	least, ok, err := s.climb(lo, hi, try)
	if err != nil {
		return RowNeed{}, err
	}
	need := RowNeed{Least: least}
	if ok {
		u, steps := s.build(least, front)
		if !try(u).fails && u <= hi {
			need.Riser, need.Steps = u, steps
			setRiser(s.d, i, u)
			return need, nil
		}
		// The steps lead above the ceiling's limit, or something hangs in the way
		// higher up.
		needed, _ := s.build(least, front)
		s.out.Proof = append(s.out.Proof, Obstacle{
			Constraint: "steps", Where: fmt.Sprintf("row %d", i+1), Short: max(needed-hi, 0),
			Text: fmt.Sprintf("Row %d sees the picture from %s up, but steps of %s to %s lead to %s, where %s allows %s.", i+1, s.show(least),
				s.show(float64(s.o.MinStep)), s.show(float64(s.o.MaxStep)), s.show(needed), limit, s.show(hi)),
		})
		need.Riser = least
		setRiser(s.d, i, least)
		return need, nil
	}
	return need, s.tooLow(&need, rows, lo, hi, limit)
}

// tooLow records why no riser up to hi is enough for the last of rows, and sets
// the nearest.
func (s *rowSolver) tooLow(need *RowNeed, rows []int, lo, hi float64, limit string) error {
	i := rows[len(rows)-1]
	most := max(math.Floor(max(hi, lo)/millimetre)*millimetre, lo)
	if s.skipProofs {
		need.Riser = most
		setRiser(s.d, i, most)
		s.out.Proof = append(s.out.Proof, Obstacle{Constraint: "headroom"})
		return nil
	}
	c := seen(s.d, rows)
	last := len(rows) - 1
	// The riser that it needs without a ceiling.
	end := maxRiser
	if s.Everyone {
		end, s.estimateOnly = min(end, max(lo, hi)+2*beyond), true
	}
	needed, ok, err := climb(s.ctx, max(lo, hi), end, blindStep, func(u float64) (float64, bool) {
		setRiser(c, last, u)
		k := s.look(c, last)
		return k.step, k.fails
	})
	s.estimateOnly = false
	if err != nil {
		return err
	}
	need.Riser = most
	setRiser(s.d, i, most)
	setRiser(c, last, most)
	k := s.look(c, last)
	seat := k.set.Seats[k.seat]
	ob := Obstacle{Constraint: limit,
		Where: fmt.Sprintf("row %d seat %d", i+1, seat.Number)}
	if hi < lo {
		ob.Short = lo - hi
		ob.Text = fmt.Sprintf("Row %d is to stand no lower than %s, the row in front, which is %s too high for the headroom.", i+1, s.show(lo), s.show(lo-hi))
	} else if ok {
		ob.Short = needed - hi
		need.Least = needed
		who := ""
		if s.Everyone {
			who = " for " + s.whom()
		}
		ob.Text = fmt.Sprintf("Row %d needs a riser of %s%s%s; %s allows %s, %s less. Seat %d lacks most",
			i+1, s.about(), s.show(needed), who, limit, s.show(hi), s.show(ob.Short), seat.Number)
		if k.all != nil {
			ob.Text += ": " + k.who()
		}
		ob.Text += "."
	} else {
		ob.Constraint = k.who()
		ob.Short = k.amount(float64(s.d.Criteria.PictureMargin))
		ob.Text = fmt.Sprintf("No riser lets row %d seat %d see the whole picture: %s stays in the way.", i+1, seat.Number, ob.Constraint)
		if k.all != nil {
			ob.Text = fmt.Sprintf("No riser lets everyone in row %d seat %d see the whole picture: %s.", i+1, seat.Number, ob.Constraint)
		}
	}
	// The alternative: a higher picture.
	c = seen(s.d, rows)
	s.pic = sight.NewViewer(c)
	b, ok, err := s.lowestBottom(c, float64(s.d.Screen.Border), math.Inf(1))
	if s.pic = nil; err != nil {
		return err
	} else if ok && b > float64(s.d.Screen.Bottom) {
		ob.Text += fmt.Sprintf(" With its riser at %s the picture's lower edge would have to be at %s.", s.show(most), s.show(b))
	}
	s.out.Proof = append(s.out.Proof, ob)
	return nil
}

// build returns the lowest riser, not below least, that can be built behind a row
// with the riser front, and the number of steps up to it.
func (s *rowSolver) build(least, front float64) (float64, int) {
	u := upTo(least, millimetre)
	if step := float64(s.o.Step); step > 0 {
		u = upTo(least, step)
	}
	if s.o.AnyRise {
		return u, 0
	}
	rise, steps := steppable(u-front, float64(s.o.MinStep), float64(s.o.MaxStep))
	u = front + rise
	if step := float64(s.o.Step); step > 0 {
		u = upTo(u, step)
	}
	return u, steps
}

// mostRiser returns how high row i may stand under the ceiling.
func (s *rowSolver) mostRiser(i int) float64 {
	hi := maxRiser
	c := s.d.Clone()
	for _, seat := range place.Seats(c) {
		if seat.Row == i+1 {
			hi = min(hi, c.Room.CeilingAt(seat.Ref.X, seat.Ref.Y)-float64(s.o.Headroom))
		}
	}
	return hi
}

// setRiser sets the riser of row i (from 0) and gives it a platform.
func setRiser(d *project.Design, i int, u float64) {
	r := &d.Seating.Rows[i]
	r.Riser = unit.Length(u)
	if u <= 0 || r.Front+r.Back > 0 {
		return
	}
	// From behind the row in front to behind its own chairs.
	chair, _ := d.Chair(r.Chair)
	front := math.Inf(-1)
	for j := range d.Seating.Rows {
		if x := float64(d.Seating.Rows[j].Distance); j != i && x < float64(r.Distance) {
			front = max(front, x+behindRow)
		}
	}
	const before = 0.4 // m, where there is no row in front: for the feet
	r.Front = chair.PanDepth + before
	if room := float64(r.Distance) - front; room < float64(r.Front) || !math.IsInf(front, 0) {
		r.Front = unit.Length(max(room, 0))
	}
	r.Back = behindRow
}

// bottom finds the lowest edge for the risers as they are.
func (s *rowSolver) bottom() error {
	s.o.tell(0, "lower edge of the picture")
	all := fromFront(s.d)
	c := seen(s.d, all)
	s.pic = sight.NewViewer(c)
	defer func() { s.pic = nil }()
	for _, r := range s.d.Seating.Rows {
		s.out.Rows = append(s.out.Rows, RowNeed{Least: float64(r.Riser), Riser: float64(r.Riser)})
	}
	least := float64(s.d.Screen.Border)
	if !s.o.Settle {
		least = float64(s.d.Screen.Bottom)
		if !s.look(c, -1).fails {
			s.o.tell(1, "lower edge kept")
			return nil
		}
	}
	most, _ := mostEdge(s.d, s.out.std)
	b, ok, err := s.lowestBottom(c, least, most)
	if err != nil {
		return err
	}
	if ok {
		s.d.Screen.Bottom = unit.Length(b)
		s.o.tell(1, "lower edge found")
		return nil
	}
	hi, limit := mostEdge(s.d, s.out.std)
	c.Room.Ceiling = c.Room.Ceiling.Raised(5)
	s.pic = sight.NewViewer(c)
	needed, had, err := s.lowestBottom(c, least, math.Inf(1))
	if err != nil {
		return err
	}
	s.d.Screen.Bottom = unit.Length(max(hi, float64(s.d.Screen.Border), least))
	c = seen(s.d, all)
	s.pic = nil
	k := s.look(c, -1)
	seat := k.set.Seats[k.seat]
	ob := Obstacle{Constraint: limit, Where: fmt.Sprintf("row %d seat %d", all[seat.Row-1]+1, seat.Number)}
	if had {
		ob.Short = needed - hi
		who := ""
		if s.Everyone {
			who = s.whom() + " in "
		}
		ob.Text = fmt.Sprintf("The picture's lower edge would have to be at %s for %s%s to see it; %s allows %s, %s less.",
			s.show(needed), who, ob.Where, limit, s.show(hi), s.show(ob.Short))
		if k.all != nil {
			ob.Text += " As it is, " + k.who() + "."
		}
	} else {
		ob.Constraint = k.who()
		ob.Text = fmt.Sprintf("At no height of the picture does %s see all of it: %s is in the way.", ob.Where, ob.Constraint)
		if k.all != nil {
			ob.Text = fmt.Sprintf("At no height of the picture does everyone in %s see all of it: %s.", ob.Where, ob.Constraint)
		}
	}
	s.out.Proof = append(s.out.Proof, ob)
	return nil
}

// curve works out the trade-off between lower edge and last riser.
func (s *rowSolver) curve() error {
	n := s.o.Curve
	if n == 0 {
		return nil
	}
	lo, hi := float64(s.d.Screen.Border), mostBottom(s.d)
	for i := range n {
		share := 0.0
		if n > 1 {
			share = float64(i) / float64(n-1)
		}
		s.o.tell(share, "trade-off")
		q := &rowSolver{viewers: s.viewers, o: s.o, d: s.d.Clone(), out: &RowsProposal{}, skipProofs: true}
		q.o.Progress = nil
		q.d.Screen.Bottom = unit.Length(lo + (hi-lo)*share)
		for k := range q.d.Seating.Rows {
			q.d.Seating.Rows[k].Riser = 0
		}
		if err := q.risers(); err != nil {
			return err
		}
		order := fromFront(q.d)
		t := TradeOff{Bottom: float64(q.d.Screen.Bottom),
			LastRiser: float64(q.d.Seating.Rows[order[len(order)-1]].Riser), OK: len(q.out.Proof) == 0}
		for _, r := range q.d.Seating.Rows {
			t.Risers = append(t.Risers, float64(r.Riser))
		}
		s.out.Curve = append(s.out.Curve, t)
	}
	return nil
}

// finish lists the changes and checks whether something that the search left out, such
// as a loudspeaker, hides the picture. A compromise that shows nobody more of the
// picture is dropped.
func (s *rowSolver) finish(before *project.Design, was *sight.Result) {
	s.out.Changes = rowChanges(before, s.d)
	s.out.Note = stairCaution(s.out.std.Code(before.Criteria.Code))
	_, r := count(s.d)
	hidden := func(r *sight.Result) (sum float64) {
		for i := range r.Views {
			sum += 1 - r.Views[i].Visible
		}
		return sum
	}
	const rounding = 1e-9 // of a picture
	wished := s.out.Solved()
	if wished {
		for i, v := range r.Views {
			if v.Verdict != sight.Clear {
				s.out.Proof = append(s.out.Proof, viewObstacle(s.d, r, i))
			}
		}
	}
	s.out.conclude(before, was)
	now, then := r.PictureCount[sight.Blocked], was.PictureCount[sight.Blocked]
	helps := now < then || now == then && s.o.Vary == Risers && hidden(r) < hidden(was)-rounding
	if !wished && len(s.out.Changes) > 0 && !helps {
		s.out.drop(before)
	}
	if !s.Everyone || !s.out.Solved() {
		return
	}
	all, err := sight.RangeFor(s.ctx, s.d, s.Range)
	if err != nil {
		return // Rows returns it
	}
	for i := range all.Views {
		if v := &all.Views[i]; v.Judged && !v.Holds {
			s.out.Proof = append(s.out.Proof, Obstacle{Constraint: "not certified",
				Where: fmt.Sprintf("row %d seat %d", r.Seats[i].Row, r.Seats[i].Number), Text: all.PictureSentence(i)})
			if last := &s.out.Proof[len(s.out.Proof)-1]; v.Certified {
				last.Constraint, last.Short = all.Case(i, v.Worst), max(-v.Upper, 0)
			}
		}
	}
	if s.out.Solved() {
		s.out.Note += fmt.Sprintf(" Everyone from %s sees the whole picture.", s.Range.Words())
	}
}

// rowChanges lists the visible changes of risers, platforms and the picture.
func rowChanges(before, after *project.Design) []Change {
	var rows, picture, aspect []Change
	for _, c := range diff.Seen(diff.Compare(before, after)) {
		switch field := c.Field[strings.LastIndexByte(c.Field, '.')+1:]; {
		case c.Thing.Kind == diff.Row && (field == "riser_m" || field == "platform_front_m" || field == "platform_back_m"):
			rows = append(rows, c)
		case c.Thing.Kind == diff.Screen && (field == "width_m" || field == "bottom_m"):
			picture = append(picture, c)
		case c.Thing.Kind == diff.Screen && field == "aspect":
			aspect = append(aspect, c)
		}
	}
	return slices.Concat(rows, picture, aspect)
}

func (s *rowSolver) show(v float64) string { return Metres.Show(v, s.d.Units) }
