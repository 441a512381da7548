// SPDX-License-Identifier: MIT

package bass

import (
	"math"
	"slices"

	"earline/project/bass/field"
)

// objective evaluates gains, delays and polarities of subwoofers whose sound at
// the seats is known.
//
// The value to minimise is the mean spatial variance, in dB^2, plus price times
// the mean over frequency of the square of the lost output, in dB. Output is lost
// third by third: it is how far the level of a third of an octave lies below the
// best in-phase level. Below the floor, value adds what makes the search turn back.
type objective struct {
	subs, seats, freqs int
	omega              []float64 // 2 pi f
	// re, im are the pressures, [frequency][sub][seat], with the fixed responses.
	re, im []float64
	weight []float64 // of each seat; they add up to 1
	thirds []third
	price  float64
	// Scratch space.
	sumRe, sumIm, level []float64
	apart               []float64 // by seat: weight times level over the mean
	cRe, cIm            []float64 // by sub
	amp                 []float64 // by sub
	loud                []float64 // [third][sub][gain, delay]
	energy              []float64 // by third
}

// third is a band of a third of an octave, as far as the frequencies go.
type third struct {
	middle   float64 // Hz
	from, to int     // frequencies
	share    float64 // of all frequencies
	inPhase  float64 // the best in-phase level: see Limits.GiveUp; dB
	priced   float64 // the level below which output is lost, dB; -Inf is none
	floor    float64 // the least level, dB; -Inf is none
}

// newObjective returns the objective of subs, where no output counts as lost yet.
// weights are the seats'; nil is all alike.
func newObjective(t *field.Transfer, subs []Sub, weights []float64, price float64) *objective {
	n := &objective{subs: t.Sources, seats: t.Receivers, freqs: len(t.Frequencies), price: price}
	n.weight = shares(weights, n.seats)
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
	n.divide()
	n.allocScratch()
	return n
}

// shares returns weights as shares of 1; none are all alike.
func shares(weights []float64, seats int) []float64 {
	all := slices.Clone(weights)
	if len(all) == 0 {
		all = slices.Repeat([]float64{1}, seats)
	}
	sum := 0.0
	for _, w := range all {
		sum += w
	}
	for i := range all {
		all[i] /= sum
	}
	return all
}

// divide sets the thirds, without floors.
func (n *objective) divide() {
	n.thirds = nil
	for f, w := range n.omega {
		mid := thirdOf(w / (2 * math.Pi))
		if k := len(n.thirds); k == 0 || n.thirds[k-1].middle != mid {
			n.thirds = append(n.thirds, third{middle: mid, from: f, inPhase: math.Inf(-1), priced: math.Inf(-1), floor: math.Inf(-1)})
		}
		n.thirds[len(n.thirds)-1].to = f + 1
	}
	for k := range n.thirds {
		b := &n.thirds[k]
		b.share = float64(b.to-b.from) / float64(n.freqs)
	}
}

// thinned returns n at every step-th frequency, where no output counts as lost yet.
func (n *objective) thinned(step int) *objective {
	c := *n
	c.omega, c.re, c.im = nil, nil, nil
	size := n.subs * n.seats
	for f := step / 2; f < n.freqs; f += step {
		c.omega = append(c.omega, n.omega[f])
		c.re = append(c.re, n.re[f*size:(f+1)*size]...)
		c.im = append(c.im, n.im[f*size:(f+1)*size]...)
	}
	c.freqs = len(c.omega)
	c.divide()
	c.allocScratch()
	return &c
}

// merged returns n with the subwoofers of each group playing as one.
func (n *objective) merged(groups [][]int) *objective {
	c := *n
	c.subs = len(groups)
	c.re, c.im = make([]float64, c.subs*n.seats*n.freqs), make([]float64, c.subs*n.seats*n.freqs)
	for f := range n.freqs {
		for g, group := range groups {
			to := (f*c.subs + g) * n.seats
			for _, s := range group {
				from := (f*n.subs + s) * n.seats
				for r := range n.seats {
					c.re[to+r] += n.re[from+r]
					c.im[to+r] += n.im[from+r]
				}
			}
		}
	}
	c.thirds = slices.Clone(n.thirds)
	c.allocScratch()
	return &c
}

// allocScratch gives n scratch space of its own.
func (n *objective) allocScratch() {
	n.sumRe, n.sumIm = make([]float64, n.seats), make([]float64, n.seats)
	n.level, n.apart = make([]float64, n.seats), make([]float64, n.seats)
	n.amp = make([]float64, n.subs)
	n.cRe, n.cIm = make([]float64, n.subs), make([]float64, n.subs)
	n.loud = make([]float64, 2*n.subs*len(n.thirds))
	n.energy = make([]float64, len(n.thirds))
}

// clone returns a copy of n for use by another goroutine at the same time.
func (n *objective) clone() *objective {
	c := *n
	c.allocScratch()
	return &c
}

// hold is what value adds below a floor, dB^2 for each dB^2: enough to turn a search
// back, little enough to leave its slopes usable. What is chosen in the end is
// judged by worth, which knows no bargain with the floor.
const hold = 30

