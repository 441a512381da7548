// SPDX-License-Identifier: MIT

//go:build latency

package main

import (
	"fmt"
	"slices"
	"time"
)

// times are how long something took, each time.
type times []time.Duration

// lengths returns how long spans are.
func lengths(spans []span) (t times) {
	for _, s := range spans {
		t = append(t, s.to.Sub(s.from))
	}
	return t
}

// at returns the time that the share q of all does not exceed, in milliseconds.
func (t times) at(q float64) float64 {
	if len(t) == 0 {
		return 0
	}
	s := slices.Sorted(slices.Values(t))
	return float64(s[min(len(s)-1, int(q*float64(len(s))))]) / 1e6
}

func (t times) median() float64 { return t.at(0.5) }

func (t times) String() string {
	return fmt.Sprintf("median %.1f ms, p95 %.1f, worst %.1f (%d)", t.median(), t.at(0.95), t.at(1), len(t))
}

// gaps are the times between one picture and the next.
type gaps []time.Duration

// rate is how many pictures there were a second, on the whole.
func (g gaps) rate() float64 {
	sum := time.Duration(0)
	for _, d := range g {
		sum += d
	}
	if sum <= 0 {
		return 0
	}
	return float64(len(g)) / sum.Seconds()
}

func (g gaps) String() string {
	t := times(g)
	return fmt.Sprintf("median %.1f pictures/s, on the whole %.1f; longest gap %.1f ms", 1000/max(t.median(), 1e-3), g.rate(), t.at(1))
}
