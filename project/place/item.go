// SPDX-License-Identifier: MIT

package place

// Item names something of a design that can be selected, moved or edited by
// itself. The zero value is nothing.
type Item struct {
	Kind  ItemKind
	Index int // of the loudspeaker, row, feature ..., counted from 0
}

// ItemKind says what an Item is.
type ItemKind uint8

// The kinds of Item.
const (
	SeatItem ItemKind = iota + 1 // a chair or its sitter
	SpeakerItem
	RowItem // a row, and the riser under it
	FeatureItem
	ScreenItem
	TreatmentItem
	ZoneItem // a zone for subwoofers
	ProjectorItem
)
