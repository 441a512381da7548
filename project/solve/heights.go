// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/diff"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
	"earline/project/system"
)

// HeightsOptions are the wishes of Heights. The zero value is ready to use.
type HeightsOptions struct {
	// Elevation is the wanted one from the main listening position; 0 is 45
	// degrees. T+000 is straight above whatever it says.
	Elevation unit.Degrees
	// Range is the elevations still accepted; none is what the standard accepts for
	// each loudspeaker, and the wanted one.
	Range [2]unit.Degrees
	// Grid is where the ceiling can carry: joists or tiles.
	Grid Grid
	// Gap is what is left between the box of a loudspeaker and a light, a vent, a
	// soffit or whatever else is built in: its frame, the fixing and a hand to
	// work with. 0 is 100 mm: no source, common practice.
	Gap unit.Length
	// Standard has the limits; the zero value is the one that the design has chosen.
	Standard practice.Standard
	Progress
}

// usualGap is HeightsOptions.Gap where it is not given.
const usualGap = 100 * unit.Millimetre

// Grid is a lattice of places on the ceiling. A pitch of 0 leaves that direction
// free.
type Grid struct {
	X0, Y0         unit.Length // one of the places
	PitchX, PitchY unit.Length
}

// Heights puts the upper loudspeakers (labels U, UH and T) at the azimuth of their
// label and the wanted elevation from the main listening position: exactly where
// that ray meets the ceiling, flat or sloped. A box hangs as high on the ray as the
// ceiling allows. If a place does not fit - a wall, or within Gap of a soffit, a
// light, a vent - or is not on the grid, the loudspeaker goes to the nearest place
// in angle that fits, on the grid or, without one, every 25 mm; then the changes
// say what it makes room for.
func Heights(ctx context.Context, d *project.Design, o HeightsOptions) (*Proposal, error) {
	if o.Elevation == 0 {
		o.Elevation = 45
	}
	for _, err := range []error{
		angle("heights elevation", o.Elevation, 1, 90),
		angle("heights lowest elevation", o.Range[0], 0, 90), angle("heights highest elevation", o.Range[1], float64(o.Range[0]), 90),
		length("heights grid pitch across x", o.Grid.PitchX, 0, 10), length("heights grid pitch across y", o.Grid.PitchY, 0, 10),
		length("heights grid x", o.Grid.X0, -100, 100), length("heights grid y", o.Grid.Y0, -100, 100),
		length("heights gap", o.Gap, 0, 2),
	} {
		if err != nil {
			return nil, err
		}
	}
	p, was, err := begin(ctx, d, o.Standard)
	if err != nil {
		return nil, err
	}
	main := place.MainPoint(d)
	moved, bounds := map[int]bool{}, limitsOf(d, p.std)
	var aside []Change
	for k, l := range d.Speakers {
		az, el, ok := upperDirection(l.Label, o.Elevation)
		if !ok {
			continue
		}
		o.tell(float64(k)/float64(len(d.Speakers)), "placing "+l.Name())
		h := &overhead{d: p.Design, o: o, main: main, k: k, az: az.Radians(), el: el.Radians(), tied: el == 90, accepted: o.Range}
		ch, known := bounds.system.Channel(l.Label)
		if !known {
			ch = system.Channel{Label: l.Label, Azimuth: float64(az)}
		}
		h.azimuths = p.std.Azimuth(ch).Accepted.Limits
		if o.Range == [2]unit.Degrees{} {
			b := bounds.elevation(l).Accepted
			h.accepted = [2]unit.Degrees{unit.Degrees(min(b.Least(), float64(el))), unit.Degrees(max(b.Most(), float64(el)))}
		}
		at, ob, err := h.place(ctx)
		if err != nil {
			return nil, err
		}
		if ob != nil {
			p.Proof = append(p.Proof, *ob)
		}
		if at != nil {
			p.Design.Speakers[k] = *at
		}
		if h.aside != "" {
			aside = append(aside, Change{What: h.aside, Measure: diff.Words})
		}
		moved[k] = true
	}
	o.tell(1, "placed")
	p.Changes = placeChanges(d, p.Design)
	if len(p.Changes) > 0 { // else they stood aside before
		p.Changes = append(p.Changes, aside...)
	}
	_, r := count(p.Design)
	for i := range r.Seats {
		for k := range r.Speakers {
			if v := r.Pair(i, k).Verdict; moved[k] && (v == sight.Blocked || v == sight.Tight) {
				p.Proof = append(p.Proof, pairObstacle(p.Design, r, i, k))
			}
		}
	}
	p.conclude(d, was)
	p.remark("Loads over heads: fixings, safety bonds and the ceiling itself are for licensed practice and the local code to judge.")
	return p, nil
}

