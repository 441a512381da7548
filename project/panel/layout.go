// SPDX-License-Identifier: MIT

package panel

import (
	"fmt"
	"math"
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// Rect is a rectangle on a wall or under the ceiling: along it from its first corner, and
// up it; under the ceiling x and y. Metres, as in project.Treatment.
type Rect struct{ From, To, Low, High float64 }

// Area returns the area of r, m2.
func (r Rect) Area() float64 { return max(r.To-r.From, 0) * max(r.High-r.Low, 0) }

// meet reports whether r and o overlap by more than a tenth of a millimetre.
func (r Rect) meet(o Rect) bool {
	const hair = 1e-4 // m
	return min(r.To, o.To)-max(r.From, o.From) > hair && min(r.High, o.High)-max(r.Low, o.Low) > hair
}

// Run is a run of panels laid out.
type Run struct {
	Index   int // of the design's Panels
	Wall    int // 0 is the ceiling
	Length  float64
	Rest    float64 // left over at either end beyond the joint there, metres
	Modules []Module
	Joints  []Joint
}

// Margin returns how far the first panel and the last lie from the ends of the wall, metres.
func (r *Run) Margin() float64 {
	if len(r.Joints) == 0 {
		return r.Rest
	}
	return r.Rest + r.Joints[0].To - r.Joints[0].From
}

// Module is one panel of a run.
type Module struct {
	Number int // from 1
	Kind   project.PanelKind
	Rect   // before anything is cut out of it
	// Pieces are what is left of it, without overlap; none where it gave way altogether.
	Pieces []Rect
	// Cuts are what is cut out, in the order of the design.
	Cuts []Cut
}

// Cut is what is cut out of a panel for one thing.
type Cut struct {
	Rect // of the thing with the room round it, which may reach beyond the panel
	Name string
}

// Around returns the rectangle about the pieces of m.
func (m *Module) Around() Rect {
	if len(m.Pieces) == 0 {
		return Rect{}
	}
	r := m.Pieces[0]
	for _, q := range m.Pieces[1:] {
		r = Rect{min(r.From, q.From), max(r.To, q.To), min(r.Low, q.Low), max(r.High, q.High)}
	}
	return r
}

// Names returns what m is cut out for, each once. What only makes it shorter or narrower,
// or leaves it out, is not among them.
func (m *Module) Names() (names []string) {
	about := m.Around()
	for _, c := range m.Cuts {
		if c.meet(about) && !slices.Contains(names, c.Name) {
			names = append(names, c.Name)
		}
	}
	return names
}

// Area returns the area of the pieces, m2.
func (m *Module) Area() float64 {
	sum := 0.0
	for _, p := range m.Pieces {
		sum += p.Area()
	}
	return sum
}

// Joint is what is between two panels, or before the first and behind the last.
type Joint struct {
	Rect
	Lit bool
	// Pieces are what is left of it beside what is there.
	Pieces []Rect
	// Dark names the loudspeaker for which the light is left out of this joint.
	Dark string
}

// Of lays out the panels of a valid design, run by run. Each stands in the middle of its
// wall; where loudspeakers stand in joints with light, a run of one panel fewer, which
// moves every joint by half a panel, is taken if fewer do then. What still runs through a
// loudspeaker has no light.
func Of(d *project.Design) []Run {
	if len(d.Panels) == 0 {
		return nil
	}
	out := make([]Run, 0, len(d.Panels))
	l := layer{d: d, poly: d.Room.Polygon(), speakers: place.Speakers(d), floor: place.FloorOf(d)}
	for i := range d.Panels {
		if r, ok := l.run(i); ok {
			out = append(out, r)
			l.laid = append(l.laid, r)
		}
	}
	return out
}

// layer lays out runs, each clear of those before it.
type layer struct {
	d        *project.Design
	poly     geometry.Polygon
	speakers []place.Speaker
	floor    place.Floor
	laid     []Run
}

func (l *layer) run(i int) (Run, bool) {
	p := &l.d.Panels[i]
	f, ok := l.faceOf(p.Wall)
	if !ok {
		return Run{}, false
	}
	there := l.obstacles(&f, p)
	n := p.Count(f.long)
	if n < 1 {
		return Run{}, false
	}
	r := l.lay(&f, i, n, there)
	if n > 1 && darkened(r) > 0 {
		if fewer := l.lay(&f, i, n-1, there); darkened(fewer) < darkened(r) {
			r = fewer
		}
	}
	return r, true
}

// darkened counts the joints that lose their light to loudspeakers.
func darkened(r Run) (n int) {
	for _, j := range r.Joints {
		if j.Dark != "" {
			n++
		}
	}
	return n
}

// lay lays out n panels.
func (l *layer) lay(f *face, i, n int, there []obstacle) Run {
	p := &l.d.Panels[i]
	r := Run{Index: i, Wall: p.Wall, Length: f.long, Rest: (f.long - float64(p.Run(n))) / 2}
	at := f.first + r.Rest
	for k := range n + 1 {
		wide := float64(p.Joint(k, n))
		j := Joint{Rect: f.upright(at, at+wide, p), Lit: p.Lit(k, n)}
		for _, o := range there {
			if j.Lit && o.speaker && o.meet(j.Rect) {
				j.Lit, j.Dark = false, o.name
			}
		}
		j.Pieces, _ = beside(f, j.Rect, there)
		r.Joints = append(r.Joints, j)
		at += wide
		if k == n {
			break
		}
		m := Module{Number: k + 1, Kind: p.Kind(k), Rect: f.upright(at, at+float64(p.Module), p)}
		m.cut(f, there)
		r.Modules = append(r.Modules, m)
		at += float64(p.Module)
	}
	return r
}

// cut takes out of m what is there.
func (m *Module) cut(f *face, there []obstacle) {
	const (
		thin  = 0.05 // m: what is thinner is not made
		small = 0.03 // m2
	)
	m.Pieces, m.Cuts = beside(f, m.Rect, there)
	m.Pieces = slices.DeleteFunc(m.Pieces, func(q Rect) bool {
		return q.To-q.From < thin || q.High-q.Low < thin || q.Area() < small
	})
}

// beside returns what of r is on f and clear of what is there, without overlap, and what
// took the rest.
func beside(f *face, r Rect, there []obstacle) (pieces []Rect, cuts []Cut) {
	if r.High <= r.Low || !f.holds(r) {
		return nil, []Cut{{r, "where the room ends"}}
	}
	pieces = []Rect{r}
	for _, o := range there {
		if !o.meet(r) {
			continue
		}
		cuts = append(cuts, Cut{o.Rect, o.name})
		var left []Rect
		for _, q := range pieces {
			left = append(left, q.without(o.Rect)...)
		}
		pieces = left
	}
	return pieces, cuts
}

// without returns what is left of r beside o: what is under and over it at r's whole
// width, and what is at its sides.
func (r Rect) without(o Rect) []Rect {
	if !r.meet(o) {
		return []Rect{r}
	}
	var out []Rect
	if o.Low > r.Low {
		out = append(out, Rect{r.From, r.To, r.Low, o.Low})
		r.Low = o.Low
	}
	if o.High < r.High {
		out = append(out, Rect{r.From, r.To, o.High, r.High})
		r.High = o.High
	}
	if o.From > r.From {
		out = append(out, Rect{r.From, o.From, r.Low, r.High})
	}
	if o.To < r.To {
		out = append(out, Rect{o.To, r.To, r.Low, r.High})
	}
	return out
}

// Treatments returns everything that hangs on walls and under the ceiling of d: its
// treatments, and behind them the pieces of its panels. Every analysis reads these.
func Treatments(d *project.Design) []project.Treatment {
	if len(d.Panels) == 0 {
		return d.Room.Treatments
	}
	out := slices.Clone(d.Room.Treatments)
	for _, r := range Of(d) {
		for i := range r.Modules {
			m := &r.Modules[i]
			material := d.Panels[r.Index].Material(m.Kind)
			if material == "" {
				continue
			}
			for _, q := range m.Pieces {
				out = append(out, project.Treatment{Name: Name(d, r.Wall, m.Kind), Material: material, Wall: r.Wall,
					From: unit.Length(q.From), To: unit.Length(q.To), Low: unit.Length(q.Low), High: unit.Length(q.High)})
			}
		}
	}
	return out
}

// Name names all panels of one kind on a wall: "absorbing panels, left wall".
func Name(d *project.Design, wall int, k project.PanelKind) string {
	return fmt.Sprintf("%s panels, %s", Words(k), d.Room.PanelPlace(wall))
}

// Words says what a panel of kind k is: "absorbing".
func Words(k project.PanelKind) string {
	switch k {
	case project.AbsorbPanel:
		return "absorbing"
	case project.DiffusePanel:
		return "diffusing"
	}
	return "bare"
}

// ceiling returns how high the ceiling is over a stretch along f: the lowest of it.
func (f *face) ceiling(from, to float64) float64 {
	const samples = 8 // between folds a ceiling is straight; of several the lowest counts
	low := math.Inf(1)
	for i := range samples + 1 {
		q := f.start.Add(f.along.Mul(from + (to-from)*float64(i)/samples))
		low = min(low, f.room.CeilingAt(q.X, q.Y))
	}
	return low
}
