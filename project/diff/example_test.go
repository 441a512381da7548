// SPDX-License-Identifier: MIT

package diff_test

import (
	"fmt"

	"earline/project/diff"
	"earline/project/file"
)

// What did the last edits change?
func ExampleCompare() {
	was, _ := file.Demo("small")
	is := was.Clone()
	is.Speakers[0].At.Z += 0.15
	is.Screen.Width = 2
	is.Seating.Rows = append(is.Seating.Rows, is.Seating.Rows[0])
	for _, c := range diff.Compare(was, is) {
		fmt.Println(c.Sentence(was.Units))
	}
	// Output:
	// picture width: 2.200 m to 2.000 m
	// row 2 is new
	// M+030 height: 1.100 m to 1.250 m
}
