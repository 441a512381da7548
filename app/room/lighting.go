// SPDX-License-Identifier: MIT

package room

import (
	"context"
	"errors"
	"fmt"
	"reflect"

	"earline/app/command"
	"earline/project"
	"earline/project/light"
	"earline/scene"
	"earline/scene/bake"
)

// lighting is the client view in the light of a scene: of the room on show, and of the one
// left of a curtain.
type lighting struct {
	scene       project.Scene  // none for the light of a drawing
	steps       []bake.Quality // in which it is worked out, the first soon there
	stops       float64        // of exposure
	room, other baking
}

// baking is the light of one room. It is worked out beside the window, and kept for as
// long as nothing in the room changes: scenes, exposure and cameras only mix it anew.
type baking struct {
	ready *lit   // nil before the first
	of    litKey // what is under way, or was last
	stop  context.CancelFunc
	step  int     // of lighting.steps, that is under way
	share float64 // of it that is done
}

// litKey is all that the light depends on. Designs never change once made.
type litKey struct {
	d      *project.Design
	people bool
}

// shinesAs reports whether l differs from k only in how the room is shown.
func (k litKey) shinesAs(l litKey) bool {
	if k == l || k.d == nil || l.d == nil || k.people != l.people {
		return k == l
	}
	d := *k.d
	d.Viewpoints, d.Entrance = l.d.Viewpoints, l.d.Entrance
	return reflect.DeepEqual(&d, l.d)
}

// lit is light that has been worked out.
type lit struct {
	of    litKey
	key   bake.Key
	model *light.Model // of the present levels
	light *bake.Light
	whole bool // else there is better to come
}

// lit asks for the light that w is to be seen in, and returns the list in it; nil while
// there is none, or where none is wanted. b is the light of that room.
func (p *Picture) lit(w order, b *baking) *scene.List {
	l := &p.lighting
	if !w.o.Client || l.scene == "" && p.playing == nil || len(w.d.LightGroups) == 0 || w.o.Drawing != (scene.Axes{}) || w.o.Fade != nil {
		b.end()
		return nil
	}
	k := litKey{w.d, w.o.People}
	if b.stop != nil && b.of != k && b.of.shinesAs(k) { // what is under way goes on
		if r := b.ready; r != nil && r.of == b.of {
			r.of = k
		}
		b.of = k
	}
	if b.of != k {
		b.end()
		p.bake(k, b)
	}
	if b.ready == nil || b.ready.of != k {
		return nil
	}
	show := bake.In(b.ready.model, l.scene)
	if y := p.playing; y != nil && b == &l.room {
		_, show = y.seq.Show(y.model, y.at)
		y.set = show
	}
	show.Exposure, show.FromSeat = l.stops, w.o.FromSeat
	return b.ready.light.Show(show)
}

// end gives up what is under way.
func (b *baking) end() {
	if b.stop != nil {
		b.stop()
		b.stop = nil
	}
	if b.ready == nil || !b.ready.whole || b.ready.of != b.of {
		b.of = litKey{} // so that it begins again
	}
}

// bake works out the light of k, step by step. One core is left to the window.
func (p *Picture) bake(k litKey, b *baking) {
	ctx, cancel := context.WithCancel(context.Background())
	b.stop, b.of, b.step, b.share = cancel, k, 0, 0
	known, steps := b.ready, p.lighting.steps
	post := func(f func()) {
		p.View.Post(func() {
			if ctx.Err() == nil {
				f()
			}
		})
	}
	give := func(got *lit) {
		post(func() {
			got.of = b.of // which may be another design that shines alike by now
			b.ready = got
			p.Redraw()
			p.Progress()
		})
	}
	p.session.Background(func() {
		o := scene.Default()
		o.Client, o.Bare, o.People = true, true, k.people
		list := scene.Build(k.d, nil, o)
		m := light.Of(k.d)
		lamps := bake.LampsOf(m, list)
		key := bake.KeyOf(list, lamps)
		if known != nil && known.key == key && known.whole {
			give(&lit{k, key, m, known.light, true})
			return
		}
		r := bake.Of(list, lamps, bake.Apart)
		for i, q := range steps {
			q.Spare = 1
			q.Tell = func(share float64) {
				post(func() {
					b.step, b.share = i, share
					p.Progress()
				})
			}
			got, err := r.Light(ctx, q)
			if err != nil {
				return // given up
			}
			give(&lit{k, key, m, got, i == len(steps)-1})
		}
	})
}

