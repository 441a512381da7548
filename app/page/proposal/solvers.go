// SPDX-License-Identifier: MIT

package proposal

import (
	"context"
	"fmt"
	"strings"

	"earline/app/ask"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/layout"
	"earline/project/practice"
	"earline/project/solve"
	"earline/project/system"
)

// solver is an entry of the menu Solve.
type solver struct {
	id, name, does string
	// ask asks for the options of a design of that many seats, and returns what works
	// with them once they are read.
	ask func(f *ask.Options, seats int) solverFunc
}

// solverFunc works a proposal out.
type solverFunc func(context.Context, *project.Design, practice.Standard, solve.Progress) (*solve.Proposal, solverExtras, error)

// solverExtras is what else a solver found, for the page of its proposal.
type solverExtras struct {
	words string           // shown below the proof
	trade []solve.TradeOff // between the picture's lower edge and the risers
	// limits are what other limits of elevation come to, picked the one that is proposed.
	limits []solve.LiftPoint
	picked unit.Degrees
	// options are plans to choose from, chosen the one that is proposed.
	options []layout.Option
	chosen  int
}

// solvers are the entries of the menu Solve, in order.
func solvers() []solver {
	return []solver{
		{"lift", "Lift sides and rears", "Raises loudspeakers to the least heights at which every ear sees them.",
			func(f *ask.Options, _ int) solverFunc {
				std := practice.Standard{}
				o := solve.LiftOptions{Elevation: unit.Degrees(std.Elevation(practice.Side).Accepted.Most()),
					Allowance: unit.Length(std.BuildAllowance().Accepted.Least())}
				fronts := true
				f.Degrees("Elevation at most", &o.Elevation)
				f.Length("Build allowance", &o.Allowance)
				f.Length("Shift along the wall at most", &o.Shift)
				f.Tick("Raise fronts behind the screen too", &fronts)
				f.Tick(forEveryone, &o.Everyone)
				f.Tick("Allow lowering as well", &o.Settle)
				f.Tick("Front, wides and sides on one rising plane", &o.Plane)
				f.Tick("Allow left and right to differ", &o.Unpaired)
				return func(ctx context.Context, d *project.Design, std practice.Standard, p solve.Progress) (*solve.Proposal, solverExtras, error) {
					o.Progress, o.Standard, o.KeepFronts = p, std, !fronts
					if o.Allowance == 0 { // which to the solver means the usual one
						o.Allowance = -unit.Millimetre
					}
					r, err := solve.Lift(ctx, d, o)
					if err != nil || o.Everyone { // a curve for everyone takes too long
						return r, solverExtras{}, err
					}
					limits, err := solve.LiftCurve(ctx, d, o)
					return r, solverExtras{limits: limits, picked: o.Elevation}, err
				}
			}},
		{"heights", "Heights", "Places height loudspeakers on the ceiling at the directions their labels call for.",
			func(f *ask.Options, _ int) solverFunc {
				o := solve.HeightsOptions{Elevation: 45, Gap: 100 * unit.Millimetre}
				f.Degrees("Elevation", &o.Elevation)
				f.Length("Ceiling grid, back (0 m: free)", &o.Grid.PitchX)
				f.Length("Ceiling grid, across (0 m: free)", &o.Grid.PitchY)
				f.Length("Gap to lights, vents, soffits", &o.Gap)
				return func(ctx context.Context, d *project.Design, std practice.Standard, p solve.Progress) (*solve.Proposal, solverExtras, error) {
					o.Progress, o.Standard = p, std
					if o.Gap == 0 { // which to the solver means the usual one
						o.Gap = unit.Millimetre / 1000
					}
					r, err := solve.Heights(ctx, d, o)
					return r, solverExtras{}, err
				}
			}},
		{"rows", "Rows", "Finds the lowest risers that let every viewer see the whole picture.",
			func(f *ask.Options, _ int) solverFunc {
				o := solve.RowsOptions{Curve: 7} // as many lines as the page shows at once
				f.Choice("Change", []string{"the risers", "the picture's lower edge"}, (*uint8)(&o.Vary))
				f.Length("Risers in multiples of (0 m: any)", &o.Step)
				f.Tick("Allow lowering as well", &o.Settle)
				f.Tick("Allow risers that do not divide into legal steps", &o.AnyRise)
				f.Tick(forEveryone, &o.Everyone)
				return func(ctx context.Context, d *project.Design, std practice.Standard, p solve.Progress) (*solve.Proposal, solverExtras, error) {
					o.Progress, o.Standard = p, std
					r, err := solve.Rows(ctx, d, o)
					if err != nil {
						return nil, solverExtras{}, err
					}
					return &r.Proposal, solverExtras{trade: r.Curve}, nil
				}
			}},
		{"screen", "Screen", "Makes the picture as wide as its angle and the room allow, its lower edge as near to where it is as all rows see it.",
			func(f *ask.Options, _ int) solverFunc {
				o := solve.ScreenOptions{Angle: 45, Ways: true}
				f.Degrees("Picture angle", &o.Angle)
				f.Number("Aspect ratio (0: as it is)", &o.Aspect)
				f.Length("Clear wall each side", &o.Side)
				f.Length("Clear wall above", &o.Top)
				f.Tick("Raise the rows too", &o.Raise)
				metric := f.Units != project.Imperial
				return func(ctx context.Context, d *project.Design, std practice.Standard, p solve.Progress) (*solve.Proposal, solverExtras, error) {
					o.Progress, o.Standard = p, std
					r, err := solve.Screen(ctx, d, o)
					if err != nil {
						return nil, solverExtras{}, err
					}
					return &r.Proposal, solverExtras{words: sizes(r, metric)}, nil
				}
			}},
		{"panels", "Panels", "Lays out panels on walls and ceiling and says which absorb, diffuse or stay bare.",
			func(f *ask.Options, _ int) solverFunc {
				o := solve.PanelsOptions{Module: 0.6, Gap: 0.01, Depth: 0.06}
				f.Length("Panels at most this wide", &o.Module)
				f.Length("Joint between two", &o.Gap)
				f.Length("Joint with light (0 m: none)", &o.LightGap)
				f.Length("Depth", &o.Depth)
				f.Choice("Reverberation time of", []string{"a reference room", "a private room"}, (*uint8)(&o.Target))
				return func(ctx context.Context, d *project.Design, std practice.Standard, p solve.Progress) (*solve.Proposal, solverExtras, error) {
					o.Progress, o.Standard = p, std
					r, err := solve.Panels(ctx, d, o)
					if err != nil {
						return nil, solverExtras{}, err
					}
					return &r.Proposal, solverExtras{words: r.Summary()}, nil
				}
			}},
		{"projector", "Projector", "Places the lens where it serves every shape of picture, its beam and its cabinet clear.",
			func(f *ask.Options, _ int) solverFunc {
				var o solve.ProjectorOptions
				metric := f.Units != project.Imperial
				return func(ctx context.Context, d *project.Design, std practice.Standard, p solve.Progress) (*solve.Proposal, solverExtras, error) {
					o.Progress, o.Standard = p, std
					r, err := solve.Projector(ctx, d, o)
					if err != nil {
						return nil, solverExtras{}, err
					}
					return &r.Proposal, solverExtras{words: strings.Join(append([]string{"Places for the lens, the best first:"}, r.Summary(metric)...), "\n")}, nil
				}
			}},
		{"layout", "First layout", "Plans rows, picture and loudspeakers together, for the room as it is. Chairs, models and a bar stay.",
			func(f *ask.Options, seats int) solverFunc {
				o := layout.Wish{Seats: seats}
				names := append([]string{"as it is"}, system.Names()...)
				rows := []string{"as many as suit"}
				for n := 1; n <= 8; n++ {
					rows = append(rows, fmt.Sprint(n))
				}
				var list, many uint8
				f.Choice("System", names, &list)
				f.Count("Seats", &o.Seats)
				f.Choice("Rows", rows, &many)
				f.Length("Picture width (0 m: free)", &o.Width)
				f.Number("Aspect ratio (0: free)", &o.Aspect)
				f.Tick("Keep the screen", &o.Keep.Screen)
				f.Tick("Keep the rows", &o.Keep.Rows)
				f.Tick("Keep the loudspeakers", &o.Keep.Loudspeakers)
				f.Tick(forEveryone, &o.Everyone)
				return func(ctx context.Context, d *project.Design, std practice.Standard, p solve.Progress) (*solve.Proposal, solverExtras, error) {
					o.System, o.Rows, o.Progress, o.Standard = "", int(many), p, std
					if list > 0 {
						o.System = names[list]
					}
					r, err := layout.Plan(ctx, d, o)
					if err != nil {
						return nil, solverExtras{}, err
					}
					return &r.Proposal, solverExtras{options: r.Options}, nil
				}
			}},
	}
}

// forEveryone asks a solver to work for more than the sitters that are set.
const forEveryone = "For everyone from P5 to P95"

// sizes lists what else would do, the three widest, then the largest pictures.
func sizes(r *solve.ScreenProposal, metric bool) string {
	var lines []string
	if len(r.Ways) > 0 {
		lines = append(lines, "With more than the screen changed:")
		for i := range r.Ways[:min(len(r.Ways), 3)] {
			lines = append(lines, r.Ways[i].Words(r.Design.Units))
		}
	}
	lines = append(lines, "Largest pictures with the rows as they are:")
	for _, s := range r.Sizes {
		lines = append(lines, fmt.Sprintf("%.3g : 1, %s by %s, %.0f°, limited by %s", s.Aspect,
			unit.Length(s.Width).Format(metric), unit.Length(s.Height).Format(metric), s.Angle, s.Limit))
	}
	return strings.Join(lines, "\n")
}
