// SPDX-License-Identifier: MIT

package session

import (
	"context"
	"errors"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"pgregory.net/rapid"
)

// queue is the test's UI goroutine: what is posted runs when the test says so.
type queue struct {
	mu   sync.Mutex
	todo []func()
}

func (q *queue) post(f func()) {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.todo = append(q.todo, f)
}

// run runs what is posted until nothing more is, all goroutines being at rest.
func (q *queue) run() {
	for {
		synctest.Wait()
		q.mu.Lock()
		todo := q.todo
		q.todo = nil
		q.mu.Unlock()
		if len(todo) == 0 {
			return
		}
		for _, f := range todo {
			f()
		}
	}
}

// wait lets time pass, in steps so that timers follow each other.
func (q *queue) wait(d time.Duration) {
	const step = 5 * time.Millisecond
	for ; d > 0; d -= step {
		time.Sleep(min(step, d))
		q.run()
	}
}

// bench is an answer whose work takes as long as the test says: the square of its
// key.
type bench struct {
	queue
	Answer[int, int]
	key     int
	asked   bool          // whether there is a key
	takes   time.Duration // of work
	deaf    bool          // work does not stop when it is told to
	fails   error
	changes []Change

	mu       sync.Mutex
	begun    []int // keys of the works, in order
	at, most int   // works under way: now, at once
}

func newBench() *bench {
	b := &bench{asked: true}
	b.Answer = Answer[int, int]{
		Key: func() (int, bool) { return b.key, b.asked },
		Work: func(ctx context.Context, k int, _ Last[int, int], tell func(float64)) (int, error) {
			b.mu.Lock()
			takes, deaf, fails := b.takes, b.deaf, b.fails
			b.begun = append(b.begun, k)
			b.at++
			b.most = max(b.most, b.at)
			b.mu.Unlock()
			defer func() { b.mu.Lock(); b.at--; b.mu.Unlock() }()
			const parts = 10
			for i := range parts {
				tell(float64(i) / parts)
				if deaf {
					time.Sleep(takes / parts)
					continue
				}
				select {
				case <-ctx.Done():
					return 0, ctx.Err()
				case <-time.After(takes / parts):
				}
			}
			return k * k, fails
		},
	}
	b.join(&host{post: b.post, changed: func(c Change) { b.changes = append(b.changes, c) }, every: 50 * time.Millisecond})
	return b
}

// set changes what work there is from now on.
func (b *bench) set(takes time.Duration, deaf bool, fails error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.takes, b.deaf, b.fails = takes, deaf, fails
}

// atOnce returns how many works were under way at once.
func (b *bench) atOnce() int {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.most
}

// want fails the test unless the answer is this.
func (b *bench) want(t *testing.T, v int, s State) {
	t.Helper()
	if gotV, gotS := b.Get(); gotV != v || gotS != s {
		t.Fatalf("known is %d, %v, want %d, %v", gotV, gotS, v, s)
	}
}

func TestNobodyAsksNothingIsComputed(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := newBench()
		b.wait(time.Second)
		if len(b.begun) != 0 {
			t.Error("computed though nobody looks")
		}
	})
}

func TestQuickWorkIsDoneAtOnce(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := newBench()
		b.Quick = func(k int) bool { return k < 10 }
		b.key = 3
		b.want(t, 9, Fresh)
		b.want(t, 9, Fresh)
		if len(b.begun) != 1 {
			t.Errorf("computed %d times", len(b.begun))
		}
		b.key, b.takes = 12, 100*time.Millisecond
		b.want(t, 9, Stale)
		b.key = 4 // before 12 has come
		b.want(t, 16, Fresh)
		b.wait(time.Second)
		b.want(t, 16, Fresh)
	})
}

func TestTheOldAnswerStaysUntilTheNewOneComes(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := newBench()
		b.key, b.takes = 3, 100*time.Millisecond
		b.want(t, 0, Missing)
		b.wait(90 * time.Millisecond)
		b.want(t, 0, Missing)
		b.wait(20 * time.Millisecond)
		b.want(t, 9, Fresh)
		b.key = 4
		b.want(t, 9, Stale)
		b.wait(110 * time.Millisecond)
		b.want(t, 16, Fresh)
		if n := len(b.changes); n == 0 || b.changes[n-1] != AnswerChanged {
			t.Errorf("told %v", b.changes)
		}
		if len(b.begun) != 2 {
			t.Errorf("computed %v", b.begun)
		}
	})
}