// value returns the objective at drives, dB^2, with what is added below floors. If
// grad is not nil it receives the derivatives, by gain in dB and by delay in seconds
// of each subwoofer in turn.
func (n *objective) value(drives []Drive, grad []float64) float64 {
	v := n.run(drives, grad)
	for k, b := range n.thirds {
		level := n.thirdLevel(k)
		lost, short := max(0, b.priced-level), max(0, b.floor-level)
		v += n.price*b.share*lost*lost + hold*short*short
		slope := -2 * (n.price*b.share*lost + hold*short)
		if grad == nil || slope == 0 {
			continue
		}
		loud := n.loud[2*n.subs*k:][:len(grad)]
		for i := range grad {
			grad[i] += slope * loud[i] / (n.energy[k] + silence)
		}
	}
	return v
}

// thirdLevel returns the level of a third of the last run, dB: the energy mean over
// its frequencies and the seats as weighed.
func (n *objective) thirdLevel(k int) float64 {
	b := n.thirds[k]
	return 10 * math.Log10(n.energy[k]/float64(b.to-b.from)+silence)
}

// worth is how good drives are: first by what is missing to a floor, then by value.
type worth struct {
	short float64 // dB, of the third that lacks most
	value float64 // without what is added below floors, dB^2
}

// trifle is what may lack to a floor unseen, in dB: it is rounding.
const trifle = 1e-4

// beats reports whether a is better than b, by more than rounding.
func (a worth) beats(b worth) bool {
	const least = 1e-6 // dB^2
	if math.Abs(a.short-b.short) > trifle {
		return a.short < b.short
	}
	return a.value < b.value-least
}

// judge returns the worth of drives.
func (n *objective) judge(drives []Drive) worth {
	w := worth{value: n.run(drives, nil)}
	for k, b := range n.thirds {
		level := n.thirdLevel(k)
		lost := max(0, b.priced-level)
		w.value += n.price * b.share * lost * lost
		w.short = max(w.short, b.floor-level)
	}
	return w
}

// levels returns the levels of the thirds at drives, dB.
func (n *objective) levels(drives []Drive) []float64 {
	n.run(drives, nil)
	all := make([]float64, len(n.thirds))
	for k := range all {
		all[k] = n.thirdLevel(k)
	}
	return all
}

// run adds up the subwoofers, leaves the energy of the thirds in n and returns the
// mean spatial variance, dB^2. If grad is not nil it receives the derivatives of that,
// and n.loud those of the energies, times ln 10/10.
func (n *objective) run(drives []Drive, grad []float64) float64 {
	// dB per unit of ln |p|^2.
	const perLog = 10 / math.Ln10
	variance := 0.0
	if grad != nil {
		clear(grad)
		clear(n.loud)
	}
	clear(n.energy)
	amp := n.amp[:len(drives)]
	for s, d := range drives {
		amp[s] = math.Exp(d.Gain * math.Ln10 / 20)
		if d.Inverted {
			amp[s] = -amp[s]
		}
	}
	sumRe, sumIm, level := n.sumRe[:n.seats], n.sumIm[:n.seats], n.level[:n.seats]
	apart, weight := n.apart[:n.seats], n.weight[:n.seats]
	for k, b := range n.thirds {
		for f := b.from; f < b.to; f++ {
			w := n.omega[f]
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
			mean, energy := 0.0, 0.0
			for r := range level {
				e := sumRe[r]*sumRe[r] + sumIm[r]*sumIm[r]
				level[r] = perLog * ln(e+silence)
				mean += weight[r] * level[r]
				energy += weight[r] * e
			}
			n.energy[k] += energy
			v := 0.0
			for r, l := range level {
				apart[r] = weight[r] * (l - mean)
				v += apart[r] * (l - mean)
			}
			variance += v
			if grad == nil {
				continue
			}
			loud := n.loud[2*n.subs*k:][:2*n.subs]
			for s := range drives {
				i := (f*n.subs + s) * n.seats
				re, im := n.re[i : i+n.seats][:len(sumRe)], n.im[i : i+n.seats][:len(sumRe)]
				cr, ci := n.cRe[s], n.cIm[s]
				// dL = 2 perLog Re(conj(p) dp)/|p|^2, with dp = c T times ln 10/20 per dB
				// of gain, and times -j w per second of delay.
				var varRe, varIm, outRe, outIm float64
				for r := range sumRe {
					pr, pi := cr*re[r]-ci*im[r], cr*im[r]+ci*re[r]
					qr, qi := sumRe[r]*pr+sumIm[r]*pi, sumRe[r]*pi-sumIm[r]*pr
					c := apart[r] / (sumRe[r]*sumRe[r] + sumIm[r]*sumIm[r] + silence)
					varRe += c * qr
					varIm += c * qi
					outRe += weight[r] * qr
					outIm += weight[r] * qi
				}
				late := w * (2 * perLog)
				grad[2*s] += 2 * varRe
				grad[2*s+1] += 2 * varIm * late
				loud[2*s] += outRe
				loud[2*s+1] += outIm * late
			}
		}
	}
	count := float64(n.freqs)
	for i := range grad {
		grad[i] /= count
	}
	return variance / count
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
