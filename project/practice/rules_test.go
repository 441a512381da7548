// SPDX-License-Identifier: MIT

package practice_test

import (
	"encoding/csv"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
)

func TestRulesAreComplete(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range practice.Rules() {
		if seen[r.ID] {
			t.Errorf("%s twice", r.ID)
		}
		seen[r.ID] = true
		if r.ID == "" || r.Title == "" || r.Measures == "" || r.Unit == "" || r.Group == "" {
			t.Errorf("%q lacks a word: %+v", r.ID, r)
		}
		sentences := strings.Count(r.Why, ". ") + 1
		if !strings.HasSuffix(r.Why, ".") || sentences < 2 && len(r.Why) < 60 || sentences > 3 {
			t.Errorf("%s: why in %d sentences: %s", r.ID, sentences, r.Why)
		}
		if r.Limits.Min == nil && r.Limits.Max == nil {
			t.Errorf("%s has no limit", r.ID)
		}
		if r.Limits.Min != nil && r.Limits.Max != nil && *r.Limits.Min > *r.Limits.Max {
			t.Errorf("%s has limits the wrong way round", r.ID)
		}
		if s := r.Source; s.Document != "" && s.Status == "" || s.String() == "" {
			t.Errorf("%s does not say how its source was seen: %s", r.ID, s)
		}
	}
	if len(seen) < 40 {
		t.Errorf("only %d rules", len(seen))
	}
}

// system returns the rows of testdata/bs2051_layouts.tsv of one system, LFE left
// out: label, then nominal azimuth and elevation, degrees.
func system(t testing.TB, letter string) (labels []string, az, el []float64) {
	t.Helper()
	labels, az, el, _ = directions(t, letter)
	return labels, az, el
}

// directions returns the ranges besides: azimuth from and to, elevation from and to.
func directions(t testing.TB, letter string) (labels []string, az, el []float64, ranges [][4]float64) {
	t.Helper()
	f, err := os.Open("../../testdata/bs2051_layouts.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comma = '\t'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for _, row := range rows[1:] {
		if row[0] == letter && row[9] == "0" {
			labels, az, el = append(labels, row[2]), append(az, number(row[3])), append(el, number(row[4]))
			ranges = append(ranges, [4]float64{number(row[5]), number(row[6]), number(row[7]), number(row[8])})
		}
	}
	return labels, az, el, ranges
}

// nominal returns a high, wide room with one seat and the loudspeakers of a
// system 2 m from it in their nominal directions, aimed at it.
func nominal(t testing.TB, letter string) *project.Design {
	d := file.New()
	d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 9, Y: 8}, {X: 0, Y: 8}}
	d.Room.Ceiling.Height = 6
	d.Screen.Centre = 4
	r := &d.Seating.Rows[0]
	r.Seats, r.Distance, r.Centre = 1, 4.5, 4
	d.Seating.Main = project.MainPosition{Row: 1}
	d.System = project.System{Name: letter}
	model := d.Speakers[0].Model
	d.Speakers = nil
	labels, az, el := system(t, letter)
	if len(labels) == 0 {
		t.Fatalf("no system %s", letter)
	}
	for i, l := range labels {
		d.Speakers = append(d.Speakers, project.Loudspeaker{Label: l, Model: model, Mount: project.OnWall})
		point(d, l, az[i], el[i], 2)
	}
	return d
}

// point puts the loudspeakers of that label in a direction of the main position.
func point(d *project.Design, label string, az, el, dist float64) {
	dir := geometry.Direction(unit.Degrees(az).Radians(), unit.Degrees(el).Radians())
	for i := range d.Speakers {
		if d.Speakers[i].Label == label {
			d.Speakers[i].At = project.PointOf(place.MainPoint(d).Add(dir.Mul(dist)))
		}
	}
}

