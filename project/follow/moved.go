// SPDX-License-Identifier: MIT

package follow

import (
	"fmt"
	"slices"
	"strings"

	"earline/geometry/unit"
	"earline/project"
)

// Moved counts what moved along.
type Moved struct {
	Screen, Main, Projector                             bool
	Rows, Speakers, Features, Treatments, Zones, Lights int
}

// None reports whether nothing moved.
func (m Moved) None() bool { return m == Moved{} }

// Sentence says how the shell has changed from before to after, and what moved along:
// "Width 3.900 m; screen, 2 rows and 6 loudspeakers moved along."; empty when nothing
// did.
func Sentence(before, after *project.Design, m Moved) string {
	if m.None() {
		return ""
	}
	show := func(v float64) string { return unit.Length(v).Format(after.Units != project.Imperial) }
	lo, hi := before.Room.Polygon().Bounds()
	a, b := after.Room.Polygon().Bounds()
	var how []string
	if hi.X-lo.X != b.X-a.X {
		how = append(how, "Length "+show(b.X-a.X))
	}
	if hi.Y-lo.Y != b.Y-a.Y {
		how = append(how, "Width "+show(b.Y-a.Y))
	}
	if was, now := before.Room.Ceiling, after.Room.Ceiling; !was.Equal(now) {
		how = append(how, "Ceiling changed")
		if was.Slope == project.Flat && now.Slope == project.Flat && slices.Equal(was.Planes, now.Planes) {
			how[len(how)-1] = "Height " + show(float64(now.Height))
		}
	}
	if len(how) == 0 {
		how = append(how, "Walls changed")
	}
	return strings.Join(how, ", ") + "; " + m.Words() + "."
}

// Words says what moved along: "screen, 2 rows and 6 loudspeakers moved along"; empty
// when nothing did.
func (m Moved) Words() string {
	var parts []string
	if m.Screen {
		parts = append(parts, "screen")
	}
	if m.Main {
		parts = append(parts, "main position")
	}
	if m.Projector {
		parts = append(parts, "projector")
	}
	for _, n := range []struct {
		count int
		one   string
	}{{m.Rows, "row"}, {m.Speakers, "loudspeaker"}, {m.Features, "feature"}, {m.Treatments, "treatment"}, {m.Zones, "subwoofer zone"}, {m.Lights, "light group"}} {
		switch {
		case n.count == 1:
			parts = append(parts, "1 "+n.one)
		case n.count > 1:
			parts = append(parts, fmt.Sprintf("%d %ss", n.count, n.one))
		}
	}
	switch k := len(parts) - 1; {
	case k < 0:
		return ""
	case k > 0:
		return strings.Join(parts[:k], ", ") + " and " + parts[k] + " moved along"
	}
	return parts[0] + " moved along"
}
