// SPDX-License-Identifier: MIT

package sound

import (
	"context"
	"fmt"
	"math"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/shell"
)

// The band in which boundaries are judged, hertz: below it the sum over modes tells
// more, above it so many reflections arrive that no single one digs a dip.
const (
	BoundaryFrom = 100.0
	BoundaryTo   = 500.0
)

// Interference is what the surfaces around a main do to its sound at the main position:
// the direct sound and its first mirror image in each surface, added with their phase
// (Allison, The Influence of Room Boundaries on Loudspeaker Power Output, J. Audio Eng.
// Soc. 22 (1974) 314; from memory). One rigid surface at the distance h behind a
// loudspeaker cancels where 2 h is half a wavelength: a quarter wave away. Images of
// images and the sound that stays in the room are left out: they fill dips in, and in
// corners add.
type Interference struct {
	Speaker     int // index in Design.Speakers
	Frequencies []float64
	// Level is against the direct sound alone, dB: the energy mean over a twelfth of an
	// octave.
	Level []float64
	// Bounces are the images, by surface.
	Bounces []Bounce
	// Dip is the deepest.
	Dip Dip
	// Flush is whether it is built into its wall, which then has no image.
	Flush bool
}

// Bounce is the mirror image of a loudspeaker in a surface.
type Bounce struct {
	Words string // "screen wall"
	// Distance is how far its low driver is from the surface, Ear how far the main
	// position is, Later how much longer than the direct sound the way is, metres.
	Distance, Ear, Later float64
	// Behind is whether the loudspeaker has its back to the surface.
	Behind bool
	// Near and Far bound the distances from which its first cancellation lies within
	// BoundaryFrom and BoundaryTo: nearer it is above, farther below; metres. Far is 0
	// where no distance is far enough.
	Near, Far float64

	gain [project.OctaveCount]float64 // against the direct sound, dB, at Midbands
}

// Dip is where the level falls the most.
type Dip struct {
	Frequency, Level float64 // Hz, dB
	Bounce           int     // index of the one without which it would fall the least; -1 for none
	// Comb is from one cancellation of that bounce to the next, Hz; First whether the dip
	// is its first.
	Comb  float64
	First bool
}

// Matters reports whether d is deep enough to be heard as one: below 3 dB (common
// practice, no source).
func (d Dip) Matters() bool { return d.Level < -3 && d.Bounce >= 0 }

