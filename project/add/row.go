// SPDX-License-Identifier: MIT

package add

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/fit"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
)

// Row returns one more row behind the rearmost: like it, as near behind it as rules
// of practice and the footrests allow, on the lowest riser from which everybody sees
// the whole picture and whose steps keep their limits. It breaks no rule that must
// hold and overlaps nothing; the error says in one line why there is no such row.
// Where only loudspeakers are in the way of that, since they hang for the rows there
// are, caveat says so in one line.
func Row(d *project.Design, std practice.Standard) (r project.Row, caveat string, err error) {
	if len(d.Seating.Rows) == 0 {
		return r, "", errors.New("there is no row to begin from")
	}
	rear := 0
	for i, r := range d.Seating.Rows {
		if r.Distance > d.Seating.Rows[rear].Distance {
			rear = i
		}
	}
	last := d.Seating.Rows[rear]
	chair, ok := d.Chair(last.Chair)
	if !ok {
		return r, "", errors.New("the rearmost row names no chair")
	}
	f := &rowFinder{d: d, std: std, last: last, chair: chair, known: map[string]int{}}
	for _, r := range fit.Findings(d) {
		f.known[r.String()]++
	}
	return f.find()
}

// rowFinder looks for the place of a row.
type rowFinder struct {
	d     *project.Design
	std   practice.Standard
	last  project.Row
	chair project.Chair
	known map[string]int
	// scarce is which rule broke the first place from which all see the picture,
	// overlaps why the first place of all could not be.
	scarce, overlaps string
	// second is the first row that breaks rules about loudspeakers only, and caveat
	// which; nil for none.
	second *project.Row
	caveat string
	// broken counts what broke the rules before; nil until asked for.
	broken map[breach]int
}

func (f *rowFinder) find() (r project.Row, caveat string, err error) {
	_, hi := f.d.Room.Polygon().Bounds()
	behind := reach(f.chair, f.last.Recline.Radians())
	// Footrests out behind backs fully reclined; where the room is too short for
	// that, a passage.
	roomy := reach(f.chair, f.chair.MaxRecline.Radians()) + float64(f.chair.PanDepth+f.chair.Footrest)
	tight := behind + float64(f.chair.PanDepth)
	// A few places are enough to find one, and keep the window awake.
	step := max(0.05, (hi.X-behind-float64(f.last.Distance)-tight)/10) // m
	var pitches []float64
	for p := roomy; float64(f.last.Distance)+p+behind <= hi.X; p += step {
		pitches = append(pitches, p)
	}
	for p := roomy - step; p >= tight; p -= step {
		if float64(f.last.Distance)+p+behind <= hi.X {
			pitches = append(pitches, p)
		}
	}
	if len(pitches) == 0 {
		return r, "", fmt.Errorf("there is no room for another row: it needs %s from back to back, and %s is left",
			f.show(tight+behind), f.show(max(hi.X-float64(f.last.Distance), 0)))
	}
	for _, p := range pitches {
		if r, ok := f.at(p); ok {
			return r, "", nil
		}
	}
	if f.second != nil {
		return *f.second, f.caveat, nil
	}
	return r, "", errors.New("there is no place for another row: " +
		cmp.Or(f.scarce, f.overlaps, "behind the others not everybody in it would see the whole picture"))
}

func (f *rowFinder) show(v float64) string {
	return unit.Length(v).Format(f.d.Units != project.Imperial)
}

// at returns the row that far behind the last on the lowest riser that will do.
func (f *rowFinder) at(pitch float64) (project.Row, bool) {
	r := f.last
	r.Distance = up(float64(f.last.Distance) + pitch)
	need := f.needed(r)
	tries := 0
	for _, rise := range f.rises() {
		const few = 8 // beyond what is needed by heads in line
		if rise > 0 && rise < need || tries == few {
			continue
		}
		tries++
		r := r
		r.Riser = fine(float64(f.last.Riser) + rise)
		r.Front, r.Back = 0, 0
		if r.Riser > 0 {
			f.platform(&r, pitch)
		}
		why := f.fits(r)
		switch {
		case why != "":
			if f.overlaps == "" {
				f.overlaps = why
			}
		case f.sees(r):
			why, speakers := f.breaks(r)
			switch {
			case why == "" && speakers == "":
				return r, true
			case why == "" && f.second == nil:
				f.second, f.caveat = &r, speakers
			case why != "" && f.scarce == "":
				f.scarce = why
			}
		}
	}
	return r, false
}

