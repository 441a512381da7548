// SPDX-License-Identifier: MIT

// Package job does what takes too long for the UI goroutine and hands the
// result back to it.
package job

import (
	"sync"

	"fyne.io/fyne/v2"
)

// Latest runs one piece of work at a time and only the newest: work that waits
// is replaced, and a result that is no longer wanted is dropped. The zero value
// is ready. All methods are safe from any goroutine.
type Latest[T any] struct {
	// Post runs a function on the UI goroutine soon; nil is fyne.Do. It is not
	// to be changed once Start was called.
	Post func(func())

	mu      sync.Mutex
	serial  uint64
	next    func() T
	done    func(T)
	running bool
}

// Start asks for work, which must touch nothing that changes. done gets its
// result on the UI goroutine, unless Start or Cancel was called since.
func (l *Latest[T]) Start(work func() T, done func(T)) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.serial++
	l.next, l.done = work, done
	if !l.running {
		l.running = true
		go l.run()
	}
}

// Cancel drops what waits and what is under way.
func (l *Latest[T]) Cancel() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.serial++
	l.next = nil
}

func (l *Latest[T]) run() {
	for {
		l.mu.Lock()
		work, done, serial := l.next, l.done, l.serial
		l.next = nil
		if work == nil {
			l.running = false
			l.mu.Unlock()
			return
		}
		l.mu.Unlock()
		result := work()
		post := l.Post
		if post == nil {
			post = fyne.Do
		}
		post(func() {
			l.mu.Lock()
			wanted := l.serial == serial
			l.mu.Unlock()
			if wanted {
				done(result)
			}
		})
	}
}
