// SPDX-License-Identifier: MIT

package inspector

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"earline/app/field"
	"earline/app/theme"
	"earline/project"
)

// finishAt is a place of finishes in the inspector: one of Finishes, or a wall by itself,
// counted from 1.
type finishAt struct {
	place project.FinishPlace
	wall  int
}

// finishPlaces returns the places of d, each wall after all of them.
func finishPlaces(d *project.Design) (all []finishAt, names []string) {
	for _, p := range project.FinishPlaces() {
		all, names = append(all, finishAt{place: p}), append(names, title(p.Words()))
		if p != project.ScreenWallFinish {
			continue
		}
		for i := range d.Room.Footprint {
			if d.Room.WallSide(i+1) != "screen" {
				all, names = append(all, finishAt{wall: i + 1}), append(names, title(d.Room.WallName(i+1)))
			}
		}
	}
	return all, names
}

// name is what the place is called in d.
func (a finishAt) name(d *project.Design) string {
	if a.wall > 0 {
		return d.Room.WallName(a.wall)
	}
	return a.place.Words()
}

// kind is the place by which ready finishes are suggested.
func (a finishAt) kind() project.FinishPlace {
	if a.wall > 0 {
		return project.WallsFinish
	}
	return a.place
}

func (a finishAt) in(d *project.Design) project.Finish {
	if a.wall == 0 {
		return *d.Room.Finishes.At(a.place)
	}
	for _, w := range d.Room.Finishes.Wall {
		if w.Wall == a.wall {
			return w.Finish()
		}
	}
	return project.Finish{}
}

func (a finishAt) set(d *project.Design, f project.Finish) {
	if a.wall == 0 {
		*d.Room.Finishes.At(a.place) = f
		return
	}
	all := &d.Room.Finishes.Wall
	*all = slices.DeleteFunc(*all, func(w project.WallFinish) bool { return w.Wall == a.wall })
	if f != (project.Finish{}) {
		at, _ := slices.BinarySearchFunc(*all, a.wall, func(w project.WallFinish, n int) int { return w.Wall - n })
		*all = slices.Insert(*all, at, project.WallFinish{Wall: a.wall, Material: f.Material, Colour: f.Colour, Reflectance: f.Reflectance})
	}
}

// otherwise says what a place is like of which nothing is said.
func (a finishAt) otherwise() string {
	switch a.kind() {
	case project.ScreenWallFinish:
		return "as the walls"
	case project.PlatformsFinish:
		return "as the floor"
	case project.ScreenFinish:
		return "by its gain"
	case project.TreatmentsFinish, project.JoineryFinish:
		return "as bright as what they are on"
	}
	if a.wall > 0 {
		return "as the walls"
	}
	return "not chosen"
}

// looked returns the place that is shown.
func (in *Inspector) looked() finishAt {
	all, _ := finishPlaces(in.host.Design())
	return all[min(in.look, len(all)-1)]
}

// refinish edits the finish that is shown.
func (in *Inspector) refinish(merge string, change func(*project.Finish)) error {
	a := in.looked()
	return field.Plain(in.host.Do("change the finish of the "+a.name(in.host.Design()), merge, func(d *project.Design) {
		f := a.in(d)
		change(&f)
		a.set(d, f)
	}))
}

