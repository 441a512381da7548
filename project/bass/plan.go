// SPDX-License-Identifier: MIT

package bass

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"earline/geometry"
	"earline/project"
	"earline/project/air"
	"earline/project/bass/field"
	"earline/project/bass/modal"
	"earline/project/bass/wave"
)

// Plan is a design as bass meets it: who listens where, which subwoofers stand
// where, and what the room is made of in the octave that matters.
type Plan struct {
	Seats []project.Seat
	Ears  []geometry.Vec // the middle between the ears, one for each seat
	// Speakers are the indices in Design.Speakers of the subwoofers, those labelled
	// LFE; Places where their sound starts, the middle of their drivers; Subs what
	// they are and how they are tuned.
	Speakers []int
	Places   []geometry.Vec
	Subs     []Sub
	// Zones are where subwoofers may stand.
	Zones []Zone
	// Limits are Optimise's, with the steps of the design's processor.
	Limits      Limits
	Frequencies []float64 // Hz, ascending
	// Room is the room with its platforms, stages, columns and soffits.
	Room wave.Room
	// Coarse asks a Store for waves on a coarse grid, some five times as fast: for
	// what follows the mouse. In the demos it is 2 dB off, root mean square, for
	// platforms then end up to 110 mm from where they stand.
	Coarse bool
	// Remarks say what was assumed.
	Remarks []string

	names    []string    // of the subwoofers
	box      *modal.Room // when it is one
	corner   geometry.Vec
	surfaces modal.Surfaces
}

// unknown is the absorption taken for a surface of which no material is named:
// that of plasterboard on a frame at 125 Hz, as common practice, no source.
const unknown = 0.10

// Of returns the plan of a design at the given frequencies, in hertz, ascending.
// Surfaces take what their material takes in the octave nearest the middle of
// these. It returns the design's faults, or that the frequencies do not ascend.
func Of(d *project.Design, frequencies []float64) (*Plan, error) {
	if err := errors.Join(d.Validate(), field.Ascending(frequencies)); err != nil {
		return nil, err
	}
	p := &Plan{Seats: d.Seats(), Frequencies: slices.Clone(frequencies)}
	for _, s := range p.Seats {
		b := d.Listener(s)
		p.Ears = append(p.Ears, b.EarLeft.Lerp(b.EarRight, 0.5))
	}
	playback := d.Playback.OrUsual()
	p.Limits = Limits{GainStep: playback.TrimStep, DelayStep: playback.DelayStep / 1000}
	for i, l := range d.Place() {
		if !strings.HasPrefix(l.Label, "LFE") {
			continue
		}
		at := l.At.Vec()
		if n := len(l.Drivers); n > 0 {
			at = geometry.Vec{}
			for _, d := range l.Drivers {
				at = at.Add(d.Center.Mul(1 / float64(n)))
			}
		}
		p.Speakers = append(p.Speakers, i)
		p.Places = append(p.Places, at)
		p.names = append(p.names, l.Name())
		p.Subs = append(p.Subs, Sub{Enclosure: l.Spec.Enclosure, Corner: l.Spec.Cutoff, Sensitivity: l.Spec.Sensitivity, Drive: Tuned(l.Tuning)})
		if l.Spec.Cutoff == 0 {
			p.remark("%s: where its response ends is not known; taken to reach down without end.", l.Name())
		}
	}
	for _, z := range d.SubZones {
		a, b := z.From, z.To
		p.Zones = append(p.Zones, Zone{
			Lo: geometry.Vec2{X: float64(min(a.X, b.X)), Y: float64(min(a.Y, b.Y))},
			Hi: geometry.Vec2{X: float64(max(a.X, b.X)), Y: float64(max(a.Y, b.Y))}, Height: float64(z.Height),
		})
	}
	p.shell(d)
	return p, nil
}

func (p *Plan) remark(format string, args ...any) {
	p.Remarks = append(p.Remarks, fmt.Sprintf(format, args...))
}