// upperDirection returns the direction of an upper loudspeaker by its label.
func upperDirection(label string, el unit.Degrees) (az, at unit.Degrees, ok bool) {
	if label == "T+000" {
		return 0, 90, true
	}
	rest, ok := strings.CutPrefix(label, "UH")
	if !ok {
		rest, ok = strings.CutPrefix(label, "U")
	}
	a, err := strconv.ParseFloat(rest, 64)
	return unit.Degrees(a), el, ok && err == nil
}

// overhead is one loudspeaker to hang under the ceiling.
type overhead struct {
	d      *project.Design
	o      HeightsOptions
	main   geometry.Vec
	k      int
	az, el float64 // radians, wanted
	tied   bool    // straight above: no elevation but 90 degrees will do
	// accepted and azimuths are the elevations and azimuths that will do.
	accepted [2]unit.Degrees
	azimuths practice.Limits // degrees
	features []builtIn       // see builtIn; nil until asked for
	aside    string          // what it had to make room for, and by how much; empty for nothing
}

// onRay returns the loudspeaker on the ray from the main position under (az, el),
// as high as the ceiling lets it; false where the ray does not meet the ceiling.
//
// A loudspeaker that aims at the main position does not turn as it moves along
// the ray, one that is flush or fixed does not turn at all: so its corners stand
// still about it and each meets the slopes of the ceiling at places in closed form.
func (h *overhead) onRay(az, el float64) (place.Speaker, bool) {
	dir := geometry.Direction(az, el)
	l := h.d.Speakers[h.k]
	if m, _ := h.d.Model(l.Model); l.Mount != project.OnCeiling && (m.Flush || l.Mount == project.BehindScreen) {
		l.Mount = project.OnCeiling
	}
	l.At = project.PointOf(h.main.Add(dir))
	ref := place.OneSpeaker(h.d, l, h.main)
	points := []geometry.Vec{{}}
	if !ref.Spec.Flush {
		for _, c := range ref.Box.Corners() {
			points = append(points, c.Sub(ref.At.Vec()))
		}
	}
	ceiling := h.d.Room.Slopes()
	t := math.Inf(1)
	for _, off := range points {
		t = min(t, ceiling.Way(h.main.Add(off), dir))
	}
	if !(t > 0) || math.IsInf(t, 1) {
		return ref, false
	}
	l.At = project.PointOf(h.main.Add(dir.Mul(t)))
	return place.OneSpeaker(h.d, l, h.main), true
}

// fits reports whether p is inside the walls and clear of what is built in, and
// what it meets.
func (h *overhead) fits(p *place.Speaker) (bool, string) {
	poly := h.d.Room.Polygon()
	push := make([]float64, len(poly))
	pushes(poly, p.Box, push)
	for _, out := range push {
		if out > buildTol {
			return false, "a wall"
		}
	}
	for _, f := range h.builtIn() {
		if geometry.Overlap(f.box, p.Box) > buildTol {
			return false, f.words
		}
	}
	return true, ""
}

// builtIn is a feature with the gap about it.
type builtIn struct {
	box   geometry.Box
	words string
}

// builtIn returns what a loudspeaker keeps clear of.
func (h *overhead) builtIn() []builtIn {
	if h.features != nil {
		return h.features
	}
	gap := float64(h.o.Gap)
	if gap == 0 {
		gap = float64(usualGap)
	}
	h.features = []builtIn{}
	for _, f := range h.d.Room.Features {
		if f.Kind == project.Window || f.Kind == project.Door {
			continue
		}
		box := f.Box()
		if f.Kind.Overhead() {
			// Nothing can be heard from the ceiling above it.
			low := box.Center.Z - box.Half.Z
			top := max(box.Center.Z+box.Half.Z, h.d.Room.CeilingAt(box.Center.X, box.Center.Y))
			box.Center.Z, box.Half.Z = (low+top)/2, (top-low)/2
		}
		box.Half = box.Half.Add(geometry.Vec{X: gap, Y: gap, Z: gap})
		h.features = append(h.features, builtIn{box, f.Words()})
	}
	return h.features
}

