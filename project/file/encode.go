// SPDX-License-Identifier: MIT

package file

import (
	"bytes"
	"encoding/json"

	"earline/project"
)

// Encode returns the bytes of d's file: JSON indented by two spaces, fields in
// the order of the types, a line end after the last. The same design always
// gives the same bytes. A design that Validate refuses is refused with the same
// error.
func Encode(d *project.Design) ([]byte, error) {
	if err := d.Validate(); err != nil {
		return nil, err
	}
	doc := document{Format: Format, Version: Version, Design: *d}
	// These lists may be empty and are written all the same.
	if doc.Models == nil {
		doc.Models = []project.Model{}
	}
	if doc.Speakers == nil {
		doc.Speakers = []project.Loudspeaker{}
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(doc); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
