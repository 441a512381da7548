// SPDX-License-Identifier: MIT

package sound

import (
	"context"
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/project/shell"
)

// The limit of Rec. ITU-R BS.1116 and EBU Tech 3276, 2.2, for reference listening
// rooms: what arrives within EarlyTime after the direct sound is at least
// EarlyDrop below it from 1 to 8 kHz.
const (
	EarlyTime = 15.0 // ms
	EarlyDrop = 10.0 // dB
)

// MainSeat is the seat index of the main listening position.
const MainSeat = -1

// Reflection is one path from a loudspeaker to a listener by one or two surfaces.
type Reflection struct {
	Speaker int
	Seat    int // index, or MainSeat
	// Order is the number of surfaces that it meets, 1 or 2; Surfaces are their
	// indexes in Reflections.Surfaces and Points where it meets them, from the
	// loudspeaker on.
	Order    int
	Surfaces [2]int
	Points   [2]geometry.Vec
	Length   float64 // m
	Delay    float64 // ms after the direct sound
	// Level is against the direct sound with nothing in its way, dB: distance, air,
	// the absorption of the surfaces at random incidence, and the directivity
	// against that towards the listener. Strongest is the greatest of 1 to 8 kHz.
	Level     [project.OctaveCount]float64
	Strongest float64
	// Scatters is whether a surface spreads it: its level is then an upper bound
	// and is not judged.
	Scatters bool
	// Breaks is whether it breaks the limit.
	Breaks bool
}

// Reflections are the reflections in a room.
type Reflections struct {
	Surfaces []shell.Surface
	All      []Reflection // loudspeaker by loudspeaker, the main position, then seats
	Remarks  []string
}

// ReflectOptions say which reflections to find.
type ReflectOptions struct {
	// Second adds the reflections by two surfaces that arrive within EarlyTime and
	// are at most 20 dB below the direct sound.
	Second bool
}

// Reflect finds the first reflections at the main listening position and at every
// seat of a valid design, placed as in room; if room is nil, Reflect computes it.
// It takes the mirror images of the loudspeakers in every surface (Allen and
// Berkley 1979) and keeps those whose mirror point lies on the surface and whose
// legs stay in the room and clear of platforms, of what is built in and of every
// chair except the listener's own. Subwoofers are left out.
//
// This is geometry: a surface no wider than a wavelength (0.34 m at 1 kHz) reflects
// less than this says, edges diffract, and the coefficients are those of sound from
// all sides. People, who come and go, are not in the way; they and the chairs
// reflect nothing. The error is that of ctx.
func Reflect(ctx context.Context, d *project.Design, room *place.Room, o ReflectOptions) (*Reflections, error) {
	if room == nil {
		room = place.Of(d)
	}
	return reflectIn(ctx, d, shell.Of(d), room, o)
}

