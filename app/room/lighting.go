// SPDX-License-Identifier: MIT

package room

import (
	"context"
	"errors"
	"fmt"

	"earline/app/command"
	"earline/project"
	"earline/project/light"
	"earline/scene"
	"earline/scene/bake"
)

// lighting is the client view in the light of a scene. It is worked out beside the window,
// and kept for as long as nothing in the room changes: scenes, exposure and cameras only
// mix it anew.
type lighting struct {
	scene project.Scene  // none for the light of a drawing
	steps []bake.Quality // in which it is worked out, the first soon there
	stops float64        // of exposure
	ready *lit           // nil before the first
	of    litKey         // what is under way, or was last
	stop  context.CancelFunc
}

// litKey is all that the light depends on. Designs never change once made.
type litKey struct {
	d      *project.Design
	people bool
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
// there is none, or where none is wanted.
func (p *Picture) lit(w order) *scene.List {
	l := &p.lighting
	if !w.o.Client || l.scene == "" || len(w.d.LightGroups) == 0 || w.o.Drawing != (scene.Axes{}) || w.o.Fade != nil {
		l.end()
		return nil
	}
	k := litKey{w.d, w.o.People}
	if l.of != k {
		l.end()
		p.bake(k)
	}
	if l.ready == nil || l.ready.of != k {
		return nil
	}
	show := bake.In(l.ready.model, l.scene)
	show.Exposure, show.FromSeat = l.stops, w.o.FromSeat
	return l.ready.light.Show(show)
}

// end gives up what is under way.
func (l *lighting) end() {
	if l.stop != nil {
		l.stop()
		l.stop = nil
	}
	if l.ready == nil || !l.ready.whole || l.ready.of != l.of {
		l.of = litKey{} // so that it begins again
	}
}

// bake works out the light of k, step by step. One core is left to the window.
func (p *Picture) bake(k litKey) {
	l := &p.lighting
	ctx, cancel := context.WithCancel(context.Background())
	l.stop, l.of = cancel, k
	known, steps := l.ready, l.steps
	give := func(got *lit) {
		p.View.Post(func() {
			if ctx.Err() == nil {
				l.ready = got
				p.Redraw()
			}
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
			Do: func() { p.setLight(s) },
			On: func() bool { return p.lighting.scene == s }}
	}
	all := []command.Command{one("drawing", "Drawing light", "Shows the client view evenly lit.", "")}
	for _, s := range project.LightScenes() {
		all = append(all, one(string(s), "Light of "+string(s), fmt.Sprintf("Shows the client view in the light of the scene %s, computed from the light groups.", s), s))
	}
	return append(all,
		command.Command{ID: "view.light.brighter", Name: "Brighter", Says: "Shows the client view half a stop brighter.",
			Can: p.exposable, Do: func() { p.expose(0.5) }},
		command.Command{ID: "view.light.darker", Name: "Darker", Says: "Shows the client view half a stop darker.",
			Can: p.exposable, Do: func() { p.expose(-0.5) }})
}

// lightable says why the client view has no scenes.
func (p *Picture) lightable() error {
	if len(p.session.Design().LightGroups) == 0 {
		return errors.New("the room has no light groups")
	}
	return nil
}

// setLight shows the client view in the light of a scene.
func (p *Picture) setLight(s project.Scene) {
	p.lighting.scene = s
	if !p.options.Client {
		p.setClient(true)
		return
	}
	p.showOptions()
}

// expose shows the client view brighter or darker.
func (p *Picture) expose(stops float64) {
	const most = 3
	p.lighting.stops = min(max(p.lighting.stops+stops, -most), most)
	p.showOptions()
}

// exposable says why there is nothing to expose.
func (p *Picture) exposable() error {
	if !p.options.Client || p.lighting.scene == "" {
		return errors.New("only the client view in the light of a scene has an exposure")
	}
	return p.lightable()
}
