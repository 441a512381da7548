// SPDX-License-Identifier: MIT

package words

import (
	"fmt"
	"testing"

	"earline/assets"
)

// A drag changes a few sentences at each step, none of which was translated before.
func BenchmarkNewSentence(b *testing.B) {
	c, err := Read(assets.Words("de"))
	if err != nil {
		b.Fatal(err)
	}
	n := 0
	for b.Loop() {
		n++
		c.Of(fmt.Sprintf("row 2: %d of 14 seats have M+090 blocked, worst row 2 seat 3: head in row 2 seat 2 stands 0.%03d m in the way, common practice asks for 0.020 m or more", n%14, n))
	}
}

// The catalogue is read at the start of a German window.
func BenchmarkRead(b *testing.B) {
	for b.Loop() {
		if _, err := Read(assets.Words("de")); err != nil {
			b.Fatal(err)
		}
	}
}
