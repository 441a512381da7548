// SPDX-License-Identifier: MIT

package main

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/layout"
	"earline/project/solve"
	"earline/project/system"
)

// solveFlags are the wishes that the command line can state.
type solveFlags struct {
	answer
	out, system                     string
	keep                            layout.Keep
	width                           unit.Length
	aspect                          float64
	grid                            solve.Grid
	elevation, angle                unit.Degrees
	shift, step, gap, allowance     unit.Length
	unpaired, plane, settle, bottom bool
	raise                           bool
	keepFronts, everyone            bool
	curve, seats, rows              int
	walls                           []string
	module, lightGap, depth         unit.Length
	absorb, diffuse                 string
}

// solver is one thing to find.
type solver struct {
	name, line string // as typed, and what it finds
	flags      string // those that mean something for it
	run        func(context.Context, *project.Design, *solveFlags, *printer) (*solve.Proposal, error)
}

func solvers() []solver {
	return []solver{
		{"lift", "least heights of wides, sides and rears over everyone's heads, and of fronts behind the screen", "elevation shift allowance keep-fronts unpaired plane settle curve everyone", solveLift},
		{"rows", "least risers, or with --bottom the lowest edge of the picture", "bottom step settle curve everyone", solveRows},
		{"screen", "largest picture for a wanted angle, with --raise the rows raised for it", "angle aspect raise", solveScreen},
		{"heights", "places of the upper loudspeakers in the ceiling", "elevation grid gap", solveHeights},
		{"panels", "panels on walls and ceiling for a wanted reverberation time and the first reflections", "walls module gap light-gap depth absorb diffuse", solvePanels},
		{"projector", "place of the lens for the zoom and shift of every shape, its beam and its cabinet clear", "", solveProjector},
		{"layout", "rows, picture and loudspeakers together, for the room as it is", "system seats rows keep width aspect everyone", solveLayout},
	}
}

func solverNames() (names []string) {
	for _, s := range solvers() {
		names = append(names, s.name)
	}
	return names
}

