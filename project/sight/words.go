// SPDX-License-Identifier: MIT

package sight

import (
	"fmt"
	"math"
	"strings"

	"earline/geometry/unit"
	"earline/project"
)

// WordsFrom names a blocker as seen from seat i: the sitter's own chair and
// shoulders are called so.
func (r *Result) WordsFrom(i, blocker int) string {
	if blocker >= 0 && blocker < len(r.Parts) && i >= 0 && i < len(r.Seats) {
		p := r.Parts[blocker]
		if p.Row == r.Seats[i].Row && p.Seat == r.Seats[i].Number && (p.Person() || p.ChairPart()) {
			word, _, _ := strings.Cut(p.String(), " in row")
			return "own " + word
		}
	}
	return r.Words(blocker)
}

// Sentence says in one line what seat i finds on the way to loudspeaker k, both
// counted from 0, with lengths in the given units.
func (r *Result) Sentence(i, k int, u project.Units) string {
	s, sp, p := r.Seats[i], r.Speakers[k], r.Pair(i, k)
	who := fmt.Sprintf("Row %d seat %d to %s", s.Row, s.Number, sp.Name())
	if p.Worst < 0 {
		return who + ": no driver to look at"
	}
	w := p.Deciding()
	who = fmt.Sprintf("Row %d seat %d, %s ear to %s (%s driver)",
		s.Row, s.Number, w.Ear, sp.Name(), sp.Spec.Drivers[w.Driver].Band)
	switch p.Verdict {
	case NotJudged:
		return who + ": sight not judged, bass goes round heads"
	case Blocked:
		return fmt.Sprintf("%s: blocked by %s, %s deep, sees %s of the driver, up to %.0f dB lost at 2 kHz",
			who, r.WordsFrom(i, w.Blocker), short(-w.Clearance, u), percent(w.Visible), w.Loss(2000))
	case Tight:
		if w.Visible < whole && w.Clearance >= float64(r.Design.Criteria.Margin) {
			return fmt.Sprintf("%s: tight, %s hides some of the driver, sees %s of it",
				who, r.WordsFrom(i, w.Blocker), percent(w.Visible))
		}
		return fmt.Sprintf("%s: tight, %s from %s, sees %s of the driver",
			who, short(w.Clearance, u), r.WordsFrom(i, w.Blocker), percent(w.Visible))
	}
	if w.Blocker == NoPart {
		return who + ": clear, nothing near"
	}
	return fmt.Sprintf("%s: clear, %s from %s", who, short(w.Clearance, u), r.WordsFrom(i, w.Blocker))
}

// PictureSentence says in one line what seat i sees of the picture.
func (r *Result) PictureSentence(i int, u project.Units) string {
	v := r.Views[i]
	who := fmt.Sprintf("Row %d seat %d sees %.1f %% of the picture", r.Seats[i].Row, r.Seats[i].Number, tenth(v.Visible))
	if v.Visible >= whole {
		who = fmt.Sprintf("Row %d seat %d sees the whole picture", r.Seats[i].Row, r.Seats[i].Number)
	}
	switch {
	case v.Blocker == NoPart && v.Verdict == Blocked:
		return who + ": the seat is not in front of it"
	case v.Blocker == NoPart:
		return who + ", nothing near"
	case v.Verdict == Blocked && v.Clearance < -touch && v.Nearby == v.Blocker:
		return fmt.Sprintf("%s: %s hides most of the rest and stands %s in the way of the lower edge",
			who, r.WordsFrom(i, v.Blocker), short(-v.Clearance, u))
	case v.Verdict == Blocked:
		return fmt.Sprintf("%s: %s hides most of the rest", who, r.WordsFrom(i, v.Blocker))
	}
	return fmt.Sprintf("%s, %s clear of %s", who, short(v.Clearance, u), r.WordsFrom(i, v.Blocker))
}

// tenth returns a share in percent, down to a tenth: what is called 98.2 % in one place
// must not be 98.1 % in another, and nothing short of all is 100 %.
func tenth(share float64) float64 { return math.Floor(1000*share) / 10 }

// percent prints a share in whole percent; only what is seen whole, or not at
// all, is called so.
func percent(share float64) string {
	switch p := math.Round(100 * share); {
	case share < whole && p == 100:
		return "over 99 %"
	case share > 0 && p == 0:
		return "under 1 %"
	default:
		return fmt.Sprintf("%.0f %%", p)
	}
}

// Worst returns the pair that falls short most: the deepest blocked one, else
// the tightest; ok is false when every judged pair is clear.
func (r *Result) Worst() (seat, speaker int, ok bool) {
	var w *Path
	for i := range r.Seats {
		for k := range r.Speakers {
			p := r.Pair(i, k)
			if p.Verdict != Tight && p.Verdict != Blocked {
				continue
			}
			if q := p.Deciding(); w == nil || worse(q, w) {
				w, seat, speaker, ok = q, i, k, true
			}
		}
	}
	return seat, speaker, ok
}

// short prints a small length as people on site read it: whole millimetres, or
// inches to a tenth.
func short(metres float64, u project.Units) string {
	if u == project.Imperial {
		return fmt.Sprintf("%.1f in", metres/float64(unit.Inch))
	}
	if 0 < metres && metres < 0.0005 {
		return "less than 1 mm"
	}
	return fmt.Sprintf("%.0f mm", math.Round(metres*1000))
}