// reflectIn is Reflect for a given shell.
func reflectIn(ctx context.Context, d *project.Design, s *shell.Shell, room *place.Room, o ReflectOptions) (*Reflections, error) {
	m := newMirrors(d, s, room)
	out := &Reflections{Surfaces: s.Surfaces}
	ears := listeners(room)
	for k := range room.Speakers {
		if room.Speakers[k].Spec.Subwoofer() || len(room.Speakers[k].Drivers) == 0 {
			continue
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		m.from(k)
		for i := MainSeat; i < len(ears); i++ {
			ear := room.Main
			if i >= 0 {
				ear = ears[i]
			}
			out.All = m.to(out.All, i, ear, o.Second)
		}
	}
	out.Remarks = assumed(s)
	return out, nil
}

// mirrors finds the reflections of one loudspeaker after another.
type mirrors struct {
	surfaces     []shell.Surface
	outline      geometry.Polygon
	convex       bool
	room         *place.Room
	air          roomAir
	obstructions []obstruction // that may stand in the way

	least float64 // m: narrower surfaces are left out

	k        int
	r        Radiator
	images   []geometry.Vec // of the loudspeaker in each surface
	seen     []bool         // by surface: whether the loudspeaker is in front of it
	shade    []int          // the obstructions that can be in its way
	ownChair int            // index in obstructions of the listener's own chair, or -1
}

// obstruction is a platform, a feature or a chair.
type obstruction struct {
	bound  geometry.Sphere
	solids []geometry.Solid
	balls  []geometry.Sphere // around each solid
	fixed  bool              // no chair
}

func obstructionOf(solids ...geometry.Solid) obstruction {
	t := obstruction{solids: solids}
	var middle geometry.Vec
	for i := range solids {
		b := solids[i].Bound()
		t.balls = append(t.balls, b)
		middle = middle.Add(b.Center.Mul(1 / float64(len(solids))))
	}
	t.bound.Center = middle
	for _, b := range t.balls {
		t.bound.Radius = max(t.bound.Radius, middle.Dist(b.Center)+b.Radius)
	}
	return t
}

// crossed reports whether seg, of length l, runs through t.
func (t *obstruction) crossed(seg geometry.Segment, l float64) bool {
	const touch = 1e-4 // m: a leg ends on the surface that it meets
	if t.bound.Gap(seg) >= 0 {
		return false
	}
	for i := range t.solids {
		if t.balls[i].Gap(seg) >= 0 {
			continue
		}
		if t0, t1, ok := t.solids[i].Hit(seg); ok && (t1-t0)*l > touch {
			return true
		}
	}
	return false
}

func newMirrors(d *project.Design, s *shell.Shell, room *place.Room) *mirrors {
	m := &mirrors{least: audible, surfaces: s.Surfaces, outline: s.Outline, convex: s.Outline.Convex(), room: room, air: airOf(d.Room.Air),
		images: make([]geometry.Vec, len(s.Surfaces)), seen: make([]bool, len(s.Surfaces))}
	for _, b := range room.Floor {
		m.obstructions = append(m.obstructions, obstructionOf(b.Solid()))
	}
	for _, f := range d.Room.Features {
		if !shell.InSurface(f.Kind) {
			m.obstructions = append(m.obstructions, obstructionOf(f.Solid()))
		}
	}
	if !d.Screen.Transparent {
		m.obstructions = append(m.obstructions, obstructionOf(d.Screen.Sheet().Solid()))
	}
	for i := range m.obstructions {
		m.obstructions[i].fixed = true
	}
	for _, seat := range room.Seats {
		var solids []geometry.Solid
		for _, p := range seat.ChairParts() {
			solids = append(solids, p.Solid())
		}
		m.obstructions = append(m.obstructions, obstructionOf(solids...))
	}
	return m
}

// audible is half a wavelength at 1 kHz, m: narrower surfaces reflect little in the
// octaves that are judged.
const audible = 0.17

// from prepares for loudspeaker k.
func (m *mirrors) from(k int) { m.radiating(k, radiatorOf(&m.room.Speakers[k])) }

// radiating prepares for loudspeaker k, which radiates as r from where r is.
func (m *mirrors) radiating(k int, r Radiator) {
	// A front this near to a surface is part of it: its image is itself.
	const flush = 0.03 // m
	sp := &m.room.Speakers[k]
	m.k, m.r = k, r
	for i := range m.surfaces {
		on := &m.surfaces[i]
		h := on.Height(m.r.at)
		m.seen[i] = h > flush && m.large(on)
		m.images[i] = m.r.at.Sub(on.Normal.Mul(2 * h))
	}
	m.shade = m.shade[:0]
	for i := range m.obstructions {
		if t := &m.obstructions[i]; !t.fixed || !carries(&t.solids[0], sp) {
			m.shade = append(m.shade, i)
		}
	}
}

// large is false for surfaces that are too narrow to count.
func (m *mirrors) large(s *shell.Surface) bool {
	lo, hi := s.Outline.Bounds()
	return hi.X-lo.X >= m.least && hi.Y-lo.Y >= m.least
}

// to appends the reflections that reach ear.
func (m *mirrors) to(out []Reflection, seat int, ear geometry.Vec, second bool) []Reflection {
	direct := m.r.at.Dist(ear)
	toListener := m.r.Levels(ear)
	m.findOwnChair(ear)
	for i := range m.surfaces {
		if !m.seen[i] {
			continue
		}
		on := &m.surfaces[i]
		if p, q, ok := meets(on, m.images[i], ear); ok && m.clear(m.r.at, p) && m.clear(p, ear) {
			r := Reflection{Speaker: m.k, Seat: seat, Order: 1, Surfaces: [2]int{i, -1}, Points: [2]geometry.Vec{p},
				Length: m.images[i].Dist(ear)}
			m.level(&r, direct, &toListener, q, geometry.Vec2{})
			out = append(out, r)
		}
		if !second {
			continue
		}
		for j := range m.surfaces {
			if r, ok := m.secondOrder(i, j, ear, direct, &toListener); ok {
				r.Seat = seat
				out = append(out, r)
			}
		}
	}
	return out
}

// findOwnChair sets ownChair to the listener's own chair, which hides nothing: a
// headrest is no wider than the wave at 1 kHz, and sound from behind goes round it.
// Nor does any chair that contains the ear, since it would hide everything: a main
// listening position may be anywhere.
func (m *mirrors) findOwnChair(ear geometry.Vec) {
	const own = 0.3 // m, between the ears of the seat and the ear
	m.ownChair = -1
	at := geometry.Segment{A: ear, B: ear}
	first := len(m.obstructions) - len(m.room.Bodies)
	for i := range m.room.Bodies {
		b := &m.room.Bodies[i]
		if b.Ear().Dist(ear) < own {
			m.ownChair = first + i
			return
		}
		t := &m.obstructions[first+i]
		if t.bound.Gap(at) >= 0 {
			continue
		}
		for k := range t.solids {
			if _, _, in := t.solids[k].Hit(at); in {
				m.ownChair = first + i
			}
		}
	}
}

// secondOrder returns the reflection by surface i, then j.
func (m *mirrors) secondOrder(i, j int, ear geometry.Vec, direct float64, toListener *[project.OctaveCount]float64) (Reflection, bool) {
	const softest = -20 // dB; softer ones are left out
	on := &m.surfaces[j]
	if i == j || !m.large(on) {
		return Reflection{}, false
	}
	h := on.Height(m.images[i])
	if !(h > 0) {
		return Reflection{}, false // the first surface is seen from behind
	}
	image := m.images[i].Sub(on.Normal.Mul(2 * h))
	length := image.Dist(ear)
	if 1000*(length-direct)/m.air.speed > EarlyTime {
		return Reflection{}, false
	}
	p2, q2, ok := meets(on, image, ear)
	if !ok {
		return Reflection{}, false
	}
	p1, q1, ok := meets(&m.surfaces[i], m.images[i], p2)
	if !ok || !m.clear(m.r.at, p1) || !m.clear(p1, p2) || !m.clear(p2, ear) {
		return Reflection{}, false
	}
	r := Reflection{Speaker: m.k, Order: 2, Surfaces: [2]int{i, j}, Points: [2]geometry.Vec{p1, p2}, Length: length}
	m.level(&r, direct, toListener, q1, q2)
	return r, r.Strongest >= softest
}

// meets returns where the line from an image behind s to the point p in front of it
// meets s, in the room frame and in the coordinates of s; ok is false when it does
// not.
func meets(s *shell.Surface, image, p geometry.Vec) (at geometry.Vec, flat geometry.Vec2, ok bool) {
	a, b := s.Height(image), s.Height(p)
	if !(a < 0) || !(b > 0) {
		return at, flat, false
	}
	at = image.Lerp(p, a/(a-b))
	flat = s.Flat(at)
	return at, flat, s.Outline.Contains(flat)
}

// clear reports whether the leg from a to b stays in the room and out of what
// stands in it.
func (m *mirrors) clear(a, b geometry.Vec) bool {
	seg := geometry.Segment{A: a, B: b}
	l := seg.Len()
	for _, i := range m.shade {
		if i != m.ownChair && m.obstructions[i].crossed(seg, l) {
			return false
		}
	}
	if !m.convex {
		if _, _, out := outside(m.outline, a, b); out {
			return false
		}
	}
	return true
}

// level fills in delay and levels; q1 and q2 are where r meets its surfaces, in
// their coordinates.
func (m *mirrors) level(r *Reflection, direct float64, toListener *[project.OctaveCount]float64, q1, q2 geometry.Vec2) {
	// Total absorption would give minus infinity, which JSON cannot hold.
	const least = 1e-4 // of the energy: -40 dB
	r.Delay = 1000 * (r.Length - direct) / m.air.speed
	sent := m.r.Levels(r.Points[0])
	far := Spreading(r.Length) - Spreading(direct)
	finishes := [2]*shell.Finish{m.surfaces[r.Surfaces[0]].FinishAt(q1)}
	if r.Order == 2 {
		finishes[1] = m.surfaces[r.Surfaces[1]].FinishAt(q2)
	}
	r.Strongest = math.Inf(-1)
	for o := range r.Level {
		l := far - m.air.loss[o]*(r.Length-direct) + sent[o] - toListener[o]
		for _, f := range finishes[:r.Order] {
			l += 10 * math.Log10(max(1-f.Absorption[o], least))
		}
		r.Level[o] = l
		if o >= kilohertz {
			r.Strongest = max(r.Strongest, l)
		}
	}
	for _, f := range finishes[:r.Order] {
		r.Scatters = r.Scatters || f.Scatters
	}
	r.Breaks = !r.Scatters && r.Delay <= EarlyTime && r.Strongest > -EarlyDrop
}