func solveCommand() *cobra.Command {
	var f solveFlags
	var list strings.Builder
	for _, s := range solvers() {
		fmt.Fprintf(&list, "  %-9s %s\n", s.name, s.line)
	}
	c := &cobra.Command{
		Use:   "solve FILE " + strings.Join(solverNames(), "|"),
		Short: "Find what to change so that every ear and eye sees, or prove that it cannot be",
		Long: `Solve proposes a change and prints it: what changes, what it gains and, where it
is not possible, what stands in the way and by how much.

` + list.String() + `
Exit status: 0 solved, 1 not possible, with the nearest compromise, 2 the file
or the command cannot be used.` + fileNote,
		Args: func(c *cobra.Command, args []string) error {
			switch {
			case len(args) == 0:
				return fmt.Errorf("solve needs a FILE and what to find: %s", strings.Join(solverNames(), ", "))
			case len(args) == 1:
				return refuse("solve", "nothing after "+strconv.Quote(args[0]), strings.Join(solverNames(), ", "))
			case len(args) > 2:
				return refuse("solve", quoted(args), "one FILE and one thing to find")
			}
			return nil
		},
		ValidArgsFunction: func(c *cobra.Command, args []string, start string) ([]cobra.Completion, cobra.ShellCompDirective) {
			if len(args) == 1 {
				return completeWords(solverNames)(c, args, start)
			}
			return completeFile(c, args, start)
		},
		RunE: func(c *cobra.Command, args []string) error {
			s, err := f.check(c, args[1])
			if err != nil {
				return err
			}
			d, err := load(c, args[0])
			if err != nil {
				return err
			}
			return about(inMessages(args[0]), runSolve(c, d, s, &f))
		},
	}
	f.quietFlag(c)
	fs := c.Flags()
	fs.StringVarP(&f.out, "output", "o", "", "`FILE` to write the changed design to, or -")
	degrees := notZero(unit.ParseDegrees, "an angle other than 0, or no flag for the default")
	addFlag(c, &f.elevation, "elevation", "DEGREES", "", "limit of lift for sides and rears (default 20, 25 at most), wanted by heights (default 45)", degrees)
	addFlag(c, &f.shift, "shift", "LENGTH", "", "lift: how far a pair may be moved along its wall, such as 30cm", anyLength)
	addFlag(c, &f.allowance, "allowance", "LENGTH", "", "lift: how far what it lifts may be built off its place and stay clear (default 10 mm), 0 for none", allowance)
	fs.BoolVar(&f.keepFronts, "keep-fronts", false, "lift: leave the fronts behind the screen where they are")
	fs.BoolVar(&f.unpaired, "unpaired", false, "lift: let mirror pairs hang at different heights")
	fs.BoolVar(&f.plane, "plane", false, "lift: keep fronts, wides and sides on one plane")
	fs.BoolVar(&f.settle, "settle", false, "lift, rows: also lower, to the least that will do")
	fs.BoolVar(&f.everyone, "everyone", false, "lift, rows, layout: for everyone from P5 to P95 at every recline, not the set sitters alone")
	fs.BoolVar(&f.raise, "raise", false, "screen: raise the rows too where that makes the picture wider")
	fs.BoolVar(&f.bottom, "bottom", false, "rows: keep the risers, find the picture's lowest edge")
	addFlag(c, &f.step, "step", "LENGTH", "", "rows: risers as whole multiples of this", anyLength)
	addFlag(c, &f.curve, "curve", "POINTS", "", "rows: points of the trade-off between lower edge and last riser; lift: any number shows what each elevation limit from 10 to 30 comes to", count)
	addFlag(c, &f.angle, "angle", "DEGREES", "", "screen: wanted horizontal angle (default 45)", degrees)
	addFlag(c, &f.grid, "grid", "PITCHxPITCH", "", "heights: pitch of joists or tiles, such as 60cmx60cm", grid)
	addFlag(c, &f.gap, "gap", "LENGTH", "", "heights: least distance to lights, vents and whatever is built in (default 10 cm); panels: joint between two (default 10 mm)",
		notZero(anyLength, "more than 0, or no flag for the default"))
	addFlag(c, &f.walls, "walls", "NAMES", "", "panels: which walls, such as \"left wall,right wall,ceiling\" or their numbers, 0 for the ceiling (default all but the screen's)", wallList)
	addFlag(c, &f.module, "module", "LENGTH", "", "panels: the widest a panel may be (default 600 mm)", notZero(anyLength, "more than 0, or no flag for the default"))
	addFlag(c, &f.lightGap, "light-gap", "LENGTH", "", "panels: width of a joint with light in it (default none)", anyLength)
	addFlag(c, &f.depth, "depth", "LENGTH", "", "panels: how far they stand off the wall (default 60 mm)", notZero(anyLength, "more than 0, or no flag for the default"))
	addFlag(c, &f.absorb, "absorb", "ID", "", "panels: material of those that absorb (default "+solve.ClothPanel+")", anyText)
	addFlag(c, &f.diffuse, "diffuse", "ID", "", "panels: material of those that diffuse (default the design's first that scatters, or wood)", anyText)
	addFlag(c, &f.system, "system", "NAME", "", "layout: list of loudspeakers, such as 9.1.6 or a letter of ITU-R BS.2051 (default the design's own)", anyText)
	addFlag(c, &f.seats, "seats", "COUNT", "", "layout: how many seats (default as many as there are)", notZero(count, "a whole number from 1, or no flag for as many as there are"))
	addFlag(c, &f.rows, "rows", "COUNT", "", "layout: how many rows (default as many as suit the room)", notZero(count, "a whole number from 1, or no flag for as many as suit"))
	addFlag(c, &f.keep, "keep", "WHAT", "", "layout: what stays as it is: "+strings.Join(layout.KeepNames(), ", ")+", with commas between", layout.ParseKeep)
	addFlag(c, &f.width, "width", "LENGTH", "", "layout: width of the picture (default as the wall and the eyes allow)", notZero(anyLength, "more than 0, or no flag for what the room allows"))
	addFlag(c, &f.aspect, "aspect", "RATIO", "", "layout, screen: shape of the picture, such as 2.39 (layout: default the best of 1.78, 1.85, 2.39; screen: the design's)", aspect)
	_ = c.RegisterFlagCompletionFunc("system", completeWords(system.Names))
	_ = c.RegisterFlagCompletionFunc("keep", completeWords(layout.KeepNames))
	return c
}

