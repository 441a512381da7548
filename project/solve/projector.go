// SPDX-License-Identifier: MIT

package solve

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/diff"
	"earline/project/fit"
	"earline/project/picture"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
)

// ProjectorOptions are the wishes of Projector. The zero value is ready to use.
type ProjectorOptions struct {
	// Standard has the limits; the zero value is the one that the design has chosen.
	Standard practice.Standard
	Progress
}

// ProjectorProposal is the answer of Projector.
type ProjectorProposal struct {
	Proposal
	// Places are where the lens may stand, the best first and none too near to another.
	Places []LensPlace
}

// LensPlace is where a lens may stand, and what speaks for it.
type LensPlace struct {
	At    project.Point
	Throw float64 // metres from the screen
	Shift float64 // the greatest part of the lens's shift that a shape takes
	// Standing is how many of those who stand up at their seats are in the beam, Walking at
	// how many places, some 0.3 m apart, of the ways from the door to the seats one is.
	Standing, Walking int
	// Noise is the level at the nearest ear, dB(A), and Ear the seat it belongs to; not a
	// number where the model says none, or the projector is in another room.
	Noise float64
	Ear   string
	low   bool // its cabinet hangs lower than one can walk under
}

const (
	// airAround is left free on all sides of a cabinet for its air and its plugs, metres:
	// common practice, no source; the maker's own figure goes before it.
	airAround = 0.05
	// behindPort is how far behind the face of the wall a lens begins to stand, metres:
	// the wall and its glass; common practice, no source.
	behindPort = 0.15
)

// Projector places the lens of the design's projector: the zoom and the shift of every shape
// within the lens's, nothing of the room in its beam, its cabinet in nobody's way and clear
// of what is there. It stands on the middle of the picture where it can; of such places the
// one over whoever stands up, then whoever walks in, then the one farthest from the screen, whose light is the most
// even and quietest, then the highest. Behind a port it stands as near to the glass as may be.
//
// A design that has projector models and no projector gets the first, under the ceiling.
func Projector(ctx context.Context, d *project.Design, o ProjectorOptions) (*ProjectorProposal, error) {
	p, was, err := begin(ctx, d, o.Standard)
	if err != nil {
		return nil, err
	}
	out := &ProjectorProposal{Proposal: *p}
	if !d.Projector.Given() {
		if len(d.ProjectorModels) == 0 {
			return nil, &project.Fault{Field: "projector", Found: "none", Allowed: "a design with a projector or a projector model"}
		}
		out.Design.Projector = project.Projector{Model: d.ProjectorModels[0].ID, Mount: project.CeilingMount, Fill: project.Zoom}
	}
	s := newLensSearch(ctx, out.Design, out.std)
	o.tell(0, "places of the lens")
	found, err := s.search()
	if err != nil {
		return nil, err
	}
	if len(found) == 0 {
		out.Design = d.Clone()
		out.Proof = append(out.Proof, s.hinders())
		out.conclude(d, was)
		return out, nil
	}
	o.tell(0.6, "sight past the cabinet")
	if out.Places, err = s.unseen(found); err != nil {
		return nil, err
	}
	if len(out.Places) == 0 {
		out.Design = d.Clone()
		out.Proof = append(out.Proof, Obstacle{Constraint: "sight", Where: "projector",
			Text: "At every place that zoom, shift and the room allow, the cabinet is in the way of ears or eyes: hang it behind the rear row, or behind a port."})
		out.conclude(d, was)
		return out, nil
	}
	best := out.Places[0]
	out.Design.Projector.At = best.At
	for _, c := range diff.Compare(d, out.Design) {
		if strings.HasPrefix(c.Field, "projector") {
			out.Changes = append(out.Changes, c)
		}
	}
	for _, text := range s.notes(&best) {
		out.remark(text)
	}
	o.tell(1, "projector placed")
	out.conclude(d, was)
	return out, nil
}

// lensSearch looks for places of the lens of one design.
type lensSearch struct {
	ctx    context.Context
	d      *project.Design // with the projector that is placed
	m      project.ProjectorModel
	fill   int         // as picture.Result.Chosen
	room   *place.Room // without the projector
	around *picture.Around
	walk   *picture.Walkers
	base   *sight.Result // of the same
	head   float64       // least height under the cabinet, metres
	allow  float64       // how far off its place it may be built, metres
	middle float64       // of the picture, from the left wall
	failed failure
}

