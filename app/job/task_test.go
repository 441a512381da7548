// SPDX-License-Identifier: MIT

package job

import (
	"context"
	"testing"
	"time"
)

// next runs one posted function, or fails the test after some seconds.
func next(t *testing.T, posted <-chan func()) {
	t.Helper()
	select {
	case f := <-posted:
		f()
	case <-time.After(5 * time.Second):
		t.Fatal("nothing was posted")
	}
}

func TestATaskTellsAndEnds(t *testing.T) {
	posted := make(chan func(), 10)
	task := Task[int]{Post: func(f func()) { posted <- f }}
	var told string
	got := 0
	task.Start(func(_ context.Context, tell func(float64, string)) (int, error) {
		tell(0.5, "half")
		tell(0.6, "too soon to be told")
		return 7, nil
	}, func(_ float64, what string) { told += what }, func(v int, err error) {
		if err != nil {
			t.Error(err)
		}
		got = v
	})
	if !task.Running() {
		t.Error("not running")
	}
	next(t, posted)
	next(t, posted)
	if told != "half" || got != 7 || task.Running() {
		t.Errorf("told %q, got %d, running %v", told, got, task.Running())
	}
}

func TestACancelledTaskSaysNoMore(t *testing.T) {
	posted := make(chan func(), 10)
	task := Task[int]{Post: func(f func()) { posted <- f }}
	stopped := make(chan struct{})
	task.Start(func(ctx context.Context, tell func(float64, string)) (int, error) {
		tell(0.1, "begun")
		<-ctx.Done()
		close(stopped)
		return 0, ctx.Err()
	}, func(float64, string) { t.Error("told after Cancel") }, func(int, error) { t.Error("done after Cancel") })
	task.Cancel()
	select {
	case <-stopped:
	case <-time.After(5 * time.Second):
		t.Fatal("the work was not told to stop")
	}
	next(t, posted)
	next(t, posted)
	if task.Running() {
		t.Error("still running")
	}
}

func TestANewTaskReplacesTheOld(t *testing.T) {
	posted := make(chan func(), 10)
	task := Task[int]{Post: func(f func()) { posted <- f }}
	wait := func(ctx context.Context, _ func(float64, string)) (int, error) { <-ctx.Done(); return 1, nil }
	task.Start(wait, nil, func(int, error) { t.Error("the old one ended") })
	got := 0
	task.Start(func(context.Context, func(float64, string)) (int, error) { return 2, nil }, nil, func(v int, _ error) { got = v })
	next(t, posted)
	next(t, posted)
	if got != 2 {
		t.Errorf("got %d, want 2", got)
	}
}
