// SPDX-License-Identifier: MIT

package file

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"earline/assets"
	"earline/project"
)

// Materials returns the materials that Earline knows, to be copied into a
// design. The tables they are from begin at 125 Hz and some end at 4 kHz: 63 Hz
// is taken as 125 Hz and 8 kHz as 4 kHz, which has no source.
func Materials() []project.Material {
	out, err := readMaterials(string(assets.Materials()))
	if err != nil { // built into the program; tests hold it good
		panic("file: materials: " + err.Error())
	}
	return out
}

func readMaterials(table string) ([]project.Material, error) {
	const columns = 10
	var out []project.Material
	lines := strings.Split(strings.TrimRight(table, "\n"), "\n")
	for n, line := range lines[1:] {
		f := strings.Split(line, "\t")
		if len(f) != columns {
			return nil, fmt.Errorf("line %d: %d columns, allowed: %d", n+2, len(f), columns)
		}
		m := project.Material{ID: f[0], Name: f[1], Source: f[columns-1]}
		for _, text := range f[2 : columns-1] {
			if text == "" {
				break
			}
			a, err := strconv.ParseFloat(text, 64)
			if err != nil || math.IsNaN(a) || math.IsInf(a, 0) {
				return nil, fmt.Errorf("line %d: found %q, allowed: a number", n+2, text)
			}
			m.Absorption = append(m.Absorption, a)
		}
		if len(m.Absorption) == 0 {
			return nil, fmt.Errorf("line %d: no coefficient, allowed: one for each octave from 125 Hz", n+2)
		}
		m.Absorption = append(m.Absorption[:1:1], m.Absorption...)
		for len(m.Absorption) < project.OctaveCount {
			m.Absorption = append(m.Absorption, m.Absorption[len(m.Absorption)-1])
		}
		out = append(out, m)
	}
	return out, nil
}
