// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"fmt"
	"math"
	"strings"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/bs2051"
	"earline/project/diff"
	"earline/project/fit"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
)

// LayoutOptions are the wishes of Layout. System and Seats must be given.
type LayoutOptions struct {
	// System is one of Rec. ITU-R BS.2051, by name or letter: "4+5+0" or "D".
	System string
	Seats  int
	// Angle is the wanted horizontal angle of the picture; 0 is 45 degrees.
	Angle unit.Degrees
	// Aspect is the shape of the picture; 0 is 1.78.
	Aspect float64
	// Beyond lets Lift leave the published elevations of the middle layer where
	// heads are in the way; otherwise every loudspeaker stays within them.
	Beyond bool
	// Standard has the limits; the zero value is the one that the design has chosen.
	Standard practice.Standard
	// People widens the range of people for whom the result holds.
	People
	Progress
}

// LayoutProposal is the answer of Layout.
type LayoutProposal struct {
	Proposal
	Placed []Placing // in the order of the loudspeakers
}

// Placing is the place of one channel as seen from the main listening position, in
// degrees.
type Placing struct {
	bs2051.Channel
	AzimuthIs, ElevationIs float64
	// InRange is whether both are within the published ranges.
	InRange bool
}

// What a first layout assumes. No source: common practice, to be changed in the
// design afterwards.
const (
	sideAisle   = 0.5  // m, from an outer seat's middle pitch to the wall
	seatPitch   = 0.85 // m
	rowPitch    = 1.65 // m
	behindLast  = 0.9  // m, from the last row's line to the back wall
	firstRow    = 2.0  // m, from the picture to the first row's line
	behindSheet = 0.6  // m, from the screen wall to the picture: room for loudspeakers
	lowestEdge  = 0.65 // m, of the picture
	mainShare   = 0.6  // of the room's length: where the main row goes
	sheetGap    = 0.02 // m, between a loudspeaker and the screen before it
)

// Layout proposes rows, picture and loudspeakers for the shell and the built-in
// features of d. It replaces the seats and loudspeakers of d and keeps its first
// chair and the settings of sitters and sight. It puts every loudspeaker where the
// ray of its label's nominal direction meets the screen, a wall or the ceiling, in
// closed form; then it runs Rows and Lift. Proof says what is not possible.
func Layout(ctx context.Context, d *project.Design, o LayoutOptions) (*LayoutProposal, error) {
	channels, ok := bs2051.System(o.System)
	if !ok {
		return nil, &project.Fault{Field: "layout system", Found: fmt.Sprintf("%q", o.System), Allowed: strings.Join(bs2051.Systems(), ", ")}
	}
	if o.Seats < 1 || o.Seats > 100 {
		return nil, &project.Fault{Field: "layout seats", Found: fmt.Sprint(o.Seats), Allowed: "1 to 100"}
	}
	if o.Angle == 0 {
		o.Angle = 45
	}
	if o.Aspect == 0 {
		o.Aspect = 1.78
	}
	if err := angle("layout angle", o.Angle, 10, 120); err != nil {
		return nil, err
	}
	if !(o.Aspect >= 1 && o.Aspect <= 4) {
		return nil, &project.Fault{Field: "layout aspect", Found: fmt.Sprint(o.Aspect), Allowed: "1 to 4"}
	}
	if err := o.People.fill(); err != nil {
		return nil, err
	}
	p, _, err := begin(ctx, d, o.Standard)
	if err != nil {
		return nil, err
	}
	l := &layouter{ctx: ctx, o: o, d: p.Design, channels: channels, out: &LayoutProposal{Proposal: *p}}
	o.tell(0, "rows and picture")
	if !l.seat() {
		l.out.Design = d.Clone()
		l.out.After = l.out.Before
		return l.out, nil
	}
	l.picture()
	rows, err := Rows(ctx, l.d, RowsOptions{People: o.People, Standard: o.Standard, Settle: true})
	if err != nil {
		return nil, err
	}
	l.d = rows.Design
	l.out.Proof = append(l.out.Proof, rows.Proof...)
	o.tell(0.3, "loudspeakers")
	l.loudspeakers()
	o.tell(0.5, "lifting")
	lift, err := Lift(ctx, l.d, l.limits())
	if err != nil {
		return nil, err
	}
	l.d = lift.Design
	l.finish(d)
	if err := l.forEveryone(); err != nil {
		return nil, err
	}
	o.tell(1, "laid out")
	return l.out, nil
}

