// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"fmt"
	"math"
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
)

// ScreenOptions are the wishes of Screen. The zero value is ready to use.
type ScreenOptions struct {
	// Angle is the wanted full horizontal angle of the picture from the main
	// listening position; 0 is 45 degrees. Common practice, no source; SMPTE
	// EG 18-1994 asks for 30 degrees or more at the farthest seat.
	Angle unit.Degrees
	// Aspects are the shapes of screen to size; none are the design's own and those of its
	// pictures, such as hold all of them, or where it names no pictures 1.78, 1.85 and
	// 2.39, the cinema's and television's (SMPTE ST 195, DCI).
	Aspects []float64
	// Aspect is the shape to propose; 0 is the design's own, or where that does not hold
	// all its pictures the first that does.
	Aspect float64
	// Raise lets the rows be raised too.
	Raise bool
	// Ways asks what else would do where the wish is not had with the screen alone.
	Ways bool
	// Side and Top are the least room left beside and over the border.
	Side, Top unit.Length
	// Standard has the limits; the zero value is the one that the design has chosen.
	Standard practice.Standard
	Progress
}

// ScreenProposal is the answer of Screen.
type ScreenProposal struct {
	Proposal
	Sizes []ScreenSize // by aspect
	Ways  []ScreenWay  // the widest first
}

// ScreenSize is the largest picture of one shape.
type ScreenSize struct {
	Aspect                float64
	Width, Height, Bottom float64 // metres
	Angle                 float64 // degrees, as seen from the main position
	// Limit is what keeps it from being wider: the wanted angle, the side walls
	// or the ceiling.
	Limit string
	OK    bool // every row sees all of it
	// Shapes are what the pictures of the design get on it; none where it names none.
	Shapes []ShapeSize
}

// What limits a picture's width.
const (
	byAngle   = "the wanted angle"
	byWalls   = "the side walls"
	byCeiling = "the ceiling over the lowest edge that all rows see"
)

// PictureWidth returns the width of a picture that is seen under the full
// horizontal angle, in radians (0 to pi, both excluded), by an eye at distance d
// before its plane and off to the side of its middle by off, metres.
//
// The angle is atan((W/2-off)/d) + atan((W/2+off)/d), so that
// (sin/4) W^2 + (d cos) W - sin (d^2+off^2) = 0; this is its positive root. For
// off = 0 it is 2 d tan(angle/2). NaN for d <= 0 or an angle out of range.
func PictureWidth(angle, d, off float64) float64 {
	if !(d > 0) || !(angle > 0) || !(angle < math.Pi) {
		return math.NaN()
	}
	s, c := math.Sincos(angle)
	root := math.Sqrt(d*d*c*c + s*s*(d*d+off*off))
	if c > 0 { // the other form of the root, which takes no difference
		return 2 * s * (d*d + off*off) / (root + d*c)
	}
	return 2 * (root - d*c) / s
}

// PictureAngle is the inverse of PictureWidth, in radians.
func PictureAngle(width, d, off float64) float64 {
	return math.Atan2(width/2-off, d) + math.Atan2(width/2+off, d)
}