// failure is what a place failed for: the later in the search, the nearer it came.
type failure struct {
	stage int
	by    float64 // metres, or a share
	what  Obstacle
}

// The stages of the search.
const (
	noPlace = iota + 1
	noZoom
	noShift
	noFit
	noBeam
)

func newLensSearch(ctx context.Context, d *project.Design, std practice.Standard) *lensSearch {
	bare := *d
	bare.Projector = project.Projector{}
	s := &lensSearch{ctx: ctx, d: d, room: place.Of(&bare), base: sight.Audit(&bare), head: ruleLimits(std, "headroom").Least(), allow: std.BuildAllowance().Accepted.Least()}
	s.m, _ = d.ProjectorModel(d.Projector.Model)
	const nth = 3 // of the steps of 0.1 m: nobody is thinner
	s.around, s.walk = picture.AroundOf(s.room), picture.WalkersOf(s.room, nth)
	r := picture.Optics(d)
	s.fill, s.middle = r.Chosen(), r.Screen.Across
	return s
}

// at returns the design with the lens at p.
func (s *lensSearch) at(p geometry.Vec) *project.Design {
	c := *s.d
	c.Projector.At = project.PointOf(p)
	return &c
}

// fail keeps what came nearest.
func (s *lensSearch) fail(stage int, by float64, what Obstacle) {
	if stage > s.failed.stage || stage == s.failed.stage && by < s.failed.by {
		what.Short, s.failed = by, failure{stage, by, what}
	}
}

// search returns the places of the lens on the middle of the picture, the best first; beside
// it only where there is none there.
func (s *lensSearch) search() ([]LensPlace, error) {
	const (
		step = 0.2 // m, to either side
		most = 1.0 // m
	)
	for n := 0; float64(n)*step <= most+1e-9; n++ {
		if err := s.ctx.Err(); err != nil {
			return nil, err
		}
		off := float64(n) * step
		var found []LensPlace
		if n == 0 {
			found = s.on(s.middle, 1)
		} else { // second best: looked at less closely
			found = append(s.on(s.middle+off, 2), s.on(s.middle-off, 2)...)
		}
		if len(found) > 0 {
			slices.SortStableFunc(found, s.compare)
			return found, nil
		}
	}
	return nil, nil
}