// forEveryone says for whom the layout holds, with Everyone.
func (l *layouter) forEveryone() error {
	if !l.o.Everyone {
		return nil
	}
	r, err := sight.RangeFor(l.ctx, l.d, l.o.Range)
	if err != nil {
		return err
	}
	if r.Holds() {
		l.out.Note += " The layout " + r.Words(l.d.Units) + "."
		return nil
	}
	ob := Obstacle{Constraint: "not certified", Where: "the layout", Text: "The layout " + r.Words(l.d.Units)}
	if i, k, ok := r.Worst(); ok {
		ob.Where = fmt.Sprintf("row %d seat %d to %s", r.Seats[i].Row, r.Seats[i].Number, r.Speakers[k].Name())
		if p := r.Pair(i, k); p.Certified {
			ob.Constraint, ob.Short = r.Case(i, p.Worst), -p.Upper
		}
	}
	l.out.Proof = append(l.out.Proof, ob)
	return nil
}

// layouter is one run of Layout.
type layouter struct {
	ctx      context.Context
	o        LayoutOptions
	d        *project.Design
	channels []bs2051.Channel
	out      *LayoutProposal
}

func (l *layouter) show(v float64) string { return Metres.Show(v, l.d.Units) }

func (l *layouter) fail(constraint, where string, short float64, format string, args ...any) {
	l.out.Proof = append(l.out.Proof, Obstacle{Constraint: constraint, Where: where, Short: short, Text: fmt.Sprintf(format, args...)})
}

// seat places the rows; false when not one seat fits.
func (l *layouter) seat() bool {
	lo, hi := l.d.Room.Polygon().Bounds()
	long, wide := hi.X-lo.X, hi.Y-lo.Y
	per := int(math.Floor((wide-2*sideAisle)/seatPitch + 1e-9))
	room := long - behindSheet - firstRow - behindLast
	deep := 0
	if room >= 0 {
		deep = 1 + int(math.Floor(room/rowPitch+1e-9))
	}
	if per < 1 {
		l.fail("room width", "rows", seatPitch+2*sideAisle-wide, "No seat with %s beside it fits a room %s wide.", l.show(sideAisle), l.show(wide))
		return false
	}
	if deep < 1 {
		l.fail("room length", "rows", -room, "No row fits: it takes %s from the screen wall, the room is %s long.", l.show(behindSheet+firstRow+behindLast), l.show(long))
		return false
	}
	seats := l.o.Seats
	rows := (seats + per - 1) / per
	if rows > deep {
		l.fail("room length", "rows", float64(rows-deep)*rowPitch,
			"%d seats take %d rows of %d, %s apart, %s longer than the room; %d seats fit.", seats, rows, per, l.show(rowPitch),
			l.show(float64(rows-1)*rowPitch-room), per*deep)
		seats, rows = per*deep, deep
	}
	chair := l.d.Chairs[0]
	// The main row near its share of the length, all rows within the room.
	main := (rows + 1) / 2
	first := lo.X + mainShare*long - float64(main-1)*rowPitch
	first = min(first, hi.X-behindLast-float64(rows-1)*rowPitch)
	first = max(first, lo.X+behindSheet+firstRow)
	l.d.Seating.Rows = nil
	for i := range rows {
		n := seats / rows
		if i < seats%rows {
			n++
		}
		r := project.Row{Chair: chair.ID, Distance: unit.Length(upTo(first+float64(i)*rowPitch, 0.01)),
			Seats: n, Pitch: seatPitch, Centre: unit.Length((lo.Y + hi.Y) / 2), Recline: chair.MinRecline}
		if i > 0 {
			r.Front, r.Back = rowPitch-behindRow, behindRow
		}
		l.d.Seating.Rows = append(l.d.Seating.Rows, r)
	}
	l.d.Seating.Main = project.MainPosition{Row: main}
	return true
}

