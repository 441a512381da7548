// SPDX-License-Identifier: MIT

package solve

import (
	"math"
	"slices"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/panel"
	"earline/project/sound"
)

// panelPlan is panels of one width, and what each is.
type panelPlan struct {
	width  unit.Length
	runs   []project.Panels
	laid   []panel.Run // of runs
	groups []panelGroup
	kinds  []project.PanelKind // by group

	uncovered int // reflections at the main position that no panel takes
	dark      int // joints that lose their light
	cost
}

// cost is what plans are compared by.
type cost struct {
	out    float64 // by how much octaves miss the tolerance, all together, s
	bare   int     // reflections in the main row, and patches, on bare wall
	worst  float64 // the farthest an octave is off, s
	spread float64 // the sum of the squares of all that, s2
}

// less reports whether c is better than e; differences that nobody hears do not count.
func (c cost) less(e cost) bool {
	const hair = 1e-6 // s
	switch {
	case math.Abs(c.out-e.out) > hair:
		return c.out < e.out
	case c.bare != e.bare:
		return c.bare < e.bare
	case math.Abs(c.worst-e.worst) > hair:
		return c.worst < e.worst
	}
	return c.spread < e.spread-hair*hair
}

// less reports whether p is better than q.
func (p *panelPlan) less(q *panelPlan) bool {
	const alike = 0.005 // s: for less than that the wider panel stays
	switch {
	case p.uncovered != q.uncovered:
		return p.uncovered < q.uncovered
	case p.dark != q.dark:
		return p.dark < q.dark
	case math.Abs(p.out-q.out) > alike:
		return p.out < q.out
	case p.bare != q.bare:
		return p.bare < q.bare
	}
	return p.worst < q.worst-alike
}

// panelGroup is panels that are decided together: one and its mirror image.
type panelGroup struct {
	at    [][2]int // run and panel
	area  map[int]float64
	must  project.PanelKind // what reflections at the main position ask for; empty for anything
	row   int               // reflections of the main row that fall on it, and patches of the main position
	order float64
}

// plan lays out panels of that width and chooses what each is; nil where none fits.
func (s *panelSolver) plan(width unit.Length) *panelPlan {
	p := &panelPlan{width: width}
	for _, w := range s.walls {
		run := project.Panels{Wall: w, Module: width, Gap: s.o.Gap, LightGap: s.o.LightGap, LightEvery: s.o.LightEvery, Depth: s.o.Depth,
			Pattern: []project.PanelKind{project.AbsorbPanel}, Absorb: s.absorb.ID, Diffuse: s.diffuse.ID}
		if w == 0 && !s.overhead(&run) {
			continue
		}
		if n := run.Count(s.d.Room.PanelLength(w)); n > 0 && n <= project.MaxModules {
			p.runs = append(p.runs, run)
		}
	}
	d := *s.d
	d.Panels = slices.Concat(s.d.Panels, p.runs)
	if len(p.runs) == 0 || len(d.Panels) > project.MaxPanels {
		return nil
	}
	for _, r := range panel.Of(&d) {
		if r.Index >= len(s.d.Panels) {
			r.Index -= len(s.d.Panels)
			p.laid = append(p.laid, r)
			for _, j := range r.Joints {
				if j.Dark != "" {
					p.dark++
				}
			}
		}
	}
	s.group(p)
	if len(p.groups) == 0 {
		return nil
	}
	s.decide(p)
	return p
}

// overhead sets how far across the ceiling a run reaches: over all reflections there, as
// far to the left as to the right.
func (s *panelSolver) overhead(run *project.Panels) bool {
	lo, hi := s.d.Room.Polygon().Bounds()
	middle, reach := (lo.Y+hi.Y)/2, 0.0
	const most = 0.1 // m, from the side walls
	for _, c := range s.cores {
		if c.wall == 0 && c.main {
			reach = max(reach, c.High-middle, middle-c.Low)
		}
	}
	if reach == 0 {
		reach = (hi.Y - lo.Y) / 4 // asked for without a reflection there
	}
	const step = 0.05 // m
	reach = min(math.Ceil(reach/step-1e-6)*step, (hi.Y-lo.Y)/2-most)
	run.Low, run.High = millimetres(max(middle-reach, 0)), millimetres(middle+reach)
	return run.High > run.Low
}

