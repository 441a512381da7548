// SPDX-License-Identifier: MIT

package measured

import (
	"fmt"
	"math"
	"slices"

	"earline/project"
	"earline/project/bass"
	"earline/project/place"
)

// The band over which levels are set against each other, hertz: subwoofers play it, and
// no usual high or low pass reaches into it.
const (
	OffsetFrom = 30
	OffsetTo   = 100
)

const (
	// PeakWithin is how far the frequency of a peak may be off, as a share, and still be
	// taken for the computed one (common practice, no source).
	PeakWithin = 0.05
	// prominence is how far a peak stands over what is beside it at least, dB.
	prominence = 3
	// fine is the widest step between points, in octaves, at which peaks can be placed.
	fine = 1.0 / 12
)

// Third is a third of an octave at a seat. Measured has the offset taken off.
type Third struct {
	Middle             float64 // exact, Hz
	Measured, Computed float64 // dB
}

// Difference is measured less computed, dB.
func (t Third) Difference() float64 { return t.Measured - t.Computed }

// Peak is a peak of the computed response, and the measured one near it.
type Peak struct {
	Computed float64 // Hz
	Measured float64 // Hz; 0 where there is none within PeakWithin
}

// Seat is what was measured at a seat beside what is computed there.
type Seat struct {
	Row, Number int // from 1
	Index       int // of the seat in the study
	Response    *project.Response
	// Offset is by how much the measured level lies over the computed one, the mean over
	// the thirds from OffsetFrom to OffsetTo, dB. It is taken off.
	Offset float64
	Thirds []Third
	RMS    float64 // of the differences, dB
	Worst  Third   // the one with the largest difference
	Peaks  []Peak
	// Coarse is that the measured points are too far apart to place peaks.
	Coarse bool
	// Skipped says why nothing is compared; empty where something is.
	Skipped string
}

// Name returns the short name of a seat: "2.3".
func (s *Seat) Name() string { return fmt.Sprintf("%d.%d", s.Row, s.Number) }

// Spread is how far seats lie from each other in a third of an octave: the standard
// deviation of their levels, dB, of the seats that were measured.
type Spread struct {
	Middle             float64
	Measured, Computed float64
}

// Group is what was measured of one loudspeaker, or of all subwoofers.
type Group struct {
	Of    string // as in project.Response
	Name  string // "LFE1", "all subwoofers"
	Seats []Seat
	// Spreads compare the seats with each other, third by third; nil for a single seat.
	// SpreadMeasured and SpreadComputed are the roots of the mean variances.
	Spreads                        []Spread
	SpreadMeasured, SpreadComputed float64
	// OffsetApart is how far the offsets of the seats lie apart, dB.
	OffsetApart float64
}

// Comparison is a room as measured beside its study.
type Comparison struct {
	Design  *project.Design
	Groups  []Group
	Remarks []string
}

// Compare lays what was measured of d over st, the study of its bass; a nil st is that
// there is nothing computed. Thirds of an octave are those from bass.Lowest to
// bass.Highest that are covered; levels in them are means of power.
func Compare(d *project.Design, st *bass.Study) (*Comparison, error) {
	c := &Comparison{Design: d}
	for i := range d.Measured.Responses {
		r := &d.Measured.Responses[i]
		k := slices.IndexFunc(c.Groups, func(g Group) bool { return g.Of == r.Of })
		if k < 0 {
			k, c.Groups = len(c.Groups), append(c.Groups, Group{Of: r.Of, Name: nameOf(d, r.Of)})
		}
		row, n, _ := d.SeatOf(r.Seat)
		c.Groups[k].Seats = append(c.Groups[k].Seats, Seat{Row: row, Number: n, Index: -1, Response: r})
	}
	for k := range c.Groups {
		g := &c.Groups[k]
		slices.SortStableFunc(g.Seats, func(a, b Seat) int { return 1000*(a.Row-b.Row) + a.Number - b.Number })
		if err := g.compare(d, st); err != nil {
			return nil, err
		}
	}
	if len(c.Groups) > 0 {
		c.Remarks = append(c.Remarks,
			fmt.Sprintf("Measured levels are moved by the mean difference from %d to %d Hz, seat by seat, as a measurement has a reference of its own: what is compared is the shape.", OffsetFrom, OffsetTo),
			"Seat to seat is of the levels as they were measured: it holds where the gain of the microphone was the same at all seats.",
			fmt.Sprintf("A computed peak that stands out by %d dB counts as found where a measured one, of half of that, lies within %g %% of its frequency (common practice, no source).", prominence, 100*PeakWithin))
	}
	return c, nil
}