// check returns what is to be found. It refuses flags that say nothing about it.
func (f *solveFlags) check(c *cobra.Command, what string) (solver, error) {
	for _, s := range solvers() {
		if s.name != what {
			continue
		}
		for _, other := range solvers() {
			for _, name := range strings.Fields(other.flags) {
				if c.Flags().Changed(name) && !hasWord(s.flags, name) {
					return s, refuse("--"+name, "with "+what, "with "+strings.Join(solversWith(name), ", "))
				}
			}
		}
		if err := named(c, "output"); err != nil {
			return s, err
		}
		return s, f.one(c, "output")
	}
	return solver{}, refuse("solve", strconv.Quote(what), strings.Join(solverNames(), ", "))
}

func solversWith(flag string) (names []string) {
	for _, s := range solvers() {
		if hasWord(s.flags, flag) {
			names = append(names, s.name)
		}
	}
	return names
}

func hasWord(words, word string) bool { return strings.Contains(" "+words+" ", " "+word+" ") }

func runSolve(c *cobra.Command, d *project.Design, s solver, f *solveFlags) error {
	ctx, stop := interruptible(c)
	defer stop()
	var words strings.Builder
	p := &printer{&words}
	prop, err := s.run(ctx, d, f, p)
	if err != nil {
		return flagOf(s, err)
	}
	printProposal(p, prop)
	if err := f.give(c, nil, func(p *printer) { p.printf("%s", words.String()) }); err != nil {
		return err
	}
	if f.out != "" {
		if err := writeDesign(c, f.out, prop.Design); err != nil {
			return err
		}
	}
	if !prop.Solved() {
		return errShort
	}
	return nil
}

// flagOf puts the flag in the place of the option that a solver refuses: "lift
// shift" is --shift.
func flagOf(s solver, err error) error {
	var fault *project.Fault
	if !errors.As(err, &fault) {
		return err
	}
	words := strings.Fields(fault.Field)
	if len(words) < 2 || words[0] != s.name || !hasWord(s.flags, words[1]) {
		return err
	}
	return refuse("--"+words[1], fault.Found, fault.Allowed)
}

func solveLift(ctx context.Context, d *project.Design, f *solveFlags, p *printer) (*solve.Proposal, error) {
	o := solve.LiftOptions{Elevation: f.elevation, Shift: f.shift, Allowance: f.allowance, KeepFronts: f.keepFronts,
		Unpaired: f.unpaired, Plane: f.plane, Settle: f.settle, People: solve.People{Everyone: f.everyone}}
	if f.curve > 0 {
		points, err := solve.LiftCurve(ctx, d, o)
		if err != nil {
			return nil, err
		}
		printLimits(p, points)
	}
	return solve.Lift(ctx, d, o)
}

// allowance reads a length; 0 is none, which to the solver is less than 0.
func allowance(text string) (unit.Length, error) {
	v, err := anyLength(text)
	if err == nil && v == 0 {
		v = -unit.Millimetre
	}
	return v, err
}

func solveRows(ctx context.Context, d *project.Design, f *solveFlags, p *printer) (*solve.Proposal, error) {
	o := solve.RowsOptions{Step: f.step, Settle: f.settle, Curve: f.curve, People: solve.People{Everyone: f.everyone}}
	if f.bottom {
		o.Vary = solve.Bottom
	}
	r, err := solve.Rows(ctx, d, o)
	if err != nil {
		return nil, err
	}
	printRows(p, r, d.Units)
	return &r.Proposal, nil
}

