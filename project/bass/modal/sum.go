// SPDX-License-Identifier: MIT

package modal

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"

	"earline/geometry"
	"earline/project"
	"earline/project/bass/field"
)

// Limits of the size.
const (
	// mostModes keeps a typing error (a room of 400 m) from filling the memory: the
	// tables of a million modes take some 500 MB.
	mostModes = 1_000_000
	// mostTable is the largest table of resonances, in numbers.
	mostTable = 200_000_000
	// block is the run of modes summed at a time, so that its part of the table
	// stays in the cache while all pairs go over it.
	block = 512
)

// Sum is the sum over the modes of one room at given listeners and frequencies,
// ready for any sources: the tables of resonances and of the modes at the
// listeners are kept, so that a moved source costs only its own products. It
// does not change once made and may be used from any goroutine.
type Sum struct {
	room            Room
	frequencies     []float64
	modes           []Mode
	upTo            float64
	least           float64 // the smallest rate of decay, 1/s
	smoothingRadius float64 // s of near.go, m
	receivers       []geometry.Vec
	heard           []float64 // e_n psi_n at the receivers, [receiver][mode]
	bands           []band
	near, far       [][]float64 // tables by band: rows re then im, columns modes
	carry           [][]float64 // by band: [frequency][node]
	// ks2 are (k s)^2 by band, at the nodes or, without far modes, at each frequency.
	ks2    [][]complex128
	powers int // of (k s)^2
}

// New prepares the sum for a room. Modes up to upTo hertz are kept, the still
// one included; 0 keeps those up to four times the highest frequency. Leaving out
// the others causes a smooth loss that grows towards the source: Remarks of a
// Transfer say how much it can matter. The frequencies are in hertz, ascending.
//
// It returns a *project.Fault for sizes that are not positive, frequencies that
// do not ascend from above 0, a rate of decay that is negative or not a number,
// a receiver outside the room, a frequency that is exactly that of an undamped
// mode, and more than a million modes.
func New(room Room, damping Damping, receivers []geometry.Vec, frequencies []float64, upTo float64) (*Sum, error) {
	if err := errors.Join(room.check(), room.inside("listener", receivers), field.Ascending(frequencies)); err != nil {
		return nil, err
	}
	if upTo == 0 {
		upTo = 2.5 * frequencies[len(frequencies)-1]
	}
	if err := field.Positive("highest mode", upTo); err != nil {
		return nil, err
	}
	if n := room.Count(upTo); n > mostModes {
		return nil, &project.Fault{Field: "highest mode", Found: fmt.Sprintf("%.0f Hz, some %.0f modes", upTo, n),
			Allowed: fmt.Sprintf("at most %d modes", mostModes)}
	}
	s := &Sum{room: room, upTo: upTo, receivers: slices.Clone(receivers), modes: room.all(upTo), least: math.Inf(1)}
	s.frequencies = append(s.frequencies, frequencies...)
	rates := make([]float64, len(s.modes))
	own := make([]float64, len(s.modes))
	mean := 0.0
	for i, m := range s.modes {
		rates[i], own[i] = damping(m), m.Frequency
		if !(rates[i] >= 0) || math.IsInf(rates[i], 0) {
			return nil, &project.Fault{Field: fmt.Sprintf("decay of mode (%d, %d, %d)", m.P, m.Q, m.R),
				Found: fmt.Sprint(rates[i], " 1/s"), Allowed: "0 or more"}
		}
		if _, hit := slices.BinarySearch(frequencies, m.Frequency); hit && rates[i] == 0 {
			return nil, &project.Fault{Field: fmt.Sprintf("decay of mode (%d, %d, %d)", m.P, m.Q, m.R),
				Found: fmt.Sprintf("0 1/s and asked for at its own %v Hz", m.Frequency), Allowed: "some damping there"}
		}
		s.least = min(s.least, rates[i])
		mean += rates[i] / float64(len(rates))
	}
	top := frequencies[len(frequencies)-1]
	s.smoothingRadius = radius(upTo, top, room.speed())
	s.powers = powers(math.Pow(2*math.Pi*top*s.smoothingRadius/room.speed(), 2))
	s.bands = split(s.frequencies, own)
	if err := s.tables(rates, mean); err != nil {
		return nil, err
	}
	s.heard = make([]float64, len(receivers)*len(s.modes))
	for i, p := range receivers {
		s.shape(p, 1, s.heard[i*len(s.modes):(i+1)*len(s.modes)])
	}
	return s, nil
}

