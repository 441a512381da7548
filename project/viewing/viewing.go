// SPDX-License-Identifier: MIT

package viewing

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/picture"
	"earline/project/practice"
	"earline/project/sight"
)

// Result is how all seats of a design see all shapes of its picture.
type Result struct {
	Design  *project.Design
	Picture *picture.Result
	Seats   []Seat
	Rows    []Row
	// Best is the index into Rows of the one that sees best, Because why; -1 where there
	// are not two rows to choose from.
	Best    int
	Because string
	Beyond  []Beyond // row by row

	held []held
}

// Seat is a seat and what it sees of each shape, in the order of Picture.Shapes.
type Seat struct {
	Row, Number int
	Shapes      []Seen
}

// Seen is a shape of picture as a seat sees it.
type Seen struct {
	// Before is whether the eye is in front of the picture; else the angles are NaN.
	Before bool
	Across float64 // between its left and right edge, in plan
	// Top and Middle are how far the eye looks up, straight ahead, to the height of its
	// upper edge and of its middle.
	Top, Middle float64
	// Turn is how far the head is turned from where the chair faces to its middle, in
	// plan; Aside how far the seat is off the normal of its middle, in plan.
	Turn, Aside float64
	Heights     float64 // distance from its plane in heights of the picture
	Hidden      float64 // share of it, 0 to 1
	By          string  // what hides most of it, in words; empty where nothing does
}

// Row is a row and which of Result.Seats are in it.
type Row struct {
	Row      int
	From, To int // Seats[From:To]
}

// Of works out how the seats of d see its picture.
func Of(d *project.Design) *Result {
	v := sight.NewViewer(d)
	room := v.Room()
	r := &Result{Design: d, Picture: picture.In(&room.Room), Best: -1, held: heldTo(practice.Of(d))}
	r.Picture.Design = d // that of v gets other screens
	for i := range room.Seats {
		s := &room.Seats[i]
		r.Seats = append(r.Seats, Seat{Row: s.Row, Number: s.Number, Shapes: make([]Seen, len(r.Picture.Shapes))})
		if n := len(r.Rows); n == 0 || r.Rows[n-1].Row != s.Row {
			r.Rows = append(r.Rows, Row{Row: s.Row, From: i})
		}
		r.Rows[len(r.Rows)-1].To = i + 1
	}
	for k := range r.Picture.Shapes {
		v.Screen(screenOf(d.Screen, r.Picture.Shapes[k].Picture))
		for i := range room.Seats {
			r.Seats[i].Shapes[k] = r.seen(v, i, r.Picture.Shapes[k].Picture)
		}
	}
	r.judge()
	r.choose()
	return r
}

// screenOf returns s with the picture f in the place of its own.
func screenOf(s project.Screen, f picture.Frame) project.Screen {
	s.Aspect, s.Width, s.Bottom, s.Centre = f.Aspect(), unit.Length(f.Width), unit.Length(f.Bottom()), unit.Length(f.Across)
	return s
}

// seen returns picture f, which v has before it, as seat i sees it.
func (r *Result) seen(v *sight.Viewer, i int, f picture.Frame) Seen {
	view, room := v.View(i), v.Room()
	out := Seen{Hidden: 1 - view.Visible}
	if view.Verdict == sight.Blocked && out.Hidden > 0 {
		out.By = room.WordsFrom(i, view.Blocker)
	} else {
		out.Hidden = 0
	}
	ahead, off := view.Eye.X-float64(r.Design.Screen.Distance), view.Eye.Y-f.Across
	out.Before = ahead > 0
	up := func(z float64) float64 {
		if !out.Before {
			return math.NaN()
		}
		return math.Atan2(z-view.Eye.Z, ahead) / unit.Degree
	}
	out.Across = geometry.Across(ahead, off, f.Width/2) / unit.Degree
	out.Top, out.Middle = up(f.Middle+f.Height/2), up(f.Middle)
	out.Heights, out.Turn, out.Aside = math.NaN(), math.NaN(), math.NaN()
	if out.Before {
		facing := room.Seats[i].Basis.U.Neg()
		out.Heights = ahead / f.Height
		out.Aside = math.Atan2(math.Abs(off), ahead) / unit.Degree
		out.Turn = geometry.Angle(geometry.Vec{X: facing.X, Y: facing.Y}, geometry.Vec{X: -ahead, Y: -off}) / unit.Degree
	}
	return out
}
