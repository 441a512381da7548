// SPDX-License-Identifier: MIT

package compare

import (
	"fmt"
	"math"
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/project/diff"
	"earline/project/place"
)

// Fate is what becomes of a thing.
type Fate uint8

// The fates, in the order in which they are listed: what makes most work first.
const (
	New Fate = iota
	Goes
	Moves
	Changes // where it is
	Stays
)

var fateWords = [...]string{"new", "goes", "moves", "changes", "stays"}

// String returns the word for f.
func (f Fate) String() string { return fateWords[min(f, Stays)] }

// Thing is a loudspeaker, a row, a feature, a treatment, a zone or the picture, in
// one design or in both.
type Thing struct {
	// Item is it in the later design, in the earlier one for what goes.
	Item place.Item
	ID   string // empty for the picture
	Name string
	Fate Fate
	// By is from where it was to where it is, metres in the room frame; nothing but
	// for what moves. A row moves back (X), to the side (Y) and up with its platform.
	By geometry.Vec
	// Changes are what differs, place included, in the words of undo; nil for what is
	// new or goes.
	Changes []diff.Change
}

// Words says what becomes of t, lengths as show prints them: "moves 0.970 m up".
func (t Thing) Words(show func(float64) string) string {
	if t.Fate != Moves {
		return t.Fate.String()
	}
	text := "moves"
	for _, way := range []struct {
		v        float64
		pos, neg string
	}{{t.By.X, "back", "forward"}, {t.By.Y, "to the right", "to the left"}, {t.By.Z, "up", "down"}} {
		if math.Abs(way.v) < least {
			continue
		}
		word := way.pos
		if way.v < 0 {
			word = way.neg
		}
		if text != "moves" {
			text += ","
		}
		text += " " + show(math.Abs(way.v)) + " " + word
	}
	return text
}

// least is what is told of a move, m: half of what is printed.
const least = 0.0005

// kind is one list of a design, as far as it is compared.
type kind[T any] struct {
	item  place.ItemKind
	list  func(d *project.Design) []T
	id    func(v *T) string
	name  func(d *project.Design, i int) string
	at    func(v *T) geometry.Vec
	alone func(v T) *project.Design // a design that holds nothing else
}

// things appends what becomes of everything in one list.
func things[T any](out []Thing, was, is *project.Design, k kind[T]) []Thing {
	before, after := k.list(was), k.list(is)
	find := func(list []T, id string) int {
		return slices.IndexFunc(list, func(v T) bool { return k.id(&v) == id && id != "" })
	}
	for i := range after {
		t := Thing{Item: place.Item{Kind: k.item, Index: i}, ID: k.id(&after[i]), Name: k.name(is, i), Fate: New}
		if b := find(before, t.ID); b >= 0 {
			t.Fate = Stays
			t.Changes = diff.Seen(diff.Compare(k.alone(before[b]), k.alone(after[i])))
			if by := k.at(&after[i]).Sub(k.at(&before[b])); by.Len() >= least {
				t.Fate, t.By = Moves, by
			} else if len(t.Changes) > 0 {
				t.Fate = Changes
			}
		}
		out = append(out, t)
	}
	for b := range before {
		if id := k.id(&before[b]); find(after, id) < 0 {
			out = append(out, Thing{Item: place.Item{Kind: k.item, Index: b}, ID: id, Name: k.name(was, b), Fate: Goes})
		}
	}
	return out
}

// everything returns what becomes of everything in two designs, list by list.
func everything(was, is *project.Design) []Thing {
	out := things(nil, was, is, kind[project.Loudspeaker]{
		item: place.SpeakerItem,
		list: func(d *project.Design) []project.Loudspeaker { return d.Speakers },
		id:   func(l *project.Loudspeaker) string { return l.ID },
		name: func(d *project.Design, i int) string { return d.Speakers[i].Name() },
		at:   func(l *project.Loudspeaker) geometry.Vec { return l.At.Vec() },
		alone: func(l project.Loudspeaker) *project.Design {
			return &project.Design{Speakers: []project.Loudspeaker{l}}
		},
	})
	out = append(out, picture(was, is))
	out = things(out, was, is, kind[project.Row]{
		item: place.RowItem,
		list: func(d *project.Design) []project.Row { return d.Seating.Rows },
		id:   func(r *project.Row) string { return r.ID },
		name: func(_ *project.Design, i int) string { return fmt.Sprintf("row %d", i+1) },
		at: func(r *project.Row) geometry.Vec {
			return geometry.Vec{X: float64(r.Distance), Y: float64(r.Centre + r.Stagger), Z: float64(r.Riser)}
		},
		alone: func(r project.Row) *project.Design {
			return &project.Design{Seating: project.Seating{Rows: []project.Row{r}}}
		},
	})
	out = things(out, was, is, kind[project.Feature]{
		item: place.FeatureItem,
		list: func(d *project.Design) []project.Feature { return d.Room.Features },
		id:   func(f *project.Feature) string { return f.ID },
		name: func(d *project.Design, i int) string { return d.Room.Features[i].Words() },
		at:   func(f *project.Feature) geometry.Vec { return f.At.Vec() },
		alone: func(f project.Feature) *project.Design {
			return &project.Design{Room: project.Room{Features: []project.Feature{f}}}
		},
	})
	out = things(out, was, is, kind[project.Treatment]{
		item: place.TreatmentItem,
		list: func(d *project.Design) []project.Treatment { return d.Room.Treatments },
		id:   func(t *project.Treatment) string { return t.ID },
		name: func(d *project.Design, i int) string {
			if name := d.Room.Treatments[i].Name; name != "" {
				return name
			}
			return fmt.Sprintf("treatment %d", i+1)
		},
		// It lies along a wall: that it is elsewhere is told as what changes.
		at: func(*project.Treatment) geometry.Vec { return geometry.Vec{} },
		alone: func(t project.Treatment) *project.Design {
			return &project.Design{Room: project.Room{Treatments: []project.Treatment{t}}}
		},
	})
	return out
}

// picture says what becomes of the picture.
func picture(was, is *project.Design) Thing {
	t := Thing{Item: place.Item{Kind: place.ScreenItem}, Name: "picture", Fate: Stays}
	t.Changes = diff.Seen(diff.Compare(&project.Design{Screen: was.Screen}, &project.Design{Screen: is.Screen}))
	from, _, _ := was.Screen.Picture()
	to, _, _ := is.Screen.Picture()
	if by := to.Sub(from); by.Len() >= least {
		t.Fate, t.By = Moves, by
	} else if len(t.Changes) > 0 {
		t.Fate = Changes
	}
	return t
}
