// SPDX-License-Identifier: MIT

package job

import (
	"sync"
	"testing"
	"time"
)

func TestOnlyTheNewestResultArrives(t *testing.T) {
	posted := make(chan func(), 100)
	l := Latest[int]{Post: func(f func()) { posted <- f }}
	var got []int
	hold := make(chan struct{})
	l.Start(func() int { <-hold; return 1 }, func(v int) { got = append(got, v) })
	for i := 2; i <= 20; i++ {
		l.Start(func() int { return i }, func(v int) { got = append(got, v) })
	}
	close(hold)
	for len(got) == 0 {
		select {
		case f := <-posted:
			f()
		case <-time.After(5 * time.Second):
			t.Fatal("no result")
		}
	}
	if len(got) != 1 || got[0] != 20 {
		t.Errorf("results %v, want only 20", got)
	}
}

func TestCancelDropsWhatIsUnderWay(t *testing.T) {
	posted := make(chan func(), 1)
	l := Latest[int]{Post: func(f func()) { posted <- f }}
	var begun sync.WaitGroup
	begun.Add(1)
	hold := make(chan struct{})
	l.Start(func() int { begun.Done(); <-hold; return 1 }, func(int) { t.Error("a cancelled result arrived") })
	begun.Wait()
	l.Cancel()
	close(hold)
	(<-posted)()
}