func solveScreen(ctx context.Context, d *project.Design, f *solveFlags, p *printer) (*solve.Proposal, error) {
	s, err := solve.Screen(ctx, d, solve.ScreenOptions{Angle: f.angle, Aspect: f.aspect, Raise: f.raise, Ways: true})
	if err != nil {
		return nil, err
	}
	printSizes(p, s, d.Units)
	return &s.Proposal, nil
}

func solveHeights(ctx context.Context, d *project.Design, f *solveFlags, _ *printer) (*solve.Proposal, error) {
	return solve.Heights(ctx, d, solve.HeightsOptions{Elevation: f.elevation, Gap: f.gap, Grid: f.grid})
}

func solveLayout(ctx context.Context, d *project.Design, f *solveFlags, p *printer) (*solve.Proposal, error) {
	l, err := layout.Plan(ctx, d, layout.Wish{System: f.system, Seats: f.seats, Rows: f.rows, Keep: f.keep,
		Width: f.width, Aspect: f.aspect, People: solve.People{Everyone: f.everyone}})
	if err != nil {
		return nil, err
	}
	printOptions(p, l.Options, d.Units)
	return &l.Proposal, nil
}

func solveProjector(ctx context.Context, d *project.Design, _ *solveFlags, p *printer) (*solve.Proposal, error) {
	r, err := solve.Projector(ctx, d, solve.ProjectorOptions{})
	if err != nil {
		return nil, err
	}
	if len(r.Places) > 0 {
		p.printf("Places for the lens, the best first\n")
		for _, line := range r.Summary(d.Units != project.Imperial) {
			p.printf("  %s\n", line)
		}
		p.printf("\n")
	}
	return &r.Proposal, nil
}

// aspect reads the shape of a picture.
func aspect(text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.TrimSuffix(text, ":1"), 64)
	if err != nil || !(v > 0) {
		return 0, fmt.Errorf("found %q, allowed: width over height, such as 2.39", text)
	}
	return v, nil
}

func solvePanels(ctx context.Context, d *project.Design, f *solveFlags, p *printer) (*solve.Proposal, error) {
	walls, err := wallsNamed(d, f.walls)
	if err != nil {
		return nil, err
	}
	r, err := solve.Panels(ctx, d, solve.PanelsOptions{Walls: walls, Module: f.module, Gap: f.gap, LightGap: f.lightGap, Depth: f.depth, Absorb: f.absorb, Diffuse: f.diffuse})
	if err != nil {
		return nil, err
	}
	printPanels(p, r)
	return &r.Proposal, nil
}

// wallList reads names or numbers of walls with commas between.
func wallList(text string) ([]string, error) {
	var names []string
	for _, n := range strings.Split(text, ",") {
		if n = strings.TrimSpace(n); n == "" {
			return nil, fmt.Errorf("found %q, allowed: names of walls with commas between", text)
		}
		names = append(names, n)
	}
	return names, nil
}

// wallsNamed returns the numbers of walls that were named: as "left wall", "left", by
// number, or the ceiling.
func wallsNamed(d *project.Design, names []string) ([]int, error) {
	var out []int
	for _, n := range names {
		number, err := strconv.Atoi(n)
		w := d.Room.WallNamed(n)
		if w == 0 {
			w = d.Room.WallNamed(n + " wall")
		}
		switch {
		case err == nil && number >= 0 && number <= len(d.Room.Footprint):
			out = append(out, number)
		case w > 0:
			out = append(out, w)
		case n == "ceiling":
			out = append(out, 0)
		default:
			return nil, refuse("--walls", strconv.Quote(n), strings.Join(d.Room.WallNames(), ", ")+", ceiling")
		}
	}
	return out, nil
}
