// SPDX-License-Identifier: MIT

package bake

import (
	"context"
	"testing"

	"earline/project/file"
	"earline/project/light"
	"earline/scene"
)

// The joints of a wall made dark smudges on the platform behind it, seen from without.
func TestAPlatformSeenFromOutsideHasNoSmudges(t *testing.T) {
	d, ok := file.Demo("large")
	if !ok {
		t.Fatal("no demo")
	}
	o := scene.Default()
	o.Client, o.Bare = true, true
	list := scene.Build(d, nil, o)
	r := Of(list, LampsOf(light.Of(d), list), Apart)
	l, err := r.Light(context.Background(), Quick())
	if err != nil {
		t.Fatal(err)
	}
	_, hi := d.Room.Polygon().Bounds()
	out, all := 0, 0
	for i, s := range r.sites {
		if s.normal.X > 0.99 && s.at.X > hi.X+0.001 {
			all++
			if l.outside[i] {
				out++
			}
		}
	}
	if all == 0 || out != all {
		t.Errorf("%d of %d places on the outer side of the room are outside", out, all)
	}
}
