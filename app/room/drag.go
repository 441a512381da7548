// SPDX-License-Identifier: MIT

package room

import (
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"earline/app/move"
	"earline/app/session"
	"earline/app/view"
	"earline/geometry"
	"earline/geometry/unit"
	"earline/project/place"
	"earline/scene"
)

// drag is an item that is being dragged in a drawing. The document changes when
// it is dropped: until then the session shows a draft, audited and drawn at every
// move, so that giving up leaves no trace.
type drag struct {
	p    *Picture
	move *move.Move
	step move.Step
}

var _ view.Held = (*drag)(nil)

// grab takes hold of what a press in a drawing meets.
func (p *Picture) grab(x, y float32, wide, high int, cam scene.Camera) view.Held {
	it, ok := p.itemAt(x, y, wide, high, cam)
	if !ok {
		return nil
	}
	m, ok := move.Start(p.session.Doc.Design(), it, p.View.Rig.Kind.Axes())
	if !ok {
		return nil
	}
	if q, ok := p.session.Links().Of(p.session.Doc.Design(), it); ok {
		m.Pair(q)
	}
	p.Commit()
	p.drag = &drag{p: p, move: m}
	return p.drag
}

// itemAt returns what could be dragged there.
func (p *Picture) itemAt(x, y float32, wide, high int, cam scene.Camera) (place.Item, bool) {
	if p.options.Client || x < 0 || y < 0 {
		return place.Item{}, false
	}
	n := scene.Nameplates{Bold: p.session.Chosen.Speaker}
	if width := p.View.Size().Width; p.options.Labels && width > 0 {
		n.Scale = float64(wide) / float64(width)
	}
	return scene.Grab(p.session.Design(), p.session.Room(), cam, float64(x), float64(y), wide, high, n)
}

// hover outlines what could be dragged there.
func (p *Picture) hover(x, y float32, wide, high int, cam scene.Camera) bool {
	it, ok := p.itemAt(x, y, wide, high, cam)
	if it != p.options.Hovered {
		p.options.Hovered = it
		p.Redraw()
	}
	return ok
}

// Move implements view.Held. What Validate refuses is not gone to.
func (g *drag) Move(by geometry.Vec, reach float64) {
	p := g.p
	if p.drag != g {
		return // given up
	}
	other := false
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		other = d.CurrentKeyModifiers()&fyne.KeyModifierShortcutDefault != 0
	}
	step := g.move.To(by, move.Grip{Reach: reach, Other: other})
	next := p.session.Doc.Design().Clone()
	step.Edit(next)
	if next.Validate() != nil {
		return
	}
	if !p.session.Dragging() {
		p.revealDragged(g.move.Item())
	}
	g.step = step
	p.session.Draft(next)
}

// Drop implements view.Held.
func (g *drag) Drop() {
	p := g.p
	if p.drag != g {
		return
	}
	p.drag = nil
	if p.session.Dragging() {
		_ = p.session.Do(g.step.Label, "", g.step.Edit) // Validate took it as a draft
	}
}

// cancelDrag ends a drag and leaves all as it was before; false when there is
// none.
func (p *Picture) cancelDrag() bool {
	if !p.session.Dragging() {
		return false
	}
	p.session.Draft(nil)
	return true
}

// revealDragged selects an item that begins to be dragged, and opens it in the
// inspector.
func (p *Picture) revealDragged(it place.Item) {
	c := session.Selection{Item: it, Seat: session.None, Speaker: session.None, Remark: p.session.Chosen.Remark}
	if it.Kind == place.SpeakerItem {
		c.Speaker = it.Index
	}
	p.session.Choose(c)
}

// dims returns the dimension lines of what is dragged, else of the selected
// loudspeaker, and what is snapped to. Only drawings have any.
func (p *Picture) dims() []scene.Dim {
	axes := p.View.Rig.Kind.Axes()
	if g := p.drag; g != nil && p.session.Dragging() {
		return append(scene.Measure(p.session.Design(), g.move.Item(), axes), g.step.Guides...)
	}
	if axes == (scene.Axes{}) || p.session.Chosen.Speaker == session.None {
		return nil
	}
	return scene.Measure(p.session.Design(), place.Item{Kind: place.SpeakerItem, Index: p.session.Chosen.Speaker}, axes)
}

// tenths prints radians as degrees to a tenth.
func tenths(radians float64) string {
	return unit.Degrees(math.Round(float64(unit.FromRadians(radians))*10) / 10).String()
}

// Dragging says in words what is under way; empty when nothing is.
func (p *Picture) Dragging() string {
	g, d := p.drag, p.session.Design()
	if g == nil || !p.session.Dragging() {
		return ""
	}
	text := strings.ToUpper(g.step.Label[:1]) + g.step.Label[1:]
	if it := g.move.Item(); it.Kind == place.SpeakerItem {
		to := d.Speakers[it.Index].At.Vec().Sub(place.MainPoint(d))
		if az, el, ok := geometry.AzEl(to); ok {
			text += fmt.Sprintf(", azimuth %s, elevation %s", tenths(az), tenths(el))
		}
	}
	all := scene.Axes{X: true, Y: true, Z: true}
	for _, dim := range scene.Measure(d, g.move.Item(), all) {
		along := dim.To.Sub(dim.From)
		where := " above the floor"
		switch {
		case along.X != 0:
			where = " from the screen wall"
		case along.Y != 0:
			where = " from the left wall"
		}
		text += ", " + dim.Text + where
	}
	for _, s := range g.step.Guides {
		text += ", " + s.Text
	}
	return text + ". Escape takes it back."
}
