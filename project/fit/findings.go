// SPDX-License-Identifier: MIT

package fit

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// Finding is something a design holds that can be computed but hardly built or
// used: a seat beyond a wall, a loudspeaker that stands in one.
type Finding struct {
	// Field is the path of the field to look at first, as in Fault.
	Field string `json:"field"`
	Where string `json:"where"` // in words: "row 2 seat 3"
	Text  string `json:"text"`  // goes on from Where: "stands 0.120 m outside the room"
}

// String returns Where and Text as one line.
func (f Finding) String() string { return f.Where + " " + f.Text }

// Item returns what f is about; the zero value for what is no item, such as the main
// listening position.
func (f Finding) Item() place.Item {
	for _, k := range []struct {
		field string
		kind  place.ItemKind
	}{
		{"loudspeakers[%d]", place.SpeakerItem}, {"seating.rows[%d]", place.RowItem}, {"room.features[%d]", place.FeatureItem},
		{"room.treatments[%d]", place.TreatmentItem}, {"sub_zones[%d]", place.ZoneItem},
	} {
		it := place.Item{Kind: k.kind}
		if n, _ := fmt.Sscanf(f.Field, k.field, &it.Index); n == 1 {
			return it
		}
	}
	if strings.HasPrefix(f.Field, "screen.") || strings.HasPrefix(f.Field, "picture.") {
		return place.Item{Kind: place.ScreenItem}
	}
	if strings.HasPrefix(f.Field, "projector.") {
		return place.Item{Kind: place.ProjectorItem}
	}
	return place.Item{}
}

const (
	// touchTol is how far two things may reach into each other and still count
	// as touching: what plaster and carpet vary by.
	touchTol = 0.002 // m
	// flushSlack is how far the front of a flush loudspeaker may be from its
	// surface: a frame's thickness.
	flushSlack = 0.02 // m
	// openingDepth is how far a door or window may lie outside the finished
	// wall, a reveal, and a light or a vent in the void of its wall or ceiling.
	openingDepth = 0.4 // m
)

// Findings returns what is unlikely about d, in the order of the document. It
// expects a design that Validate accepts; on others it says less, and does not
// panic.
func Findings(d *project.Design) []Finding {
	f := finder{d: d, poly: d.Room.Polygon()}
	if len(f.poly) < 3 {
		return nil
	}
	f.features()
	f.treatments()
	f.screen()
	f.masking()
	f.rows()
	f.platforms()
	f.seats()
	f.main()
	f.loudspeakers()
	f.crowd()
	f.projector()
	f.lights()
	return f.found
}

type finder struct {
	d     *project.Design
	poly  geometry.Polygon
	found []Finding
}

func (f *finder) add(field, where, format string, args ...any) {
	f.found = append(f.found, Finding{field, where, fmt.Sprintf(format, args...)})
}

// show prints v metres in the design's units; what is less than a metre as it is read on
// site, in millimetres.
func (f *finder) show(v float64) string {
	metric := f.d.Units != project.Imperial
	switch {
	case metric && v < 0.0005:
		return "less than 1 mm"
	case metric && v < 1:
		return strconv.FormatFloat(1000*v, 'f', 0, 64) + " mm"
	}
	return unit.Length(v).Format(metric)
}

// outside returns how far the plan position of p is outside the footprint, 0
// inside.
func (f *finder) outside(p geometry.Vec) float64 {
	q := geometry.Vec2{X: p.X, Y: p.Y}
	if f.poly.Contains(q) {
		return 0
	}
	return f.poly.Distance(q)
}

// overCeiling returns how far p is above the ceiling, negative below it.
func (f *finder) overCeiling(p geometry.Vec) float64 { return p.Z - f.d.Room.CeilingAt(p.X, p.Y) }

// reach returns how far the farthest of ps is beyond walls, ceiling and floor.
func (f *finder) reach(ps []geometry.Vec) (wall, ceiling, floor float64) {
	for _, p := range ps {
		wall = math.Max(wall, f.outside(p))
		ceiling = math.Max(ceiling, f.overCeiling(p))
		floor = math.Max(floor, -p.Z)
	}
	return wall, ceiling, floor
}