// picture sizes a sound-transparent screen for the main position.
func (l *layouter) picture() {
	lo, hi := l.d.Room.Polygon().Bounds()
	const border = 0.06 // m
	l.d.Screen = project.Screen{Aspect: l.o.Aspect, Width: 1, Bottom: lowestEdge, Distance: unit.Length(lo.X + behindSheet),
		Centre: unit.Length((lo.Y + hi.Y) / 2), Border: border, Transparent: true, Gain: 1}
	ahead, off, _ := mainEye(l.d)
	want := PictureWidth(l.o.Angle.Radians(), ahead, off)
	w := min(want, wallWidth(l.d, ScreenOptions{}))
	l.d.Screen.Width = unit.Length(math.Max(w, 0.2))
	if over := lowestEdge - mostBottom(l.d); over > 0 {
		w = min(w, (float64(l.d.Screen.Height())-over)*l.o.Aspect)
	}
	l.d.Screen.Width = unit.Length(max(math.Floor(w/millimetre)*millimetre, 0.2))
	if w < want-millimetre {
		l.fail("picture", "picture", want-w, "%.0f° from the main position takes a picture %s wide; the room holds %s.", float64(l.o.Angle), l.show(want), l.show(w))
	}
}

// The invented models that a layout uses.
const (
	boxModel, ceilingModel, subModel = "layout-box", "layout-ceiling", "layout-sub"
)

// models adds the layout's own loudspeaker models.
func (l *layouter) models() {
	l.d.Models = []project.Model{
		{ID: boxModel, Name: "Box, two drivers", Width: 0.2, Height: 0.32, Depth: 0.2,
			Drivers:   []project.Driver{{Band: project.High, Up: 0.07, Diameter: 0.025}, {Band: project.Low, Up: -0.06, Diameter: 0.15}},
			CoverageH: 90, CoverageV: 60, Sensitivity: 87, Power: 100, Mass: 6},
		{ID: ceilingModel, Name: "Ceiling, two drivers", Width: 0.24, Height: 0.24, Depth: 0.14, Flush: true,
			Drivers:   []project.Driver{{Band: project.High, Diameter: 0.025}, {Band: project.Low, Diameter: 0.165}},
			CoverageH: 100, CoverageV: 100, Sensitivity: 87, Power: 80, Mass: 3, CutoutW: 0.22, CutoutH: 0.22},
		{ID: subModel, Name: "Subwoofer", Width: 0.36, Height: 0.4, Depth: 0.36,
			Drivers:   []project.Driver{{Band: project.Sub, Diameter: 0.26}},
			CoverageH: 360, CoverageV: 360, Sensitivity: 88, Power: 300, Mass: 20},
	}
}

// loudspeakers places every channel.
func (l *layouter) loudspeakers() {
	l.models()
	l.d.Speakers = nil
	main := place.MainPoint(l.d)
	for _, c := range l.channels {
		l.d.Speakers = append(l.d.Speakers, l.channel(c, main))
	}
}

// channel places one channel on the ray of its direction.
func (l *layouter) channel(c bs2051.Channel, main geometry.Vec) project.Loudspeaker {
	s := project.Loudspeaker{Label: c.Label, Model: boxModel, Mount: project.OnWall}
	az := c.Azimuth * unit.Degree
	if c.LFE() {
		return l.sub(c, s, main)
	}
	// Upper loudspeakers go to 45 degrees if their range allows it; lower ones stay as
	// near to the ears' level as their range allows.
	el := c.Elevation
	switch c.Label[0] {
	case 'U', 'T':
		el = min(max(45, c.ElevationMin), c.ElevationMax)
	case 'B':
		const inside = 1 // degree, off the limit
		el = max(c.ElevationMax-inside, c.ElevationMin)
	}
	dir := geometry.Direction(az, el*unit.Degree)
	if c.Label[0] == 'U' || c.Label[0] == 'T' {
		// In the ceiling, where the ray gets there before a wall.
		up := s
		up.Model, up.Mount = ceilingModel, project.OnCeiling
		h := &overhead{d: l.d, main: main, k: len(l.d.Speakers), az: az, el: el * unit.Degree}
		l.d.Speakers = append(l.d.Speakers, up)
		placed, ok := h.onRay(h.az, h.el)
		l.d.Speakers = l.d.Speakers[:len(l.d.Speakers)-1]
		if ok {
			if fits, _ := h.fits(&placed); fits {
				return placed.Loudspeaker
			}
		}
		s.At, _ = l.farthest(s, main, dir, false)
		return s
	}
	if at, ok := l.farthest(s, main, dir, true); ok {
		s.At, s.Mount = at, project.BehindScreen
		return s
	}
	s.At, _ = l.farthest(s, main, dir, false)
	return s
}

