// SPDX-License-Identifier: MIT

package place

import "math"

// A quantile row holds a body size in millimetres at percentiles 1, 5, 50, 95, 99.
type quantiles [5]float64

// quantileScores are the standard normal scores of percentiles 1, 5, 50, 95, 99.
// Between them sizes are interpolated along the score, beyond them along the
// last leg, which follows the bell shape that body sizes have.
var quantileScores = quantiles{-2.326348, -1.644854, 0, 1.644854, 2.326348}

// bodySize is one dimension of the body, men's and women's.
type bodySize struct{ men, women quantiles }

// Body sizes of ANSUR II (US Army Natick, survey of 2012, report
// NATICK/TR-15/007; 4082 men, 1986 women), sitting erect on a hard flat seat, stature standing,
// percentiles computed from the public data. Soldiers, not the public: DIN
// 33402-2 gives civilians' sitting eye heights 5 to 10 mm apart for men and up
// to 7 mm for women.
var (
	sittingHeight   = bodySize{quantiles{835.8, 860, 918, 977, 1001.2}, quantiles{784, 803, 857, 912, 932.2}}
	eyeHeight       = bodySize{quantiles{728, 750, 804, 860, 883}, quantiles{681, 698, 748, 799, 816}}
	tragionHeight   = bodySize{quantiles{706, 731, 786, 845, 869}, quantiles{660.9, 677, 730, 784.8, 804.2}}
	tragionToCrown  = bodySize{quantiles{116, 121, 131, 141, 145}, quantiles{110, 116, 127, 137, 142}}
	headBreadth     = bodySize{quantiles{142, 146, 154, 163, 168}, quantiles{136, 140, 147, 156, 160}}
	headLength      = bodySize{quantiles{182, 188, 200, 211, 215}, quantiles{171.8, 178, 190, 202, 208}}
	shoulderBreadth = bodySize{quantiles{439, 459, 509, 567, 593}, quantiles{388, 406, 450, 499, 522}}
	pupilDistance   = bodySize{quantiles{56, 58.5, 64, 70, 72.5}, quantiles{53.5, 55.5, 62, 67.5, 70.5}}
	hipBreadth      = bodySize{quantiles{317, 333, 378, 431, 462}, quantiles{332.7, 348, 397, 456, 485}}
	buttockKnee     = bodySize{quantiles{550.8, 569, 617, 669, 692}, quantiles{519, 541, 589, 646, 672.2}}
	stature         = bodySize{quantiles{1601.6, 1648, 1755, 1870, 1927}, quantiles{1482.5, 1525, 1626, 1740, 1777.6}}
	kneeHeight      = bodySize{quantiles{493, 509, 553, 602, 624.2}, quantiles{451, 469.2, 510, 557, 580}}
)

// at returns the size at percentile p (0 to 100, both excluded) of a
// population of which the share women (0 to 1) are women, in metres. It is the
// percentile of the mixed population, not a mix of the percentiles.
func (b bodySize) at(p, women float64) float64 {
	p = min(max(p, 0.01), 99.99) / 100
	switch {
	case women <= 0:
		return b.men.size(score(p)) / 1000
	case women >= 1:
		return b.women.size(score(p)) / 1000
	}
	// The share of people below a size grows steadily with it, and the mix's
	// percentile lies between the women's and the men's: Newton's steps from
	// there, or halves where one would leave what is known to hold it.
	z := score(p)
	lo, hi := b.women.size(z), b.men.size(z)
	mm := lo*women + hi*(1-women)
	if lo > hi {
		lo, hi = hi, lo
	}
	const fine = 1e-7 // mm; steps so short have long since squared the error
	for range 64 {
		m, dm := b.men.below(mm)
		w, dw := b.women.below(mm)
		over := (1-women)*m + women*w - p
		if over < 0 {
			lo = mm
		} else {
			hi = mm
		}
		next := mm - over/((1-women)*dm+women*dw)
		if !(next >= lo && next <= hi) {
			next = (lo + hi) / 2
		}
		step := math.Abs(next - mm)
		mm = next
		if step <= fine || hi-lo <= fine {
			break
		}
	}
	return mm / 1000
}

// below returns the share of people of less than that size, and the density
// there, per millimetre.
func (q quantiles) below(mm float64) (share, density float64) {
	z, slope := q.score(mm)
	return normal(z), math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) * slope
}

// size returns the size, in millimetres, at normal score z.
func (q quantiles) size(z float64) float64 {
	i := 0
	for i < len(q)-2 && z > quantileScores[i+1] {
		i++
	}
	return q[i] + (z-quantileScores[i])*(q[i+1]-q[i])/(quantileScores[i+1]-quantileScores[i])
}

// score is the inverse of size, and its slope.
func (q quantiles) score(mm float64) (z, slope float64) {
	i := 0
	for i < len(q)-2 && mm > q[i+1] {
		i++
	}
	slope = (quantileScores[i+1] - quantileScores[i]) / (q[i+1] - q[i])
	return quantileScores[i] + (mm-q[i])*slope, slope
}

// normal returns the share of a normal population below score z.
func normal(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// score returns the normal score below which a share p lies.
func score(p float64) float64 { return -math.Sqrt2 * math.Erfcinv(2*p) }
