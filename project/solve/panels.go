// SPDX-License-Identifier: MIT

package solve

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/panel"
	"earline/project/practice"
	"earline/project/shell"
	"earline/project/sight"
	"earline/project/sound"
)

// PanelsOptions are the wishes of Panels. The zero value is ready to use.
type PanelsOptions struct {
	// Walls are those that get panels, counted from 1; 0 is the ceiling. None are all but
	// the screen's, and the ceiling where first reflections ask for it.
	Walls []int
	// Module is the widest a panel may be; 0 is 600 mm. It is made up to a fifth narrower,
	// by whole centimetres, where that serves. Gap is the joint, 0 is 10 mm; LightGap a
	// joint with light, 0 for none; Depth how far panels stand off, 0 is 60 mm. Common
	// practice, no source.
	Module, Gap, LightGap, Depth unit.Length
	LightEvery                   int // see project.Panels
	// Absorb and Diffuse are IDs of materials, of the design or of those that come with
	// Earline; empty ones are a cloth panel over mineral wool, and the design's first
	// diffuser or one of wood.
	Absorb, Diffuse string
	// Target is how long the room ought to ring.
	Target sound.Target
	// Standard has the limits; the zero value is the one that the design has chosen.
	Standard practice.Standard
	Progress
}

// PanelsProposal is the answer of Panels.
type PanelsProposal struct {
	Proposal
	Runs []panel.Run // of Design
	// Was and Is are the reverberation before and after.
	Was, Is *sound.Reverb
	// Patches is how many places on walls and ceiling the first reflections at the main
	// listening position ask to be treated, Treated how many of them break the limit no
	// longer. Row and RowTreated count the reflections by walls and ceiling that break it
	// at the seats of the main row.
	Patches, Treated, Row, RowTreated int
}

// ClothPanel is the ID of the material taken for panels that absorb where none is named.
const ClothPanel = "panel-fabric"

// What is taken for panels that diffuse, where neither a wish nor the design names it.
const (
	woodLining = "wood-lining"
	woodWells  = "diffuser-wood"
)

// Panels lays out panels from floor to ceiling and says which absorb, which diffuse and
// which are left bare, so that the first reflections at the main listening position fall
// on panels that absorb or, where they come late and weak, diffuse (sound.Treat), and so
// that the room rings as long as Target wants in every octave from 250 Hz to 4 kHz. Left
// and right are alike wherever both have a panel. Runs that the walls had are replaced.
//
// Each width of panel is tried. Panels under reflections are decided by them; the others
// are counted first - so many absorb, so many diffuse - in the order in which they serve
// the main row and spread over the walls, then changed and exchanged one by one for as
// long as that comes nearer. The best of that is not proven to be the best of all.
func Panels(ctx context.Context, d *project.Design, o PanelsOptions) (*PanelsProposal, error) {
	if err := o.fill(d); err != nil {
		return nil, err
	}
	p, was, err := begin(ctx, d, o.Standard)
	if err != nil {
		return nil, err
	}
	s := panelSolver{o: o, d: p.Design.Clone(), was: was}
	if err := s.prepare(ctx); err != nil {
		return nil, err
	}
	out := &PanelsProposal{Proposal: *p}
	out.Was, _ = sound.Reverberate(d, o.Target, false)
	var best *panelPlan
	widths := s.widths()
	for i, w := range widths {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		o.tell(float64(i)/float64(len(widths)), fmt.Sprintf("panels of %s", w))
		if plan := s.plan(w); plan != nil && (best == nil || plan.less(best)) {
			best = plan
		}
	}
	if best == nil {
		return nil, &project.Fault{Field: "panels walls", Found: s.wallNames(), Allowed: "walls with room for a panel"}
	}
	out.Design = best.design(&s)
	out.Design.Identify()
	if err := out.Design.Validate(); err != nil {
		return nil, err
	}
	o.tell(1, "panels chosen")
	if err := out.audit(ctx, &s, was); err != nil {
		return nil, err
	}
	out.Changes = panelChanges(out.Design, out.Runs, len(s.d.Panels))
	out.conclude(d, was)
	if len(out.Changes) == 0 { // dropped
		out.Runs, out.Is = panel.Of(out.Design), out.Was
	}
	return out, nil
}

