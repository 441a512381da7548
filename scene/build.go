// SPDX-License-Identifier: MIT

package scene

import (
	"reflect"
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/project/crew"
	"earline/project/panel"
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
	NoRays
)

// Options are what a picture shows besides the room itself. Start from Default.
type Options struct {
	// Palette is the colours; the zero value is Lamplight.
	Palette Palette
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
	// Beam is the light of the projector on its way to the screen, and where its shift
	// can bring the picture.
	Beam bool
	// Shape is which shape of picture is on the screen, an index in picture.Result.Shapes;
	// one that there is not shows the first. It is drawn with the luminance that it has
	// against the brightest.
	Shape int
	// Lean leans one chair back otherwise than the design has it; the zero value none.
	Lean Lean
	// Client leaves out all engineering and shows the room alone: no rays, cones,
	// labels, markers, swings, zones, dimensions, proposals, nor boxes behind the
	// walls. People and chairs are drawn closely then, and nobody is like another.
	Client bool
	// Bare leaves out the light that is painted on surfaces, for who computes it: colours
	// are those of the materials, as bright as the room's finishes say. It keeps apart what
	// is dimmed, and what is not seen from a seat: see Mesh.Shines and Mesh.Seat. FromSeat
	// is then to be None.
	Bare bool
	// FromSeat is the seat, counted from 0, whose own sitter and headrest are
	// left out because the camera is there; or None.
	FromSeat int
	// Drawing has the axes of a drawing, which shows the dimensions of the whole room
	// and the numbers of seats; one from above shows soffits as outlines, so that the
	// seats below are seen. There are none in perspective.
	Drawing Axes
	// Cut is where the camera's section is cut: X from the screen wall, or Y from the
	// left wall; zero where there is none. See Camera.CutAt.
	Cut geometry.Vec
	// Hovered is the item under the pointer, which a press would grab: it is outlined.
	Hovered place.Item
	// Opened are the features, treatments and sub zones that are open for editing:
	// they are outlined too.
	Opened []place.Item
	// Dims are dimension lines and guides.
	Dims []Dim
	// Mark is a measurement of a placement rule, drawn in place; nil for none. It
	// must not be changed while Build runs.
	Mark *practice.Remark
	// Ghost is a proposed design; nil for none. Things that it moves are shown at
	// both places. It must not be changed while Build runs.
	Ghost *project.Design
	// Fade shows another design of the room in part or in whole; nil for none.
	Fade *Fade
	// Heat is a value over the floor; nil for none.
	Heat *Heat
	// Traces are paths of sound and Patches parts of surfaces to highlight.
	Traces  []Trace
	Patches []Patch
}

// Default returns what an engineering view shows: people, labels, the rays of
// problems, nothing selected.
func Default() Options {
	return Options{Seat: None, Speaker: None, FromSeat: None, People: true, Labels: true, Zones: true}
}

// painter holds what the parts of one picture are drawn from, and the list that
// they are drawn into.
type painter struct {
	d     *project.Design
	r     *sight.Result // nil when there is no audit
	o     Options
	ink   Palette
	plan  plan
	seats []place.Seat
	boxes []place.Speaker
	built []project.Feature // what lights and vents hang from, drawn here or not
	runs  []panel.Run
	image shown
	coats coats
	list  *List
}

// Build returns the picture of d. r is its audit, nil for none: then there are
// no rays. Parts of r that do not fit d are left out. The list is new each time
// and shares nothing with d or r. Safe from any goroutine as long as nobody
// changes d or r meanwhile.
func Build(d *project.Design, r *sight.Result, o Options) *List { return new(Builder).Build(d, r, o) }

// painterOf returns what the parts of a picture of d are drawn by.
func painterOf(d *project.Design, r *sight.Result, o Options) *painter {
	return &painter{d: d, r: r, o: o, ink: o.Palette, plan: planOf(d.Room), seats: o.Lean.seats(d), boxes: place.Speakers(d), built: d.Room.Features, runs: panel.Of(d), image: shownOf(d, o.Shape), coats: coatsOf(d, o.Bare)}
}

// Builder builds one picture after another and uses again what is as it was: the
// room, the chairs and the people while only loudspeakers move. The zero value is
// ready to use, by one goroutine at a time.
type Builder struct {
	of    fixture
	fixed []List // of its parts; shared by all lists made since
	faded *faded // nil before the first
}

// fixture is all that the fixed parts of a picture are drawn from.
type fixture struct {
	d     *project.Design
	o     Options
	runs  []panel.Run // which give way to loudspeakers
	image shown
}

