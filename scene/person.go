// SPDX-License-Identifier: MIT

package scene

import (
	"math"
	"slices"

	"earline/geometry"
	"earline/project/place"
)

// people seats the sitters who can be in the way.
func (s *painter) people() {
	if !s.o.People {
		return
	}
	size := place.PersonAt(s.d, s.d.Seating.Sitters.Others)
	m := &Mesh{Name: "people", OneSided: true}
	for i, seat := range s.seats {
		if i == s.o.FromSeat {
			continue
		}
		at := seat
		at.Ref, at.Basis = geometry.Vec{}, geometry.WorldBasis()
		one := figure(size.In(at), visitorOf(seat, s.o.Client), s.o.Client)
		if s.o.Bare {
			s.add(m)
			m = &Mesh{Name: "people", OneSided: true, Seat: i + 1}
		} else if m.Index == nil {
			m.grow(len(s.seats)*len(one.Pos)/3, len(s.seats)*len(one.Index)/3)
		}
		m.stamp(&one, seat.Ref, seat.Basis, RGB{}, 0)
	}
	s.add(m)
}

// figure draws a figure in its chair's own frame, as a maquette has it. Head, neck and
// shoulders stay within the solids that block sight; everything below the shoulders only
// has to look right.
func figure(b place.Body, who visitor, fine bool) Mesh {
	m := Mesh{}
	m.grow(500, 900)
	p := m.pen().of(Cloth)
	top := p.of(NoMaterial).to(b.Head.Center, b.Head.Basis)
	r := b.Head.Radii.Mul(who.build.head)
	head(top, r, who.skin, who.cut, fine)
	hair(top, r, who.cut, who.hair, fine)
	neck(p, b, who, fine)
	torso(p, b, who, fine)
	for _, side := range [2]float64{-1, 1} {
		arm(p, b, who, side, fine)
		leg(p, b, who, side, fine)
	}
	return m
}

func sq(x float64) float64 { return x * x }

// neckAt returns the ring of the neck's solid that is so far above the middle of the
// shoulders, metres.
func neckAt(b place.Body, up float64, c RGB) station {
	e := b.NeckSolid
	from := e.Center.Sub(b.Shoulders.Center).Dot(e.Basis.W)
	z := clamp((up-from)/e.Radii.Z, -0.99, 0.99)
	k := 0.99 * math.Sqrt(1-z*z)
	return station{e.Center.Add(e.Basis.W.Mul(z * e.Radii.Z)), e.Basis.U.Mul(k * e.Radii.X), e.Basis.V.Mul(k * e.Radii.Y), c}
}

// neck draws the neck, whose ends are in head and torso, and a collar.
func neck(p pen, b place.Body, who visitor, fine bool) {
	n := 6
	if fine {
		n = 12
	}
	long := b.NeckSolid.Radii.Z
	thin := 0.80 + 0.09*(who.build.shoulders-0.87)/0.12
	// The throat is darker: light has no corner there that would show the shadow of the chin.
	skin, throat := who.skin.times(0.92), who.skin.times(0.78)
	p.of(NoMaterial).sprout([]station{neckAt(b, 0.08, skin).slim(0.97), neckAt(b, 0.145, skin).slim(0.5 + thin/2), neckAt(b, 0.175, skin).slim(thin), neckAt(b, 1.25*long, throat).slim(thin), neckAt(b, 1.62*long, throat).slim(0.98)}, n)
	if !fine {
		return
	}
	high := 0.126
	if who.collar != who.top {
		high = 0.142 // of a shirt
	}
	open := func(s station, d float64) station { // lower at the throat
		s.u = s.u.Add(b.NeckSolid.Basis.W.Mul(d))
		return s
	}
	p.sprout([]station{neckAt(b, 0.085, who.collar), open(neckAt(b, 0.112, who.collar), 0.006),
		open(neckAt(b, high, who.collar).slim(0.955), 0.014), open(neckAt(b, high+0.002, who.collar).slim(0.85), 0.014)}, n)
}

// torso draws hips, waist, chest and, within their solid, the shoulders, which slope up to
// the neck.
func torso(p pen, b place.Body, who visitor, fine bool) {
	n := 9
	if fine {
		n = 14
	}
	sh := b.Shoulders
	u, v, w := sh.Basis.U, sh.Basis.V, sh.Basis.W
	hips := b.HipBreadth / 2 * (0.90 + 0.10*who.build.waist)
	ring := func(up, deep, wide, ahead float64, c RGB) station {
		return station{b.Hip.Lerp(sh.Center, up).Sub(u.Mul(ahead)), u.Mul(deep), v.Mul(wide), c}
	}
	p.loft([]station{
		ring(-0.22, 0.085, hips*0.78, 0, who.trousers), ring(-0.05, 0.120, hips*0.96, 0, who.trousers), ring(0.14, 0.112, hips*0.92, 0, who.trousers),
	}, n/2+1)
	belly, chest := who.build.belly, sh.Radii.Y*who.build.shoulders
	way := []station{
		ring(0.03, 0.116, hips*0.985, belly/2-0.012, who.top.times(0.95)),
		ring(0.20, 0.116+belly/2, hips*(0.80+0.17*who.build.waist), belly/2-0.015, who.top),
		ring(0.45, 0.112+belly/3, chest*(0.50+0.22*who.build.waist), belly/3-0.014, who.top),
		ring(0.76, 0.112, chest*0.76, 0.006, who.top),
	}
	for _, k := range [...][3]float64{{0, 0.90, 0.86}, {0.034, 0.86, 0.80}, {0.060, 0.74, 0.66}, {0.080, 0.58, 0.46}, {0.095, 0.40, 0.300}} {
		// Height above the middle, metres; half-axes, parts of the solid's.
		way = append(way, station{sh.Center.Add(w.Mul(k[0])), u.Mul(k[1] * sh.Radii.X), v.Mul(k[2] * chest), who.top})
	}
	way = append(way, neckAt(b, 0.110, who.top).slim(0.84))
	if !fine {
		way = append(way[:5], way[6], way[8], way[9])
	}
	// From the top, whose end is in the neck.
	slices.Reverse(way)
	for i := range way {
		way[i].v = way[i].v.Neg()
	}
	p.sprout(way, n)
}