// above returns the loudspeaker under the ceiling at (x, y).
func (h *overhead) above(x, y float64) (place.Speaker, bool) {
	// The ray through a point of the ceiling at (x, y); a box hangs a little
	// lower on that ray and so a little nearer, which one more round takes back.
	to := geometry.Vec{X: x, Y: y, Z: h.d.Room.CeilingAt(x, y)}
	for range 8 {
		az, el, ok := geometry.AzEl(to.Sub(h.main))
		if !ok || el <= 0 {
			return place.Speaker{}, false
		}
		p, ok := h.onRay(az, el)
		if !ok {
			return p, false
		}
		dx, dy := x-p.At.Vec().X, y-p.At.Vec().Y
		if math.Hypot(dx, dy) < resolution/10 {
			return p, true
		}
		to.X, to.Y = to.X+dx, to.Y+dy
	}
	return place.Speaker{}, false
}

// off returns the angle between the wanted direction and p's.
func (h *overhead) off(p *place.Speaker) float64 {
	return geometry.Angle(geometry.Direction(h.az, h.el), p.At.Vec().Sub(h.main))
}

// beside reports whether the azimuth az, radians, is accepted, or as good as the wanted.
func (h *overhead) beside(az float64) bool {
	const slack = 1e-6                        // rad
	off := math.Remainder(az-h.az, 2*math.Pi) // 180 and -180 are the same
	at := float64(unit.FromRadians(h.az + off))
	const rounding = 1e-4 // degrees
	return math.Abs(off) <= slack || at >= h.azimuths.Least()-rounding && at <= h.azimuths.Most()+rounding
}

// within reports whether the direction of p is accepted.
func (h *overhead) within(p *place.Speaker) bool {
	const slack = 1e-6 // rad
	az, el, _ := geometry.AzEl(p.At.Vec().Sub(h.main))
	if h.tied {
		return math.Pi/2-el < 10*unit.Degree // as near above as a grid allows
	}
	return h.beside(az) && el >= h.accepted[0].Radians()-slack && el <= h.accepted[1].Radians()+slack
}

// place finds the place: the exact one, or the nearest that fits.
func (h *overhead) place(ctx context.Context) (*project.Loudspeaker, *Obstacle, error) {
	l := h.d.Speakers[h.k]
	gridded := h.o.Grid.PitchX > 0 || h.o.Grid.PitchY > 0
	exact, had := h.onRay(h.az, h.el)
	why, built := "the ceiling is below the main position's ears", false
	if had {
		ok, what := h.fits(&exact)
		if ok && !gridded {
			return &exact.Loudspeaker, nil, nil
		}
		if why, built = what, !ok && what != "a wall"; ok {
			why = "the grid"
		}
	} else if h.main.Z < h.d.Room.CeilingAt(h.main.X, h.main.Y) {
		why = "the ceiling falls away along its direction"
	}
	best, err := h.nearest(ctx)
	if err != nil {
		return nil, nil, err
	}
	deg := func(r float64) float64 { return float64(unit.FromRadians(r)) }
	if best == nil {
		return nil, &Obstacle{Constraint: why, Where: l.Name(), Kind: Degrees,
			Text: fmt.Sprintf("%s has no place under the ceiling: %s.", l.Name(), why)}, nil
	}
	if h.within(best) {
		if built {
			h.aside = fmt.Sprintf("%s stands %.1f° beside its direction, to keep clear of %s", l.Name(), deg(h.off(best)), why)
		}
		return &best.Loudspeaker, nil, nil
	}
	off := deg(h.off(best))
	az, el, _ := geometry.AzEl(best.At.Vec().Sub(h.main))
	return &best.Loudspeaker, &Obstacle{Constraint: why, Where: l.Name(), Short: off, Kind: Degrees,
		Text: fmt.Sprintf("%s cannot be at azimuth %.1f° and elevation %.1f° or near it (%s); the nearest place that fits is at %.1f° and %.1f°, %.1f° away.",
			l.Name(), deg(h.az), deg(h.el), why, deg(az), deg(el), off)}, nil
}

