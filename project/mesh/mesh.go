// SPDX-License-Identifier: MIT

// Package mesh reads meshes (OBJ, glTF 2.0) and plan lines (DXF) that other programs
// made, as backdrops of a room. It takes shapes only: no colours, texts or curved
// surfaces; what is left out is counted and named.
//
// Whatever the bytes, the answer is a shape or one line that says what was found and
// what is allowed: a *project.Fault.
package mesh

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"earline/geometry"
	"earline/project"
)

// MaxSize is the size in bytes beyond which a file is refused unread.
const MaxSize = 128 << 20

// What a file may hold, so that one of millions is refused at once. What a design
// keeps of it is less; see project.MaxBackdropTriangles.
const (
	maxPoints = 600_000
	maxPieces = 200_000 // triangles, or lines
	maxNames  = 100     // of parts, that are told
)

// Endings are those of the files that are read, in small letters.
func Endings() []string { return []string{".obj", ".gltf", ".glb", ".dxf"} }

// File is what was read: a shape in the unit of its file, x back, y to the right and z
// up where the file does not say otherwise.
type File struct {
	project.Mesh
	// Unit is that which the file says it has; empty if it says none.
	Unit project.BackdropUnit
	// Parts are the names of objects, nodes or layers that something was read of, in
	// the order of the file; no more than a hundred.
	Parts []string
	// LeftOut is what was not read, most of a kind first.
	LeftOut []Count

	name string
	left map[string]int
}

// Count is how many things of a kind were left out.
type Count struct {
	What string // "texts"
	N    int
}

// String returns c in words: "3 texts".
func (c Count) String() string { return fmt.Sprintf("%d %s", c.N, c.What) }

// Read reads the bytes of a file of that name, which says by its ending what it is.
func Read(data []byte, name string) (*File, error) {
	f := &File{name: filepath.Base(name), left: map[string]int{}}
	if len(data) > MaxSize {
		return nil, f.fault("", fmt.Sprintf("a file of over %d MiB", MaxSize>>20), fmt.Sprintf("at most %d MiB: thin it out in the program that made it", MaxSize>>20))
	}
	var fault *project.Fault
	switch ending := strings.ToLower(filepath.Ext(name)); ending {
	case ".obj":
		fault = f.readOBJ(data)
	case ".gltf", ".glb":
		fault = f.readGLTF(data)
	case ".dxf":
		fault = f.readDXF(data)
	case ".dwg":
		fault = f.fault("", "a DWG file", "the same drawing saved as DXF")
	default:
		fault = f.fault("", "a name that ends in "+quote(ending), "one that ends in "+strings.Join(Endings(), ", "))
	}
	if fault != nil {
		return nil, fault
	}
	for what, n := range f.left {
		f.LeftOut = append(f.LeftOut, Count{what, n})
	}
	slices.SortFunc(f.LeftOut, func(a, b Count) int {
		if a.N != b.N {
			return b.N - a.N
		}
		return strings.Compare(a.What, b.What)
	})
	if len(f.Triangles) == 0 && len(f.Lines) == 0 {
		found := "no triangle and no line"
		if len(f.LeftOut) > 0 {
			found += ", but " + f.LeftOutWords()
		}
		return nil, f.fault("", found, "a mesh or the lines of a plan")
	}
	return f, nil
}

// LeftOutWords says what was not read, in one line: "3 texts, 1 hatch"; empty for
// nothing.
func (f *File) LeftOutWords() string {
	words := make([]string, len(f.LeftOut))
	for i, c := range f.LeftOut {
		words[i] = c.String()
	}
	return strings.Join(words, ", ")
}

func (f *File) fault(field, found, allowed string) *project.Fault {
	return &project.Fault{File: f.name, Field: field, Found: found, Allowed: allowed}
}

// part takes up the name of a part of which something was read.
func (f *File) part(name string) {
	if name != "" && len(f.Parts) < maxNames && !slices.Contains(f.Parts, name) {
		f.Parts = append(f.Parts, name)
	}
}

// full returns the fault of a file with more than is read, or nil.
func (f *File) full() *project.Fault {
	const thin = ": thin it out in the program that made it"
	for _, c := range [...]struct {
		n, most int
		what    string
	}{{len(f.Points), maxPoints, "points"}, {len(f.Triangles), maxPieces, "triangles"}, {len(f.Lines), maxPieces, "lines"}} {
		if c.n > c.most {
			return f.fault("", fmt.Sprintf("over %d %s", c.most, c.what), fmt.Sprintf("at most %d%s", keptOf(c.what), thin))
		}
	}
	return nil
}

