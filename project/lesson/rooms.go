// SPDX-License-Identifier: MIT

package lesson

import (
	"embed"
	"fmt"

	"earline/project"
	"earline/project/file"
)

// The rooms that lessons are made of. They are kept, not planned anew: planning takes
// seconds, and its sums may differ in the last digit between systems.
//
//go:embed rooms/*.earline
var kept embed.FS

// sound are the rooms in which nothing is to be settled.
var sound = [...]string{
	"3-seats-5.1.4", "4-seats-7.1.4", "6-seats-5.1.2", "6-seats-7.1", "6-seats-7.1.4",
	"6-seats-wide", "7-seats-9.1.4", "8-seats-7.1.4", "10-seats-9.1.6", "12-seats-9.1.4",
}

// dilemma is a room whose best known answer leaves something to settle.
type dilemma struct {
	room     string
	question string // what is to be decided
	why      string // why the best answer leaves what it leaves
	fault    kind
	answers  []answer // what could be decided; their outcome is worked out when the lesson is marked
}

// answer is one way out of a dilemma.
type answer struct {
	name string
	do   func(*project.Design)
}

func abreast(room string, elevations ...float64) dilemma {
	d := dilemma{
		room:     room,
		question: "People sit many abreast, and heads stand in the way of the sides. Hang the sides 15°, 20° or 25° up?",
		why:      "Heads beside the outer seats ask for sides that hang high, and the heights are then near to them. Whoever hangs them lower gives seats away. With fewer seats abreast, or further apart, neither need be given up.",
		fault:    kind{name: "sides at 15°", part: "side", does: func(d *project.Design, _ *draw) bool { return raise(d, 15) }},
	}
	for _, e := range elevations {
		d.answers = append(d.answers, answer{fmt.Sprintf("sides %g° up", e), func(d *project.Design) { raise(d, e) }})
	}
	return d
}

var dilemmas = [...]dilemma{
	abreast("6-abreast", 15, 20, 25),
	abreast("7-abreast", 15, 20, 25),
	{
		room:     "8-seats-low-ceiling",
		question: "The ceiling is low, and the second row does not see the whole picture. Raise the row, or the picture's lower edge?",
		why:      "Under a low ceiling the riser ends at the headroom, and the picture at the ceiling. What heads hide of the lower part of the picture they hide of the fronts behind it too, and so the fronts stand higher on the picture than one would like.",
		fault:    kind{name: "picture too low", part: "picture", does: func(d *project.Design, r *draw) bool { return lowerPicture(d, r.between(110, 220)) }},
		answers: []answer{
			{"row 2 up by 0.1 m", func(d *project.Design) { raiseRow(d, 0.1) }},
			{"picture and fronts up by 0.1 m", func(d *project.Design) { lowerPicture(d, -0.1) }},
			{"each up by 0.05 m", func(d *project.Design) { raiseRow(d, 0.05); lowerPicture(d, -0.05) }},
		},
	},
}

// roomOf returns a copy of a room that is kept.
func roomOf(name string) (*project.Design, error) {
	path := "rooms/" + name + ".earline"
	data, err := kept.ReadFile(path)
	if err != nil {
		return nil, err
	}
	d, err := file.Decode(data, path)
	if err != nil {
		return nil, err
	}
	d.Name = ""
	return d, nil
}
