// SPDX-License-Identifier: MIT

package bass

import (
	"math"
	"slices"
	"strings"

	"earline/geometry"
	"earline/project"
	"earline/project/air"
	"earline/project/bass/field"
	"earline/project/bass/modal"
	"earline/project/bass/wave"
	"earline/project/place"
	"earline/project/shell"
)

// absorption is what each surface of a room absorbs, third by third: means over its
// area.
type absorption struct {
	walls          []spectrum // one for each edge of the outline
	floor, ceiling spectrum
	blocks, chairs []spectrum // as wave.Room.Blocks, Plan.Chairs
	// covered is the floor with the platforms on it: the sum over modes has none, and
	// their covering counts as floor.
	covered spectrum
}

// measure fills in the room from its shell.
func (p *Plan) measure(d *project.Design) {
	r, s := d.Room, shell.Of(d)
	mean := func(belongs func(on *shell.Surface) bool) spectrum {
		f, _ := s.Mean(belongs)
		return f.Bass
	}
	p.Room = wave.Room{Footprint: s.Outline, Speed: air.Speed(r.Air.OrUsual().Temperature), Ceiling: r.Slopes()}
	p.absorbs = absorption{
		floor:   mean(func(on *shell.Surface) bool { return on.Kind == shell.Floor }),
		ceiling: mean(func(on *shell.Surface) bool { return on.Kind == shell.Ceiling }),
		covered: mean(func(on *shell.Surface) bool { return on.Kind == shell.Floor || on.Kind == shell.Platform }),
	}
	for i := range s.Outline {
		p.absorbs.walls = append(p.absorbs.walls, mean(func(on *shell.Surface) bool { return on.Kind == shell.Wall && on.Index == i+1 }))
	}
	stand := func(b geometry.Box, outline geometry.Polygon, takes spectrum) {
		p.Room.Blocks = append(p.Room.Blocks, block(b, outline)) // furnish gives it its admittance
		p.absorbs.blocks = append(p.absorbs.blocks, takes)
	}
	for i, f := range r.Features {
		if !shell.InSurface(f.Kind) {
			stand(f.Box(), f.Outline(), s.Features[i].Bass)
		}
	}
	for _, box := range place.FloorOf(d) {
		stand(box, box.Outline(), s.Platforms.Bass)
	}
	p.Chairs, p.absorbs.chairs = chairs(d, s)
	var assumed []string
	for _, a := range s.Assumed {
		assumed = append(assumed, a.What+" taken as "+a.Finish.Name)
	}
	if len(assumed) > 0 {
		p.remark("Some surfaces have no material: %s.", strings.Join(assumed, "; "))
	}
	p.share = 1
	p.detectBox()
	p.take(d.Measured)
	if !p.Measured() {
		p.remark("Surfaces absorb what tables give for them, each wall by the mean over its area: by thirds of an octave where a material says so, else interpolated between octaves, and below 63 Hz as there; small rooms differ, and a measured decay time serves better.")
	}
	p.furnish()
}

// block returns what stands upright in b with that outline as a block.
func block(b geometry.Box, outline geometry.Polygon) wave.Block {
	return wave.Block{Footprint: outline, Bottom: b.Center.Z - b.Half.Z, Top: b.Center.Z + b.Half.Z}
}

// furnish gives the surfaces of the room for finite differences their admittances: those
// of the middle of the frequencies.
func (p *Plan) furnish() {
	f := p.middle()
	gives := func(takes spectrum) float64 { return min(p.waves*field.Admittance(p.share*takes.at(f)), most) }
	room := p.Room
	room.Walls, room.Blocks = make([]float64, len(p.absorbs.walls)), append([]wave.Block(nil), room.Blocks...)
	for i, w := range p.absorbs.walls {
		room.Walls[i] = gives(w)
	}
	room.FloorGives, room.CeilingGives = gives(p.absorbs.floor), gives(p.absorbs.ceiling)
	for i, b := range p.absorbs.blocks {
		room.Blocks[i].Gives = gives(b)
	}
	p.Chairs = slices.Clone(p.Chairs)
	for i, c := range p.absorbs.chairs {
		p.Chairs[i].Gives = gives(c)
	}
	p.Room = room
}

// most is the greatest admittance that scaling gives a surface: it lets sound of normal
// incidence pass.
const most = 1

// middle returns the frequency, in hertz, at which finite differences take what the
// surfaces absorb: they take one value for all frequencies.
func (p *Plan) middle() float64 {
	return math.Sqrt(p.Frequencies[0] * p.Frequencies[len(p.Frequencies)-1])
}

// detectBox prepares the sum over modes if the room is a box along the axes.
func (p *Plan) detectBox() {
	const askew = 1e-6 // m, far below any tape
	poly, ceiling := p.Room.Footprint, p.Room.Ceiling
	if len(poly) != 4 || len(ceiling) != 1 || !ceiling[0].Level() {
		return
	}
	lo, hi := poly.Bounds()
	s := boxed{floor: p.absorbs.covered, ceiling: p.absorbs.ceiling}
	for i := range poly {
		a, b := poly.Edge(i)
		takes := p.absorbs.walls[i]
		switch {
		case math.Abs(a.X-b.X) < askew && math.Abs(a.X-lo.X) < askew:
			s.front = takes
		case math.Abs(a.X-b.X) < askew && math.Abs(a.X-hi.X) < askew:
			s.back = takes
		case math.Abs(a.Y-b.Y) < askew && math.Abs(a.Y-lo.Y) < askew:
			s.left = takes
		case math.Abs(a.Y-b.Y) < askew && math.Abs(a.Y-hi.Y) < askew:
			s.right = takes
		default:
			return
		}
	}
	p.surfaces, p.corner = s, geometry.V(lo.X, lo.Y, 0)
	p.box = &modal.Room{Length: hi.X - lo.X, Width: hi.Y - lo.Y, Height: ceiling[0].Height, Speed: p.Room.Speed}
}

// boxed is what the six surfaces of a box absorb, third by third.
type boxed struct{ front, back, left, right, floor, ceiling spectrum }

// at returns the surfaces at f hertz with a share of that absorption, and with their
// admittances scaled.
func (b boxed) at(f, share, scale float64) modal.Surfaces {
	gives := func(takes spectrum) float64 { return min(scale*field.Admittance(share*takes.at(f)), most) }
	return modal.Surfaces{Front: gives(b.front), Back: gives(b.back), Left: gives(b.left), Right: gives(b.right),
		Floor: gives(b.floor), Ceiling: gives(b.ceiling)}
}

// loss is what the surfaces of the box take from sound of f hertz, as measured where that
// is known.
func (p *Plan) loss(f float64) modal.Loss {
	return modal.Loss{Surfaces: p.surfaces.at(f, p.share, p.modes.at(f))}
}
