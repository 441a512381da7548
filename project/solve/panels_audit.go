// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"fmt"
	"strings"

	"earline/geometry"
	"earline/project"
	"earline/project/diff"
	"earline/project/panel"
	"earline/project/shell"
	"earline/project/sight"
	"earline/project/sound"
)

// audit works out the sound of the proposed design afresh, and what it leaves to be
// wished for.
func (p *PanelsProposal) audit(ctx context.Context, s *panelSolver, was *sight.Result) error {
	p.Runs = panel.Of(p.Design)
	p.Is, _ = sound.Reverberate(p.Design, s.o.Target, false)
	before, err := sound.Reflect(ctx, s.d, &was.Room, sound.ReflectOptions{})
	if err != nil {
		return err
	}
	after, err := sound.Reflect(ctx, p.Design, &was.Room, sound.ReflectOptions{})
	if err != nil {
		return err
	}
	row := p.Design.Seating.Main.Row
	hung := func(r *sound.Reflections, f *sound.Reflection) bool {
		k := r.Surfaces[f.Surfaces[0]].Kind
		return f.Breaks && (k == shell.Wall || k == shell.Ceiling)
	}
	inRow := func(seat int) bool {
		return seat != sound.MainSeat && seat < len(was.Seats) && was.Seats[seat].Row == row
	}
	var left []*sound.Reflection // at the main position, by walls and ceiling
	for i := range after.All {
		switch f := &after.All[i]; {
		case !hung(after, f):
		case f.Seat == sound.MainSeat:
			left = append(left, f)
		case inRow(f.Seat):
			p.RowTreated--
		}
	}
	for i := range before.All {
		if f := &before.All[i]; hung(before, f) && inRow(f.Seat) {
			p.Row++
			p.RowTreated++
		}
	}
	for _, t := range before.Treat(false) {
		if _, ok := before.Treatment(t, ""); !ok {
			continue
		}
		p.Patches++
		open := false
		for _, f := range left {
			q := after.Surfaces[f.Surfaces[0]].Flat(f.Points[0])
			open = open || f.Surfaces[0] == t.Surface && q.X >= t.From && q.X <= t.To && q.Y >= t.Low && q.Y <= t.High
		}
		if !open {
			p.Treated++
		}
	}
	show := func(v float64) string { return Metres.Show(v, p.Design.Units) }
	for _, f := range left {
		on := &after.Surfaces[f.Surfaces[0]]
		q := on.Flat(f.Points[0])
		name := was.Speakers[f.Speaker].Name()
		where := fmt.Sprintf("%s along the %s and %s high", show(q.X), on.Words, show(q.Y))
		if on.Kind == shell.Ceiling {
			where = fmt.Sprintf("x %s, y %s under the %s", show(q.X), show(q.Y), on.Words)
		}
		p.add(Obstacle{Constraint: on.Words, Where: name + " to the main position", Short: f.Strongest + sound.EarlyDrop, Kind: Number,
			Text: fmt.Sprintf("%s still reaches the main position by %s, %.1f dB below the direct sound: %s.", name, where, -f.Strongest, p.standsAt(on, q))})
	}
	p.times()
	p.low(s)
	return nil
}

// Summary says in a few lines what the room comes to.
func (p *PanelsProposal) Summary() string {
	lines := []string{fmt.Sprintf("Reverberation, 250 Hz to 4 kHz: %.2f s before, %.2f s after, target %.2f s.", p.Was.Mid, p.Is.Mid, p.Is.Wanted),
		fmt.Sprintf("First reflections at the main position: %d of %d patches of walls and ceiling treated.", p.Treated, p.Patches)}
	if p.Row > 0 {
		lines = append(lines, fmt.Sprintf("At the other seats of its row: %d of %d reflections.", p.RowTreated, p.Row))
	}
	return strings.Join(lines, "\n")
}

