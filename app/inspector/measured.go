// SPDX-License-Identifier: MIT

package inspector

import (
	"fmt"
	"strings"

	"earline/app/field"
	"earline/project"
)

func (in *Inspector) measuredSummary() string {
	if n := len(in.host.Design().Measured.Decay); n > 0 {
		return plural(n, "third")
	}
	return "nothing"
}

// buildMeasured adds the measured decay times of the thirds that subwoofers play. Those
// above are read from a table.
func (in *Inspector) buildMeasured(f *field.Form) {
	in.text(f, "Measured on", say("change the date of the measurement"), func(d *project.Design) *string { return &d.Measured.On })
	for _, hz := range project.BassThirds() {
		name := fmt.Sprintf("%g Hz", hz)
		const none = "not measured"
		set := func(merge string, v float64) error {
			return field.Plain(in.host.Do("change the measured time at "+name, merge, func(d *project.Design) { d.Measured.SetTime(hz, v) }))
		}
		get := func() float64 { return in.host.Design().Measured.Time(hz) }
		f.AddEntry(name, field.Binding{
			Value: func() string {
				if v := get(); v != 0 {
					return plainNumber(v) + " s"
				}
				return none
			},
			Set: func(text string) error {
				if text == "" || strings.EqualFold(text, none) {
					return set("", 0)
				}
				v, err := field.Number(text, " s")
				if err != nil {
					return err
				}
				if v == 0 { // in the document that is "not measured"
					return &project.Fault{Found: text, Allowed: fmt.Sprintf("%g s to %d s, or nothing", project.MinDecay, project.MaxDecay)}
				}
				return set("", v)
			},
			Step: func(n int) error {
				const first, step = 0.5, 0.05 // s
				v := get()
				if v == 0 {
					return set(key(name, "measured time"), first)
				}
				return set(key(name, "measured time"), max(v+float64(n)*step, project.MinDecay))
			},
		})
	}
	f.AddNote("How long each third of an octave rings in the finished or existing room (T60). Where it is given, bass takes it in place of what tables say of the surfaces. A table of all thirds is read on the Sound page under Decay.")
}
