// SPDX-License-Identifier: MIT

package inspector

import (
	"errors"
	"fmt"
	"slices"

	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/add"
	"earline/project/sight"
)

func (in *Inspector) rowsSummary() string {
	rows, seats := in.host.Design().Seating.Rows, 0
	for _, r := range rows {
		seats += r.Seats
	}
	return plural(len(rows), "row") + ", " + plural(seats, "seat")
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func (in *Inspector) buildRows(f *field.Form) {
	picks := newChips(shortChip, func(i int) {
		in.row = i
		in.Update()
		if in.OnRow != nil {
			in.OnRow(i)
		}
	})
	more := field.NewButtonWithIcon("Add row", base.ContentAddIcon(), in.addRow)
	remove := field.NewButtonWithIcon("Remove row", base.ContentRemoveIcon(), in.removeRow)
	f.AddObject(container.NewGridWithColumns(2, more, remove), func() {
		if len(in.host.Design().Seating.Rows) > 1 {
			remove.Enable()
		} else {
			remove.Disable()
		}
	})
	f.AddObject(picks.box, func() {
		var names []string
		for i := range in.host.Design().Seating.Rows {
			names = append(names, fmt.Sprintf("Row %d", i+1))
		}
		picks.show(names, in.row, in.rowVerdict)
	})

	at := func(part func(*project.Row) *unit.Length) value[unit.Length] {
		return func(d *project.Design) *unit.Length { return part(&d.Seating.Rows[in.row]) }
	}
	words := func(verb string) func() texts {
		return func() texts { return texts{what: fmt.Sprintf("%s row %d", verb, in.row+1)} }
	}
	why(choice(in, f, "Chair", words("change the chairs of"), in.chairIDs, in.chairName,
		func(d *project.Design) *string { return &d.Seating.Rows[in.row].Chair }), "sight")
	in.warn(why(in.length(f, "From screen wall", words("move"), at(func(r *project.Row) *unit.Length { return &r.Distance })), "row-knees", "picture-heights"), in.inRow("distance_m"))
	in.warn(why(in.length(f, "Riser height", func() texts {
		n := in.row + 1
		return texts{fmt.Sprintf("change the riser of row %d", n), fmt.Sprintf("raise row %d", n), fmt.Sprintf("lower row %d", n)}
	}, at(func(r *project.Row) *unit.Length { return &r.Riser })), "picture-margin", "step-height"), in.inRow("riser_m"))
	raised := func() bool { return in.host.Design().Seating.Rows[in.row].Riser > 0 }
	in.warn(in.length(f, "Platform, front", words("change the platform of"), at(func(r *project.Row) *unit.Length { return &r.Front })).When(raised), in.inRow("platform_front_m"))
	in.length(f, "Platform, behind", words("change the platform of"), at(func(r *project.Row) *unit.Length { return &r.Back })).When(raised)
	in.platform(f, raised)
	why(in.count(f, "Seats", words("change the seats of"), func(d *project.Design) *int { return &d.Seating.Rows[in.row].Seats }), "aisle")
	in.warn(why(in.length(f, "Seat pitch", words("change the pitch of"), at(func(r *project.Row) *unit.Length { return &r.Pitch })), "aisle", "off-axis"), in.inRow("pitch_m"))
	why(in.length(f, "Centre from left", words("move"), at(func(r *project.Row) *unit.Length { return &r.Centre })), "seat-wall")
	why(in.length(f, "Stagger to right", words("stagger"), at(func(r *project.Row) *unit.Length { return &r.Stagger })), "picture-whole")
	in.curve(f)
	in.warn(why(in.angle(f, "Recline", words("recline"), func(d *project.Design) *unit.Degrees { return &d.Seating.Rows[in.row].Recline }), "row-footrest", "look-up-middle"), in.inRow("recline_deg"))
	f.AddReadout("Ear, eye height", in.earHeights)
	f.AddReadout("Picture", in.rowPicture)
	in.buildChair(f)
}

// curve adds the radius of the row, or the word straight.
func (in *Inspector) curve(f *field.Form) {
	const begins = 10 // m, nearly straight
	why(in.lengthOr(f, "Curve radius", "straight", func() string { return fmt.Sprintf("curve row %d", in.row+1) },
		func(d *project.Design) *unit.Length { return &d.Seating.Rows[in.row].Curve }, func() unit.Length { return begins }, 10), "seat-turn")
}

// lengthOr adds a length for which a word stands while it is 0. A step away from the
// word begins at begin, and steps are as many of the usual ones.
func (in *Inspector) lengthOr(f *field.Form, name, word string, label func() string, at value[unit.Length], begin func() unit.Length, steps unit.Length) *field.Line {
	return f.AddEntry(name, field.Binding{
		Value: func() string {
			if v := read(in, at); v != 0 {
				return v.Format(in.metric())
			}
			return word
		},
		Set: func(text string) error {
			if text == word || text == "" {
				return edit(in, label(), "", at, 0)
			}
			v, err := unit.ParseLengthSum(text, in.bare())
			var unread *unit.ParseError
			if errors.As(err, &unread) {
				return &unit.ParseError{Found: unread.Found, Allowed: unread.Allowed + ", or " + word}
			}
			return edit(in, label(), "", at, v)
		},
		Offers: func(text string) []field.Offer {
			return in.meant(text, in.bare(), read(in, at), func(v unit.Length) error { return edit(in, label(), "", at, v) })
		},
		Step: func(n int) error {
			v := read(in, at)
			if v == 0 {
				v = begin()
			}
			return edit(in, label(), key(name, label()), at, onGrid(v, n, steps*in.stride()))
		},
	})
}

func (in *Inspector) chairIDs() []string {
	var ids []string
	for _, c := range in.host.Design().Chairs {
		ids = append(ids, c.ID)
	}
	return ids
}

// chairName returns the words for a chair model: its name, with its ID where
// another has the same.
func (in *Inspector) chairName(id string) string {
	name, twice := id, false
	for _, c := range in.host.Design().Chairs {
		if c.ID == id && c.Name != "" {
			name = c.Name
		}
	}
	for _, c := range in.host.Design().Chairs {
		twice = twice || c.ID != id && c.Name == name
	}
	if twice {
		return name + " (" + id + ")"
	}
	return name
}

func (in *Inspector) addRow() {
	r, caveat, err := add.Row(in.host.Design(), in.host.Standard())
	if err == nil {
		err = field.Plain(in.host.Do("add a row", "", func(d *project.Design) { d.Seating.Rows = append(d.Seating.Rows, r) }))
	}
	if err != nil {
		in.note(err)
		return
	}
	in.row = len(in.host.Design().Seating.Rows) - 1
	in.Update()
	if caveat != "" {
		in.say(fmt.Sprintf("Row %d is added, but %s.", in.row+1, caveat))
	}
}

func (in *Inspector) removeRow() {
	i := in.row
	in.note(in.host.Do(fmt.Sprintf("remove row %d", i+1), "", func(d *project.Design) {
		d.Seating.Rows = slices.Delete(d.Seating.Rows, i, i+1)
		if m := &d.Seating.Main; m.Row > i && m.Row > 1 {
			m.Row--
		}
	}))
}

// rowVerdict returns the worst verdict of any seat in row i.
func (in *Inspector) rowVerdict(i int) (worst sight.Verdict) {
	r := in.host.Result()
	if r == nil {
		return 0
	}
	for s, seat := range r.Seats {
		if seat.Row != i+1 {
			continue
		}
		for k := range r.Speakers {
			worst = max(worst, r.Pair(s, k).Verdict)
		}
		worst = max(worst, r.Views[s].Verdict)
	}
	return worst
}

func (in *Inspector) earHeights() string {
	if r := in.host.Result(); r != nil {
		for i, s := range r.Seats {
			if s.Row == in.row+1 {
				b := r.Bodies[i]
				return unit.Length(b.EarLeft.Z).Format(in.metric()) + ", " + unit.Length(b.Eye().Z).Format(in.metric())
			}
		}
	}
	return "-"
}

func (in *Inspector) rowPicture() string {
	r := in.host.Result()
	if r == nil {
		return "-"
	}
	all, full := 0, 0
	for i, s := range r.Seats {
		if s.Row == in.row+1 {
			all++
			if r.Views[i].Verdict != sight.Blocked {
				full++
			}
		}
	}
	return fmt.Sprintf("%d of %s see all of it", full, plural(all, "seat"))
}
