// SPDX-License-Identifier: MIT

// Package crew shares work between goroutines so that a fault of any of them
// reaches whoever waits for them: a panic on a goroutine of its own would end the
// program before unsaved work is kept.
package crew

import (
	"fmt"
	"runtime/debug"
	"sync"
)

// Crew is some goroutines at work. The zero value is none. It must not be copied.
type Crew struct {
	group sync.WaitGroup
	once  sync.Once
	fault string
}

// Go calls f on a goroutine of its own.
func (c *Crew) Go(f func()) {
	c.group.Go(func() {
		defer func() {
			if p := recover(); p != nil {
				trace := debug.Stack()
				c.once.Do(func() { c.fault = fmt.Sprintf("%v\n\nbeside this goroutine:\n%s", p, trace) })
			}
		}()
		f()
	})
}

// Wait returns once all have ended. If one of them panicked it panics, with the
// first fault and where that was.
func (c *Crew) Wait() {
	c.group.Wait()
	if c.fault != "" {
		panic(c.fault)
	}
}
