// SPDX-License-Identifier: MIT

package sheet

import (
	"slices"
)

// spread moves places along a line apart until each is at least half of both its own
// and its neighbour's width from the neighbour, and all move least (sum of squares).
// It keeps their order; they may come in any. Method: with the widths taken off this is
// isotonic regression, by pooling adjacent violators (Ayer and others, 1955).
func spread(want, width []float64) []float64 {
	n := len(want)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case want[a] < want[b]:
			return -1
		case want[a] > want[b]:
			return 1
		}
		return 0
	})
	type block struct {
		sum float64
		n   int
	}
	off := make([]float64, n)
	var blocks []block
	for k, i := range order {
		if k > 0 {
			off[k] = off[k-1] + (width[order[k-1]]+width[i])/2
		}
		blocks = append(blocks, block{want[i] - off[k], 1})
		for len(blocks) > 1 {
			a, b := &blocks[len(blocks)-2], blocks[len(blocks)-1]
			if a.sum/float64(a.n) <= b.sum/float64(b.n) {
				break
			}
			a.sum, a.n = a.sum+b.sum, a.n+b.n
			blocks = blocks[:len(blocks)-1]
		}
	}
	out := make([]float64, n)
	k := 0
	for _, b := range blocks {
		for range b.n {
			out[order[k]] = b.sum/float64(b.n) + off[k]
			k++
		}
	}
	return out
}
