// SPDX-License-Identifier: MIT

package app

import (
	"fmt"
	"time"
)

// slow is how long nothing may hold the window up.
const slow = 100 * time.Millisecond

// watch marks, for who measures, each time that the UI goroutine did nothing else for
// longer than slow. It ends with the window.
func (w *Window) watch() {
	answered := make(chan bool, 1)
	ask := func() { answered <- !w.closed }
	for {
		asked := time.Now()
		w.cfg.Post(ask)
		if !<-answered {
			return
		}
		if took := time.Since(asked); took > slow {
			w.cfg.Post(func() { w.mark(fmt.Sprintf("held-%d-ms", took.Milliseconds())) })
		}
		time.Sleep(slow / 10)
	}
}
