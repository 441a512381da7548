// SPDX-License-Identifier: MIT

package sheet

import (
	"fmt"
	"testing"

	"earline/project"
	"earline/project/projecttest"
	"earline/scene/drawing"
)

// legible holds that on no sheet words stand on words, leave the frame, or were lost.
func legible(t *testing.T, name string, d *project.Design, paper string) {
	t.Helper()
	s, sheets := compose(t, d, paper)
	if err := drawing.Check(sheets); err != nil {
		t.Errorf("%s on %s: %v", name, paper, err)
	}
	if s.lost > 0 {
		t.Errorf("%s on %s: %d labels found no place", name, paper, s.lost)
	}
	const touch = 0.01 // mm²
	for _, c := range s.pages {
		p := c.page
		frame := drawing.Rect(filing, margin, s.paper.Width-margin, s.paper.Height-margin)
		for i, a := range p.words {
			if b := a.box; b.X0 < frame.X0 || b.Y0 < frame.Y0 || b.X1 > frame.X1 || b.Y1 > frame.Y1 {
				t.Errorf("%s on %s, sheet %s: %q leaves the frame: %.1f", name, paper, p.sheet.Number, a.text, b)
			}
			for _, b := range p.words[i+1:] {
				if overlap(a.box, b.box) > touch {
					t.Errorf("%s on %s, sheet %s: %q stands on %q at %.1f", name, paper, p.sheet.Number, b.text, a.text, a.box)
				}
			}
		}
	}
}

func TestNoWordsStandOnOthers(t *testing.T) {
	for name, d := range rooms(t) {
		for _, paper := range []string{"A4", "A3", "Letter", "Tabloid"} {
			d.Units = project.Metric
			if paper == "Letter" || paper == "Tabloid" {
				d.Units = project.Imperial
			}
			legible(t, name, d, paper)
		}
	}
}

func TestNoWordsStandOnOthersInDrawnRooms(t *testing.T) {
	n := uint64(60)
	if testing.Short() {
		n = 10
	}
	for seed := range n {
		paper := "A3"
		if seed%2 == 0 {
			paper = "A4"
		}
		legible(t, fmt.Sprintf("room %d", seed), projecttest.Room(seed), paper)
	}
}

// In the large demo the name of a soffit was written over the hole beside it.
func TestNamesDoNotCoverLoudspeakers(t *testing.T) {
	const least = 0.75 // of every loudspeaker and hole is seen
	for name, d := range rooms(t) {
		s, _ := compose(t, d, "A3")
		for _, c := range s.pages {
			for _, b := range c.page.dear {
				covered := 0.0
				for _, w := range c.page.words {
					covered += overlap(grown(w.box, 0.25), b)
				}
				if share := covered / (b.Dx() * b.Dy()); share > 1-least {
					t.Errorf("%s, sheet %s: words cover %.0f %% of the loudspeaker at %.0f", name, c.page.sheet.Number, 100*share, b)
				}
			}
		}
	}
}
