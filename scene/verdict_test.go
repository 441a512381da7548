// SPDX-License-Identifier: MIT

package scene

import (
	"math"
	"testing"

	"earline/project"
	"earline/project/sight"
)

// luminance is the relative luminance of WCAG 2.2 (W3C Recommendation, 2023) of c as
// seen by eyes: a matrix in linear RGB.
func luminance(c RGB, eyes [3][3]float64) float64 {
	var l [3]float64
	for i, v := range [3]float32{c.R, c.G, c.B} {
		if l[i] = float64(v) / 12.92; v > 0.04045 {
			l[i] = math.Pow((float64(v)+0.055)/1.055, 2.4)
		}
	}
	var y float64
	for i, share := range [3]float64{0.2126, 0.7152, 0.0722} {
		m := eyes[i]
		y += share * min(max(m[0]*l[0]+m[1]*l[1]+m[2]*l[2], 0), 1)
	}
	return y
}

// ratio is the contrast ratio of WCAG 2.2.
func ratio(a, b RGB, eyes [3][3]float64) float64 {
	x, y := luminance(a, eyes), luminance(b, eyes)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// allEyes are the simulations of Machado, Oliveira and Fernandes, "A Physiologically-based
// Model for Simulation of Color Vision Deficiency", IEEE Transactions on Visualization
// and Computer Graphics 15 (2009), severity 1.0, in linear RGB. The article was not at
// hand: the figures are as several public programs that name it have them, alike.
var allEyes = map[string][3][3]float64{
	"normal":       {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protanopia":   {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deuteranopia": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"tritanopia":   {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
}

var allPalettes = map[string]Palette{"lamplight": Lamplight(), "paper": Paper(), "high contrast": HighContrast()}

// WCAG 2.2, success criterion 1.4.11: what is needed to understand a graphic has a
// contrast of 3 or more to what adjoins it.
const graphics = 3

// surfaces are the materials that a path is seen against, from full light to hardly
// any.
func surfaces(p Palette) []RGB {
	out := []RGB{p.Sky, p.Ground}
	all := []RGB{carpet, walnut, walnutDark, cloth, clothDark, fabric, plaster, bronze, leather, coverOf(leather).dark, coverOf(leather).piping, figureCloth, figureDark, figureSkin, figureHair, lacquer, baffle, cone, champagne, grille, velvet, glassDusk}
	for _, r := range project.ReadyFinishes() {
		all = append(all, display(r.Linear("")))
	}
	for _, c := range all {
		for _, light := range []float64{0.25, 0.5, 0.75, 1, 1.25} {
			lit := c.times(light)
			out = append(out, RGB{1, 1, 1}.mix(lit, 1-p.Paper))
		}
	}
	return out
}

// Blocked looked milder than tight to people without green cones, and vanished on the
// brown walls.
func TestBlockedPathsStandOutForEveryEye(t *testing.T) {
	for name, p := range allPalettes {
		for who, eyes := range allEyes {
			// The least that a look stands out by from anything in the room.
			least := func(v sight.Verdict) float64 {
				k := p.Verdicts[v]
				out := math.Inf(1)
				for _, c := range surfaces(p) {
					out = min(out, max(ratio(k.Ray, c, eyes), ratio(k.Gap, c, eyes)))
				}
				return out
			}
			clear, tight, blocked := least(sight.Clear), least(sight.Tight), least(sight.Blocked)
			if tight < graphics || blocked < graphics {
				t.Errorf("%s, %s: tight stands out by %.2f, blocked by %.2f, want %d", name, who, tight, blocked, graphics)
			}
			if clear >= tight || clear >= blocked {
				t.Errorf("%s, %s: clear stands out by %.2f, tight %.2f, blocked %.2f", name, who, clear, tight, blocked)
			}
		}
	}
}

// The plates of the table: each verdict keeps apart from the next by lightness, and
// blocked keeps farthest from clear, for every eye.
func TestBlockedPlatesStandOutForEveryEye(t *testing.T) {
	for name, p := range allPalettes {
		for who, eyes := range allEyes {
			plate := func(v sight.Verdict) RGB { return p.Verdicts[v].Plate }
			bt := ratio(plate(sight.Blocked), plate(sight.Tight), eyes)
			tc := ratio(plate(sight.Tight), plate(sight.Clear), eyes)
			bc := ratio(plate(sight.Blocked), plate(sight.Clear), eyes)
			if bt < graphics || tc < graphics || bc < bt || bc < tc {
				t.Errorf("%s, %s: blocked to tight %.2f, tight to clear %.2f, blocked to clear %.2f", name, who, bt, tc, bc)
			}
			for v, k := range p.Verdicts {
				// 1.4.3: text.
				if got := ratio(k.Plate, k.Ink, eyes); got < 4.5 {
					t.Errorf("%s, %s: letters of %v have %.2f, want 4.5", name, who, sight.Verdict(v), got)
				}
			}
		}
	}
}

// Verdicts are told apart without any colour: by letter in the table, by stroke in the
// picture.
func TestVerdictsDifferWithoutColour(t *testing.T) {
	for name, p := range allPalettes {
		letters, strokes := map[string]bool{}, map[Stroke]bool{}
		for _, k := range p.legend(p.Verdicts) {
			letters[k.Letter], strokes[k.Line] = true, true
		}
		if len(letters) != 3 || len(strokes) != 3 {
			t.Errorf("%s: letters %v, strokes %v", name, letters, strokes)
		}
	}
}

// Names, dimensions and the plates of marks can be read (WCAG 2.2, 1.4.3).
func TestLabelsOverThePictureCanBeRead(t *testing.T) {
	eyes := allEyes["normal"]
	for name, p := range allPalettes {
		for what, pair := range map[string][2]RGB{
			"names":      {p.Name, p.NamePlate},
			"dimensions": {p.Dim, p.NamePlate},
			"zones":      {p.Guide, p.NamePlate},
			"selected":   {p.Reverse, p.Selected},
			"guides":     {p.Reverse, p.Guide},
			"not met":    {p.Reverse, p.Fails},
			"met":        {p.Reverse, p.Met},
		} {
			if got := ratio(pair[0], pair[1], eyes); got < 4.5 {
				t.Errorf("%s: %s have %.2f, want 4.5", name, what, got)
			}
		}
		// Lines of drawings against their ground (1.4.11).
		for what, c := range map[string]RGB{"dimension lines": p.Dim, "guides": p.Guide, "proposed": p.Proposed, "coverage": p.Coverage,
			"selected": p.Selected, "not met": p.Fails, "met": p.Met} {
			for _, ground := range []RGB{p.Sky, p.Ground} {
				if got := ratio(c, ground, eyes); got < graphics {
					t.Errorf("%s: %s have %.2f against the ground, want %d", name, what, got, graphics)
				}
			}
		}
	}
}

// The legend names what is drawn and nothing else. It goes with the labels.
func TestLegendNamesThePathsThatAreDrawn(t *testing.T) {
	p := Lamplight()
	var seen Looks
	if got := p.legend(seen); len(got) != 0 {
		t.Errorf("found %v for no paths", got)
	}
	seen[sight.Tight] = p.Verdicts[sight.Tight]
	if got := p.legend(seen); len(got) != 1 || got[0].Letter != "T" || got[0].Text != sight.Tight.String() || got[0].Line != Broken {
		t.Errorf("found %v for tight paths", got)
	}
}
