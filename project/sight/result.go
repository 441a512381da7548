// SPDX-License-Identifier: MIT

// Package sight answers who hears and sees what: from every ear to every
// loudspeaker driver, and from every eye to the picture, what clearance the
// straight path has, what stands in its way, how much of the target is seen,
// and what the blocking costs.
package sight

import (
	"earline/geometry"
	"earline/project/place"
)

// Verdict is the answer for one path or one pair.
type Verdict uint8

// The verdicts, from best to worst. NotJudged is for subwoofers.
const (
	NotJudged Verdict = iota
	Clear
	Tight
	Blocked
)

// String returns the verdict in a word.
func (v Verdict) String() string {
	return [...]string{"not judged", "clear", "tight", "blocked"}[v]
}

// Bands are the octave-band centre frequencies at which a report states losses,
// hertz.
var Bands = [8]float64{63, 125, 250, 500, 1000, 2000, 4000, 8000}

// Path is what one ear finds on the way to one driver.
type Path struct {
	Ear    Side
	Driver int // index into the model's drivers
	// From is the ear, To the middle of the driver.
	From, To geometry.Vec
	// Clearance is the least distance to whatever counts, metres; negative is
	// the depth of penetration. It is capped at Far when nothing is near.
	Clearance float64
	// Angle is Clearance as an angle seen from the ear, radians, same sign.
	Angle float64
	// Nearest is the point of the path where Clearance is found.
	Nearest geometry.Vec
	// Blocker is the index into Result.Parts of what Clearance is to - for a
	// blocked path the first thing in the way, seen from the ear; for one that
	// has its margin, what hides most of the disc. NoPart when nothing is near,
	// ShellPart when it is the room itself.
	Blocker int
	// Enter is where a blocked path first meets Blocker.
	Enter geometry.Vec
	// Visible is the share of the driver's disc that the ear sees, 0 to 1.
	Visible float64
	Verdict Verdict
}

// Loss returns what the blocking costs at frequency f, hertz, in dB: an upper
// bound (see KnifeEdge). It is 0 for a clear path.
func (p *Path) Loss(f float64) float64 {
	if p.Verdict != Tight && p.Verdict != Blocked {
		return 0
	}
	const least = 0.01 // m: the formula has no meaning at the very ends
	d1 := max(p.From.Dist(p.Nearest), least)
	return KnifeEdge(-p.Clearance, d1, max(p.To.Dist(p.Nearest), least), f)
}

// Special values of Path.Blocker.
const (
	NoPart    = -1
	ShellPart = -2
)

// Side tells the two ears apart.
type Side uint8

// The ears.
const (
	Left Side = iota
	Right
)

// String returns "left" or "right".
func (s Side) String() string { return [...]string{"left", "right"}[s] }

// Pair is the answer for one seat and one loudspeaker: the worst of both ears
// to the deciding driver.
type Pair struct {
	Verdict Verdict
	// Paths are all of the pair's: driver by driver, left ear then right.
	Paths []Path
	// Worst is the index into Paths of the one that decides, or -1.
	Worst int
}

// View is what one seat sees of the picture, from the point midway between the
// eyes.
type View struct {
	Verdict Verdict
	// Visible is the share of the picture that is seen, 0 to 1.
	Visible float64
	// Clearance is the least clearance of all straight lines from the eye to the
	// picture's lower edge, metres; negative is the depth of the worst line. What
	// counts only where it hides is not in it.
	Clearance float64
	// Nearby is the index into Result.Parts of what Clearance is to; NoPart when
	// nothing is near.
	Nearby int
	// Blocker is the index of what hides most of the picture, ShellPart included;
	// Nearby when nothing is hidden.
	Blocker int
	// Toward is the point of the picture at the end of the worst line, Nearest
	// the point on that line where Clearance is found.
	Toward, Nearest geometry.Vec
	// Hidden is a point of the picture that Blocker hides, and Enter where the
	// line to it meets Blocker; Toward and Nearest when nothing is hidden.
	Hidden, Enter geometry.Vec
	Eye           geometry.Vec
}

// Result is a whole audit: the room, and what its seats hear and see.
type Result struct {
	place.Room
	Pairs []Pair // seat by seat; see Pair
	Views []View // one a seat
	// Count is how many pairs, PictureCount how many views, have each Verdict.
	Count, PictureCount [4]int

	kept *prepared // what Update takes over
}

// Pair returns the answer for seat i and loudspeaker k, both counted from 0.
func (r *Result) Pair(i, k int) *Pair { return &r.Pairs[i*len(r.Speakers)+k] }

// Deciding returns the path that decides p, or nil when there is none.
func (p *Pair) Deciding() *Path {
	if p.Worst < 0 || p.Worst >= len(p.Paths) {
		return nil
	}
	return &p.Paths[p.Worst]
}

// Words names a blocker, by its index, in words a person would use.
func (r *Result) Words(blocker int) string {
	switch {
	case blocker == ShellPart:
		return place.Part{Kind: place.ShellPart}.String()
	case blocker < 0 || blocker >= len(r.Parts):
		return "nothing"
	}
	return r.Parts[blocker].String()
}