// tables fills in the resonances.
func (s *Sum) tables(rates []float64, mean float64) error {
	size := 0
	for _, b := range s.bands {
		size += 2 * (b.hi - b.lo) * (b.end - b.near)
		if b.far {
			size += 2 * nodes * len(s.modes)
		}
	}
	if size > mostTable {
		return &project.Fault{Field: "highest mode", Found: fmt.Sprintf("%.0f Hz at %d frequencies", s.upTo, len(s.frequencies)),
			Allowed: "fewer modes or frequencies: the table would not fit"}
	}
	ks2 := func(f []float64) []complex128 {
		all := make([]complex128, len(f))
		for i := range f {
			k := complex(2*math.Pi*f[i], -mean) * complex(s.smoothingRadius/s.room.speed(), 0)
			all[i] = k * k
		}
		return all
	}
	for _, b := range s.bands {
		f := s.frequencies[b.lo:b.hi]
		s.near = append(s.near, s.resonances(f, s.modes[b.near:b.end], rates[b.near:b.end]))
		if !b.far {
			s.far, s.carry, s.ks2 = append(s.far, nil), append(s.carry, nil), append(s.ks2, ks2(f))
			continue
		}
		at, carry := chebyshev(f[0], f[len(f)-1], f)
		s.ks2 = append(s.ks2, ks2(at))
		far := s.resonances(at, s.modes, rates)
		for row := range 2 * nodes {
			clear(far[row*len(s.modes)+b.near : row*len(s.modes)+b.end])
		}
		s.far, s.carry = append(s.far, far), append(s.carry, carry)
	}
	return nil
}

// resonances returns exp(-(s/c)^2 D)/D with D = w_n^2 + d_n^2 - w^2 + 2 j d_n w:
// a row of real parts for each frequency, then a row of imaginary parts for each.
func (s *Sum) resonances(frequencies []float64, modes []Mode, rates []float64) []float64 {
	n := len(modes)
	table := make([]float64, 2*len(frequencies)*n)
	t := s.smoothingRadius / s.room.speed()
	t *= t
	// exp(-t D) in factors: of the mode, of the frequency, and a small turn that
	// depends on both but is alike for modes of like decay.
	w2 := make([]float64, n)
	faded := make([]float64, n)
	for k, m := range modes {
		wn := 2 * math.Pi * m.Frequency
		w2[k] = wn*wn + rates[k]*rates[k]
		faded[k] = math.Exp(-t * w2[k])
	}
	type turn struct{ sin, cos float64 }
	turns := map[float64]turn{}
	for i, f := range frequencies {
		w := 2 * math.Pi * f
		risen := math.Exp(t * w * w)
		clear(turns)
		last, turned := math.NaN(), turn{}
		re := table[i*n : (i+1)*n]
		im := table[(len(frequencies)+i)*n : (len(frequencies)+i+1)*n]
		for k := range modes {
			if rates[k] != last {
				last = rates[k]
				var known bool
				if turned, known = turns[last]; !known {
					turned.sin, turned.cos = math.Sincos(-t * 2 * last * w)
					turns[last] = turned
				}
			}
			a, b := w2[k]-w*w, 2*rates[k]*w
			d := faded[k] * risen / (a*a + b*b)
			re[k] = d * (a*turned.cos + b*turned.sin)
			im[k] = d * (a*turned.sin - b*turned.cos)
		}
	}
	return table
}

// shape sets out to scale times sqrt(e_n) psi_n at p.
func (s *Sum) shape(p geometry.Vec, scale float64, out []float64) {
	axis := func(at, length float64, index func(Mode) int) []float64 {
		most := 0
		for _, m := range s.modes {
			most = max(most, index(m))
		}
		v := make([]float64, most+1)
		for i := range v {
			v[i] = math.Sqrt(weight(i)) * math.Cos(float64(i)*math.Pi*at/length)
		}
		return v
	}
	x := axis(p.X, s.room.Length, func(m Mode) int { return m.P })
	y := axis(p.Y, s.room.Width, func(m Mode) int { return m.Q })
	z := axis(p.Z, s.room.Height, func(m Mode) int { return m.R })
	for i, m := range s.modes {
		out[i] = scale * x[m.P] * y[m.Q] * z[m.R]
	}
}

// Modes returns the number of modes kept, the still one included.
func (s *Sum) Modes() int { return len(s.modes) }

// Transfer returns the pressure of each source at each listener. A source
// outside the room is a *project.Fault.
func (s *Sum) Transfer(sources []geometry.Vec) (*field.Transfer, error) {
	t := field.New(len(sources), len(s.receivers), s.frequencies)
	if err := s.fill(t, 0, sources); err != nil {
		return nil, err
	}
	t.Remarks = s.remarks()
	return t, nil
}

// Move recomputes in t, which must come from s.Transfer, the part of one source
// that now stands elsewhere. A place outside the room is a *project.Fault, and t
// stays as it was. It panics when t has another shape or no such source.
func (s *Sum) Move(t *field.Transfer, source int, to geometry.Vec) error {
	if t.Receivers != len(s.receivers) || len(t.Frequencies) != len(s.frequencies) || source < 0 || source >= t.Sources {
		panic("modal: Move: not a transfer of this sum, or no such source")
	}
	return s.fill(t, source, []geometry.Vec{to})
}

