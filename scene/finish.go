// SPDX-License-Identifier: MIT

package scene

import (
	"earline/project"
)

// coat is how a surface is drawn: in what colour, and made of what.
type coat struct {
	RGB
	of project.FinishMaterial
}

// made returns what shows of what it is made of.
func (c coat) made() Material {
	switch c.of {
	case project.Cloth:
		return Cloth
	case project.Carpet:
		return Carpet
	case project.Timber:
		return Timber
	case project.Leather:
		return Leather
	case project.Paint, project.Plaster:
		return Paint
	case project.Metal:
		return Metal
	case project.Lacquer:
		return Lacquer
	}
	return NoMaterial
}

// coats are the surfaces that can be finished, as they are drawn.
type coats struct {
	floor, platforms, ceiling coat
	// riser is the upright faces of platforms and steps.
	riser coat
	// cloth and timber are what stands in the room: above the rail and below it.
	cloth, timber   coat
	skirting, rail  coat
	chairs, cabinet coat
}

// coatsOf returns the coats of a design: what its finishes say, and where they say nothing
// what is usual. bare is as Options.Bare.
func coatsOf(d *project.Design, bare bool) coats {
	f := &d.Room.Finishes
	joined := func(f project.Finish, usual RGB, on coat) coat { // as bright as on, if need be
		if f == (project.Finish{}) && bare {
			f.Reflectance = on.Luminance()
		}
		return drawn(f, usual, project.Timber, 0, bare)
	}
	of := func(p project.FinishPlace, usual RGB, m project.FinishMaterial) coat {
		return drawn(f.Of(p), usual, m, p.UsualReflectance(), bare)
	}
	c := coats{
		floor: of(project.FloorFinish, carpet, project.Carpet), platforms: of(project.PlatformsFinish, carpet, project.Carpet),
		ceiling: of(project.CeilingFinish, plaster, project.Plaster),
		cloth:   of(project.WallsFinish, cloth, project.Cloth), timber: of(project.WallsFinish, walnut, project.Timber),
		chairs: drawn(f.Chairs, leather, project.Leather, 0, bare), cabinet: drawn(f.Loudspeakers, lacquer, project.Lacquer, 0, bare),
	}
	c.skirting, c.rail = joined(f.Joinery, walnutDark, c.timber), drawn(f.Joinery, bronze, project.Metal, 0, bare)
	c.riser = joined(f.Joinery, walnut, c.platforms)
	if f.Joinery == (project.Finish{}) && coloured(f.Of(project.PlatformsFinish)) {
		c.riser = c.platforms
	}
	return c
}

// coloured reports whether a finish says more than how bright it is.
func coloured(f project.Finish) bool { return f.Colour != "" || f.Material != "" }

// drawn returns a finish as a coat. Where it has no colour and no material it is the usual
// one, and bare as bright as the finish says, or as assumed; 0 assumes nothing.
func drawn(f project.Finish, usual RGB, m project.FinishMaterial, assumed float64, bare bool) coat {
	if f.Material != "" {
		m = f.Material
	}
	if coloured(f) {
		return coat{display(f.Linear("")), m}
	}
	if y := f.Reflects(); y > 0 {
		assumed = y
	}
	if bare && assumed > 0 {
		usual = usual.throwing(assumed)
	}
	return coat{usual, m}
}

// wallLook is how a wall is drawn.
type wallLook struct {
	above, below coat    // of the rail
	trimmed      bool    // it has a rail and a skirting
	washed       float64 // share of the light from above that it takes
}

// wallLook returns how a wall, counted from 1, is drawn. One in a finish of its own has that
// from floor to ceiling.
func (s *painter) wallLook(wall int) wallLook {
	f := s.d.Room.WallFinish(wall)
	of := func(usual RGB, m project.FinishMaterial) coat {
		return drawn(f, usual, m, project.WallsFinish.UsualReflectance(), s.o.Bare)
	}
	if s.d.Room.WallSide(wall) == "screen" {
		one := of(clothDark, project.Cloth)
		return wallLook{above: one, below: one, washed: 0.16}
	}
	l := wallLook{above: of(cloth, project.Cloth), below: of(walnut, project.Timber), washed: 1}
	l.trimmed = l.above != l.below || coloured(s.d.Room.Finishes.Joinery)
	return l
}

// hung returns how a treatment on a wall, or for 0 on the ceiling, is drawn whose usual look
// is given: of the treatments' finish, on the screen wall of that wall's, and else as bright
// as what it hangs on.
func (s *painter) hung(wall int, usual RGB, m project.FinishMaterial) coat {
	f := s.d.Room.Finishes.Treatments
	on, p := s.d.Room.Finishes.Ceiling, project.CeilingFinish
	if wall > 0 {
		on, p = s.d.Room.WallFinish(wall), project.WallsFinish
	}
	screenWall := s.d.Room.WallSide(wall) == "screen"
	if screenWall {
		f = on
	}
	if m == project.Timber && f.Material != m { // what scatters is of wood
		f = project.Finish{Reflectance: f.Reflects()}
	}
	if f == (project.Finish{}) {
		f.Reflectance = on.Reflects()
	}
	if screenWall && !s.o.Bare && f.Colour == "" {
		usual = clothDark.mix(usual, 0.16)
	}
	return drawn(f, usual, m, p.UsualReflectance(), s.o.Bare)
}

// joist returns how a beam is drawn, and boxed what is built in and nothing else.
func (s *painter) joist() coat {
	return drawn(s.d.Room.Finishes.Ceiling, walnut, project.Timber, project.CeilingFinish.UsualReflectance(), s.o.Bare)
}

func (s *painter) boxed() coat {
	return drawn(s.d.Room.Finishes.Walls, plaster, project.Plaster, project.WallsFinish.UsualReflectance(), s.o.Bare)
}

// joinery returns how doors and frames on a wall, counted from 1, are drawn.
func (s *painter) joinery(wall int) coat {
	f := s.d.Room.Finishes.Joinery
	if f == (project.Finish{}) {
		f.Reflectance = s.d.Room.WallFinish(wall).Reflects()
	}
	return drawn(f, walnut, project.Timber, project.WallsFinish.UsualReflectance(), s.o.Bare)
}

// canvas returns the colour of the screen's cloth. A gain of 1 is by definition a matt face
// that throws all back.
func (s *painter) canvas() RGB {
	r := s.d.Room.Finishes.Screen.Reflectance
	if r == 0 {
		r = min(s.d.Screen.Gain, 1)
	}
	return RGB{1, 1, 1}.throwing(r)
}

// throwing returns c as bright as a surface that throws back the share y of light.
func (c RGB) throwing(y float64) RGB { return display(c.light().At(y)) }