// fill puts what is usual in place of what is not said, and checks the rest.
func (o *PanelsOptions) fill(d *project.Design) error {
	usual := func(v *unit.Length, w unit.Length) {
		if *v == 0 {
			*v = w
		}
	}
	usual(&o.Module, 0.6)
	usual(&o.Gap, 0.01)
	usual(&o.Depth, 0.06)
	for _, err := range []error{length("panels module", o.Module, 0.2, 2), length("panels gap", o.Gap, 0.001, 0.3), length("panels light-gap", o.LightGap, 0, 0.3), length("panels depth", o.Depth, 0.01, 0.5)} {
		if err != nil {
			return err
		}
	}
	if o.LightEvery < 0 || o.LightEvery > project.MaxModules {
		return &project.Fault{Field: "panels light-every", Found: strconv.Itoa(o.LightEvery), Allowed: fmt.Sprintf("0 to %d", project.MaxModules)}
	}
	if d == nil {
		return nil // begin says so
	}
	for _, w := range o.Walls {
		if w < 0 || w > len(d.Room.Footprint) {
			return &project.Fault{Field: "panels walls", Found: strconv.Itoa(w), Allowed: fmt.Sprintf("0 to %d", len(d.Room.Footprint))}
		}
	}
	for _, m := range [2]struct{ field, id string }{{"panels absorb", o.Absorb}, {"panels diffuse", o.Diffuse}} {
		if _, ok := materialNamed(d, m.id); m.id != "" && !ok {
			return &project.Fault{Field: m.field, Found: strconv.Quote(m.id), Allowed: "the id of a material of the design or of those that come with Earline"}
		}
	}
	if o.Diffuse != "" && o.Diffuse == cmp.Or(o.Absorb, ClothPanel) {
		return &project.Fault{Field: "panels diffuse", Found: strconv.Quote(o.Diffuse), Allowed: "another material than that of the panels that absorb"}
	}
	return nil
}

// materialNamed returns the material of that ID, of d or of those that come with Earline.
func materialNamed(d *project.Design, id string) (project.Material, bool) {
	for _, all := range [2][]project.Material{d.Room.Materials, file.Materials()} {
		for _, m := range all {
			if m.ID == id {
				return m, true
			}
		}
	}
	return project.Material{}, false
}

// take puts a material among those of d, in the place of the one of its ID.
func take(d *project.Design, m project.Material) {
	for i := range d.Room.Materials {
		if d.Room.Materials[i].ID == m.ID {
			d.Room.Materials[i] = m
			return
		}
	}
	d.Room.Materials = append(d.Room.Materials, m)
}

// panelSolver holds what all plans are made from.
type panelSolver struct {
	o   PanelsOptions
	d   *project.Design // without the runs that are to be replaced
	was *sight.Result

	walls           []int
	absorb, diffuse project.Material
	cores           []core
	patches         []project.Treatment // where the main position asks for treatment
	rev             *sound.Reverb       // of d
	finish          map[int]shell.Finish
}

// core is where a first reflection meets a wall or the ceiling: a wavelength of 1 kHz
// wide, as sound.Treat has it without the reach for heads that move.
type core struct {
	wall int
	at   geometry.Vec2
	panel.Rect
	advice sound.Advice
	main   bool // at the main listening position; else at another seat of its row
}