// Boundaries returns the interference of every loudspeaker of a valid design that is no
// subwoofer, placed as in room; if room is nil, it is computed. The surfaces and images
// are those of Reflect, with the loudspeaker at its low driver; surfaces narrower than
// half a wavelength at the top are left out, and chairs are not in the way, since waves
// as long go round them. The error is that of ctx.
func Boundaries(ctx context.Context, d *project.Design, room *place.Room) ([]Interference, error) {
	if room == nil {
		room = place.Of(d)
	}
	m := newMirrors(d, shell.Of(d), room)
	m.least = m.air.speed / BoundaryTo / 2
	var out []Interference
	for k := range room.Speakers {
		sp := &room.Speakers[k]
		if sp.Spec.Subwoofer() || len(sp.Drivers) == 0 {
			continue
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		r := radiatorOf(sp)
		r.at = sp.Woofer()
		m.radiating(k, r)
		m.shade = m.withoutChairs()
		one := Interference{Speaker: k, Flush: sp.Spec.Flush}
		for _, image := range m.to(nil, MainSeat, room.Main, false) {
			one.Bounces = append(one.Bounces, m.bounce(&image, sp))
		}
		one.sum(m.air.speed)
		out = append(out, one)
	}
	return out, nil
}

// withoutChairs returns the obstructions of shade that are no chairs.
func (m *mirrors) withoutChairs() []int {
	var fixed []int
	for _, i := range m.shade {
		if m.obstructions[i].fixed {
			fixed = append(fixed, i)
		}
	}
	return fixed
}

// bounce returns r, a reflection of first order of sp, as a bounce.
func (m *mirrors) bounce(r *Reflection, sp *place.Speaker) Bounce {
	on := &m.surfaces[r.Surfaces[0]]
	h, ear := on.Height(m.r.at), on.Height(m.room.Main)
	b := Bounce{Words: on.Words, Distance: h, Ear: ear, Later: r.Length - m.r.at.Dist(m.room.Main), gain: r.Level, Behind: sp.Axis.Dot(on.Normal) > math.Sqrt2/2}
	along := math.Sqrt(max(0, square(m.r.at.Dist(m.room.Main))-square(h-ear)))
	b.Near, _ = distanceFor(m.air.speed/BoundaryTo/2, along, ear)
	if far, ok := distanceFor(m.air.speed/BoundaryFrom/2, along, ear); ok {
		b.Far = far
	}
	return b
}

func square(v float64) float64 { return v * v }

// distanceFor returns how far from a surface a loudspeaker is whose image comes by the
// length later that is asked for, to an ear that is ear from the surface and along beside
// it; ok is false where even the farthest room is too small. The length grows with the
// distance: halving finds it.
func distanceFor(later, along, ear float64) (h float64, ok bool) {
	const most = 100 // m, beyond any room
	length := func(h float64) float64 { return math.Hypot(along, h+ear) - math.Hypot(along, h-ear) }
	lo, hi := 0.0, float64(most)
	if length(hi) < later {
		return 0, false
	}
	for range 60 {
		if mid := (lo + hi) / 2; length(mid) < later {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi, true
}

// sum fills in the level and the dip.
func (n *Interference) sum(speed float64) {
	const (
		perOctave = 24
		width     = 1.0 / 12 // octave
		samples   = 8        // in it
	)
	steps := int(math.Ceil(math.Log2(BoundaryTo/BoundaryFrom) * perOctave))
	level := func(f float64, without int) float64 {
		energy := 0.0
		for i := range samples {
			off := width * ((float64(i)+0.5)/samples - 0.5)
			energy += n.power(f*math.Exp2(off), speed, without) / samples
		}
		return 10 * math.Log10(max(energy, 1e-9))
	}
	n.Dip = Dip{Level: math.Inf(1), Bounce: -1}
	for i := range steps + 1 {
		f := BoundaryFrom * math.Pow(BoundaryTo/BoundaryFrom, float64(i)/float64(steps))
		l := level(f, -1)
		n.Frequencies, n.Level = append(n.Frequencies, f), append(n.Level, l)
		if l < n.Dip.Level {
			n.Dip.Frequency, n.Dip.Level = f, l
		}
	}
	best := n.Dip.Level
	for i := range n.Bounces {
		if l := level(n.Dip.Frequency, i); l > best {
			best, n.Dip.Bounce = l, i
		}
	}
	if n.Dip.Bounce >= 0 {
		n.Dip.Comb = speed / n.Bounces[n.Dip.Bounce].Later
		n.Dip.First = n.Dip.Frequency < n.Dip.Comb
	}
}

// power returns the energy at f hertz against that of the direct sound, without one of
// the bounces; below 0 is with all.
func (n *Interference) power(f, speed float64, without int) float64 {
	re, im := 1.0, 0.0
	for i := range n.Bounces {
		if i == without {
			continue
		}
		b := &n.Bounces[i]
		a := math.Pow(10, octavesAt(&b.gain, f)/20)
		sin, cos := math.Sincos(-2 * math.Pi * f * b.Later / speed)
		re, im = re+a*cos, im+a*sin
	}
	return re*re + im*im
}

// octavesAt returns levels by octave at f hertz: straight between the middles of the
// octaves over the logarithm of frequency.
func octavesAt(level *[project.OctaveCount]float64, f float64) float64 {
	x := math.Log2(f/1000)/math.Log2(math.Pow(10, 0.3)) + kilohertz
	o := int(math.Floor(x))
	switch {
	case o < 0:
		return level[0]
	case o >= project.OctaveCount-1:
		return level[project.OctaveCount-1]
	}
	return level[o] + (x-float64(o))*(level[o+1]-level[o])
}

// Sentence says where n falls the most, which surface does it and what would change it,
// lengths in the units of d.
func (n *Interference) Sentence(d *project.Design) string {
	name := d.Speakers[n.Speaker].Name()
	if !n.Dip.Matters() {
		return fmt.Sprintf("%s: no dip deeper than 3 dB from %.0f to %.0f Hz", name, BoundaryFrom, BoundaryTo)
	}
	b := &n.Bounces[n.Dip.Bounce]
	return fmt.Sprintf("%s: %.0f dB at %.0f Hz, %s %s away; %s", name, n.Dip.Level, n.Dip.Frequency, b.Words, Waved(d.Units, b.Distance), n.Cure(d))
}

// Cure says what would change the deepest dip of n, lengths in the units of d; "" where
// none matters.
func (n *Interference) Cure(d *project.Design) string {
	if !n.Dip.Matters() {
		return ""
	}
	b := &n.Bounces[n.Dip.Bounce]
	m, _ := d.Model(d.Speakers[n.Speaker].Model)
	var text string
	switch {
	case !n.Dip.First:
		return fmt.Sprintf("one of a comb every %.0f Hz, which only less reflection there fills", n.Dip.Comb)
	case b.Behind && float64(m.Depth) > b.Near:
		text = fmt.Sprintf("gone when flush in it; its box is too deep to come near enough for %.0f Hz", BoundaryTo)
	case b.Behind:
		text = fmt.Sprintf("gone when flush in it, above %.0f Hz within %s", BoundaryTo, Waved(d.Units, b.Near))
	case b.Ear < b.Distance:
		return fmt.Sprintf("the main position, %s from it, sets it: less reflection there, or another seat", Waved(d.Units, b.Ear))
	default:
		text = fmt.Sprintf("above %.0f Hz within %s", BoundaryTo, Waved(d.Units, b.Near))
	}
	if b.Far > 0 {
		text += fmt.Sprintf(", below %.0f Hz beyond %s", BoundaryFrom, Waved(d.Units, b.Far))
	}
	return text
}

// Waved writes a length, in metres, as waves ask for it: to a centimetre.
func Waved(units project.Units, m float64) string {
	if units == project.Imperial {
		return unit.Length(m).Format(false)
	}
	return fmt.Sprintf("%.2f m", m)
}

// BoundaryRemark says what interference is computed from.
const BoundaryRemark = "Boundaries: direct sound and the first image in each surface at the main position, by the surfaces' absorption and the loudspeaker's directivity, over a twelfth of an octave (Allison 1974, from memory). Further reflections fill dips in; chairs and people are left out."
