// SPDX-License-Identifier: MIT

package sight

import (
	"context"
	"fmt"
	"runtime"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/crew"
	"earline/project/place"
)

// RangeOptions say for which people a plan has to hold.
type RangeOptions struct {
	// Low and High are the percentiles of the smallest and the largest sitter,
	// of the design's mix of women and men, from 1 to 99.
	Low, High float64
	// AnyRecline lets every chair recline from the least to the greatest angle
	// of its model, each by itself, with its headrest anywhere from lowered to
	// raised; to the ears and eyes of a head that rests on it, it is raised.
	// Otherwise the chairs stand as the rows set them.
	AnyRecline bool
}

// WholeRange is P5 to P95 at every recline.
func WholeRange() RangeOptions { return RangeOptions{Low: 5, High: 95, AnyRecline: true} }

// RangeResult says for whom a plan holds. Everything is in the order of the
// design, as in Result.
type RangeResult struct {
	Options  RangeOptions
	Seats    []place.Seat
	Speakers []place.Speaker
	Parts    []place.Part // where the design's own sitters have them
	Pairs    []RangePair  // seat by seat; see Pair
	Views    []RangePair  // the picture, one a seat
	// Count and PictureCount are the totals of Pairs and Views.
	Count, PictureCount RangeCount

	sample *Result // not audited: for its words
}

// RangeCount counts answers: proven to hold, proven to break, and neither.
type RangeCount struct{ Holds, Breaks, Open int }

// RangePair is the answer for one seat and one loudspeaker, or for one seat and
// the picture, over the whole range of people and reclines.
type RangePair struct {
	// Judged is false for subwoofers; nothing else is set then.
	Judged bool
	// Holds is whether nobody in the range finds the path blocked; tight is not
	// blocked. Certified is whether that is proven: by Lower for a pair that
	// holds, by Worst for one that does not. A pair that is not certified does
	// not hold as far as is known.
	Holds, Certified bool
	// Lower is a bound that no clearance in the range goes below, metres; looking
	// stops at the design's margin, so it is never more. Of a pair that does not
	// hold it may be far below the truth. Of a view it bounds the clearance of
	// the lines to all of the picture and means nothing below 0.
	Lower float64
	// Upper is the clearance of Worst: the least in the range is no greater.
	Upper float64
	Worst RangeCase
}

// Clear reports whether everybody in the range is proven to have the margin.
func (p *RangePair) Clear(margin float64) bool { return p.Holds && p.Lower >= margin }

// RangeCase is one listener and who or what is in the way.
type RangeCase struct {
	Ear      Side    // of a pair
	Listener float64 // percentile
	Recline  float64 // of the listener's chair, radians
	// Blocker is as in Path.Blocker. Other is the percentile of the other sitter
	// it belongs to, 0 if to none; OtherRecline is that of the chair in another
	// seat that it belongs to.
	Blocker             int
	Other, OtherRecline float64
	LongHead            bool    // the other's: the longest in the range from ear to crown
	Lowered             float64 // of a headrest, from 0, raised, to 1, lowered
}

// Pair returns the answer for seat i and loudspeaker k, both counted from 0.
func (r *RangeResult) Pair(i, k int) *RangePair { return &r.Pairs[i*len(r.Speakers)+k] }

// Range certifies d for everyone from P5 to P95 at every recline; see RangeFor.
func Range(ctx context.Context, d *project.Design) (*RangeResult, error) {
	return RangeFor(ctx, d, WholeRange())
}

// RangeFor certifies a valid design for a range of people: it decides whether any
// listener of the range, at any recline, finds any deciding driver blocked,
// whoever of the range sits in the other seats at whatever recline; and the same
// for the picture. It proves, and does not sample: bodies and chairs are replaced
// by convex sets that hold them all (place.Crowd), and geometry.Distance gives a
// proven lower bound of the distance from these sets to all paths. If that bound
// does not decide a pair, the range is split until it does, or until one sitter
// is found for whom the exact audit says blocked. After 1000 parts the pair is
// left open. RangeFor is a pure function of d, safe from any goroutine; the error
// is ctx's, or says that the options make no sense.
//
// What counts, and how, is as in Audit. The heads in the way are as long from ear
// to crown as the longest in the range, on any trunk. Not covered: bodies whose
// parts are of different percentiles; people who lean to the side or forward,
// turn the head, hold it otherwise than place.Person does at that recline (level,
// or resting on the raised headrest, wherever the headrest stands), hold up their
// arms or stand; cushions, blankets and raised footrests; chairs that are turned
// or moved from their place. RangeFor does not check whether a chair has room to
// recline, but whoever reclines out of the room is blocked by it, as in Audit. The
// loudspeakers stay aimed at the design's main listening position.
func RangeFor(ctx context.Context, d *project.Design, o RangeOptions) (*RangeResult, error) {
	if err := o.Check(); err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	g := newRanger(d, o)
	// Seats are independent: as many rangers as there are cores share them.
	workers := max(min(runtime.GOMAXPROCS(0), len(g.r.Seats)/2), 1)
	var done crew.Crew
	for w := 1; w < workers; w++ {
		h := g.another()
		done.Go(func() { h.seats(ctx, w, workers) })
	}
	g.seats(ctx, 0, workers)
	done.Wait()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	for n := range g.out.Pairs {
		g.out.Count.add(&g.out.Pairs[n])
	}
	for n := range g.out.Views {
		g.out.PictureCount.add(&g.out.Views[n])
	}
	return g.out, nil
}

