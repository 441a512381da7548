// SPDX-License-Identifier: MIT

package viewing

import (
	"fmt"
	"math"

	"earline/project/practice"
)

// held is an angle or distance that a placement rule limits, for every shape of picture.
type held struct {
	practice.Rule
	limits practice.Limits
	of     func(s *Seen) float64
	// text says what a seat does, of the value and the name of the shape.
	text string
	wide bool // asked of wide pictures alone
}

// heldTo returns what seats are held to under std: the rules on the picture, which the
// audit asks of the screen's own picture, asked of every shape.
func heldTo(std practice.Standard) []held {
	all := []held{
		{Rule: practice.Rule{ID: "picture-angle-least"}, of: func(s *Seen) float64 { return s.Across }, text: "sees %[2]s only %.1[1]f° wide"},
		{Rule: practice.Rule{ID: "picture-angle-most"}, of: func(s *Seen) float64 { return s.Across }, text: "sees %[2]s as much as %.1[1]f° wide", wide: true},
		{Rule: practice.Rule{ID: "look-up-top"}, of: func(s *Seen) float64 { return s.Top }, text: "looks up by %.1[1]f° to the top of %[2]s"},
		{Rule: practice.Rule{ID: "look-up-middle"}, of: func(s *Seen) float64 { return s.Middle }, text: "looks up by %.1[1]f° to the middle of %[2]s"},
		{Rule: practice.Rule{ID: "seat-turn"}, of: func(s *Seen) float64 { return s.Turn }, text: "turns the head by %.1[1]f° to the middle of %[2]s"},
		{Rule: practice.Rule{ID: "off-axis"}, of: func(s *Seen) float64 { return s.Aside }, text: "sits %.1[1]f° off the normal of %[2]s"},
		{Rule: practice.Rule{ID: "picture-heights"}, of: func(s *Seen) float64 { return s.Heights }, text: "sits %.2[1]f heights of %[2]s away"},
	}
	for i := range all {
		all[i].Rule, _ = practice.Find(all[i].ID)
		all[i].limits = std.Limits(&all[i].Rule)
	}
	return all
}

// Beyond is a row that sees pictures beyond what a placement rule asks.
type Beyond struct {
	Rule  practice.Rule
	Row   int
	Seat  int // the one that is farthest beyond
	Value float64
	// Shapes are the indices into Picture.Shapes, the worst first.
	Shapes []int
	Text   string // a sentence
}

// judge finds what is beyond the limits.
func (r *Result) judge() {
	for _, row := range r.Rows {
		for i := range r.held {
			h := &r.held[i]
			b, most := Beyond{Rule: h.Rule, Row: row.Row}, 0.0
			for k := range r.Picture.Shapes {
				if h.wide && r.Picture.Shapes[k].Picture.Aspect() < practice.WidePicture {
					continue
				}
				seat, v, over := r.worst(row, h, k)
				switch {
				case over == 0:
				case over > most:
					b.Seat, b.Value, most = seat, v, over
					b.Shapes = append([]int{k}, b.Shapes...)
				default:
					b.Shapes = append(b.Shapes, k)
				}
			}
			if most > 0 {
				r.tell(&b, h)
				r.Beyond = append(r.Beyond, b)
			}
		}
	}
}

// worst returns the number of the seat of row that is farthest beyond h with shape k, its
// value, and by how much it is beyond; 0 where none is.
func (r *Result) worst(row Row, h *held, k int) (seat int, value, over float64) {
	for i := row.From; i < row.To; i++ {
		v := h.of(&r.Seats[i].Shapes[k])
		if math.IsNaN(v) || h.limits.Holds(v) {
			continue
		}
		if o := max(h.limits.Least()-v, v-h.limits.Most()); o > over {
			seat, value, over = r.Seats[i].Number, v, o
		}
	}
	return seat, value, over
}

// tell puts b into words.
func (r *Result) tell(b *Beyond, h *held) {
	shape := r.Picture.Shapes[b.Shapes[0]].Called
	more := ""
	if n := len(b.Shapes) - 1; n == 1 {
		more = "; so it is with 1 shape more"
	} else if n > 1 {
		more = fmt.Sprintf("; so it is with %d shapes more", n)
	}
	b.Text = fmt.Sprintf("Row %d seat %d %s; %s asked (%s)%s.", b.Row, b.Seat, fmt.Sprintf(h.text, b.Value, shape), limitWords(h, b.Value), h.Source, more)
}

// limitWords says which end of the limits a value is beyond: "30° or more is".
func limitWords(h *held, v float64) string {
	u := "°"
	if h.Unit != practice.Degrees {
		u = ""
	}
	if v < h.limits.Least() {
		return fmt.Sprintf("%g%s or more is", h.limits.Least(), u)
	}
	return fmt.Sprintf("%g%s or less is", h.limits.Most(), u)
}
