// SPDX-License-Identifier: MIT

package file_test

import (
	"fmt"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/fit"
)

// What is wrong with a file that somebody edited by hand?
func ExampleDecode() {
	_, err := file.Decode([]byte(`{"format": "earline", "version": 7}`), "lounge.earline")
	fmt.Println(err)
	_, err = file.Decode([]byte("{\n  \"format\": \"earline\",\n  \"version\": 1"), "lounge.earline")
	fmt.Println(err)
	// Output:
	// lounge.earline: version: 7, written by a newer Earline, allowed: 1 to 2
	// lounge.earline: line 3 column 15: end of file, allowed: the rest of the design; the file is cut short
}

// Would this room work as drawn? A seat stands beyond the wall.
func ExampleDemo() {
	d, _ := file.Demo("small")
	d.Seating.Rows[0].Centre = 2.6
	for _, f := range fit.Findings(d) {
		fmt.Println(f)
	}
	// Output: row 1 seat 3 stands 15 mm outside the room
}

// Drag a loudspeaker, change your mind.
func ExampleNew() {
	h := project.NewHistory(file.New())
	for _, x := range []unit.Length{0.5, 0.6, 0.7} {
		err := h.Do("move M+030", "drag", func(d *project.Design) { d.Speakers[0].At.X = x })
		if err != nil {
			fmt.Println(err)
		}
	}
	fmt.Println("undo", h.UndoLabel())
	h.Undo()
	fmt.Println(h.Design().Speakers[0].At.X, h.Dirty())
	// Output:
	// undo move M+030
	// 0.450 m false
}
