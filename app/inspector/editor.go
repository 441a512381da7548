// SPDX-License-Identifier: MIT

package inspector

import (
	"earline/project"
	"earline/project/follow"
	"earline/project/pair"
)

// editor is the host as the inspector edits through it: what hangs together goes
// along with an edit, in the same step, and is said.
type editor struct {
	Host
	said  func(string)
	trial bool // an edit is only tried
}

// Do implements Host. An edit that is only tried says what Validate says, and
// changes nothing.
func (e *editor) Do(label, merge string, edit func(*project.Design)) error {
	var said string
	whole := func(d *project.Design) {
		before := d.Clone()
		edit(d)
		said = e.along(before, d)
	}
	if e.trial {
		next := e.Design().Clone()
		whole(next)
		return next.Validate()
	}
	was := e.Design()
	err := e.Host.Do(label, merge, whole)
	if err == nil && e.Design() != was {
		e.said(said)
	}
	return err
}

// along takes along, in after, what hangs together with what an edit has changed, and
// says what that was.
func (e *editor) along(before, after *project.Design) string {
	if said := follow.Sentence(before, after, follow.Shell(before, after)); said != "" {
		return said
	}
	for _, p := range e.Links().Follow(before, after) {
		one, other := pair.Name(after, p.Kind, p.One), pair.Name(after, p.Kind, p.Other)
		return other + " follows as the mirror image of " + one + "."
	}
	return ""
}

// would reports whether set would be taken.
func (in *Inspector) would(set func() error) bool {
	in.host.trial = true
	defer func() { in.host.trial = false }()
	return set() == nil
}