// Screen sizes the picture: for each shape the greatest width that is seen from
// the main position under the wanted angle at most and that fits the room with
// its lower edge where all rows see it, over heads, chairs and the boxes before it. The
// lower edge stays as it is, or moves by as little as it must. The widths that angle and walls allow
// are in closed form, the one under the ceiling is exact to 1 mm.
func Screen(ctx context.Context, d *project.Design, o ScreenOptions) (*ScreenProposal, error) {
	if o.Angle == 0 {
		o.Angle = 45
	}
	for _, err := range []error{angle("screen angle", o.Angle, 1, 150), length("screen side", o.Side, 0, 10), length("screen top", o.Top, 0, 10)} {
		if err != nil {
			return nil, err
		}
	}
	p, was, err := begin(ctx, d, o.Standard)
	if err != nil {
		return nil, err
	}
	aspects := o.Aspects
	if len(aspects) == 0 {
		aspects = screenAspects(d)
	}
	if o.Aspect == 0 {
		o.Aspect = d.Screen.Aspect
		if len(aspects) > 0 && !slices.Contains(aspects, o.Aspect) && len(o.Aspects) == 0 {
			o.Aspect = aspects[len(aspects)-1]
		}
	}
	if !slices.Contains(aspects, o.Aspect) {
		aspects = append([]float64{o.Aspect}, aspects...)
	}
	for _, a := range aspects {
		if !(a >= 1 && a <= 4) {
			return nil, &project.Fault{Field: "screen aspect", Found: fmt.Sprint(a), Allowed: "1 to 4"}
		}
	}
	out := &ScreenProposal{Proposal: *p}
	var proposed ScreenSize
	for i, a := range aspects {
		o.tell(float64(i)/float64(len(aspects)), fmt.Sprintf("picture %g:1", a))
		size, err := sizeScreen(ctx, d, o, a, out.std)
		if err != nil {
			return nil, err
		}
		out.Sizes = append(out.Sizes, size)
		if a != o.Aspect {
			continue
		}
		proposed = size
		if size.OK {
			s := &out.Design.Screen
			s.Aspect, s.Width, s.Bottom = a, unit.Length(size.Width), unit.Length(size.Bottom)
		}
		if ob, short := shortScreen(d, o, size); short {
			out.Proof = append(out.Proof, ob)
		}
	}
	if o.Ways && len(out.Proof) > 0 || o.Raise {
		if out.Ways, err = ways(ctx, d, o, aspects, out.std); err != nil {
			return nil, err
		}
	}
	if o.Raise {
		for i := range out.Ways {
			if w := &out.Ways[i]; w.Drop == 0 && w.Others == 0 && w.Aspect == o.Aspect && w.Width > proposed.Width {
				proposed = w.ScreenSize
				w.apply(out.Design)
				out.Proof = nil
				if ob, short := shortScreen(d, o, proposed); short {
					out.Proof = append(out.Proof, ob)
				}
				out.Note = stairCaution(out.std.Code(d.Criteria.Code))
				break
			}
		}
	}
	o.tell(1, "picture sized")
	out.Changes = rowChanges(d, out.Design)
	wished := out.Solved()
	is := out.conclude(d, was)
	if !wished && out.Design.Screen.Width < d.Screen.Width &&
		(is.PictureCount[sight.Blocked] >= was.PictureCount[sight.Blocked] || proposed.Angle < leastAngle(out.std)) {
		out.drop(d) // smaller than what is there, and nobody sees more of it, or nobody would build it
	}
	return out, nil
}

// mainEye returns how far before the picture the main position's eye is, how far to
// the right of its middle, and how high over the floor.
func mainEye(d *project.Design) (ahead, off, height float64) {
	at := place.MainPoint(d)
	if m := d.Seating.Main.Row; m >= 1 && m <= len(d.Seating.Rows) {
		// The ears' middle is known; the eyes are before it as in any seat of
		// the row.
		for _, s := range place.Seats(d) {
			if s.Row == m {
				b := place.Listener(d, s)
				u := s.Basis.U
				at.X += b.Eye().Sub(b.Ear()).Dot(u)
				at.Z = b.Eye().Z
				break
			}
		}
	}
	return at.X - float64(d.Screen.Distance), at.Y - float64(d.Screen.Centre), at.Z
}

// sizeScreen finds the largest picture of one shape.
func sizeScreen(ctx context.Context, d *project.Design, o ScreenOptions, aspect float64, std practice.Standard) (ScreenSize, error) {
	ahead, off, eye := mainEye(d)
	out := ScreenSize{Aspect: aspect, Limit: byAngle}
	w := PictureWidth(o.Angle.Radians(), ahead, off)
	if math.IsNaN(w) {
		return out, nil
	}
	if most := wallWidth(d, o); most < w {
		w, out.Limit = most, byWalls
	}
	c := d.Clone()
	c.Screen.Aspect = aspect
	set := viewers{ctx: ctx, pic: sight.NewViewer(c)}
	own := float64(d.Screen.Bottom)
	// try sets width w and finds its lower edge: as it is, or as little higher as all
	// rows need, or as little lower as the ceiling asks for.
	try := func(w float64) (bottom float64, ok bool, err error) {
		const least = 0.2 // m, as Validate
		if !(w >= least) {
			return 0, false, nil
		}
		c.Screen.Width = unit.Length(w)
		low := max(min(own, lowestEdgeFor(c, eye)), float64(c.Screen.Border))
		high, limit := mostEdge(c, std)
		if under := mostBottom(c) - float64(o.Top); under < high {
			high, limit = under, byCeiling
		}
		out.Limit = limit
		if low > high {
			return 0, false, nil
		}
		bottom, ok, err = set.lowestBottom(c, min(max(own, low), high), high)
		if k := set.blocker(); !ok && k != "" {
			out.Limit = k
		}
		return bottom, ok, err
	}
	w = math.Floor(w/millimetre+1e-6) * millimetre
	limit := out.Limit
	b, ok, err := try(w)
	if err != nil {
		return out, err
	}
	if ok {
		out.Limit = limit
	}
	if !ok {
		// A narrower picture is lower too, and its edge needs no more height:
		// bisection. No picture at all when even the narrowest fails.
		lo, hi := 0.2, w
		if b, ok, err = try(lo); err != nil || !ok {
			return out, err
		}
		for hi-lo > millimetre {
			mid := (lo + hi) / 2
			bm, fits, err := try(mid)
			if err != nil {
				return out, err
			}
			if fits {
				lo, b = mid, bm
			} else {
				hi = mid
			}
		}
		w = math.Floor(lo/millimetre) * millimetre
		if bm, fits, err := try(w); err != nil {
			return out, err
		} else if fits {
			b = bm
		} else {
			w = lo
		}
	}
	out.Width, out.Height, out.Bottom, out.OK = w, w/aspect, b, true
	out.Angle = float64(unit.FromRadians(PictureAngle(w, ahead, off)))
	out.Shapes = shapesIn(d, out)
	return out, nil
}

