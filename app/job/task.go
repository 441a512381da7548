// SPDX-License-Identifier: MIT

package job

import (
	"context"
	"sync"
	"time"

	"fyne.io/fyne/v2"
)

// Task runs one long piece of work that tells how far it is and can be
// cancelled. Starting another cancels the one before. The zero value is ready.
// All methods are safe from any goroutine.
type Task[T any] struct {
	// Post runs a function on the UI goroutine soon; nil is fyne.Do. It is not
	// to be changed once Start was called.
	Post func(func())

	mu     sync.Mutex
	serial uint64
	cancel context.CancelFunc
}

// Start begins work on a goroutine of its own. It must touch nothing that
// changes, stop soon after its context ends, and may say how far it is, 0 to 1,
// and what it does. tell and done are called on the UI goroutine, and neither
// any more once Cancel or Start was called; tell not for every word.
func (t *Task[T]) Start(work func(ctx context.Context, tell func(done float64, what string)) (T, error),
	tell func(done float64, what string), done func(T, error)) {
	ctx, cancel := context.WithCancel(context.Background())
	t.mu.Lock()
	t.stop()
	t.cancel = cancel
	serial := t.serial
	post := t.Post
	t.mu.Unlock()
	if post == nil {
		post = fyne.Do
	}
	wanted := func() bool {
		t.mu.Lock()
		defer t.mu.Unlock()
		return t.serial == serial
	}
	const often = 50 * time.Millisecond
	var said time.Time
	go func() {
		defer cancel()
		result, err := work(ctx, func(share float64, what string) {
			now := time.Now()
			if now.Sub(said) < often {
				return
			}
			said = now
			post(func() {
				if wanted() {
					tell(share, what)
				}
			})
		})
		post(func() {
			if wanted() {
				t.Cancel()
				done(result, err)
			}
		})
	}()
}

// Cancel ends what is under way; its result is dropped.
func (t *Task[T]) Cancel() {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.stop()
}

func (t *Task[T]) stop() {
	t.serial++
	if t.cancel != nil {
		t.cancel()
		t.cancel = nil
	}
}

// Running reports whether work is under way.
func (t *Task[T]) Running() bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.cancel != nil
}