// nameOf returns what people call what played.
func nameOf(d *project.Design, of string) string {
	for _, l := range d.Speakers {
		if l.ID == of {
			return l.Name()
		}
	}
	return "all subwoofers"
}

// compare fills in what is compared of a group.
func (g *Group) compare(d *project.Design, st *bass.Study) error {
	computed, why, err := computedOf(d, st, g.Of)
	if err != nil {
		return err
	}
	if why != "" {
		for i := range g.Seats {
			g.Seats[i].Skipped = why
		}
		return nil
	}
	mids, levels := computed.Thirds()
	for i := range g.Seats {
		s := &g.Seats[i]
		s.Index = slices.IndexFunc(st.Plan.Seats, func(p place.Seat) bool { return p.Row == s.Row && p.Number == s.Number })
		if s.Index < 0 {
			s.Skipped = "nothing is computed there"
			continue
		}
		s.lay(mids, levels[s.Index])
		if s.Skipped == "" {
			s.peaks(computed.Frequencies, computed.Seat(s.Index))
		}
	}
	g.spread()
	return nil
}

// computedOf returns the computed response of what was measured, or why there is none.
func computedOf(d *project.Design, st *bass.Study, of string) (r *bass.Response, why string, err error) {
	if st == nil {
		return nil, "the room has no subwoofer to compare with", nil
	}
	if of == project.AllSubwoofers {
		return st.Response, "", nil
	}
	for i, k := range st.Plan.Speakers {
		if d.Speakers[k].ID == of {
			r, err := st.Alone(i)
			return r, "", err
		}
	}
	return nil, "only subwoofers are computed in the bass", nil
}

// lay lays the measured levels of a seat over the computed ones.
func (s *Seat) lay(mids, computed []float64) {
	var apart []float64
	for b, mid := range mids {
		if mid < 0.99*bass.Lowest || mid > bass.Highest { // the middle of that at 20 Hz is 19.95 Hz
			continue
		}
		level, ok := inThird(s.Response, mid)
		if !ok {
			continue
		}
		s.Thirds = append(s.Thirds, Third{mid, level, computed[b]})
		if mid > OffsetFrom && mid < OffsetTo*1.01 {
			apart = append(apart, level-computed[b])
		}
	}
	if len(apart) < 3 {
		s.Thirds, s.Skipped = nil, fmt.Sprintf("it reaches over too little of %d to %d Hz", OffsetFrom, OffsetTo)
		return
	}
	for _, v := range apart {
		s.Offset += v / float64(len(apart))
	}
	for i := range s.Thirds {
		t := &s.Thirds[i]
		t.Measured -= s.Offset
		s.RMS += t.Difference() * t.Difference() / float64(len(s.Thirds))
		if i == 0 || math.Abs(t.Difference()) > math.Abs(s.Worst.Difference()) {
			s.Worst = *t
		}
	}
	s.RMS = math.Sqrt(s.RMS)
}

// Moved returns the measured response from lo to hi hertz with the offset taken off.
func (s *Seat) Moved(lo, hi float64) (hz, db []float64) {
	for i, f := range s.Response.Frequencies {
		if f >= lo && f <= hi {
			hz, db = append(hz, f), append(db, s.Response.Level[i]-s.Offset)
		}
	}
	return hz, db
}

// At returns what was measured of all subwoofers at the seat of that index in the study;
// nil for nothing that is compared.
func (c *Comparison) At(seat int) *Seat {
	for k := range c.Groups {
		if g := &c.Groups[k]; g.Of == project.AllSubwoofers {
			for i := range g.Seats {
				if s := &g.Seats[i]; s.Index == seat && s.Skipped == "" {
					return s
				}
			}
		}
	}
	return nil
}

