// SPDX-License-Identifier: MIT

package assets_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/fit"
	"earline/project/picture"
	"earline/project/practice"
	"earline/project/sight"
	"earline/project/solve"
	"earline/project/viewing"
)

// demo returns the demo room of that name.
func demo(t *testing.T, name string) *project.Design {
	t.Helper()
	d, ok := file.Demo(name)
	if !ok {
		t.Fatalf("no demo %s", name)
	}
	return d
}

// faults returns what in d breaks a must or a should: rule and loudspeakers or rows.
func faults(d *project.Design) []string {
	r := practice.Check(d, nil, practice.Standard{})
	var found []string
	for _, m := range r.Failing() {
		if m.Severity == practice.Note {
			continue
		}
		var who []string
		for _, k := range m.Speakers {
			who = append(who, d.Speakers[k].Name())
		}
		if len(who) == 0 {
			who = append(who, fmt.Sprint("rows ", m.Rows))
		}
		found = append(found, fmt.Sprintf("%s %s: %s", m.Severity, m.Rule, strings.Join(who, ", ")))
	}
	return found
}

// hang moves the loudspeakers of that label and copy, left and right, to height z.
func hang(d *project.Design, z unit.Length, names ...string) {
	for i, l := range d.Speakers {
		if slices.Contains(names, l.Name()) {
			d.Speakers[i].At.Z = z
		}
	}
}

// Each demo has one fault, the cure that its story names mends it, and then there is
// nothing left that must or should be otherwise.
func TestEachDemoHasOneFaultAndItsCure(t *testing.T) {
	lift := func(d *project.Design) (*project.Design, error) {
		p, err := solve.Lift(context.Background(), d, solve.LiftOptions{})
		return p.Design, err
	}
	for _, c := range []struct {
		demo  string
		fault []string
		cure  func(d *project.Design) (*project.Design, error)
		left  []string
	}{
		// Surrounds at ear height: tight past the headrest of the neighbour.
		{"small", []string{"should sight-margin: M+110", "should sight-margin: M-110"}, lift, nil},
		// A riser too low for the picture.
		{"two-row", []string{"must picture-whole: rows [1]", "should picture-margin: rows [1]"},
			func(d *project.Design) (*project.Design, error) {
				p, err := solve.Rows(context.Background(), d, solve.RowsOptions{})
				return p.Design, err
			}, nil},
		// Sides at ear height: heads in the way. Lift stops at what is accepted, and one
		// seat a side stays tight; by hand, all are clear.
		{"large", sidesAtEarHeight, lift, []string{"should sight-margin: M+090", "should sight-margin: M-090"}},
		{"large", sidesAtEarHeight, func(d *project.Design) (*project.Design, error) {
			hang(d, 2.5, "M+090", "M-090")
			hang(d, 2.2, "M+090 b", "M-090 b")
			return d, nil
		}, nil},
	} {
		d := demo(t, c.demo)
		if got := faults(d); !slices.Equal(got, c.fault) {
			t.Errorf("%s: the fault is %q, want %q", c.demo, got, c.fault)
		}
		mended, err := c.cure(d)
		if err != nil {
			t.Errorf("%s: %v", c.demo, err)
			continue
		}
		if got := faults(mended); !slices.Equal(got, c.left) {
			t.Errorf("%s: once mended %q is left, want %q", c.demo, got, c.left)
		}
	}
}

var sidesAtEarHeight = []string{"must sight: M+090", "must sight: M-090", "should sight-margin: M+090 b", "should sight-margin: M-090 b"}

// The README's first lesson: how high the sides of row 2 hang, and for how many of the
// fourteen seats they are then clear.
func TestTheFirstLesson(t *testing.T) {
	d := demo(t, "large")
	for _, c := range []struct {
		height         unit.Length
		clear, blocked int
		elevation      float64 // degrees, rounded
	}{{1.4, 10, 4, 0}, {2.2, 12, 0, 16}, {2.3, 13, 0, 18}, {2.5, 14, 0, 21}} {
		hang(d, c.height, "M+090", "M-090")
		r := sight.Audit(d)
		clear, blocked := 0, 0
		for k, l := range r.Speakers {
			if l.Name() != "M+090" {
				continue
			}
			for i := range r.Seats {
				switch r.Pair(i, k).Verdict {
				case sight.Clear:
					clear++
				case sight.Blocked:
					blocked++
				}
			}
		}
		if clear != c.clear || blocked != c.blocked {
			t.Errorf("at %v: %d clear, %d blocked, want %d and %d", c.height, clear, blocked, c.clear, c.blocked)
		}
		if got := elevation(d, "M+090"); math.Abs(got-c.elevation) > 0.5 {
			t.Errorf("at %v: %.1f° up, want %g°", c.height, got, c.elevation)
		}
	}
}

// elevation returns in degrees how high the main listening position hears a loudspeaker.
func elevation(d *project.Design, name string) float64 {
	r := sight.Audit(d)
	for _, l := range r.Report(d).Speakers {
		if l.Name == name {
			return float64(l.Elevation)
		}
	}
	return 0
}

// Each demo has a projector that is bright enough, whose lens reaches every shape of
// picture, and nobody seated in its beam; once the demo is mended every seat sees all of
// every shape.
func TestEachDemoShowsEveryShape(t *testing.T) {
	for _, name := range []string{"small", "two-row", "large"} {
		d := demo(t, name)
		if short := picture.Of(d).Short(); len(short) > 0 || len(d.Picture.Aspects) < 2 || !d.Projector.Given() {
			t.Errorf("%s: %d shapes, falls short: %q", name, len(d.Picture.Aspects), short)
		}
		if name == "two-row" {
			p, err := solve.Rows(context.Background(), d, solve.RowsOptions{})
			if err != nil {
				t.Fatal(err)
			}
			d = p.Design
			if short := picture.Of(d).Short(); len(short) > 0 {
				t.Errorf("%s, mended: %q", name, short)
			}
		}
		if short := viewing.Of(d).Short(); len(short) > 0 {
			t.Errorf("%s: %q", name, short)
		}
		if found := fit.Findings(d); len(found) > 0 {
			t.Errorf("%s: %v", name, found)
		}
	}
}
