// SPDX-License-Identifier: MIT

package lists

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/bs2051"
)

// services are the fields that a list is made from.
type services struct {
	object fyne.CanvasObject
	form   *field.Form
	fresh  func() // what else follows the design; may be nil
}

func newServices() *services {
	s := &services{}
	box := container.NewStack()
	scroll := container.NewVScroll(container.New(layout.NewCustomPaddedLayout(2, 4, 4, 14), box))
	s.form = field.NewForm(scroll)
	s.form.Resized = scroll.Refresh
	box.Objects = []fyne.CanvasObject{s.form.Object()}
	s.object = scroll
	return s
}

func (s *services) update() {
	if s.fresh != nil {
		s.fresh()
	}
	s.form.Update()
}

// newForms returns the fields by the list that they belong to.
func (p *listsPage) newForms() map[string]*services {
	cables, air := newServices(), newServices()
	of := func(d *project.Design) *project.Services { return &d.Services }
	rack := func(name string, at func(*project.Point) *unit.Length) {
		p.length(cables.form, name, "move the rack", "not known", func(d *project.Design) *unit.Length { return at(&of(d).Rack) },
			func(d *project.Design) bool { return of(d).Rack != (project.Point{}) })
	}
	cables.form.AddNote("Where the rack stands")
	rack("From screen wall", func(at *project.Point) *unit.Length { return &at.X })
	rack("From left wall", func(at *project.Point) *unit.Length { return &at.Y })
	rack("Height", func(at *project.Point) *unit.Length { return &at.Z })
	cables.form.AddNote("Every cable")
	given := func(at func(*project.Services) *unit.Length) func(*project.Design) bool {
		return func(d *project.Design) bool { return *at(of(d)) != 0 }
	}
	runs := func(s *project.Services) *unit.Length { return &s.RunHeight }
	spare := func(s *project.Services) *unit.Length { return &s.Spare }
	p.length(cables.form, "Height of runs", "change the height of the cable runs", "usual", func(d *project.Design) *unit.Length { return runs(of(d)) }, given(runs))
	p.length(cables.form, "Spare", "change what is spare on every cable", "usual", func(d *project.Design) *unit.Length { return spare(of(d)) }, given(spare))
	p.cableFields(cables.form)
	p.watts(air.form, "Heat, equipment", "change the heat of the equipment", func(d *project.Design) *float64 { return &of(d).Heat })
	air.form.AddNote("What the equipment in the room gives off: amplifiers, players, the projector.")
	return map[string]*services{cableList: cables, airList: air, outletList: p.outletForm()}
}

// do makes one step of undo.
func (p *listsPage) do(label string, edit func(*project.Design)) error {
	return p.session.Do(label, "", edit)
}

// metric reports whether lengths are shown in metres.
func (p *listsPage) metric() bool { return p.session.Design().Units != project.Imperial }

// length adds a length of the design. Where given returns false the entry shows none;
// left empty, or with that word, it is taken back to nothing.
func (p *listsPage) length(f *field.Form, name, label, none string, at func(*project.Design) *unit.Length, given func(*project.Design) bool) *field.Line {
	set := func(v unit.Length) error { return p.do(label, func(d *project.Design) { *at(d) = v }) }
	now := func() unit.Length { return *at(p.session.Design()) }
	return f.AddEntry(name, field.Binding{
		Value: func() string {
			if !given(p.session.Design()) {
				return none
			}
			return now().Format(p.metric())
		},
		Set: func(text string) error {
			if text == "" || text == none {
				return set(0)
			}
			bare := unit.Metre
			if !p.metric() {
				bare = unit.Inch
			}
			v, err := unit.ParseLengthSum(text, bare)
			if err != nil {
				return err
			}
			return set(v)
		},
		Step: func(n int) error {
			by := 10 * unit.Millimetre
			if !p.metric() {
				by = unit.Inch / 2
			}
			v := unit.Length(math.Round((float64(now())+float64(n)*float64(by))*1e7) / 1e7)
			return p.session.Do(label, label, func(d *project.Design) { *at(d) = v })
		},
	})
}