// compare orders places, the better first.
func (s *lensSearch) compare(a, b LensPlace) int {
	far := cmp.Compare(b.Throw, a.Throw)
	if s.d.Projector.Mount == project.PortMount {
		far = -far
	}
	high := cmp.Compare(b.At.Z, a.At.Z)
	if s.d.Projector.Mount != project.CeilingMount {
		high = cmp.Compare(a.Shift, b.Shift)
	}
	low := func(p LensPlace) int {
		if p.low {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(low(a), low(b)), cmp.Compare(a.Standing, b.Standing), cmp.Compare(a.Walking, b.Walking), far, high)
}

// back returns how far the wall behind the seats is from the screen wall, so far from the
// left one; ok is false where the screen is not before it.
func (s *lensSearch) back(y float64) (x float64, ok bool) {
	poly := s.d.Room.Polygon()
	x = math.Inf(-1)
	for i := range poly {
		a, b := poly.Edge(i)
		if (a.Y > y) == (b.Y > y) {
			continue
		}
		x = max(x, a.X+(b.X-a.X)*(y-a.Y)/(b.Y-a.Y))
	}
	return x, x > float64(s.d.Screen.Distance)
}

// on returns the places of the lens so far from the left wall, at so many times the finest
// steps.
func (s *lensSearch) on(y, times float64) (found []LensPlace) {
	across, up := 0.1*times, 0.05*times // m, from place to place
	back, ok := s.back(y)
	if !ok {
		s.fail(noPlace, 0, Obstacle{Constraint: "room", Where: "projector", Text: "There is no wall behind the seats, opposite the screen."})
		return nil
	}
	r := picture.Optics(s.at(geometry.Vec{X: back, Y: y, Z: pictureMiddle(s.d)}))
	zoom := r.Stands[s.fill].FromWall
	least, most := s.span(back)
	if zoom.None() {
		s.fail(noPlace, r.Stands[s.fill].Zoom, Obstacle{Constraint: "zoom", Where: "projector", Kind: Number,
			Text: fmt.Sprintf("No place serves all shapes: they ask for a zoom of %.3f, the lens has %.3f. Fill the screen by scaling, or take a lens of more zoom.",
				r.Stands[s.fill].Zoom, s.m.ThrowMax/s.m.ThrowMin)})
		return nil
	}
	from, to := max(zoom.From, least), min(zoom.To, most)
	if from > to {
		s.fail(noZoom, from-to, Obstacle{Constraint: "zoom", Where: "projector", Text: s.tooFar(r, zoom, least, most)})
		return nil
	}
	slack := min(0.05, (to-from)/4) // m: off the ends of the zoom, as it is built
	from, to = from+slack, to-slack
	for x := to; x >= from-1e-9; x -= across {
		x := max(math.Floor(x*100+1e-6)/100, from)
		high := r.Stands[s.fill].Height
		if spare := min(s.allow, (high.To-high.From)/4); spare > 0 {
			high.From, high.To = high.From+spare, high.To-spare
		}
		ceiling := s.d.Room.CeilingAt(min(x, back-0.001), y) - airAround - float64(s.m.Height)/2
		top, foot := min(high.To, ceiling), max(high.From, airAround+float64(s.m.Height)/2)
		if high.None() || top < foot {
			s.fail(noShift, max(foot-top, 0), Obstacle{Constraint: "shift", Where: "projector", Text: s.tooHigh(high, ceiling)})
			continue
		}
		for z := top; z >= foot-1e-9; z -= up {
			if p, ok := s.try(geometry.Vec{X: x, Y: y, Z: max(math.Floor(z*1000+1e-6)/1000, foot)}); ok {
				found = append(found, p)
			}
		}
	}
	return found
}

// pictureMiddle returns the height of the middle of the picture.
func pictureMiddle(d *project.Design) float64 {
	c, _, _ := d.Screen.Picture()
	return c.Z
}

// span returns from where to where a lens can stand as the design mounts it, before zoom and
// shift: distances from the screen wall.
func (s *lensSearch) span(back float64) (least, most float64) {
	behind := float64(s.m.LensAhead+s.m.Depth) + airAround
	switch s.d.Projector.Mount {
	case project.PortMount:
		const deep = 1.5 // m: beyond it the port would be a window
		return back + behindPort, back + deep
	case project.ShelfMount: // on the wall
		return back - behind, back - behind
	}
	const before = 0.5 // m, from the screen: nearer nobody hangs one
	return float64(s.d.Screen.Distance) + before, back - behind
}

// tooFar says why zoom and room leave no distance.
func (s *lensSearch) tooFar(r *picture.Result, zoom picture.Span, least, most float64) string {
	show := func(v float64) string { return Metres.Show(v, s.d.Units) }
	screen := float64(s.d.Screen.Distance)
	if zoom.From > most {
		wide := (zoom.From - screen) / s.m.ThrowMin
		where := "the room lets it stand at most"
		if s.d.Projector.Mount == project.ShelfMount {
			where = "a shelf on the back wall puts it"
		}
		return fmt.Sprintf("The widest raster, %s, takes the lens at least %s from the screen wall, and %s %s: %s too near. A lens with a throw ratio of %.3f would do.",
			show(wide), show(zoom.From), where, show(most), show(zoom.From-most), math.Floor(1000*(most-screen)/wide)/1000)
	}
	narrow := (zoom.To - screen) / s.m.ThrowMax
	where := "where it is mounted it stands at least"
	if s.d.Projector.Mount == project.ShelfMount {
		where = "a shelf on the back wall puts it"
	}
	return fmt.Sprintf("The narrowest raster, %s, takes the lens at most %s from the screen wall, and %s %s: %s too far. A lens with a throw ratio of %.3f would do; under the ceiling this one can stand nearer.",
		show(narrow), show(zoom.To), where, show(least), show(least-zoom.To), math.Ceil(1000*(least-screen)/narrow)/1000)
}

// tooHigh says why shift and ceiling leave no height.
func (s *lensSearch) tooHigh(high picture.Span, ceiling float64) string {
	show := func(v float64) string { return Metres.Show(v, s.d.Units) }
	if high.None() {
		return fmt.Sprintf("The shift of the lens (%.4g %% of height, %.4g %% of width, %s) leaves no height at which it serves all shapes.", 100*s.m.ShiftUp, 100*s.m.ShiftRight, s.m.ShiftShape)
	}
	return fmt.Sprintf("The shift of the lens takes it from %s to %s high, and the cabinet fits under the ceiling up to %s.", show(high.From), show(high.To), show(ceiling))
}

// try judges a place.
func (s *lensSearch) try(p geometry.Vec) (LensPlace, bool) {
	d := s.at(p)
	out := LensPlace{At: d.Projector.At, Throw: p.X - float64(d.Screen.Distance)}
	r := picture.Optics(d)
	for i := range r.Shapes {
		t := r.Shapes[i].Fills[s.fill].Throw
		if !t.ZoomFits(&s.m) || !t.ShiftFits() {
			s.fail(noShift, t.Use, Obstacle{Constraint: "shift", Where: "projector", Kind: Number, Text: "No height at which the lens serves all shapes."})
			return out, false
		}
		out.Shift = max(out.Shift, t.Use)
	}
	show := func(v float64) string { return Metres.Show(v, s.d.Units) }
	here := fmt.Sprintf("with the lens %s from the screen wall, %s from the left wall and %s high", show(p.X), show(p.Y), show(p.Z))
	if d.Projector.Mount != project.PortMount {
		box := place.CabinetOf(s.m, p)
		under := box.Center.Z - box.Half.Z
		for _, c := range box.Corners() {
			out.low = out.low || under-s.room.Floor.At(c.X, c.Y) < s.head
		}
		out.low = out.low && d.Projector.Mount == project.CeilingMount
		roomy := box
		roomy.Half = roomy.Half.Add(geometry.Vec{X: airAround, Y: airAround, Z: airAround})
		if why := fit.Unfit(s.room, roomy); why != "" {
			s.fail(noFit, 0, Obstacle{Constraint: "room", Where: "projector",
				Text: fmt.Sprintf("There is no room for the cabinet and %s of air around it: %s it %s.", show(airAround), here, why)})
			return out, false
		}
	}
	var worst *picture.Obstacle
	beams := picture.Beams(d)
	in := s.around.In(beams)
	for i := range in {
		switch o := &in[i]; {
		case o.Standing:
			out.Standing++
		case worst == nil || o.Depth > worst.Depth:
			worst = o
		}
	}
	if worst != nil {
		s.fail(noBeam, worst.Depth, s.inBeam(worst, r, here))
		return out, false
	}
	out.Walking = s.walk.In(beams)
	out.Noise, out.Ear = s.noise(p)
	return out, true
}

// inBeam says what stands in the beam of a place and which way it would be clear.
func (s *lensSearch) inBeam(o *picture.Obstacle, r *picture.Result, here string) Obstacle {
	show := func(v float64) string { return Metres.Show(v, s.d.Units) }
	name, way := o.Called(), show(o.Depth)+" to the side"
	if o.Part.Person() || o.Part.ChairPart() {
		name = "the " + name
	}
	switch {
	case !math.IsInf(o.Upright, 1) && o.Face == picture.Below:
		way = show(o.Upright) + " lower"
	case !math.IsInf(o.Upright, 1):
		way = show(o.Upright) + " higher"
	}
	return Obstacle{Constraint: name, Where: "projector",
		Text: fmt.Sprintf("At every place that the lens allows, something of the room stands in the beam. The least of it: %s, %s, in that of %s; %s it would be clear.", name, here, r.Shapes[o.Shape].Called, way)}
}

// noise returns the level at the ear nearest to a projector at p, and whose that is: what
// the model states, taken as at 1 m, less 20 lg r of a free field.
func (s *lensSearch) noise(p geometry.Vec) (level float64, ear string) {
	if s.m.Noise == 0 || s.d.Projector.Mount == project.PortMount || len(s.room.Bodies) == 0 {
		return math.NaN(), ""
	}
	box := place.CabinetOf(s.m, p)
	near := math.Inf(1)
	for i := range s.room.Bodies {
		for _, e := range [2]geometry.Vec{s.room.Bodies[i].EarLeft, s.room.Bodies[i].EarRight} {
			if r := e.Dist(box.Center); r < near {
				near, ear = r, fmt.Sprintf("row %d seat %d", s.room.Seats[i].Row, s.room.Seats[i].Number)
			}
		}
	}
	const least = 0.3 // m: nearer, a cabinet is no point
	return s.m.Noise - 20*math.Log10(max(near, least)), ear
}

// unseen returns those of found, the best first, whose cabinet is in nobody's way, and none
// near to a better one; few.
func (s *lensSearch) unseen(found []LensPlace) (out []LensPlace, err error) {
	const (
		apart = 0.45 // m
		tries = 24
		few   = 5
	)
	n := 0
	for i := range found {
		p := &found[i]
		if slices.ContainsFunc(out, func(q LensPlace) bool { return q.At.Vec().Dist(p.At.Vec()) < apart }) {
			continue
		}
		if n++; n > tries || len(out) == few {
			break
		}
		if err := s.ctx.Err(); err != nil {
			return nil, err
		}
		if s.d.Projector.Mount == project.PortMount || !s.inTheWay(p.At.Vec()) {
			out = append(out, *p)
		}
	}
	return out, nil
}

// inTheWay reports whether anybody hears or sees less with the cabinet at p.
func (s *lensSearch) inTheWay(p geometry.Vec) bool {
	r := sight.Audit(s.at(p))
	for i := range r.Pairs {
		if r.Pairs[i].Verdict > s.base.Pairs[i].Verdict {
			return true
		}
	}
	for i := range r.Views {
		if r.Views[i].Verdict > s.base.Views[i].Verdict {
			return true
		}
	}
	return false
}

// hinders returns what stands against every place.
func (s *lensSearch) hinders() Obstacle { return s.failed.what }

// notes says what is to be minded of a place.
func (s *lensSearch) notes(p *LensPlace) (out []string) {
	show := func(v float64) string { return Metres.Show(v, s.d.Units) }
	if off := float64(p.At.Y) - s.middle; math.Abs(off) > 0.0005 {
		side := "right"
		if off < 0 {
			side = "left"
		}
		out = append(out, fmt.Sprintf("The lens is %s to the %s of the picture's middle: on it there is no place.", show(math.Abs(off)), side))
	}
	r := picture.Of(s.at(p.At.Vec()))
	out = slices.Concat(out, r.StandingWords(), r.WalkingWords())
	if p.low {
		out = append(out, fmt.Sprintf("Its cabinet hangs lower than %s over the floor: people strike their heads on it.", show(s.head)))
	}
	if !math.IsNaN(p.Noise) {
		out = append(out, fmt.Sprintf("At the nearest ear, %s, its noise comes to %.0f dB(A): the %.0f dB(A) that the model states, taken as at 1 m, less 20 lg of the distance, as in a free field; the room adds to it.", p.Ear, p.Noise, s.m.Noise))
	}
	if s.d.Projector.Mount == project.PortMount {
		return append(out, fmt.Sprintf("The lens stands from %s behind the face of the wall on (common practice, no source): the thickness of wall and glass is not known. The room behind it is not looked at.", show(behindPort)))
	}
	return append(out, fmt.Sprintf("%s of air is left around the cabinet (common practice, no source): the maker's figure goes before it.", show(airAround)))
}

// Summary says the places, a line each, with lengths in millimetres or in feet.
func (p *ProjectorProposal) Summary(metric bool) []string {
	show := func(v float64) string { return unit.Length(v).Format(metric) }
	out := make([]string, 0, len(p.Places))
	for i, q := range p.Places {
		text := fmt.Sprintf("%d. %s from the screen wall, %s from the left wall, %s high: throw %s, %.0f %% of the shift", i+1,
			show(float64(q.At.X)), show(float64(q.At.Y)), show(float64(q.At.Z)), show(q.Throw), 100*q.Shift)
		if q.Standing > 0 {
			text += fmt.Sprintf(", %s in the beam when standing", several(q.Standing, "seat"))
		} else {
			text += ", the beam passes over whoever stands up"
		}
		if q.Walking > 0 {
			text += ", whoever walks in is in the beam"
		}
		if !math.IsNaN(q.Noise) {
			text += fmt.Sprintf(", %.0f dB(A) at %s", q.Noise, q.Ear)
		}
		out = append(out, text)
	}
	return out
}
