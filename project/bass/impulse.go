// SPDX-License-Identifier: MIT

package bass

import (
	"context"
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"

	"earline/geometry"
	"earline/project"
	"earline/project/bass/field"
	"earline/project/bass/wave"
)

// Sound is turned from frequencies into time by a transform of instants values, spacing
// hertz apart, of which those from lowestLine to highestLine are computed: 4 s of it, in
// complex steps of 3.9 ms, of which the magnitude is the envelope.
const (
	spacing     = 0.25
	instants    = 1024
	lowestLine  = 8   // Hz
	highestLine = 230 // Hz, over the edge of the highest third
	step        = 1 / (spacing * instants)
	// before is how many of the instants, at the end of the circle, lie before the sound.
	before = instants / 8
)

// lines returns the frequencies that are transformed, hertz.
func lines() (all []float64) {
	for f := float64(lowestLine); f <= highestLine; f += spacing {
		all = append(all, f)
	}
	return all
}

// shortest is the product of bandwidth and reverberation time under which the filter of
// a band, run backwards in time, rings as long as the sound (Jacobsen and Rindel 1987, in
// ISO 3382-2; from memory. Run forwards it is 16).
const shortest = 4

// thirdFilter returns the response at f hertz of a band-pass of a third of an octave
// about mid: a Butterworth filter of third order (IEC 61260-1, class 1).
func thirdFilter(f, mid float64) complex128 {
	lo, hi := edges(mid)
	s := complex(0, mid/(hi-lo)*(f/mid-mid/f))
	return 1 / ((s + 1) * (s*s + s + 1))
}

// thirdsOf returns how long each third of an octave rings in sound at lines, as a mean of
// the energy over all its sources and receivers.
func thirdsOf(t *field.Transfer) (out [project.BassThirdCount]ThirdDecay) {
	transform := fourier.NewCmplxFFT(instants)
	for i, hz := range project.BassThirds() {
		mid := middleOf(i)
		energy := make([]float64, instants)
		for s := range t.Sources {
			for r := range t.Receivers {
				x := make([]complex128, instants)
				for k, p := range t.Row(s, r) {
					f := t.Frequencies[k]
					x[int(math.Round(f/spacing))] = p * cmplx.Conj(thirdFilter(f, mid)) // backwards in time
				}
				for n, v := range transform.Sequence(nil, x) {
					energy[n] += real(v)*real(v) + imag(v)*imag(v)
				}
			}
		}
		// The filter, run backwards, rings before the sound.
		energy = append(append([]float64(nil), energy[instants-before:]...), energy[:instants-before]...)
		for n := instants - 2; n >= 0; n-- {
			energy[n] += energy[n+1]
		}
		out[i].Hz = hz
		const longest = 1 / spacing // s, of sound that is there
		if time, ok := fitted(energy, step); ok && time < longest {
			lo, hi := edges(mid)
			out[i].Computed, out[i].Short = time, (hi-lo)*time < shortest
		}
	}
	return out
}

// rings returns how long each third of an octave rings by finite differences, from a
// corner of the floor, which sounds all modes, to the seats.
func (p *Plan) rings(ctx context.Context, progress func(float64), workers int) ([project.BassThirdCount]ThirdDecay, error) {
	q := *p
	q.Frequencies = lines()
	const enough = 6 // seats; more hardly alter a mean over the room
	if n := len(p.Ears); n > enough {
		q.Ears = nil
		for i := range enough {
			q.Ears = append(q.Ears, p.Ears[i*(n-1)/(enough-1)])
		}
	}
	t, err := q.Wave(ctx, []geometry.Vec{p.cornerOfFloor()}, wave.Options{Progress: progress, Workers: workers, Decay: 60})
	if err != nil {
		return [project.BassThirdCount]ThirdDecay{}, err
	}
	out := thirdsOf(t)
	// Below the first mode nothing rings by itself.
	lo, hi := p.Room.Footprint.Bounds()
	first := p.Room.Speed / (2 * hi.Dist(lo))
	if p.box != nil {
		first = p.Room.Speed / (2 * max(p.box.Length, p.box.Width, p.box.Height))
	}
	for i := range out {
		if _, top := edges(middleOf(i)); top < first {
			out[i].Computed, out[i].Short = 0, false
		}
	}
	return out, nil
}

// cornerOfFloor returns a place in a corner of the floor that is not in something solid.
func (p *Plan) cornerOfFloor() geometry.Vec {
	const off = 0.15 // m from both walls and the floor
	room := p.Room.Footprint
	for i, c := range room {
		n, m := room.InwardNormal(i), room.InwardNormal((i+len(room)-1)%len(room))
		q := geometry.Vec2{X: c.X + off*(n.X+m.X), Y: c.Y + off*(n.Y+m.Y)}
		if !room.Contains(q) || n.X*m.X+n.Y*m.Y < -0.9 {
			continue
		}
		free := true
		for _, b := range slices.Concat(p.Room.Blocks, p.Chairs) {
			free = free && !(b.Footprint.Contains(q) && b.Bottom <= off && b.Top >= off)
		}
		if free {
			return geometry.V(q.X, q.Y, off)
		}
	}
	return p.Ears[0]
}
