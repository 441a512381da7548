// SPDX-License-Identifier: MIT

package solve

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/picture"
	"earline/project/practice"
	"earline/project/sight"
)

// ScreenWay is a picture that is had when more than the screen is changed.
type ScreenWay struct {
	ScreenSize
	// Risers are those of every row, in the order of the design; nil leaves them.
	Risers []float64
	// Drop is the row, counted from 1, that is left out; 0 for none.
	Drop int
	// Others is up to which percentile of those who may be in the way it holds; 0 is that of
	// the design.
	Others float64
}

// Words says what is had for what: "2.39:1, 3.600 m wide, lower edge 1.060 m,
// 41.7°: row 2 on 0.324 m, row 3 on 0.700 m".
func (w *ScreenWay) Words(u project.Units) string {
	show := func(v float64) string { return Metres.Show(v, u) }
	text := fmt.Sprintf("%.4g:1, %s wide, lower edge %s, %.1f°", w.Aspect, show(w.Width), show(w.Bottom), w.Angle)
	if w.Drop > 0 {
		text += fmt.Sprintf(": without row %d", w.Drop)
	}
	if w.Risers != nil {
		var all []string
		for i, r := range w.Risers {
			if r > 0 {
				all = append(all, fmt.Sprintf("row %d on %s", i+1, show(r)))
			}
		}
		text += ": " + strings.Join(all, ", ")
	}
	if w.Others > 0 {
		text += fmt.Sprintf("; it holds for people up to P%g in the way", w.Others)
	}
	return text
}

// apply puts w into d.
func (w *ScreenWay) apply(d *project.Design) {
	s := &d.Screen
	s.Aspect, s.Width, s.Bottom = w.Aspect, unit.Length(w.Width), unit.Length(w.Bottom)
	for i, r := range w.Risers {
		setRiser(d, i, r)
	}
}

// raised finds the widest picture of that shape for which rows that may be raised, but not
// lowered or moved, all see the whole of it; its lower edge as low as they then can see.
func raised(ctx context.Context, d *project.Design, o ScreenOptions, aspect float64, std practice.Standard) (ScreenWay, error) {
	const step = 0.01 // m: to which a search that moves rows is worth its while
	ahead, off, eye := mainEye(d)
	out := ScreenWay{ScreenSize: ScreenSize{Aspect: aspect, Limit: byAngle}}
	w := PictureWidth(o.Angle.Radians(), ahead, off)
	if math.IsNaN(w) {
		return out, nil
	}
	if most := wallWidth(d, o); most < w {
		w, out.Limit = most, byWalls
	}
	c := d.Clone()
	c.Screen.Aspect = aspect
	own := float64(d.Screen.Bottom)
	edges := func(w float64) (low, high float64) {
		c.Screen.Width, c.Screen.Bottom = unit.Length(w), d.Screen.Bottom
		low = max(min(own, lowestEdgeFor(c, eye)), float64(c.Screen.Border))
		var limit string
		if high, limit = mostEdge(c, std); limit != byCeiling {
			out.Limit = limit
		}
		return low, min(high, mostBottom(c)-float64(o.Top))
	}
	at := func(bottom float64) ([]float64, bool, error) {
		c.Screen.Bottom = unit.Length(bottom)
		return risersFor(ctx, c, std)
	}
	try := func(w float64) (ok bool, err error) {
		low, high := edges(w)
		if low > high {
			return false, nil
		}
		_, ok, err = at(high)
		return ok, err
	}
	w = math.Floor(w/millimetre+1e-6) * millimetre
	limit := out.Limit
	ok, err := try(w)
	if err != nil {
		return out, err
	}
	if out.Limit = limit; !ok {
		out.Limit = byCeiling
		lo, hi := 0.2, w
		if ok, err = try(lo); err != nil || !ok {
			return out, err
		}
		for hi-lo > step {
			mid := (lo + hi) / 2
			if ok, err = try(mid); err != nil {
				return out, err
			} else if ok {
				lo = mid
			} else {
				hi = mid
			}
		}
		w = math.Floor(lo/millimetre) * millimetre
	}
	keep := out.Limit
	low, high := edges(w)
	out.Limit = keep
	for _, b := range [2]float64{low, high} { // as it is, or else the lowest that will do
		risers, ok, err := at(b)
		if err != nil {
			return out, err
		}
		if ok {
			out.Bottom, out.Risers, out.OK = b, risers, true
			break
		}
	}
	if !out.OK {
		return out, nil
	}
	for hi := out.Bottom; hi-low > step; {
		mid := (low + hi) / 2
		risers, ok, err := at(mid)
		if err != nil {
			return out, err
		}
		if ok {
			hi, out.Bottom, out.Risers = mid, mid, risers
		} else {
			low = mid
		}
	}
	if up := upTo(out.Bottom, step); up <= high {
		if risers, ok, err := at(up); err != nil {
			return out, err
		} else if ok {
			out.Bottom, out.Risers = up, risers
		}
	}
	out.Width, out.Height = w, w/aspect
	out.Angle = float64(unit.FromRadians(PictureAngle(w, ahead, off)))
	out.Shapes = shapesIn(d, out.ScreenSize)
	return out, nil
}

