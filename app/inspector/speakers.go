// SPDX-License-Identifier: MIT

package inspector

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"earline/app/field"
	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/add"
	"earline/project/bs2051"
	"earline/project/place"
	"earline/project/sight"
)

func (in *Inspector) speakersSummary() string {
	return fmt.Sprintf("%d placed", len(in.host.Design().Speakers))
}

// current returns the loudspeaker that is shown, in d; nil when there is none.
func (in *Inspector) current(d *project.Design) *project.Loudspeaker {
	if in.speaker < 0 || in.speaker >= len(d.Speakers) {
		return nil
	}
	return &d.Speakers[in.speaker]
}

// part returns a place within the loudspeaker that is shown.
func part[T any](in *Inspector, of func(*project.Loudspeaker) *T) value[T] {
	return func(d *project.Design) *T {
		if l := in.current(d); l != nil {
			return of(l)
		}
		return nil
	}
}

func (in *Inspector) buildSpeakers(f *field.Form) {
	picks := newChips(shortChip, func(i int) {
		in.speaker = i
		in.Update()
		if in.OnSpeaker != nil {
			in.OnSpeaker(i)
		}
	})
	more := field.NewButtonWithIcon("Add", base.ContentAddIcon(), in.addSpeaker)
	twin := field.NewButtonWithIcon("Duplicate", base.ContentCopyIcon(), in.duplicateSpeaker)
	remove := field.NewButtonWithIcon("Remove", base.ContentRemoveIcon(), in.removeSpeaker)
	// Above the chips, which wrap: a second click finds the button where it was.
	f.AddObject(container.NewGridWithColumns(3, more, twin, remove), nil)
	picks.explain = meaning
	f.AddObject(picks.box, func() {
		var names []string
		for _, l := range in.host.Design().Speakers {
			names = append(names, l.Name())
		}
		picks.show(names, in.speaker, in.speakerVerdict)
	})

	some := func() bool { return in.current(in.host.Design()) != nil }
	words := func(what, up, down string) func() texts {
		return func() texts {
			n := in.named(in.speakerItem(), in.speakerName())
			t := texts{what: what + " " + n}
			if up != "" {
				t.up, t.down = up+" "+n, down+" "+n
			}
			return t
		}
	}
	move := words("move", "", "")
	in.asPair(f, in.speakerItem)
	label := part(in, func(l *project.Loudspeaker) *string { return &l.Label })
	why(f.AddEntry("Label", field.Binding{
		Value: func() string { return read(in, label) },
		Set: func(text string) error { // m−030, as it may be typed or pasted, is M-030
			text = strings.ToUpper(strings.ReplaceAll(text, "−", "-"))
			return edit(in, "relabel "+in.named(in.speakerItem(), in.speakerName()), "", label, text)
		},
	}).When(some), "label")
	in.text(f, "Copy letter", words("relabel", "", ""), part(in, func(l *project.Loudspeaker) *string { return &l.Copy })).When(some)
	choice(in, f, "Model", words("change the model of", "", ""), in.modelIDs, in.modelName,
		part(in, func(l *project.Loudspeaker) *string { return &l.Model })).When(some)
	why(choice(in, f, "Mount", words("remount", "", ""),
		func() []project.Mount {
			return []project.Mount{project.OnWall, project.OnCeiling, project.OnFloor, project.BehindScreen}
		},
		func(m project.Mount) string { return string(m) },
		part(in, func(l *project.Loudspeaker) *project.Mount { return &l.Mount })).When(some), "loudspeaker-wall")
	in.warn(why(in.length(f, "From screen wall", move, part(in, func(l *project.Loudspeaker) *unit.Length { return &l.At.X })).When(some), "azimuth"), in.inSpeaker("at.x_m"))
	in.warn(why(in.length(f, "From left wall", move, part(in, func(l *project.Loudspeaker) *unit.Length { return &l.At.Y })).When(some), "azimuth", "symmetry-distance"), in.inSpeaker("at.y_m"))
	in.warn(why(in.length(f, "Height", words("move", "raise", "lower"), part(in, func(l *project.Loudspeaker) *unit.Length { return &l.At.Z })).When(some), "sight", "elevation"), in.inSpeaker("at.z_m"))
	in.aim(f, some)
	f.AddReadout("Direction", func() string { return in.bearing(false) }).When(some)
	f.AddReadout("Distance", func() string { return in.bearing(true) }).When(some)
	f.AddReadout("Sight", in.speakerCounts).When(some)
	f.AddReadout("Tolerance", func() string { return in.tolerance(0) }).When(some)
	f.AddReadout("", func() string { return in.tolerance(2) }).When(some)
	in.buildTuning(f, some)
	in.buildModel(f, some)
}

