// SPDX-License-Identifier: MIT

package inspector

import (
	"earline/app/field"
	"earline/app/words"
	"earline/project"
	"earline/project/pair"
	"earline/project/place"
)

// asPair adds a tick by which left and right are edited as a pair, shown while the
// thing has a partner. Ticked for two that are no mirror images, it makes the partner
// one.
func (in *Inspector) asPair(f *field.Form, it func() place.Item) {
	tick := f.AddCheck("As a pair",
		func() bool {
			_, ok := in.host.Links().Of(in.host.Design(), it())
			return ok
		},
		func(on bool) error {
			d := in.host.Design()
			p, ok := pair.Of(d, it())
			if !ok {
				return nil
			}
			in.host.Links().Set(d, p, on)
			if on && !p.Mirrored {
				one, other := pair.Name(d, p.Kind, p.One), pair.Name(d, p.Kind, p.Other)
				err := in.host.Do("mirror "+other+" to "+one, "", func(d *project.Design) { pair.Mirror(d, p) })
				if err != nil {
					return field.Plain(err)
				}
				in.say(other + " is the mirror image of " + one + " now.")
			}
			in.Update()
			return nil
		})
	why(tick, "pair").When(func() bool {
		d := in.host.Design()
		p, ok := pair.Of(d, it())
		if ok {
			if with := words.Of("with " + pair.Name(d, p.Kind, p.Other)); tick.Check.Text != with {
				tick.Check.Text = with
				tick.Check.Refresh()
			}
		}
		return ok
	})
}

// named returns the name of a thing with that of its partner where an edit changes
// both: "M+090 and M-090".
func (in *Inspector) named(it place.Item, name string) string {
	d := in.host.Design()
	p, ok := in.host.Links().Of(d, it)
	if !ok {
		return name
	}
	return name + " and " + pair.Name(d, p.Kind, p.Other)
}

func (in *Inspector) speakerItem() place.Item {
	return place.Item{Kind: place.SpeakerItem, Index: in.speaker}
}

func (in *Inspector) featureItem() place.Item {
	return place.Item{Kind: place.FeatureItem, Index: in.feature}
}
