// SPDX-License-Identifier: MIT

package file

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"

	"earline/project"
	"earline/project/system"
)

// Encode returns the bytes of d's file: JSON indented by two spaces, fields in
// the order of the types, a list of measured figures on one line, a line end after the
// last. The same design always gives the same bytes, and Decode takes them. A
// design that Validate refuses is refused with the same error.
func Encode(d *project.Design) ([]byte, error) {
	if err := d.Validate(); err != nil {
		return nil, err
	}
	if fault := knownSystems(d); fault != nil {
		return nil, fault
	}
	version := lowest(d)
	return encode(document{Format: Format, Version: version, Design: full(d, version)})
}

// lowest returns the lowest version of the format that has all that d holds, so that
// an older Earline opens what it can.
func lowest(d *project.Design) int {
	later := len(d.Room.Ceiling.Planes) > 0 || len(d.Variants) > 0 || d.Variant != (project.Variant{}) || !reflect.ValueOf(d.Services).IsZero() ||
		len(d.ProjectorModels) > 0 || d.Projector.Given() || d.Picture.Given() || d.Equalisation.Given() || d.Datum.Given() || d.Job != (project.Job{}) || d.AsBuilt.Given() || d.Measured.Given() || d.Playback.Background != 0 || len(d.Backdrops) > 0 ||
		len(d.LightGroups) > 0 || len(d.Panels) > 0 || d.Room.Finishes.Given() || d.Lesson.Given() || len(d.Viewpoints) > 0 || d.Entrance != (project.Entrance{})
	if later || d.System.Chosen() || d.Criteria.Standard != "" || d.Criteria.Code != "" || d.CrossesOver() || d.Identified() {
		return 2
	}
	for _, m := range d.Room.Materials {
		if len(m.Bass) > 0 {
			return 2
		}
	}
	for _, f := range d.Room.Features {
		if f.Kind == project.Counter || f.Kind == project.Chimney || f.Kind == project.Beam || f.Kind == project.Rack || f.Round {
			return 2
		}
	}
	for _, m := range d.Models {
		if m.Space != "" || m.Excursion != 0 {
			return 2
		}
	}
	for _, r := range d.Seating.Rows {
		if r.Left != 0 || r.Right != 0 || len(r.Steps) > 0 {
			return 2
		}
	}
	return 1
}

// full returns what is written of d in a file of that version: with the lists that
// may be empty and are written all the same, and with ids from version 2 on.
func full(d *project.Design, version int) project.Design {
	all := *d.Unidentified()
	if version > 1 {
		all = *d.Clone()
		all.Identify()
	}
	listed(&all)
	for i := range all.Variants {
		listed(&all.Variants[i])
	}
	return all
}

// listed puts the lists that are always written in place of none.
func listed(d *project.Design) {
	if d.Models == nil {
		d.Models = []project.Model{}
	}
	if d.Speakers == nil {
		d.Speakers = []project.Loudspeaker{}
	}
}

// knownSystems returns the fault of the first system chosen, in d or beside it, that
// nobody knows.
func knownSystems(d *project.Design) *project.Fault {
	fault := system.Check(d)
	for i := 0; fault == nil && i < len(d.Variants); i++ {
		if fault = system.Check(&d.Variants[i]); fault != nil {
			fault.Field = fmt.Sprintf("variants[%d].%s", i, fault.Field)
		}
	}
	return fault
}

// encode returns the JSON of what a file holds.
func encode(doc any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(doc); err != nil {
		return nil, err
	}
	data := joinFigures(b.Bytes())
	if len(data) > MaxSize { // Validate's limits leave room; a test holds that
		return nil, tooLarge("")
	}
	return data, nil
}

// joinFigures puts each list of angles, frequencies and levels in indented JSON on one line: an
// indented line a number makes a table several times as long.
func joinFigures(data []byte) []byte {
	out := make([]byte, 0, len(data))
	within := false // such a list
	for line := range bytes.Lines(data) {
		if !within {
			within = bytes.HasSuffix(line, []byte("\"level_db\": [\n")) || bytes.HasSuffix(line, []byte("\"angles_deg\": [\n")) || bytes.HasSuffix(line, []byte("\"frequencies_hz\": [\n")) || bytes.HasSuffix(line, []byte("\"noise_db\": [\n"))
			if within {
				line = line[:len(line)-1]
			}
			out = append(out, line...)
			continue
		}
		line = bytes.TrimLeft(line, " ")
		within = line[0] != ']'
		if within {
			line = bytes.Replace(line, []byte(",\n"), []byte(", "), 1)
			line = bytes.TrimRight(line, "\n")
		}
		out = append(out, line...)
	}
	return out
}
