// SPDX-License-Identifier: MIT

package inspector

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/words"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/fit"
	"earline/project/place"
)

func (in *Inspector) sittersSummary() string {
	s := in.host.Design().Seating.Sitters
	return fmt.Sprintf("P%.0f behind P%.0f", s.Listener, s.Others)
}

func (in *Inspector) buildSitters(f *field.Form) {
	sitters := func(part func(*project.Sitters) *float64) value[float64] {
		return func(d *project.Design) *float64 { return part(&d.Seating.Sitters) }
	}
	why(in.number(f, "Listener, percentile", "change the listeners' size", 1, 1, "", sitters(func(s *project.Sitters) *float64 { return &s.Listener })), "picture-margin")
	why(in.number(f, "Others, percentile", "change the others' size", 1, 1, "", sitters(func(s *project.Sitters) *float64 { return &s.Others })), "sight-margin", "row-knees")
	in.number(f, "Share of women", "change the share of women", 100, 5, " %", sitters(func(s *project.Sitters) *float64 { return &s.Women })).Why("Men and women differ in size: the same percentile is a taller or a smaller person.")
	in.small(f, "Seat compression", say("change the seats' sink"), func(d *project.Design) *unit.Length { return &d.Seating.Sitters.Sink }).Why("What the cushion gives way takes the listener's ears and eyes down, and the heads in front as well.")
	why(in.small(f, "Slump", say("change the sitters' slump"), func(d *project.Design) *unit.Length { return &d.Seating.Sitters.Slump }), "sight-margin")
	f.AddReadout("P5 to P95", func() string { return in.everyone(false) })
	f.AddReadout("Picture", func() string { return in.everyone(true) })
	f.AddNote("The listener's ears and eyes are judged; the others sit in the way. A small listener behind large others is the hard case.")
}

// everyone says for how many pairs, or pictures, the plan holds whoever from P5
// to P95 sits where, at every recline.
func (in *Inspector) everyone(picture bool) string {
	r := in.host.Everyone()
	if r == nil {
		return "…"
	}
	c, what := r.Count, "pairs"
	if picture {
		c, what = r.PictureCount, "seats"
	}
	if c.Breaks+c.Open == 0 {
		return "holds at every recline"
	}
	return fmt.Sprintf("%d of %d %s hold", c.Holds, c.Holds+c.Breaks+c.Open, what)
}

func (in *Inspector) mainSummary() string {
	d := in.host.Design()
	if d.Seating.Main.Row > 0 {
		return fmt.Sprintf("middle of row %d", d.Seating.Main.Row)
	}
	return "a point"
}

func (in *Inspector) buildMain(f *field.Form) {
	point := func() bool { return in.host.Design().Seating.Main.Row == 0 }
	why(f.AddChoice("Where",
		func() []string {
			var o []string
			for i := range in.host.Design().Seating.Rows {
				o = append(o, fmt.Sprintf("middle of row %d", i+1))
			}
			return append(o, "a point")
		},
		func() int {
			d := in.host.Design()
			if d.Seating.Main.Row == 0 {
				return len(d.Seating.Rows)
			}
			return d.Seating.Main.Row - 1
		},
		func(i int) error {
			return field.Plain(in.host.Do("move the main position", "", func(d *project.Design) {
				if i < len(d.Seating.Rows) {
					d.Seating.Main.Row = i + 1
					return
				}
				d.Seating.Main = project.MainPosition{At: project.PointOf(place.MainPoint(d))}
			}))
		}), "azimuth")
	words := say("move the main position")
	in.length(f, "From screen wall", words, func(d *project.Design) *unit.Length { return &d.Seating.Main.At.X }).When(point)
	in.length(f, "From left wall", words, func(d *project.Design) *unit.Length { return &d.Seating.Main.At.Y }).When(point)
	in.length(f, "Height", words, func(d *project.Design) *unit.Length { return &d.Seating.Main.At.Z }).When(point)
	show := func(axis func(project.Point) unit.Length) func() string {
		return func() string { return axis(project.PointOf(place.MainPoint(in.host.Design()))).Format(in.metric()) }
	}
	fixed := func() bool { return !point() }
	f.AddReadout("From screen wall", show(func(p project.Point) unit.Length { return p.X })).When(fixed)
	f.AddReadout("From left wall", show(func(p project.Point) unit.Length { return p.Y })).When(fixed)
	f.AddReadout("Ear height", show(func(p project.Point) unit.Length { return p.Z })).When(fixed)
}

func (in *Inspector) criteriaSummary() string {
	if n := len(fit.Findings(in.host.Design())); n > 0 {
		return plural(n, "remark")
	}
	return ""
}

func (in *Inspector) buildCriteria(f *field.Form) {
	why(in.small(f, "Margin, sound", say("change the margin"), func(d *project.Design) *unit.Length { return &d.Criteria.Margin }), "sight-margin")
	why(in.small(f, "Margin, picture", say("change the picture's margin"), func(d *project.Design) *unit.Length { return &d.Criteria.PictureMargin }), "picture-margin")
	f.AddNote("A free path with less clearance than the margin counts as tight.")
	in.buildJudged(f)
	remarks := widget.NewLabel("")
	remarks.Wrapping = fyne.TextWrapWord
	f.AddObject(remarks, func() {
		var b strings.Builder
		for _, r := range fit.Findings(in.host.Design()) {
			fmt.Fprintf(&b, "• %s\n", r)
		}
		text := strings.TrimSpace(b.String())
		if text == "" {
			text = "Nothing found that cannot be built."
		} else {
			text = "Worth a look:\n" + text
		}
		if text = words.Of(text); text != remarks.Text {
			remarks.SetText(text)
		}
	})
}
