// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/sight"
)

// HitKind says what a Hit is.
type HitKind uint8

// The kinds of Hit.
const (
	HitSeat HitKind = iota + 1 // a chair or its sitter
	HitSpeaker
	HitRow // a riser
	HitFeature
	HitScreen
)

// Hit is what a pixel shows.
type Hit struct {
	Kind HitKind
	// Seat, Speaker and Feature count from 0 and are None where they mean
	// nothing; Row counts from 1 and is 0 then.
	Seat, Speaker, Feature, Row int
	At                          geometry.Vec // where it is met, in the room frame
}

// Pick returns the nearest seat, loudspeaker, riser, feature or the screen that
// pixel (x, y) shows of a picture w by h pixels taken with cam, y downwards.
// ok is false when it shows none of them. Walls and ceiling hide nothing: one
// looks through them from outside. A loudspeaker behind a sound-transparent
// screen comes before the screen. r may be nil; its parts are then worked out.
// Whoever sits at the camera is left out. Safe from any goroutine.
func Pick(d *project.Design, r *sight.Result, cam Camera, x, y float64, w, h int) (hit Hit, ok bool) {
	start, f, length, ok := cam.sightThrough(x, y, w, h)
	if !ok || !start.Finite() || !f.Finite() {
		return Hit{}, false
	}
	var parts []project.Part
	var seats []project.Seat
	if r != nil {
		parts, seats = r.Parts, r.Seats
	} else {
		parts, seats = d.Parts(), d.Seats()
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
		if p.Row == ownRow && p.Seat == ownSeat && (p.Person() || p.Kind == project.HeadrestPart) {
			continue
		}
		solid := p.Solid()
		if nearest(&solid) {
			hit = hitOf(p)
		}
	}
	for i, feature := range d.Room.Features {
		box := feature.Box()
		if feature.Kind != project.Window || !(box.Half.X > 0 && box.Half.Y > 0 && box.Half.Z > 0) {
			continue
		}
		solid := box.Solid()
		if nearest(&solid) {
			hit = Hit{Kind: HitFeature, Seat: None, Speaker: None, Feature: i}
		}
	}
	if sheet := d.Screen.Sheet(); d.Screen.Transparent && hit.Kind != HitSpeaker && sheet.Half.Y > 0 && sheet.Half.Z > 0 {
		solid := sheet.Solid()
		if nearest(&solid) {
			hit = Hit{Kind: HitScreen, Seat: None, Speaker: None, Feature: None}
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
func hitOf(p *project.Part) Hit {
	hit := Hit{Seat: None, Speaker: None, Feature: None}
	switch {
	case p.Person() || p.ChairPart():
		hit.Kind, hit.Seat, hit.Row = HitSeat, p.Seat, p.Row
	case p.Kind == project.RiserPart:
		hit.Kind, hit.Row = HitRow, p.Row
	case p.Kind == project.FeaturePart:
		hit.Kind, hit.Feature = HitFeature, p.Index
	case p.Kind == project.SpeakerPart:
		hit.Kind, hit.Speaker = HitSpeaker, p.Index
	default:
		hit.Kind = HitScreen
	}
	return hit
}

// sitterAt returns row and number of the seat whose sitter's head is where cam
// is, both -1 for none.
func sitterAt(parts []project.Part, cam Camera) (row, seat int) {
	const near = 0.14 // m, eyes and ears from the head's middle
	if cam.FOV <= 0 {
		return None, None
	}
	eye := room(cam.Eye)
	for i := range parts {
		if p := &parts[i]; p.Kind == project.HeadPart && p.Ellipsoid != nil && p.Ellipsoid.Center.Dist(eye) < near {
			return p.Row, p.Seat
		}
	}
	return None, None
}

// seatIndex returns the index of a seat from its row and number, None for none.
func seatIndex(seats []project.Seat, row, number int) int {
	for i, s := range seats {
		if s.Row == row && s.Number == number {
			return i
		}
	}
	return None
}
