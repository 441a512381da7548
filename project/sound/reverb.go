// SPDX-License-Identifier: MIT

package sound

import (
	"math"
	"slices"

	"earline/project"
	"earline/project/air"
	"earline/project/noise"
	"earline/project/place"
	"earline/project/shell"
)

// sabine returns the constant of Sabine's formula in air of speed c, s/m:
// 24 ln 10 / c, 0.161 at 20 degrees.
func sabine(c float64) float64 { return 24 * math.Ln10 / c }

// SabineTime returns the reverberation time, s, of a room of volume m3 whose
// surfaces absorb as area m2 of open window do and its air as air m2 (4 m V), in
// air of speed c m/s: T = 24 ln 10 / c V / (A + 4 m V) (Sabine; ISO 354:2003).
// Good where little is absorbed; too long where much is.
func SabineTime(volume, area, air, c float64) float64 {
	return sabine(c) * volume / max(area+air, 1e-9)
}

// EyringTime is SabineTime for a room of surface m2 of which the mean absorption
// coefficient is mean: -surface ln(1 - mean) in place of the absorption area
// (Eyring 1930). It supposes that absorption is spread evenly.
func EyringTime(volume, surface, mean, air, c float64) float64 {
	const most = 0.999 // of the mean: at 1 nothing comes back and there is no time
	return sabine(c) * volume / max(-surface*math.Log(1-min(mean, most))+air, 1e-9)
}

// EyringArea returns the absorption area, m2, with which EyringTime is t; the
// inverse. Air alone may make it shorter: then it is 0. For no time at all it is
// the whole surface.
func EyringArea(volume, surface, t, air, c float64) float64 {
	if !(t > 0) || !(surface > 0) {
		return max(surface, 0)
	}
	return max(surface*(1-math.Exp(-(sabine(c)*volume/t-air)/surface)), 0)
}

// SchroederFrequency returns above which frequency, hertz, the modes of a room
// overlap so far that it can be spoken of statistically: 2000 sqrt(T/V)
// (Schroeder and Kuttruff 1962).
func SchroederFrequency(t, volume float64) float64 { return 2000 * math.Sqrt(t/volume) }

// Target is how long a room ought to ring.
type Target uint8

// The targets.
const (
	// ReferenceRoom: Tm = 0.25 (V/100 m3)^(1/3) (Rec. ITU-R BS.1116; EBU Tech 3276,
	// 2.3), for reference listening rooms.
	ReferenceRoom Target = iota
	// PrivateRoom: Tm = 0.3 (V/100 m3)^(1/3) (CEDIA/CTA-RP22, 2023), for private
	// entertainment rooms.
	PrivateRoom
)

// Time returns the time wanted for a volume in m3, s.
func (t Target) Time(volume float64) float64 {
	if t == PrivateRoom {
		return 0.3 * math.Cbrt(volume/100)
	}
	return 0.25 * math.Cbrt(volume/100)
}

// Tolerance is how far the time in an octave may lie from the target, s, from
// 200 Hz to 4 kHz (Rec. ITU-R BS.1116; EBU Tech 3276).
const Tolerance = 0.05

// Allowed returns from where to where the time in a third of an octave may lie about the
// time wanted, s: within Tolerance from 200 Hz to 4 kHz; below, longer by up to 0.3 s at
// 63 Hz, rising with the logarithm of frequency (Rec. ITU-R BS.1116, the mask of
// reverberation times; from memory). Both are 0 where nothing is said: below 63 Hz and
// above 4 kHz.
func Allowed(wanted, hz float64) (least, most float64) {
	const (
		lowest, knee, highest = 63.0, 200.0, 4000.0 // Hz
		longer                = 0.3                 // s, at the lowest
	)
	if hz < lowest || hz > highest {
		return 0, 0
	}
	most = Tolerance
	if hz < knee {
		most += (longer - Tolerance) * math.Log(knee/hz) / math.Log(knee/lowest)
	}
	return max(wanted-Tolerance, 0), wanted + most
}

// The octaves for which a time is judged.
const (
	firstJudged = 2 // 250 Hz
	lastJudged  = 6 // 4 kHz
)

// Absorber is everything in the room of one name and finish.
type Absorber struct {
	Name, Material string
	Area           float64 // m2
	Alpha          [project.OctaveCount]float64
}

// Reverb is how long the room rings, octave by octave.
//
// Both formulas suppose a field that is the same everywhere, which a furnished
// room with all its absorption on a few surfaces has only roughly; below the
// Schroeder frequency they mean little. Handbook coefficients differ by up to a
// factor of three at the low end. Measure before buying.
type Reverb struct {
	Volume  float64 // of air, m3
	Surface float64 // all that absorbs, m2
	Items   []Absorber
	// Area is the absorption area of the surfaces, Air what the air adds (4 m V),
	// Mean the mean coefficient.
	Area, Air, Mean [project.OctaveCount]float64
	Sabine, Eyring  [project.OctaveCount]float64 // s
	// Mid is the mean of Eyring from 250 Hz to 4 kHz; Wanted the target.
	Mid, Wanted float64
	// Within is whether Eyring is within Tolerance of Wanted; only the octaves from
	// 250 Hz to 4 kHz are Judged.
	Judged, Within [project.OctaveCount]bool
	// Change is the absorption area to add (negative: to remove) to reach Wanted,
	// Least the least that comes within Tolerance; m2.
	Change, Least [project.OctaveCount]float64
	Schroeder     float64 // Hz, from Mid
}

