// SPDX-License-Identifier: MIT

package view

import (
	"slices"

	"earline/app/words"
	"earline/scene"
)

// spoken returns a display list whose labels are in the language of the window.
func spoken(l *scene.List) *scene.List {
	if l == nil || !words.Comma() {
		return l
	}
	out := *l
	out.Labels = slices.Clone(l.Labels)
	for i := range out.Labels {
		out.Labels[i].Text = words.Of(out.Labels[i].Text)
	}
	out.Legend = slices.Clone(l.Legend)
	for i := range out.Legend {
		out.Legend[i].Text = words.Of(out.Legend[i].Text)
	}
	return &out
}
