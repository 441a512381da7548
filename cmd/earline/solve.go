// SPDX-License-Identifier: MIT

package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"strings"

	"github.com/spf13/cobra"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/solve"
)

// solveFlags are the wishes that the command line can state, as typed.
type solveFlags struct {
	out, system, grid                       string
	elevation, angle                        float64
	shift, step, gap                        string
	unpaired, plane, settle, beyond, bottom bool
	everyone                                bool
	curve, seats                            int
}

// solvers are the words for WHAT, each with what it prints after the proposal.
var solvers = map[string]func(context.Context, *project.Design, *solveFlags, *printer) (*solve.Proposal, error){
	"lift":    solveLift,
	"rows":    solveRows,
	"screen":  solveScreen,
	"heights": solveHeights,
	"layout":  solveLayout,
}

func solveCommand() *cobra.Command {
	var f solveFlags
	c := &cobra.Command{
		Use:   "solve FILE lift|rows|screen|heights|layout",
		Short: "Find what to change so that every ear and eye sees, or prove that it cannot be",
		Long: `Solve proposes a change and prints it: what changes, what it gains and, where the
wish cannot be had, which limit stands against it and by how much.

  lift     least heights of wides, sides and rears over everyone's heads
  rows     least risers, or with --bottom the lowest edge of the picture
  screen   largest picture for a wanted angle
  heights  places of the upper loudspeakers in the ceiling
  layout   rows, picture and loudspeakers for an empty room

FILE is a design, or demo:NAME. Exit status: 0 solved, 1 it cannot be, the nearest
compromise is printed, 2 the file or the command cannot be used.`,
		Args: cobra.ExactArgs(2),
		RunE: func(c *cobra.Command, args []string) error {
			run, ok := solvers[args[1]]
			if !ok {
				return fmt.Errorf("solve %s: allowed is lift, rows, screen, heights or layout", args[1])
			}
			d, err := load(args[0])
			if err != nil {
				return err
			}
			ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
			defer stop()
			p := &printer{w: c.OutOrStdout()}
			prop, err := run(ctx, d, &f, p)
			if err != nil {
				return err
			}
			printProposal(p, prop)
			if p.err != nil {
				return p.err
			}
			if f.out != "" {
				if err := file.Write(f.out, prop.Design); err != nil {
					return err
				}
			}
			if !prop.Solved() {
				return errShort
			}
			return nil
		},
	}
	fs := c.Flags()
	fs.StringVarP(&f.out, "output", "o", "", "file to write the changed design to")
	fs.Float64Var(&f.elevation, "elevation", 0, "degrees: limit of lift (default 30), wanted by heights (default 45)")
	fs.StringVar(&f.shift, "shift", "", "lift: how far a pair may be moved along its wall, such as 30cm")
	fs.BoolVar(&f.unpaired, "unpaired", false, "lift: let mirror pairs hang at different heights")
	fs.BoolVar(&f.plane, "plane", false, "lift: keep fronts, wides and sides on one plane")
	fs.BoolVar(&f.settle, "settle", false, "lift: also lower, to the least height from the ears up")
	fs.BoolVar(&f.everyone, "everyone", false, "lift, rows, layout: for everyone from P5 to P95 at every recline, not the set sitters alone")
	fs.BoolVar(&f.bottom, "bottom", false, "rows: keep the risers, find the picture's lowest edge")
	fs.StringVar(&f.step, "step", "", "rows: risers as whole multiples of this")
	fs.IntVar(&f.curve, "curve", 0, "rows: points of the trade-off between lower edge and last riser")
	fs.Float64Var(&f.angle, "angle", 0, "screen, layout: wanted horizontal angle in degrees (default 45)")
	fs.StringVar(&f.grid, "grid", "", "heights: pitch of joists or tiles, PITCHxPITCH, such as 60cmx60cm")
	fs.StringVar(&f.gap, "gap", "", "heights: least distance to lights, vents and whatever is built in (default 10cm)")
	fs.StringVar(&f.system, "system", "4+5+0", "layout: system of ITU-R BS.2051, by name or letter")
	fs.IntVar(&f.seats, "seats", 6, "layout: how many seats")
	fs.BoolVar(&f.beyond, "beyond", false, "layout: let lift leave the published elevations")
	return c
}

// lengthFlag reads a length that may be left out.
func lengthFlag(name, text string) (unit.Length, error) {
	if text == "" {
		return 0, nil
	}
	l, err := unit.ParseLength(text, unit.Metre)
	if err != nil {
		return 0, fmt.Errorf("--%s: %w", name, err)
	}
	return l, nil
}

