// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"os"
	"sync"

	"github.com/spf13/cobra"
)

// progress shows on a terminal how far work is, in a line that done takes away. Elsewhere
// nothing is written. tell may be called from any goroutine.
func progress(c *cobra.Command, what string) (tell func(share float64), done func()) {
	to := c.ErrOrStderr()
	if f, ok := to.(*os.File); !ok || !terminal(f) {
		return func(float64) {}, func() {}
	}
	var mu sync.Mutex
	last := -1
	return func(share float64) {
			mu.Lock()
			defer mu.Unlock()
			if percent := int(100 * share); percent > last {
				last = percent
				fmt.Fprintf(to, "\r%s: %d %%", what, percent)
			}
		}, func() {
			mu.Lock()
			defer mu.Unlock()
			if last >= 0 {
				fmt.Fprint(to, "\r\x1b[K")
			}
		}
}

// terminal reports whether f is one.
func terminal(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
