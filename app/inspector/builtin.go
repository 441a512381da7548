// SPDX-License-Identifier: MIT

package inspector

import (
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/words"
	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/fit"
	"earline/project/pair"
	"earline/project/place"
)

// featureKinds are what can be built in, in the order of the list to add from.
var featureKinds = []project.FeatureKind{
	project.Soffit, project.Beam, project.Column, project.Chimney, project.Stage, project.Counter, project.Rack, project.Door, project.Window, project.Light, project.Vent,
}

func (in *Inspector) builtSummary() string {
	if n := len(in.host.Design().Room.Features); n > 0 {
		return plural(n, "feature")
	}
	return "nothing"
}

// feature returns a place within the feature that is shown.
func feature[T any](in *Inspector, of func(*project.Feature) *T) value[T] {
	return func(d *project.Design) *T {
		return entry(func() []project.Feature { return d.Room.Features }, in.feature, of)
	}
}

func (in *Inspector) buildBuilt(f *field.Form) {
	some := func() bool { return in.feature < len(in.host.Design().Room.Features) }
	var add *field.Button
	add = field.NewButton("", func() {
		if !field.Painted(add) {
			return
		}
		var items []*fyne.MenuItem
		for _, k := range featureKinds {
			items = append(items, fyne.NewMenuItem(words.Of(string(k)), func() { in.addFeature(k) }))
		}
		widget.ShowPopUpMenuAtRelativePosition(fyne.NewMenu("", items...), fyne.CurrentApp().Driver().CanvasForObject(add),
			fyne.NewPos(0, add.Size().Height), add)
	})
	listButtons(f, add, in.duplicateFeature, in.removeFeature, some)
	in.picks(f, &in.feature, func() []string {
		var names []string
		for _, ft := range in.host.Design().Room.Features {
			names = append(names, ft.Words())
		}
		return names
	})

	words := func(verb string) func() texts {
		return func() texts { return texts{what: verb + " " + in.named(in.featureItem(), in.featureName())} }
	}
	kind := feature(in, func(f *project.Feature) *project.FeatureKind { return &f.Kind })
	is := func(k project.FeatureKind) func() bool { return func() bool { return some() && read(in, kind) == k } }
	f.AddChoice("Kind",
		func() []string {
			var o []string
			for _, k := range featureKinds {
				o = append(o, string(k))
			}
			return o
		},
		func() int { return slices.Index(featureKinds, read(in, kind)) },
		func(i int) error {
			return field.Plain(in.host.Do("change the kind of "+in.named(in.featureItem(), in.featureName()), "", func(d *project.Design) {
				ft := &d.Room.Features[in.feature]
				ft.Kind, ft.Swing = featureKinds[i], ""
				if ft.Kind != project.Column {
					setRound(ft, false)
				}
				if ft.Kind == project.Door {
					ft.Swing = project.InLeft
				}
			}))
		}).When(some)
	in.text(f, "Name", words("rename"), feature(in, func(f *project.Feature) *string { return &f.Name })).When(some)
	why(choice(in, f, "Swing", words("turn the swing of"),
		func() []project.Swing {
			return []project.Swing{project.InLeft, project.InRight, project.OutLeft, project.OutRight, project.Sliding}
		},
		func(s project.Swing) string { return string(s) },
		feature(in, func(f *project.Feature) *project.Swing { return &f.Swing })).When(is(project.Door)), "door-swing", "door-space")
	in.asPair(f, in.featureItem)
	move := words("move")
	in.warn(in.length(f, "From screen wall", move, feature(in, func(f *project.Feature) *unit.Length { return &f.At.X })).When(some), in.inFeature("at.x_m"))
	in.warn(in.length(f, "From left wall", move, feature(in, func(f *project.Feature) *unit.Length { return &f.At.Y })).When(some), in.inFeature("at.y_m"))
	in.warn(in.length(f, "Lower edge", func() texts {
		n := in.named(in.featureItem(), in.featureName())
		return texts{"move " + n, "raise " + n, "lower " + n}
	}, feature(in, func(f *project.Feature) *unit.Length { return &f.At.Z })).When(some), in.inFeature("at.z_m"))
	size := words("change the size of")
	round := feature(in, func(f *project.Feature) *bool { return &f.Round })
	square := func() bool { return some() && !read(in, round) }
	f.AddCheck("Round", func() bool { return read(in, round) }, func(on bool) error {
		return in.setFeature(words("change the shape of")().what, "", func(f *project.Feature) { setRound(f, on) })
	}).When(is(project.Column))
	long := feature(in, func(f *project.Feature) *unit.Length { return &f.Length })
	in.lengthTo(f, "Diameter", size, func() unit.Length { return read(in, long) },
		func(label, merge string, v unit.Length) error {
			return in.setFeature(label, merge, func(f *project.Feature) { f.Length, f.Width = v, 0 })
		}, 10*unit.Millimetre, unit.Inch/2, func(l unit.Length) string { return l.Format(in.metric()) }, unit.Metre).
		When(func() bool { return some() && read(in, round) })
	in.length(f, "Size, back", size, long).When(square)
	in.length(f, "Size, across", size, feature(in, func(f *project.Feature) *unit.Length { return &f.Width })).When(square)
	in.length(f, "Size, up", size, feature(in, func(f *project.Feature) *unit.Length { return &f.Height })).When(some)
	in.angle(f, "Turned by", words("turn"), feature(in, func(f *project.Feature) *unit.Degrees { return &f.Turn })).When(square)
	in.material(f, "Material", "as the walls", words("change the material of"),
		feature(in, func(f *project.Feature) *string { return &f.Material })).When(some)
	in.prose(f, func() string {
		if !some() {
			return "Soffits, beams, columns, chimneys, stages, counters, racks, doors, windows, lights and vents: all but windows can stand in the way of sight."
		}
		return ""
	})
}