// meaning explains the name of a loudspeaker.
func meaning(name string) string {
	if means := bs2051.Means(name); means != "" {
		return name + ": " + means
	}
	return ""
}

// tolerance says how far the loudspeaker may be misplaced before a seat gets a
// worse answer, in the two ways from the first-th: "up 35, down 12 mm".
func (in *Inspector) tolerance(first int) string {
	d, r := in.host.Design(), in.host.Result()
	if r == nil || in.speaker < 0 || in.speaker >= len(r.Speakers) || in.current(d) == nil {
		return ""
	}
	t, ok := in.host.Limits(in.speaker)
	if !ok {
		if first == 0 {
			return "…"
		}
		return ""
	}
	if len(t.Limits) < first+2 {
		if first == 0 {
			return "not judged"
		}
		return ""
	}
	one := func(l sight.Limit) string {
		size := fmt.Sprintf("%.0f", math.Floor(l.Max*1000))
		if d.Units == project.Imperial {
			size = fmt.Sprintf("%.1f", math.Floor(l.Max/float64(unit.Inch)*10)/10)
		}
		if l.Over {
			size = ">" + size
		}
		return l.Way + " " + size
	}
	suffix := " mm"
	if d.Units == project.Imperial {
		suffix = " in"
	}
	return one(t.Limits[first]) + ", " + one(t.Limits[first+1]) + suffix
}

// aim adds how the loudspeaker's axis points. A flush one is aimed by its wall.
func (in *Inspector) aim(f *field.Form, some func() bool) {
	flush := func() bool {
		d := in.host.Design()
		l := in.current(d)
		if l == nil {
			return false
		}
		m, _ := d.Model(l.Model)
		return m.Flush
	}
	free := func() bool { return some() && !flush() }
	fixed := func() bool { return free() && in.current(in.host.Design()).Aim.Fixed }
	label := func() string { return "aim " + in.named(in.speakerItem(), in.speakerName()) }
	why(f.AddChoice("Aim",
		func() []string { return []string{"at the main position", "fixed angles"} },
		func() int {
			if fixed() {
				return 1
			}
			return 0
		},
		func(i int) error {
			return field.Plain(in.host.Do(label(), "", func(d *project.Design) {
				l := in.current(d)
				if l == nil {
					return
				}
				if i == 1 { // begin with where it points now
					if az, el, ok := geometry.AzEl(place.MainPoint(d).Sub(l.At.Vec())); ok {
						l.Aim.Azimuth, l.Aim.Elevation = tenth(az), tenth(el)
					}
				} else {
					l.Aim = project.Aim{}
				}
				l.Aim.Fixed = i == 1
			}))
		}).When(free), "coverage-across", "coverage-upright")
	words := func() texts { return texts{what: label()} }
	why(in.angle(f, "Azimuth", words, part(in, func(l *project.Loudspeaker) *unit.Degrees { return &l.Aim.Azimuth })).When(fixed), "coverage-across")
	why(in.angle(f, "Elevation", words, part(in, func(l *project.Loudspeaker) *unit.Degrees { return &l.Aim.Elevation })).When(fixed), "coverage-upright")
	f.AddReadout("Aim", func() string { return "set by its wall or ceiling" }).When(func() bool { return some() && flush() })
}

