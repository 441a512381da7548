// SPDX-License-Identifier: MIT

package mesh

import (
	"fmt"
	"strings"

	"earline/geometry/unit"
	"earline/project"
)

// Words says in a few lines what was read and what became of it, with lengths in the
// units u: what it is and how large, what was left out, and how far it was moved.
func (f *File) Words(s *Scaled, u project.Units) []string {
	lo, hi := s.Bounds()
	show := func(v float64) string { return unit.Length(v).Format(u != project.Imperial) }
	size := hi.Sub(lo)
	taken := "taken in " + string(s.Unit)
	if f.Unit == s.Unit {
		taken = "in " + string(s.Unit)
	}
	lines := []string{fmt.Sprintf("%s and %s, %s: %s back, %s across, %s high",
		counted(len(s.Triangles), "triangle"), counted(len(s.Lines), "line"), taken, show(size.X), show(size.Y), show(size.Z))}
	if left := f.LeftOutWords(); left != "" {
		lines = append(lines, "left out: "+left)
	}
	if s.Merged > 0 {
		lines = append(lines, fmt.Sprintf("dropped: %d there twice or without extent", s.Merged))
	}
	if m := s.Moved; m.Len2() > 0 {
		lines = append(lines, fmt.Sprintf("drawn %s from its origin: moved to it", show(m.Len())))
	}
	return lines
}

// counted returns n of a thing in words.
func counted(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// Called returns what a backdrop from a file of that name is called, unless it is
// given another name: the file's without its ending.
func Called(file string) string {
	name := clean(file)
	if i := strings.LastIndexByte(name, '.'); i > 0 {
		name = name[:i]
	}
	return name
}
