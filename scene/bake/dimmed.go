// SPDX-License-Identifier: MIT

package bake

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"earline/project"
	"earline/project/light"
	"earline/scene"
)

// Dimmed says how the layers are set.
type Dimmed struct {
	Levels  []float64 // by layer; of the picture, the luminance of its white in cd/m²
	Picture int       // the layer of the picture
	// Exposure is by how many stops more is shown than the eye would see, from -MostStops
	// to MostStops.
	Exposure float64
	// FromSeat is the seat, counted from 0, in which the camera is, or scene.None.
	FromSeat int
}

// MostStops is how far the exposure may be from what is chosen by itself: eight times the
// light. No source.
const MostStops = 3

// In returns how a scene of the model's design sets its layers. The picture runs in the
// show alone, as white as the design's projector makes it.
func In(m *light.Model, s project.Scene) Dimmed {
	d := Dimmed{Levels: make([]float64, m.Layers), Picture: m.Picture, FromSeat: scene.None}
	for i := range m.Design.LightGroups {
		d.Levels[i] = m.Design.LightGroups[i].Scenes.At(s)
	}
	if s == project.Show {
		d.Levels[m.Picture] = m.White()
	}
	return d
}

// Dark says why nothing is lit with the layers set so; empty where something is.
func Dark(m *light.Model, d Dimmed) string {
	on := false
	for _, level := range d.Levels {
		on = on || level > 0
	}
	if !on {
		return "every light group is at level 0"
	}
	for i := range m.Emitters {
		if e := &m.Emitters[i]; e.Layer < len(d.Levels) && d.Levels[e.Layer] > 0 && e.Flux > 0 {
			return ""
		}
	}
	return "no lamp that is on is in the room"
}

// Lit returns a *project.Fault when nothing of the model's design is lit in a scene, with
// the scenes in which something is.
func Lit(m *light.Model, s project.Scene) error {
	if len(m.Design.LightGroups) == 0 {
		return &project.Fault{Field: "light_groups", Found: "none", Allowed: "one at least, for the light of a scene; the inspector adds them under Light"}
	}
	why := Dark(m, In(m, s))
	if why == "" {
		return nil
	}
	var lit []string
	for _, other := range project.LightScenes() {
		if Dark(m, In(m, other)) == "" {
			lit = append(lit, string(other))
		}
	}
	if lit == nil {
		lit = []string{"a scene in which a light group is on"}
	}
	return &project.Fault{Field: "light_groups", Found: fmt.Sprintf("in the scene %s %s", s, why), Allowed: strings.Join(lit, ", ")}
}

// Towards returns the levels a share of the way, from 0 to 1, from d to e. Dimmers go by
// the square of their dial, so that the change looks even: common practice, no source.
func (d Dimmed) Towards(e Dimmed, share float64) Dimmed {
	out := d
	out.Levels = make([]float64, len(d.Levels))
	for i := range out.Levels {
		dial := (1-share)*math.Sqrt(d.Levels[i]) + share*math.Sqrt(e.Levels[i])
		out.Levels[i] = dial * dial
	}
	return out
}

// Same reports whether d and e show the same light to the same eyes.
func (d Dimmed) Same(e Dimmed) bool {
	return d.FromSeat == e.FromSeat && d.Exposure == e.Exposure && slices.Equal(d.Levels, e.Levels)
}