// hang puts the loudspeakers of those labels at a height.
func hang(d *project.Design, z unit.Length, labels ...string) {
	for i := range d.Speakers {
		if slices.Contains(labels, d.Speakers[i].Label) {
			d.Speakers[i].At.Z = z
		}
	}
}

// middle puts those fronts at the middle of the picture.
func middle(d *project.Design, labels ...string) {
	m, _, _ := d.Screen.Picture()
	hang(d, unit.Length(m.Z), labels...)
}

// failing returns the texts of the failing remarks of the given rules, all
// rules when none is given.
func failing(r *practice.Result, rules ...string) []string {
	var out []string
	for _, m := range r.Failing() {
		if len(rules) == 0 || slices.Contains(rules, m.Rule) {
			out = append(out, m.Text)
		}
	}
	return out
}

// Every published system in its nominal directions is right under either standard; one
// loudspeaker moved far out of its direction is the one remark, and it quotes the system
// only where that gives a range. Source: Rec. ITU-R BS.2051 as in
// testdata/bs2051_layouts.tsv.
func TestPublishedSystems(t *testing.T) {
	for _, letter := range strings.Split("ABCDEFGHIJ", "") {
		for _, base := range []project.StandardName{project.RaisedBed, project.PublishedDirections} {
			d := nominal(t, letter)
			d.Criteria.Standard = base
			r := practice.Check(d, nil, practice.Standard{})
			if r.System.Letter != letter || r.Guessed {
				t.Errorf("system %s taken for %s", letter, r.System)
			}
			if got := failing(r, "azimuth", "elevation", "surround", "label", "pair"); got != nil {
				t.Errorf("system %s, %s: %q", letter, base, got)
			}
			labels, az, el, ranges := directions(t, letter)
			for i, l := range labels {
				if el[i] > 80 {
					continue // has no azimuth
				}
				moved := d.Clone()
				side := 1.0
				if az[i] < 0 {
					side = -1
				}
				at := side * 12 // out of every range of its own but M+SC's and F's sides
				if a := az[i] * side; a >= 35 {
					at = side * 160
				}
				if l == "M+SC" || l == "M-SC" {
					at = side * 70
				}
				point(moved, l, at, el[i], 2)
				got := failing(practice.Check(moved, nil, practice.Standard{}), "azimuth", "elevation", "surround")
				if len(got) != 1 || !strings.HasPrefix(got[0], l+" azimuth "+strconv.FormatFloat(at, 'f', 1, 64)+"°, ") {
					t.Errorf("system %s, %s at %v°: %q", letter, l, at, got)
				} else if quoted := strings.Contains(got[0], "BS.2051 system "+letter+" asks for "); quoted != (ranges[i][0] < ranges[i][1]) && !strings.Contains(got[0], "BS.775") {
					t.Errorf("system %s, range %v: %q", letter, ranges[i][:2], got)
				}
				if strings.HasPrefix(l, "UH") {
					continue
				}
				moved = d.Clone()
				point(moved, l, az[i], 65, 2) // above every layer but UH
				got = failing(practice.Check(moved, nil, practice.Standard{}), "azimuth", "elevation")
				if len(got) != 1 || !strings.HasPrefix(got[0], l+" elevation 65.0°, ") {
					t.Errorf("system %s, %s up 65°: %q", letter, l, got)
				} else if strings.Contains(got[0], "BS.2051 system "+letter) && !(ranges[i][2] < ranges[i][3]) {
					t.Errorf("system %s, range %v: %q", letter, ranges[i][2:], got)
				}
			}
		}
	}
}

func TestAzimuthSentence(t *testing.T) {
	d := nominal(t, "H")
	point(d, "M+060", 71.2, 0, 2)
	got := failing(practice.Check(d, nil, practice.Standard{}), "azimuth")
	if len(got) != 1 || got[0] != "M+060 azimuth 71.2°, BS.2051 system H asks for 45° to 60°" {
		t.Errorf("%q", got)
	}
}

