// SPDX-License-Identifier: MIT

package inspector

import (
	"slices"
	"strings"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/picture"
)

func (in *Inspector) shapesSummary() string {
	switch n := len(in.host.Design().Picture.Aspects); n {
	case 0:
		return "the screen's own shape"
	default:
		return plural(n, "shape")
	}
}

// aspect returns a place within the shape of picture that is shown.
func aspect[T any](in *Inspector, of func(*project.Aspect) *T) value[T] {
	return func(d *project.Design) *T {
		return entry(func() []project.Aspect { return d.Picture.Aspects }, in.aspect, of)
	}
}

func (in *Inspector) buildShapes(f *field.Form) {
	some := func() bool { return in.aspect < len(in.host.Design().Picture.Aspects) }
	listButtons(f, field.NewButton("", in.addShape), in.duplicateShape, in.removeShape, some)
	in.picks(f, &in.aspect, func() []string {
		if !some() {
			return nil
		}
		var names []string
		for _, s := range picture.Optics(in.host.Design()).Shapes {
			names = append(names, s.Called)
		}
		return names
	})
	words := say("change a shape of picture")
	in.text(f, "Name", words, aspect(in, func(a *project.Aspect) *string { return &a.Name })).When(some)
	in.figure(f, "Width, of height 1", words, 1, 0.01, "", aspect(in, func(a *project.Aspect) *float64 { return &a.Aspect })).When(some)
	in.figure(f, "Share of viewing", words, 100, 5, " %", aspect(in, func(a *project.Aspect) *float64 { return &a.Share })).When(some)
	choice(in, f, "All keep", say("change what all pictures share"),
		func() []project.Held {
			return []project.Held{"", project.HeldHeight, project.HeldWidth, project.HeldArea}
		},
		func(h project.Held) string {
			if h == "" {
				return "within the screen"
			}
			return "the screen's " + string(h)
		}, func(d *project.Design) *project.Held { return &d.Picture.Held })
	in.buildMasking(f)
	f.AddEntry("Gain by angle", field.Binding{
		Value: func() string { return gainsText(in.host.Design().Picture.Gains) },
		Set: func(text string) error {
			gains, err := parseGains(text)
			if err != nil {
				return err
			}
			return field.Plain(in.host.Do("change the screen's gain by angle", "", func(d *project.Design) { d.Picture.Gains = gains }))
		},
	})
	f.AddNote("Shapes that the screen is to show, about its middle. Gain by angle from its normal, as 15° 1.1; 30° 0.8; at 0° it is the screen's. Empty: as matt white.")
}

// gainsText writes a gain curve in one line.
func gainsText(gains []project.AngleGain) string {
	var all []string
	for _, g := range gains {
		all = append(all, plainNumber(float64(g.Angle))+"° "+plainNumber(g.Gain))
	}
	return strings.Join(all, "; ")
}

// parseGains reads what gainsText writes; the sign of degrees may be left out.
func parseGains(text string) ([]project.AngleGain, error) {
	var gains []project.AngleGain
	for _, part := range strings.Split(text, ";") {
		words := strings.Fields(strings.ReplaceAll(part, "°", " "))
		if len(words) == 0 {
			continue
		}
		fault := &project.Fault{Found: strings.TrimSpace(part), Allowed: "an angle and a gain, such as 15° 1.1"}
		if len(words) != 2 {
			return nil, fault
		}
		angle, err := field.Number(words[0], "")
		if err != nil {
			return nil, fault
		}
		gain, err := field.Number(words[1], "")
		if err != nil {
			return nil, fault
		}
		gains = append(gains, project.AngleGain{Angle: unit.Degrees(angle), Gain: gain})
	}
	return gains, nil
}

// addShape adds the screen's own shape first, then the first of the usual ones that there
// is not: only where to begin.
func (in *Inspector) addShape() {
	d := in.host.Design()
	all := d.Picture.Aspects
	a := project.Aspect{Aspect: d.Screen.Aspect}
	for _, usual := range aspects {
		if slices.ContainsFunc(all, func(b project.Aspect) bool { return aspectIndex(b.Aspect) == aspectIndex(a.Aspect) }) {
			a.Aspect = usual.ratio
		}
	}
	in.insertShape("add a shape of picture", a)
}

func (in *Inspector) duplicateShape() {
	all := in.host.Design().Picture.Aspects
	if in.aspect >= len(all) {
		return
	}
	a := all[in.aspect]
	const more = 0.05 // two of one shape there are not
	a.Aspect, a.Share = a.Aspect+more, 0
	in.insertShape("duplicate a shape of picture", a)
}

func (in *Inspector) insertShape(label string, a project.Aspect) {
	at := min(in.aspect+1, len(in.host.Design().Picture.Aspects))
	if err := in.host.Do(label, "", func(d *project.Design) { d.Picture.Aspects = slices.Insert(d.Picture.Aspects, at, a) }); err != nil {
		in.note(field.Plain(err))
		return
	}
	in.aspect = at
	in.show()
}

func (in *Inspector) removeShape() {
	i := in.aspect
	if i >= len(in.host.Design().Picture.Aspects) {
		return
	}
	in.note(field.Plain(in.host.Do("remove a shape of picture", "", func(d *project.Design) {
		d.Picture.Aspects = slices.Delete(d.Picture.Aspects, i, i+1)
		if len(d.Picture.Aspects) == 0 {
			d.Picture.Aspects = nil
		}
	})))
	in.show()
}
