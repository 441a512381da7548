// SPDX-License-Identifier: MIT

package light

import (
	"fmt"
	"math"
	"strings"

	"earline/geometry/unit"
	"earline/project"
)

// Lux in words, to what an eye could tell apart: "12 lx", "0.042 lx".
func Lux(v float64) string { return figures(v) + " lx" }

// figures prints v to two digits, or three from 100 on; what is next to nothing is 0.
func figures(v float64) string {
	switch {
	case v < 0.0005:
		return "0"
	case v >= 99.5:
		return fmt.Sprintf("%.0f", v)
	}
	digits := max(0, 1-int(math.Floor(math.Log10(v))))
	return fmt.Sprintf("%.*f", min(digits, 4), v)
}

// Contrast in words: "1500:1"; "no limit" of what is infinite or beyond what a picture has.
func Contrast(c float64) string {
	const most = 100_000 // beyond what any picture has
	if c > most {
		return "over 100000:1"
	}
	if c >= 100 {
		digits := math.Pow(10, math.Floor(math.Log10(c))-1)
		return fmt.Sprintf("%.0f:1", math.Round(c/digits)*digits)
	}
	return fmt.Sprintf("%.3g:1", c)
}

// SceneWords says what the groups do to the picture in a scene: "Show: 0.1 lx on the
// picture on average, 0.2 lx at most: stray light of 0.032 cd/m²; white of Scope 2.39:1,
// 48 cd/m², is left 1500:1."
func (r *Result) SceneWords(scene project.Scene) string {
	levels := r.Levels(scene)
	s := Over(r.Screen, levels)
	name := upper(string(scene))
	if s.Most == 0 {
		return fmt.Sprintf("%s: no light on the picture.", name)
	}
	stray := r.Stray(s.Mean)
	var left []string
	for _, w := range r.Whites {
		left = append(left, fmt.Sprintf("%s of %.1f cd/m² is left %s", r.white(w), w.Luminance, Contrast(Left(w.Luminance, stray))))
	}
	return fmt.Sprintf("%s: %s on the picture on average, %s at most: stray light of %s cd/m²; %s.", name, Lux(s.Mean), Lux(s.Most), figures(stray), strings.Join(left, ", "))
}

// white names a white.
func (r *Result) white(w White) string {
	if !r.Projected {
		return "a white"
	}
	return w.Shape
}

// BleedWords says, group by group, how much of the light on the picture in a scene is of
// it, how much of that straight, and which of its lamps sends most, a sentence each; the
// greatest first. None where nothing reaches it.
func (r *Result) BleedWords(scene project.Scene) []string {
	d := r.Model.Design
	levels := r.Levels(scene)
	all := Over(r.Screen, levels).Mean
	var groups []int
	share := make([]float64, r.Model.Layers)
	for i := range d.LightGroups {
		share[i] = r.mean(i, func(s *Spot) []float64 { return s.Lux }) * levels[i]
		const least = 0.005 // of all
		if share[i] > least*all && all > 0 {
			groups = append(groups, i)
		}
	}
	for i := range groups { // few: put in order by hand
		for k := i; k > 0 && share[groups[k]] > share[groups[k-1]]; k-- {
			groups[k], groups[k-1] = groups[k-1], groups[k]
		}
	}
	var out []string
	for _, i := range groups {
		straight := r.mean(i, func(s *Spot) []float64 { return s.Straight }) * levels[i]
		text := fmt.Sprintf("%s gives the picture %s, %.0f %% of its stray light", upper(d.LightName(i)), Lux(share[i]), 100*share[i]/all)
		switch worst, ok := r.worst(i); {
		case straight < 0.01*share[i]:
			text += ", all of it by way of the room."
		case !ok:
			text += fmt.Sprintf(", %s of it straight.", Lux(straight))
		default:
			text += fmt.Sprintf(", %s of it straight.", Lux(straight))
			out = append(out, text)
			at := func(v float64) string { return unit.Length(v).Format(d.Units != project.Imperial) }
			what := "lamp"
			if d.LightGroups[i].Kind == project.Strip {
				what = "stretch"
			}
			text = fmt.Sprintf("%s: %s %d, at %s from the screen wall, %s from the left wall and %s up, sends most straight onto it: %s, %.0f %% of all stray light.",
				upper(d.LightName(i)), what, worst.Lamp+1, at(worst.At.X), at(worst.At.Y), at(worst.At.Z), Lux(worst.Lux*levels[i]), 100*worst.Lux*levels[i]/all)
		}
		out = append(out, text)
	}
	return out
}

// mean returns the mean over the picture of one layer.
func (r *Result) mean(layer int, of func(*Spot) []float64) (sum float64) {
	for i := range r.Screen {
		sum += of(&r.Screen[i])[layer] / float64(len(r.Screen))
	}
	return sum
}

// worst returns which lamp of a group of several sends most straight to the picture; ok is
// false where none does, or the group is one.
func (r *Result) worst(layer int) (worst Lamp, ok bool) {
	n := 0
	for _, l := range r.Lamps {
		if l.Layer == layer {
			n++
			if l.Lux > worst.Lux {
				worst = l
			}
		}
	}
	return worst, n > 1 && worst.Lux > 0
}

// ReturnWords says what the picture's own light does by way of the room.
func (r *Result) ReturnWords() string {
	return fmt.Sprintf("The room throws back on a full white picture %.2g %% of its own luminance: with half of it white and half black no more than %s is left within the picture, whatever the projector could do.",
		100*r.Returned(), Contrast(r.HalfWhite()))
}

// Notes says what the numbers rest on, a sentence each.
func (r *Result) Notes() []string {
	out := []string{
		"Light is straight from the lamps, with shadows, and thrown back evenly by floor, walls, ceiling, screen and what is built in; gloss is not known. Chairs and people throw nothing back: a little too dark.",
		fmt.Sprintf("Surfaces are taken in pieces of about half a metre, lamps by their lobe or as matt lines; next to a lamp and in the edge of a shadow the numbers are coarse. Contrast is against the mean over the picture, white %s.", r.whiteWords()),
		"The screen is taken as matt with its gain, the picture as even white over the whole screen; flare in lens and eye, and the projector's own black, come on top.",
	}
	for _, a := range r.Model.Assumed {
		out = append(out, upper(a.String())+".")
	}
	return out
}

func (r *Result) whiteWords() string {
	if r.Projected {
		return "is that of the aged lamp from the main position"
	}
	return "is taken as 48 cd/m² (ISO 26431-1:2008), as there is no projector before the screen"
}

// Guidance is what is published of light to walk by. Nothing is held to it.
const Guidance = "Light to walk by while a picture runs: public auditoria may dim steps to 0.02 lx if 1 lx comes by itself within 5 s (BS 5266-1, second hand); " +
	"0.2 fc, 2.2 lx, is asked for on the floor of aisles (NFPA 101, second hand). In a private room local code says, if anything does."

// upper returns s with its first letter large.
func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
