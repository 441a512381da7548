// SPDX-License-Identifier: MIT

package modal

import (
	"math"
	"math/cmplx"
)

// node is one node of a band.
type node struct {
	across, up waves
	lines      []line
	strength   []complex128 // of the pairs that are summed here
}

// line is one pair at one node: u(x) = ahead e + back/e, v(x) = near/e + far e, both
// v and W divided by exp(k L) of the pair, with e = exp(gamma x).
type line struct {
	gamma, ahead, back, near, far complex128
}

// spectral is what a section is at one frequency.
type spectral struct {
	across, up waves
	k, h0, h1  complex128 // the latter of the ends of the run
}

// spectrum returns what a section is at frequencies with those losses, for so many
// indices across and up.
func (c *section) spectrum(frequencies []float64, losses []Loss, indices [2]int) []spectral {
	s := c.sum
	k := make([]complex128, len(frequencies))
	var g [3][][2]float64
	all := make([]spectral, len(frequencies))
	for i, f := range frequencies {
		k[i] = s.waveNumber(f, losses[i])
		for axis := range g {
			near, far := losses[i].pair(axis)
			g[axis] = append(g[axis], [2]float64{near, far})
		}
	}
	across := follow(s.room.side(c.across), k, g[c.across], indices[0])
	up := follow(s.room.side(c.up), k, g[c.up], indices[1])
	for i := range all {
		ends := g[c.run][i]
		all[i] = spectral{across[i], up[i], k[i], 1i * k[i] * complex(ends[0], 0), 1i * k[i] * complex(ends[1], 0)}
	}
	return all
}

// line returns a pair at one frequency and 4 pi/(W N_q N_r).
func (a *spectral) line(p pair, l float64) (line, complex128) {
	x, y := a.across.kappa[p.q], a.up.kappa[p.r]
	gamma := cmplx.Sqrt(x*x + y*y - a.k*a.k)
	// Where nothing changes along the run, the closed form is 0/0; its limit is
	// smooth.
	if least := 1e-5 / l; cmplx.Abs(gamma) < least {
		gamma = complex(least, 0)
	}
	end, turned := growth(gamma, l)
	scale := complex(math.Exp(-p.k*l), 0)
	end, turned = end*scale, turned*scale
	w := ((a.h0+a.h1)*(end+turned) + (gamma+a.h0*a.h1/gamma)*(end-turned)) / 2
	return line{
		gamma: gamma, ahead: (1 + a.h0/gamma) / 2, back: (1 - a.h0/gamma) / 2,
		near: (1 + a.h1/gamma) / 2 * end, far: (1 - a.h1/gamma) / 2 * turned,
	}, 4 * math.Pi / (w * a.across.norm[p.q] * a.up.norm[p.r])
}

// growth returns exp(gamma x) and its inverse.
func growth(gamma complex128, x float64) (e, inverse complex128) {
	size := math.Exp(real(gamma) * x)
	sin, cos := math.Sincos(imag(gamma) * x)
	return complex(size*cos, size*sin), complex(cos/size, -sin/size)
}

// along sets out to u or, far, v of the first pairs at x.
func (n *node) along(x float64, far bool, out []complex128) {
	for m := range out {
		l := &n.lines[m]
		e, inverse := growth(l.gamma, x)
		if far {
			out[m] = l.far*e + l.near*inverse
		} else {
			out[m] = l.ahead*e + l.back*inverse
		}
	}
}