// tenth returns radians as degrees to a tenth.
func tenth(radians float64) unit.Degrees {
	d := float64(unit.FromRadians(radians)) * 10
	if d < 0 {
		return unit.Degrees(float64(int(d-0.5)) / 10)
	}
	return unit.Degrees(float64(int(d+0.5)) / 10)
}

func (in *Inspector) speakerName() string {
	if l := in.current(in.host.Design()); l != nil {
		return l.Name()
	}
	return "loudspeaker"
}

func (in *Inspector) modelIDs() []string {
	var ids []string
	for _, m := range in.host.Design().Models {
		ids = append(ids, m.ID)
	}
	return ids
}

// modelName is as chairName, for loudspeaker models.
func (in *Inspector) modelName(id string) string {
	name, twice := id, false
	for _, m := range in.host.Design().Models {
		if m.ID == id && m.Name != "" {
			name = m.Name
		}
	}
	for _, m := range in.host.Design().Models {
		twice = twice || m.ID != id && m.Name == name
	}
	if twice {
		return name + " (" + id + ")"
	}
	return name
}

// bearing says where the loudspeaker is, seen from the main position.
func (in *Inspector) bearing(distance bool) string {
	d := in.host.Design()
	l := in.current(d)
	if l == nil {
		return "-"
	}
	to := l.At.Vec().Sub(place.MainPoint(d))
	az, el, ok := geometry.AzEl(to)
	switch {
	case distance:
		return unit.Length(to.Len()).Format(in.metric())
	case !ok:
		return "the main position"
	}
	return fmt.Sprintf("azimuth %s, elevation %s", tenth(az), tenth(el))
}

// speakerVerdict returns the worst verdict any seat has for loudspeaker k.
func (in *Inspector) speakerVerdict(k int) (worst sight.Verdict) {
	r := in.host.Result()
	if r == nil || k >= len(r.Speakers) {
		return 0
	}
	for i := range r.Seats {
		worst = max(worst, r.Pair(i, k).Verdict)
	}
	return worst
}

func (in *Inspector) speakerCounts() string {
	r := in.host.Result()
	if r == nil || in.speaker >= len(r.Speakers) {
		return "-"
	}
	var n [4]int
	for i := range r.Seats {
		n[r.Pair(i, in.speaker).Verdict]++
	}
	if n[sight.NotJudged] == len(r.Seats) {
		return "not judged: it is bass"
	}
	return fmt.Sprintf("%d clear, %d tight, %d blocked", n[sight.Clear], n[sight.Tight], n[sight.Blocked])
}

func (in *Inspector) addSpeaker() {
	l, err := add.Loudspeaker(in.host.Design())
	if err != nil {
		in.note(err)
		return
	}
	in.append("add "+l.Name(), l)
}

func (in *Inspector) duplicateSpeaker() {
	d := in.host.Design()
	if in.current(d) == nil {
		return
	}
	l, err := add.Beside(d, in.speaker)
	if err != nil {
		in.note(err)
		return
	}
	in.append("duplicate "+in.speakerName(), l)
}

// append adds a loudspeaker behind the others, so that the list and the columns of the
// table keep their order, and shows it.
func (in *Inspector) append(label string, l project.Loudspeaker) {
	if err := in.host.Do(label, "", func(d *project.Design) { d.Speakers = append(d.Speakers, l) }); err != nil {
		in.note(field.Plain(err))
		return
	}
	in.speaker = len(in.host.Design().Speakers) - 1
	in.Update()
	if in.OnSpeaker != nil {
		in.OnSpeaker(in.speaker)
	}
}

func (in *Inspector) removeSpeaker() {
	i := in.speaker
	if in.current(in.host.Design()) == nil {
		return
	}
	in.note(in.host.Do("remove "+in.speakerName(), "", func(d *project.Design) { d.Speakers = slices.Delete(d.Speakers, i, i+1) }))
}
