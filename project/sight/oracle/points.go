// SPDX-License-Identifier: MIT

package oracle

import (
	"math"
	"math/rand/v2"
	"sync"
)

// Counts of points to look at: few, to find out; many, where it matters.
const (
	Few  = 45 * 45
	Many = 142 * 142
	Most = 450 * 450
)

// points are spread over the unit square, one in each of side x side equal
// cells, at a random place in it that is the same in every run.
type points struct {
	side int
	at   [][2]float64 // row by row, from 0 to 1
	disc [][2]float64 // the same on the unit disc
}

var spread = func() map[int]func() *points {
	all := map[int]func() *points{}
	for _, n := range []int{Few, Many, Most} {
		all[n] = sync.OnceValue(func() *points { return newPoints(int(math.Round(math.Sqrt(float64(n))))) })
	}
	return all
}()

func newPoints(side int) *points {
	p := &points{side: side}
	r := rand.New(rand.NewPCG(20, 26))
	for i := range side {
		for k := range side {
			u, v := (float64(k)+r.Float64())/float64(side), (float64(i)+r.Float64())/float64(side)
			p.at = append(p.at, [2]float64{u, v})
			p.disc = append(p.disc, concentric(2*u-1, 2*v-1))
		}
	}
	return p
}

// concentric maps the square from -1 to 1 onto the unit disc so that equal areas
// stay equal (Shirley and Chiu 1997, "A low distortion map between disk and
// square").
func concentric(a, b float64) [2]float64 {
	var r, phi float64
	switch {
	case a == 0 && b == 0:
		return [2]float64{}
	case math.Abs(a) > math.Abs(b):
		r, phi = a, math.Pi/4*b/a
	default:
		r, phi = b, math.Pi/2-math.Pi/4*a/b
	}
	return [2]float64{r * math.Cos(phi), r * math.Sin(phi)}
}

// Share is a share of an area as points have it.
type Share struct {
	Seen  float64 // 0 to 1
	Error float64 // by how much it may be off
	// Hidden is how many of the points are hidden.
	Hidden int
}

// share counts hidden points, in the order of p.
//
// Cells wholly seen or wholly hidden count exactly; only cut ones err, each by
// the variance of one toss at most, 1/4, independently of each other. Cut are
// taken to be all whose answer is not that of all eight around them. The error
// is six times the deviation, exceeded once in 30 million (Hoeffding 1963,
// "Probability inequalities for sums of bounded random variables"), and one
// point for what is smaller than a cell.
func share(p *points, hidden []bool) Share {
	n, cutCells, count := p.side, 0, 0
	for _, h := range hidden {
		if h {
			count++
		}
	}
	some := count > 0 && count < len(hidden)
	for i := 0; some && i < n; i++ {
		for k := range n {
			h := hidden[i*n+k]
		around:
			for di := -1; di <= 1; di++ {
				for dk := -1; dk <= 1; dk++ {
					if a, b := i+di, k+dk; a >= 0 && a < n && b >= 0 && b < n && hidden[a*n+b] != h {
						cutCells++
						break around
					}
				}
			}
		}
	}
	all := float64(n * n)
	return Share{Seen: 1 - float64(count)/all, Hidden: count, Error: (6*math.Sqrt(float64(cutCells))/2 + 1) / all}
}