// lowestEdgeFor returns how low the lower edge may be hung: with the picture's middle at
// the height of the main position's eye. No source: common practice.
func lowestEdgeFor(d *project.Design, eye float64) float64 { return eye - d.Screen.Height()/2 }

// mostEdge returns how high the lower edge of the picture may be, and what says so: the
// ceiling, or the rule on how far a front row looks up to the picture's top. It is never
// below where the edge is.
func mostEdge(d *project.Design, std practice.Standard) (float64, string) {
	high, limit := mostBottom(d), byCeiling
	up := ruleLimits(std, "look-up-top").Most() * unit.Degree
	if !(up < math.Pi/2) {
		return high, limit
	}
	for _, s := range place.Seats(d) {
		eye := place.Listener(d, s).Eye()
		if ahead := eye.X - float64(d.Screen.Distance); ahead > 0 {
			if most := max(eye.Z+ahead*math.Tan(up)-d.Screen.Height(), float64(d.Screen.Bottom)); most < high {
				high, limit = most, fmt.Sprintf("looking up by %g° to its top", up/unit.Degree)
			}
		}
	}
	return high, limit
}

// ruleLimits returns the limits of a rule under a standard.
func ruleLimits(std practice.Standard, id string) practice.Limits {
	rule, _ := practice.Find(id)
	return std.Limits(&rule)
}

// blocker names the loudspeaker whose box hid the picture last; empty for none.
func (w *viewers) blocker() string {
	r := w.pic.Room()
	if w.last >= len(r.Views) {
		return ""
	}
	v := r.Views[w.last]
	if v.Verdict == sight.Clear || v.Blocker < 0 || v.Blocker >= len(r.Parts) || r.Parts[v.Blocker].Kind != place.SpeakerPart {
		return ""
	}
	return r.WordsFrom(w.last, v.Blocker)
}

// wallWidth returns how wide the picture can be between the walls at its place.
func wallWidth(d *project.Design, o ScreenOptions) float64 {
	// The walls to either side of the picture's middle, over the sheet's depth.
	poly := d.Room.Polygon()
	half := math.Inf(1)
	x, y := float64(d.Screen.Distance), float64(d.Screen.Centre)
	if !poly.Contains(geometry.Vec2{X: x, Y: y}) {
		return 0
	}
	for i := range poly {
		a, b := poly.Edge(i)
		if (a.X-x)*(b.X-x) > 0 || a.X == b.X {
			continue
		}
		at := a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X)
		half = min(half, math.Abs(at-y))
	}
	if math.IsInf(half, 0) {
		return 0
	}
	return max(2*(half-float64(d.Screen.Border)-float64(o.Side)), 0)
}

// shortScreen says why a picture is smaller than wished for, if it is.
func shortScreen(d *project.Design, o ScreenOptions, s ScreenSize) (Obstacle, bool) {
	show := func(v float64) string { return Metres.Show(v, d.Units) }
	if s.OK && s.Limit == byAngle {
		return Obstacle{}, false
	}
	ahead, off, _ := mainEye(d)
	want := PictureWidth(o.Angle.Radians(), ahead, off)
	ob := Obstacle{Constraint: s.Limit, Where: "picture"}
	switch {
	case math.IsNaN(want):
		ob.Text = "The main listening position is not in front of the picture."
	case !s.OK:
		ob.Short = want
		ob.Text = fmt.Sprintf("No picture of %g:1 fits where all rows see it: %s stands against it.", s.Aspect, s.Limit)
	default:
		ob.Short = want - s.Width
		ob.Text = fmt.Sprintf("%.1f° from the main position takes a picture %s wide; %s allows %s, %s less, which is %.1f°.",
			float64(o.Angle), show(want), s.Limit, show(s.Width), show(ob.Short), s.Angle)
	}
	return ob, true
}
