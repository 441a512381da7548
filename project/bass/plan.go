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
	"earline/project/bass/field"
	"earline/project/bass/filter"
	"earline/project/bass/modal"
	"earline/project/bass/wave"
	"earline/project/place"
)

// Plan is what bass needs of a design: where the ears are, where which subwoofers
// stand, and what the room's surfaces absorb in the octave that matters.
type Plan struct {
	Seats []place.Seat
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
	// Chairs are the bodies of the chairs, for the waves. The sum over modes leaves
	// them out, and they do not make a room odd.
	Chairs []wave.Block
	// Coarse makes a Store compute waves on a coarse grid, about eight times as fast,
	// for results that follow the mouse: in the demos 1 to 2 dB off the usual grid,
	// root mean square outside dips. A Store also takes it to say how far the usual one
	// is off.
	Coarse bool
	// Remarks say what was assumed.
	Remarks []string

	common   filter.Chain // of all subwoofers, part of each one's
	names    []string     // of the subwoofers
	box      *modal.Room  // when it is one
	corner   geometry.Vec
	absorbs  absorption
	surfaces boxed    // of the box
	share    float64  // of what the surfaces absorb; 1 but for Absorbing
	measured spectrum // decay time by third, s; 0 is not measured
	// modes and waves scale the admittances for the two ways, so that the room rings as
	// was measured.
	modes spectrum
	waves float64
}

// Of returns the plan of a design at the given frequencies, in hertz, ascending.
// The sum over modes takes what the surfaces absorb at the frequency of each mode, finite
// differences one value for all, that of the middle of these. It returns the design's faults, or a fault if the frequencies do not
// ascend.
func Of(d *project.Design, frequencies []float64) (*Plan, error) {
	if err := errors.Join(d.Validate(), field.Ascending(frequencies)); err != nil {
		return nil, err
	}
	p := &Plan{Seats: place.Seats(d), Frequencies: slices.Clone(frequencies)}
	for _, s := range p.Seats {
		b := place.Listener(d, s)
		p.Ears = append(p.Ears, b.Ear())
	}
	playback := d.Playback.OrUsual()
	p.Limits = Limits{GainStep: playback.TrimStep, DelayStep: playback.DelayStep / 1000, Weights: weights(p, place.MainPoint(d))}
	for i, l := range place.Speakers(d) {
		if !strings.HasPrefix(l.Label, "LFE") {
			continue
		}
		p.Speakers = append(p.Speakers, i)
		p.Places = append(p.Places, l.Woofer())
		p.names = append(p.names, l.Name())
		sub := subOf(l.Spec)
		sub.Name = l.Name()
		sub.Drive = Tuned(l.Tuning)
		p.Subs = append(p.Subs, sub)
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
	p.measure(d)
	return p.filtered(d)
}

// Giving returns p with another Limits.GiveUp, in dB.
func (p *Plan) Giving(dB float64) *Plan {
	out := *p
	out.Limits.GiveUp = dB
	return &out
}

func (p *Plan) remark(format string, args ...any) {
	p.Remarks = append(p.Remarks, fmt.Sprintf(format, args...))
}

// Rectangular returns the room for package modal; false unless the room is a
// rectangle along the axes under a flat ceiling. What stands in it does not count.
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
// modal.Uniform or modal.Decay of a measured decay time, or nil for that of the
// surfaces. It returns a *project.Fault for a room that is not rectangular.
func (p *Plan) Modal(damping modal.Damping) (*Modal, error) { return p.modal(damping, nil) }

// modal returns Modal with one of the kept sums if it is the same.
func (p *Plan) modal(damping modal.Damping, kept []*modal.Sum) (*Modal, error) {
	if p.box == nil {
		return nil, &project.Fault{Field: "room.footprint", Found: "not a rectangle along the axes under a flat ceiling",
			Allowed: "one, for the sum over modes; finite differences take any room"}
	}
	if damping == nil {
		damping = p.loss
	}
	ears := p.within(p.Ears)
	for _, sum := range kept {
		if sum.Is(*p.box, damping, ears, p.Frequencies) {
			return &Modal{sum, p}, nil
		}
	}
	sum, err := modal.New(*p.box, damping, ears, p.Frequencies)
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
	if len(m.plan.Chairs) > 0 {
		t.Remarks = append(t.Remarks, "Chairs and the people in them are left out; a row of chairs can move modes by a few per cent.")
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
	room := p.Room
	room.Blocks = slices.Concat(room.Blocks, p.Chairs)
	t, err := wave.Run(ctx, room, places, p.Ears, p.Frequencies, o)
	if err != nil {
		return nil, err
	}
	t.Remarks = slices.Concat(p.Remarks, p.oneValue(), t.Remarks)
	if len(p.Chairs) > 0 {
		t.Remarks = append(t.Remarks, "Chairs are solid bodies here, the most that they can be, and take what tables give for empty ones: chairs of foam on a frame lie between this and none. The people in them are left out.")
	}
	return t, nil
}

// oneValue says how much of what the surfaces absorb finite differences leave out.
func (p *Plan) oneValue() []string {
	f := p.middle()
	var worst spectrum
	ratio := 1.0
	for _, takes := range slices.Concat([]spectrum{p.absorbs.floor, p.absorbs.ceiling}, p.absorbs.walls, p.absorbs.blocks, p.absorbs.chairs) {
		from, to := p.ends(takes)
		if r := to / max(from, 1e-3); r > ratio {
			worst, ratio = takes, r
		}
	}
	var all []string
	const alike = 1.05
	if from, to := p.ends(worst); ratio > alike {
		all = append(all, fmt.Sprintf("Finite differences take one absorption for all frequencies, that of %.0f Hz: of the surface that varies most it runs from %.2f to %.2f, and they take %.2f.", f, from, to, worst.at(f)))
	}
	if p.Measured() {
		all = append(all, fmt.Sprintf("To ring as long as was measured at %s Hz, as a mean, all surfaces give way %.2f times as much as their tables say; single thirds differ.", p.measured.names(), p.waves))
	}
	return all
}

// ends returns the least and the most of s over the frequencies.
func (p *Plan) ends(s spectrum) (least, most float64) {
	least, most = math.Inf(1), 0
	for _, f := range p.Frequencies {
		least, most = min(least, s.at(f)), max(most, s.at(f))
	}
	return least, most
}
