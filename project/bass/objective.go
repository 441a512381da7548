// SPDX-License-Identifier: MIT

package bass

import (
	"math"

	"earline/project/bass/field"
)

// objective evaluates gains, delays and polarities of subwoofers whose sound at
// the seats is known.
//
// The value to minimise is the mean spatial variance, in dB^2, plus price times
// the square of the lost output, in dB. The lost output is how far the mean output
// level is below that of the subwoofers at the greatest gain, added up by power.
// Subwoofers that help each other lose nothing.
type objective struct {
	subs, seats, freqs int
	omega              []float64 // 2 pi f
	// re, im are the pressures, [frequency][sub][seat], with the fixed responses.
	re, im []float64
	full   float64 // output without loss, dB
	price  float64
	// Scratch space.
	sumRe, sumIm, level []float64
	slope               []float64 // by seat
	amp, cRe, cIm       []float64 // by sub
}

func newObjective(t *field.Transfer, subs []Sub, greatest, price float64) *objective {
	n := &objective{subs: t.Sources, seats: t.Receivers, freqs: len(t.Frequencies), price: price}
	n.re = make([]float64, n.subs*n.seats*n.freqs)
	n.im = make([]float64, len(n.re))
	for f, hz := range t.Frequencies {
		n.omega = append(n.omega, 2*math.Pi*hz)
		for s := range t.Sources {
			h := subs[s].fixed(hz)
			for r := range t.Receivers {
				p := h * t.At(s, r, f)
				i := (f*n.subs+s)*n.seats + r
				n.re[i], n.im[i] = real(p), imag(p)
			}
		}
	}
	power := math.Pow(10, greatest/10)
	for f := range n.freqs {
		for r := range n.seats {
			sum := silence
			for s := range n.subs {
				i := (f*n.subs+s)*n.seats + r
				sum += power * (n.re[i]*n.re[i] + n.im[i]*n.im[i])
			}
			n.full += 10 * math.Log10(sum) / float64(n.freqs*n.seats)
		}
	}
	n.allocScratch()
	return n
}

// allocScratch gives n scratch space of its own.
func (n *objective) allocScratch() {
	n.sumRe, n.sumIm = make([]float64, n.seats), make([]float64, n.seats)
	n.level, n.slope = make([]float64, n.seats), make([]float64, n.seats)
	n.amp = make([]float64, n.subs)
	n.cRe, n.cIm = make([]float64, n.subs), make([]float64, n.subs)
}

// clone returns a copy of n for use by another goroutine at the same time.
func (n *objective) clone() *objective {
	c := *n
	c.allocScratch()
	return &c
}

// value returns the objective at drives, dB^2. If grad is not nil it receives the
// derivatives, by gain in dB and by delay in seconds of each subwoofer in turn.
func (n *objective) value(drives []Drive, grad []float64) float64 {
	// dB per unit of ln |p|^2.
	const perLog = 10 / math.Ln10
	variance, output := 0.0, 0.0
	seats := float64(n.seats)
	// The output is known only at the end, so its derivatives are kept separately.
	var loud []float64
	if grad != nil {
		clear(grad)
		loud = make([]float64, len(grad))
	}
	amp := n.amp[:len(drives)]
	for s, d := range drives {
		amp[s] = math.Exp(d.Gain * math.Ln10 / 20)
		if d.Inverted {
			amp[s] = -amp[s]
		}
	}
	sumRe, sumIm, level := n.sumRe[:n.seats], n.sumIm[:n.seats], n.level[:n.seats]
	for f, w := range n.omega {
		clear(sumRe)
		clear(sumIm)
		for s, d := range drives {
			sin, cos := math.Sincos(-w * d.Delay)
			cr, ci := amp[s]*cos, amp[s]*sin
			n.cRe[s], n.cIm[s] = cr, ci
			i := (f*n.subs + s) * n.seats
			re, im := n.re[i : i+n.seats][:len(sumRe)], n.im[i : i+n.seats][:len(sumRe)]
			for r := range sumRe {
				sumRe[r] += cr*re[r] - ci*im[r]
				sumIm[r] += cr*im[r] + ci*re[r]
			}
		}
		mean := 0.0
		for r := range level {
			level[r] = perLog * ln(sumRe[r]*sumRe[r]+sumIm[r]*sumIm[r]+silence)
			mean += level[r]
		}
		mean /= seats
		v := 0.0
		for _, l := range level {
			v += (l - mean) * (l - mean)
		}
		variance += v / seats
		output += mean
		if grad == nil {
			continue
		}
		for s := range drives {
			i := (f*n.subs + s) * n.seats
			re, im := n.re[i : i+n.seats][:len(sumRe)], n.im[i : i+n.seats][:len(sumRe)]
			cr, ci := n.cRe[s], n.cIm[s]
			// dL = 2 perLog Re(conj(p) dp)/|p|^2, with dp = c T times ln 10/20 per dB
			// of gain, and times -j w per second of delay.
			var varRe, varIm, outRe, outIm float64
			for r := range sumRe {
				pr, pi := cr*re[r]-ci*im[r], cr*im[r]+ci*re[r]
				k := 1 / (sumRe[r]*sumRe[r] + sumIm[r]*sumIm[r] + silence)
				qr, qi := k*(sumRe[r]*pr+sumIm[r]*pi), k*(sumRe[r]*pi-sumIm[r]*pr)
				varRe += (level[r] - mean) * qr
				varIm += (level[r] - mean) * qi
				outRe += qr
				outIm += qi
			}
			grad[2*s] += 2 * varRe
			grad[2*s+1] += 2 * varIm * w * (2 * perLog)
			loud[2*s] += outRe
			loud[2*s+1] += outIm * w * (2 * perLog)
		}
	}
	count := float64(n.freqs)
	lost := max(0, n.full-output/count)
	for i := range grad {
		grad[i] = grad[i]/(count*seats) - 2*n.price*lost*loud[i]/(count*seats)
	}
	return variance/count + n.price*lost*lost
}

// ln returns the natural logarithm of x, which must be positive, finite and
// normal, to within 1e-10: half the time of an evaluation is logarithms, and
// math.Log takes three times as long for digits that no level needs.
//
// x = m 2^e with m from sqrt(1/2) to sqrt(2); ln m = 2 artanh(s), s = (m - 1)/(m +
// 1), as its series up to s^11: the next term is 2 s^13/13, at most 1.7e-11.
func ln(x float64) float64 {
	const (
		half = 0x3fe6a09e667f3bcd // bits of sqrt(1/2)
		frac = 1<<52 - 1
	)
	b := math.Float64bits(x) - half
	e := int64(b) >> 52
	m := math.Float64frombits(b&frac + half)
	s := (m - 1) / (m + 1)
	t := s * s
	return float64(e)*math.Ln2 + 2*s*(1+t*(1.0/3+t*(1.0/5+t*(1.0/7+t*(1.0/9+t*(1.0/11))))))
}
