// SPDX-License-Identifier: MIT

package inspector

import (
	"earline/app/field"
)

// Part is a part of the inspector that can be gone to by name.
type Part struct {
	Name string
	// Open opens the part, brings it into view and gives its heading the keyboard.
	Open func()
}

// Parts lists the groups from above, and the finishes, which lie within one.
func (in *Inspector) Parts() []Part {
	var all []Part
	for i, g := range in.groups {
		all = append(all, Part{g.title, func() {
			in.reveal(i)
			field.FocusIn(in.scroll, g.head)
		}})
		if i == surfacesGroup {
			all = append(all, Part{"Finishes", in.openFinishes})
		}
	}
	return all
}

func (in *Inspector) openFinishes() {
	in.open.looks = true
	in.reveal(surfacesGroup)
	in.relayout()              // once more: texts that wrap know their width by now, and with it their height
	in.scroll.ScrollToBottom() // so that what reveals the heading brings it to the top
	field.FocusIn(in.scroll, in.sections[&in.open.looks])
}
