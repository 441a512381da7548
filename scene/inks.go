// SPDX-License-Identifier: MIT

package scene

// Palette is the colours of a picture, but for the room's materials.
type Palette struct {
	Sky, Ground RGB // of the background, at the top and at the foot
	// Paper is the share of white that the room, the chairs and the people are mixed
	// with; their lines get darker by as much. 0 leaves them as they are.
	Paper float64
	// Name is the ink of the names of things, NamePlate what it stands on.
	Name, NamePlate RGB
	Selected        RGB // what is selected or under the pointer
	Dim, Guide      RGB // dimension lines; alignments
	Coverage        RGB // of loudspeakers
	Beam            RGB // light of the projector
	Fails, Met      RGB // a rule that is not met, and one that is
	Proposed        RGB // what is proposed
	Unbuildable     RGB // what cannot be built
	Hides           RGB // tint of what blocks a path
	Reverse         RGB // what is written on a plate in one of these colours
	Verdicts        Looks
}

// Lamplight returns the colours of a picture of a dark room.
func Lamplight() Palette {
	return Palette{
		Sky: RGB{0.105, 0.105, 0.115}, Ground: RGB{0.210, 0.195, 0.185},
		Name: RGB{0.93, 0.92, 0.89}, NamePlate: RGB{0.13, 0.13, 0.14},
		Selected: RGB{0.930, 0.930, 0.900},
		Dim:      RGB{0.880, 0.860, 0.780}, Guide: RGB{0.520, 0.820, 0.840},
		Coverage: RGB{0.560, 0.690, 0.780},
		Beam:     RGB{1.000, 0.920, 0.700},
		Fails:    RGB{1.000, 0.640, 0.340}, Met: RGB{0.560, 0.800, 0.900},
		Proposed: RGB{0.500, 0.900, 0.660}, Unbuildable: RGB{1.000, 0.300, 0.240},
		Hides:    RGB{0.950, 0.450, 0.580},
		Reverse:  RGB{0.07, 0.06, 0.06},
		Verdicts: onDark,
	}
}

// Paper returns the colours of a drawing for daylight and for paper: on light ground.
func Paper() Palette {
	return Palette{
		Sky: RGB{1, 1, 1}, Ground: RGB{1, 1, 1}, Paper: 0.62,
		Name: RGB{0.09, 0.11, 0.13}, NamePlate: RGB{0.97, 0.97, 0.97},
		Selected: RGB{0.04, 0.36, 0.39},
		Dim:      RGB{0.16, 0.19, 0.23}, Guide: RGB{0.04, 0.40, 0.44},
		Coverage: RGB{0.20, 0.36, 0.48},
		Beam:     RGB{0.52, 0.34, 0.02},
		Fails:    RGB{0.62, 0.27, 0.00}, Met: RGB{0.10, 0.38, 0.50},
		Proposed: RGB{0.06, 0.42, 0.20}, Unbuildable: RGB{0.78, 0.05, 0.02},
		Hides:    RGB{0.75, 0.10, 0.32},
		Reverse:  RGB{1, 1, 1},
		Verdicts: onLight,
	}
}

// HighContrast returns the colours of a picture on black.
func HighContrast() Palette {
	p := Lamplight()
	p.Sky, p.Ground = RGB{}, RGB{}
	p.Name, p.NamePlate, p.Reverse = RGB{1, 1, 1}, RGB{}, RGB{}
	p.Selected, p.Dim = RGB{1, 1, 1}, RGB{1, 1, 1}
	return p
}

// apply draws l, which holds the room, the chairs and the people, as on paper.
func (p Palette) apply(l *List) {
	if p.Paper == 0 {
		return
	}
	white, keep := float32(p.Paper), float32(1-p.Paper)
	for i := range l.Meshes {
		m := &l.Meshes[i]
		if m.Unlit {
			continue
		}
		for k, c := range m.Col {
			m.Col[k] = white + keep*c
		}
	}
	for i := range l.Lines {
		for k, c := range l.Lines[i].Col {
			l.Lines[i].Col[k] = keep * c
		}
	}
}

// hex returns the colour that is written 0xrrggbb.
func hex(c uint32) RGB {
	return RGB{float32(c>>16&0xff) / 255, float32(c>>8&0xff) / 255, float32(c&0xff) / 255}
}
