// SPDX-License-Identifier: MIT

package oracle

import (
	"fmt"
	"math"
)

// Room is a file worked out.
type Room struct {
	Margin, PictureMargin float64
	Main                  Vec
	Seats                 []Seat
	// Solids are everything that can stand in anybody's way, but the listeners
	// themselves: others sit in their seats here.
	Solids   []Solid
	Speakers []Speaker
	// Picture is the middle of the picture, PictureRight and PictureUp half its
	// edges.
	Picture, PictureRight, PictureUp Vec
	doc                              *document
	walls                            shell
	built                            []Solid // what nobody moves: the last of Solids
}

// Seat is a listener in a seat.
type Seat struct {
	Row, Number int
	Ears        [2]Vec // left, right
	Eye         Vec    // between the eyes
	shoulders   Solid  // the listener's own
	chair       chair
	floor       frame // where pan and back meet, at the height of the platform
	heldHigh    bool  // a guest's head rests on the headrest; see besideTheHead
}

// Speaker is a placed loudspeaker.
type Speaker struct {
	Name     string
	At       Vec
	Box      Solid
	Drivers  []Driver
	Judged   bool // not a subwoofer
	Deciding int
	// Carriers are the features that carry it, by index.
	Carriers map[int]bool
}

// Driver is a disc.
type Driver struct {
	Centre, Normal Vec
	Radius         float64
	pardon         pardon
}

func rad(deg float64) float64 { return deg / 180 * math.Pi }

func newRoom(doc *document) (*Room, error) {
	r := &Room{doc: doc, Margin: doc.Criteria.Margin, PictureMargin: doc.Criteria.PictureMargin, walls: shellOf(doc)}
	s := doc.Screen
	high := s.Width / s.Aspect
	r.Picture = Vec{s.Distance, s.Centre, s.Bottom + high/2}
	r.PictureRight, r.PictureUp = Vec{Y: s.Width / 2}, Vec{Z: high / 2}
	if err := r.seats(); err != nil {
		return nil, err
	}
	r.build()
	who := doc.Seating.Sitters
	listener, other := personAt(who.Listener, who.Women), personAt(who.Others, who.Women)
	r.sit(func(seat int) (a, b person, recline, lowered float64) {
		return listener, other, doc.Seating.Rows[r.Seats[seat].Row-1].Recline, 0
	})
	if err := r.mainPoint(listener); err != nil {
		return nil, err
	}
	for k, l := range doc.Speakers {
		if err := r.place(k, l); err != nil {
			return nil, err
		}
	}
	return r, nil
}

func (d *document) chair(id string) (chair, error) {
	for _, c := range d.Chairs {
		if c.ID == id {
			return c, nil
		}
	}
	return chair{}, fmt.Errorf("oracle: no chair %q", id)
}

// seats places the seats: evenly along a straight line, or along an arc about a
// point before the row that they face.
func (r *Room) seats() error {
	for i, w := range r.doc.Seating.Rows {
		c, err := r.doc.chair(w.Chair)
		if err != nil {
			return err
		}
		middle := frame{Vec{w.Distance, w.Centre + w.Stagger, w.Riser}, turn(0)}
		for n := range w.Seats {
			along := w.Pitch * (float64(n) - float64(w.Seats-1)/2)
			at := frame{Vec{Y: along}, turn(0)}
			if w.Curve > 0 {
				bend := turn(along / w.Curve)
				at = frame{bend.of(Vec{X: w.Curve}).sub(Vec{X: w.Curve}), bend}
			}
			r.Seats = append(r.Seats, Seat{Row: i + 1, Number: n + 1, chair: c, floor: middle.within(at)})
		}
	}
	return nil
}

// mainPoint is midway between the ears of a listener in the middle of the main
// row, or the point given.
func (r *Room) mainPoint(listener person) error {
	m := r.doc.Seating.Main
	if m.Row == 0 {
		r.Main = m.At.vec()
		return nil
	}
	w := r.doc.Seating.Rows[m.Row-1]
	c, err := r.doc.chair(w.Chair)
	if err != nil {
		return err
	}
	floor := frame{Vec{w.Distance, w.Centre + w.Stagger, w.Riser}, turn(0)}
	b := r.in(listener, c, floor, w.Recline)
	r.Main = b.ears[0].to(b.ears[1], 0.5)
	return nil
}

