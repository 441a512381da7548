// SPDX-License-Identifier: MIT

package solve

import "context"

// resolution is how finely a search looks where it has no proof that it may
// take a longer step, metres. Nothing on site is set finer.
const resolution = 1e-4

// climb returns the first u in [lo, hi], going up, at which short(u) is 0. short
// returns how much u must grow at the least before it can be 0 - any bound below
// that will do, the tighter the faster - and whether u fails at all. Steps are
// at least least, so the answer is at most least above the true first, and a fit
// narrower than that may be passed over. This is sphere tracing (Hart 1996,
// "Sphere tracing: a geometric method for the antialiased ray tracing of
// implicit surfaces") along one line.
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
			next = hi // the last step was a look, not a proof: look at the end too
		}
		if next > hi {
			return u, false, ctx.Err()
		}
		u = next
	}
}