// watts adds a power or a heat.
func (p *listsPage) watts(f *field.Form, name, label string, at func(*project.Design) *float64) *field.Line {
	const suffix, step, none = " W", 50, "not known"
	return f.AddEntry(name, field.Binding{
		Value: func() string {
			v := *at(p.session.Design())
			if v == 0 {
				return none
			}
			return strconv.FormatFloat(v, 'f', -1, 64) + suffix
		},
		Set: func(text string) error {
			var v float64
			if text != "" && text != none {
				var err error
				if v, err = field.Number(text, suffix); err != nil {
					return err
				}
			}
			return p.do(label, func(d *project.Design) { *at(d) = v })
		},
		Step: func(n int) error {
			v := max(*at(p.session.Design())+float64(n*step), 0)
			return p.session.Do(label, label, func(d *project.Design) { *at(d) = v })
		},
	})
}

// cableFields adds what is known of the cable of the loudspeaker that is chosen.
func (p *listsPage) cableFields(f *field.Form) {
	speaker := func(d *project.Design) (project.Loudspeaker, bool) {
		if i := p.chosen - 1; p.name == cableList && i >= 0 && i < len(d.Speakers) {
			return d.Speakers[i], true
		}
		return project.Loudspeaker{}, false
	}
	some := func() bool { _, ok := speaker(p.session.Design()); return ok }
	f.AddReadout("Cable of", func() string { l, _ := speaker(p.session.Design()); return bs2051.InFull(l.Name()) }).When(some)
	// of returns what is known of the cable, to be changed.
	of := func(d *project.Design) *project.Cable {
		l, ok := speaker(d)
		if !ok {
			return &project.Cable{}
		}
		for i := range d.Services.Cables {
			if d.Services.Cables[i].Serves == l.ID {
				return &d.Services.Cables[i]
			}
		}
		return &project.Cable{Serves: l.ID}
	}
	edit := func(label string, change func(*project.Cable)) error {
		l, _ := speaker(p.session.Design())
		return p.do(label+" of "+bs2051.InFull(l.Name()), func(d *project.Design) {
			c := *of(d)
			change(&c)
			s := &d.Services
			s.Cables = slices.DeleteFunc(s.Cables, func(o project.Cable) bool { return o.Serves == c.Serves })
			if c.Area != 0 || c.Length != 0 {
				s.Cables = append(s.Cables, c)
			}
		})
	}
	const none, least, suffix = "none known", "the least", " mm²"
	f.AddEntry("Is there", field.Binding{Figure: true,
		Value: func() string {
			if v := of(p.session.Design()).Length; v != 0 {
				return v.Format(p.metric())
			}
			return none
		},
		Set: func(text string) error {
			var v unit.Length
			if text != "" && text != none {
				bare, err := unit.Metre, error(nil)
				if !p.metric() {
					bare = unit.Foot
				}
				if v, err = unit.ParseLengthSum(text, bare); err != nil {
					return err
				}
			}
			return edit("enter the cable that is there", func(c *project.Cable) { c.Length = v })
		},
	}).When(some)
	f.AddEntry("Cross-section", field.Binding{Figure: true,
		Value: func() string {
			if v := of(p.session.Design()).Area; v != 0 {
				return strconv.FormatFloat(v, 'f', -1, 64) + suffix
			}
			return least
		},
		Set: func(text string) error {
			var v float64
			if text != "" && text != least {
				var err error
				if v, err = field.Number(text, suffix); err != nil {
					return err
				}
			}
			return edit("change the cross-section of the cable", func(c *project.Cable) { c.Area = v })
		},
	}).When(some)
	f.AddNote("Choose a cable in the list to enter one that is there.").When(func() bool { return !some() })
}

// outletKinds are the kinds of outlet, in the order in which they are offered.
var outletKinds = []project.OutletKind{project.Mains, project.Network, project.Control, project.Video}

