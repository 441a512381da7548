// SPDX-License-Identifier: MIT

package bass_test

import (
	"context"
	"fmt"

	"earline/geometry"
	"earline/project"
	"earline/project/bass"
	"earline/project/bass/modal"
)

// How alike do six seats hear two subwoofers in the front corners, and what do
// gains, delays and polarities gain?
func ExampleOptimise() {
	var ears []geometry.Vec
	for _, y := range []float64{1.2, 2.0, 2.8} {
		ears = append(ears, geometry.V(3.2, y, 1.1), geometry.V(4.3, y, 1.3))
	}
	room := modal.Room{Length: 6, Width: 4, Height: 2.6}
	sum, err := modal.New(room, modal.Uniform(0.4), ears, bass.Octaves(20, 120, 24))
	if err != nil {
		fmt.Println(err)
		return
	}
	sound, err := sum.Transfer([]geometry.Vec{{X: 0.3, Y: 0.3, Z: 0.3}, {X: 5.7, Y: 3.5, Z: 0.3}})
	if err != nil {
		fmt.Println(err)
		return
	}
	sub := bass.Sub{Enclosure: project.Sealed, Corner: 28, Sensitivity: 88}
	better, err := bass.Optimise(context.Background(), sound, []bass.Sub{sub, sub}, bass.Limits{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("seat to seat %.1f dB, then %.1f dB\n", better.Before.SeatToSeat, better.After.SeatToSeat)
	for i, s := range better.Subs {
		fmt.Printf("subwoofer %d: gain %.1f dB, delay %.1f ms, inverted %v\n", i+1, s.Gain, 1000*s.Delay, s.Inverted)
	}
	// Output:
	// seat to seat 4.0 dB, then 3.4 dB
	// subwoofer 1: gain -3.0 dB, delay 0.0 ms, inverted false
	// subwoofer 2: gain 0.0 dB, delay 1.2 ms, inverted false
}
