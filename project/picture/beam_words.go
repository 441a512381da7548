// SPDX-License-Identifier: MIT

package picture

import (
	"fmt"
	"math"

	"earline/project/bs2051"
	"earline/project/place"
)

// String says from where something reaches into the beam past that face.
func (f Face) String() string {
	return [...]string{"above", "the right", "below", "the left"}[f]
}

// Called names what stands in the beam.
func (o *Obstacle) Called() string {
	if o.Standing {
		return fmt.Sprintf("whoever stands up in row %d seat %d", o.Part.Row, o.Part.Seat)
	}
	if o.Part.Kind == place.SpeakerPart {
		return "the box of " + bs2051.InFull(o.Part.Name)
	}
	return o.Part.String()
}

// shadows says what stands in the beam, the worst of each row in one sentence: people who
// stand up, or all else.
func (r *Result) shadows(standing bool) (out []string) {
	type group struct {
		kind place.PartKind
		row  int
		one  int // the index of what belongs to no seat
	}
	var order []group
	worst, count, clear := map[group]*Obstacle{}, map[group]int{}, map[group]float64{}
	for i := range r.InBeam {
		o := &r.InBeam[i]
		if o.Standing != standing {
			continue
		}
		g := group{o.Part.Kind, o.Part.Row, o.Part.Index}
		if count[g]++; count[g] == 1 {
			order = append(order, g)
		}
		if o.Face == Below { // not a number stays one
			clear[g] = math.Max(clear[g], o.ClearAt)
		}
		if w := worst[g]; w == nil || o.Depth > w.Depth {
			worst[g] = o
		}
	}
	for _, g := range order {
		o := worst[g]
		by := fmt.Sprintf("%s from %s", r.show(o.Depth), o.Face)
		if !math.IsInf(o.Upright, 1) && o.Face == Below {
			by = fmt.Sprintf("%s too high", r.show(o.Upright))
		} else if !math.IsInf(o.Upright, 1) {
			by = fmt.Sprintf("%s too low", r.show(o.Upright))
		}
		text := fmt.Sprintf("%s in the beam of %s, %s", upper(o.Called())+" stands", r.Shapes[o.Shape].Called, by)
		if standing {
			text = fmt.Sprintf("%s is in the beam of %s, %s", upper(o.Called()), r.Shapes[o.Shape].Called, by)
		}
		if n := count[g]; n > 1 {
			text += fmt.Sprintf("; so are %d more there", n-1)
		}
		if z, ok := clear[g]; ok {
			text += "; " + r.clearWords(z)
		}
		out = append(out, text+".")
	}
	return out
}

// StandingWords says who is in the beam when standing up, and which height of the lens
// clears them, a sentence for each row.
func (r *Result) StandingWords() []string { return r.shadows(true) }

// clearWords says what a height of the lens that clears something means; z is not a
// number where there is none.
func (r *Result) clearWords(z float64) string {
	switch {
	case math.IsNaN(z):
		return "no height of the lens under the ceiling clears that"
	case z > r.Stands[r.Chosen()].Height.To:
		return fmt.Sprintf("the lens would have to be %s high, beyond its shift", r.show(z))
	}
	return fmt.Sprintf("the lens %s high clears that", r.show(z))
}
