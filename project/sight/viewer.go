// SPDX-License-Identifier: MIT

package sight

import "earline/project"

// Viewer answers what single seats see of the picture, again and again, while the
// picture is moved and sized and everything else stands still, as a search needs. Its
// answers are those of Audit. For one goroutine at a time.
type Viewer struct{ a *auditor }

// NewViewer returns a viewer of d. It works on a copy of d.
func NewViewer(d *project.Design) *Viewer {
	a := roomAuditor(d.Clone())
	a.r.Views = make([]View, len(a.r.Seats))
	return &Viewer{a}
}

// Screen puts s in the place of the screen.
func (v *Viewer) Screen(s project.Screen) {
	v.a.d.Screen = s
	v.a.pictureWalls = v.a.shell.behindPicture(s)
}

// View answers seat i, and keeps the answer in Room.
func (v *Viewer) View(i int) View {
	v.a.r.Views[i] = v.a.view(i)
	return v.a.r.Views[i]
}

// Room returns the seats and parts, and the views as they were last asked for. Its
// Pairs are empty. Read only.
func (v *Viewer) Room() *Result { return v.a.r }
