// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/newroom"
)

func newCommand() *cobra.Command {
	var out string
	var imperial bool
	w := newroom.Usual()
	var room roomSize
	c := &cobra.Command{
		Use:   "new",
		Short: "Plan a whole room from its size, seats and system",
		Long: `New plans a room with rows, chairs, screen, loudspeakers, subwoofers and a door, so
that nothing is in the way and, wherever possible, no placement rule is broken, and
writes it to a file.

SIZE is length x width x height, such as 5.2x3.9x2.5 or 17ftx13ftx8ft; bare numbers are
metres. The systems are ` + strings.Join(newroom.SystemNames(), ", ") + `.

Exit status: 0 the room is written, 2 the room cannot be planned as asked; the answer
says what can.`,
		Args: takes(0, 0),
		RunE: func(c *cobra.Command, _ []string) error {
			if out == "" {
				return refuse("--output", "an empty name", "a file's name")
			}
			w.Length, w.Width, w.Height = room.length, room.width, room.height
			if imperial {
				w.Units = project.Imperial
			}
			d, err := newroom.Design(w)
			if err != nil {
				return err
			}
			return createDesign(c, out, d)
		},
	}
	addFlag(c, &room, "size", "SIZE", fmt.Sprintf("%gx%gx%g", float64(w.Length), float64(w.Width), float64(w.Height)), "length x width x height", readRoomSize)
	addFlag(c, &w.Seats, "seats", "COUNT", strconv.Itoa(w.Seats), "how many seats", notZero(count, "a whole number from 1"))
	addFlag(c, &w.Rows, "rows", "COUNT", "", "how many rows (default as many as suit the room)", notZero(count, "a whole number from 1, or no flag for as many as suit"))
	addFlag(c, &w.System, "system", "NAME", w.System, "loudspeaker system", oneOf(newroom.SystemNames()...))
	f := c.Flags()
	f.BoolVar(&imperial, "imperial", false, "show lengths in feet and inches")
	f.StringVarP(&out, "output", "o", "new.earline", "`FILE` to write")
	return c
}

// roomSize is how long, wide and high a room is.
type roomSize struct{ length, width, height unit.Length }

// readRoomSize reads LENGTHxWIDTHxHEIGHT; the limits are those of package newroom.
func readRoomSize(text string) (r roomSize, err error) {
	parts := strings.Split(strings.ReplaceAll(strings.ToLower(text), "×", "x"), "x")
	to := [...]*unit.Length{&r.length, &r.width, &r.height}
	if len(parts) != len(to) {
		return r, found(text, "LENGTHxWIDTHxHEIGHT, such as 5.2x3.9x2.5")
	}
	for i, part := range parts {
		if *to[i], err = anyLength(strings.TrimSpace(part)); err != nil {
			return roomSize{}, err
		}
	}
	return r, nil
}
