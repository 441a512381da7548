// SPDX-License-Identifier: MIT

package inspector

import "earline/project"

// editor is the host as the inspector edits through it.
type editor struct {
	Host
	trial bool // an edit is only tried
}

// Do implements Host. An edit that is only tried says what Validate says, and
// changes nothing.
func (e *editor) Do(label, merge string, edit func(*project.Design)) error {
	if e.trial {
		next := e.Design().Clone()
		edit(next)
		return next.Validate()
	}
	return e.Host.Do(label, merge, edit)
}

// would reports whether set would be taken.
func (in *Inspector) would(set func() error) bool {
	in.host.trial = true
	defer func() { in.host.trial = false }()
	return set() == nil
}
