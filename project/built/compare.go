// SPDX-License-Identifier: MIT

package built

import (
	"cmp"
	"context"
	"math"
	"runtime"
	"slices"
	"sync/atomic"

	"earline/project"
	"earline/project/crew"
	"earline/project/diff"
	"earline/project/practice"
	"earline/project/settle"
	"earline/project/sight"
)

// State is a room, and what is found in it.
type State struct {
	Design *project.Design
	Audit  *sight.Result
	Rules  *practice.Result
	Causes *settle.List
}

// Result is a room as built beside its plan.
type Result struct {
	Plan, Built State
	Items       []Item // all that can be measured, with tolerances of what was
	Measured    int    // how many of them were, in something
	// Move is what must be moved to where it is planned, the most harmful first; Stay
	// is what is not where it is planned and may stay there.
	Move, Stay []Deviation
}

// Deviation is a thing that is not where it is planned.
type Deviation struct {
	*Item
	Harm Harm
	// Losses are what gets worse by it alone, the worst first; of a thing that is
	// harmful only together with others what gets worse by all of them.
	Losses []Loss
}

// Judge returns what is found in d under a house standard.
func Judge(d *project.Design, std practice.Standard) State {
	return judge(State{}, d, std)
}

// judge is Judge, quicker where d differs from what was judged before in the places of
// loudspeakers only.
func judge(was State, d *project.Design, std practice.Standard) State {
	s := State{Design: d}
	if moved, ok := diff.OnlySpeakers(was.Design, d); ok {
		s.Audit = sight.Update(was.Audit, d, moved...)
	} else {
		s.Audit = sight.Audit(d)
	}
	s.Rules = practice.Check(d, s.Audit, std)
	s.Causes = settle.Causes(s.Audit, s.Rules, nil)
	return s
}

// Compare judges d as planned and as built. Equal measurements change nothing: the
// room as built is then judged as the plan to the last digit. The error is that of ctx,
// or what makes the room as built one that cannot be computed. d is not changed.
func Compare(ctx context.Context, d *project.Design, std practice.Standard) (*Result, error) {
	return CompareWith(ctx, sight.Audit(d), d, std)
}

// CompareWith is Compare where audit, the one of d, is known already.
func CompareWith(ctx context.Context, audit *sight.Result, d *project.Design, std practice.Standard) (*Result, error) {
	plan := State{Design: d, Audit: audit, Rules: practice.Check(d, audit, std)}
	plan.Causes = settle.Causes(audit, plan.Rules, nil)
	items := Items(d)
	b := bare(d)
	r := &Result{Plan: plan, Items: items}
	for i := range items {
		items[i].build(b, d)
		if items[i].Measured() {
			r.Measured++
		}
	}
	if err := b.Validate(); err != nil {
		return nil, err
	}
	r.Built = judge(plan, b, std)
	if err := tolerate(ctx, d, plan.Audit, std, items); err != nil {
		return nil, err
	}
	return r, r.sort(ctx, d, std)
}

// sort tells what must move from what may stay. Each thing that is off is tried alone
// in a room that is otherwise as planned; those that do harm there are put back, the
// most harmful first, until the rest does none together.
func (r *Result) sort(ctx context.Context, d *project.Design, std practice.Standard) error {
	var off []Deviation
	for i := range r.Items {
		if it := &r.Items[i]; it.Deviates() {
			off = append(off, Deviation{Item: it})
		}
	}
	var next atomic.Int64
	var done crew.Crew
	for range min(runtime.GOMAXPROCS(0), len(off)) {
		done.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= len(off) {
					return
				}
				dev, alone := &off[i], bare(d)
				dev.build(alone, d)
				if alone.Validate() == nil {
					dev.Losses = losses(r.Plan, judge(r.Plan, alone, std))
					dev.Harm = harm(dev.Losses)
				}
			}
		})
	}
	done.Wait()
	if err := ctx.Err(); err != nil {
		return err
	}
	slices.SortStableFunc(off, func(a, b Deviation) int {
		return cmp.Or(b.Harm.compare(a.Harm), cmp.Compare(b.worst(), a.worst()))
	})
	present, left := r.Built, losses(r.Plan, r.Built)
	put := r.Built.Design
	for len(off) > 0 && len(left) > 0 {
		if err := ctx.Err(); err != nil {
			return err
		}
		dev := off[0]
		off = off[1:]
		next := put.Clone()
		dev.restore(next, d)
		now := judge(present, next, std)
		after := losses(r.Plan, now)
		if len(dev.Losses) == 0 { // harmful only in company, if at all
			if harm(after).compare(harm(left)) >= 0 {
				r.Stay = append(r.Stay, dev)
				continue
			}
			dev.Losses, dev.Harm = left, harm(left)
		}
		r.Move = append(r.Move, dev)
		present, left, put = now, after, next
	}
	r.Stay = append(r.Stay, off...)
	return nil
}

// restore puts it back to where it is planned.
func (it *Item) restore(b, d *project.Design) {
	switch v := it.of(d).(type) {
	case *project.Loudspeaker:
		*it.of(b).(*project.Loudspeaker) = *v
	case *project.Row:
		row := it.of(b).(*project.Row)
		steps := row.Steps
		*row = *v
		row.Steps = steps
	case *project.Feature:
		*it.of(b).(*project.Feature) = *v
	case *project.Screen:
		*it.of(b).(*project.Screen) = *v
	}
}

// worst is by how many tolerances it is off, where it is so most.
func (it *Item) worst() (most float64) {
	for i := range it.Measures {
		m := &it.Measures[i]
		off, allowed := m.Off(), m.More
		if off < 0 {
			off, allowed = -off, m.Less
		}
		most = math.Max(most, off/math.Max(allowed, m.Quantity.same()))
	}
	return most
}