// group puts each panel together with its mirror image, and reflections on panels.
func (s *panelSolver) group(p *panelPlan) {
	poly := s.d.Room.Polygon()
	lo, hi := poly.Bounds()
	across := lo.Y + hi.Y // of a place and its mirror image
	type spot struct{ x, y float64 }
	where := func(r *panel.Run, m *panel.Module) spot {
		u := (m.From + m.To) / 2
		if r.Wall == 0 {
			return spot{u, across / 2}
		}
		a, b := poly.Edge(r.Wall - 1)
		t := u / a.Dist(b)
		return spot{a.X + (b.X-a.X)*t, a.Y + (b.Y-a.Y)*t}
	}
	const same = 0.005 // m
	spots := []spot{}
	for i := range p.laid {
		r := &p.laid[i]
		for k := range r.Modules {
			m := &r.Modules[k]
			if len(m.Pieces) == 0 {
				continue
			}
			at, g := where(r, m), -1
			for j, q := range spots {
				if r.Wall != 0 && math.Abs(q.x-at.x) < same && math.Abs(q.y-(across-at.y)) < same {
					g = j
				}
			}
			if g < 0 {
				g = len(p.groups)
				p.groups = append(p.groups, panelGroup{area: map[int]float64{}})
				spots = append(spots, at)
				if r.Wall == 0 {
					spots[g].y = math.Inf(1) // no wall's mirror image
				}
			}
			p.groups[g].at = append(p.groups[g].at, [2]int{i, k})
			p.groups[g].area[r.Wall] += m.Area()
		}
	}
	for i := range s.cores {
		s.aim(p, &s.cores[i])
	}
	for _, t := range s.patches {
		for g := range p.groups {
			for _, at := range p.groups[g].at {
				m := &p.laid[at[0]].Modules[at[1]]
				const some = 0.05 // m
				if p.laid[at[0]].Wall == t.Wall && min(m.To, float64(t.To))-max(m.From, float64(t.From)) > some &&
					min(m.High, float64(t.High))-max(m.Low, float64(t.Low)) > some {
					p.groups[g].row++
				}
			}
		}
	}
	for g := range p.groups {
		// Those that serve the main row come first, the others spread over the walls: by
		// the fractions of the golden ratio neighbours come far apart.
		_, spread := math.Modf(float64(g) * math.Phi)
		p.groups[g].order = spread - float64(2*p.groups[g].row)
	}
}

// aim notes on what panels a reflection falls.
func (s *panelSolver) aim(p *panelPlan, c *core) {
	hit := false
	for g := range p.groups {
		for _, at := range p.groups[g].at {
			r := &p.laid[at[0]]
			if r.Wall != c.wall {
				continue
			}
			touched := false
			for _, q := range r.Modules[at[1]].Pieces {
				on := c.at.X > q.From && c.at.X < q.To && c.at.Y > q.Low && c.at.Y < q.High
				hit = hit || on
				const some = 0.25 // of the core's width: less is an edge that hardly reflects
				wide := min(q.To, c.To) - max(q.From, c.From)
				high := min(q.High, c.High) - max(q.Low, c.Low)
				touched = touched || on || wide > some*(c.To-c.From) && high > some*(c.High-c.Low)
			}
			switch {
			case !touched:
			case !c.main:
				p.groups[g].row++
			case c.advice == sound.Absorb || p.groups[g].must == project.AbsorbPanel:
				p.groups[g].must = project.AbsorbPanel
			default:
				p.groups[g].must = project.DiffusePanel
			}
		}
	}
	if !hit && c.main {
		p.uncovered++
	}
}

