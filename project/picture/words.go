// SPDX-License-Identifier: MIT

package picture

import (
	"fmt"
	"math"

	"earline/geometry/unit"
	"earline/project"
)

// Luminance in words: "52.0 cd/m² (15.2 fL)".
func candela(l float64) string { return fmt.Sprintf("%.1f cd/m² (%.1f fL)", l, l/FootLambert) }

// show prints a length in the units of the design.
func (r *Result) show(v float64) string {
	return unit.Length(v).Format(r.Design.Units != project.Imperial)
}

// Short says what falls short, a sentence each; none when nothing does.
func (r *Result) Short() []string {
	var out []string
	out = append(out, r.unmasked()...)
	for i := range r.Shapes {
		s := &r.Shapes[i]
		out = append(out, r.overhang(s)...)
		if r.Projected {
			out = append(out, r.dim(s)...)
		}
	}
	if r.Projected {
		out = append(out, r.lens()...)
		out = append(out, r.shadows(false)...)
	}
	return out
}

// overhang says where a picture is larger than the screen.
func (r *Result) overhang(s *Shape) (out []string) {
	for _, side := range []struct {
		more  float64
		where string
	}{{-s.Border.Across, "to the left and to the right"}, {-s.Border.Upright, "above and below"}} {
		if side.more > 0 {
			out = append(out, fmt.Sprintf("%s is larger than the screen when all pictures keep its %s: by %s %s. %.4g:1 just fits.",
				s.Called, r.Design.Picture.Held, r.show(side.more), side.where, r.Screen.Aspect()))
		}
	}
	return out
}

// dim says which shape is too dark from the main position.
func (r *Result) dim(s *Shape) []string {
	f, ref := &s.Fills[r.Chosen()], References()[0]
	seen := r.Toward(&r.Main, f.Aged)
	if !r.Main.Before || ref.At(seen) >= 0 {
		return nil
	}
	when := "once aged"
	if ref.At(r.Toward(&r.Main, f.New)) < 0 {
		when = "even new"
	}
	return []string{fmt.Sprintf("%s is too dark %s: %s from the main position, a %s asks for %g ± %g cd/m². %.0f lm must reach the screen plane; aged it is %.0f lm.",
		s.Called, when, candela(seen), ref.Name, ref.White, ref.Within, Flux(ref.White-ref.Within, r.mainGain(), f.Raster.Area()), r.Aged)}
}

// Notes says what the numbers rest on, a sentence each.
func (r *Result) Notes() []string {
	out := []string{"Luminance is of full white at the middle of the picture, light spread evenly over the imager; edges and corners are darker. " +
		"Gain and luminance are those of the cloth as it hangs: a perforated one has lost its holes already."}
	if len(r.Design.Picture.Gains) == 0 {
		out = append(out, "No gain by angle is given: every seat is taken to see the screen as bright. That holds for matt white alone.")
	}
	if r.Projected {
		out = append(out, "What a maker states is not what is left at the settings used, nor late in life: both shares are the model's (0.7 to 0.85 each is common practice, no source).",
			"Pictures of high dynamic range have no luminance that all follow; the references are for standard ones.")
		for k, f := range Fills() {
			if f == project.Anamorphic && r.Chosen() == k && r.Design.Projector.Lens == 0 {
				out = append(out, "No loss in the anamorphic lens is given: with one, less light arrives.")
			}
		}
	}
	out = append(out, r.spills()...)
	if share := r.unused(); share > 0.2 {
		out = append(out, fmt.Sprintf("The light beside the picture, up to %.0f %% of what is sent, falls on the borders as dark grey: mask it.", math.Floor(100*share)))
	}
	return out
}

// spills says which raster is wider than the wall that it falls on, and what width is not.
func (r *Result) spills() (out []string) {
	if !r.Projected {
		return nil
	}
	lo, hi := r.Design.Room.Polygon().Bounds()
	most := 2 * min(hi.Y-r.Screen.Across, r.Screen.Across-lo.Y)
	for i := range r.Shapes {
		s := &r.Shapes[i]
		if w := s.Fills[r.Chosen()].Raster.Width; w > most {
			out = append(out, fmt.Sprintf("The raster of %s is %s wide and lights the side walls: between them %s is the most.", s.Called, r.show(w), r.show(most)))
		}
	}
	return out
}

// unused returns the greatest share of the light that misses a picture, as the design
// fills the screen; 0 without a projector.
func (r *Result) unused() (most float64) {
	for i := range r.Shapes {
		if r.Projected {
			most = max(most, 1-r.Shapes[i].Fills[r.Chosen()].Used)
		}
	}
	return most
}

// Caution is what is to be heeded by whoever mounts and lights a projector.
const Caution = "Do not look into the lens, and keep eyes and what can burn out of the beam close to it. A projector overhead is a load: " +
	"who is licensed to must choose its fixing and its mains."