// BD-017 (building.tsv; IRC 2018 R311.7.5.1): a platform of 398 mm is three
// steps of 132.67 mm; one of 196 mm is one step, 197 mm are two.
func TestStepsUp(t *testing.T) {
	for _, c := range []struct {
		riser unit.Length
		n     float64
		step  float64
	}{{0.398, 3, 0.398 / 3}, {0.196, 1, 0.196}, {0.197, 2, 0.0985}, {0.10, 1, 0.10}} {
		d := demo(t, "two-row")
		d.Seating.Rows[1].Riser = c.riser
		d.Criteria.Code = project.IRC
		for _, m := range practice.Check(d, nil, practice.Standard{}).Remarks {
			switch m.Rule {
			case "steps":
				if m.Measured != c.n {
					t.Errorf("%v: %v steps, want %v", c.riser, m.Measured, c.n)
				}
			case "step-height":
				if d := m.Measured - c.step; d > 1e-9 || d < -1e-9 {
					t.Errorf("%v: steps of %v, want %v", c.riser, m.Measured, c.step)
				}
				if m.OK != (c.step >= 0.102) {
					t.Errorf("%v: %s", c.riser, m.Text)
				}
			}
		}
	}
}

// Each rule is broken by one design and kept by another.
func TestEveryRuleCanBreakAndHold(t *testing.T) {
	system := func(letter string, edit func(*project.Design)) func() *project.Design {
		return func() *project.Design {
			d := nominal(t, letter)
			if edit != nil {
				edit(d)
			}
			return d
		}
	}
	rows := func(edit func(*project.Design)) func() *project.Design {
		return func() *project.Design {
			d := demo(t, "two-row")
			d.Seating.Rows[1].Riser = 0.45 // its one fault mended
			if edit != nil {
				edit(d)
			}
			return d
		}
	}
	array := func(second float64) func(*project.Design) {
		return func(d *project.Design) {
			for _, l := range []string{"M+110", "M-110"} {
				i := slices.IndexFunc(d.Speakers, func(s project.Loudspeaker) bool { return s.Label == l })
				_, az, _ := parseAz(l)
				side := az / 110
				more := d.Speakers[i]
				point(d, l, side*80, 0, 2)
				more.Copy = "b"
				dir := geometry.Direction(unit.Degrees(side*second).Radians(), 0)
				more.At = project.PointOf(place.MainPoint(d).Add(dir.Mul(2)))
				d.Speakers = append(d.Speakers, more)
			}
		}
	}
	door := func(x, y unit.Length, swing project.Swing) func(*project.Design) {
		return func(d *project.Design) {
			d.Room.Features = []project.Feature{{Kind: project.Door, Name: "door", Swing: swing,
				At: project.Point{X: x, Y: y}, Length: 0.9, Width: 0.04, Height: 2}}
		}
	}
	recline := func(d *project.Design) { d.Chairs[0].Footrest = 0.45 }
	cases := map[string]struct{ breaks, keeps func() *project.Design }{
		"label":              {system("I", func(d *project.Design) { d.Speakers[3].Label = "M+100" }), system("I", nil)},
		"azimuth":            {system("J", func(d *project.Design) { point(d, "M+090", 115, 0, 2) }), system("J", nil)},
		"elevation":          {system("J", func(d *project.Design) { point(d, "M+090", 90, 25, 2) }), system("J", nil)},
		"surround":           {system("B", func(d *project.Design) { point(d, "M-110", -125, 0, 2) }), system("B", nil)},
		"surround-array":     {system("B", array(155)), system("B", array(140))},
		"pair":               {system("B", func(d *project.Design) { d.Speakers = d.Speakers[1:] }), system("B", nil)},
		"symmetry-azimuth":   {system("J", func(d *project.Design) { point(d, "M+090", 93, 0, 2) }), system("J", nil)},
		"symmetry-elevation": {system("J", func(d *project.Design) { point(d, "M+090", 90, 3, 2) }), system("J", nil)},
		"symmetry-distance":  {system("J", func(d *project.Design) { point(d, "M+090", 90, 0, 2.2) }), system("J", nil)},
		"bed-plane":          {system("J", func(d *project.Design) { point(d, "M+090", 90, 60, 2) }), system("J", nil)},
		"bed-raise": {system("J", func(d *project.Design) {
			for _, l := range []string{"M+030", "M-030"} {
				_, az, _ := parseAz(l)
				point(d, l, az, -4, 2)
			}
			point(d, "M+135", 135, 14, 2)
		}), system("J", nil)},
		"surround-interval":    {system("B", func(d *project.Design) { array(120)(d); point(d, "M-110", -120, 0, 2) }), system("B", array(140))},
		"front-height":         {rows(func(d *project.Design) { hang(d, 2, "M+030") }), rows(func(d *project.Design) { middle(d, "M+030", "M-030", "M+000") })},
		"gap":                  {system("J", func(d *project.Design) { point(d, "M+135", 110, 0, 2); point(d, "M-135", -110, 0, 2) }), system("J", nil)},
		"behind-above":         {rows(nil), system("J", nil)},
		"picture-heights-main": {rows(func(d *project.Design) { d.Screen.Width, d.Screen.Aspect = 1, 2.4 }), rows(func(d *project.Design) { d.Seating.Main.Row = 2 })},
		"raise-spare": {system("J", func(d *project.Design) { point(d, "M+090", 90, 18, 2) }), rows(func(d *project.Design) {
			hang(d, 1.706, "M+090", "M-090")
			hang(d, 1.693, "M+135", "M-135")
		})},
		"separation": {system("J", func(d *project.Design) { point(d, "U+135", 135, 15, 2) }), system("J", nil)},
		"coverage-across": {system("J", func(d *project.Design) {
			d.Speakers[0].Aim = project.Aim{Fixed: true, Azimuth: 180}
			d.Models[0].CoverageH = 40
		}), system("J", nil)},
		"coverage-upright": {system("J", func(d *project.Design) {
			d.Speakers[0].Aim = project.Aim{Fixed: true, Azimuth: -150, Elevation: 40}
		}), system("J", nil)},
		"sight":        {func() *project.Design { return demo(t, "large") }, rows(nil)},
		"sight-margin": {rows(func(d *project.Design) { d.Criteria.Margin = 0.2 }), rows(nil)},
		"loudspeaker-wall": {func() *project.Design {
			d := demo(t, "small")
			d.Speakers[3].At.Y = 0.3
			return d
		}, system("B", nil)},
		"seat-wall":           {rows(func(d *project.Design) { d.Seating.Rows[1].Distance = 5.5 }), system("B", nil)},
		"seat-loudspeaker":    {system("B", func(d *project.Design) { point(d, "M+110", 110, 0, 0.9) }), system("B", nil)},
		"picture-whole":       {rows(func(d *project.Design) { d.Seating.Rows[1].Riser = 0.1 }), rows(nil)},
		"picture-margin":      {rows(func(d *project.Design) { d.Criteria.PictureMargin = 0.2 }), rows(nil)},
		"picture-angle-least": {rows(func(d *project.Design) { d.Screen.Width = 2 }), rows(nil)},
		"picture-angle-most":  {rows(func(d *project.Design) { d.Screen.Aspect = 2.39; d.Seating.Rows[0].Distance = 2 }), rows(func(d *project.Design) { d.Screen.Aspect = 2.39 })},
		"look-up-top":         {rows(func(d *project.Design) { d.Screen.Bottom = 1.3 }), rows(nil)},
		"look-up-middle":      {rows(func(d *project.Design) { d.Screen.Bottom = 1.5 }), rows(nil)},
		"seat-turn":           {rows(func(d *project.Design) { d.Seating.Rows[0].Distance = 2.2 }), rows(func(d *project.Design) { d.Seating.Rows[0].Curve = 3 })},
		"off-axis":            {rows(func(d *project.Design) { d.Seating.Rows[0].Centre = 3.1 }), rows(nil)},
		"picture-heights":     {rows(func(d *project.Design) { d.Screen.Width, d.Screen.Aspect = 1, 2.4 }), rows(nil)},
		"picture-bottom":      {rows(func(d *project.Design) { d.Screen.Bottom = 1.3 }), rows(nil)},
		"row-pitch":           {rows(func(d *project.Design) { d.Seating.Rows[1].Distance = 3.9 }), rows(nil)},
		"row-passage":         {rows(func(d *project.Design) { d.Seating.Rows[1].Distance = 4.2 }), rows(nil)},
		"row-knees":           {rows(func(d *project.Design) { d.Seating.Rows[1].Distance = 4.05 }), rows(nil)},
		"row-footrest": {rows(func(d *project.Design) { recline(d); d.Seating.Rows[1].Distance = 4.6 }),
			rows(func(d *project.Design) { recline(d); d.Seating.Rows[1].Distance = 5 })},
		"step-height": {rows(func(d *project.Design) { d.Seating.Rows[1].Riser = 0.09 }), rows(nil)},
		"steps":       {rows(nil), rows(func(d *project.Design) { d.Seating.Rows[1].Riser = 0.19 })},
		"handrail":    {rows(func(d *project.Design) { d.Seating.Rows[1].Riser = 0.7 }), rows(nil)},
		"guard":       {rows(func(d *project.Design) { d.Seating.Rows[1].Riser = 0.8 }), rows(nil)},
		"aisle":       {rows(func(d *project.Design) { d.Seating.Rows[0].Seats = 4 }), rows(nil)},
		"aisle-stepped": {rows(func(d *project.Design) { d.Criteria.Code = project.IRC }), rows(func(d *project.Design) {
			d.Seating.Rows[1].Seats = 2
		})},
		"headroom": {rows(func(d *project.Design) { d.Room.Ceiling.FarHeight = 2.3 }), rows(nil)},
		// The right wall is at 4.2 m, row 1 reaches from 2.53 m to 3.21 m back.
		"door-swing": {rows(door(2.7, 4.18, project.InLeft)), rows(door(1.2, 4.18, project.InLeft))},
		"door-space": {rows(door(3, 4.18, project.OutLeft)), system("B", func(d *project.Design) {
			door(4.4, 7.98, project.OutLeft)(d)
		})},
	}
	outcome := func(d *project.Design, rule string) (n, bad int, texts []string) {
		if err := d.Validate(); err != nil {
			t.Fatalf("%s: %v", rule, err)
		}
		for _, m := range practice.Check(d, nil, practice.Standard{}).Remarks {
			if m.Rule != rule {
				continue
			}
			n++
			texts = append(texts, m.Text)
			if !m.OK {
				bad++
			}
			if m.Text == "" || m.Mark.Kind == practice.NoMark || len(m.Seats)+len(m.Speakers)+len(m.Rows) == 0 && rule != "picture-heights-main" {
				t.Errorf("%s: a remark without words, mark or place: %+v", rule, m)
			}
			for _, v := range []geometry.Vec{m.Mark.At, m.Mark.From, m.Mark.To, m.Mark.Normal} {
				if !v.Finite() {
					t.Errorf("%s: mark %+v", rule, m.Mark)
				}
			}
			if m.Limits.Holds(m.Measured) != m.OK {
				t.Errorf("%s: %v in %+v is %v", rule, m.Measured, m.Limits, m.OK)
			}
		}
		return n, bad, texts
	}
	for _, r := range practice.Rules() {
		c, ok := cases[r.ID]
		if !ok {
			t.Errorf("%s: no design breaks or keeps it here", r.ID)
			continue
		}
		if n, bad, texts := outcome(c.breaks(), r.ID); bad == 0 {
			t.Errorf("%s is not broken: %d measured: %q", r.ID, n, texts)
		}
		if n, bad, texts := outcome(c.keeps(), r.ID); n == 0 || bad > 0 {
			t.Errorf("%s is not kept: %d measured, %d fail: %q", r.ID, n, bad, texts)
		}
	}
}

