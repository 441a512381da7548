// SPDX-License-Identifier: MIT

//go:build latency

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// marksName is the file in the program's home to which it writes its marks.
const marksName = "marks"

// span is one answer of the window to what was done.
type span struct{ from, to time.Time }

// steps says what the time went into: of each step of the window, in the order in
// which they come, how long it took each time. The first is from the key to the
// window's first mark, the last from its last to the pixels.
type steps struct {
	names []string
	took  map[string]times
}

// shown is the name of what follows the last mark.
const shown = "show"

func (s *steps) add(name string, d time.Duration) {
	if s.took == nil {
		s.took = map[string]times{}
	}
	if _, ok := s.took[name]; !ok {
		s.names = append(s.names, name)
	}
	s.took[name] = append(s.took[name], d)
}

// join puts the steps of another run to s.
func (s *steps) join(o steps) {
	for _, n := range o.names {
		for _, d := range o.took[n] {
			s.add(n, d)
		}
	}
}

func (s steps) String() string {
	var parts []string
	for _, n := range s.names {
		parts = append(parts, fmt.Sprintf("%s %.1f", n, s.took[n].median()))
	}
	return strings.Join(parts, ", ")
}

// steps returns what the window did within each span, as it marked it. A program that
// marks nothing gives none.
func (p *program) steps(spans []span) (s steps) {
	b, err := os.ReadFile(filepath.Join(p.home, marksName))
	if err != nil {
		return s
	}
	type mark struct {
		at   time.Time
		name string
	}
	var marks []mark
	for line := range strings.Lines(string(b)) {
		var ns int64
		var name string
		if n, _ := fmt.Sscanf(line, "%d %s", &ns, &name); n == 2 {
			marks = append(marks, mark{time.Unix(0, ns), name})
		}
	}
	for _, at := range spans {
		last, once := at.from, map[string]time.Duration{}
		var order []string
		for _, m := range marks {
			if m.at.Before(at.from) || m.at.After(at.to) {
				continue
			}
			if _, ok := once[m.name]; !ok {
				order = append(order, m.name)
			}
			once[m.name] += m.at.Sub(last)
			last = m.at
		}
		if len(order) == 0 {
			continue
		}
		for _, n := range order {
			s.add(n, once[n])
		}
		s.add(shown, at.to.Sub(last))
	}
	return s
}
