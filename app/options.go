// SPDX-License-Identifier: MIT

package app

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/bs2051"
	"earline/project/solve"
)

// solver is an entry of the menu Solve.
type solver struct {
	id, name, does string
	// wish asks for the options and returns what works with them, once they are
	// read.
	wish func(*optionsForm) solverFunc
}

// solverFunc works a proposal out.
type solverFunc func(context.Context, *project.Design, solve.Progress) (*solve.Proposal, solverExtras, error)

// solverExtras is what else a solver found, for the page of its proposal.
type solverExtras struct {
	words string           // shown below the proof
	trade []solve.TradeOff // between the picture's lower edge and the risers
}

// solvers are the entries of the menu Solve, in order.
func solvers() []solver {
	return []solver{
		{"lift", "Lift surrounds", "Raises the wide, side and rear loudspeakers just enough to clear every ear by the margin.",
			func(f *optionsForm) solverFunc {
				o := solve.LiftOptions{Elevation: 30}
				f.degrees("Elevation at most", &o.Elevation)
				f.length("Shift along the wall at most", &o.Shift)
				f.tick(forEveryone, &o.Everyone)
				f.tick("They may come down too", &o.Settle)
				f.tick("Front, wides and sides on one rising plane", &o.Plane)
				f.tick("Left and right at different heights", &o.Unpaired)
				return func(ctx context.Context, d *project.Design, p solve.Progress) (*solve.Proposal, solverExtras, error) {
					o.Progress = p
					r, err := solve.Lift(ctx, d, o)
					return r, solverExtras{}, err
				}
			}},
		{"heights", "Heights", "Puts the upper loudspeakers on the ceiling where the main position hears them under their label's azimuth.",
			func(f *optionsForm) solverFunc {
				o := solve.HeightsOptions{Elevation: 45, Gap: 100 * unit.Millimetre}
				f.degrees("Elevation", &o.Elevation)
				f.length("Ceiling grid, back (0 m: free)", &o.Grid.PitchX)
				f.length("Ceiling grid, across (0 m: free)", &o.Grid.PitchY)
				f.length("Gap to lights, vents, soffits", &o.Gap)
				return func(ctx context.Context, d *project.Design, p solve.Progress) (*solve.Proposal, solverExtras, error) {
					o.Progress = p
					if o.Gap == 0 { // which to the solver means the usual one
						o.Gap = unit.Millimetre / 1000
					}
					r, err := solve.Heights(ctx, d, o)
					return r, solverExtras{}, err
				}
			}},
		{"rows", "Rows", "Finds the least risers with which every eye sees the whole picture over everyone in front.",
			func(f *optionsForm) solverFunc {
				o := solve.RowsOptions{Curve: 7} // as many lines as the page shows at once
				f.choice("Change", []string{"the risers", "the picture's lower edge"}, (*uint8)(&o.Vary))
				f.length("Risers in multiples of (0 m: any)", &o.Step)
				f.tick("Take risers that no steps fit", &o.AnyRise)
				f.tick(forEveryone, &o.Everyone)
				return func(ctx context.Context, d *project.Design, p solve.Progress) (*solve.Proposal, solverExtras, error) {
					o.Progress = p
					r, err := solve.Rows(ctx, d, o)
					if err != nil {
						return nil, solverExtras{}, err
					}
					return &r.Proposal, solverExtras{trade: r.Curve}, nil
				}
			}},
		{"screen", "Screen", "Makes the picture as wide as its angle and the room allow, its lower edge where all rows see it.",
			func(f *optionsForm) solverFunc {
				o := solve.ScreenOptions{Angle: 45}
				f.degrees("Picture angle", &o.Angle)
				f.number("Aspect ratio (0: as it is)", &o.Aspect)
				f.length("Room left beside it", &o.Side)
				f.length("Room left over it", &o.Top)
				metric := f.units != project.Imperial
				return func(ctx context.Context, d *project.Design, p solve.Progress) (*solve.Proposal, solverExtras, error) {
					o.Progress = p
					r, err := solve.Screen(ctx, d, o)
					if err != nil {
						return nil, solverExtras{}, err
					}
					return &r.Proposal, solverExtras{words: sizes(r.Sizes, metric)}, nil
				}
			}},
		{"layout", "First layout", "Proposes rows, picture and loudspeakers for the bare room. What it holds now is replaced.",
			func(f *optionsForm) solverFunc {
				// In a home sight comes before a published elevation of 0°.
				o := solve.LayoutOptions{Seats: f.seats, Angle: 45, Aspect: 1.78, Beyond: true}
				names := bs2051.Systems()
				system := uint8(max(slices.Index(names, "4+7+0"), 0))
				f.choice("System of BS.2051", names, &system)
				f.count("Seats", &o.Seats)
				f.degrees("Picture angle", &o.Angle)
				f.number("Aspect ratio", &o.Aspect)
				f.tick("Surrounds may leave their elevations for sight", &o.Beyond)
				f.tick(forEveryone, &o.Everyone)
				return func(ctx context.Context, d *project.Design, p solve.Progress) (*solve.Proposal, solverExtras, error) {
					o.System, o.Progress = names[system], p
					r, err := solve.Layout(ctx, d, o)
					if err != nil {
						return nil, solverExtras{}, err
					}
					return &r.Proposal, solverExtras{}, nil
				}
			}},
	}
}