// finishes adds how the surfaces look, place by place.
func (in *Inspector) finishes(f *field.Form, open func() bool) {
	in.picks(f, &in.look, func() []string {
		_, names := finishPlaces(in.host.Design())
		return names
	}).When(open)
	shown := func() project.Finish { return in.looked().in(in.host.Design()) }
	coloured := func() bool { return open() && in.looked().place != project.ScreenFinish }

	// Those that suit the place stand first.
	ready := func() []project.ReadyFinish {
		p := in.looked().kind()
		all := project.ReadyFinishes()
		slices.SortStableFunc(all, func(x, y project.ReadyFinish) int {
			rank := map[bool]int{true: 0, false: 1}
			return rank[p.Suits(x.Material)] - rank[p.Suits(y.Material)]
		})
		return all
	}
	const own = "one of its own"
	f.AddChoice("Ready finish", func() []string {
		names := []string{in.looked().otherwise()}
		for _, r := range ready() {
			names = append(names, r.Name)
		}
		if in.ownFinish() {
			names = append(names, own)
		}
		return names
	}, func() int {
		if shown() == (project.Finish{}) {
			return 0
		}
		all := ready()
		if i := slices.IndexFunc(all, func(r project.ReadyFinish) bool { return r.Finish == shown() }); i >= 0 {
			return 1 + i
		}
		return 1 + len(all)
	}, func(i int) error {
		all := ready()
		if i > len(all) {
			return nil // it is that already
		}
		return in.refinish("", func(f *project.Finish) {
			*f = project.Finish{}
			if i > 0 {
				*f = all[i-1].Finish
			}
		})
	}).When(coloured)
	f.AddChoice("Made of", func() []string {
		names := []string{"not said"}
		for _, m := range project.FinishMaterials() {
			names = append(names, string(m))
		}
		return names
	}, func() int { return 1 + slices.Index(project.FinishMaterials(), shown().Material) }, func(i int) error {
		return in.refinish("", func(f *project.Finish) {
			f.Material = ""
			if i > 0 {
				f.Material = project.FinishMaterials()[i-1]
			}
		})
	}).When(coloured)

	chip := canvas.NewRectangle(color.Transparent)
	chip.CornerRadius, chip.StrokeWidth = 3, 1
	chip.SetMinSize(fyne.NewSize(28, 21))
	f.AddEntryBeside("Colour", field.Binding{
		Value: func() string {
			in.paint(chip, shown())
			if c := shown().Colour; c != "" {
				return string(c)
			}
			return "usual"
		},
		Set: func(text string) error {
			if strings.EqualFold(text, "usual") {
				text = ""
			}
			return in.refinish("", func(f *project.Finish) { f.Colour = project.Colour(strings.ToLower(strings.TrimSpace(text))) })
		},
	}, container.NewCenter(chip)).When(coloured).Why("The picture shows it, and the reflectance follows from it where none is given.")
	computed := func() string {
		switch r := shown().Reflects(); {
		case r > 0:
			return fmt.Sprintf("%.2f, by its colour", r)
		case in.looked().place == project.ScreenFinish:
			return "by its gain"
		}
		return "not known"
	}
	f.AddEntry("Reflectance", field.Binding{
		Value: func() string {
			if r := shown().Reflectance; r > 0 {
				return plainNumber(r)
			}
			return computed()
		},
		Set: func(text string) error {
			if word, _, _ := strings.Cut(computed(), ","); text == "" || text == computed() || text == word && shown().Reflectance == 0 {
				return in.refinish("", func(f *project.Finish) { f.Reflectance = 0 })
			}
			v, err := field.Number(text, "")
			if err != nil {
				return err
			}
			if v == 0 { // in the document that is "not given"
				return &project.Fault{Found: text, Allowed: "another number, or nothing"}
			}
			return in.refinish("", func(f *project.Finish) { f.Reflectance = v })
		},
		Step: func(n int) error {
			const step = 0.05
			v := shown().Reflects()
			if v == 0 {
				v = in.looked().kind().UsualReflectance()
			}
			v = math.Round(v/step)*step + float64(n)*step
			return in.refinish(key("Reflectance", in.looked().name(in.host.Design())), func(f *project.Finish) { f.Reflectance = math.Round(v*1e6) / 1e6 })
		},
	}).When(open).Why("What pale surfaces throw back falls on the screen and takes the black from the picture: the study of light reckons with this share.")
	in.prose(f, func() string {
		if !open() {
			return ""
		}
		return in.looked().note(in.host.Design())
	})
}

// ownFinish reports whether the finish shown is none of the ready ones.
func (in *Inspector) ownFinish() bool {
	f := in.looked().in(in.host.Design())
	return f != (project.Finish{}) && !slices.ContainsFunc(project.ReadyFinishes(), func(r project.ReadyFinish) bool { return r.Finish == f })
}

// note says what the light takes of a place that is not given, and what of it is not counted.
func (a finishAt) note(d *project.Design) string {
	switch a.place {
	case project.ChairsFinish:
		return "Seen in the picture. The study of light counts no light that they throw back."
	case project.LoudspeakerFinish:
		return "Seen in the picture, on racks too. The study of light counts no light that loudspeakers throw back."
	}
	switch a.kind() {
	case project.FloorFinish, project.CeilingFinish, project.WallsFinish:
		if a.wall == 0 && a.in(d).Reflects() == 0 {
			return fmt.Sprintf("Not given: the study of light takes a reflectance of %.2f (common practice, no source).", a.kind().UsualReflectance())
		}
	}
	return ""
}

// paint shows a finish on its chip: an empty one where nothing is known of it.
func (in *Inspector) paint(chip *canvas.Rectangle, f project.Finish) {
	fill := color.Color(color.Transparent)
	if f.Colour != "" || f.Material != "" {
		fill = theme.Sample(f.Linear(""))
	}
	if chip.FillColor != fill || chip.StrokeColor != theme.Edge {
		chip.FillColor, chip.StrokeColor = fill, theme.Edge
		chip.Refresh()
	}
}
