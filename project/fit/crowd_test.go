// SPDX-License-Identifier: MIT

package fit_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/fit"
)

// Two loudspeakers in one place, or one in a chair, are said once; two that touch are not.
func TestLoudspeakersInOneAnotherAreFound(t *testing.T) {
	box := func(label string, x, y, z unit.Length) project.Loudspeaker {
		return project.Loudspeaker{Label: label, Model: "cube", Mount: project.OnFloor, At: project.Point{X: x, Y: y, Z: z}, Aim: project.Aim{Fixed: true}}
	}
	for _, tt := range []struct {
		name string
		add  []project.Loudspeaker
		want []string
	}{
		{"side by side", []project.Loudspeaker{box("M+030", 2, 1.5, 0.3), box("M-030", 2, 1.8, 0.3)}, nil},
		{"in one place", []project.Loudspeaker{box("M+030", 2, 1.5, 0.3), box("M-030", 2, 1.7, 0.3)}, []string{"M-030 reaches 100 mm into M+030"}},
		{"in a chair", []project.Loudspeaker{box("M+030", 3, 2, 0.3)}, []string{"M+030 reaches 200 mm into the chair of row 1 seat 2"}}, // its front at 3.0, the pan to 3.2
	} {
		d := file.New()
		d.Speakers = nil
		m := d.Models[0]
		m.ID, m.Width, m.Height, m.Depth, m.Flush = "cube", 0.3, 0.3, 0.3, false
		d.Models = append(d.Models, m)
		none := len(fit.Findings(d))
		d.Speakers = tt.add
		var got []string
		for _, f := range fit.Findings(d)[none:] {
			got = append(got, f.String())
		}
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, diff)
		}
	}
}
