// SPDX-License-Identifier: MIT

package practice_test

import (
	"fmt"

	"earline/project/file"
	"earline/project/practice"
)

// Which musts does the large demo break, and by how much?
func ExampleCheck() {
	d, _ := file.Demo("large")
	found := practice.Check(d, nil, practice.Standard{})
	for _, m := range found.Failing() {
		if m.Severity == practice.Must {
			fmt.Println(m.Text)
		}
	}
	// Output:
	// 4 of 14 seats have M+090 blocked, worst row 2 seat 3: head in row 2 seat 2 stands 0.083 m in the way, common practice asks for 0 m or more
	// 4 of 14 seats have M-090 blocked, worst row 2 seat 3: head in row 2 seat 4 stands 0.083 m in the way, common practice asks for 0 m or more
}

// What does a rule ask, who says so, and why?
func ExampleFind() {
	rule, _ := practice.Find("sight")
	fmt.Println(rule.Title, "-", rule.Severity)
	fmt.Println(rule.Source)
	// Output:
	// Line of sight from every ear - must
	// common practice, no source
}