// shell fills in the room.
func (p *Plan) shell(d *project.Design) {
	r := d.Room
	octave := nearestOctave(math.Sqrt(p.Frequencies[0] * p.Frequencies[len(p.Frequencies)-1]))
	known := true
	takes := func(ids ...string) float64 { // the first that is named
		for _, id := range ids {
			for _, m := range r.Materials {
				if m.ID == id && len(m.Absorption) == project.OctaveCount {
					return m.Absorption[octave]
				}
			}
		}
		known = false
		return unknown
	}
	poly := r.Polygon()
	speed := air.Speed(r.Air.OrUsual().Temperature)
	h0 := r.CeilingAt(0, 0)
	p.Room = wave.Room{
		Footprint: poly, Speed: speed,
		Ceiling: wave.Plane{Height: h0, AlongX: r.CeilingAt(1, 0) - h0, AlongY: r.CeilingAt(0, 1) - h0},
	}
	// A surface takes what its parts take by area.
	floor := part{area: math.Abs(poly.Area()), takes: takes(r.Surfaces.Floor)}
	ceiling := part{area: floor.area, takes: takes(r.Surfaces.Ceiling)}
	walls := make([]part, len(poly))
	for i := range poly {
		a, b := poly.Edge(i)
		id := r.Surfaces.Walls
		for _, w := range r.Surfaces.Wall {
			if w.Wall == i+1 {
				id = w.Material
			}
		}
		walls[i] = part{area: a.Dist(b) * (r.CeilingAt(a.X, a.Y) + r.CeilingAt(b.X, b.Y)) / 2, takes: takes(id)}
	}
	for _, t := range r.Treatments {
		on := &ceiling
		if t.Wall > 0 {
			on = &walls[t.Wall-1]
		}
		on.cover(float64(t.To-t.From)*float64(t.High-t.Low), takes(t.Material))
	}
	for _, f := range r.Features {
		gives := field.Admittance(takes(f.Material, r.Surfaces.Walls))
		box := f.Box()
		switch f.Kind {
		case project.Column, project.Soffit, project.Stage:
			p.Room.Blocks = append(p.Room.Blocks, block(box, gives))
		case project.Door, project.Window:
			if f.Material == "" {
				continue
			}
			const near = 0.5 // m: doors and windows are in the wall, not across the room
			at := geometry.Vec2{X: box.Center.X, Y: box.Center.Y}
			if edge, foot := poly.Nearest(at); edge >= 0 && at.Dist(foot) < near {
				walls[edge].cover(2*max(box.Half.X, box.Half.Y)*2*box.Half.Z, takes(f.Material))
			}
		}
	}
	for i := range d.Seating.Rows {
		if box, ok := d.Platform(i); ok {
			a := takes(r.Surfaces.Platforms, r.Surfaces.Floor)
			p.Room.Blocks = append(p.Room.Blocks, block(box, field.Admittance(a)))
			floor.cover(4*box.Half.X*box.Half.Y, a)
		}
	}
	p.Room.FloorGives, p.Room.CeilingGives = field.Admittance(floor.takes), field.Admittance(ceiling.takes)
	for _, w := range walls {
		p.Room.Walls = append(p.Room.Walls, field.Admittance(w.takes))
	}
	if !known {
		p.remark("Some surfaces have no material: they are taken to absorb %.2f.", unknown)
	}
	p.remark("Surfaces absorb what tables give for them at %.0f Hz, each wall by the mean over its area; small rooms differ, and a measured decay time serves better.", project.Octaves()[octave])
	p.square(walls)
}

// part is a surface or what covers some of it.
type part struct{ area, takes float64 }

// cover puts something else on some of the surface.
func (p *part) cover(area, takes float64) {
	if p.area > 0 {
		p.takes += min(1, area/p.area) * (takes - p.takes)
	}
}

// nearestOctave returns the index in project.Octaves of the octave nearest f
// hertz.
func nearestOctave(f float64) int {
	best := 0
	for i, o := range project.Octaves() {
		if math.Abs(math.Log(o/f)) < math.Abs(math.Log(project.Octaves()[best]/f)) {
			best = i
		}
	}
	return best
}

// block returns an upright box as a block.
func block(b geometry.Box, gives float64) wave.Block {
	corner := func(u, v float64) geometry.Vec2 {
		q := b.Center.Add(b.Basis.U.Mul(u * b.Half.X)).Add(b.Basis.V.Mul(v * b.Half.Y))
		return geometry.Vec2{X: q.X, Y: q.Y}
	}
	return wave.Block{
		Footprint: geometry.Polygon{corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)},
		Bottom:    b.Center.Z - b.Half.Z, Top: b.Center.Z + b.Half.Z, Gives: gives,
	}
}