// parseAz returns the azimuth that a label names.
func parseAz(label string) (string, float64, error) {
	az, err := strconv.ParseFloat(label[1:], 64)
	return label[:1], az, err
}

// What each demo breaks, rule by rule. A trainee's sheet; a change here is a
// change of judgement and to be looked at.
func TestDemos(t *testing.T) {
	want := map[string]string{
		"small":   "2+5+0: sight-margin 2, elevation 1, seat-wall 1",
		"two-row": "4+7+0: picture-whole 1, picture-margin 1, azimuth 1, front-height 2, behind-above 1, separation 2, seat-wall 1",
		"large":   "9.1.6: sight 2, sight-margin 2, azimuth 1, elevation 1, bed-plane 4, gap 1, behind-above 1, separation 3, coverage-across 2, seat-wall 3, seat-turn 1, steps 2, aisle-stepped 1",
	}
	for name, want := range want {
		d := demo(t, name)
		r := practice.Check(d, sight.Audit(d), practice.Standard{})
		var order []string
		count := map[string]int{}
		for _, m := range r.Failing() {
			if count[m.Rule] == 0 {
				order = append(order, m.Rule)
			}
			count[m.Rule]++
		}
		for i, id := range order {
			order[i] = fmt.Sprintf("%s %d", id, count[id])
		}
		if got := r.System.Name + ": " + strings.Join(order, ", "); got != want {
			t.Errorf("%s:\n got %s\nwant %s", name, got, want)
		}
	}
}