// mayBeWithin reports whether a loudspeaker under the ceiling's point (x, y, z) can be
// within: it hangs below that point by no more than its size.
func (h *overhead) mayBeWithin(x, y, z float64) bool {
	v := geometry.Vec{X: x, Y: y, Z: z}.Sub(h.main)
	away := math.Hypot(v.X, v.Y)
	m, _ := h.d.Model(h.d.Speakers[h.k].Model)
	most := math.Atan2(v.Z, away)
	least := math.Atan2(v.Z-float64(m.Width+m.Height+m.Depth), away)
	if h.tied {
		return math.Pi/2-most < 10*unit.Degree
	}
	const slack = 1e-6 // rad
	az, _, _ := geometry.AzEl(v)
	return h.beside(az) && most >= h.accepted[0].Radians()-slack && least <= h.accepted[1].Radians()+slack
}

// mayFit reports whether a loudspeaker with its reference point under (x, y, z) can fit:
// that point is part of its box, so it must be in the room, and, let into the ceiling,
// clear of what is built in.
func (h *overhead) mayFit(poly geometry.Polygon, x, y, z float64) bool {
	const sure = 0.01 // m, more than counts as touching
	at := geometry.Vec2{X: x, Y: y}
	if _, foot := poly.Nearest(at); at.Dist(foot) > sure && !poly.Contains(at) {
		return false
	}
	if m, _ := h.d.Model(h.d.Speakers[h.k].Model); !m.Flush {
		return true
	}
	p := geometry.Vec{X: x, Y: y, Z: z}
	for _, f := range h.builtIn() {
		in := f.box.Basis.Local(p.Sub(f.box.Center))
		if math.Abs(in.X) < f.box.Half.X-sure && math.Abs(in.Y) < f.box.Half.Y-sure && math.Abs(in.Z) < f.box.Half.Z-sure {
			return false
		}
	}
	return true
}

// nearest returns the place on the lattice nearest in angle to the wanted one
// that fits, accepted elevations first; nil for none.
func (h *overhead) nearest(ctx context.Context) (*place.Speaker, error) {
	const free = 0.025 // m, the lattice where the ceiling leaves the place free
	lo, hi := h.d.Room.Polygon().Bounds()
	axis := func(from, to, origin, pitch float64) []float64 {
		if pitch <= 0 {
			origin, pitch = 0, free
		}
		var out []float64
		for n := math.Ceil((from - origin) / pitch); origin+n*pitch <= to && len(out) < 20_000; n++ {
			out = append(out, origin+n*pitch)
		}
		return out
	}
	g := h.o.Grid
	xs := axis(lo.X, hi.X, float64(g.X0), float64(g.PitchX))
	ys := axis(lo.Y, hi.Y, float64(g.Y0), float64(g.PitchY))
	type spot struct{ x, y, z, off float64 }
	var spots []spot
	want := geometry.Direction(h.az, h.el)
	for _, x := range xs {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		for _, y := range ys {
			z := h.d.Room.CeilingAt(x, y)
			if v := (geometry.Vec{X: x, Y: y, Z: z}).Sub(h.main); v.Z > 0 {
				spots = append(spots, spot{x, y, z, geometry.Angle(want, v)})
			}
		}
	}
	sort.SliceStable(spots, func(i, j int) bool { return spots[i].off < spots[j].off })
	poly := h.d.Room.Polygon()
	var spare *place.Speaker
	for n, s := range spots {
		if n%64 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if spare != nil && !h.mayBeWithin(s.x, s.y, s.z) {
			continue
		}
		if !h.mayFit(poly, s.x, s.y, s.z) {
			continue
		}
		p, ok := h.above(s.x, s.y)
		if !ok {
			continue
		}
		if fits, _ := h.fits(&p); !fits {
			continue
		}
		if h.within(&p) {
			return &p, nil
		}
		if spare == nil {
			spare = &p
		}
	}
	return spare, nil
}
