// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"fmt"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/practice"
)

// LiftPoint is what Lift comes to with one limit of elevation.
type LiftPoint struct {
	*Proposal
	Limit unit.Degrees
	// Beyond is set where Limit is past the standard's own: for comparison, not to be
	// built.
	Beyond bool
	// Apart is the least angle between bed and heights at any seat, degrees, +Inf
	// without heights. Near is at how many seats it is less than is accepted.
	Apart float64
	Near  int
}

// Words says what the point comes to: "60 clear, 4 tight, 2 blocked; heights 18.2° away at
// least, too near at 2 seats".
func (t LiftPoint) Words() string {
	text := fmt.Sprintf("%d clear, %d tight, %d blocked", t.After.Clear, t.After.Tight, t.After.Blocked)
	if t.Apart <= 180 {
		text += fmt.Sprintf("; heights %.1f° away at least", t.Apart)
		if t.Near > 0 {
			text += ", too near at " + several(t.Near, "seat")
		}
	}
	if t.Beyond {
		text += "; beyond the standard's limit"
	}
	return text
}

// liftLimits are the limits of elevation that LiftCurve compares, degrees.
var liftLimits = [...]unit.Degrees{10, 15, 18, 20, 25, 30}

// LiftCurve returns what Lift comes to with several limits of elevation instead of
// o.Elevation, the lowest first: what each degree buys, and what it costs the heights.
func LiftCurve(ctx context.Context, d *project.Design, o LiftOptions) ([]LiftPoint, error) {
	var points []LiftPoint
	for n, limit := range liftLimits {
		q := o
		q.Progress.tell(float64(n)/float64(len(liftLimits)), fmt.Sprintf("up to %g°", float64(limit)))
		q.Elevation, q.Elevations, q.Progress = limit, nil, nil
		std := practice.Standard{}
		if d != nil {
			std = o.Standard.For(d)
		}
		q.pastLimit = float64(limit) > std.Elevation(practice.Side).Limit.Most()
		p, err := Lift(ctx, d, q)
		if err != nil {
			return nil, err
		}
		t := LiftPoint{Proposal: p, Limit: limit, Beyond: q.pastLimit}
		t.Apart, t.Near = apartIn(p.Design, p.std).least()
		points = append(points, t)
	}
	return points, nil
}
