// SPDX-License-Identifier: MIT

package picture

import (
	"fmt"
	"math"
	"strings"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// Kept is how large all shapes are when they keep one thing of the screen.
type Kept struct {
	Held project.Held
	// Pictures and Borders are by shape; see Shape.
	Pictures []Frame
	Borders  []Sides
	// Filled is the share of the screen's own picture that each shape fills; over 1 where it
	// is larger.
	Filled []float64
}

// Kepts returns what the shapes come to by constant height, width and area, and each as
// large as the screen holds.
func (r *Result) Kepts() [4]Kept {
	var out [4]Kept
	for i, h := range [4]project.Held{project.HeldHeight, project.HeldWidth, project.HeldArea, ""} {
		k := Kept{Held: h}
		for _, s := range r.Shapes {
			f := held(r.Screen, h, s.Aspect.Aspect)
			k.Pictures = append(k.Pictures, f)
			k.Borders = append(k.Borders, r.borders(f))
			k.Filled = append(k.Filled, f.Area()/r.Screen.Area())
		}
		out[i] = k
	}
	return out
}

// borders returns what is left of the screen round f.
func (r *Result) borders(f Frame) Sides {
	return Sides{Across: border(r.Screen.Width, f.Width), Upright: border(r.Screen.Height, f.Height)}
}

// Frames returns the shapes of picture of d and what they are called, where its room is not
// needed.
func Frames(d *project.Design) (frames []Frame, names []string) {
	screen := screenFrame(d)
	for _, a := range shapes(d) {
		frames, names = append(frames, held(screen, d.Picture.Held, a.Aspect)), append(names, name(a))
	}
	return frames, names
}

// moves returns how far the borders at the sides, and those above and below, move from
// shape to shape.
func (r *Result) moves() Sides {
	least, most := r.Shapes[0].Border, r.Shapes[0].Border
	for i := range r.Shapes {
		b := r.Shapes[i].Border
		least = Sides{min(least.Across, b.Across), min(least.Upright, b.Upright)}
		most = Sides{max(most.Across, b.Across), max(most.Upright, b.Upright)}
	}
	return Sides{border(2*most.Across, 2*least.Across), border(2*most.Upright, 2*least.Upright)}
}

// MaskingWords says which borders have to move for all shapes, and what moves them; nothing
// for one shape.
func (r *Result) MaskingWords() []string {
	by := r.moves()
	var out []string
	switch {
	case by.Across > 0 && by.Upright > 0:
		out = append(out, fmt.Sprintf("All four borders move from shape to shape: each at the sides by %s, those above and below by %s.", r.show(by.Across), r.show(by.Upright)))
	case by.Across > 0:
		out = append(out, fmt.Sprintf("The borders at the sides move from shape to shape, each by %s; those above and below stand still.", r.show(by.Across)))
	case by.Upright > 0:
		out = append(out, fmt.Sprintf("The borders above and below move from shape to shape, each by %s; those at the sides stand still.", r.show(by.Upright)))
	default:
		return nil
	}
	p := r.Design.Picture
	switch {
	case p.Masking == project.MaskNone:
		out = append(out, "Nothing is masked: beside the smaller shapes the screen stays bare.")
	case p.MaskingBox == 0:
		out = append(out, fmt.Sprintf("A moving mask needs a box beside or over the screen, often %s to %s (common practice, no source): with picture.masking_box_m it is drawn, and held against loudspeakers, walls and ceiling.", r.show(0.15), r.show(0.25)))
	}
	return append(out, r.Veils...)
}

// unmasked says which borders move that the masking of the design leaves where they are.
func (r *Result) unmasked() (out []string) {
	m := r.Design.Picture.Masking
	if m == "" || m == project.MaskNone {
		return nil
	}
	by := r.moves()
	if by.Across > 0 && !m.MovesSides() {
		out = append(out, fmt.Sprintf("The borders at the sides move by %s from shape to shape, but the masking moves those above and below alone.", r.show(by.Across)))
	}
	if by.Upright > 0 && !m.MovesTopBottom() {
		out = append(out, fmt.Sprintf("The borders above and below move by %s from shape to shape, but the masking moves those at the sides alone.", r.show(by.Upright)))
	}
	return out
}

// veils says behind which shapes' masks loudspeakers stand that play through the screen.
func (r *Result) veils(room *place.Room) (out []string) {
	m := r.Design.Picture.Masking
	var order []string
	in := map[string][]string{} // shapes by loudspeakers
	for i := range r.Shapes {
		s := &r.Shapes[i]
		var behind []string
		for k := range room.Speakers {
			l := &room.Speakers[k]
			if l.Mount != project.BehindScreen {
				continue
			}
			y, z := reach(l.Box)
			f := s.Picture
			beside := s.Border.Across > 0 && m.MovesSides() && (y.From < f.Across-f.Width/2 || y.To > f.Across+f.Width/2)
			over := s.Border.Upright > 0 && m.MovesTopBottom() && (z.From < f.Bottom() || z.To > f.Bottom()+f.Height)
			if beside || over {
				behind = append(behind, l.Name())
			}
		}
		if who := strings.Join(behind, ", "); who != "" {
			if in[who] == nil {
				order = append(order, who)
			}
			in[who] = append(in[who], s.Called)
		}
	}
	for _, who := range order {
		out = append(out, fmt.Sprintf("In %s the mask hangs before %s: its cloth must let sound through.", strings.Join(in[who], ", "), who))
	}
	return out
}

// reach returns from where to where a box reaches across the room and upright.
func reach(b geometry.Box) (across, upright Span) {
	across, upright = Span{math.Inf(1), math.Inf(-1)}, Span{math.Inf(1), math.Inf(-1)}
	for _, p := range b.Corners() {
		across = Span{min(across.From, p.Y), max(across.To, p.Y)}
		upright = Span{min(upright.From, p.Z), max(upright.To, p.Z)}
	}
	return across, upright
}
