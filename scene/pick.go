// SPDX-License-Identifier: MIT

package scene

import (
	"cmp"
	"math"
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// Hit is the thing that a pixel shows.
type Hit struct {
	Kind place.ItemKind
	// Seat, Speaker and Feature count from 0 and are None where they mean
	// nothing; Row counts from 1 and is 0 then.
	Seat, Speaker, Feature, Row int
	At                          geometry.Vec // where it is met, in the room frame
}

// Pick returns the nearest seat, loudspeaker, riser or feature, or the screen, at
// pixel (x, y) of a picture of w by h pixels taken with cam, y downwards. ok is
// false when none of them is there. Walls and ceiling hide nothing: they are
// transparent from outside. A loudspeaker behind a sound-transparent screen comes
// before the screen. r may be nil; its parts are then computed. The sitter at the
// camera is left out. Safe from any goroutine.
func Pick(d *project.Design, r *place.Room, cam Camera, x, y float64, w, h int) (hit Hit, ok bool) {
	return pick(d, r, cam, x, y, w, h, false)
}

// Nameplates say how the labels of loudspeakers are drawn in a picture. The zero
// value means no labels.
type Nameplates struct {
	Scale float64 // pixels a point
	Bold  int     // the loudspeaker that is selected, or None
}

// Grab returns the item that a press at pixel (x, y) moves. It differs from Pick:
// items that do not move hide nothing, and the press may miss by a few pixels,
// because a screen seen from above is thin. A loudspeaker's label counts as the
// loudspeaker. ok is false when there is nothing to move.
func Grab(d *project.Design, r *place.Room, cam Camera, x, y float64, w, h int, n Nameplates) (it place.Item, ok bool) {
	if k := named(d, r, cam, x, y, w, h, n); k != None {
		return place.Item{Kind: place.SpeakerItem, Index: k}, true
	}
	// Rings of pixels, close enough that no 2 cm screen slips between them.
	for _, radius := range [4]float64{0, 1.5, 3, 5} {
		for _, at := range [8][2]float64{{0, -1}, {0, 1}, {-1, 0}, {1, 0}, {-1, -1}, {1, -1}, {-1, 1}, {1, 1}} {
			if hit, met := pick(d, r, cam, x+radius*at[0], y+radius*at[1], w, h, true); met {
				return hit.Movable()
			}
			if radius == 0 {
				break
			}
		}
	}
	return place.Item{}, false
}

// named returns the loudspeaker whose label covers the pixel, or None. It lays the
// labels out as the renderer does, but with approximate sizes and without the
// labels of other things.
func named(d *project.Design, r *place.Room, cam Camera, x, y float64, w, h int, n Nameplates) int {
	if !(n.Scale > 0) || w < 1 || h < 1 {
		return None
	}
	const high, wide, rim = 17, 6.8, 9 // points: a label, a letter, beside the text
	type plate struct {
		k              int
		x, y, depth, w float64
	}
	boxes := []place.Speaker(nil)
	if r != nil {
		boxes = r.Speakers
	} else {
		boxes = place.Speakers(d)
	}
	plates := make([]plate, 0, len(boxes))
	for k := range boxes {
		px, py, depth, ok := cam.Project(World(nameplate(&boxes[k])), w, h)
		if ok && px >= 0 && py >= 0 && px < float32(w) && py < float32(h) {
			plates = append(plates, plate{k, float64(px), float64(py), float64(depth), (wide*float64(len(boxes[k].Name())) + rim) * n.Scale})
		}
	}
	slices.SortStableFunc(plates, func(a, b plate) int {
		if (a.k == n.Bold) != (b.k == n.Bold) {
			if a.k == n.Bold {
				return -1
			}
			return 1
		}
		return cmp.Compare(a.depth, b.depth)
	})
	tall := high * n.Scale
	for i := range plates {
		p := &plates[i]
		free := false
		for _, steps := range [5]float64{0, -1, 1, -2, 2} {
			at := p.y + steps*(tall+1)
			free = !slices.ContainsFunc(plates[:i], func(q plate) bool {
				return math.Abs(q.y-at) < tall && math.Abs(q.x-p.x) < (q.w+p.w)/2
			})
			if free {
				p.y = at
				break
			}
		}
		switch {
		case !free:
			p.x = math.Inf(-1) // left out
		case math.Abs(p.x-x) <= p.w/2 && math.Abs(p.y-y) <= tall/2:
			return p.k
		}
	}
	return None
}

// pick is Pick; with movable it sees only what can be moved.
func pick(d *project.Design, r *place.Room, cam Camera, x, y float64, w, h int, movable bool) (hit Hit, ok bool) {
	start, f, length, ok := cam.sightThrough(x, y, w, h)
	if !ok || !start.Finite() || !f.Finite() {
		return Hit{}, false
	}
	var parts []place.Part
	var seats []place.Seat
	if r != nil {
		parts, seats = r.Parts, r.Seats
	} else {
		parts, seats = place.Parts(d), place.Seats(d)
	}
	seg := geometry.Segment{A: start, B: start.Add(f.Mul(length))}
	ownRow, ownSeat := sitterAt(parts, cam)
	best := math.Inf(1)
	nearest := func(s *geometry.Solid) bool {
		t, _, met := s.Hit(seg)
		if !met || t <= 0 || t >= best {
			return false
		}
		best = t
		return true
	}
	for i := range parts {
		p := &parts[i]
		if p.Row == ownRow && p.Seat == ownSeat && (p.Person() || p.Kind == place.HeadrestPart) {
			continue
		}
		if p.Kind == place.BackdropPart {
			continue // what is behind it is picked
		}
		if movable && (p.Kind == place.RiserPart || p.Kind == place.FeaturePart) {
			continue
		}
		solid := p.Solid()
		if nearest(&solid) {
			hit = hitOf(p)
		}
	}
	for i, feature := range d.Room.Features {
		box := feature.Box()
		if movable || feature.Kind != project.Window || !(box.Half.X > 0 && box.Half.Y > 0 && box.Half.Z > 0) {
			continue
		}
		solid := box.Solid()
		if nearest(&solid) {
			hit = Hit{Kind: place.FeatureItem, Seat: None, Speaker: None, Feature: i}
		}
	}
	if sheet := d.Screen.Sheet(); d.Screen.Transparent && hit.Kind != place.SpeakerItem && sheet.Half.Y > 0 && sheet.Half.Z > 0 {
		solid := sheet.Solid()
		if nearest(&solid) {
			hit = Hit{Kind: place.ScreenItem, Seat: None, Speaker: None, Feature: None}
		}
	}
	if math.IsInf(best, 1) {
		return Hit{}, false
	}
	hit.At = seg.At(best)
	if hit.Seat != None {
		hit.Seat = seatIndex(seats, hit.Row, hit.Seat)
	}
	return hit, true
}

// hitOf returns what p belongs to; Seat is still its number in the row.
func hitOf(p *place.Part) Hit {
	hit := Hit{Seat: None, Speaker: None, Feature: None}
	switch {
	case p.Person() || p.ChairPart():
		hit.Kind, hit.Seat, hit.Row = place.SeatItem, p.Seat, p.Row
	case p.Kind == place.RiserPart:
		hit.Kind, hit.Row = place.RowItem, p.Row
	case p.Kind == place.FeaturePart:
		hit.Kind, hit.Feature = place.FeatureItem, p.Index
	case p.Kind == place.SpeakerPart:
		hit.Kind, hit.Speaker = place.SpeakerItem, p.Index
	case p.Kind == place.ProjectorPart:
		hit.Kind = place.ProjectorItem
	default:
		hit.Kind = place.ScreenItem
	}
	return hit
}

// sitterAt returns row and number of the seat whose sitter's head is where cam
// is, both -1 for none.
func sitterAt(parts []place.Part, cam Camera) (row, seat int) {
	const near = 0.14 // m, eyes and ears from the head's middle
	if cam.FOV <= 0 {
		return None, None
	}
	eye := room(cam.Eye)
	for i := range parts {
		if p := &parts[i]; p.Kind == place.HeadPart && p.Ellipsoid != nil && p.Ellipsoid.Center.Dist(eye) < near {
			return p.Row, p.Seat
		}
	}
	return None, None
}

// seatIndex returns the index of a seat from its row and number, None for none.
func seatIndex(seats []place.Seat, row, number int) int {
	for i, s := range seats {
		if s.Row == row && s.Number == number {
			return i
		}
	}
	return None
}
