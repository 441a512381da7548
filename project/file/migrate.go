// SPDX-License-Identifier: MIT

package file

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"

	"earline/project"
)

// migration brings a file one version up: it gets the object of the file and
// returns what the next version would have written. It need not touch the
// version, and must leave alone what it does not understand: that is reported
// afterwards.
type migration func(root node) node

// migrations[i] leads from version i+1 to i+2. Version 2 only adds fields.
var migrations = []migration{func(root node) node { return root }}

// migrate checks that root is a file of ours and brings it to version.
func migrate(root node, version int, steps []migration) (node, *project.Fault) {
	if _, ok := root.value.([]member); !ok {
		return root, &project.Fault{Found: root.words(), Allowed: `an object with "format": "earline"`}
	}
	format, ok := root.get("format")
	if !ok {
		return root, &project.Fault{Field: "format", Found: "missing", Allowed: `"earline"`}
	}
	if format.value != Format {
		return root, &project.Fault{Field: "format", Found: format.words(), Allowed: `"earline"`}
	}
	allowed := "1"
	if version > 1 {
		allowed = fmt.Sprintf("1 to %d", version)
	}
	v, ok := root.get("version")
	if !ok {
		return root, &project.Fault{Field: "version", Found: "missing", Allowed: allowed}
	}
	number, _ := v.value.(json.Number)
	from, err := strconv.Atoi(number.String())
	switch {
	case err != nil:
		return root, &project.Fault{Field: "version", Found: v.words(), Allowed: allowed}
	case from < 1:
		return root, &project.Fault{Field: "version", Found: v.words() + ", below the first", Allowed: allowed}
	case from > version:
		return root, &project.Fault{Field: "version", Found: v.words() + ", written by a newer Earline", Allowed: allowed}
	case from == version:
		return root, nil
	}
	// A doubled "version" must stay to be reported: set the first only.
	for _, step := range steps[from-1 : version-1] {
		root = step(root)
	}
	members, _ := root.value.([]member)
	members = slices.Clone(members)
	for i := range members {
		if members[i].name == "version" {
			members[i].value.value = json.Number(strconv.Itoa(version))
			break
		}
	}
	return node{value: members}, nil
}