func (c *RangeCount) add(p *RangePair) {
	switch {
	case !p.Judged:
	case p.Holds:
		c.Holds++
	case p.Certified:
		c.Breaks++
	default:
		c.Open++
	}
}

// Holds reports whether all pairs and views are proven to hold.
func (r *RangeResult) Holds() bool {
	c, p := r.Count, r.PictureCount
	return c.Breaks+c.Open+p.Breaks+p.Open == 0
}

// Worst returns the worst judged pair: the deepest blocked of those that break,
// else one that is open; ok is false when all hold.
func (r *RangeResult) Worst() (seat, speaker int, ok bool) {
	var w *RangePair
	for n := range r.Pairs {
		p := &r.Pairs[n]
		if !p.Judged || p.Holds {
			continue
		}
		if w == nil || p.Certified && !w.Certified || p.Certified == w.Certified && p.Upper < w.Upper {
			w, seat, speaker, ok = p, n/len(r.Speakers), n%len(r.Speakers), true
		}
	}
	return seat, speaker, ok
}

// Words says for whom the plan holds or, if it does not, how many pairs and views
// hold and which is the worst.
func (r *RangeResult) Words(u project.Units) string {
	people := r.Options.Words()
	if r.Holds() {
		return "holds for " + people
	}
	c, p := r.Count, r.PictureCount
	text := fmt.Sprintf("does not hold for %s: %d of %d pairs and %d of %d views do",
		people, c.Holds, c.Holds+c.Breaks+c.Open, p.Holds, p.Holds+p.Breaks+p.Open)
	if n := c.Open + p.Open; n > 0 {
		text += fmt.Sprintf(", %d are not certified", n)
	}
	if i, k, ok := r.Worst(); ok {
		return text + "; worst: " + r.Sentence(i, k, u)
	}
	for i := range r.Views {
		if v := &r.Views[i]; v.Judged && !v.Holds {
			return text + "; first: " + r.PictureSentence(i)
		}
	}
	return text
}

// Words names the range: "P5 to P95 at every recline".
func (o RangeOptions) Words() string {
	recline := "as the rows recline"
	if o.AnyRecline {
		recline = "at every recline"
	}
	return fmt.Sprintf("P%.4g to P%.4g %s", o.Low, o.High, recline)
}

// Sentence says in one line how seat i stands to loudspeaker k over the range.
func (r *RangeResult) Sentence(i, k int, u project.Units) string {
	s, p := r.Seats[i], r.Pair(i, k)
	who := fmt.Sprintf("row %d seat %d to %s", s.Row, s.Number, r.Speakers[k].Name())
	switch {
	case !p.Judged:
		return who + ": sight not judged, bass goes round heads"
	case p.Holds:
		return fmt.Sprintf("%s: holds for %s", who, r.Options.Words())
	case !p.Certified:
		return fmt.Sprintf("%s: not certified, the least clearance is from %s to %s", who, short(p.Lower, u), short(p.Upper, u))
	}
	return fmt.Sprintf("%s: %s, %s ear, %s deep", who, r.Case(i, p.Worst), p.Worst.Ear, short(-p.Upper, u))
}

// PictureSentence says in one line how seat i sees the picture over the range.
func (r *RangeResult) PictureSentence(i int) string {
	s, v := r.Seats[i], &r.Views[i]
	who := fmt.Sprintf("row %d seat %d to the picture", s.Row, s.Number)
	switch {
	case !v.Judged:
		return who + ": there is no picture"
	case v.Holds:
		return fmt.Sprintf("%s: holds for %s", who, r.Options.Words())
	case !v.Certified:
		return who + ": not certified"
	}
	return who + ": " + r.Case(i, v.Worst)
}

// Case says who in seat i is blocked by what: "P5 reclined 60° blocked by head
// in row 1 seat 2 of P95 reclined 8°".
func (r *RangeResult) Case(i int, c RangeCase) string {
	deg := func(rad float64) float64 { return rad / unit.Degree }
	text := fmt.Sprintf("P%.3g reclined %.0f° blocked by ", c.Listener, deg(c.Recline))
	switch {
	case c.Lowered >= 1:
		text += "lowered "
	case c.Lowered > 0:
		text += "partly lowered "
	}
	text += r.sample.WordsFrom(i, c.Blocker)
	if c.Other > 0 {
		text += fmt.Sprintf(" of P%.3g", c.Other)
	}
	if c.LongHead {
		text += " with a long head"
	}
	if n := c.Blocker; n >= 0 && moves(r.Parts[n].Kind) && (r.Parts[n].Row != r.Seats[i].Row || r.Parts[n].Seat != r.Seats[i].Number) {
		text += fmt.Sprintf(" reclined %.0f°", deg(c.OtherRecline))
	}
	return text
}
