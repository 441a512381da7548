// SPDX-License-Identifier: MIT

package inspector

import (
	"fmt"
	"strings"

	"earline/app/field"
	"earline/project"
	"earline/project/fit"
)

// clashes is what cannot be built of a design.
type clashes struct {
	of    *project.Design
	found []fit.Finding
}

// warn has a line of the inspector frame its field and say why, while something cannot
// be built because of it: path returns where its value stands in the document.
func (in *Inspector) warn(l *field.Line, path func() string) *field.Line {
	return l.Warn(func() string {
		if d := in.host.Design(); d != in.clashes.of {
			in.clashes = clashes{d, fit.Findings(d)}
		}
		at := path()
		var out []string
		for _, f := range in.clashes.found {
			if f.Field == at {
				out = append(out, f.String())
			}
		}
		return strings.Join(out, "\n")
	})
}

// The paths of what is shown.

func (in *Inspector) inSpeaker(rest string) func() string {
	return func() string { return fmt.Sprintf("loudspeakers[%d].%s", in.speaker, rest) }
}

func (in *Inspector) inRow(rest string) func() string {
	return func() string { return fmt.Sprintf("seating.rows[%d].%s", in.row, rest) }
}

func (in *Inspector) inFeature(rest string) func() string {
	return func() string { return fmt.Sprintf("room.features[%d].%s", in.feature, rest) }
}

func inScreen(rest string) func() string { return func() string { return "screen." + rest } }
