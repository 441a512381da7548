// SPDX-License-Identifier: MIT

package scene

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/sight"
)

// View is a camera and the subject of its picture.
type View struct {
	Camera Camera
	// Seat and Speaker, counted from 0, are where the camera is and what it
	// looks at, or None.
	Seat, Speaker int
	drawing       Axes         // that it shows as they are; none in perspective
	cut           geometry.Vec // of a section; zero is none
}

// Apply returns o adapted to the view: it leaves out the sitter at the camera, an
// ear's view selects its pair and shows only that ray, and a drawing has its dimensions.
func (v View) Apply(o Options) Options {
	o.FromSeat, o.Drawing, o.Cut = v.Seat, v.drawing, v.cut
	if v.Seat != None && v.Speaker != None {
		o.Seat, o.Speaker, o.Only = v.Seat, v.Speaker, true
	}
	return o
}

// ViewNames lists what Named understands.
const ViewNames = "overview, plan, long[:Y], cross[:X], seat:ROW.SEAT, ear:ROW.SEAT:LOUDSPEAKER, walk:X,Y,Z,HEADING[,PITCH]"

// Named returns the view of that name for a picture whose width is aspect times
// its height. Rows and seats count from 1, seats from the listener's left; a
// section may be cut, at metres from the left wall or the screen wall ("cross:3.2");
// loudspeakers go by Loudspeaker.Name ("ear:2.3:M+090"); walk takes metres and
// degrees. An error says in one line what was found and what is allowed.
func Named(d *project.Design, r *sight.Result, name string, aspect float32) (View, error) {
	fail := func(allowed string, args ...any) (View, error) {
		return View{}, fmt.Errorf("view %q: %s", name, fmt.Sprintf(allowed, args...))
	}
	if !(aspect > 0) {
		aspect = 1
	}
	v := View{Seat: None, Speaker: None}
	kind, rest, _ := strings.Cut(name, ":")
	if rest != "" && (kind == "overview" || kind == "plan") {
		return fail("not a view; allowed: %s", ViewNames)
	}
	switch kind {
	case "overview":
		v.Camera = Overview(d, aspect)
	case "plan":
		v.Camera, v.drawing = Plan(d, aspect), Axes{X: true, Y: true}
	case "long":
		v.Camera, v.drawing = LongSection(d, aspect), Axes{X: true, Z: true}
		if rest != "" {
			y, err := metres(rest)
			if err != nil {
				return fail("%v from the left wall", err)
			}
			v.cut = geometry.Vec{Y: y}
			v.Camera = v.Camera.CutAt(v.cut)
		}
	case "cross":
		v.Camera, v.drawing = CrossSection(d, aspect), Axes{Y: true, Z: true}
		if rest != "" {
			x, err := metres(rest)
			if err != nil {
				return fail("%v from the screen wall", err)
			}
			v.cut = geometry.Vec{X: x}
			v.Camera = v.Camera.CutAt(v.cut)
		}
	case "seat":
		i, err := seatNamed(d, rest)
		if err != nil {
			return fail("%v", err)
		}
		middle, _, _ := d.Screen.Picture()
		c, ok := FromSeat(d, i, middle)
		if !ok {
			return fail("the screen is where the eyes are")
		}
		v.Camera, v.Seat = c, i
	case "ear":
		where, label, found := strings.Cut(rest, ":")
		if !found {
			return fail("found no loudspeaker, allowed: ear:ROW.SEAT:LOUDSPEAKER, such as ear:2.3:M+090")
		}
		i, err := seatNamed(d, where)
		if err != nil {
			return fail("%v", err)
		}
		k, err := speakerNamed(d, label)
		if err != nil {
			return fail("%v", err)
		}
		c, ok := Ear(r, i, k)
		if !ok {
			return fail("sight of %s is not judged", label)
		}
		v.Camera, v.Seat, v.Speaker = c, i, k
	case "walk":
		n, err := numbers(rest)
		if err != nil {
			return fail("%v", err)
		}
		pitch := 0.0
		if len(n) == 5 {
			pitch = clamp(n[4], -89, 89)
		}
		v.Camera = Walk(geometry.Vec{X: n[0], Y: n[1], Z: n[2]}, n[3]*unit.Degree, pitch*unit.Degree)
	default:
		return fail("not a view; allowed: %s", ViewNames)
	}
	return v, nil
}

// seatNamed returns the index of the seat written as ROW.SEAT.
func seatNamed(d *project.Design, text string) (int, error) {
	a, b, ok := strings.Cut(text, ".")
	row, err1 := strconv.Atoi(a)
	number, err2 := strconv.Atoi(b)
	if !ok || err1 != nil || err2 != nil {
		return 0, fmt.Errorf("found seat %q, allowed: ROW.SEAT, such as 2.3", text)
	}
	inRow := 0
	for i, s := range place.Seats(d) {
		if s.Row == row {
			if s.Number == number {
				return i, nil
			}
			inRow++
		}
	}
	if inRow == 0 {
		return 0, fmt.Errorf("found row %d, allowed: 1 to %d", row, len(d.Seating.Rows))
	}
	return 0, fmt.Errorf("found seat %d of row %d, allowed: 1 to %d", number, row, inRow)
}

// speakerNamed returns the index of the loudspeaker of that name.
func speakerNamed(d *project.Design, name string) (int, error) {
	names := make([]string, len(d.Speakers))
	for i, l := range d.Speakers {
		if names[i] = l.Name(); names[i] == name {
			return i, nil
		}
	}
	return 0, fmt.Errorf("found no loudspeaker %q, allowed: %s", name, strings.Join(names, ", "))
}

// metres reads where a section is cut.
func metres(text string) (float64, error) {
	l, err := unit.ParseLength(text, unit.Metre)
	if err != nil {
		return 0, fmt.Errorf("found %q, allowed: where the section is cut, metres", text)
	}
	return float64(l), nil
}

// numbers reads four or five finite numbers with commas between them.
func numbers(text string) ([]float64, error) {
	fields := strings.Split(text, ",")
	if len(fields) != 4 && len(fields) != 5 {
		return nil, fmt.Errorf("found %d numbers, allowed: X,Y,Z,HEADING or X,Y,Z,HEADING,PITCH in metres and degrees, with decimal points", len(fields))
	}
	out := make([]float64, len(fields))
	for i, f := range fields {
		n, err := strconv.ParseFloat(strings.TrimSpace(f), 64)
		plain := strings.Trim(f, "0123456789.+- ") == "" // not 0x1p3, Inf or NaN
		if err != nil || !plain || math.Abs(n) > 1000 {
			return nil, fmt.Errorf("found %q, allowed: a number from -1000 to 1000", f)
		}
		out[i] = n
	}
	return out, nil
}