// lightCommands are the lights that the client view can be seen in.
func (p *Picture) lightCommands() []command.Command {
	one := func(id, name, says string, s project.Scene) command.Command {
		return command.Command{ID: "view.light." + id, Name: name, Says: says,
			Do: func() { p.SetLight(s) },
			On: func() bool { return p.lighting.scene == s }}
	}
	all := []command.Command{one("drawing", "Drawing light", "Shows the client view evenly lit.", "")}
	for _, s := range project.LightScenes() {
		all = append(all, one(string(s), "Light of "+string(s), fmt.Sprintf("Shows the client view in the light of the scene %s, computed from the light groups.", s), s))
	}
	return all
}

// exposureCommands show the client view brighter or darker than the eye would see it.
func (p *Picture) exposureCommands() []command.Command {
	const step = 0.5 // stops
	return []command.Command{
		{ID: "view.light.brighter", Name: "Brighter", Menu: "Show", Key: plain(">"),
			Says: "Shows the client view half a stop brighter.",
			Can:  p.exposable, Do: func() { p.Expose(p.lighting.stops + step) }},
		{ID: "view.light.darker", Name: "Darker", Menu: "Show", Key: plain("<"),
			Says: "Shows the client view half a stop darker.",
			Can:  p.exposable, Do: func() { p.Expose(p.lighting.stops - step) }},
	}
}

// Light returns the scene in whose light the client view is, empty for that of a drawing,
// and by how many stops it is brighter than the eye would see it; and why it has no scenes,
// nil where it has.
func (p *Picture) Light() (s project.Scene, stops float64, none error) {
	if err := p.lightable(); err != nil {
		return "", 0, err
	}
	if p.View.Rig.Kind.Axes() != (scene.Axes{}) {
		return "", 0, errors.New("plan and sections are drawn in even light")
	}
	return p.lighting.scene, p.lighting.stops, nil
}

// Lighting says how far the light of the client view is, or why the view is dark; empty when
// all is there.
func (p *Picture) Lighting() string {
	l := &p.lighting
	for _, b := range []*baking{&l.room, &l.other} {
		switch {
		case b.of == (litKey{}) || b.ready != nil && b.ready.of == b.of && b.ready.whole:
		case b.step == 0:
			return fmt.Sprintf("Working out the light: %.0f %%", 100*b.share)
		default:
			return fmt.Sprintf("Refining the light: %.0f %%", 100*b.share)
		}
	}
	if r := l.room.ready; r != nil && p.options.Client && l.scene != "" && l.room.of == r.of {
		if why := bake.Dark(r.model, bake.In(r.model, l.scene)); why != "" {
			return fmt.Sprintf("Dark in the scene %s: %s", l.scene, why)
		}
	}
	return ""
}

// lightable says why the client view has no scenes.
func (p *Picture) lightable() error {
	if len(p.session.Design().LightGroups) == 0 {
		return errors.New("the room has no light groups")
	}
	return nil
}

// SetLight shows the client view in the light of a scene.
func (p *Picture) SetLight(s project.Scene) {
	p.lighting.scene = s
	if !p.options.Client {
		p.setClient(true)
		return
	}
	p.showOptions()
}

// Expose shows the client view by so many stops brighter than the eye would see it.
func (p *Picture) Expose(stops float64) {
	p.lighting.stops = min(max(stops, -bake.MostStops), bake.MostStops)
	p.showOptions()
	if p.around != nil {
		p.say("Exposure " + Stops(p.lighting.stops))
	}
}

// Stops says an exposure in words.
func Stops(stops float64) string {
	if stops == 0 {
		return "as the eye sees it"
	}
	return fmt.Sprintf("%+g stops", stops)
}

// exposable says why there is nothing to expose.
func (p *Picture) exposable() error {
	s, _, none := p.Light()
	if none == nil && (!p.options.Client || s == "") {
		none = errors.New("only the client view in the light of a scene has an exposure")
	}
	return none
}