// in seats p in a chair: the loaded pan is lower than the pan by the sink.
func (r *Room) in(p person, c chair, floor frame, recline float64) body {
	who := r.doc.Seating.Sitters
	loaded := floor.within(frame{Vec{Z: c.PanHeight - who.Sink}, turn(0)})
	return seated(p, who.Slump, c, floor, loaded, rad(recline))
}

// sit fills the seats and makes the solids of sitters and chairs, seat by seat:
// who listens there, who is in others' way there, the recline in degrees and how
// far the headrest is let down, metres.
func (r *Room) sit(who func(seat int) (listener, other person, recline, lowered float64)) {
	r.Solids = make([]Solid, 0, 9*len(r.Seats)+len(r.built))
	for i := range r.Seats {
		s := &r.Seats[i]
		listener, other, recline, lowered := who(i)
		me := r.in(listener, s.chair, s.floor, recline)
		s.Ears, s.Eye = me.ears, me.eye
		s.shoulders = me.parts[2]
		s.shoulders.Row, s.shoulders.Seat = s.Row, s.Number
		if other != listener {
			me = r.in(other, s.chair, s.floor, recline)
		}
		first := len(r.Solids)
		r.Solids = append(r.Solids, me.parts[:]...)
		r.Solids = append(r.Solids, chairSolids(s.chair, s.floor, recline, lowered)...)
		for n := first; n < len(r.Solids); n++ {
			r.Solids[n].Row, r.Solids[n].Seat = s.Row, s.Number
		}
	}
	r.Solids = append(r.Solids, r.built...)
}

// chairSolids are the pan, from the platform up; the back, which turns about
// where its face meets the pan; the headrest on it, tipped half as far and 0.7
// times as thick; the arms beside the pan, from the platform up.
func chairSolids(c chair, floor frame, recline, lowered float64) []Solid {
	on := func(f frame, x, y, z float64) frame { return f.within(frame{Vec{x, y, z}, turn(0)}) }
	out := []Solid{box("pan", on(floor, -c.PanDepth/2, 0, c.PanHeight/2), c.PanDepth, c.PanWidth, c.PanHeight)}
	back := floor.within(frame{Vec{Z: c.PanHeight}, tip(rad(recline))})
	out = append(out, box("back", on(back, c.BackThickness/2, 0, c.BackHeight/2), c.BackThickness, c.PanWidth, c.BackHeight))
	if c.Headrest > 0 {
		// Its foot slides down the back; it is tipped half as far as that.
		rest := back.within(frame{Vec{Z: c.BackHeight - lowered}, tip(-rad(recline) / 2)})
		thick := 0.7 * c.BackThickness
		out = append(out, box("headrest", on(rest, thick/2, 0, c.Headrest/2), thick, c.HeadrestWidth, c.Headrest))
	}
	if c.ArmWidth > 0 {
		high := c.PanHeight + c.ArmHeight
		for _, side := range []float64{-1, 1} {
			out = append(out, box("arm", on(floor, -c.PanDepth/2, side*(c.PanWidth/2+c.ArmWidth/2), high/2), c.PanDepth, c.ArmWidth, high))
		}
	}
	return out
}

// build makes the solids of platforms, features, the screen and the projector.
func (r *Room) build() {
	for i := range r.doc.Seating.Rows {
		span, ok := r.span(i)
		if !ok {
			continue
		}
		r.built = append(r.built, span.block(i))
		r.flights(i, span)
	}
	for i, f := range r.doc.Room.Features {
		if f.Kind == "window" {
			continue
		}
		base := frame{f.At.vec(), turn(rad(f.Turn))}
		p := box("feature", base.within(frame{Vec{Z: f.Height / 2}, turn(0)}), f.Length, f.Width, f.Height)
		if f.Round {
			p = column("feature", base.within(frame{Vec{Z: f.Height / 2}, turn(0)}), f.Length, f.Height)
		}
		p.Index = i
		r.built = append(r.built, p)
	}
	if s := r.doc.Screen; !s.Transparent {
		// 20 mm thick, behind the picture, with its border.
		at := r.Picture.sub(Vec{X: 0.01})
		r.built = append(r.built, box("screen", frame{at, turn(0)}, 0.02, s.Width+2*s.Border, 2*r.PictureUp.Z+2*s.Border))
	}
	r.projector()
}