// inThird returns the level of a response in the third of an octave about mid, the mean
// of the powers of its points there; ok is false where it has none.
func inThird(r *project.Response, mid float64) (level float64, ok bool) {
	lo, hi := bass.Edges(mid)
	n, power := 0, 0.0
	for i, f := range r.Frequencies {
		if f >= lo && f < hi {
			n, power = n+1, power+math.Pow(10, r.Level[i]/10)
		}
	}
	return 10 * math.Log10(power/float64(n)), n > 0
}

// peaks looks for the computed peaks in the measured response.
func (s *Seat) peaks(f, computed []float64) {
	hz, db := s.Response.Frequencies, s.Response.Level
	lo, _ := slices.BinarySearch(hz, bass.Lowest)
	hi, _ := slices.BinarySearch(hz, bass.Highest)
	for i := lo + 1; i < hi; i++ {
		s.Coarse = s.Coarse || math.Log2(hz[i]/hz[i-1]) > 1.05*fine
	}
	if s.Coarse = s.Coarse || hi-lo < 12; s.Coarse {
		return
	}
	there := peaksOf(hz, db, prominence/2.0)
	for _, p := range peaksOf(f, computed, prominence) {
		if p >= bass.Lowest && p <= bass.Highest {
			s.Peaks = append(s.Peaks, Peak{Computed: p})
		}
	}
	// The nearest pairs first, each measured peak once.
	for {
		best, which, at := PeakWithin, -1, -1
		for i, p := range s.Peaks {
			for k, q := range there {
				if off := math.Abs(q/p.Computed - 1); p.Measured == 0 && off <= best {
					best, which, at = off, i, k
				}
			}
		}
		if which < 0 {
			return
		}
		s.Peaks[which].Measured = there[at]
		there = slices.Delete(there, at, at+1)
	}
}

// peaksOf returns where a response has peaks that stand out by out dB: from the top it
// falls as far on both sides before it rises over it.
func peaksOf(f, db []float64, out float64) []float64 {
	var all []float64
	for i := 1; i+1 < len(db); i++ {
		if !(db[i] > db[i-1] && db[i] >= db[i+1]) {
			continue
		}
		falls := func(step int) bool {
			for k := i + step; k >= 0 && k < len(db); k += step {
				if db[k] > db[i] {
					return false
				}
				if db[i]-db[k] >= out {
					return true
				}
			}
			return false
		}
		if falls(-1) && falls(1) {
			all = append(all, f[i])
		}
	}
	return all
}

// spread compares the seats of a group with each other.
func (g *Group) spread() {
	var all []*Seat
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range g.Seats {
		if s := &g.Seats[i]; s.Skipped == "" {
			all, lo, hi = append(all, s), min(lo, s.Offset), max(hi, s.Offset)
		}
	}
	if len(all) < 2 {
		return
	}
	g.OffsetApart = hi - lo
	for _, t := range all[0].Thirds {
		var m, k []float64
		for _, s := range all {
			for _, u := range s.Thirds {
				if u.Middle == t.Middle {
					m, k = append(m, u.Measured+s.Offset), append(k, u.Computed)
				}
			}
		}
		if len(m) < len(all) {
			continue // not at every seat
		}
		g.Spreads = append(g.Spreads, Spread{t.Middle, deviation(m), deviation(k)})
	}
	n := float64(len(g.Spreads))
	for _, s := range g.Spreads {
		g.SpreadMeasured += s.Measured * s.Measured / n
		g.SpreadComputed += s.Computed * s.Computed / n
	}
	g.SpreadMeasured, g.SpreadComputed = math.Sqrt(g.SpreadMeasured), math.Sqrt(g.SpreadComputed)
}

// deviation is the standard deviation of v, by the number of values.
func deviation(v []float64) float64 {
	mean, sum := 0.0, 0.0
	for _, x := range v {
		mean += x / float64(len(v))
	}
	for _, x := range v {
		sum += (x - mean) * (x - mean)
	}
	return math.Sqrt(sum / float64(len(v)))
}
