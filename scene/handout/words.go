// SPDX-License-Identifier: MIT

package handout

import (
	"fmt"
	"math"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/sight"
)

// ForWhom says in one sentence for which people a plan was checked.
func ForWhom(s project.Sitters) string {
	return fmt.Sprintf("Checked for a listener taller, sitting, than %.0f of 100 people, behind people taller than %.0f of 100, %.0f of 100 of them women.",
		s.Listener, s.Others, 100*s.Women)
}

// size prints a length for people who do not measure: to the centimetre or the inch.
func size(v float64, u project.Units) string {
	if u == project.Imperial {
		const inch = 0.0254
		return unit.Length(math.Round(v/inch) * inch).Format(false)
	}
	return fmt.Sprintf("%.2f m", v)
}

// of says how many of all: "all 12", "11 of 12", "none of 12".
func of(n, all int) string {
	switch {
	case all > 0 && n == all:
		return fmt.Sprintf("all %d", all)
	case n == 0:
		return fmt.Sprintf("none of the %d", all)
	}
	return fmt.Sprintf("%d of the %d", n, all)
}

// seeing returns how many seats see the whole picture, and from how many every
// loudspeaker is heard straight.
func seeing(r *sight.Result) (picture, sound int) {
	for i := range r.Seats {
		if r.Views[i].Verdict != sight.Blocked {
			picture++
		}
		heard := true
		for k := range r.Speakers {
			heard = heard && r.Pair(i, k).Verdict != sight.Blocked
		}
		if heard {
			sound++
		}
	}
	return picture, sound
}

// facts are what a client is told of a plan, in plain words.
func facts(d *project.Design, r *sight.Result) []string {
	u := d.Units
	picture, sound := seeing(r)
	n := len(r.Seats)
	lo, hi := d.Room.Polygon().Bounds()
	out := []string{
		fmt.Sprintf("The room is %s long and %s wide, and seats %d.", size(hi.X-lo.X, u), size(hi.Y-lo.Y, u), n),
		fmt.Sprintf("The picture is %s wide and %s high.", size(float64(d.Screen.Width), u), size(d.Screen.Height(), u)),
	}
	if n > 0 {
		out = append(out,
			fmt.Sprintf("The whole picture is seen from %s seats.", of(picture, n)),
			fmt.Sprintf("Every loudspeaker is heard straight, with no head in the way, from %s seats.", of(sound, n)))
	}
	mains, heights, subs := 0, 0, 0
	for _, sp := range r.Speakers {
		switch {
		case sp.Spec.Subwoofer():
			subs++
		case sp.Label[0] == 'U' || sp.Label[0] == 'T':
			heights++
		default:
			mains++
		}
	}
	text := fmt.Sprintf("%s at ear height", count(mains, "loudspeaker", "loudspeakers"))
	if heights > 0 {
		text += fmt.Sprintf(", %d overhead", heights)
	}
	if subs > 0 {
		text += fmt.Sprintf(", and %s for the lowest notes", count(subs, "subwoofer", "subwoofers"))
	}
	return append(out, upper(text)+".")
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func upper(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}
