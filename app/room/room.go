// SPDX-License-Identifier: MIT

// Package room is the picture of the room: where the camera is, what is pointed at,
// dragged and selected in it, and what is laid over it. UI goroutine only.
//
// It shows the session's design through a viewport (app/view). What a drag does to the
// design is app/move's.
package room

import (
	"slices"
	"time"

	"fyne.io/fyne/v2"

	"earline/app/session"
	"earline/app/theme"
	"earline/app/view"
	"earline/project"
	"earline/project/place"
	"earline/project/sight"
	"earline/scene"
	"earline/scene/bake"
)

// Picture is the picture of the room.
type Picture struct {
	View *view.Viewport

	// Overlay adds what the page on top lays over the room, and OnTop returns its
	// title.
	Overlay func(*scene.Options)
	OnTop   func() string
	// Opened returns what is open to be edited.
	Opened func() []place.Item
	// OnKey gets the keys that nothing in the picture uses.
	OnKey func(*fyne.KeyEvent)
	// Changed is told that another view is on show, or other options.
	Changed func()
	// OnClient is told that the client view begins or ends.
	OnClient func(bool)
	// OnAround is told that a client is shown around, on the whole screen, or no more.
	OnAround func(bool)
	// Progress is told that the light of the client view has gone on, which may be often.
	Progress func()
	// Commit takes in what is still being typed, and gives the keyboard to the picture.
	Commit func()

	session  *session.Session
	builder  scene.Builder
	building bool          // beside the window
	ordered  *order        // to be built next; nil for nothing
	drawn    *sight.Result // whose rays are in the picture
	rays     int           // in it
	allRays  int           // that were to be in it
	options  scene.Options // what is set for all pictures
	look     look
	around   *around  // nil while no client is shown around
	playing  *playing // nil while no tour and no entrance plays
	drag     *drag    // nil while nothing is dragged
	lighting lighting
	curtain  curtain
}

// New returns a picture of the session's room without a renderer; see view.Attach. Its
// functions are to be set before it is used.
func New(s *session.Session, post func(func())) *Picture {
	p := &Picture{View: view.New(), session: s, options: scene.Default(), curtain: curtain{at: middle}, Progress: func() {},
		lighting: lighting{scene: project.House, steps: []bake.Quality{bake.Quick(), bake.Full()}}}
	p.View.Post = post
	p.View.OnPick, p.View.OnKey = p.pick, p.key
	p.View.OnCurtain = func(at float64) { p.curtain.at = at }
	p.View.OnGrab, p.View.OnHover = p.grab, p.hover
	p.View.Ground = func(x, y float64) float64 { return place.FloorOf(s.Design()).At(x, y) }
	p.View.Overview = func(aspect float32) scene.Camera { return scene.Overview(s.Design(), aspect) }
	return p
}

// Reset shows another document from its beginning, once Follow and Redraw have shown
// its room.
func (p *Picture) Reset() {
	p.stopPlaying()
	p.setAround(false)
	p.SetView(view.Overview)
	p.View.Fit()
}

// Forget forgets where the camera was, what was dragged and what was on the screen in the
// document before.
func (p *Picture) Forget() {
	p.look, p.drag, p.options.Shape = look{}, nil, 0
	for _, b := range []*baking{&p.lighting.room, &p.lighting.other} {
		b.end()
		b.ready = nil
	}
	p.curtain = curtain{at: middle}
}

// Drawn returns the audit whose rays are drawn; nil for none.
func (p *Picture) Drawn() *sight.Result { return p.drawn }

// Await waits a little for the picture of an edit to be on show. One that takes longer
// comes when it is ready.
func (p *Picture) Await() {
	if !p.building {
		p.View.Await(frameWait)
	}
}

const frameWait = 40 * time.Millisecond

// Redraw makes a new picture of what is there.
func (p *Picture) Redraw() {
	p.drawn = p.session.Result()
	w := order{p.session.Design(), p.session.Tried(), p.Options()}
	p.hang(w)
	if l := p.lit(w, &p.lighting.room); l != nil {
		p.ordered = nil
		p.show(l)
		return
	}
	if p.building || w.large() {
		p.ordered = &w
		p.build()
		return
	}
	p.show(p.builder.Build(w.d, w.r, w.o))
}

// Options returns what is drawn: what is set for all pictures, what is selected
// and proposed, and what the page on top lays over the room.
func (p *Picture) Options() scene.Options {
	o, c, kind := p.options, p.session.Chosen, p.View.Rig.Kind
	o.Seat, o.Speaker, o.Mark = c.Seat, c.Speaker, p.session.Marked()
	o.Only = c.Path || o.Mark != nil
	o.Drawing, o.Cut = kind.Axes(), p.View.Rig.Section()
	o.Palette = theme.Now().Scene
	if kind.Axes() != (scene.Axes{}) {
		o.Palette = theme.Now().Drawing
	}
	if who, tried, _ := p.session.Sitter(); tried {
		o.Lean = scene.Lean{On: true, Seat: c.Seat, Recline: who.Recline}
	}
	opened := p.Opened()
	o.Dims = p.dims()
	// Elsewhere the zones for subwoofers would clutter the rays.
	o.Zones = slices.ContainsFunc(opened, func(it place.Item) bool { return it.Kind == place.ZoneItem })
	p.Overlay(&o)
	if kind == view.Seat {
		o.FromSeat = p.look.seat
	} else {
		o.Opened = opened // from a seat it would lie over the picture
	}
	if offer := p.session.Offer; offer != nil && (!offer.OnPage || offer.Page == p.OnTop()) {
		o.Ghost = offer.Design
		o.Rays = scene.NoRays // they are of what is there, not of what is proposed
	}
	if kind.Axes() == (scene.Axes{}) {
		o.Hovered = place.Item{} // only drawings are dragged in
	}
	if kind == view.Seat && !c.Path && o.Rays == scene.Problems {
		// From a seat one looks at the picture. Rays that begin beside the eye,
		// or pass it, would cover it.
		o.Rays, o.Seat, o.Speaker = scene.NoRays, session.None, session.None
	}
	return o
}

// measure tells the view how large the room is.
func (p *Picture) measure() {
	d := p.session.Design()
	poly := d.Room.Polygon()
	lo, hi := poly.Bounds()
	p.View.Lo.X, p.View.Lo.Y, p.View.Lo.Z = lo.X, lo.Y, 0
	p.View.Hi.X, p.View.Hi.Y = hi.X, hi.Y
	_, p.View.Hi.Z = d.Room.Slopes().Range(poly)
}
