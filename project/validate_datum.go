// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
)

// datum checks what the room is set out from.
func (c *checker) datum(t Datum, r Room) {
	if !t.Given() {
		return
	}
	if t.Height != 0 {
		c.length("datum.height_m", t.Height, 0.1, maxHeight)
	} else if t.From == StructuralFloor {
		c.fault("datum.height_m", "0 m", "0.1 m to 30 m, or from the finished floor")
	}
	oneOf(c, "datum.from", t.From, "", FinishedFloor, StructuralFloor)
	c.length("datum.floor_buildup_m", t.FloorBuildup, 0, 1)
	if t.From == StructuralFloor && t.Height >= 0.1 && t.FloorBuildup <= 1 && t.Height <= t.FloorBuildup {
		c.fault("datum.height_m", figure(float64(t.Height))+" m", "above floor_buildup_m: the line would run under the finished floor")
	}
	if allowed := r.AcrossFrom(); t.Across != "" && !slices.Contains(allowed, t.Across) {
		c.fault("datum.across_from", quote(t.Across), strings.Join(allowed, ", "))
	}
	walls := len(r.Footprint)
	for i := range c.count("datum.wall_buildup_m", len(t.WallBuildup), 0, walls) {
		c.length(fmt.Sprintf("datum.wall_buildup_m[%d]", i), t.WallBuildup[i], 0, 1)
	}
}

// AcrossFrom returns what can be measured across the room from, as Datum.Across says it:
// the centre line, and the walls that run along the room more than across it.
func (r Room) AcrossFrom() []string {
	names := []string{CentreLine}
	poly := r.Polygon()
	for i, name := range r.WallNames() {
		if n := poly.InwardNormal(i); math.Abs(n.Y) > math.Abs(n.X) {
			names = append(names, name)
		}
	}
	return names
}

// job checks the title block.
func (c *checker) job(j Job) {
	c.text("job.reference", j.Reference, maxName)
	c.text("job.revision", j.Revision, maxName)
	if j.RevisedOn == "" {
		return
	}
	if _, err := time.Parse(time.DateOnly, j.RevisedOn); err != nil {
		c.fault("job.revised_on", quote(j.RevisedOn), "a day as year-month-day, such as 2026-11-29")
	}
}
