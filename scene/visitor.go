// SPDX-License-Identifier: MIT

package scene

import "earline/project/place"

// visitor is somebody who sits in the room.
type visitor struct {
	clothes
	skin, hair RGB
	cut        haircut
	build      build
	hands      hands
	stride     float64 // which foot is ahead: -1 the left, 1 the right, 0 neither
}

// clothes are by their colours.
type clothes struct{ top, collar, trousers, shoes RGB }

// build is how a body differs from the widest that there is, 1: that fills the solids
// that block sight. belly is how far it stands out, metres.
type build struct{ head, shoulders, waist, belly float64 }

// haircut is the shape of the hair.
type haircut uint8

const (
	short haircut = iota
	receding
	bob  // to the jaw
	tied // back, in a knot
)

// hands says where the hands lie.
type hands uint8

const (
	onArms hands = iota // of the chair
	inLap
	onThighs
	oneEach // the left on the arm of the chair, the right in the lap
)

// visitorOf returns who sits in a seat: always the same there, and another than next to
// it. Drawings have everyone in plain grey, against which verdicts stand out.
func visitorOf(s place.Seat, client bool) visitor {
	all := [...]visitor{
		{clothes{clothSlate, clothWhite, trousersDenim, shoesBrown}, skinFair, hairBrown, short, build{0.99, 0.98, 0.88, 0.010}, onArms, 1},
		{clothes{clothSand, clothSand, trousersBlack, shoesBlack}, skinLight, hairDark, bob, build{0.95, 0.87, 0.80, 0}, inLap, 0},
		{clothes{clothCharcoal, clothCharcoal, trousersStone, shoesBrown}, skinOlive, hairBlack, short, build{0.98, 0.99, 0.95, 0.030}, oneEach, -1},
		{clothes{clothWine, clothWine, trousersDenim, shoesBlack}, skinFair, hairFair, tied, build{0.95, 0.88, 0.82, 0.005}, onThighs, 0},
		{clothes{clothNavy, clothWhite, trousersStone, shoesBrown}, skinLight, hairGrey, receding, build{0.99, 0.98, 1.00, 0.055}, onArms, 1},
		{clothes{clothMoss, clothCream, trousersBlack, shoesBlack}, skinDeep, hairBlack, short, build{0.98, 0.97, 0.86, 0.005}, inLap, 0},
		{clothes{clothCream, clothCream, trousersDenim, shoesBrown}, skinOlive, hairDark, tied, build{0.95, 0.87, 0.84, 0.010}, oneEach, -1},
		{clothes{clothStone, clothWhite, trousersBlack, shoesBlack}, skinBrown, hairBlack, receding, build{0.98, 0.97, 0.92, 0.025}, onThighs, 0},
		{clothes{clothTeal, clothTeal, trousersBlack, shoesBlack}, skinFair, hairGrey, bob, build{0.96, 0.90, 0.92, 0.020}, inLap, 0},
	}
	who := all[(5*s.Number+3*s.Row)%len(all)]
	if !client {
		who.clothes = clothes{figureCloth, figureCloth.times(1.1), figureDark, figureDark.times(0.55)}
		who.skin, who.hair, who.cut = figureSkin, figureHair, short
		who.build.head, who.build.shoulders = 0.99, 0.98 // as large as they are judged
	}
	if s.Chair.ArmWidth < 0.04 || s.Chair.ArmHeight < 0.05 {
		if who.hands == onArms || who.hands == oneEach {
			who.hands = onThighs
		}
	}
	return who
}