// RoomConstant returns the room constant at 1 kHz, m²; see noise.RoomConstant.
func (r *Reverb) RoomConstant() float64 {
	return noise.RoomConstant(r.Area[kilohertz]+r.Air[kilohertz], r.Mean[kilohertz])
}

// Reverberate computes the reverberation times of a valid design, with a person in
// every chair unless empty. It is safe from any goroutine. The second result lists
// its assumptions.
func Reverberate(d *project.Design, target Target, empty bool) (*Reverb, []string) {
	return reverberate(d, shell.Of(d), target, empty)
}

func reverberate(d *project.Design, s *shell.Shell, target Target, empty bool) (*Reverb, []string) {
	r := &Reverb{Volume: s.Volume()}
	add := func(p shell.Piece) {
		if p.Area <= 0 {
			return
		}
		for i := range r.Items {
			if it := &r.Items[i]; it.Name == p.Name && it.Material == p.Finish.Name {
				it.Area += p.Area
				return
			}
		}
		r.Items = append(r.Items, Absorber{p.Name, p.Finish.Name, p.Area, p.Finish.Absorption})
	}
	taken, remarks := chairs(d, s, empty)
	for i := range s.Surfaces {
		on := &s.Surfaces[i]
		for k, p := range on.Pieces() {
			if k == 0 {
				// Chairs cover the floor they stand on.
				for n := range taken {
					if t := &taken[n]; t.on(on) {
						cut := min(t.floor, p.Area)
						p.Area, t.floor = p.Area-cut, t.floor-cut
					}
				}
			}
			add(p)
		}
	}
	for _, t := range taken {
		add(t.Piece)
	}
	for _, it := range r.Items {
		r.Surface += it.Area
	}
	a := airOf(d.Room.Air)
	r.Wanted = target.Time(r.Volume)
	sum := 0.0
	for o := range project.OctaveCount {
		for _, it := range r.Items {
			r.Area[o] += it.Area * it.Alpha[o]
		}
		r.Air[o] = 4 * air.EnergyAttenuation(a.loss[o]) * r.Volume
		if r.Surface > 0 {
			r.Mean[o] = r.Area[o] / r.Surface
		}
		r.Sabine[o] = SabineTime(r.Volume, r.Area[o], r.Air[o], a.speed)
		r.Eyring[o] = EyringTime(r.Volume, r.Surface, r.Mean[o], r.Air[o], a.speed)
		r.Judged[o] = o >= firstJudged && o <= lastJudged
		off := r.Eyring[o] - r.Wanted
		r.Within[o] = math.Abs(off) <= Tolerance
		need := func(t float64) float64 { return EyringArea(r.Volume, r.Surface, t, r.Air[o], a.speed) - r.Area[o] }
		r.Change[o] = need(r.Wanted)
		if !r.Within[o] {
			r.Least[o] = need(max(r.Wanted+math.Copysign(Tolerance, off), 1e-3))
		}
		if r.Judged[o] {
			sum += r.Eyring[o]
		}
	}
	r.Mid = sum / (lastJudged - firstJudged + 1)
	if r.Volume > 0 {
		r.Schroeder = SchroederFrequency(r.Mid, r.Volume)
	}
	return r, remarks
}

// places are the chairs of one row.
type places struct {
	shell.Piece
	row      int     // from 1
	platform bool    // on one
	floor    float64 // m2 of floor still to be covered
}

// on reports whether the chairs stand on the surface.
func (p *places) on(s *shell.Surface) bool {
	if p.platform {
		return s.Kind == shell.Platform && s.Index == p.row
	}
	return s.Kind == shell.Floor
}

// chairs returns the absorbers of the rows: chairs, empty or with people in them,
// with the floor area that they cover (pan, back and both halves of the arms).
// remarks are those of the shell plus the assumptions about the chairs.
func chairs(d *project.Design, s *shell.Shell, empty bool) (out []places, remarks []string) {
	remarks = assumed(s)
	for i, r := range d.Seating.Rows {
		c, ok := d.Chair(r.Chair)
		if !ok || r.Seats < 1 {
			continue
		}
		area := float64(r.Seats) * float64(c.PanDepth+c.BackThickness) * float64(c.PanWidth+c.ArmWidth)
		p := places{Piece: shell.Piece{Name: "people in their chairs", Area: area, Finish: seated}, row: i + 1, floor: area}
		_, p.platform = place.Platform(d, i)
		if empty {
			f, assumed := s.Upholstery(c.Upholstery)
			text := shell.Assumption{What: "chairs", Finish: f}.String()
			if assumed && !slices.Contains(remarks, text) {
				remarks = append(remarks, text)
			}
			p.Name, p.Finish = "empty chairs", f
		}
		out = append(out, p)
	}
	return out, remarks
}

// assumed returns the assumptions of the shell, one line each.
func assumed(s *shell.Shell) []string {
	var out []string
	for _, a := range s.Assumed {
		out = append(out, a.String())
	}
	for i := range s.Surfaces {
		if on := &s.Surfaces[i]; on.Kind == shell.Feature && on.Index == shell.Screen {
			return append(out, "screen: no sound passes it; its face is taken as "+on.Finish.Name)
		}
	}
	return out
}

// seated is a row with people in it, of the floor that it takes (Vorlaender,
// Auralization (2008), Annex (AC-159): people in upholstered chairs); 63 Hz as
// 125 Hz and 8 kHz as 4 kHz.
var seated = shell.Finish{Name: "people in upholstered chairs",
	Absorption: [project.OctaveCount]float64{0.72, 0.72, 0.82, 0.91, 0.93, 0.94, 0.87, 0.87}}
