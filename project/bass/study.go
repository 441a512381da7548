// SPDX-License-Identifier: MIT

package bass

import (
	"context"
	"errors"
	"fmt"
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/bass/field"
)

// The band in which bass is judged, hertz: that of the LFE channel (Rec. ITU-R
// BS.775-3, Annex 7).
const (
	Lowest  = 20
	Highest = 120
)

// Shown returns the frequencies that a study computes: a little more than is
// judged, 96 to an octave: narrow enough that modes look round.
func Shown() []float64 { return Octaves(16, 160, 96) }

// Study is what the subwoofers of a design do.
type Study struct {
	Plan     *Plan
	Way      Way
	Transfer *field.Transfer // of each subwoofer alone
	Response *Response       // of all together
	Figures  Figures         // from Lowest to Highest, all seats alike
	// Halved and Doubled are Response if the surfaces absorbed half and twice as much as
	// their tables say, which is how far tables differ at low frequencies; as measured
	// where that is known. Nil until Store.Ranged fills them in, and by finite
	// differences, which take seconds each.
	Halved, Doubled *Response
	// Weighed is the mean spatial variance from Lowest to Highest with the seats as
	// Align weighs them, in dB^2.
	Weighed float64
	// Thirds are what aligning, or other places, did to the output; nil is neither.
	Thirds []Third
}

// New computes the study of a plan that has subwoofers and seats, with what the
// store keeps. For progress and errors see Store.Transfer; a plan without
// subwoofers is a *project.Fault.
func (s *Store) New(ctx context.Context, p *Plan, progress func(float64)) (*Study, error) {
	if err := errors.Join(p.none(), p.outside()); err != nil {
		return nil, err
	}
	t, err := s.Transfer(ctx, p, p.Places, progress)
	if err != nil {
		return nil, err
	}
	return StudyOf(p, t, p.Subs)
}

// Ranged returns st with the range of what its surfaces may absorb, Halved and Doubled; st
// itself by finite differences.
func (s *Store) Ranged(st *Study) (*Study, error) {
	if st.Way != Modes {
		return st, nil
	}
	out := *st
	for share, r := range map[float64]**Response{0.5: &out.Halved, 2: &out.Doubled} {
		m, err := s.modal(st.Plan.Absorbing(share))
		if err != nil {
			return nil, err
		}
		t, err := m.Transfer(st.Plan.Places)
		if err != nil {
			return nil, err
		}
		if *r, err = Combine(t, st.Plan.Subs); err != nil {
			return nil, err
		}
	}
	return &out, nil
}

// StudyOf returns the study of a plan whose subwoofers sound as t says and are
// driven as subs says.
func StudyOf(p *Plan, t *field.Transfer, subs []Sub) (*Study, error) {
	r, err := Combine(t, subs)
	if err != nil {
		return nil, err
	}
	low, err := Combine(t.Band(Lowest, Highest), subs)
	if err != nil {
		return nil, err
	}
	if text := filtersIn(subs); text != "" {
		r.Remarks = append(r.Remarks, text)
	}
	return &Study{Plan: p, Way: p.Way(), Transfer: t, Response: r, Figures: low.Figures(), Weighed: low.Weighed(p.Limits.Weights)}, nil
}

// Align finds gains, delays and polarities of the subwoofers of st, judged from
// Lowest to Highest, and returns the study with them. See Optimise.
func (st *Study) Align(ctx context.Context, subs []Sub, progress func(float64)) (*Study, *Optimised, error) {
	l := st.Plan.Limits
	l.Progress = progress
	o, err := Optimise(ctx, st.Transfer.Band(Lowest, Highest), subs, l)
	if err != nil {
		return nil, nil, err
	}
	if len(l.Weights) > 1 {
		o.Remarks = append(o.Remarks, weighed)
	}
	if text := filtersIn(o.Subs); text != "" {
		o.Remarks = append(o.Remarks, text+" They were made for the alignment before: equalise again.")
	}
	after, err := StudyOf(st.Plan, st.Transfer, o.Subs)
	if err != nil {
		return nil, nil, err
	}
	after.Thirds = o.Thirds
	return after, o, nil
}

// Aligned returns a copy of d in which the subwoofers of p are tuned as subs. If
// that lowers their mean delay, all are delayed equally to restore it: a common
// delay changes nothing among them, and it is what aligns them with the other
// loudspeakers.
func (p *Plan) Aligned(d *project.Design, subs []Sub) *project.Design {
	out := d.Clone()
	common := 0.0
	for i := range subs {
		common += (p.Subs[i].Delay - subs[i].Delay) / float64(len(subs))
	}
	if step := p.Limits.DelayStep; step > 0 {
		common = math.Round(common/step) * step
	}
	for i, k := range p.Speakers {
		drive := subs[i].Drive
		drive.Delay += max(common, 0)
		out.Speakers[k].Tuning = drive.Tuning()
	}
	return out
}

// none is a fault when there is no subwoofer.
func (p *Plan) none() error {
	if len(p.Places) > 0 {
		return nil
	}
	return &project.Fault{Field: "loudspeakers", Found: "no subwoofer", Allowed: "one labelled LFE1 or LFE2 or more"}
}

// outside is a fault for each subwoofer whose sound starts beyond the walls, the
// ceiling or the floor by more than a wall is thick, and for each within
// something solid.
func (p *Plan) outside() error {
	const (
		thick = 0.15 // m: built into a wall it still plays into the room
		deep  = 0.15 // m: a subwoofer may stand a little in a platform
	)
	var faults []error
	for i, q := range p.Places {
		flat := geometry.Vec2{X: q.X, Y: q.Y}
		where := ""
		if _, foot := p.Room.Footprint.Nearest(flat); !p.Room.Footprint.Contains(flat) && flat.Dist(foot) > thick {
			where = "beyond the wall"
		}
		switch {
		case where != "":
		case q.Z > p.Room.Ceiling.At(q.X, q.Y)+thick:
			where = "above the ceiling"
		case q.Z < -thick:
			where = "below the floor"
		}
		for _, b := range p.Room.Blocks {
			_, foot := b.Footprint.Nearest(flat)
			if b.Footprint.Contains(flat) && flat.Dist(foot) > deep && q.Z > b.Bottom+deep && q.Z < b.Top-deep {
				where = "inside a platform, a stage, a column or a soffit"
			}
		}
		if where != "" {
			faults = append(faults, &project.Fault{Field: fmt.Sprintf("loudspeakers[%d].at", p.Speakers[i]),
				Found: fmt.Sprintf("%s at (%.3f, %.3f, %.3f) m, %s", p.names[i], q.X, q.Y, q.Z, where), Allowed: "a subwoofer that plays into the room"})
		}
	}
	return errors.Join(faults...)
}
