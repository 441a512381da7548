// SPDX-License-Identifier: MIT

package file

import (
	"earline/assets"
	"earline/project"
)

// New returns the design that a new room starts from: one row in a rectangular
// room, five loudspeakers and a subwoofer, and models to choose from.
func New() *project.Design { return embedded(assets.Start(), "start.earline") }

// Demo returns the demo of that name; ok is false when there is none.
func Demo(name string) (d *project.Design, ok bool) {
	demo, ok := assets.DemoNamed(name)
	if !ok {
		return nil, false
	}
	return embedded(demo.Data, demo.Name+".earline"), true
}

// embedded decodes what was built into the program; tests hold it good.
func embedded(data []byte, name string) *project.Design {
	d, err := Decode(data, name)
	if err != nil {
		panic("file: embedded design: " + err.Error())
	}
	return d
}
