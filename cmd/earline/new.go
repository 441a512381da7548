// SPDX-License-Identifier: MIT

package main

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"github.com/spf13/cobra"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/disk"
	"earline/project/file"
	"earline/project/newroom"
)

func newCommand() *cobra.Command {
	var out, size string
	var imperial bool
	w := newroom.Usual()
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
			if size != "" {
				if err := parseRoomSize(size, &w); err != nil {
					return err
				}
			}
			if imperial {
				w.Units = project.Imperial
			}
			d, err := newroom.Design(w)
			if err != nil {
				return err
			}
			data, err := file.Encode(d)
			if err != nil {
				return err
			}
			err = disk.Create(out, data)
			if errors.Is(err, fs.ErrExist) {
				return fmt.Errorf("%s: is there already; give another name with -o", out)
			}
			if err != nil {
				return err
			}
			fmt.Fprintln(c.OutOrStdout(), out)
			return nil
		},
	}
	f := c.Flags()
	f.StringVar(&size, "size", "", fmt.Sprintf("`SIZE`: length x width x height (default %gx%gx%g m)", float64(w.Length), float64(w.Width), float64(w.Height)))
	f.IntVar(&w.Seats, "seats", w.Seats, "how many seats")
	f.IntVar(&w.Rows, "rows", 0, "how many rows (default as many as suit the room)")
	f.StringVar(&w.System, "system", w.System, "loudspeaker system: its `NAME`")
	f.BoolVar(&imperial, "imperial", false, "show lengths in feet and inches")
	f.StringVarP(&out, "output", "o", "new.earline", "`FILE` to write")
	return c
}

// parseRoomSize reads length, width and height.
func parseRoomSize(text string, w *newroom.Wish) error {
	parts := strings.Split(strings.ToLower(text), "x")
	to := [...]*unit.Length{&w.Length, &w.Width, &w.Height}
	if len(parts) != len(to) {
		return fmt.Errorf("--size %s: allowed is LENGTHxWIDTHxHEIGHT, such as 5.2x3.9x2.5", text)
	}
	for i, part := range parts {
		l, err := unit.ParseLength(strings.TrimSpace(part), unit.Metre)
		if err != nil {
			return fmt.Errorf("--size %s: %w", text, err)
		}
		*to[i] = l
	}
	return nil
}
