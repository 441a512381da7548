// SPDX-License-Identifier: MIT

package projecttest

import "testing"

// Rooms with planes are rooms that a file can hold, and most have two or more.
func TestRoomsWithPlanes(t *testing.T) {
	many := 0
	for seed := range uint64(200) {
		d := Rooms{Planes: true}.Room(seed)
		if err := d.Validate(); err != nil {
			t.Fatalf("room %d: %v", seed, err)
		}
		if len(d.Room.Ceiling.Planes) > 1 {
			many++
		}
	}
	if many < 150 {
		t.Errorf("%d of 200 rooms have two planes or more", many)
	}
}
