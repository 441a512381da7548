// SPDX-License-Identifier: MIT

package bass

import (
	"earline/geometry"
	"earline/project"
	"earline/project/bass/wave"
	"earline/project/place"
	"earline/project/shell"
)

// chairs returns the bodies of all chairs as upright blocks: pan and arms down to
// the floor, back and headrest in slices that follow their recline. Assumed, without
// a source: a body is solid, which is the most that it can be, since foam on a hollow
// frame lets long waves in; and an empty chair takes what tables give it, for the
// floor that it covers, evenly over its faces in the air. The people in the chairs
// are left out. It returns too what each block absorbs; furnish gives it its admittance.
func chairs(d *project.Design, s *shell.Shell) (all []wave.Block, absorbs []spectrum) {
	for _, seat := range place.Seats(d) {
		c := seat.Chair
		f, _ := s.Upholstery(c.Upholstery)
		depth, width := float64(c.PanDepth+c.BackThickness), float64(c.PanWidth+c.ArmWidth)
		floor := depth * width // as the reverberation counts it
		faces := floor + 2*(depth+width)*float64(c.PanHeight) + 2*float64(c.PanWidth)*float64(c.BackHeight+c.Headrest)
		if c.ArmWidth > 0 {
			faces += 4 * float64(c.PanDepth) * float64(c.ArmHeight)
		}
		takes := spectrum(f.Bass)
		for i := range takes {
			takes[i] *= floor / faces
		}
		for _, part := range seat.ChairParts() {
			switch part.Kind {
			case place.BackPart, place.HeadrestPart:
				all = append(all, leaning(*part.Box)...)
			default:
				all = append(all, block(*part.Box, part.Box.Outline()))
			}
		}
		for len(absorbs) < len(all) {
			absorbs = append(absorbs, takes)
		}
	}
	return all, absorbs
}

// leaning returns a box that leans back as upright slices, each as thick as the box
// is along the floor and where the box is at the slice's middle. Together they hold
// what the box holds.
func leaning(b geometry.Box) []wave.Block {
	const layers = 3
	up := b.Basis.W
	if !(up.Z > 0.2) { // lies nearly flat
		b.Basis = geometry.Basis{U: b.Basis.W.Neg(), V: b.Basis.V, W: b.Basis.U}
		b.Half.X, b.Half.Z = b.Half.Z, b.Half.X
		return []wave.Block{block(b, b.Outline())}
	}
	var all []wave.Block
	back := geometry.Vec2{X: b.Basis.U.X, Y: b.Basis.U.Y}
	back = back.Mul(b.Half.X / (back.Len() * up.Z)) // half the thickness along the floor
	side := geometry.Vec2{X: b.Basis.V.X, Y: b.Basis.V.Y}.Mul(b.Half.Y)
	for n := range layers {
		m := b.Center.Add(up.Mul(b.Half.Z * (2*float64(n) + 1 - layers) / layers))
		half := b.Half.Z * up.Z / layers
		var p geometry.Polygon
		for _, q := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
			p = append(p, geometry.Vec2{X: m.X, Y: m.Y}.Add(back.Mul(q[0])).Add(side.Mul(q[1])))
		}
		all = append(all, wave.Block{Footprint: p, Bottom: m.Z - half, Top: m.Z + half})
	}
	return all
}