// forEveryone asks a solver to work for more than the sitters that are set.
const forEveryone = "For everyone from P5 to P95"

// sizes lists the largest pictures.
func sizes(all []solve.ScreenSize, metric bool) string {
	lines := []string{"Largest pictures:"}
	for _, s := range all {
		lines = append(lines, fmt.Sprintf("%.3g : 1, %s by %s, %.0f°, limited by %s", s.Aspect,
			unit.Length(s.Width).Format(metric), unit.Length(s.Height).Format(metric), s.Angle, s.Limit))
	}
	return strings.Join(lines, "\n")
}

// optionsForm is a form of options, each read into its place when all are right.
type optionsForm struct {
	units project.Units
	seats int // of the design
	items []*widget.FormItem
	first *formEntry
	reads []func() error
}

// read takes in all that was typed.
func (f *optionsForm) read() error {
	for _, r := range f.reads {
		if err := r(); err != nil {
			return err
		}
	}
	return nil
}

func (f *optionsForm) entry(name, text string, read func(string) error) {
	e := newFormEntry()
	e.SetText(text)
	if f.first == nil {
		f.first = e
	}
	f.items = append(f.items, widget.NewFormItem(name, e))
	f.reads = append(f.reads, func() error {
		if err := read(e.Text); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		return nil
	})
}

func (f *optionsForm) degrees(name string, to *unit.Degrees) {
	f.entry(name, to.String(), func(text string) (err error) {
		*to, err = unit.ParseDegrees(text)
		return err
	})
}

func (f *optionsForm) length(name string, to *unit.Length) {
	bare := unit.Metre
	if f.units == project.Imperial {
		bare = unit.Inch
	}
	f.entry(name, to.Format(f.units != project.Imperial), func(text string) (err error) {
		*to, err = unit.ParseLength(text, bare)
		return err
	})
}

func (f *optionsForm) number(name string, to *float64) {
	f.entry(name, strconv.FormatFloat(*to, 'g', -1, 64), func(text string) (err error) {
		*to, err = strconv.ParseFloat(strings.TrimSpace(text), 64)
		if err != nil {
			return fmt.Errorf("found %q, allowed: a number", text)
		}
		return nil
	})
}

func (f *optionsForm) count(name string, to *int) {
	f.entry(name, strconv.Itoa(*to), func(text string) (err error) {
		*to, err = strconv.Atoi(strings.TrimSpace(text))
		if err != nil {
			return fmt.Errorf("found %q, allowed: a whole number", text)
		}
		return nil
	})
}

func (f *optionsForm) tick(name string, to *bool) {
	c := widget.NewCheck(name, func(on bool) { *to = on })
	f.items = append(f.items, widget.NewFormItem("", c))
}

func (f *optionsForm) choice(name string, options []string, to *uint8) {
	s := widget.NewSelect(options, nil)
	s.SetSelectedIndex(int(*to))
	s.OnChanged = func(string) { *to = uint8(s.SelectedIndex()) }
	f.items = append(f.items, widget.NewFormItem(name, s))
}

// formEntry is an entry in which Escape closes the form: Fyne's keeps the key to
// itself.
type formEntry struct {
	widget.Entry
	escape func()
}

func newFormEntry() *formEntry {
	e := &formEntry{}
	e.ExtendBaseWidget(e)
	return e
}

// TypedKey implements fyne.Focusable.
func (e *formEntry) TypedKey(ev *fyne.KeyEvent) {
	if ev.Name == fyne.KeyEscape && e.escape != nil {
		e.escape()
		return
	}
	e.Entry.TypedKey(ev)
}

// askForm shows a form until accept takes it or it is cancelled. first gets the
// keyboard; it may be nil.
func (w *Window) askForm(title, text, button string, items []*widget.FormItem, first *formEntry, accept func() error) {
	words := widget.NewLabel(text)
	words.Wrapping = fyne.TextWrapWord
	fault := widget.NewLabel("")
	fault.Wrapping, fault.Importance = fyne.TextWrapWord, widget.DangerImportance
	d := dialog.NewCustomWithoutButtons(title,
		container.New(layout.NewCustomPaddedVBoxLayout(4), words, widget.NewForm(items...), fault), w.win)
	try := func() {
		if err := accept(); err != nil {
			fault.SetText(faultLines(err))
			return
		}
		d.Hide()
	}
	for _, i := range items {
		if e, ok := i.Widget.(*formEntry); ok {
			e.OnSubmitted, e.escape = func(string) { try() }, d.Hide
		}
	}
	ok := widget.NewButton(button, try)
	ok.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{widget.NewButton("Cancel", d.Hide), ok})
	w.pop(d, 560, 170+float32(len(items))*34)
	if first != nil {
		w.win.Canvas().Focus(first)
	}
}
