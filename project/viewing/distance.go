// SPDX-License-Identifier: MIT

package viewing

import (
	"fmt"
	"math"

	"earline/geometry/unit"
	"earline/project/picture"
	"earline/project/practice"
)

// Asked is a published figure for how a picture is to be seen, as distances of an eye on
// the normal of its middle.
type Asked struct {
	What   string // "30° wide or more"
	Whom   string // "the farthest seat"
	Source string
	// Spans are the distances, by shape.
	Spans []picture.Span
}

// DistanceFor returns from how far before its middle a picture is seen under a full
// horizontal angle, degrees: W / (2 tan(angle/2)).
func DistanceFor(width, degrees float64) float64 {
	return width / (2 * math.Tan(degrees*unit.Degree/2))
}

// PixelDistance returns from how many heights of a picture one of its lines is one minute
// of arc: 1 / (lines tan 1').
func PixelDistance(lines float64) float64 {
	return 1 / (lines * math.Tan(unit.Degree/60))
}

// Distances returns what published figures ask for: the placement rules on the picture
// as they were published, and from where its pixels are finer than good eyes see.
func (r *Result) Distances() []Asked {
	var out []Asked
	add := func(what, whom, source string, span func(s *picture.Shape) picture.Span) {
		a := Asked{What: what, Whom: whom, Source: source}
		for k := range r.Picture.Shapes {
			a.Spans = append(a.Spans, span(&r.Picture.Shapes[k]))
		}
		out = append(out, a)
	}
	rule := func(id string) (practice.Rule, float64, float64) {
		f, _ := practice.Find(id)
		return f, f.Limits.Least(), f.Limits.Most()
	}
	f, least, _ := rule("picture-angle-least")
	add(fmt.Sprintf("%g° wide or more", least), "the farthest seat", f.Source.String(), func(s *picture.Shape) picture.Span {
		return picture.Span{From: 0, To: DistanceFor(s.Picture.Width, least)}
	})
	f, _, most := rule("picture-angle-most")
	add(fmt.Sprintf("%g° wide or less", most), "the first row, wide pictures", f.Source.String(), func(s *picture.Shape) picture.Span {
		if s.Picture.Aspect() < practice.WidePicture {
			return picture.Span{From: math.Inf(1), To: math.Inf(-1)}
		}
		return picture.Span{From: DistanceFor(s.Picture.Width, most), To: math.Inf(1)}
	})
	heights := func(from, to float64) func(s *picture.Shape) picture.Span {
		return func(s *picture.Shape) picture.Span {
			return picture.Span{From: from * s.Picture.Height, To: to * s.Picture.Height}
		}
	}
	for _, h := range [2]struct{ id, whom string }{{"picture-heights", "every seat"}, {"picture-heights-main", "the main row"}} {
		f, least, most = rule(h.id)
		add(fmt.Sprintf("%g to %g heights of the picture", least, most), h.whom, f.Source.String(), heights(least, most))
	}
	const review, within = 3, 1 // heights
	add(fmt.Sprintf("%d ± %d heights of the picture", review, within), "a review room", "SMPTE 196M-2003, clause 9; as quoted in public text", heights(review-within, review+within))
	if r.Picture.Projected {
		k := r.Picture.Chosen()
		add("pixels of one arc minute or less", "good eyes", "1 / (lines × tan 1'), of the lines that the shape uses", func(s *picture.Shape) picture.Span {
			return picture.Span{From: PixelDistance(float64(s.Fills[k].High)) * s.Picture.Height, To: math.Inf(1)}
		})
	}
	return out
}
