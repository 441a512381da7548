// SPDX-License-Identifier: MIT

package projecttest

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// models draws a catalogue: a box on the wall, a flush one, one with a tilted
// aim, a big one for behind the screen, a single driver, a subwoofer.
func (b *builder) models() {
	model := func(id string, w, h, d unit.Length, drivers ...project.Driver) project.Model {
		return project.Model{ID: id, Name: id, Width: w, Height: h, Depth: d, Drivers: drivers,
			CoverageH: 90, CoverageV: 60, Sensitivity: 88, Power: 100, Mass: 8}
	}
	box := model("box", b.length(0.15, 0.3), b.length(0.25, 0.45), b.length(0.1, 0.3),
		project.Driver{Band: project.High, Up: 0.07, Diameter: 0.025}, project.Driver{Band: project.Low, Up: -0.05, Diameter: 0.13})
	flush := model("flush", 0.25, 0.35, b.length(0.08, 0.12),
		project.Driver{Band: project.High, Up: b.length(0, 0.1), Diameter: b.length(0.02, 0.03)}, project.Driver{Band: project.Mid, Right: 0.05, Diameter: 0.08}, project.Driver{Band: project.Low, Up: -0.08, Diameter: 0.17})
	flush.Flush = true
	if b.chance(0.3) {
		flush.AimUp, flush.AimRight = b.degrees(-30, 30), b.degrees(-30, 30)
	}
	tilted := model("tilted", 0.2, 0.3, 0.2, project.Driver{Band: project.Full, Diameter: b.length(0.05, 0.15)})
	tilted.AimRight, tilted.AimUp = b.degrees(-40, 40), b.degrees(-40, 40)
	stage := model("stage", b.length(0.4, 0.7), b.length(0.7, 1.2), b.length(0.3, 0.5),
		project.Driver{Band: project.High, Up: 0.25, Diameter: 0.2}, project.Driver{Band: project.Low, Right: -0.05, Up: -0.1, Diameter: 0.3}, project.Driver{Band: project.Low, Right: 0.05, Up: -0.1, Diameter: 0.25})
	single := model("single", 0.12, 0.12, 0.1, project.Driver{Band: project.Full, Diameter: 0.08})
	sub := model("sub", b.length(0.35, 0.5), b.length(0.35, 0.5), b.length(0.35, 0.5), project.Driver{Band: project.Sub, Diameter: 0.3})
	b.d.Models = []project.Model{box, flush, tilted, stage, single, sub}
}

const (
	boxModel = iota
	flushModel
	tiltedModel
	stageModel
	singleModel
	subModel
)

// speakers hangs, stands and builds in loudspeakers.
func (b *builder) speakers() {
	labels := []string{"M+030", "M-030", "M+000", "M+060", "M-060", "M+090", "M-090", "M+110", "M-110", "M+135", "M-135", "M+180", "U+045", "U-045", "U+110", "U-110", "T+000", "B+045"}
	bass := 0
	for n := range 3 + b.IntN(b.o.Speakers-2) {
		var l project.Loudspeaker
		for range 20 {
			if l = b.speaker(); !b.o.Inside || b.driversInside(l) {
				break
			}
			// The middle of the floor is inside.
			at := b.middle(0.5 * b.long)
			l = project.Loudspeaker{Model: b.d.Models[singleModel].ID, Mount: project.OnCeiling, At: project.Point{X: unit.Length(at.X), Y: unit.Length(at.Y), Z: 2}}
		}
		l.Label, l.Copy = labels[n%len(labels)], one(b, "", "b")
		if n >= len(labels) {
			l.Copy = string(rune('c' + n/len(labels)))
		}
		if l.Model == b.d.Models[subModel].ID && bass < 9 {
			bass++
			l.Label = "LFE" + string(rune('0'+bass))
		}
		b.d.Speakers = append(b.d.Speakers, l)
	}
}

