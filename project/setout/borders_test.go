// SPDX-License-Identifier: MIT

package setout_test

import (
	"context"
	"math"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/practice"
	"earline/project/setout"
	"earline/project/sight"
)

// The edges of every further shape and of the masks' boxes are in the list: those of 1.85:1
// at the screen's height are W/2 = 1.85 H/2 either side of the centre line.
func TestTheBordersOfEveryShapeAreSetOut(t *testing.T) {
	d, ok := file.Demo("large")
	if !ok {
		t.Fatal("no demo")
	}
	d.Picture.Masking, d.Picture.MaskingBox = project.MaskSides, 0.2
	l, err := setout.Of(context.Background(), sight.Audit(d), practice.Of(d))
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]setout.Item{}
	for _, it := range l.Items {
		if it.Kind == setout.Border {
			found[it.Name] = it
		}
	}
	if len(found) != 4 {
		t.Fatalf("%d items: %+v", len(found), found)
	}
	flat := found["borders of Flat 1.85:1"].Edges
	half := 1.85 * d.Screen.Height() / 2
	if flat == nil || math.Abs(math.Abs(flat.Left)-half) > 1e-9 || math.Abs(math.Abs(flat.Right)-half) > 1e-9 || math.Abs(flat.Height-d.Screen.Height()) > 1e-9 {
		t.Errorf("%+v, want %.4f m either side", flat, half)
	}
	box := found["masking box, left"].Edges
	if want := float64(d.Screen.Width)/2 + float64(d.Screen.Border); box == nil || math.Abs(math.Abs(box.Right)-want) > 1e-9 || math.Abs(box.Width-0.2) > 1e-9 {
		t.Errorf("%+v, its inner edge %.4f m from the centre line", box, want)
	}
}
