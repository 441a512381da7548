// SPDX-License-Identifier: MIT

package crew_test

import (
	"fmt"
	"strings"
	"sync/atomic"
	"testing"

	"earline/project/crew"
)

func TestAFaultOfAWorkerReachesWhoWaits(t *testing.T) {
	var c crew.Crew
	var ended atomic.Int32
	for n := range 8 {
		c.Go(func() {
			defer ended.Add(1)
			if n == 3 {
				panic("no such seat")
			}
		})
	}
	defer func() {
		said := fmt.Sprint(recover())
		if !strings.Contains(said, "no such seat") || !strings.Contains(said, "crew_test.go") {
			t.Errorf("who waits hears %q, want what was wrong and where", said)
		}
		if got := ended.Load(); got != 8 {
			t.Errorf("%d of 8 had ended when Wait came back", got)
		}
	}()
	c.Wait()
	t.Error("the fault is lost")
}

func TestWaitReturnsWhenAllIsWell(t *testing.T) {
	var c crew.Crew
	var sum atomic.Int32
	for n := range 100 {
		c.Go(func() { sum.Add(int32(n)) })
	}
	c.Wait()
	if got := sum.Load(); got != 4950 {
		t.Errorf("the sum is %d, want 4950", got)
	}
}