// keptOf is how many of what a design keeps.
func keptOf(what string) int {
	switch what {
	case "points":
		return project.MaxBackdropPoints
	case "lines":
		return project.MaxBackdropLines
	}
	return project.MaxBackdropTriangles
}

// usual lies between what furniture and what plans of rooms are across: the unit of a
// file that says none is that in which it comes nearest. Our own choice.
const usual = 3 // m

// Guess returns the unit that f seems to be in: that which it says, else that of mm,
// cm and m in which it comes nearest to a room in size.
func (f *File) Guess() project.BackdropUnit {
	if f.Unit != "" {
		return f.Unit
	}
	return likely(f.across())
}

// across returns the greatest extent along an axis.
func (f *File) across() float64 {
	lo, hi := f.Bounds()
	d := hi.Sub(lo)
	return max(d.X, d.Y, d.Z)
}

// likely returns the unit in which so much is most like a room.
func likely(across float64) project.BackdropUnit {
	best, least := project.Metres, math.Inf(1)
	for _, u := range [...]project.BackdropUnit{project.Metres, project.Centimetres, project.Millimetres} {
		if off := math.Abs(math.Log(across * float64(u.Length()) / usual)); off < least {
			best, least = u, off
		}
	}
	return best
}

// What the greatest extent of a backdrop may be, metres: more or less is a slip of the
// unit.
const (
	smallest = 0.1
	largest  = 100
)

// Scaled is a shape in metres, as a design keeps it.
type Scaled struct {
	project.Mesh
	Unit project.BackdropUnit
	// Moved is how far the shape was moved to lie at its origin, metres: not at all
	// unless it was drawn farther off than any room reaches.
	Moved geometry.Vec
	// Merged is how many triangles and lines were there twice or have no extent.
	Merged int
}

// Scale returns f in metres, taken to be in that unit, or in that which it seems to be
// in for none: points that lie together made one, triangles and lines that are there
// twice or have no extent left out, and put in an order in which neighbours follow
// each other.
func (f *File) Scale(u project.BackdropUnit) (*Scaled, error) {
	if u == "" {
		u = f.Guess()
	}
	scale := float64(u.Length())
	if across := f.across() * scale; !(across >= smallest && across <= largest) {
		allowed := fmt.Sprintf("%g m to %d m", smallest, largest)
		if other := likely(f.across()); other != u {
			if a := f.across() * float64(other.Length()); a >= smallest && a <= largest {
				allowed += fmt.Sprintf("; it seems to be in %s: %s across", other, length(a))
			}
		}
		return nil, f.fault("", fmt.Sprintf("%s across, taken in %s", length(across), u), allowed)
	}
	s := &Scaled{Unit: u}
	lo, hi := f.Bounds()
	if lo, hi = lo.Mul(scale), hi.Mul(scale); max(-lo.X, -lo.Y, -lo.Z, hi.X, hi.Y, hi.Z) > largest {
		s.Moved = lo.Neg()
	}
	s.weld(&f.Mesh, scale)
	for _, c := range [...]struct {
		n, most int
		what    string
	}{{len(s.Triangles), project.MaxBackdropTriangles, "triangles"}, {len(s.Lines), project.MaxBackdropLines, "lines"}, {len(s.Points), project.MaxBackdropPoints, "points"}} {
		if c.n > c.most {
			return nil, f.fault("", fmt.Sprintf("%d %s", c.n, c.what), fmt.Sprintf("at most %d: thin it out in the program that made it", c.most))
		}
	}
	s.order()
	return s, nil
}

// length prints metres as a message does.
func length(m float64) string {
	switch {
	case m < 0.1:
		return fmt.Sprintf("%.3g mm", m*1000)
	case m < 1000:
		return fmt.Sprintf("%.3g m", m)
	}
	return fmt.Sprintf("%.0f m", m)
}

