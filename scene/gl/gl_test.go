// SPDX-License-Identifier: MIT

package gl

import (
	"os"
	"testing"
)

// open returns a Renderer on a context of its own, closed with the test. It
// skips where there is no OpenGL, unless EARLINE_NO_SKIP=1.
func open(t testing.TB) *Renderer {
	t.Helper()
	c, err := NewContext()
	if err != nil {
		skip(t, err)
	}
	r, err := Start(c)
	if err != nil {
		skip(t, err)
	}
	t.Cleanup(r.Close)
	return r
}

func skip(t testing.TB, why error) {
	t.Helper()
	if os.Getenv("EARLINE_NO_SKIP") == "1" {
		t.Fatal(why)
	}
	t.Skip(why)
}
