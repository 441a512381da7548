// SPDX-License-Identifier: MIT

package field

import (
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/app/words"
	"earline/geometry/unit"
)

// Offer is what a refused text may have meant, as a question; Take takes it in.
type Offer struct {
	Question string
	Take     func() error
}

// Reading is a length that a number without a unit may mean.
type Reading struct {
	Unit   string // as it would have been written
	Length unit.Length
}

// Readings returns what a number, or a sum, without a unit may mean in other units
// than def, the one it was read in: those that fit, the one nearest in proportion to
// now first, where there is a now. A text with a unit means what it says.
func Readings(text string, def, now unit.Length, metric bool, fits func(unit.Length) bool) []Reading {
	if _, err := unit.ParseNumber(text); err != nil {
		return nil
	}
	type scale struct {
		name string
		one  unit.Length
	}
	scales := []scale{{"mm", unit.Millimetre}, {"cm", unit.Centimetre}, {"m", unit.Metre}}
	if !metric {
		scales = append([]scale{{"ft", unit.Foot}, {"in", unit.Inch}}, scales...)
	}
	var out []Reading
	for _, s := range scales {
		if s.one == def {
			continue
		}
		if v, err := unit.ParseLengthSum(text, s.one); err == nil && fits(v) {
			out = append(out, Reading{s.name, v})
		}
	}
	if now > 0 {
		away := func(r Reading) float64 {
			if r.Length <= 0 {
				return math.Inf(1)
			}
			return math.Abs(math.Log(float64(r.Length / now)))
		}
		slices.SortStableFunc(out, func(a, b Reading) int {
			switch x, y := away(a), away(b); {
			case x < y:
				return -1
			case x > y:
				return 1
			}
			return 0
		})
	}
	return out
}

// offers is the questions under an entry; clicking one takes it.
type offers struct {
	box  *fyne.Container
	take func(Offer)
}

func newOffers(take func(Offer)) *offers {
	return &offers{box: container.New(layout.NewCustomPaddedVBoxLayout(1)), take: take}
}

func (o *offers) show(list []Offer) {
	o.box.Objects = nil
	for i, f := range list {
		b := widget.NewButton(words.Of(f.Question), func() { o.take(f) })
		b.Alignment = widget.ButtonAlignLeading
		if i == 0 {
			b.Importance = widget.HighImportance // what Enter takes
		}
		o.box.Add(b)
	}
	if len(list) == 0 {
		o.box.Hide()
	} else {
		o.box.Show()
	}
}