func TestAnEditCancelsWorkOnTheDesignBefore(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := newBench()
		b.key, b.takes = 3, time.Hour
		b.Get()
		b.wait(10 * time.Millisecond)
		b.key = 4
		b.set(10*time.Millisecond, false, nil)
		b.Get()
		b.wait(30 * time.Millisecond)
		b.want(t, 16, Fresh)
		if b.most != 1 {
			t.Errorf("%d works at once", b.most)
		}
	})
}

// Work that cannot be cancelled is not begun again beside itself.
func TestWorkThatDoesNotListenRunsAlone(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := newBench()
		b.takes, b.deaf = 100*time.Millisecond, true
		for b.key = range 10 {
			b.Get()
			b.wait(10 * time.Millisecond)
		}
		b.wait(time.Second)
		b.want(t, 81, Fresh)
		if b.most != 1 || len(b.begun) > 3 {
			t.Errorf("%d works at once, begun on %v", b.most, b.begun)
		}
	})
}

func TestWorkWaitsUntilEditsHavePaused(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := newBench()
		b.Pause, b.takes = 200*time.Millisecond, 10*time.Millisecond
		for b.key = range 10 {
			b.Get()
			b.wait(150 * time.Millisecond)
		}
		if len(b.begun) != 0 {
			t.Fatalf("begun on %v while edits went on", b.begun)
		}
		b.wait(100 * time.Millisecond)
		b.want(t, 81, Fresh)
	})
}

// During a drag what was begun may end and is shown, though the mouse has gone on.
func TestWithinItsGraceOldWorkIsShown(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := newBench()
		b.Grace, b.takes = 100*time.Millisecond, 80*time.Millisecond
		b.key = 1
		b.Get()
		b.wait(50 * time.Millisecond)
		b.key = 2
		b.want(t, 0, Missing)
		b.wait(40 * time.Millisecond)
		b.want(t, 1, Stale) // and 2 begins
		b.wait(time.Microsecond)
		b.set(time.Hour, false, nil)
		b.wait(100 * time.Millisecond)
		b.want(t, 4, Fresh)
		b.key = 3
		b.Get()
		b.wait(10 * time.Millisecond)
		b.set(10*time.Millisecond, false, nil)
		b.key = 4
		b.Get() // once: the grace ends by itself
		b.wait(85 * time.Millisecond)
		if len(b.begun) != 3 {
			t.Fatalf("begun on %v, want the third to have its grace", b.begun)
		}
		b.wait(50 * time.Millisecond)
		b.want(t, 16, Fresh)
	})
}

// One who goes away and comes back finds the work still under way.
func TestADetourDoesNotLoseTheWork(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := newBench()
		b.Grace, b.takes = 50*time.Millisecond, 200*time.Millisecond
		b.key = 1
		b.Get()
		b.wait(20 * time.Millisecond)
		b.key = 2
		b.Get()
		b.key = 1
		b.Get()
		b.wait(300 * time.Millisecond)
		b.want(t, 1, Fresh)
		if len(b.begun) != 1 {
			t.Errorf("begun on %v", b.begun)
		}
	})
}

func TestWhatFailsIsNotTriedAgain(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := newBench()
		b.want(t, 0, Missing)
		b.wait(10 * time.Millisecond)
		b.want(t, 0, Fresh)
		why := errors.New("no")
		b.key, b.fails = 5, why
		b.Get()
		b.wait(10 * time.Millisecond)
		b.want(t, 0, Failed)
		b.wait(10 * time.Millisecond)
		b.want(t, 0, Failed)
		if b.Err() != why || len(b.begun) != 2 {
			t.Errorf("%v after works on %v", b.Err(), b.begun)
		}
		b.key, b.fails = 6, nil
		b.Get()
		b.wait(10 * time.Millisecond)
		b.want(t, 36, Fresh)
	})
}

