// SPDX-License-Identifier: MIT

package sound

import (
	"context"

	"earline/project"
	"earline/project/bass"
)

// hearBass has package bass say what the subwoofers can play and puts that in place of
// the free field's figures. That takes milliseconds by the sum over modes, a second by
// waves: a coarse grid would be quicker, but thirds come out up to 5 dB off in the
// demos, and there is to be one answer. hearBass leaves the figures as they are, with a
// remark, where the bass cannot be computed. The error is that of ctx.
func (r *Result) hearBass(ctx context.Context, d *project.Design) error {
	p, err := bass.Of(d, bass.Shown())
	if err != nil || len(p.Speakers) == 0 {
		return nil
	}
	var store bass.Store
	st, err := store.New(ctx, p, nil)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err != nil {
		for _, f := range project.Faults(err) {
			r.Remarks = append(r.Remarks, "subwoofers: watts are those of a free field, since the bass is not known: "+f.Error())
		}
		return nil
	}
	r.Bass = st.Output(d)
	r.Direct.play(r.Bass)
	return nil
}

// play puts what o says of the subwoofers in place of the free field's figures.
func (d *Direct) play(o *bass.Output) {
	for i, k := range o.Speakers {
		s := &d.Speakers[k]
		s.Target = o.Thirds[o.Main.Third].Must
		s.Power, s.PowerQuietest = o.Needed[i], o.NeededWorst[i]
		s.Headroom, s.HeadroomQuietest = o.Main.Reserve, o.Worst.Reserve
	}
}