func TestReport(t *testing.T) {
	d := demo(t, "large")
	s := sight.Audit(d)
	r := practice.Check(d, s, practice.Standard{})
	rep := r.Report(s)
	if len(rep.Remarks) != len(r.Remarks) || rep.JudgedBy.Name != "9.1.6" {
		t.Fatalf("%d remarks, system %q", len(rep.Remarks), rep.System)
	}
	i := slices.IndexFunc(rep.Remarks, func(m practice.ReportRemark) bool { return m.Rule == "sight" && !m.OK })
	m := rep.Remarks[i]
	if m.Severity != "must" || m.Unit != practice.Metres || m.Source != "common practice, no source" ||
		!slices.Equal(m.Seats, []string{"2.2", "2.3", "2.4", "2.5"}) || !slices.Equal(m.Loudspeakers, []string{"M+090"}) {
		t.Errorf("%+v", m)
	}
	if n := len(r.Lines(true)); n != len(r.Remarks) {
		t.Errorf("%d lines of %d remarks", n, len(r.Remarks))
	}
	if !strings.HasPrefix(r.Lines(false)[0], "must    sight: 4 of 14 seats have M+090 blocked, worst row 2 seat 3: head in row 2 seat 2 stands 0.083 m in the way") {
		t.Errorf("%q", r.Lines(false)[0])
	}
}

// Lengths are told in the design's own system.
func TestImperialWords(t *testing.T) {
	d := demo(t, "two-row")
	d.Units = project.Imperial
	d.Seating.Rows[1].Riser = 0.45
	d.Room.Ceiling.FarHeight = 2.3
	d.Criteria.Code = project.IRC
	got := failing(practice.Check(d, nil, practice.Standard{}), "headroom")
	if len(got) != 1 || got[0] != `row 2 has 6' 4 15/16" of headroom under the ceiling where people rise, IRC R311.7.2 asks for 6' 8" or more` {
		t.Errorf("%q", got)
	}
}