func TestCancelledWorkBeginsAnewWithTheNextEdit(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := newBench()
		b.key, b.takes = 3, time.Second
		b.Get()
		b.wait(200 * time.Millisecond)
		if _, ok := b.Progress(); ok {
			t.Error("so short a work is not spoken of")
		}
		b.wait(100 * time.Millisecond)
		if s, ok := b.Progress(); !ok || s < 0.2 || s > 0.4 {
			t.Errorf("after a third of the time %v is done, %v", s, ok)
		}
		b.Cancel()
		b.wait(time.Second)
		b.want(t, 0, Failed)
		if _, ok := b.Progress(); ok || b.Err() != context.Canceled {
			t.Errorf("%v", b.Err())
		}
		b.key = 4
		b.Get()
		b.wait(1100 * time.Millisecond)
		b.want(t, 16, Fresh)
	})
}

func TestWhatCannotBeAskedIsGivenUp(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := newBench()
		b.key, b.takes = 2, 10*time.Millisecond
		b.Get()
		b.wait(20 * time.Millisecond)
		b.key, b.asked = 3, false
		b.want(t, 4, Stale)
		b.asked = true
		b.Get()
		b.asked = false
		b.Get()
		b.wait(time.Second)
		b.want(t, 4, Stale)
	})
}

// One answer in the key of another: the second comes once the first is there.
func TestAnAnswerMadeOfAnother(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		one, two := newBench(), newBench()
		one.takes, two.takes = 20*time.Millisecond, 20*time.Millisecond
		two.host = one.host
		two.Key = func() (int, bool) { v, s := one.Get(); return v, s == Fresh }
		one.key = 3
		two.want(t, 0, Missing)
		one.wait(25 * time.Millisecond)
		two.want(t, 0, Missing)
		one.wait(25 * time.Millisecond)
		two.want(t, 81, Fresh)
		one.key = 2
		two.want(t, 81, Stale)
		one.wait(time.Second)
	})
}

// Whatever is asked, edited and cancelled in whatever order: a fresh answer is the
// present key's, no two works run at once, and in the end the answer comes.
func TestAFreshAnswerIsThePresentKeys(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		rapid.Check(struct{ rapid.TB }{t}, func(t *rapid.T) { // a bubble has no deadline
			b := newBench()
			defer func() { b.forget(); b.wait(time.Second) }()
			b.Pause = time.Duration(rapid.IntRange(0, 40).Draw(t, "pause")) * time.Millisecond
			b.Grace = time.Duration(rapid.IntRange(0, 80).Draw(t, "grace")) * time.Millisecond
			if rapid.Bool().Draw(t, "some are quick") {
				b.Quick = func(k int) bool { return k%3 == 0 }
			}
			look := func() {
				if v, s := b.Get(); s == Fresh && v != b.key*b.key {
					t.Fatalf("fresh is %d for %d", v, b.key)
				}
			}
			for range rapid.IntRange(1, 30).Draw(t, "steps") {
				switch rapid.IntRange(0, 6).Draw(t, "step") {
				case 0, 1:
					b.key = rapid.IntRange(0, 5).Draw(t, "key")
				case 2:
					b.Cancel()
				case 3:
					b.set(time.Duration(rapid.IntRange(0, 100).Draw(t, "takes"))*time.Millisecond, rapid.Bool().Draw(t, "deaf"), nil)
				case 4:
					b.asked = !b.asked
				case 5:
					look()
				default:
					b.wait(time.Duration(rapid.IntRange(1, 60).Draw(t, "wait")) * time.Millisecond)
				}
				if n := b.atOnce(); n > 1 && b.Quick == nil {
					t.Fatalf("%d works at once", n)
				}
			}
			look()
			b.asked = true
			if _, s := b.Get(); s != Failed { // which a user's Cancel leaves
				b.wait(time.Second) // all have ended
				look()
				b.wait(time.Second)
				if _, s := b.Get(); s != Fresh {
					t.Fatalf("in the end %v", s)
				}
			}
		})
	})
}