// across returns the field of a place at p that leads out of the wall next to p: along
// the room or across it.
func (f *finder) across(at string, p geometry.Vec) string {
	edge, _ := f.poly.Nearest(geometry.Vec2{X: p.X, Y: p.Y})
	if n := f.poly.InwardNormal(edge); math.Abs(n.X) > math.Abs(n.Y) {
		return at + ".x_m"
	}
	return at + ".y_m"
}

// farthest returns the one of ps that is farthest outside the footprint.
func (f *finder) farthest(ps []geometry.Vec) geometry.Vec {
	at, most := ps[0], -1.0
	for _, p := range ps {
		if out := f.outside(p); out > most {
			at, most = p, out
		}
	}
	return at
}

func (f *finder) features() {
	for i, ft := range f.d.Room.Features {
		field := fmt.Sprintf("room.features[%d].at", i)
		wall, ceiling, floor := f.reach(ft.Corners())
		allowed, over := touchTol, touchTol
		switch ft.Kind {
		case project.Door, project.Window:
			allowed = openingDepth
		case project.Light, project.Vent:
			allowed, over = openingDepth, openingDepth
			if out := f.overCeiling(ft.At.Vec()); out > touchTol {
				f.add(field+".z_m", ft.Words(), "is %s above the ceiling: nothing of it is in the room", f.show(out))
				continue
			}
			if out := f.outside(ft.At.Vec()); out > float64(max(ft.Length, ft.Width))/2+touchTol {
				f.add(f.across(field, ft.At.Vec()), ft.Words(), "is %s outside the room", f.show(out))
				continue
			}
		}
		if wall > allowed {
			f.add(f.across(field, f.farthest(ft.Corners())), ft.Words(), "reaches %s outside the room", f.show(wall))
		}
		if ceiling > over {
			f.add(field+".z_m", ft.Words(), "reaches %s above the ceiling", f.show(ceiling))
		}
		if floor > touchTol {
			f.add(field+".z_m", ft.Words(), "reaches %s below the floor", f.show(floor))
		}
	}
}

func (f *finder) screen() {
	wall, ceiling, floor := f.reach(corners(f.d.Screen.Sheet()))
	lo, hi := f.poly.Bounds()
	if w := float64(f.d.Screen.Width + 2*f.d.Screen.Border); w > hi.Y-lo.Y+touchTol {
		f.add("screen.width_m", "screen", "is %s wide with its border, the room %s: %s at most fits", f.show(w), f.show(hi.Y-lo.Y), f.show(hi.Y-lo.Y-2*float64(f.d.Screen.Border)))
	} else if wall > touchTol {
		f.add("screen.centre_m", "screen", "reaches %s outside the room", f.show(wall))
	}
	if ceiling > touchTol {
		f.add("screen.bottom_m", "screen", "reaches %s above the ceiling", f.show(ceiling))
	}
	if floor > touchTol {
		f.add("screen.bottom_m", "screen", "reaches %s below the floor", f.show(floor))
	}
}

// rows compares rows with each other: chairs in the same place, and chairs in
// the step of another row's platform.
func (f *finder) rows() {
	rows := f.d.Seating.Rows
	floors := make([][]rectangle, len(rows))
	for _, s := range place.Seats(f.d) {
		floors[s.Row-1] = append(floors[s.Row-1], chairFloor(s))
	}
	for i, r := range rows {
		where := fmt.Sprintf("row %d", i+1)
		for k := 1; k < len(floors[i]); k++ {
			if over := floors[i][k-1].overlap(floors[i][k]); over > touchTol {
				f.add(fmt.Sprintf("seating.rows[%d].pitch_m", i), where,
					"has chairs that overlap: seats %d and %d by %s", k, k+1, f.show(over))
				break
			}
		}
		for j := range i {
			if over := most(floors[j], floors[i]); over > touchTol {
				f.add(fmt.Sprintf("seating.rows[%d].distance_m", i), where, "overlaps row %d by %s", j+1, f.show(over))
			}
		}
		for j := range rows {
			if j == i || rows[j].Riser <= r.Riser {
				continue
			}
			if box, ok := place.Platform(f.d, j); ok {
				if over := most(floors[i], []rectangle{outlineOf(box)}); over > touchTol {
					f.add(fmt.Sprintf("seating.rows[%d].platform_front_m", j), where,
						"stands %s in the platform of row %d", f.show(over), j+1)
				}
			}
		}
	}
}