// fixtureOf returns what of d, with its panels laid out, and o the fixed parts are drawn
// from. They get nothing else to see, so that nothing else can change them.
func fixtureOf(d *project.Design, runs []panel.Run, o Options) fixture {
	return fixture{
		runs:  runs,
		image: shownOf(d, o.Shape),
		d:     &project.Design{Units: d.Units, Room: d.Room, Screen: d.Screen, Picture: d.Picture, Chairs: d.Chairs, Seating: d.Seating, Backdrops: d.Backdrops, LightGroups: undimmed(d.LightGroups), Panels: d.Panels},
		o:     Options{Seat: o.Seat, Speaker: None, FromSeat: o.FromSeat, People: o.People, Client: o.Client, Bare: o.Bare, Lean: o.Lean, Drawing: o.Drawing.ifPlan(), Palette: o.Palette},
	}
}

// undimmed returns the light groups without their levels, by which nothing is drawn.
func undimmed(all []project.LightGroup) []project.LightGroup {
	out := slices.Clone(all)
	for i := range out {
		out[i].Scenes = project.SceneLevels{}
	}
	return out
}

// Build is as the function Build, but for what lists share with each other.
func (b *Builder) Build(d *project.Design, r *sight.Result, o Options) *List {
	if o.Palette == (Palette{}) {
		o.Palette = Lamplight()
	}
	if f := o.Fade; f != nil && f.Share <= 0 { // the other one alone; nothing is known of who hears what in it
		o.FromSeat = sameSeat(d, f.Was, o.FromSeat)
		d, r, o.Rays = f.Was, nil, NoRays
		o.Seat, o.Speaker, o.Hovered, o.Opened, o.Dims, o.Mark = None, None, place.Item{}, nil, nil, nil
		o.Fade = &Fade{Was: d, From: f.From}
	}
	s := painterOf(d, r, o)
	fixed := []func(*painter){(*painter).room, (*painter).features, (*painter).treatments, (*painter).screen, (*painter).chairs, (*painter).people, (*painter).backdrops, (*painter).lamps}
	rest := []func(*painter){(*painter).speakers, (*painter).projector, (*painter).section, (*painter).pointed}
	if o.Client {
		s.o.Cones, s.o.Labels, s.o.Rays, s.o.Seat, s.o.Speaker = false, false, NoRays, None, None
	} else {
		rest = append(rest, (*painter).cones, (*painter).rays, (*painter).markers, (*painter).labels,
			(*painter).zones, (*painter).beam, (*painter).hot, (*painter).opened, (*painter).clashes, (*painter).dims, (*painter).mark, (*painter).proposal, (*painter).heat, (*painter).traces)
	}
	list := &List{Sky: s.ink.Sky, Ground: s.ink.Ground}
	if o.Fade.between() {
		b.fade(d, s.o).at(list, float32(o.Fade.Share))
		s.list = list
		s.o.Rays, s.o.Speaker, s.o.Seat = NoRays, None, None
		if o.Fade.Share < 0.5 {
			s.pointed()
			was := painterOf(o.Fade.Was, nil, s.o)
			was.list, was.o.Fade = list, nil
			s = was
		}
		for _, part := range []func(*painter){(*painter).section, (*painter).pointed, (*painter).labels} {
			part(s)
		}
		return list
	}
	// Side by side, each into a list of its own: an edit waits for this.
	var done crew.Crew
	draw := func(parts []func(*painter), s painter) []List {
		lists := make([]List, len(parts))
		for i, part := range parts {
			done.Go(func() {
				own := s
				own.list = &lists[i]
				part(&own)
			})
		}
		return lists
	}
	lists := draw(rest, *s)
	if of := fixtureOf(d, s.runs, s.o); reflect.DeepEqual(of, b.of) {
		done.Wait()
	} else {
		b.fixed = draw(fixed, painter{d: of.d, o: of.o, ink: s.ink, plan: s.plan, seats: s.seats, built: s.built, runs: s.runs, image: of.image, coats: s.coats})
		b.of = fixture{of.d.Clone(), of.o, of.runs, of.image} // d may change once we are done
		done.Wait()
		for i := range b.fixed {
			s.ink.apply(&b.fixed[i])
			b.fixed[i].fix()
		}
	}
	for _, l := range slices.Concat(b.fixed, lists) {
		list.Meshes = append(list.Meshes, l.Meshes...)
		list.Lines = append(list.Lines, l.Lines...)
		list.Labels = append(list.Labels, l.Labels...)
		list.Legend = append(list.Legend, l.Legend...)
		list.Rays, list.AllRays = list.Rays+l.Rays, list.AllRays+l.AllRays
	}
	return list
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
func (s *painter) add(m *Mesh) {
	if len(m.Index) > 0 {
		if m.Alpha == 0 {
			m.Alpha = 1
		}
		s.list.Meshes = append(s.list.Meshes, *m)
	}
}

func (s *painter) addLines(l *Lines) {
	if len(l.Pos) > 0 {
		s.list.Lines = append(s.list.Lines, *l)
	}
}

// metric reports whether lengths are shown in millimetres.
func (s *painter) metric() bool { return s.d.Units != project.Imperial }

// above returns v raised by h.
func above(v geometry.Vec, h float64) geometry.Vec {
	v.Z += h
	return v
}
