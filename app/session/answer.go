// SPDX-License-Identifier: MIT

package session

import (
	"context"
	"fmt"
	"runtime/debug"
	"time"
)

// State says how an answer stands to the design as it is now.
type State uint8

// The states.
const (
	Missing State = iota // nothing is known yet
	Stale                // what is known is of an earlier key
	Fresh                // what is known is of the present key
	Failed               // the present key has no answer; see Answer.Err
)

// String returns the name of s.
func (s State) String() string { return [...]string{"missing", "stale", "fresh", "failed"}[s] }

// Answer is one thing known about the open design: the last value that was
// computed, for which key, and the work under way. Of one answer no two works
// ever run at once.
type Answer[K comparable, V any] struct {
	// Key returns what the answer depends on, as that is now; false where it
	// cannot be asked now, as when what it depends on is not fresh itself.
	Key func() (K, bool)
	// Work computes the answer. It may run on any goroutine, touches nothing but
	// its arguments, and returns soon after ctx ends. last is what was known
	// before, for work that can build on it; tell takes the share that is done.
	Work func(ctx context.Context, k K, last Last[K, V], tell func(share float64)) (V, error)
	// Quick reports whether Work is short enough to be done at once, in Get. Nil
	// is never.
	Quick func(K) bool
	// Pause is how long a key must have stood before Work begins.
	Pause time.Duration
	// Grace is how long work may go on once its key is no longer the present one,
	// counted from its beginning: during a drag it may end, so that what is shown
	// keeps up with the mouse.
	Grace time.Duration

	host   *host
	last   Last[K, V]
	failed K // the key of err
	err    error
	run    *run[K] // nil while nothing is under way
	again  bool    // next is to be computed once run has ended
	next   K
}

// Last is the value that was computed last.
type Last[K comparable, V any] struct {
	Key   K
	Value V
	OK    bool // false when there is none; nothing else is set then
}

// host is what all answers of a session share.
type host struct {
	post    func(func())  // onto the UI goroutine, soon
	changed func(Change)  // tells the window
	closed  bool          // nothing is begun any more
	every   time.Duration // the least time from one report of progress to the next
}

// run is work that waits out its pause or is under way.
type run[K comparable] struct {
	key       K
	working   bool // else it waits
	began     time.Time
	cancel    context.CancelFunc
	cancelled bool
	timer     *time.Timer // ends the pause or, once another key is asked for, the grace
	share     float64
	told      bool
}

// Get returns what is known and how it stands to the design as it is now, and
// sees to it that it becomes fresh. It never waits: work that is not quick goes
// on in the background, and Show is called when it has ended. The value of a
// state other than Fresh is the last one that was known.
func (a *Answer[K, V]) Get() (V, State) {
	k, ok := a.Key()
	return a.get(k, ok)
}

// get is Get for a key; ok is false where it cannot be asked now.
func (a *Answer[K, V]) get(k K, ok bool) (V, State) {
	if !ok {
		a.stop()
		return a.stale()
	}
	if v, s, ok := a.known(k); ok {
		a.stop()
		return v, s
	}
	if underWay := a.run != nil && a.run.key == k && !a.run.cancelled; !underWay && a.Quick != nil && a.Quick(k) {
		a.stop()
		v, err := a.Work(context.Background(), k, a.last, func(float64) {})
		a.store(k, v, err)
		v, s, _ := a.known(k)
		return v, s
	}
	a.begin(k)
	return a.stale()
}

// known returns what is known of k.
func (a *Answer[K, V]) known(k K) (v V, s State, ok bool) {
	switch {
	case a.err != nil && a.failed == k:
		return a.last.Value, Failed, true
	case a.last.OK && a.last.Key == k:
		return a.last.Value, Fresh, true
	}
	return v, Missing, false
}

// stale returns what was known before.
func (a *Answer[K, V]) stale() (V, State) {
	if a.last.OK {
		return a.last.Value, Stale
	}
	return a.last.Value, Missing
}

// store takes in what was computed for k.
func (a *Answer[K, V]) store(k K, v V, err error) {
	if err != nil {
		a.failed, a.err = k, err
		return
	}
	a.last, a.err = Last[K, V]{k, v, true}, nil
}

// Last returns what was computed last, and asks for nothing.
func (a *Answer[K, V]) Last() Last[K, V] { return a.last }

// Err returns why the key that was asked for last has no answer; context.Canceled
// after Cancel.
func (a *Answer[K, V]) Err() error { return a.err }