func (f *finder) seats() {
	for _, s := range place.Seats(f.d) {
		where := fmt.Sprintf("row %d seat %d", s.Row, s.Number)
		field := fmt.Sprintf("seating.rows[%d].", s.Row-1)
		if wall, _, _ := f.reach(chairFloor(s).corners(s.Ref.Z)); wall > touchTol {
			f.add(field+"distance_m", where, "stands %s outside the room", f.show(wall))
		} else if wall := f.behind(s); wall > touchTol {
			f.add(field+"recline_deg", where, "leans %s into the wall", f.show(wall))
		}
		if over := f.overCeiling(place.Other(f.d, s).Crown); over > 0 {
			f.add(field+"riser_m", where, "puts a head %s above the ceiling", f.show(over))
		}
		if eye := place.Listener(f.d, s).Eye(); eye.X < float64(f.d.Screen.Distance) {
			f.add(field+"distance_m", where, "is behind the picture")
		}
	}
}

// behind returns how far the reclined back of s reaches outside the room.
func (f *finder) behind(s place.Seat) float64 {
	worst := 0.0
	for _, p := range s.ChairParts() {
		if p.Kind == place.BackPart || p.Kind == place.HeadrestPart {
			wall, _, _ := f.reach(corners(*p.Box))
			worst = math.Max(worst, wall)
		}
	}
	return worst
}

func (f *finder) main() {
	if f.d.Seating.Main.Row > 0 {
		return // a seat's own matter
	}
	p := place.MainPoint(f.d)
	wall, ceiling, floor := f.reach([]geometry.Vec{p})
	if out := math.Max(wall, math.Max(ceiling, floor)); out > touchTol {
		f.add("seating.main_position.at", "main listening position", "is %s outside the room", f.show(out))
	}
}

func (f *finder) loudspeakers() {
	for i, l := range place.Speakers(f.d) {
		field, where := fmt.Sprintf("loudspeakers[%d].at", i), l.Name()
		at := l.At.Vec()
		switch wall, ceiling, floor := f.reach([]geometry.Vec{at}); {
		case wall > touchTol:
			f.add(f.across(field, at), where, "is %s outside the room", f.show(wall))
			continue
		case ceiling > touchTol:
			f.add(field+".z_m", where, "is %s above the ceiling", f.show(ceiling))
			continue
		case floor > touchTol:
			f.add(field+".z_m", where, "is %s below the floor", f.show(floor))
			continue
		}
		if l.Spec.Flush {
			if off := f.offSurface(l); off > flushSlack {
				f.add(f.offField(field, l), where, "is a flush model but sits %s off its %s", f.show(off), surface(l.Mount))
			}
			for _, ft := range f.d.Room.Features {
				in := FrameIn(ft, &l, touchTol)
				if in == 0 {
					continue
				}
				free := ".x_m"
				if l.Mount == project.OnWall && ft.Kind.Overhead() {
					free = ".z_m"
				}
				f.add(field+free, where, "reaches %s into the %s with its frame", f.show(in), ft.Words())
			}
		} else {
			wall, ceiling, floor := f.reach(corners(l.Box))
			if wall > touchTol {
				f.add(f.across(field, f.farthest(corners(l.Box))), where, "reaches %s into the wall", f.show(wall))
			}
			if ceiling > touchTol {
				f.add(field+".z_m", where, "reaches %s above the ceiling", f.show(ceiling))
			}
			if floor > touchTol {
				f.add(field+".z_m", where, "reaches %s below the floor", f.show(floor))
			}
			for _, ft := range f.d.Room.Features {
				if !opening(ft.Kind) && !fitting(ft.Kind) && ft.Holds(at, -touchTol) {
					f.add(field+".x_m", where, "is inside the %s", ft.Words())
				}
			}
		}
		for _, ft := range f.d.Room.Features {
			if !fitting(ft.Kind) {
				continue
			}
			if in := ft.Overlap(l.Box); in > touchTol {
				f.add(field+".x_m", where, "reaches %s into the %s", f.show(in), ft.Words())
			}
		}
		if l.Mount == project.BehindScreen {
			if !f.d.Screen.Transparent {
				f.add("screen.sound_transparent", where, "is behind a screen that is not sound-transparent")
			}
			front := at.X
			for _, p := range corners(l.Box) {
				front = math.Max(front, p.X) // a box turned to its aim puts a corner forward
			}
			if before := front - float64(f.d.Screen.Distance); before > touchTol {
				f.add(field+".x_m", where, "is mounted behind the screen but reaches %s in front of it", f.show(before))
			}
		}
	}
}

