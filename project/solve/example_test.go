// SPDX-License-Identifier: MIT

package solve_test

import (
	"context"
	"fmt"

	"earline/project"
	"earline/project/file"
	"earline/project/solve"
)

// How high must the side loudspeakers hang so that every ear sees them, and
// what stands in the way?
func ExampleLift() {
	d, _ := file.Demo("large")
	p, err := solve.Lift(context.Background(), d, solve.LiftOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range p.Changes {
		fmt.Println(c.Sentence(project.Metric))
	}
	for _, o := range p.Proof {
		fmt.Println("but", o.Text)
	}
	// Output:
	// M+090 height: 1.400 m to 2.482 m
	// M-090 height: 1.400 m to 2.482 m
	// M+090 b height: 1.720 m to 2.600 m
	// M-090 b height: 1.720 m to 2.600 m
	// but M+090 b and M-090 b cannot be clear for every seat at any height (searched to 3.801 m; the ceiling allows 2.801 m). At 2.600 m the fewest pairs are blocked. Highest up, right soffit is in the way of row 3 seat 1.
	// but Row 3 seat 4, left ear to M+090 b (high driver): tight, 33 mm from head in row 3 seat 3, sees 100 % of the driver
	// but Row 3 seat 1, right ear to M-090 b (high driver): tight, 33 mm from head in row 3 seat 2, sees 100 % of the driver
}
