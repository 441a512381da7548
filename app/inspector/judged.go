// SPDX-License-Identifier: MIT

package inspector

import (
	"earline/app/field"
	"earline/project"
	"earline/project/practice"
	"earline/project/system"
)

// buildJudged adds by what the room is judged: its system, a standard, a dwelling code.
func (in *Inspector) buildJudged(f *field.Form) {
	words := func(what string) func() texts { return say("change " + what) }
	in.chooseSystem(f)
	why(choice(in, f, "Standard", words("the standard"),
		func() []project.StandardName {
			return []project.StandardName{either(in.host.Design().Criteria.Standard, project.RaisedBed), project.PublishedDirections}
		},
		practice.BaseName,
		func(d *project.Design) *project.StandardName { return &d.Criteria.Standard }), "elevation")
	why(choice(in, f, "Dwelling code", words("the dwelling code"),
		func() []project.Code {
			return []project.Code{either(in.host.Design().Criteria.Code, project.NoCode), project.IRC, project.EnglandK}
		},
		func(c project.Code) string {
			if name := (practice.Standard{}).Code(c).Name; name != "" {
				return name
			}
			return "none"
		},
		func(d *project.Design) *project.Code { return &d.Criteria.Code }), "step-height", "handrail")
	f.AddNote("Directions are judged by the system and the standard, steps and headroom by the code. Local code decides.")
}

// either returns usual if that is what now says by name; else the empty name, which means
// the same and needs no newer file.
func either[T ~string](now, usual T) T {
	if now == usual {
		return usual
	}
	return ""
}

// chooseSystem adds the choice of the system judged by. The first is to leave it open;
// a list of the design's own stays to be chosen as long as it is there.
func (in *Inspector) chooseSystem(f *field.Form) {
	open := func(d *project.Design) string {
		if s, ok := system.Guess(d); ok {
			return "by labels: " + s.Name
		}
		return "by labels"
	}
	all := system.All()
	why(f.AddChoice("System judged by",
		func() []string {
			d := in.host.Design()
			names := []string{open(d)}
			for _, s := range all {
				name := s.Name
				if s.Published() {
					name = s.Letter + " (" + s.Name + ")"
				}
				names = append(names, name)
			}
			if len(d.System.Channels) > 0 {
				names = append(names, d.System.Name+", its own")
			}
			return names
		},
		func() int {
			d := in.host.Design()
			if len(d.System.Channels) > 0 {
				return len(all) + 1
			}
			if s, ok := system.Named(d.System.Name); ok {
				for i := range all {
					if all[i].Name == s.Name {
						return i + 1
					}
				}
			}
			return 0
		},
		func(i int) error {
			if i > len(all) {
				return nil // its own, as it is
			}
			return field.Plain(in.host.Do("change the system judged by", "", func(d *project.Design) {
				d.System = project.System{}
				if i > 0 {
					d.System.Name = all[i-1].Name
				}
			}))
		}), "azimuth")
}
