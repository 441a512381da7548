// SPDX-License-Identifier: MIT

package wave

import (
	"context"
	"strings"
	"testing"
)

func TestWhoWaitsForAFailedWorkerIsLetGo(t *testing.T) {
	b := newBarrier(3)
	let := make(chan bool, 2)
	for range 2 {
		go func() { let <- b.wait() }()
	}
	b.leave() // the third will not come
	for range 2 {
		if <-let {
			t.Error("the wait ended as if all had come")
		}
	}
	if b.wait() {
		t.Error("who comes later waits for one who has left")
	}
}

// A fault on a worker's goroutine used to end the program at once, unsaved work and all.
func TestAFaultInTheWaveReachesTheCaller(t *testing.T) {
	g, err := newGrid(rooms()["box"], 0.31)
	if err != nil {
		t.Fatal(err)
	}
	m := &simulation{grid: g, pulse: []float64{1, 1, 1, 1}, speed: 343, in: []tap{{at: g.size, k: 1 << 20}}, workers: 2, limit: 4, progress: func(float64) {}}
	for i := range m.in { // a tap beyond the grid, in the last worker's layers
		m.in[i].k = m.layers()[len(m.layers())-1] - 1
		m.in[i].share = 1
		m.in[i].weight = 1
	}
	defer func() {
		p := recover()
		if p == nil {
			t.Fatal("nothing was wrong with a tap beyond the grid")
		}
		if s, ok := p.(string); !ok || !strings.Contains(s, "out of range") {
			t.Errorf("the caller hears %v", p)
		}
	}()
	_ = m.run(context.Background())
}
