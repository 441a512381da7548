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
	// M+090 height: 1.400 m to 2.421 m
	// M-090 height: 1.400 m to 2.421 m
	// M+090 b height: 1.720 m to 2.181 m
	// M-090 b height: 1.720 m to 2.181 m
	// but M+090 and M-090 would have to hang at 2.482 m to be clear for every seat; the elevation limit of 20° allows 2.421 m, 0.061 m less. At 2.421 m the fewest pairs fall short.
	// but Row 2 seat 5, left ear to M+090 (high driver): tight, 40 mm from head in row 2 seat 4, sees 100 % of the driver
	// but Row 2 seat 1, right ear to M-090 (high driver): tight, 40 mm from head in row 2 seat 2, sees 100 % of the driver
}