// Progress returns the share that is done of the work under way; ok is false when
// there is none, or it has told nothing yet, or has not yet taken long enough to
// be spoken of.
func (a *Answer[K, V]) Progress() (share float64, ok bool) {
	const quiet = 250 * time.Millisecond
	if r := a.run; r != nil && r.told && !r.cancelled && time.Since(r.began) >= quiet {
		return r.share, true
	}
	return 0, false
}

// Cancel gives up the work under way, as the user wishes: its key stays without
// an answer, and only another key begins anew.
func (a *Answer[K, V]) Cancel() {
	r := a.run
	if r == nil || r.cancelled {
		return
	}
	k := r.key
	if a.again {
		k = a.next
	}
	a.stop()
	a.store(k, a.last.Value, context.Canceled)
	a.host.changed(AnswerChanged)
}

// begin sees to it that k is computed in the background.
func (a *Answer[K, V]) begin(k K) {
	if a.host.closed {
		return
	}
	r := a.run
	switch {
	case r == nil:
	case r.key == k && !r.cancelled: // on its way; perhaps after a detour by another key
		a.again = false
		if r.working && r.timer != nil {
			r.timer.Stop()
			r.timer = nil
		}
		return
	case r.working:
		a.again, a.next = true, k
		a.outdate(r)
		return
	}
	a.stop() // another key's pause
	r = &run[K]{key: k}
	a.run = r
	if a.Pause <= 0 {
		a.work(r)
		return
	}
	r.timer = time.AfterFunc(a.Pause, func() {
		a.host.post(func() {
			if a.run == r && !r.working {
				r.timer = nil
				a.work(r)
			}
		})
	})
}

// outdate lets r, whose key is no longer the present one, go on until its grace
// is over.
func (a *Answer[K, V]) outdate(r *run[K]) {
	if r.cancelled || r.timer != nil {
		return
	}
	left := a.Grace - time.Since(r.began)
	if left <= 0 {
		r.end()
		return
	}
	r.timer = time.AfterFunc(left, func() {
		a.host.post(func() {
			if a.run == r && a.again {
				r.end()
			}
		})
	})
}

// work begins the work of r.
func (a *Answer[K, V]) work(r *run[K]) {
	ctx, cancel := context.WithCancel(context.Background())
	r.cancel, r.began, r.working = cancel, time.Now(), true
	k, last, work, post, every := r.key, a.last, a.Work, a.host.post, a.host.every
	said := r.began
	tell := func(share float64) {
		now := time.Now()
		if now.Sub(said) < every {
			return
		}
		said = now
		post(func() {
			if a.run == r && !r.cancelled {
				r.share, r.told = share, true
				a.host.changed(ProgressMade)
			}
		})
	}
	a.host.background(func() {
		defer cancel()
		v, err := work(ctx, k, last, tell)
		post(func() { a.done(r, v, err) })
	})
}

// Background runs work on a goroutine of its own, which tells what came of it by what
// the session was given to post with. A panic there is one of the UI goroutine.
func (s *Session) Background(work func()) { s.host.background(work) }

// background runs work on a goroutine of its own. A panic there becomes one of the
// UI goroutine, where unsaved work can still be rescued.
func (h *host) background(work func()) {
	go func() {
		defer func() {
			if p := recover(); p != nil {
				trace := debug.Stack()
				h.post(func() { panic(fmt.Sprintf("%v\n\nin the background:\n%s", p, trace)) })
			}
		}()
		work()
	}()
}

// done takes in what the work of r found. Of a cancelled one that is nothing.
func (a *Answer[K, V]) done(r *run[K], v V, err error) {
	if a.run != r {
		return // of a document that is no longer open
	}
	if r.timer != nil {
		r.timer.Stop()
	}
	a.run = nil
	again := a.again
	a.again = false
	if !r.cancelled {
		a.store(r.key, v, err)
		a.host.changed(AnswerChanged) // whoever shows it asks again, for the newest key
		return
	}
	if again {
		a.begin(a.next)
	}
}

// end cancels r, which goes when it notices.
func (r *run[K]) end() {
	r.cancelled = true
	r.cancel()
}

// stop ends what waits and what is under way.
func (a *Answer[K, V]) stop() {
	a.again = false
	r := a.run
	if r == nil {
		return
	}
	if r.timer != nil {
		r.timer.Stop()
		r.timer = nil
	}
	if !r.working {
		a.run = nil
		return
	}
	r.end()
}

// forget makes the answer know nothing, as of a document that was just opened.
func (a *Answer[K, V]) forget() {
	a.stop()
	var none K
	a.run, a.last, a.failed, a.err = nil, Last[K, V]{}, none, nil
}