// outletName says what an outlet is and serves: "mains: rack".
func outletName(o project.Outlet) string {
	if o.Serves == "" {
		return string(o.Kind)
	}
	return string(o.Kind) + ": " + o.Serves
}

// outletForm edits the outlet that is chosen.
func (p *listsPage) outletForm() *services {
	s := newServices()
	all := func() []project.Outlet { return p.session.Design().Services.Outlets }
	some := func() bool { return p.outlet < len(all()) }
	// at returns the outlet that is chosen, to be changed.
	at := func(d *project.Design) *project.Outlet {
		if p.outlet < len(d.Services.Outlets) {
			return &d.Services.Outlets[p.outlet]
		}
		return &project.Outlet{}
	}
	add := field.NewButton("Add", p.addOutlet)
	add.Tip = "Add a place where something is plugged in"
	remove := field.NewButton("Remove", p.removeOutlet)
	remove.Tip = "Remove the outlet that is chosen"
	s.form.AddObject(container.New(layout.NewGridLayoutWithColumns(2), add, remove), nil)
	s.fresh = func() {
		if some() {
			remove.Enable()
		} else {
			remove.Disable()
		}
	}
	s.form.AddChoice("Outlet", func() []string {
		var names []string
		for i, o := range all() {
			names = append(names, fmt.Sprintf("%d %s", i+1, outletName(o)))
		}
		return names
	}, func() int { return p.outlet }, func(i int) error { p.choose(i + 1); return nil }).When(some)
	s.form.AddChoice("Kind", func() []string {
		var kinds []string
		for _, k := range outletKinds {
			kinds = append(kinds, string(k))
		}
		return kinds
	}, func() int { return slices.Index(outletKinds, at(p.session.Design()).Kind) }, func(i int) error {
		return p.do("change the kind of an outlet", func(d *project.Design) { at(d).Kind = outletKinds[i] })
	}).When(some)
	known := func(*project.Design) bool { return true }
	length := func(name string, of func(*project.Point) *unit.Length) {
		p.length(s.form, name, "move an outlet", "", func(d *project.Design) *unit.Length { return of(&at(d).At) }, known).When(some)
	}
	length("From screen wall", func(x *project.Point) *unit.Length { return &x.X })
	length("From left wall", func(x *project.Point) *unit.Length { return &x.Y })
	length("Height", func(x *project.Point) *unit.Length { return &x.Z })
	s.form.AddEntry("Serves", field.Binding{
		Value: func() string { return at(p.session.Design()).Serves },
		Set: func(text string) error {
			return p.do("change what an outlet serves", func(d *project.Design) { at(d).Serves = strings.TrimSpace(text) })
		},
	}).When(some)
	p.watts(s.form, "Load", "change the load of an outlet", func(d *project.Design) *float64 { return &at(d).Load }).When(some)
	return s
}

// addOutlet adds an outlet for mains, on the screen wall or where the rack stands: a
// place to begin.
func (p *listsPage) addOutlet() {
	o := project.Outlet{Kind: project.Mains, At: p.session.Doc.Design().Services.Rack}
	if o.At == (project.Point{}) {
		o.At.Z = usualHeight
	} else {
		o.Serves = "rack"
	}
	n := len(p.session.Doc.Design().Services.Outlets)
	p.outlet = n
	if err := p.do("add an outlet", func(d *project.Design) { d.Services.Outlets = append(d.Services.Outlets, o) }); err != nil {
		p.frame.Ask.Report("No outlet can be added", err)
	}
}

// usualHeight is where an outlet on a wall begins; common practice, no source.
const usualHeight = 0.3 * unit.Metre

// removeOutlet removes the outlet that is chosen.
func (p *listsPage) removeOutlet() {
	i := p.outlet
	if i >= len(p.session.Doc.Design().Services.Outlets) {
		return
	}
	if err := p.do("remove an outlet", func(d *project.Design) { d.Services.Outlets = slices.Delete(d.Services.Outlets, i, i+1) }); err != nil {
		p.frame.Ask.Report("The outlet cannot be removed", err)
	}
}