// setRound makes a column round, as wide as it was long, or square.
func setRound(f *project.Feature, on bool) {
	switch {
	case on:
		f.Round, f.Width, f.Turn = true, 0, 0
	case f.Round:
		f.Round, f.Width = false, f.Length
	}
}

// setFeature edits the feature that is shown.
func (in *Inspector) setFeature(label, merge string, edit func(*project.Feature)) error {
	return field.Plain(in.host.Do(label, merge, func(d *project.Design) {
		if f := feature(in, func(f *project.Feature) *project.Feature { return f })(d); f != nil {
			edit(f)
		}
	}))
}

func (in *Inspector) featureName() string {
	if fs := in.host.Design().Room.Features; in.feature < len(fs) {
		return fs[in.feature].Words()
	}
	return "feature"
}

// addFeature adds a feature of kind k where such a thing usually is, with a
// usual size; both are only where to begin.
func (in *Inspector) addFeature(k project.FeatureKind) {
	in.insertFeature("add a "+string(k), unburdened(in.host.Design(), newFeature(in.host.Design(), k)))
}

// unburdened moves a door, a window, a chimney or a rack along its wall, and then to the side
// walls, to the first place about which there is nothing to remark: no panel over it, no
// loudspeaker in it. Where there is none it stays.
func unburdened(d *project.Design, f project.Feature) project.Feature {
	if f.Kind != project.Door && f.Kind != project.Window && f.Kind != project.Chimney && f.Kind != project.Rack {
		return f
	}
	const step = 0.2 // m
	try := d.Clone()
	try.Room.Features = append(try.Room.Features, f)
	it := &try.Room.Features[len(try.Room.Features)-1]
	known := len(fit.Findings(d))
	fits := func() bool { return len(fit.Findings(try)) <= known }
	if fits() {
		return f
	}
	lo, hi := d.Room.Polygon().Bounds()
	along := func(axis *unit.Length, from, to float64) bool {
		for v := from; v <= to; v += step {
			if *axis = unit.Length(millimetres(v)); fits() {
				return true
			}
		}
		return false
	}
	thick, wide := min(f.Length, f.Width), max(f.Length, f.Width)
	margin := float64(wide)/2 + 0.1
	x, y := &it.At.X, &it.At.Y
	if f.Length < f.Width { // it stands in the back wall
		if along(y, lo.Y+margin, hi.Y-margin) {
			return *it
		}
		it.Length, it.Width = wide, thick
	}
	for _, side := range [2]float64{lo.Y + float64(thick)/2, hi.Y - float64(thick)/2} {
		*y = unit.Length(millimetres(side))
		if along(x, lo.X+margin, hi.X-margin) {
			return *it
		}
	}
	return f
}

func (in *Inspector) duplicateFeature() {
	d := in.host.Design()
	if in.feature >= len(d.Room.Features) {
		return
	}
	in.insertFeature("duplicate "+in.featureName(), pair.Partner(d, in.feature))
}

