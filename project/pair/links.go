// SPDX-License-Identifier: MIT

package pair

import (
	"fmt"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// Links says which pairs are edited as pairs: all that are mirror images, but for
// those that were set apart. The zero value sets none apart.
type Links struct{ apart map[string]bool }

// Of returns the pair of a thing if it is edited as one.
func (l *Links) Of(d *project.Design, it place.Item) (Pair, bool) {
	p, ok := Of(d, it)
	return p, ok && p.Mirrored && !l.apart[key(d, p)]
}

// Set edits a pair as one, or sets it apart.
func (l *Links) Set(d *project.Design, p Pair, together bool) {
	if l.apart == nil {
		l.apart = map[string]bool{}
	}
	if together {
		delete(l.apart, key(d, p))
	} else {
		l.apart[key(d, p)] = true
	}
}

// key names a pair, whichever of the two is asked for.
func key(d *project.Design, p Pair) string {
	a, b := Name(d, p.Kind, p.One), Name(d, p.Kind, p.Other)
	if p.Kind == place.FeatureItem { // names of features need not differ
		a, b = fmt.Sprintf("%s %d", a, p.One), fmt.Sprintf("%s %d", b, p.Other)
	}
	return fmt.Sprint(p.Kind, min(a, b), "/", max(a, b))
}

// Name returns the name of a loudspeaker or a feature.
func Name(d *project.Design, kind place.ItemKind, i int) string {
	if kind == place.SpeakerItem {
		return d.Speakers[i].Name()
	}
	return d.Room.Features[i].Words()
}

// Follow gives, in after, to the partner of everything that an edit has changed the
// mirror image of what was changed, and returns the pairs for which it did. before is
// the design before the edit. An edit that adds or removes one, or changes both,
// stands as it is.
func (l *Links) Follow(before, after *project.Design) (along []Pair) {
	if len(before.Speakers) == len(after.Speakers) {
		for i := range before.Speakers {
			if before.Speakers[i] == after.Speakers[i] {
				continue
			}
			p, ok := l.Of(before, place.Item{Kind: place.SpeakerItem, Index: i})
			if ok && before.Speakers[p.Other] == after.Speakers[p.Other] {
				was := after.Speakers[p.Other]
				followSpeaker(before, after, p)
				if was != after.Speakers[p.Other] {
					along = append(along, p)
				}
			}
		}
	}
	if len(before.Room.Features) == len(after.Room.Features) {
		for i := range before.Room.Features {
			if before.Room.Features[i] == after.Room.Features[i] {
				continue
			}
			p, ok := l.Of(before, place.Item{Kind: place.FeatureItem, Index: i})
			if ok && before.Room.Features[p.Other] == after.Room.Features[p.Other] {
				was := after.Room.Features[p.Other]
				followFeature(before, after, p)
				if was != after.Room.Features[p.Other] {
					along = append(along, p)
				}
			}
		}
	}
	return along
}

// follow gives *to what was changed from a to b.
func follow[T comparable](to *T, a, b, image T) {
	if a != b {
		*to = image
	}
}

func followPoint(to *project.Point, a, b project.Point, line float64) {
	follow(&to.X, a.X, b.X, b.X)
	follow(&to.Y, a.Y, b.Y, Across(b.Y, line))
	follow(&to.Z, a.Z, b.Z, b.Z)
}

func followSpeaker(before, after *project.Design, p Pair) {
	a, b, o := before.Speakers[p.One], after.Speakers[p.One], &after.Speakers[p.Other]
	followPoint(&o.At, a.At, b.At, p.Line)
	follow(&o.Aim, a.Aim, b.Aim, aim(b.Aim))
	follow(&o.Model, a.Model, b.Model, b.Model)
	follow(&o.Mount, a.Mount, b.Mount, b.Mount)
	// One that is given its partner's label is refused, not swapped.
	if o.Label == Label(a.Label) && Label(b.Label) != b.Label && b.Label != o.Label {
		follow(&o.Label, a.Label, b.Label, Label(b.Label))
	}
	if o.Copy == a.Copy {
		follow(&o.Copy, a.Copy, b.Copy, b.Copy)
	}
	if o.Tuning == a.Tuning { // a pair that was tuned apart stays so
		follow(&o.Tuning, a.Tuning, b.Tuning, b.Tuning)
	}
}

func followFeature(before, after *project.Design, p Pair) {
	a, b, o := before.Room.Features[p.One], after.Room.Features[p.One], &after.Room.Features[p.Other]
	followPoint(&o.At, a.At, b.At, p.Line)
	follow(&o.Kind, a.Kind, b.Kind, b.Kind)
	follow(&o.Length, a.Length, b.Length, b.Length)
	follow(&o.Width, a.Width, b.Width, b.Width)
	follow(&o.Height, a.Height, b.Height, b.Height)
	follow(&o.Round, a.Round, b.Round, b.Round)
	follow[unit.Degrees](&o.Turn, a.Turn, b.Turn, turn(b.Turn))
	follow(&o.Swing, a.Swing, b.Swing, swing(b.Swing))
	follow(&o.Material, a.Material, b.Material, b.Material)
}