// projector makes the cabinet of a projector in the room: its face so far behind the lens
// as the lens stands before it, facing the screen.
func (r *Room) projector() {
	p := r.doc.Projector
	for _, m := range r.doc.Projectors {
		if m.ID == p.Model && p.Mount != "port" {
			face := frame{p.At.vec(), turn(math.Pi)}.within(frame{Vec{X: -m.LensAhead}, turn(0)})
			r.built = append(r.built, box("projector", face.within(frame{Vec{X: -m.Depth / 2}, turn(0)}), m.Depth, m.Width, m.Height))
		}
	}
}

// span is what a platform or a step covers of the floor, and how high it is.
type span struct{ x0, x1, y0, y1, top float64 }

func (p span) block(row int) Solid {
	at := Vec{(p.x0 + p.x1) / 2, (p.y0 + p.y1) / 2, p.top / 2}
	b := box("platform", frame{at, turn(0)}, p.x1-p.x0, p.y1-p.y0, p.top)
	b.Row = row + 1
	return b
}

// span is the platform of row i, cut off at the rectangle around the room.
func (r *Room) span(i int) (span, bool) {
	lo, hi, w := r.walls.lo, r.walls.hi, r.doc.Seating.Rows[i]
	p := span{max(w.Distance-w.Front, lo.X), min(w.Distance+w.Back, hi.X), max(w.From, lo.Y), hi.Y, w.Riser}
	if w.To != 0 {
		p.y1 = min(w.To, hi.Y)
	}
	return p, w.Riser > 0 && w.Front+w.Back > 0 && p.x0 < p.x1 && p.y0 < p.y1
}

// flights builds the steps up to platform p of row i from the top: each is as much
// lower than the one before as shares what is to climb evenly.
func (r *Room) flights(i int, p span) {
	for _, st := range r.doc.Seating.Rows[i].Steps {
		across := [2]float64{st.At - st.Width/2, st.At + st.Width/2}
		// stretch is the step whose near and far edge are so far from the platform.
		var stretch func(near, far float64) span
		switch st.Side {
		case "front":
			stretch = func(near, far float64) span {
				return span{x0: p.x0 - far, x1: p.x0 - near, y0: across[0], y1: across[1]}
			}
		case "back":
			stretch = func(near, far float64) span {
				return span{x0: p.x1 + near, x1: p.x1 + far, y0: across[0], y1: across[1]}
			}
		case "left":
			stretch = func(near, far float64) span {
				return span{x0: across[0], x1: across[1], y0: p.y0 - far, y1: p.y0 - near}
			}
		default:
			stretch = func(near, far float64) span {
				return span{x0: across[0], x1: across[1], y0: p.y1 + near, y1: p.y1 + far}
			}
		}
		// What it stands on is what is 50 mm before the platform.
		at := stretch(0.05, 0.05)
		x, y, ground := (at.x0+at.x1)/2, (at.y0+at.y1)/2, 0.0
		for j := range r.doc.Seating.Rows {
			if o, ok := r.span(j); ok && j != i && o.top < p.top && o.x0 <= x && x <= o.x1 && o.y0 <= y && y <= o.y1 {
				ground = max(ground, o.top)
			}
		}
		risers := 1.0
		for risers*st.Rise < p.top-ground-1e-4 {
			risers++
		}
		for n := 1.0; n < risers; n++ {
			step := stretch((n-1)*st.Tread, n*st.Tread)
			step.top = p.top - n*(p.top-ground)/risers
			r.built = append(r.built, step.block(i))
		}
	}
}

