// SPDX-License-Identifier: MIT

package room

import (
	"earline/project"
	"earline/project/sight"
	"earline/scene"
)

// many is how many pairs of a seat and a loudspeaker take the display list so long
// that the window must not wait for it.
const many = 2000

// order is a display list to be built.
type order struct {
	d *project.Design
	r *sight.Result
	o scene.Options
}

func (w order) large() bool {
	seats := 0
	for _, row := range w.d.Seating.Rows {
		seats += row.Seats
	}
	return seats*len(w.d.Speakers) > many
}

// build builds what was ordered last, beside the window, once what is being built is.
func (p *Picture) build() {
	if p.building || p.ordered == nil {
		return
	}
	w := *p.ordered
	p.ordered, p.building = nil, true
	go func() {
		defer func() {
			if fault := recover(); fault != nil {
				p.View.Post(func() { panic(fault) }) // where unsaved work is rescued
			}
		}()
		l := p.builder.Build(w.d, w.r, w.o)
		p.View.Post(func() {
			p.building = false
			if p.ordered == nil {
				if lit := p.lit(w, &p.lighting.room); lit != nil { // it came meanwhile
					l = lit
				}
				p.show(l)
				p.Changed() // the status line says what is left out
			}
			p.build()
		})
	}()
}

// show puts l on show.
func (p *Picture) show(l *scene.List) {
	p.rays, p.allRays = l.Rays, l.AllRays
	if a := p.around; a != nil {
		a.shut = l
		l = scene.Ajar(l, p.session.Design(), a.door, a.open)
	}
	p.View.SetList(l)
}
