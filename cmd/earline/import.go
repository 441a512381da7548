// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/mesh"
)

// importFlags are what the command line can say of a backdrop.
type importFlags struct {
	out, name string
	unit      string
	at        project.Point
	turn      unit.Degrees
	obstacle  bool
}

func importCommand() *cobra.Command {
	var f importFlags
	c := &cobra.Command{
		Use:   "import FILE MESH -o NEW.earline",
		Short: "Put a mesh or the lines of a plan into the room",
		Long: `Import reads a mesh (OBJ, glTF) or the lines of a plan (DXF) that another program
made, and writes the design with it as a backdrop: drawn in the room and, with
--obstacle, in the way of sight.

glTF and OBJ have y up: their x runs to the right and their z back. DXF has z up, its x
runs back: --turn 90 for a plan that has the screen at its top. The unit is what the file says, else the one in which it
is most like a room in size; --unit says it.` + fileNote,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) != 2 {
				return refuse(c.Name(), counted(len(args), "word"), "a FILE and a MESH")
			}
			return nil
		},
		ValidArgsFunction: func(c *cobra.Command, args []string, start string) ([]cobra.Completion, cobra.ShellCompDirective) {
			if len(args) == 0 {
				return completeFiles(c, args, start)
			}
			var words []cobra.Completion
			for _, ending := range mesh.Endings() {
				words, _ = withFiles(words, start, ending)
			}
			return words, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(c *cobra.Command, args []string) error { return runImport(c, args[0], args[1], &f) },
	}
	units := make([]string, 0, 5)
	for _, u := range project.BackdropUnits() {
		units = append(units, string(u))
	}
	c.Flags().StringVarP(&f.out, "output", "o", "", "`FILE` to write the design with the backdrop to, or -")
	c.Flags().StringVar(&f.name, "name", "", "what the backdrop is `called` (default the name of its file)")
	addFlag(c, &f.unit, "unit", "UNIT", "", "what the numbers in it are in: "+strings.Join(units, ", ")+" (default what it says, else what fits a room)", oneOf(units...))
	addFlag(c, &f.at, "at", "X,Y,Z", "", "where its origin lies: from the screen wall, from the left wall, above the floor (default 0,0,0)", position)
	addFlag(c, &f.turn, "turn", "ANGLE", "", "how far it is turned about the upright line through its origin, from x towards y", turned)
	c.Flags().BoolVar(&f.obstacle, "obstacle", false, "its triangles stand in the way of sight")
	_ = c.RegisterFlagCompletionFunc("unit", completeWords(func() []string { return units }))
	return c
}

// position reads three lengths.
func position(text string) (p project.Point, err error) {
	parts := strings.Split(text, ",")
	to := [...]*unit.Length{&p.X, &p.Y, &p.Z}
	if len(parts) != len(to) {
		return p, found(text, "X,Y,Z, such as 1.2,0,45cm, with decimal points")
	}
	within := lengthIn(-100, 100)
	for i, part := range parts {
		if *to[i], err = within(strings.TrimSpace(part)); err != nil {
			return p, err
		}
	}
	return p, nil
}

// turned reads an angle of a whole turn at most.
func turned(text string) (unit.Degrees, error) {
	a, err := unit.ParseDegrees(text)
	if err == nil && !(a >= -360 && a <= 360) {
		err = found(text, "-360 to 360 degrees")
	}
	return a, err
}

func runImport(c *cobra.Command, design, name string, f *importFlags) error {
	if f.out == "" {
		return refuse("--output", "none", "the name of the .earline file to write, or -")
	}
	d, err := load(c, design)
	if err != nil {
		return err
	}
	data, err := read(c, name, mesh.MaxSize)
	if err != nil {
		return err
	}
	m, err := mesh.Read(data, name)
	if err != nil {
		return err
	}
	if f.name == "" {
		f.name = mesh.Called(filepath.Base(name))
	}
	b, scaled, err := m.Backdrop(f.name, project.BackdropUnit(f.unit))
	if err != nil {
		return err
	}
	b.At, b.Turn, b.Obstacle = f.at, f.turn, f.obstacle
	d.Backdrops = append(d.Backdrops, b)
	d.Identify()
	if err := writeDesign(c, f.out, d); err != nil {
		return err
	}
	if f.out == standard {
		return nil
	}
	fmt.Fprintf(c.OutOrStdout(), "%s: %s\n", escaped(f.out), escaped(b.Words()))
	for _, line := range m.Words(scaled, d.Units) {
		fmt.Fprintf(c.OutOrStdout(), "  %s\n", escaped(line))
	}
	return nil
}
