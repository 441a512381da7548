// SPDX-License-Identifier: MIT

package fit

import (
	"fmt"
	"strings"

	"earline/project"
)

// Warning says in a sentence what of d cannot be built as drawn, for papers that leave
// the desk; empty for nothing. The audit tells what is beyond the first eight.
func Warning(d *project.Design) string {
	const most = 8
	found := Findings(d)
	if len(found) == 0 {
		return ""
	}
	var parts []string
	for _, f := range found[:min(most, len(found))] {
		parts = append(parts, f.String())
	}
	if more := len(found) - most; more > 0 {
		parts = append(parts, fmt.Sprintf("and %d more", more))
	}
	return "Cannot be built as drawn, to be settled before anything is cut: " + strings.Join(parts, "; ") + "."
}