// standsAt says why no panel is at q of a wall or the ceiling.
func (p *PanelsProposal) standsAt(on *shell.Surface, q geometry.Vec2) string {
	wall := 0
	if on.Kind == shell.Wall {
		wall = on.Index
	}
	there := false
	for _, r := range p.Runs {
		if r.Wall != wall {
			continue
		}
		there = true
		for _, m := range r.Modules {
			for _, c := range m.Cuts {
				if q.X >= c.From && q.X <= c.To && q.Y >= c.Low && q.Y <= c.High {
					return "the panel there gives way to " + c.Name
				}
			}
		}
	}
	if there {
		return "it falls on a joint or beside the panels"
	}
	return "there are no panels"
}

// times tells the octaves that ring too long or too short.
func (p *PanelsProposal) times() {
	for o, f := range project.Octaves() {
		if !p.Is.Judged[o] || p.Is.Within[o] {
			continue
		}
		off, word, add := p.Is.Eyring[o]-p.Is.Wanted, "more", "more that absorbs is wanted"
		if off < 0 {
			off, word, add = -off, "less", "there is too much that absorbs already"
		}
		p.add(Obstacle{Constraint: "reverberation", Where: fmt.Sprintf("%g Hz", f), Short: off - sound.Tolerance, Kind: Number,
			Text: fmt.Sprintf("At %g Hz the room rings %.3f s, %.3f s %s than the target of %.3f s ±%.2f: %s.", f, p.Is.Eyring[o], off, word, p.Is.Wanted, sound.Tolerance, add)})
	}
}

// low says what happens at 125 Hz, where thin panels do little.
func (p *PanelsProposal) low(s *panelSolver) {
	const octave = 1 // 125 Hz
	if len(p.Design.Panels) == 0 {
		return
	}
	if over := p.Is.Eyring[octave] - p.Is.Wanted; over > sound.Tolerance {
		p.remark(fmt.Sprintf("At 125 Hz the room still rings %.2f s (before: %.2f s): panels %s deep take little that low (%.2f of what meets them). Bass asks for depth, or for absorbers made for it.",
			p.Is.Eyring[octave], p.Was.Eyring[octave], Metres.Show(float64(s.o.Depth), p.Design.Units), s.absorb.Absorption[octave]))
	}
	if s.diffuse.ID == woodWells && usesDiffusers(p.Design) {
		p.remark("What a diffuser absorbs is taken from a lining of wood: put the maker's figures into its material.")
	}
	p.remark("Have the fire class of cloth and lining on paper: local code decides.")
}

func usesDiffusers(d *project.Design) bool {
	for i := range d.Panels {
		if d.Panels[i].Diffuse != "" {
			return true
		}
	}
	return false
}

// panelChanges says run by run what hangs, but for the first so many, which were there.
func panelChanges(d *project.Design, runs []panel.Run, kept int) (out []Change) {
	for _, r := range runs {
		if r.Index >= kept {
			out = append(out, Change{Thing: diff.Thing{Kind: diff.Panels, Index: r.Index}, Measure: diff.Words, What: runWords(d, r)})
		}
	}
	return out
}

// runWords says what a run is: "left wall: 9 panels 600 mm wide, 5 absorb, 2 diffuse, 2
// bare; rest 0.200 m at both ends".
func runWords(d *project.Design, r panel.Run) string {
	count := map[project.PanelKind]int{}
	for _, m := range r.Modules {
		if len(m.Pieces) > 0 {
			count[m.Kind]++
		}
	}
	show := func(v float64) string { return Metres.Show(v, d.Units) }
	var what []string
	for _, k := range project.PanelKinds() {
		if n := count[k]; n > 0 {
			what = append(what, fmt.Sprintf("%d %s", n, panel.Words(k)))
		}
	}
	if n := len(r.Modules) - count[project.AbsorbPanel] - count[project.DiffusePanel] - count[project.BarePanel]; n > 0 {
		what = append(what, fmt.Sprintf("%d left out", n))
	}
	panels := "1 panel"
	if n := len(r.Modules); n != 1 {
		panels = fmt.Sprintf("%d panels", n)
	}
	return fmt.Sprintf("%s: %s %s wide: %s; %s at either end", d.Room.PanelPlace(r.Wall), panels,
		show(float64(d.Panels[r.Index].Module)), strings.Join(what, ", "), show(r.Margin()))
}