// square finds out whether the room is a box along the axes.
func (p *Plan) square(walls []part) {
	const askew = 1e-6 // m, far below any tape
	poly := p.Room.Footprint
	if len(poly) != 4 || p.Room.Ceiling.AlongX != 0 || p.Room.Ceiling.AlongY != 0 {
		return
	}
	lo, hi := poly.Bounds()
	var s modal.Surfaces
	for i := range poly {
		a, b := poly.Edge(i)
		g := field.Admittance(walls[i].takes)
		switch {
		case math.Abs(a.X-b.X) < askew && math.Abs(a.X-lo.X) < askew:
			s.Front = g
		case math.Abs(a.X-b.X) < askew && math.Abs(a.X-hi.X) < askew:
			s.Back = g
		case math.Abs(a.Y-b.Y) < askew && math.Abs(a.Y-lo.Y) < askew:
			s.Left = g
		case math.Abs(a.Y-b.Y) < askew && math.Abs(a.Y-hi.Y) < askew:
			s.Right = g
		default:
			return
		}
	}
	s.Floor, s.Ceiling = p.Room.FloorGives, p.Room.CeilingGives
	p.surfaces, p.corner = s, geometry.V(lo.X, lo.Y, 0)
	p.box = &modal.Room{Length: hi.X - lo.X, Width: hi.Y - lo.Y, Height: p.Room.Ceiling.Height, Speed: p.Room.Speed}
}

// Rectangular returns the room as package modal takes it, and whether it is one:
// a rectangle along the axes under a flat ceiling. What stands in it does not
// count.
func (p *Plan) Rectangular() (modal.Room, bool) {
	if p.box == nil {
		return modal.Room{}, false
	}
	return *p.box, true
}

// Modal is the sum over modes of a plan, ready for any places of subwoofers in
// the room's frame. It may be used from any goroutine.
type Modal struct {
	sum  *modal.Sum
	plan *Plan
}

// Modal prepares the sum over modes: quick, for rectangular rooms. damping is
// modal.Uniform of a measured decay time, or nil for what the surfaces take. It
// returns a *project.Fault for a room that is not rectangular.
func (p *Plan) Modal(damping modal.Damping) (*Modal, error) {
	if p.box == nil {
		return nil, &project.Fault{Field: "room.footprint", Found: "not a rectangle along the axes under a flat ceiling",
			Allowed: "one, for the sum over modes; finite differences take any room"}
	}
	if damping == nil {
		damping = p.surfaces.Damping(*p.box)
	}
	sum, err := modal.New(*p.box, damping, p.within(p.Ears), p.Frequencies, 0)
	if err != nil {
		return nil, err
	}
	return &Modal{sum, p}, nil
}

// within returns places in the frame of the box, those in or behind its walls at
// their face.
func (p *Plan) within(places []geometry.Vec) []geometry.Vec {
	all := make([]geometry.Vec, len(places))
	for i, q := range places {
		q = q.Sub(p.corner)
		all[i] = geometry.V(min(p.box.Length, max(0, q.X)), min(p.box.Width, max(0, q.Y)), min(p.box.Height, max(0, q.Z)))
	}
	return all
}

// Transfer returns the sound of subwoofers at the places at each seat.
func (m *Modal) Transfer(places []geometry.Vec) (*field.Transfer, error) {
	t, err := m.sum.Transfer(m.plan.within(places))
	if err != nil {
		return nil, err
	}
	t.Remarks = append(slices.Clone(m.plan.Remarks), t.Remarks...)
	if len(m.plan.Room.Blocks) > 0 {
		t.Remarks = append(t.Remarks, "Platforms, stages, columns and soffits are left out: finite differences take them in.")
	}
	return t, nil
}

// Move recomputes in t, which must come from m.Transfer, the part of one
// subwoofer that now stands elsewhere.
func (m *Modal) Move(t *field.Transfer, source int, to geometry.Vec) error {
	return m.sum.Move(t, source, m.plan.within([]geometry.Vec{to})[0])
}

// Wave returns the sound of subwoofers at the places at each seat by finite
// differences: in any room, with what stands in it, in seconds.
func (p *Plan) Wave(ctx context.Context, places []geometry.Vec, o wave.Options) (*field.Transfer, error) {
	t, err := wave.Run(ctx, p.Room, places, p.Ears, p.Frequencies, o)
	if err != nil {
		return nil, err
	}
	t.Remarks = append(slices.Clone(p.Remarks), t.Remarks...)
	return t, nil
}