// place works out loudspeaker k.
func (r *Room) place(k int, l loudspeaker) error {
	var m *model
	for i := range r.doc.Models {
		if r.doc.Models[i].ID == l.Model {
			m = &r.doc.Models[i]
		}
	}
	if m == nil {
		return fmt.Errorf("oracle: no loudspeaker model %q", l.Model)
	}
	at := l.At.vec()
	axis := r.Main.sub(at).unit()
	if l.Aim.Fixed {
		axis = heading(rad(l.Aim.Azimuth), rad(l.Aim.Elevation))
	}
	front := axis
	switch {
	case m.Flush:
		front = r.walls.surface(l.Mount, at)
	case m.AimRight != 0 || m.AimUp != 0:
		front = boxFor(axis, rad(m.AimRight), rad(m.AimUp))
	}
	f := frame{at, facing(front)}
	sp := Speaker{Name: l.Label, At: at, Carriers: map[int]bool{}, Deciding: -1}
	if l.Copy != "" {
		sp.Name += " " + l.Copy
	}
	// In its frame: x down the front, y to the right of who looks at it, z out.
	sp.Box = box("box", f.within(frame{Vec{Z: -m.Depth / 2}, turn(0)}), m.Height, m.Width, m.Depth)
	sp.Box.Index = k
	rank := map[string]int{"high": 4, "full": 3, "mid": 2, "low": 1}
	best := -1
	for i, d := range m.Drivers {
		dr := Driver{Centre: f.point(Vec{-d.Up, d.Right, 0}), Normal: f.axes[2], Radius: d.Diameter / 2}
		dr.pardon = r.walls.pardon(&dr)
		sp.Drivers = append(sp.Drivers, dr)
		sp.Judged = sp.Judged || d.Band != "sub"
		if rank[d.Band] > best {
			best, sp.Deciding = rank[d.Band], i
		}
	}
	back := f.point(Vec{Z: -m.Depth})
	for i := range r.Solids {
		if s := &r.Solids[i]; s.Kind == "feature" && s.Gap(at, back) < 0.02 {
			sp.Carriers[s.Index] = true
		}
	}
	r.Speakers = append(r.Speakers, sp)
	return nil
}

// heading is a direction by azimuth, 0 towards the screen and positive to the
// left, and elevation (Rec. ITU-R BS.2051).
func heading(azimuth, elevation float64) Vec {
	level := turn(math.Pi + azimuth).of(Vec{X: 1})
	return level.times(math.Cos(elevation)).add(Vec{Z: math.Sin(elevation)})
}

// facing is the turn of a box whose front faces w: its third column is w, its
// second level and to the right of who looks at the front, its first down. A box
// that faces straight up or down has the room's right for its own.
func facing(w Vec) Matrix {
	right := Vec{Z: 1}.cross(w)
	if math.Hypot(w.X, w.Y) < 1e-9 {
		right = Vec{Y: 1}
	}
	right = right.unit()
	return Matrix{right.cross(w), right, w}
}

// boxFor returns where the front of a level box faces whose axis, built in at
// angles right and up of the front, points along axis; as far up or down as a
// front can where none does. The height of the axis rises with the front's
// elevation from straight down on, or from where it is least, until it is most;
// the elevation is found by halving between these, then the azimuth.
func boxFor(axis Vec, right, up float64) Vec {
	// The axis of a box that faces heading(0, e).
	built := func(e float64) Vec {
		f := facing(heading(0, e))
		if math.Cos(e) < 1e-9 { // keep the side that a box just short of it has
			f[1] = Vec{Y: -1}
			f[0] = f[1].cross(f[2])
		}
		return f.of(Vec{-math.Sin(up), math.Cos(up) * math.Sin(right), math.Cos(up) * math.Cos(right)})
	}
	top := math.Atan2(math.Cos(up)*math.Cos(right), math.Sin(up)) // elevation of the highest axis
	lo, hi := max(-math.Pi/2, top-math.Pi), min(math.Pi/2, top)
	for range 80 {
		mid := (lo + hi) / 2
		if built(mid).Z < axis.Z {
			lo = mid
		} else {
			hi = mid
		}
	}
	e := (lo + hi) / 2
	b := built(e)
	azimuth := math.Atan2(-axis.Y, -axis.X)
	if math.Hypot(axis.X, axis.Y) < 1e-12 {
		azimuth = 0
	}
	if math.Hypot(b.X, b.Y) < 1e-12 {
		return heading(azimuth, e)
	}
	return heading(azimuth-math.Atan2(-b.Y, -b.X), e)
}
