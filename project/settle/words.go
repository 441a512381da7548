// SPDX-License-Identifier: MIT

package settle

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/sight"
)

// short prints a small length: millimetres, or inches.
func (g *gatherer) short(v float64) string {
	if g.d.Units == project.Imperial {
		return unit.Length(v).Format(false)
	}
	if mm := math.Round(v * 1000); mm != 0 || v == 0 {
		return strconv.FormatFloat(mm+0, 'f', 0, 64) + " mm"
	}
	return "less than 1 mm"
}

// speakers names loudspeakers, left and right together, and several of one channel as
// one: "M±030 and M+000".
func (g *gatherer) speakers(of []int) string {
	var keys []string
	sides := map[string][2]bool{}
	for _, k := range of {
		if k < 0 || k >= len(g.r.Speakers) {
			continue
		}
		label := g.r.Speakers[k].Label
		key := strings.NewReplacer("+", "±", "-", "±").Replace(label)
		if middle(label) {
			key = label
		}
		if !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
		s := sides[key]
		s[0], s[1] = s[0] || strings.Contains(label, "+"), s[1] || strings.Contains(label, "-")
		sides[key] = s
	}
	for i, key := range keys {
		switch s := sides[key]; {
		case s[0] && !s[1]:
			keys[i] = strings.Replace(key, "±", "+", 1)
		case s[1] && !s[0]:
			keys[i] = strings.Replace(key, "±", "-", 1)
		}
	}
	slices.Sort(keys)
	return list(keys)
}

// middle reports whether a label is of the middle, which has no side.
func middle(label string) bool {
	return strings.HasSuffix(label, "+000") || strings.HasSuffix(label, "+180")
}

// list joins words: "a, b and c".
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// rows names rows, counted from 0: "Row 2", "Rows 2 and 3".
func rows(of []int) string {
	var words []string
	for _, i := range of {
		words = append(words, strconv.Itoa(i+1))
	}
	switch len(words) {
	case 0:
		return ""
	case 1:
		return "Row " + words[0]
	}
	return "Rows " + list(words)
}

// rowsOf returns the rows of seats, in order.
func (g *gatherer) rowsOf(seats []int) []int {
	var of []int
	for _, i := range seats {
		if i >= 0 && i < len(g.r.Seats) {
			of = append(of, g.r.Seats[i].Row-1)
		}
	}
	slices.Sort(of)
	return slices.Compact(of)
}

func (g *gatherer) seat(i int) string {
	return fmt.Sprintf("row %d seat %d", g.r.Seats[i].Row, g.r.Seats[i].Number)
}

// ofSeats says how many of all seats: "5 of 14 seats".
func (g *gatherer) ofSeats(n int) string {
	return fmt.Sprintf("%d of %s", n, count(len(g.r.Seats), "seat", "seats"))
}

// subject names what c is about.
func (g *gatherer) subject(c *Cause) string {
	switch c.Family {
	case Build:
		if len(c.Speakers) > 0 {
			return g.speakers(c.Speakers)
		}
		return upper(c.Findings[0].Where)
	case Picture:
		of := c.Seats
		if len(c.blocked) > 0 {
			of = c.blocked
		}
		return rows(g.rowsOf(of))
	case Reach:
		return "Coverage of " + g.speakers(c.Speakers)
	case View:
		if s := rows(g.rowsOf(c.Seats)); s != "" {
			return s
		}
		return "Picture"
	}
	if len(c.Speakers) > 0 {
		names := g.speakers(c.Speakers)
		if words := layerWords[c.layer]; words != "" {
			return words + " " + names
		}
		return names
	}
	if len(c.Rows) > 0 {
		return rows(c.Rows)
	}
	return rows(g.rowsOf(c.Seats))
}

// text says in a line what is wrong.
func (g *gatherer) text(c *Cause) string {
	switch {
	case c.Family == Build:
		f := c.Findings[0]
		if names := g.speakers(c.Speakers); names != "" && names != f.Where {
			return names + ": " + f.String() + andMore(len(c.Findings)-1)
		}
		return upper(f.String()) + andMore(len(c.Findings)-1)
	case c.Family == Picture && len(c.blocked) > 0:
		v := g.r.Views[c.Seat]
		text := fmt.Sprintf("%s: %s %s part of the picture", c.Subject, g.ofSeats(len(c.blocked)), verb(len(c.blocked), "misses", "miss"))
		if v.Blocker == sight.NoPart {
			return text + "; " + g.seat(c.Seat) + " is not in front of it"
		}
		text += fmt.Sprintf("; %s hides %s from %s", g.r.WordsFrom(c.Seat, v.Blocker), lost(1-v.Visible), g.seat(c.Seat))
		if v.Clearance < 0 && v.Nearby == v.Blocker {
			text += fmt.Sprintf(", %s deep", g.short(-v.Clearance))
		}
		return text
	case c.Family == Driver && c.Seat != None:
		p := g.r.Pair(c.Seat, c.Speaker).Deciding()
		what := g.r.WordsFrom(c.Seat, p.Blocker)
		if len(c.blocked) > 0 {
			return fmt.Sprintf("%s: blocked for %s; %s stands %s in the way of %s", c.Subject, g.ofSeats(len(c.blocked)), what, g.short(-p.Clearance), g.seat(c.Seat))
		}
		free, margin := g.short(p.Clearance), g.short(float64(g.d.Criteria.Margin))
		if free == margin {
			free = "hardly less than " + margin
		}
		return fmt.Sprintf("%s: only %s free past %s at %s; the margin is %s, short at %s", c.Subject, free, what, g.seat(c.Seat), margin, g.ofSeats(len(c.Seats)))
	case c.Family == Reach && len(c.Seats) > 0:
		return fmt.Sprintf("%s falls short at %s", c.Subject, g.ofSeats(len(c.Seats)))
	}
	return upper(c.Remarks[0].Text) + andMore(len(c.Remarks)-1)
}

// lost prints a share that is lost, and never a loss as none.
func lost(v float64) string {
	if v < 0.001 {
		return "less than 0.1 %"
	}
	return strconv.FormatFloat(math.Ceil(v*1000-1e-9)/10, 'f', 1, 64) + " %"
}

func andMore(n int) string {
	if n <= 0 {
		return ""
	}
	return fmt.Sprintf(" (and %d more)", n)
}

func verb(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// upper returns s with its first letter large.
func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
