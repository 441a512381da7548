// SPDX-License-Identifier: MIT

package sound_test

import (
	"context"
	"fmt"

	"earline/project"
	"earline/project/air"
	"earline/project/file"
	"earline/project/sound"
)

// What amplifier does a surround need to reach 105 dB at 3.5 m?
func ExamplePowerFor() {
	m := project.Model{Sensitivity: 90, Impedance: 8}
	fmt.Printf("%.0f W\n", sound.PowerFor(m, 105, sound.Spreading(3.5)))
	// Output: 388 W
}

// How much later must the side loudspeakers play?
func ExampleDelayFor() {
	fmt.Printf("%.1f ms\n", sound.DelayFor(5.2, 2.8, air.Speed(20)))
	// Output: 7.0 ms
}

// How long may one listen at the reference level, and at the peaks?
func ExampleDoseTime() {
	fmt.Println(sound.DoseTime(85), sound.DoseTime(105).Round(1e9))
	// Output: 8h0m0s 4m43s
}

// Who sits outside the coverage of the left front?
func ExampleStudy() {
	d, _ := file.Demo("two-row")
	r, err := sound.Study(context.Background(), d, nil, sound.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, k := range []int{0, 7} {
		for _, i := range r.Outside(k) {
			fmt.Println(r.Audit.Speakers[k].Name(), "does not reach", r.SeatWords(i))
		}
	}
	fmt.Printf("%.0f m³ ring %.2f s, wanted %.2f s\n", r.Reverb.Volume, r.Reverb.Mid, r.Reverb.Wanted)
	// Output:
	// U+045 does not reach row 2 seat 2
	// U+045 does not reach row 2 seat 3
	// 66 m³ ring 0.29 s, wanted 0.22 s
}
