// SPDX-License-Identifier: MIT

package scene

import (
	"sync"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
)

// None stands for no seat and no loudspeaker in Options.
const None = -1

// Show says which rays of sight are drawn.
type Show uint8

// The choices of Show.
const (
	Problems Show = iota // what is tight or blocked, and all of what is selected
	All
	Nothing
)

// Options are what a picture shows beside the room itself. Start from Default.
type Options struct {
	// Seat and Speaker are what is selected, counted from 0, or None.
	Seat, Speaker int
	// Only leaves out all rays and cones but those of what is selected.
	Only  bool
	Rays  Show
	Cones bool // nominal coverage of the loudspeakers
	// People seats the sitters who can be in the way.
	People bool
	Labels bool
	Zones  bool // where subwoofers may stand
	// Client leaves out everything that is engineering and not room: rays,
	// cones, labels, markers, swings, zones, dimensions, proposals, and boxes behind the
	// walls.
	Client bool
	// FromSeat is the seat, counted from 0, whose own sitter and headrest are
	// left out because the camera is there; or None.
	FromSeat int
	// Plan shows soffits as outlines, so that the seats below are seen from
	// above.
	Plan bool
	// Hot is outlined: what a press would take hold of.
	Hot place.Item
	// Opened is outlined too: the features, treatments and sub zones that are open
	// to be edited.
	Opened []place.Item
	// Dims are dimension lines and guides.
	Dims []Dim
	// Mark is drawn in place: what a rule of placement measured; nil for none. It
	// must not be changed while Build runs.
	Mark *practice.Remark
	// Ghost is a design that is proposed instead; nil for none. What stands
	// elsewhere in it is shown beside what is there. It must not be changed
	// while Build runs.
	Ghost *project.Design
	// Heat is a value over the floor; nil for none.
	Heat *Heat
	// Traces are paths of sound, Patches parts of surfaces, to be pointed out.
	Traces  []Trace
	Patches []Patch
}

// Default returns what an engineering view shows: people, labels, the rays of
// problems, nothing selected.
func Default() Options {
	return Options{Seat: None, Speaker: None, FromSeat: None, People: true, Labels: true, Zones: true}
}

// site is what all parts of one picture are drawn from and into.
type site struct {
	d     *project.Design
	r     *sight.Result // nil when there is no audit
	o     Options
	plan  plan
	seats []place.Seat
	boxes []place.Speaker
	list  *List
}

// Build returns the picture of d. r is its audit, nil for none: then there are
// no rays. Parts of r that do not fit d are left out. The list is new each time
// and shares nothing with d or r. Safe from any goroutine as long as nobody
// changes d or r meanwhile.
func Build(d *project.Design, r *sight.Result, o Options) *List {
	s := &site{d: d, r: r, o: o, plan: planOf(d.Room), seats: place.Seats(d), boxes: place.Speakers(d),
		list: &List{Sky: skyTop, Ground: skyFoot}}
	if o.Client {
		s.o.Cones, s.o.Labels, s.o.Rays, s.o.Seat, s.o.Speaker = false, false, Nothing, None, None
	}
	parts := []func(*site){(*site).room, (*site).features, (*site).treatments, (*site).screen, (*site).chairs, (*site).people}
	fixed := len(parts)
	parts = append(parts, (*site).speakers)
	if !s.o.Client {
		parts = append(parts, (*site).cones, (*site).rays, (*site).markers, (*site).labels,
			(*site).zones, (*site).hot, (*site).opened, (*site).dims, (*site).mark, (*site).proposal, (*site).heat, (*site).traces)
	}
	// Side by side, each into a list of its own: an edit waits for this.
	lists := make([]List, len(parts))
	var done sync.WaitGroup
	for i, part := range parts {
		done.Go(func() {
			own := *s
			own.list = &lists[i]
			part(&own)
			if i < fixed {
				own.list.fix()
			}
		})
	}
	done.Wait()
	for _, l := range lists {
		s.list.Meshes = append(s.list.Meshes, l.Meshes...)
		s.list.Lines = append(s.list.Lines, l.Lines...)
		s.list.Labels = append(s.list.Labels, l.Labels...)
	}
	return s.list
}

// fix marks all of l as seldom changed.
func (l *List) fix() {
	for i := range l.Meshes {
		l.Meshes[i].Fixed = true
	}
	for i := range l.Lines {
		l.Lines[i].Fixed = true
	}
}

// add puts m on the list unless it is empty.
func (s *site) add(m *Mesh) {
	if len(m.Index) > 0 {
		if m.Alpha == 0 {
			m.Alpha = 1
		}
		s.list.Meshes = append(s.list.Meshes, *m)
	}
}

func (s *site) addLines(l *Lines) {
	if len(l.Pos) > 0 {
		s.list.Lines = append(s.list.Lines, *l)
	}
}

// metric reports whether lengths are shown in millimetres.
func (s *site) metric() bool { return s.d.Units != project.Imperial }

// above returns v raised by h.
func above(v geometry.Vec, h float64) geometry.Vec {
	v.Z += h
	return v
}
