// SPDX-License-Identifier: MIT

package solve

import "context"

// resolution is the step of a search that has no proof that a longer one is safe,
// metres. Nothing on site is set finer.
const resolution = 1e-4

// climb returns the first u in [lo, hi], going up, that does not fail. short
// reports whether u fails and, if so, a lower bound of how much u must grow before
// it may no longer fail: the tighter the bound, the faster the search. Steps are
// at least least, so the result is at most least above the true first, and a fit
// narrower than that may be missed. This is sphere tracing (Hart 1996, "Sphere
// tracing: a geometric method for the antialiased ray tracing of implicit
// surfaces") along one line.
//
// ok is false when there is none up to hi. The search ends soon after ctx does,
// with its error.
func climb(ctx context.Context, lo, hi, least float64, short func(u float64) (step float64, fails bool)) (u float64, ok bool, err error) {
	if !(lo <= hi) {
		return lo, false, ctx.Err()
	}
	u = lo
	for {
		if err := ctx.Err(); err != nil {
			return u, false, err
		}
		step, fails := short(u)
		if !fails {
			return u, true, nil
		}
		next := u + max(step, least)
		if next > hi && u < hi && u+step <= hi {
			next = hi // the step was the least one, not a proven one: check the end too
		}
		if next > hi {
			return u, false, ctx.Err()
		}
		u = next
	}
}
