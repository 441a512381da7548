// SPDX-License-Identifier: MIT

package inspector

import (
	"fmt"
	"slices"
	"strings"

	"earline/app/field"
	"earline/project"
)

func (in *Inspector) equalisationSummary() string {
	e := in.host.Design().Equalisation
	if !e.Given() {
		return "none"
	}
	return e.Target.Called() + ", " + plural(len(e.Filters), "filter")
}

// filter returns a place within the filter that is shown.
func filter[T any](in *Inspector, of func(*project.Filter) *T) value[T] {
	return func(d *project.Design) *T {
		return entry(func() []project.Filter { return d.Equalisation.Filters }, in.filter, of)
	}
}

func (in *Inspector) buildEqualisation(f *field.Form) {
	in.text(f, "Target name", say("rename the target"), func(d *project.Design) *string { return &d.Equalisation.Target.Name })
	f.AddEntry("Target points", field.Binding{
		Value: func() string { return pointsText(in.host.Design().Equalisation.Target) },
		Set: func(text string) error {
			points, err := parsePoints(text)
			if err != nil {
				return err
			}
			return field.Plain(in.host.Do("change the target", "", func(d *project.Design) { d.Equalisation.Target.Points = points }))
		},
	})
	f.AddNote("Points as 20 Hz 6 dB; 80 Hz 0 dB. Empty: flat.")

	some := func() bool { return in.filter < len(in.host.Design().Equalisation.Filters) }
	listButtons(f, field.NewButton("", in.addFilter), in.duplicateFilter, in.removeFilter, some)
	in.picks(f, &in.filter, func() []string {
		var names []string
		for _, e := range in.host.Design().Equalisation.Filters {
			names = append(names, fmt.Sprintf("%s Hz %s", plainNumber(e.Frequency), e.Kind))
		}
		return names
	})
	words := func() texts { return texts{what: "change " + in.filterName()} }
	choice(in, f, "Of", words, in.outputs, in.outputName, filter(in, func(e *project.Filter) *string { return &e.Of })).When(some)
	kinds := []project.FilterKind{project.Peak, project.LowShelf, project.HighShelf, project.HighPass}
	f.AddChoice("Kind",
		func() []string {
			var names []string
			for _, k := range kinds {
				names = append(names, string(k))
			}
			return names
		},
		func() int {
			return slices.Index(kinds, read(in, filter(in, func(e *project.Filter) *project.FilterKind { return &e.Kind })))
		},
		func(i int) error {
			at := filter(in, func(e *project.Filter) *project.Filter { return e })
			now := read(in, at)
			if now.Kind = kinds[i]; now.Kind == project.HighPass {
				now.Gain = 0
			}
			return edit(in, words().what, "", at, now)
		}).When(some)
	in.figure(f, "Frequency", words, 1, 1, " Hz", filter(in, func(e *project.Filter) *float64 { return &e.Frequency })).When(some)
	in.figure(f, "Gain", words, 1, 0.5, " dB", filter(in, func(e *project.Filter) *float64 { return &e.Gain })).When(func() bool {
		return some() && in.host.Design().Equalisation.Filters[in.filter].Kind != project.HighPass
	})
	in.figure(f, "Q", words, 1, 0.1, "", filter(in, func(e *project.Filter) *float64 { return &e.Q })).When(some)
	f.AddNote("What they do: Sound, Equalisation. A filter of one subwoofer alone changes how alike the seats hear; one of all does not.")
}

// outputs are what a filter may be of: all subwoofers, then each that has an id, and the
// loudspeaker that the filter shown is of.
func (in *Inspector) outputs() []string {
	all := []string{project.AllSubwoofers}
	d := in.host.Design()
	now := read(in, filter(in, func(e *project.Filter) *string { return &e.Of }))
	for _, l := range d.Speakers {
		if l.ID != "" && (strings.HasPrefix(l.Label, "LFE") || l.ID == now) {
			all = append(all, l.ID)
		}
	}
	return all
}

func (in *Inspector) outputName(id string) string {
	for _, l := range in.host.Design().Speakers {
		if l.ID == id && id != project.AllSubwoofers {
			return l.Name() + " alone"
		}
	}
	return "all subwoofers"
}

func (in *Inspector) filterName() string { return fmt.Sprintf("filter %d", in.filter+1) }

// pointsText writes the points of a target in one line.
func pointsText(t project.Target) string {
	var all []string
	for _, p := range t.Points {
		all = append(all, plainNumber(p.Frequency)+" Hz "+plainNumber(p.Level)+" dB")
	}
	return strings.Join(all, "; ")
}

// parsePoints reads what pointsText writes; units may be left out.
func parsePoints(text string) ([]project.TargetPoint, error) {
	var points []project.TargetPoint
	for _, part := range strings.Split(text, ";") {
		words := strings.Fields(strings.NewReplacer("Hz", " ", "hz", " ", "dB", " ", "db", " ").Replace(part))
		if len(words) == 0 {
			continue
		}
		fault := &project.Fault{Found: strings.TrimSpace(part), Allowed: "a frequency and a level, such as 20 Hz 6 dB"}
		if len(words) != 2 {
			return nil, fault
		}
		var p project.TargetPoint
		for i, to := range []*float64{&p.Frequency, &p.Level} {
			v, err := field.Number(words[i], "")
			if err != nil {
				return nil, fault
			}
			*to = v
		}
		points = append(points, p)
	}
	return points, nil
}

// addFilter adds a cut in the middle of the bass: only where to begin.
func (in *Inspector) addFilter() {
	in.insertFilter("add a filter", project.Filter{Of: project.AllSubwoofers, Kind: project.Peak, Frequency: 40, Gain: -3, Q: 4})
}

func (in *Inspector) duplicateFilter() {
	if all := in.host.Design().Equalisation.Filters; in.filter < len(all) {
		in.insertFilter("duplicate "+in.filterName(), all[in.filter])
	}
}

func (in *Inspector) insertFilter(label string, e project.Filter) {
	at := min(in.filter+1, len(in.host.Design().Equalisation.Filters))
	if err := in.host.Do(label, "", func(d *project.Design) { d.Equalisation.Filters = slices.Insert(d.Equalisation.Filters, at, e) }); err != nil {
		in.note(field.Plain(err))
		return
	}
	in.filter = at
	in.show()
}

func (in *Inspector) removeFilter() {
	i := in.filter
	if i >= len(in.host.Design().Equalisation.Filters) {
		return
	}
	in.note(field.Plain(in.host.Do("remove "+in.filterName(), "", func(d *project.Design) {
		d.Equalisation.Filters = slices.Delete(d.Equalisation.Filters, i, i+1)
		if len(d.Equalisation.Filters) == 0 {
			d.Equalisation.Filters = nil
		}
	})))
}