func solveLift(ctx context.Context, d *project.Design, f *solveFlags, _ *printer) (*solve.Proposal, error) {
	shift, err := lengthFlag("shift", f.shift)
	if err != nil {
		return nil, err
	}
	return solve.Lift(ctx, d, solve.LiftOptions{Elevation: unit.Degrees(f.elevation), Shift: shift,
		Unpaired: f.unpaired, Plane: f.plane, Settle: f.settle, People: solve.People{Everyone: f.everyone}})
}

func solveRows(ctx context.Context, d *project.Design, f *solveFlags, p *printer) (*solve.Proposal, error) {
	step, err := lengthFlag("step", f.step)
	if err != nil {
		return nil, err
	}
	o := solve.RowsOptions{Step: step, Curve: f.curve, People: solve.People{Everyone: f.everyone}}
	if f.bottom {
		o.Vary = solve.Bottom
	}
	r, err := solve.Rows(ctx, d, o)
	if err != nil {
		return nil, err
	}
	show := func(v float64) string { return unit.Length(v).Format(d.Units != project.Imperial) }
	for i, n := range r.Rows {
		p.printf("Row %d: needs %s, proposed %s", i+1, show(n.Least), show(n.Riser))
		if n.Steps > 0 {
			p.printf(" in %d steps", n.Steps)
		}
		p.printf("\n")
	}
	for _, t := range r.Curve {
		p.printf("Lower edge at %s: last riser %s", show(t.Bottom), show(t.LastRiser))
		if !t.OK {
			p.printf(", which is not enough")
		}
		p.printf("\n")
	}
	return &r.Proposal, nil
}

func solveScreen(ctx context.Context, d *project.Design, f *solveFlags, p *printer) (*solve.Proposal, error) {
	s, err := solve.Screen(ctx, d, solve.ScreenOptions{Angle: unit.Degrees(f.angle)})
	if err != nil {
		return nil, err
	}
	show := func(v float64) string { return unit.Length(v).Format(d.Units != project.Imperial) }
	for _, z := range s.Sizes {
		if !z.OK {
			p.printf("%4g:1  none fits\n", z.Aspect)
			continue
		}
		p.printf("%4g:1  %s wide, %s high, lower edge %s, %.1f°, limited by %s\n",
			z.Aspect, show(z.Width), show(z.Height), show(z.Bottom), z.Angle, z.Limit)
	}
	return &s.Proposal, nil
}

func solveHeights(ctx context.Context, d *project.Design, f *solveFlags, _ *printer) (*solve.Proposal, error) {
	gap, err := lengthFlag("gap", f.gap)
	if err != nil {
		return nil, err
	}
	o := solve.HeightsOptions{Elevation: unit.Degrees(f.elevation), Gap: gap}
	if f.grid != "" {
		a, b, ok := strings.Cut(strings.ToLower(f.grid), "x")
		if !ok {
			return nil, fmt.Errorf("--grid %s: allowed is PITCHxPITCH, such as 60cmx60cm", f.grid)
		}
		if o.Grid.PitchX, err = lengthFlag("grid", strings.TrimSpace(a)); err != nil {
			return nil, err
		}
		if o.Grid.PitchY, err = lengthFlag("grid", strings.TrimSpace(b)); err != nil {
			return nil, err
		}
	}
	return solve.Heights(ctx, d, o)
}

func solveLayout(ctx context.Context, d *project.Design, f *solveFlags, _ *printer) (*solve.Proposal, error) {
	l, err := solve.Layout(ctx, d, solve.LayoutOptions{System: f.system, Seats: f.seats,
		Angle: unit.Degrees(f.angle), Beyond: f.beyond, People: solve.People{Everyone: f.everyone}})
	if err != nil {
		return nil, err
	}
	return &l.Proposal, nil
}

// printProposal prints a proposal for people.
func printProposal(p *printer, prop *solve.Proposal) {
	u := prop.Design.Units
	if len(prop.Changes) == 0 {
		p.printf("Nothing to change.\n")
	}
	for _, c := range prop.Changes {
		p.printf("%s\n", c.Sentence(u))
	}
	counts := func(name string, c solve.Counts) {
		p.printf("%-7s %4d clear %4d tight %4d blocked; %d seats miss some of the picture; %d cannot be built\n",
			name, c.Clear, c.Tight, c.Blocked, c.PictureBlocked, c.Findings)
	}
	p.printf("\n")
	counts("before", prop.Before)
	counts("after", prop.After)
	if prop.Solved() {
		p.printf("\nSolved.\n")
	} else {
		p.printf("\nThis cannot be had; the above is the nearest compromise:\n")
		for _, o := range prop.Obstacles() {
			p.printf("- %s\n", o.Text)
		}
	}
	if prop.Note != "" {
		p.printf("\n%s\n", prop.Note)
	}
}