// speaker draws one, without its label.
func (b *builder) speaker() project.Loudspeaker {
	var l project.Loudspeaker
	use := func(models ...int) project.Model {
		m := b.d.Models[models[b.IntN(len(models))]]
		l.Model = m.ID
		return m
	}
	point := func(p geometry.Vec) { l.At = project.Point{X: tidy(p.X), Y: tidy(p.Y), Z: tidy(p.Z)} }
	l.Mount = project.OnWall
	switch b.IntN(12) {
	case 0, 1: // on a wall
		m := use(boxModel, boxModel, tiltedModel, singleModel, stageModel)
		p, in := b.onWall()
		point(p.Add(in.Mul(float64(m.Depth) + b.between(0, 0.1))))
		b.aim(&l, in)
	case 2: // flush in a wall, or a few mm beyond it
		use(flushModel)
		p, in := b.onWall()
		point(p.Sub(in.Mul(one(b, 0, 0, 0.001, 0.003, 0.01, 0.029, 0.031))))
	case 3: // a box with its front flush in a wall
		use(boxModel, singleModel, tiltedModel)
		p, in := b.onWall()
		point(p)
		l.Aim = toward(in)
	case 4: // in or under the ceiling
		m := use(flushModel, boxModel, singleModel, tiltedModel)
		l.Mount = project.OnCeiling
		x, y := b.between(0.3, b.long), b.between(0.1, b.wide)
		z := b.d.Room.CeilingAt(x, y)
		if !m.Flush {
			z -= one(b, 0, float64(m.Depth), b.between(0, 0.5))
			if b.chance(0.5) {
				l.Aim = project.Aim{Fixed: true, Elevation: -90}
			}
		}
		point(geometry.Vec{X: x, Y: y, Z: z})
	case 5: // behind the screen
		use(stageModel, boxModel, subModel)
		l.Mount = project.BehindScreen
		s := b.d.Screen
		point(geometry.Vec{X: max(float64(s.Distance)-b.between(0.02, 0.2), 0.01),
			Y: float64(s.Centre) + b.between(-0.4, 0.4)*float64(s.Width), Z: float64(s.Bottom) + b.between(0.2, 0.8)*s.Height()})
		if b.chance(0.5) {
			l.Aim = project.Aim{Fixed: true, Azimuth: 180}
		}
	case 6: // a subwoofer on the floor
		m := use(subModel)
		l.Mount = project.OnFloor
		p, in := b.onWall()
		p = p.Add(in.Mul(float64(m.Depth)))
		p.Z = float64(m.Height) / 2
		point(p)
		l.Aim = toward(in)
	case 7, 8: // exactly flush in a face of what is built in
		if len(b.d.Room.Features) == 0 {
			return b.speaker()
		}
		b.inFace(&l, b.featureFace(b.d.Room.Features[b.IntN(len(b.d.Room.Features))]))
	case 9: // touching the one before
		if n := len(b.d.Speakers); n > 0 {
			l = b.d.Speakers[n-1]
			p := place.OneSpeaker(b.d, l, place.MainPoint(b.d))
			if by := p.Front.V.Mul(float64(p.Spec.Width)); b.chance(0.5) {
				point(l.At.Vec().Add(by))
			} else {
				point(l.At.Vec().Sub(p.Front.U.Mul(float64(p.Spec.Height))))
			}
			break
		}
		fallthrough
	case 10: // free standing
		use(boxModel, stageModel, singleModel, tiltedModel)
		l.Mount = project.OnFloor
		point(geometry.Vec{X: b.between(0.1, b.long), Y: b.between(0.1, b.wide), Z: b.between(0.2, 1.8)})
		if b.chance(0.4) {
			l.Aim = project.Aim{Fixed: true, Azimuth: b.degrees(-180, 180), Elevation: one(b, -90, 90, 0, b.degrees(-60, 60))}
		}
	case 11: // beyond the wall
		if b.chance(0.5) {
			return b.speaker()
		}
		use(boxModel, singleModel, flushModel)
		p, in := b.onWall()
		point(p.Sub(in.Mul(one(b, 0.002, 0.005, 0.02, 0.05, b.between(0.1, 0.6)))))
		b.aim(&l, in)
	}
	return l
}

// onWall returns a point of a wall, and the normal into the room.
func (b *builder) onWall() (at, in geometry.Vec) {
	wall := b.IntN(len(b.poly))
	p, q := b.poly[wall], b.poly[(wall+1)%len(b.poly)]
	long := math.Hypot(q.X-p.X, q.Y-p.Y)
	s := b.between(0, long) / long
	x, y := p.X+(q.X-p.X)*s, p.Y+(q.Y-p.Y)*s
	n := b.poly.InwardNormal(wall)
	return geometry.Vec{X: x, Y: y, Z: b.between(0.2, b.d.Room.CeilingAt(x, y)-0.1)}, geometry.Vec{X: n.X, Y: n.Y}
}

// aim sometimes fixes the axis of l, which hangs on a wall that faces in.
func (b *builder) aim(l *project.Loudspeaker, in geometry.Vec) {
	switch b.IntN(4) {
	case 0:
		l.Aim = toward(in)
	case 1:
		l.Aim = project.Aim{Fixed: true, Azimuth: b.degrees(-180, 180), Elevation: b.degrees(-45, 10)}
	}
}

// inFace puts l with its front in face f.
func (b *builder) inFace(l *project.Loudspeaker, f face) {
	part := func() float64 { return one(b, 0, 0.5, 0.9, 1, 2*b.Float64()-1) }
	p := f.middle.Add(f.u.Mul(part())).Add(f.v.Mul(part()))
	l.At = project.Point{X: tidy(p.X), Y: tidy(p.Y), Z: tidy(p.Z)}
	l.Mount, l.Aim = project.OnWall, toward(f.normal)
	l.Model = b.d.Models[one(b, boxModel, singleModel, tiltedModel, flushModel)].ID
	switch {
	case f.normal.Z < -0.5:
		l.Mount = project.OnCeiling
	case f.normal.Z > 0.5:
		l.Mount = project.OnFloor
	}
}

// driversInside reports whether every driver of l is within the shell or in it.
func (b *builder) driversInside(l project.Loudspeaker) bool {
	p := place.OneSpeaker(b.d, l, place.MainPoint(b.d))
	for _, dr := range p.Drivers {
		at := geometry.Vec2{X: dr.Center.X, Y: dr.Center.Y}
		if !b.poly.Contains(at) || dr.Center.Z < 0 || dr.Center.Z > b.d.Room.CeilingAt(at.X, at.Y) {
			return false
		}
	}
	return true
}

// toward returns the fixed aim along n.
func toward(n geometry.Vec) project.Aim {
	az, el, _ := geometry.AzEl(n)
	deg := func(a float64) unit.Degrees {
		d := a * 180 / math.Pi
		if w := math.Round(d); math.Abs(d-w) < 1e-9 {
			d = w
		}
		return unit.Degrees(d)
	}
	return project.Aim{Fixed: true, Azimuth: deg(az), Elevation: min(max(deg(el), -90), 90)}
}
