// SPDX-License-Identifier: MIT

package light

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"earline/geometry/unit"
	"earline/project"
)

// Lux in words, to what an eye could tell apart: "12 lx", "0.042 lx".
func Lux(v float64) string { return Figures(v) + " lx" }

// Figures prints v to two digits, or three from 100 on; what no eye sees is 0.
func Figures(v float64) string {
	switch {
	case v < 5e-6:
		return "0"
	case v >= 99.5:
		return fmt.Sprintf("%.0f", v)
	}
	power := math.Floor(math.Log10(v))
	if math.Round(v/math.Pow(10, power-1)) >= 100 { // 9.96 is printed as 10
		power++
	}
	digits := max(0, 1-int(power))
	return fmt.Sprintf("%.*f", min(digits, 5), v)
}

// Contrast in words, to two digits: "1500 to 1".
func Contrast(c float64) string {
	const most = 100_000 // beyond what any picture has
	if c > most {
		return "over 100000 to 1"
	}
	if c >= 99.5 {
		c = max(c, 100)
		digits := math.Pow(10, math.Floor(math.Log10(c))-1)
		return fmt.Sprintf("%.0f to 1", math.Round(c/digits)*digits)
	}
	return fmt.Sprintf("%.2g to 1", c)
}

// SceneWords says what the groups do to the picture in a scene: "Show: 0.1 lx on the
// picture on average, 0.2 lx at most, stray light of 0.032 cd/m²: it leaves a contrast of
// 1500 to 1 in Scope 2.39:1 (white of 48.0 cd/m²)."
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
		in := ""
		if r.Projected {
			in = " in " + w.Shape
		}
		left = append(left, fmt.Sprintf("%s%s (white of %.1f cd/m²)", Contrast(Left(w.Luminance, stray)), in, w.Luminance))
	}
	return fmt.Sprintf("%s: %s on the picture on average, %s at most, stray light of %s cd/m²: it leaves a contrast of %s.", name, Lux(s.Mean), Lux(s.Most), Figures(stray), strings.Join(left, ", "))
}

// BleedWords says, group by group, how much of the light on the picture in a scene is of
// it, how much of that comes straight, and which of its lamps sends most, a sentence each;
// the greatest first. None where nothing reaches it.
func (r *Result) BleedWords(scene project.Scene) []string {
	d := r.Model.Design
	levels := r.Levels(scene)
	all := Over(r.Screen, levels).Mean
	const tells = 0.01 // of all: what is less is not told
	share := make([]float64, r.Model.Layers)
	var groups []int
	for i := range d.LightGroups {
		if share[i] = r.Mean(i) * levels[i]; share[i] > tells*all {
			groups = append(groups, i)
		}
	}
	slices.SortStableFunc(groups, func(a, b int) int { return cmp.Compare(share[b], share[a]) })
	var out []string
	for _, i := range groups {
		g := &d.LightGroups[i]
		straight := r.Straight(i) * levels[i]
		text := fmt.Sprintf("%s: %s on the picture, %.0f %% of its stray light, ", upper(d.LightName(i)), Lux(share[i]), 100*share[i]/all)
		if straight < tells*share[i] {
			text += "all of it by way of the room"
		} else {
			text += Lux(straight) + " of it straight"
		}
		if worst, ok := r.worst(i); ok && worst.Lux*levels[i] > tells*all {
			at := func(v float64) string { return unit.Length(v).Format(d.Units != project.Imperial) }
			what := "lamp"
			if g.Kind == project.Strip {
				what = "stretch"
			}
			text += fmt.Sprintf("; %s %d, at %s from the screen wall, %s from the left wall and %s up, sends most straight onto it: %s, %.0f %% of all stray light",
				what, worst.Lamp+1, at(worst.At.X), at(worst.At.Y), at(worst.At.Z), Lux(worst.Lux*levels[i]), 100*worst.Lux*levels[i]/all)
		}
		out = append(out, text+".")
	}
	return out
}

// Mean returns what a layer gives the picture on average, Straight how much of that comes
// straight.
func (r *Result) Mean(layer int) float64 {
	return r.mean(func(s *Spot) float64 { return s.Lux[layer] })
}

// Straight is what Mean says.
func (r *Result) Straight(layer int) float64 {
	return r.mean(func(s *Spot) float64 { return s.Straight[layer] })
}

func (r *Result) mean(of func(*Spot) float64) (sum float64) {
	for i := range r.Screen {
		sum += of(&r.Screen[i]) / float64(len(r.Screen))
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
	return fmt.Sprintf("The room throws back on a full white picture %.2g %% of its own luminance: with half of it white and half black the contrast within the picture is no more than %s, whatever the projector could do.",
		100*r.Returned(), Contrast(r.HalfWhite()))
}

// Notes says what the numbers rest on, a sentence each.
func (r *Result) Notes() []string {
	out := []string{
		"Light is straight from the lamps, with shadows, and thrown back evenly by floor, walls, ceiling, screen and what is built in; gloss is not known. Chairs and people throw nothing back: a little too dark.",
		fmt.Sprintf("Surfaces are taken in pieces of about half a metre, lamps by their lobe or as matt lines; next to a lamp and in the edge of a shadow the numbers are coarse. Contrast is against the mean over the picture, white %s.", r.whiteWords()),
		"The screen is taken as matt with its gain, the picture as even white over the whole screen; flare in lens and eye, and the projector's own black, come on top.",
	}
	out = append(slices.Clone(r.Misplaced), out...)
	if len(r.Model.Taken) > 0 {
		var taken []string
		for _, t := range r.Model.Taken {
			taken = append(taken, t.String())
		}
		out = append(out, "Finishes that these numbers come from: "+strings.Join(taken, "; ")+".")
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