// farthest returns the place of box s as far along dir from main as the walls,
// the ceiling and the floor let its corners go or, for behind, just behind the
// screen; false when it does not get there. A box that aims at main does not
// turn as it moves along the ray, so all this is linear.
func (l *layouter) farthest(s project.Loudspeaker, main, dir geometry.Vec, behind bool) (project.Point, bool) {
	s.At = project.PointOf(main.Add(dir))
	ref := place.OneSpeaker(l.d, s, main)
	poly := l.d.Room.Polygon()
	room := &l.d.Room
	slopeX := room.CeilingAt(1, 0) - room.CeilingAt(0, 0)
	slopeY := room.CeilingAt(0, 1) - room.CeilingAt(0, 0)
	const never = 1e-9
	most := math.Inf(1)
	frontmost := math.Inf(-1)
	for _, c := range corners(ref.Box) {
		off := c.Sub(ref.At.Vec())
		q := main.Add(off)
		frontmost = max(frontmost, off.X)
		if rate := dir.Z - slopeX*dir.X - slopeY*dir.Y; rate > never {
			most = min(most, (room.CeilingAt(q.X, q.Y)-q.Z)/rate)
		}
		if dir.Z < -never {
			most = min(most, q.Z/-dir.Z)
		}
		for e := range poly {
			a, b := poly.Edge(e)
			edge, way := b.Sub(a), geometry.Vec2{X: dir.X, Y: dir.Y}
			det := way.Cross(edge)
			if math.Abs(det) < never {
				continue
			}
			w := a.Sub(geometry.Vec2{X: q.X, Y: q.Y})
			t, u := w.Cross(edge)/det, w.Cross(way)/det
			if t > 0 && u >= -never && u <= 1+never {
				most = min(most, t)
			}
		}
	}
	most = max(most, 0)
	if !behind {
		return project.PointOf(main.Add(dir.Mul(most))), true
	}
	if dir.X > -never {
		return project.Point{}, false
	}
	t := (main.X + frontmost - (float64(l.d.Screen.Distance) - sheetGap)) / -dir.X
	return project.PointOf(main.Add(dir.Mul(t))), t > 0 && t <= most
}

// sub puts a subwoofer on the floor along its azimuth, as far off as the walls
// and its elevations allow.
func (l *layouter) sub(c bs2051.Channel, s project.Loudspeaker, main geometry.Vec) project.Loudspeaker {
	m, _ := l.d.Model(subModel)
	s.Model, s.Mount = subModel, project.OnFloor
	// Facing back, so that the box does not turn on the way.
	s.Aim = project.Aim{Fixed: true, Azimuth: 180}
	z := float64(m.Height) / 2
	level := main
	level.Z = z
	dir := geometry.Direction(c.Azimuth*unit.Degree, 0)
	at, _ := l.farthest(s, level, dir, false)
	far := at.Vec().Dist(level)
	const slack = 1e-3 // rad inside the limit
	for _, lim := range []float64{c.ElevationMin, c.ElevationMax} {
		if lim >= 0 || lim <= -89 {
			continue
		}
		// A distance of drop/tan gives the elevation lim; the lowest asks for
		// at least that, the highest for at most.
		a := -lim * unit.Degree
		if lim == c.ElevationMax {
			far = min(far, (main.Z-z)/math.Tan(a+slack))
		} else if least := (main.Z - z) / math.Tan(a-slack); far < least {
			// Too near for a box on the floor: it stands higher.
			z = main.Z - far*math.Tan(a-slack)
		}
	}
	p := level.Add(dir.Mul(far))
	p.Z = z
	s.At = project.PointOf(p)
	return s
}

// limits returns how far each loudspeaker may be lifted.
func (l *layouter) limits() LiftOptions {
	o := LiftOptions{People: l.o.People, Standard: l.o.Standard}
	if l.o.Beyond {
		return o
	}
	o.Elevations = map[string]unit.Degrees{}
	for _, c := range l.channels {
		o.Elevations[c.Label] = unit.Degrees(c.ElevationMax)
	}
	return o
}