// prepare finds the reflections and what the walls are made of.
func (s *panelSolver) prepare(ctx context.Context) error {
	s.choose()
	given := s.d.Panels
	s.d.Panels = slices.DeleteFunc(slices.Clone(given), func(p project.Panels) bool { return slices.Contains(s.walls, p.Wall) || len(s.o.Walls) == 0 })
	r, err := sound.Reflect(ctx, s.d, &s.was.Room, sound.ReflectOptions{})
	if err != nil {
		return err
	}
	row := s.d.Seating.Main.Row
	ceiling := false
	for i := range r.All {
		f := &r.All[i]
		main := f.Seat == sound.MainSeat
		if !f.Breaks || !main && (f.Seat >= len(s.was.Seats) || s.was.Seats[f.Seat].Row != row) {
			continue
		}
		on := &r.Surfaces[f.Surfaces[0]]
		wall := 0
		switch on.Kind {
		case shell.Wall:
			wall = on.Index
		case shell.Ceiling:
			ceiling = ceiling || main
		default:
			continue
		}
		const half = 0.17 // m: half a wavelength of 1 kHz, see sound.patchReach
		q := on.Flat(f.Points[0])
		c := core{wall: wall, at: q, Rect: panel.Rect{From: q.X - half, To: q.X + half, Low: q.Y - half, High: q.Y + half}, main: main, advice: sound.Absorb}
		for _, p := range r.Treat(true) {
			if p.Surface == f.Surfaces[0] && q.X >= p.From && q.X <= p.To && q.Y >= p.Low && q.Y <= p.High {
				c.advice = p.Advice
			}
		}
		s.cores = append(s.cores, c)
	}
	for _, p := range r.Treat(false) {
		if t, ok := r.Treatment(p, ""); ok {
			s.patches = append(s.patches, t)
		}
	}
	if ceiling && len(s.o.Walls) == 0 {
		s.walls = append(s.walls, 0)
	}
	s.rev, _ = sound.Reverberate(s.d, s.o.Target, false)
	s.finish = map[int]shell.Finish{}
	for _, on := range r.Surfaces {
		switch on.Kind {
		case shell.Wall:
			s.finish[on.Index] = on.Finish
		case shell.Ceiling:
			s.finish[0] = on.Finish
		}
	}
	s.materials()
	return nil
}

// choose takes the walls that were asked for, or all but the screen's: the longest, where
// there are more than a file holds runs.
func (s *panelSolver) choose() {
	room := s.d.Room
	if len(s.o.Walls) > 0 {
		s.walls = slices.Clone(s.o.Walls)
		slices.Sort(s.walls)
		s.walls = slices.Compact(s.walls)
		return
	}
	for w := 1; w <= len(room.Footprint); w++ {
		if room.WallSide(w) != "screen" && room.PanelLength(w) >= float64(s.o.Module+2*max(s.o.Gap, s.o.LightGap)) {
			s.walls = append(s.walls, w)
		}
	}
	slices.SortStableFunc(s.walls, func(a, b int) int {
		switch x, y := room.PanelLength(a), room.PanelLength(b); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return a - b
	})
	s.walls = s.walls[:min(len(s.walls), project.MaxPanels-1)]
	slices.Sort(s.walls)
}

// materials finds what panels are made of and puts it among the design's.
func (s *panelSolver) materials() {
	id := s.o.Absorb
	if id == "" {
		id = ClothPanel
	}
	s.absorb, _ = materialNamed(s.d, id)
	if id = s.o.Diffuse; id == "" {
		for _, m := range s.d.Room.Materials {
			if m.Scatters {
				id = m.ID
				break
			}
		}
	}
	if id != "" {
		s.diffuse, _ = materialNamed(s.d, id)
		s.diffuse.Scatters = true
	} else {
		// What a diffuser of wood takes, its maker knows: until then it is a lining of wood.
		s.diffuse, _ = materialNamed(s.d, woodLining)
		s.diffuse.ID, s.diffuse.Name, s.diffuse.Scatters = woodWells, "Wood diffuser, taken as a 12 mm lining", true
	}
}

// widths returns the widths of panel to try, the widest first.
func (s *panelSolver) widths() (all []unit.Length) {
	const (
		step   = 0.01 // m
		narrow = 0.8  // of the wish
	)
	for k := 0; ; k++ {
		w := float64(s.o.Module) - float64(k)*step
		if w < narrow*float64(s.o.Module)-1e-9 {
			return all
		}
		all = append(all, millimetres(w))
	}
}

func (s *panelSolver) wallNames() string {
	var names []string
	for _, w := range s.walls {
		names = append(names, s.d.Room.PanelPlace(w))
	}
	if len(names) == 0 {
		return "none"
	}
	return strings.Join(names, ", ")
}