// weld fills s with m: what lies together to the grain of a design becomes one point.
func (s *Scaled) weld(m *project.Mesh, scale float64) {
	type place [3]int32
	grain := float64(project.Grain())
	known := make(map[place]int, len(m.Points))
	at := make([]int, len(m.Points))
	for i := range at {
		at[i] = -1
	}
	point := func(i int) int { // only those in use are kept
		if at[i] >= 0 {
			return at[i]
		}
		p := m.Points[i].Mul(scale).Add(s.Moved)
		k := place{int32(math.Round(p.X / grain)), int32(math.Round(p.Y / grain)), int32(math.Round(p.Z / grain))}
		n, ok := known[k]
		if !ok {
			n = len(s.Points)
			known[k] = n
			s.Points = append(s.Points, geometry.Vec{X: float64(k[0]), Y: float64(k[1]), Z: float64(k[2])}.Mul(grain))
		}
		at[i] = n
		return n
	}
	twice := map[[3]int]bool{}
	for _, t := range m.Triangles {
		t = [3]int{point(t[0]), point(t[1]), point(t[2])}
		key := t
		slices.Sort(key[:])
		a, b, c := s.Points[t[0]], s.Points[t[1]], s.Points[t[2]]
		if twice[key] || !(b.Sub(a).Cross(c.Sub(a)).Len2() > 0) {
			s.Merged++
			continue
		}
		twice[key] = true
		s.Triangles = append(s.Triangles, t)
	}
	for _, l := range m.Lines {
		l = [2]int{point(l[0]), point(l[1])}
		key := [3]int{-1, min(l[0], l[1]), max(l[0], l[1])}
		if twice[key] || l[0] == l[1] {
			s.Merged++
			continue
		}
		twice[key] = true
		s.Lines = append(s.Lines, l)
	}
}

// Together is how many triangles that follow each other lie near each other: whoever
// looks for what is near a path can rule them out at once.
const Together = 8

// order puts triangles in an order in which neighbours follow each other: halved at
// the median along the longer axis until Together are left.
func (s *Scaled) order() {
	var halve func(all [][3]int)
	halve = func(all [][3]int) {
		if len(all) <= Together {
			return
		}
		lo, hi := s.middle(all[0]), s.middle(all[0])
		for _, t := range all {
			c := s.middle(t)
			lo = geometry.Vec{X: min(lo.X, c.X), Y: min(lo.Y, c.Y), Z: min(lo.Z, c.Z)}
			hi = geometry.Vec{X: max(hi.X, c.X), Y: max(hi.Y, c.Y), Z: max(hi.Z, c.Z)}
		}
		d := hi.Sub(lo)
		along := func(v geometry.Vec) float64 { return v.X }
		if d.Y > d.X && d.Y >= d.Z {
			along = func(v geometry.Vec) float64 { return v.Y }
		} else if d.Z > d.X {
			along = func(v geometry.Vec) float64 { return v.Z }
		}
		slices.SortStableFunc(all, func(a, b [3]int) int {
			x, y := along(s.middle(a)), along(s.middle(b))
			switch {
			case x < y:
				return -1
			case x > y:
				return 1
			}
			return 0
		})
		half := (len(all)/2 + Together - 1) / Together * Together // whole groups to one side
		halve(all[:half])
		halve(all[half:])
	}
	halve(s.Triangles)
}

// middle returns the middle of the corners of t.
func (s *Scaled) middle(t [3]int) geometry.Vec {
	return s.Points[t[0]].Add(s.Points[t[1]]).Add(s.Points[t[2]]).Mul(1.0 / 3)
}

// Backdrop returns f as a backdrop of that name, taken to be in that unit, or in that
// which it seems to be in for none.
func (f *File) Backdrop(name string, u project.BackdropUnit) (project.Backdrop, *Scaled, error) {
	s, err := f.Scale(u)
	if err != nil {
		return project.Backdrop{}, nil, err
	}
	b := project.Backdrop{Name: name, File: clean(f.name), Unit: s.Unit}
	b.SetMesh(s.Mesh)
	return b, s, nil
}

// clean returns a name as it may stand in a design.
func clean(name string) string {
	const most = 200 // characters of a name in a design
	r := []rune(strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0 {
			return -1
		}
		return r
	}, strings.ToValidUTF8(name, "")))
	return string(r[:min(len(r), most)])
}

// quote returns text from a file as it can stand in a message of one line.
func quote(text string) string {
	const most = 40 // bytes
	if len(text) > most {
		text = strings.ToValidUTF8(text[:most], "") + "…"
	}
	return fmt.Sprintf("%q", text)
}