// finish reports the places and what falls short.
func (l *layouter) finish(before *project.Design) {
	out := l.out
	out.Design = l.d
	var r *sight.Result
	out.After, r = count(l.d)
	for k, c := range l.channels {
		az, el, _ := geometry.AzEl(l.d.Speakers[k].At.Vec().Sub(r.Main))
		p := Placing{Channel: c, AzimuthIs: float64(unit.FromRadians(az)), ElevationIs: float64(unit.FromRadians(el))}
		azOff := outOf(p.AzimuthIs, c.AzimuthMin, c.AzimuthMax)
		if el > 89.9*unit.Degree { // straight above there is no azimuth
			azOff = 0
		}
		if c.AzimuthMin == 180 { // 180 and -180 are the same
			azOff = min(azOff, outOf(p.AzimuthIs, -180, -180))
		}
		off := max(azOff, outOf(p.ElevationIs, c.ElevationMin, c.ElevationMax))
		p.InRange = off == 0
		out.Placed = append(out.Placed, p)
		if !p.InRange && !(l.o.Beyond && azOff == 0 && el >= 0) {
			out.Proof = append(out.Proof, Obstacle{Constraint: "published range", Where: c.Label, Short: off, Kind: Degrees,
				Text: fmt.Sprintf("%s sounds from azimuth %.1f° and elevation %.1f°, %.1f° outside the range of ITU-R BS.2051.", c.Label, p.AzimuthIs, p.ElevationIs, off)})
		}
	}
	for i := range r.Seats {
		for k := range r.Speakers {
			if v := r.Pair(i, k).Verdict; v == sight.Tight || v == sight.Blocked {
				out.Proof = append(out.Proof, pairObstacle(l.d, r, i, k))
			}
		}
		if v := r.Views[i]; v.Verdict != sight.Clear {
			out.Proof = append(out.Proof, Obstacle{Constraint: r.WordsFrom(i, v.Blocker), Where: fmt.Sprintf("row %d seat %d", r.Seats[i].Row, r.Seats[i].Number),
				Short: max(float64(l.d.Criteria.PictureMargin)-v.Clearance, 0), Text: r.PictureSentence(i, l.d.Units)})
		}
	}
	for _, f := range fit.Findings(l.d) {
		out.Proof = append(out.Proof, Obstacle{Constraint: "room", Where: f.Where, Text: f.String()})
	}
	told := func(format string, args ...any) {
		out.Changes = append(out.Changes, Change{Measure: diff.Words, What: fmt.Sprintf(format, args...)})
	}
	told("%s with %s in place of %s", several(len(l.d.Seating.Rows), "row"), several(len(r.Seats), "seat"), several(len(before.Seating.Rows), "row"))
	for i, row := range l.d.Seating.Rows {
		told("row %d: %d seats at %s from the screen wall, riser %s", i+1, row.Seats, l.show(float64(row.Distance)), l.show(float64(row.Riser)))
	}
	told("picture %s wide, lower edge at %s", l.show(float64(l.d.Screen.Width)), l.show(float64(l.d.Screen.Bottom)))
	for k, p := range out.Placed {
		at := l.d.Speakers[k].At
		told("%s at %s from the screen wall, %s from the left wall, %s high: azimuth %.1f°, elevation %.1f°",
			p.Label, l.show(float64(at.X)), l.show(float64(at.Y)), l.show(float64(at.Z)), p.AzimuthIs, p.ElevationIs)
	}
	out.Note = stairCaution(out.std.Code(before.Criteria.Code)) + " Loads over heads are for licensed practice to judge. A first layout from nominal directions; check it in the room."
}

// outOf returns how far v is outside [lo, hi], 0 inside or by rounding.
func outOf(v, lo, hi float64) float64 {
	const same = 1e-6 // degrees
	d := max(lo-v, v-hi)
	if d <= same {
		return 0
	}
	return d
}

// several says how many there are of what a word names: "1 row", "3 rows".
func several(n int, word string) string {
	if n != 1 {
		word += "s"
	}
	return fmt.Sprintf("%d %s", n, word)
}
