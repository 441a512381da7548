// SPDX-License-Identifier: MIT

package main

import (
	"earline/project"
	"earline/project/light"
	"earline/scene/bake"
)

// dark says why a scene shows nothing; empty where it shows something.
func dark(d *project.Design, scene string) string {
	m := light.Of(d)
	return bake.Dark(m, bake.In(m, project.Scene(scene)))
}
