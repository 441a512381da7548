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
	// M+090 height: 1.400 m to 2.397 m
	// M-090 height: 1.400 m to 2.397 m
	// M+090 b height: 1.720 m to 2.572 m
	// M-090 b height: 1.720 m to 2.572 m
	// but M+090 and M-090 would have to hang at 2.482 m to be clear for every seat; the least angle of 12° to the heights, in row 2 seat 5, allows 2.397 m, 0.084 m less. At 2.397 m the fewest pairs are blocked.
	// but Row 2 seat 5, left ear to M+090 (high driver): tight, 36 mm from head in row 2 seat 4, sees 100 % of the driver
	// but Row 2 seat 1, right ear to M-090 (high driver): tight, 36 mm from head in row 2 seat 2, sees 100 % of the driver
	// but M+090 b and M-090 b cannot be clear for every seat at any height (searched to 3.572 m; the elevation limit of 20° allows 2.572 m). At 2.572 m the fewest pairs are blocked. Highest up, head in row 3 seat 3 is in the way of row 3 seat 4.
	// but Row 3 seat 4, left ear to M+090 b (high driver): tight, 27 mm from head in row 3 seat 3, sees 100 % of the driver
	// but Row 3 seat 1, right ear to M-090 b (high driver): tight, 27 mm from head in row 3 seat 2, sees 100 % of the driver
	// but Row 2 seat 1 hears bed and heights only 12.0° apart, where 20° is accepted; the same holds for 5 more seats.
}