// decide chooses what each group is.
func (s *panelSolver) decide(p *panelPlan) {
	p.kinds = make([]project.PanelKind, len(p.groups))
	var free []int
	for g := range p.groups {
		p.kinds[g] = p.groups[g].must
		if p.kinds[g] == "" {
			free = append(free, g)
		}
	}
	slices.SortStableFunc(free, func(a, b int) int {
		if p.groups[a].order < p.groups[b].order {
			return -1
		}
		return 1
	})
	kinds, best := slices.Clone(p.kinds), cost{out: math.Inf(1)}
	for a := 0; a <= len(free); a++ {
		for b := 0; a+b <= len(free); b++ {
			for i, g := range free {
				switch {
				case i < a:
					kinds[g] = project.AbsorbPanel
				case i < a+b:
					kinds[g] = project.DiffusePanel
				default:
					kinds[g] = project.BarePanel
				}
			}
			if c := s.cost(p, kinds); c.less(best) {
				best = c
				copy(p.kinds, kinds)
			}
		}
	}
	for again := true; again; {
		again = false
		try := func(set func()) {
			copy(kinds, p.kinds)
			set()
			if c := s.cost(p, kinds); c.less(best) {
				best, again = c, true
				copy(p.kinds, kinds)
			}
		}
		for i, g := range free {
			for _, k := range project.PanelKinds() {
				try(func() { kinds[g] = k })
			}
			for _, h := range free[:i] {
				try(func() { kinds[g], kinds[h] = kinds[h], kinds[g] })
			}
		}
	}
	p.cost = best
}

// cost works out what a choice comes to.
func (s *panelSolver) cost(p *panelPlan, kinds []project.PanelKind) (c cost) {
	area := s.rev.Area
	for g := range p.groups {
		m := &s.absorb
		switch kinds[g] {
		case project.BarePanel:
			c.bare += p.groups[g].row
			continue
		case project.DiffusePanel:
			m = &s.diffuse
		}
		for w, a := range p.groups[g].area {
			f := s.finish[w]
			for o := range area {
				area[o] += a * (m.Absorption[o] - f.Absorption[o])
			}
		}
	}
	for o, judged := range s.rev.Judged {
		if !judged {
			continue
		}
		off := math.Abs(s.time(o, area[o]) - s.rev.Wanted)
		c.out += max(off-sound.Tolerance+edge, 0)
		c.worst = max(c.worst, off)
		c.spread += off * off
	}
	return c
}

// edge is how far inside the tolerance a time is wanted, s: so that it is still there as
// it is shown, to the hundredth.
const edge = 0.005

// time returns the reverberation time in an octave with so much absorption, s.
func (s *panelSolver) time(o int, area float64) float64 {
	r := s.rev
	if !(r.Surface > 0) || !(r.Sabine[o] > 0) {
		return 0
	}
	// The speed of sound for which sound.SabineTime gave r.Sabine.
	speed := sound.SabineTime(r.Volume, r.Area[o], r.Air[o], 1) / r.Sabine[o]
	return sound.EyringTime(r.Volume, r.Surface, min(max(area/r.Surface, 0), 1), r.Air[o], speed)
}

// design returns the design with the panels of p.
func (p *panelPlan) design(s *panelSolver) *project.Design {
	d := s.d.Clone()
	patterns := map[int][]project.PanelKind{}
	for i := range p.laid {
		all := make([]project.PanelKind, len(p.laid[i].Modules))
		for k := range all {
			all[k] = project.BarePanel
		}
		patterns[p.laid[i].Index] = all
		for g := range p.groups {
			for _, at := range p.groups[g].at {
				if at[0] == i {
					all[at[1]] = p.kinds[g]
				}
			}
		}
	}
	for i, run := range p.runs {
		run.Pattern = patterns[i]
		hung := func(k project.PanelKind) bool { return k != project.BarePanel }
		if !slices.ContainsFunc(run.Pattern, hung) {
			continue
		}
		if !slices.Contains(run.Pattern, project.DiffusePanel) {
			run.Diffuse = ""
		} else {
			take(d, s.diffuse)
		}
		if !slices.Contains(run.Pattern, project.AbsorbPanel) {
			run.Absorb = ""
		} else {
			take(d, s.absorb)
		}
		d.Panels = append(d.Panels, run)
	}
	return d
}

// millimetres rounds a length to whole ones.
func millimetres(v float64) unit.Length { return unit.Length(math.Round(v*1000) / 1000) }