// insertFeature adds a feature behind the one that is shown, and shows it.
func (in *Inspector) insertFeature(label string, f project.Feature) {
	at := min(in.feature+1, len(in.host.Design().Room.Features))
	err := in.host.Do(label, "", func(d *project.Design) { d.Room.Features = slices.Insert(d.Room.Features, at, f) })
	if err != nil {
		in.note(field.Plain(err))
		return
	}
	in.feature = at
	in.show()
}

func (in *Inspector) removeFeature() {
	i := in.feature
	if i >= len(in.host.Design().Room.Features) {
		return
	}
	in.note(field.Plain(in.host.Do("remove "+in.featureName(), "", func(d *project.Design) {
		d.Room.Features = slices.Delete(d.Room.Features, i, i+1)
	})))
}

// newFeature returns a feature of kind k for d. Sizes and places are usual ones,
// without a source.
func newFeature(d *project.Design, k project.FeatureKind) project.Feature {
	lo, hi := d.Room.Polygon().Bounds()
	mid := geometry.Vec2{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2}
	if !d.Room.Polygon().Contains(mid) {
		at := place.MainPoint(d)
		mid = geometry.Vec2{X: at.X, Y: at.Y}
	}
	f := project.Feature{Kind: k}
	put := func(x, y, z, long, wide, high float64) {
		mm := func(v float64) unit.Length { return unit.Length(millimetres(v)) }
		f.At = project.Point{X: mm(x), Y: mm(y), Z: mm(z)}
		f.Length, f.Width, f.Height = mm(long), mm(wide), mm(high)
	}
	// under is the lowest ceiling over a rectangle about (x, y).
	under := func(x, y, long, wide float64) float64 {
		h := math.Inf(1)
		for _, s := range [4][2]float64{{-1, -1}, {-1, 1}, {1, -1}, {1, 1}} {
			h = min(h, d.Room.CeilingAt(x+s[0]*long/2, y+s[1]*wide/2))
		}
		return h
	}
	switch k {
	case project.Soffit:
		long, y := hi.X-lo.X, lo.Y+0.2
		put(mid.X, y, under(mid.X, y, long, 0.4)-0.3, long, 0.4, 0.3)
	case project.Column:
		y := lo.Y + 0.15
		put(mid.X, y, 0, 0.3, 0.3, under(mid.X, y, 0.3, 0.3))
	case project.Beam:
		a, b := widestSpan(d.Room.Polygon(), mid.X)
		put(mid.X, (a+b)/2, under(mid.X, (a+b)/2, 0.15, b-a)-0.2, 0.15, b-a, 0.2)
	case project.Chimney:
		put(mid.X, lo.Y+0.2, 0, 1.2, 0.4, under(mid.X, lo.Y+0.2, 1.2, 0.4))
	case project.Counter: // behind the seats, where the back wall leaves room
		a, b := widestSpan(d.Room.Polygon(), hi.X-0.7)
		put(hi.X-0.7, (a+b)/2, 0, 0.4, 0.6*(b-a), 1.1)
	case project.Rack:
		put(hi.X-0.3, mid.Y, 0, 0.6, 0.6, 1.2)
	case project.Stage:
		a, b := widestSpan(d.Room.Polygon(), lo.X+0.5)
		put(lo.X+0.5, (a+b)/2, 0, 1, 0.8*(b-a), 0.2)
	case project.Door:
		put(hi.X-0.02, mid.Y, 0, 0.04, 0.9, 2.05)
		f.Swing = project.InLeft
	case project.Window:
		put(mid.X, lo.Y, 1, 1.2, 0.1, 1)
	case project.Light: // let into the ceiling, its trim below it
		put(mid.X, mid.Y, d.Room.CeilingAt(mid.X, mid.Y)-0.01, 0.12, 0.12, 0.1)
	case project.Vent:
		put(mid.X, mid.Y, d.Room.CeilingAt(mid.X, mid.Y)-0.015, 0.15, 0.6, 0.15)
	}
	return f
}

// widestSpan returns the widest stretch of y for which (x, y) is in the footprint;
// zero when there is none.
func widestSpan(footprint geometry.Polygon, x float64) (from, to float64) {
	for _, s := range footprint.Spans(x) {
		if s[1]-s[0] > to-from {
			from, to = s[0], s[1]
		}
	}
	return from, to
}

func millimetres(v float64) float64 { return math.Round(v*1000) / 1000 }