// risersFor returns the least risers, none lower than it is, with which every seat of d sees
// the whole picture with the margin, past the loudspeakers too.
func risersFor(ctx context.Context, d *project.Design, std practice.Standard) ([]float64, bool, error) {
	o := RowsOptions{Standard: std}
	if err := o.fill(d); err != nil {
		return nil, false, err
	}
	q := &rowSolver{viewers: viewers{ctx: ctx}, o: o, d: d.Clone(), out: &RowsProposal{Proposal: Proposal{std: std}}, skipProofs: true}
	if err := q.risers(); err != nil || len(q.out.Proof) > 0 {
		return nil, false, err
	}
	v := sight.NewViewer(q.d)
	var risers []float64
	for i := range v.Room().Seats {
		if v.View(i).Verdict != sight.Clear {
			return nil, false, ctx.Err()
		}
	}
	for _, r := range q.d.Seating.Rows {
		risers = append(risers, float64(r.Riser))
	}
	return risers, true, ctx.Err()
}

// ways returns what else would do, the widest picture first: rows raised, for the people of
// the design or for those up to P75; and one row less, with the others as they are.
func ways(ctx context.Context, d *project.Design, o ScreenOptions, aspects []float64, std practice.Standard) ([]ScreenWay, error) {
	const usual = 75 // percentile of who sits in front: common practice, no source
	var out []ScreenWay
	add := func(w ScreenWay) {
		if w.OK && w.Angle >= leastAngle(std) {
			out = append(out, w)
		}
	}
	for i, a := range aspects {
		o.tell(float64(i)/float64(len(aspects)), fmt.Sprintf("picture %g:1 with rows raised", a))
		w, err := raised(ctx, d, o, a, std)
		if err != nil {
			return nil, err
		}
		add(w)
		if d.Seating.Sitters.Others <= usual {
			continue
		}
		c := d.Clone()
		c.Seating.Sitters.Others = usual
		lower, err := raised(ctx, c, o, a, std)
		if err != nil {
			return nil, err
		}
		if lower.Others = usual; lower.Width > w.Width+0.05 || lower.OK && slices.Compare(lower.Risers, w.Risers) < 0 {
			add(lower)
		}
	}
	for i := range d.Seating.Rows {
		if len(d.Seating.Rows) < 2 || d.Seating.Main.Row == i+1 {
			continue
		}
		c := withoutRow(d, i)
		for _, a := range aspects {
			size, err := sizeScreen(ctx, c, o, a, std)
			if err != nil {
				return nil, err
			}
			add(ScreenWay{ScreenSize: size, Drop: i + 1})
		}
	}
	slices.SortStableFunc(out, func(a, b ScreenWay) int { return cmp.Compare(b.Angle, a.Angle) })
	return out, nil
}

// withoutRow returns d without row i, from 0.
func withoutRow(d *project.Design, i int) *project.Design {
	c := d.Clone()
	c.Seating.Rows = slices.Delete(c.Seating.Rows, i, i+1)
	if c.Seating.Main.Row > i+1 {
		c.Seating.Main.Row--
	}
	return c
}

// leastAngle returns how wide the picture is to be from the main position at least.
func leastAngle(std practice.Standard) float64 { return ruleLimits(std, "picture-angle-least").Least() }

// ShapeSize is a shape of picture within a screen.
type ShapeSize struct {
	Name          string
	Width, Height float64
	Angle         float64 // degrees, from the main position
}

// shapesIn returns what each shape of picture of d gets on a screen of that size; none where
// the design names no shapes.
func shapesIn(d *project.Design, s ScreenSize) (out []ShapeSize) {
	if len(d.Picture.Aspects) == 0 {
		return nil
	}
	ahead, off, _ := mainEye(d)
	frames, names := picture.Frames(withScreen(d, s.Aspect, s.Width))
	for i, f := range frames {
		out = append(out, ShapeSize{names[i], f.Width, f.Height, float64(unit.FromRadians(PictureAngle(f.Width, ahead, off)))})
	}
	return out
}

func withScreen(d *project.Design, aspect, width float64) *project.Design {
	c := &project.Design{Screen: d.Screen, Picture: d.Picture}
	c.Screen.Aspect, c.Screen.Width = aspect, unit.Length(width)
	return c
}

// holdsAll reports whether a screen of that shape holds all shapes of picture of d, by what
// they keep of it.
func holdsAll(d *project.Design, aspect float64) bool {
	const rounding = 1e-6 // m
	c := withScreen(d, aspect, 1)
	frames, _ := picture.Frames(c)
	return !slices.ContainsFunc(frames, func(f picture.Frame) bool {
		return f.Width > 1+rounding || f.Height > c.Screen.Height()+rounding
	})
}

// screenAspects returns the shapes of screen to size for d: its own, those of its pictures,
// or the usual ones; only such as hold all its pictures.
func screenAspects(d *project.Design) (all []float64) {
	candidates := []float64{d.Screen.Aspect}
	for _, a := range d.Picture.Aspects {
		candidates = append(candidates, a.Aspect)
	}
	if len(d.Picture.Aspects) == 0 {
		candidates = append(candidates, 1.78, 1.85, 2.39)
	}
	for _, a := range candidates {
		if !slices.Contains(all, a) && (len(d.Picture.Aspects) == 0 || holdsAll(d, a)) {
			all = append(all, a)
		}
	}
	slices.Sort(all)
	return all
}
