// SPDX-License-Identifier: MIT

package export

import (
	"context"
	"errors"
	"image"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/practice"
	"earline/scene/drawing"
)

func plain(d *project.Design, view string, w, h int, paper bool) (image.Image, error) {
	return image.NewRGBA(image.Rect(0, 0, 8, 8)), nil
}

// How far a room book is goes up to all of it, still by still, for a plan alone and for
// one with the room as found and options beside it.
func TestARoomBookTellsHowFarItIs(t *testing.T) {
	d, _ := file.Demo("two-row")
	beside := d.Clone()
	for i, role := range []project.Role{project.Existing, project.Option, project.Option} {
		v := d.Clone()
		v.Variant.Name, v.Variant.Role = string(rune('a'+i)), role
		beside.Variants = append(beside.Variants, *v)
	}
	for _, d := range []*project.Design{d, beside} {
		last, told := 0.0, 0
		_, err := Handout(t.Context(), d, Book, practice.Standard{}, plain, func(share float64) {
			if share <= last || share > 1 {
				t.Errorf("after %v it is %v", last, share)
			}
			last, told = share, told+1
		}, drawing.NewTypeface(nil))
		if err != nil || last != 1 || told < 3 {
			t.Errorf("told %d times, at last %v, %v", told, last, err)
		}
	}
}

// A paper that is given up stops at once and gives nothing.
func TestAPaperThatIsGivenUpStops(t *testing.T) {
	d, _ := file.Demo("small")
	ctx, cancel := context.WithCancel(t.Context())
	taken := 0
	shoot := func(d *project.Design, view string, w, h int, paper bool) (image.Image, error) {
		taken++
		cancel()
		return plain(d, view, w, h, paper)
	}
	if sheets, err := Handout(ctx, d, Book, practice.Standard{}, shoot, nil, drawing.NewTypeface(nil)); !errors.Is(err, context.Canceled) || sheets != nil || taken != 1 {
		t.Errorf("%d sheets after %d stills, %v", len(sheets), taken, err)
	}
}

// A file for each sheet is named after the file that was asked for.
func TestSheetsAreNamedAfterTheFile(t *testing.T) {
	for part, want := range map[string]string{"": "a.b/room.svg", "S3-1": "a.b/room-S3-1.svg"} {
		if got := (Part{Sheet: part}).Path("a.b/room.svg"); got != want {
			t.Errorf("%q: %s, want %s", part, got, want)
		}
	}
	if Lacking(nil) != "" || Lacking([]rune("字")) == "" {
		t.Error("letters that no typeface has are not told, or others are")
	}
}