// needed returns the rise over the row before from which the eyes of r look over
// every head ahead, if it were in line, at the lower edge of the picture, metres: the
// straight line from the edge over each crown.
func (f *rowFinder) needed(r project.Row) float64 {
	r.Riser, r.Front, r.Back = f.last.Riser, 1, 1
	next := f.with(r)
	seats := place.Seats(next)
	if len(seats) == 0 {
		return 0
	}
	eye := place.Listener(next, seats[len(seats)-1]).Eye()
	edge, low := float64(next.Screen.Distance), float64(next.Screen.Bottom)
	need := 0.0
	for _, s := range seats {
		crown := place.Other(next, s).Crown
		if s.Row == len(next.Seating.Rows) || crown.X <= edge || crown.X >= eye.X {
			continue
		}
		need = max(need, low+(crown.Z-low)*(eye.X-edge)/(crown.X-edge)-eye.Z)
	}
	return need
}

// platform gives r one that begins behind the row before, or where that row's platform
// ends, and reaches to the back wall where that is near or the drop behind it would be
// high.
func (f *rowFinder) platform(r *project.Row, pitch float64) {
	const near, edge, high = 1.2, 0.1, 0.6 // m: of the back wall; of platform behind a chair; of a drop
	_, hi := f.d.Room.Polygon().Bounds()
	from := reach(f.chair, f.last.Recline.Radians())
	if f.last.Riser > 0 {
		from = min(from, float64(f.last.Back))
	}
	r.Front = up(pitch - from)
	r.Back = up(reach(f.chair, f.chair.MaxRecline.Radians()) + edge)
	if left := hi.X - float64(r.Distance); left <= near || float64(r.Riser) > high {
		r.Back = up(left)
	}
}

// rises returns the rises over the row before that whole steps can climb, the least
// first, in centimetres.
func (f *rowFinder) rises() []float64 {
	const most = 1.2 // m, higher than any row stands over the next
	step := f.std.For(f.d).StepHeights(f.d.Criteria.Code)
	lo, hi := step.Least(), step.Most()
	out := []float64{0}
	for cm := 1; float64(cm)/100 <= most; cm++ {
		rise := float64(cm) / 100
		if n := math.Ceil(rise/hi - 1e-9); rise/n >= lo {
			out = append(out, rise)
		}
	}
	return out
}

// with returns the design with r as its last row.
func (f *rowFinder) with(r project.Row) *project.Design {
	next := *f.d
	next.Seating.Rows = append(slices.Clone(f.d.Seating.Rows), r)
	return &next
}

// fits says what r would overlap, or why Validate refuses it; empty for nothing.
func (f *rowFinder) fits(r project.Row) string {
	next := f.with(r)
	if err := next.Validate(); err != nil {
		return err.Error()
	}
	seen := map[string]int{}
	for _, m := range fit.Findings(next) {
		if seen[m.String()]++; seen[m.String()] > f.known[m.String()] {
			return m.String()
		}
	}
	return ""
}

// sees reports whether everybody in r sees the whole picture.
func (f *rowFinder) sees(r project.Row) bool {
	next := f.with(r)
	next.Speakers = nil // the picture alone
	a := sight.Audit(next)
	for i, s := range a.Seats {
		if s.Row == len(next.Seating.Rows) && a.Views[i].Verdict == sight.Blocked {
			return false
		}
	}
	return true
}

// breach is by what one finding of the rules is told from another: a door that strikes
// a loudspeaker excuses none that strikes a platform.
type breach struct {
	rule     string
	speakers bool
}

func breachOf(m practice.Remark) breach { return breach{m.Rule, len(m.Speakers) > 0} }

// breaks says which rule that must hold r breaks, itself or by what it does to
// another row, and which of those about loudspeakers; empty for none.
func (f *rowFinder) breaks(r project.Row) (why, speakers string) {
	if f.broken == nil {
		f.broken = map[breach]int{}
		for _, m := range practice.Check(f.d, nil, f.std).Failing() {
			f.broken[breachOf(m)]++
		}
	}
	before := maps.Clone(f.broken)
	for _, m := range practice.Check(f.with(r), nil, f.std).Failing() {
		if m.Severity != practice.Must {
			continue
		}
		if before[breachOf(m)]--; before[breachOf(m)] >= 0 {
			continue
		}
		if len(m.Speakers) == 0 {
			return m.Text, speakers
		}
		if speakers == "" {
			speakers = m.Text
		}
	}
	return "", speakers
}

// reach returns how far a chair reclined by an angle reaches behind the line where
// its pan and back meet.
func reach(chair project.Chair, recline float64) float64 {
	s := place.Seat{Basis: geometry.WorldBasis(), Chair: chair, Recline: recline}
	far := 0.0
	for _, p := range s.ChairParts() {
		for _, c := range p.Box.Corners() {
			far = max(far, c.X)
		}
	}
	return far
}

// up rounds up to the next centimetre.
func up(v float64) unit.Length { return unit.Length(math.Ceil(v*100-1e-6) / 100) }