// fill computes the sources from index first on.
//
// Each pair of source and listener has one weight per mode; the answer is the
// table times the weights. A matrix by a vector at a time, with the rows re and
// im apart, is what gonum's kernels do fastest here.
func (s *Sum) fill(t *field.Transfer, first int, sources []geometry.Vec) error {
	if err := s.room.inside("source", sources); err != nil {
		return err
	}
	n, pairs, count := len(s.modes), len(sources)*len(s.receivers), len(s.frequencies)
	c := s.room.speed()
	scale := 4 * math.Pi * c * c / s.room.Volume()
	sent := make([]float64, len(sources)*n)
	for i, p := range sources {
		s.shape(p, scale, sent[i*n:(i+1)*n])
	}
	farBands := 0
	for _, b := range s.bands {
		if b.far {
			farBands++
		}
	}
	direct := make([]float64, pairs*2*count)
	atNodes := make([]float64, pairs*2*nodes*farBands)
	var weights [block]float64
	for lo := 0; lo < n; lo += block {
		hi := min(lo+block, n)
		for pair := range pairs {
			w := weights[:hi-lo]
			a := sent[pair/len(s.receivers)*n+lo : pair/len(s.receivers)*n+hi]
			h := s.heard[pair%len(s.receivers)*n+lo : pair%len(s.receivers)*n+hi]
			for i := range w {
				w[i] = a[i] * h[i]
			}
			far := atNodes[pair*2*nodes*farBands:]
			for i, b := range s.bands {
				if b.far {
					addProduct(far[:2*nodes], s.far[i][lo:], 2*nodes, n, w)
					far = far[2*nodes:]
				}
				if from, to := max(lo, b.near), min(hi, b.end); from < to {
					rows := 2 * (b.hi - b.lo)
					out := direct[pair*2*count+2*b.lo:]
					addProduct(out[:rows], s.near[i][from-b.near:], rows, b.end-b.near, w[from-lo:to-lo])
				}
			}
		}
	}
	images := make([]float64, s.powers)
	for pair := range pairs {
		any := s.nearby(sources[pair/len(s.receivers)], s.receivers[pair%len(s.receivers)], images)
		row := t.Row(first+pair/len(s.receivers), pair%len(s.receivers))
		far := atNodes[pair*2*nodes*farBands:]
		for i, b := range s.bands {
			k := b.hi - b.lo
			out := direct[pair*2*count+2*b.lo:][:2*k]
			if any {
				re, im := out[:k], out[k:]
				if b.far {
					re, im = far[:nodes], far[nodes:2*nodes]
				}
				for f, y := range s.ks2[i] {
					p := polynomial(images, y)
					re[f] += real(p)
					im[f] += imag(p)
				}
			}
			if b.far {
				addProduct(out[:k], s.carry[i], k, nodes, far[:nodes])
				addProduct(out[k:], s.carry[i], k, nodes, far[nodes:2*nodes])
				far = far[2*nodes:]
			}
			for f := range k {
				row[b.lo+f] = complex(out[f], out[k+f])
			}
		}
	}
	return nil
}

// polynomial returns the sum of c[m] y^m.
func polynomial(c []float64, y complex128) complex128 {
	// Two real recurrences (Knuth, The Art of Computer Programming 2, 4.6.4) would
	// be shorter still; this is not where the time goes.
	yr, yi := real(y), imag(y)
	var re, im float64
	for m := len(c) - 1; m >= 0; m-- {
		re, im = re*yr-im*yi+c[m], re*yi+im*yr
	}
	return complex(re, im)
}

// addProduct adds to out the product of the matrix, rows by len(x) with the
// given stride, and x.
func addProduct(out, matrix []float64, rows, stride int, x []float64) {
	blas64.Gemv(blas.NoTrans, 1,
		blas64.General{Rows: rows, Cols: len(x), Stride: stride, Data: matrix},
		blas64.Vector{N: len(x), Inc: 1, Data: x}, 1,
		blas64.Vector{N: rows, Inc: 1, Data: out})
}

// remarks says what the sum stands on.
func (s *Sum) remarks() []string {
	all := []string{
		"Sum over modes: holds for a closed rectangular room with light damping; furniture, open doors and recesses are not in it.",
		fmt.Sprintf("%d modes up to %.0f Hz are kept, and what lies above them is made good from image sources.", len(s.modes), s.upTo),
	}
	top := s.frequencies[len(s.frequencies)-1]
	if s.upTo < 1.7*top {
		all = append(all, fmt.Sprintf("Modes are kept to less than 1.7 times the highest frequency: above %.0f Hz levels may be off.", s.upTo/1.7))
	}
	switch {
	case s.least == 0:
		all = append(all, "A mode without damping rings for ever: at its own frequency the level has no meaning.")
	default:
		if limit := Schroeder(rateTime(s.least), s.room.Volume()); top > limit {
			all = append(all, fmt.Sprintf("Above %.0f Hz (Schroeder frequency) modes overlap: read averages there, not single dips.", limit))
		}
	}
	return all
}

// rateTime returns the reverberation time, in seconds, of a rate of decay.
func rateTime(d float64) float64 { return 3 * math.Ln10 / d }
