// SPDX-License-Identifier: MIT

package sight

import (
	"earline/project/place"
)

// how is the way in which a part of the room counts on a listener's paths. A part
// that counts at all also hides what lies behind it.
type how uint8

const (
	never   how = iota
	crossed     // only when a path enters it
	near        // by distance too
)

// sense is what a path is for.
type sense uint8

const (
	hearing sense = iota // from an ear to a driver
	seeing               // from an eye to the picture
)

// counts alone decides what can stand in the way, and how:
//
//	part                             hearing  own       seeing   own
//	head, neck                       near     never     near     never
//	shoulders                        near     crossed   near     never
//	chair: pan, back, headrest, arms near     crossed   near     crossed
//	platform                         near     near      near     crossed
//	feature, backdrop                near     crossed   near     -
//	projector                        near     -         near     -
//	screen                           near     -         never    -
//	box of a loudspeaker             crossed  crossed   crossed  -
//	the room's shell                 crossed  -         crossed  -
//
// A body and a chair are own to the listener, a platform to the listener's row,
// a box to the loudspeaker at the end of the path, and a feature, or a triangle of a
// backdrop, to a loudspeaker that it carries. A listener's own body moves with the ears and is never worth a
// warning. A listener's own chair, the feature that a loudspeaker is built into
// and boxes side by side are near on purpose: they count only when in the way.
func counts(kind place.PartKind, to sense, own bool) how {
	switch kind {
	case place.HeadPart, place.NeckPart:
		if own {
			return never
		}
	case place.ShoulderPart:
		switch {
		case own && to == seeing:
			return never
		case own:
			return crossed
		}
	case place.BackPart, place.HeadrestPart, place.ArmPart, place.PanPart:
		if own {
			return crossed
		}
	case place.RiserPart:
		if own && to == seeing {
			return crossed
		}
	case place.FeaturePart, place.BackdropPart:
		if own {
			return crossed
		}
	case place.ScreenPart:
		if to == seeing {
			return never
		}
	case place.SpeakerPart, place.ShellPart:
		return crossed
	}
	return near
}

// toEar returns how part n counts on the way from seat i to loudspeaker k.
func (a *auditor) toEar(n, i, k int) how {
	return counts(a.r.Parts[n].Kind, hearing, a.isOwn(n, i, k))
}

// toEye returns how part n counts before the picture, seen from seat i.
func (a *auditor) toEye(n, i int) how {
	return counts(a.r.Parts[n].Kind, seeing, a.isOwn(n, i, -1))
}

// isOwn reports whether part n belongs to the listener in seat i or to
// loudspeaker k, -1 for none; see counts.
func (a *auditor) isOwn(n, i, k int) bool {
	p := &a.r.Parts[n]
	switch p.Kind {
	case place.RiserPart:
		return p.Row == a.r.Seats[i].Row
	case place.FeaturePart, place.BackdropPart:
		return k >= 0 && a.carryGap(n, &a.r.Speakers[k]) < carryTol
	case place.SpeakerPart:
		return p.Index == k
	case place.ScreenPart:
		return false
	}
	return p.Row == a.r.Seats[i].Row && p.Seat == a.r.Seats[i].Number
}

// carries reports whether a part of this kind may carry a loudspeaker, and then counts
// only where it is crossed on the way to it.
func carries(kind place.PartKind) bool {
	return kind == place.FeaturePart || kind == place.BackdropPart
}