// offField returns the field that brings a flush loudspeaker back to its surface.
func (f *finder) offField(at string, l place.Speaker) string {
	if l.Mount == project.OnCeiling || l.Mount == project.OnFloor {
		return at + ".z_m"
	}
	return f.across(at, l.At.Vec())
}

// offSurface returns how far the front of a flush loudspeaker is from the
// surface that carries it; 0 on a feature, which has surfaces of its own.
func (f *finder) offSurface(l place.Speaker) float64 {
	at := l.At.Vec()
	for _, ft := range f.d.Room.Features {
		if !fitting(ft.Kind) && ft.Holds(at, flushSlack) {
			return 0
		}
	}
	switch l.Mount {
	case project.OnWall:
		return f.poly.Distance(geometry.Vec2{X: at.X, Y: at.Y})
	case project.OnCeiling:
		return math.Abs(f.overCeiling(at))
	case project.OnFloor:
		return math.Abs(at.Z)
	}
	return 0
}

// opening reports whether k is a hole in a wall, and fitting whether it is let
// into a wall or ceiling, or hangs from it: no loudspeaker can be where it is.
func opening(k project.FeatureKind) bool { return k == project.Door || k == project.Window }
func fitting(k project.FeatureKind) bool { return k == project.Light || k == project.Vent }

func surface(m project.Mount) string {
	switch m {
	case project.OnCeiling:
		return "ceiling"
	case project.OnFloor:
		return "floor"
	}
	return "wall"
}

// corners returns the eight corners of b.
func corners(b geometry.Box) []geometry.Vec {
	c := b.Corners()
	return c[:]
}

// rectangle is one seen from above: its middle, its two half-edges.
type rectangle struct{ c, u, v geometry.Vec }

// chairFloor returns the floor that the chair of s takes; neighbours may share an arm.
func chairFloor(s place.Seat) rectangle {
	p := s.Outline(0.5)
	half := func(a, b geometry.Vec2) geometry.Vec {
		h := b.Sub(a).Mul(0.5)
		return geometry.Vec{X: h.X, Y: h.Y}
	}
	mid := p[0].Add(p[2]).Mul(0.5)
	return rectangle{geometry.Vec{X: mid.X, Y: mid.Y}, half(p[0], p[1]), half(p[1], p[2])}
}

// outlineOf returns the outline of an upright box.
func outlineOf(b geometry.Box) rectangle {
	return rectangle{b.Center, b.Basis.U.Mul(b.Half.X), b.Basis.V.Mul(b.Half.Y)}
}

func (p rectangle) corners(z float64) []geometry.Vec {
	out := make([]geometry.Vec, 0, 4)
	for _, a := range []float64{-1, 1} {
		for _, b := range []float64{-1, 1} {
			q := p.c.Add(p.u.Mul(a)).Add(p.v.Mul(b))
			q.Z = z
			out = append(out, q)
		}
	}
	return out
}

// overlap returns how far p and q reach into each other, by the shortest way
// out, seen from above; 0 when they do not. Rectangles are apart if an edge of
// either divides them (separating axes).
func (p rectangle) overlap(q rectangle) float64 {
	least := math.Inf(1)
	for _, axis := range []geometry.Vec{p.u, p.v, q.u, q.v} {
		a, ok := geometry.Vec{X: axis.X, Y: axis.Y}.Unit()
		if !ok {
			return 0
		}
		half := math.Abs(a.Dot(p.u)) + math.Abs(a.Dot(p.v)) + math.Abs(a.Dot(q.u)) + math.Abs(a.Dot(q.v))
		least = math.Min(least, half-math.Abs(a.Dot(q.c.Sub(p.c))))
	}
	return math.Max(least, 0)
}

// most returns the greatest overlap of one of ps with one of qs.
func most(ps, qs []rectangle) float64 {
	worst := 0.0
	for _, p := range ps {
		for _, q := range qs {
			worst = math.Max(worst, p.overlap(q))
		}
	}
	return worst
}
