// SPDX-License-Identifier: MIT

package place_test

import (
	"fmt"

	"earline/project/file"
	"earline/project/place"
)

// Where are the ears of the listener in row 2 seat 3, and how high is the floor
// there?
func ExampleOf() {
	d, _ := file.Demo("large")
	room := place.Of(d)
	for i, s := range room.Seats {
		if s.Name() == "2.3" {
			ear := room.Bodies[i].Ear()
			fmt.Printf("%.3f m back, %.3f m from the left wall, %.3f m up\n", ear.X, ear.Y, ear.Z)
			fmt.Printf("floor at %.2f m\n", room.Floor.At(s.Ref.X, s.Ref.Y))
		}
	}
	// Output:
	// 5.322 m back, 2.800 m from the left wall, 1.402 m up
	// floor at 0.32 m
}
