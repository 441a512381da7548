// SPDX-License-Identifier: MIT

package bass

import (
	"math"
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

// measure fills in the room from its shell. The absorption of each surface is the
// mean over its area in the octave nearest the middle of the frequencies.
func (p *Plan) measure(d *project.Design) {
	r, s := d.Room, shell.Of(d)
	octave := nearestOctave(math.Sqrt(p.Frequencies[0] * p.Frequencies[len(p.Frequencies)-1]))
	admittance := func(belongs func(on *shell.Surface) bool) float64 {
		alpha, _ := s.Mean(belongs)
		return field.Admittance(alpha[octave])
	}
	p.Room = wave.Room{
		Footprint: s.Outline, Speed: air.Speed(r.Air.OrUsual().Temperature),
		Ceiling:      r.Slopes(),
		FloorGives:   admittance(func(on *shell.Surface) bool { return on.Kind == shell.Floor }),
		CeilingGives: admittance(func(on *shell.Surface) bool { return on.Kind == shell.Ceiling }),
	}
	for i := range s.Outline {
		p.Room.Walls = append(p.Room.Walls, admittance(func(on *shell.Surface) bool { return on.Kind == shell.Wall && on.Index == i+1 }))
	}
	for i, f := range r.Features {
		if !shell.InSurface(f.Kind) {
			p.Room.Blocks = append(p.Room.Blocks, block(f.Box(), f.Outline(), field.Admittance(s.Features[i].Absorption[octave])))
		}
	}
	for _, box := range place.FloorOf(d) {
		p.Room.Blocks = append(p.Room.Blocks, block(box, box.Outline(), field.Admittance(s.Platforms.Absorption[octave])))
	}
	p.Chairs = chairs(d, s, octave)
	var assumed []string
	for _, a := range s.Assumed {
		assumed = append(assumed, a.What+" taken as "+a.Finish.Name)
	}
	if len(assumed) > 0 {
		p.remark("Some surfaces have no material: %s.", strings.Join(assumed, "; "))
	}
	p.remark("Surfaces absorb what tables give for them at %.0f Hz, each wall by the mean over its area; small rooms differ, and a measured decay time serves better.", project.Octaves()[octave])
	// The sum over modes has no platforms: their covering counts as floor.
	p.detectBox(admittance(func(on *shell.Surface) bool { return on.Kind == shell.Floor || on.Kind == shell.Platform }))
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

// block returns what stands upright in b with that outline as a block.
func block(b geometry.Box, outline geometry.Polygon, admittance float64) wave.Block {
	return wave.Block{Footprint: outline, Bottom: b.Center.Z - b.Half.Z, Top: b.Center.Z + b.Half.Z, Gives: admittance}
}

// detectBox prepares the sum over modes if the room is a box along the axes. floor
// is the admittance of its floor where nothing stands on it.
func (p *Plan) detectBox(floor float64) {
	const askew = 1e-6 // m, far below any tape
	poly, ceiling := p.Room.Footprint, p.Room.Ceiling
	if len(poly) != 4 || len(ceiling) != 1 || !ceiling[0].Level() {
		return
	}
	lo, hi := poly.Bounds()
	s := modal.Surfaces{Floor: floor, Ceiling: p.Room.CeilingGives}
	for i := range poly {
		a, b := poly.Edge(i)
		g := p.Room.Walls[i]
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
	p.surfaces, p.corner = s, geometry.V(lo.X, lo.Y, 0)
	p.box = &modal.Room{Length: hi.X - lo.X, Width: hi.Y - lo.Y, Height: ceiling[0].Height, Speed: p.Room.Speed}
}
