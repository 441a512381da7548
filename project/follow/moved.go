// SPDX-License-Identifier: MIT

package follow

import (
	"fmt"
	"strings"
)

// Moved counts what moved along.
type Moved struct {
	Screen, Main                                bool
	Rows, Speakers, Features, Treatments, Zones int
}

// None reports whether nothing moved.
func (m Moved) None() bool { return m == Moved{} }

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
	for _, n := range []struct {
		count int
		one   string
	}{{m.Rows, "row"}, {m.Speakers, "loudspeaker"}, {m.Features, "feature"}, {m.Treatments, "treatment"}, {m.Zones, "sub zone"}} {
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
