// SPDX-License-Identifier: MIT

package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/light"
	"earline/project/lists"
	"earline/project/picture"
	"earline/project/viewing"
)

// pictureFlags are what the command line can ask of the picture.
type pictureFlags struct {
	answer
	seats bool
}

func pictureCommand() *cobra.Command {
	var f pictureFlags
	c := &cobra.Command{
		Use:   "picture FILE",
		Short: "Say how bright and how fine each shape of picture is, and what the lens asks for",
		Long: `Picture says, for each shape of picture the design is to show, how large it is, how
bright, new and aged, from the main position and from every seat, how much of the
imager and of its light it uses, and how fine its pixels are seen from each row: with
the screen filled by zoom, by an anamorphic lens and by scaling, side by side. Then how
the rows see each shape: angles, distance in picture heights, how much of it heads and
chairs hide, and which row sees best. It ends with what falls short. Without a projector
in the design it says what light each shape takes.

Exit status: 0 nothing falls short, 1 something does, 2 the file cannot be used.` + fileNote,
		Args:              takes(1, 1),
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.one(c); err != nil {
				return err
			}
			d, err := load(c, args[0])
			if err != nil {
				return err
			}
			seen := viewing.Of(d)
			r := seen.Picture
			if err := f.give(c, func() any { return pictureReport{r.Report(), seen.Report()} }, func(p *printer) {
				printPicture(p, seen, strayWords(c.Context(), d), f.seats)
			}); err != nil {
				return err
			}
			if len(r.Short())+len(seen.Short()) > 0 {
				return errShort
			}
			return nil
		},
	}
	f.flags(c)
	c.Flags().BoolVar(&f.seats, "seats", false, "how every seat sees each shape, not the rows alone")
	return c
}

// pictureReport is the picture as data, and how it is seen.
type pictureReport struct {
	picture.Report
	Viewing viewing.Report `json:"viewing"`
}

// strayWords says what the room's lamps leave of the contrast in the scenes in which a
// picture may run; nothing for a design without light groups.
func strayWords(ctx context.Context, d *project.Design) []string {
	if len(d.LightGroups) == 0 {
		return nil
	}
	r, err := light.Study(ctx, d)
	if err != nil {
		return nil // told to stop
	}
	return []string{r.SceneWords(project.Preshow), r.SceneWords(project.Show), "The room's light is not in the luminance above. earline light says which lamps it comes from."}
}

// printPicture prints tables, stray light, what falls short and what the numbers rest on.
func printPicture(p *printer, seen *viewing.Result, stray []string, everySeat bool) {
	const width = 100
	r := seen.Picture
	d := r.Design
	say := func(text string) { p.printf("  %s\n", wrapped(text, width, "  ")) }
	p.printf("Picture of %s\n", d.Name)
	if r.Projected {
		say(fmt.Sprintf("%s: %.0f lm stated, %.2g left once calibrated, %.2g through further lens and port: %.0f lm new, %.0f lm aged. Fills the screen by %s.",
			either(r.Model.Name, r.Model.ID), r.Model.Light, r.Model.Calibrated, d.Projector.Passed(), r.New, r.Aged, fillWords(d.Projector)))
	} else {
		say("The design has no projector: for an imager of 16:9 this is the light that must reach the screen for 48 cd/m².")
	}
	p.printf("\n")
	for _, t := range pictureTables(r) {
		printTable(p, &t)
	}
	printViewing(p, seen, everySeat)
	if up := r.StandingWords(); len(up) > 0 {
		p.printf("In the beam when standing\n")
		for _, s := range up {
			say(s)
		}
		p.printf("\n")
	}
	if on := r.WalkingWords(); len(on) > 0 {
		p.printf("In the beam on the way in\n")
		for _, s := range on {
			say(s)
		}
		p.printf("\n")
	}
	if len(stray) > 0 {
		p.printf("Stray light of the room\n")
		for _, s := range stray {
			say(s)
		}
		p.printf("\n")
	}
	if short := slices.Concat(r.Short(), seen.Short()); len(short) > 0 {
		p.printf("Falls short\n")
		for _, s := range short {
			say(s)
		}
	} else {
		p.printf("Nothing falls short.\n")
	}
	p.printf("\n")
	for _, n := range slices.Concat(r.Notes(), referenceWords(), []string{picture.Caution}) {
		say(n)
	}
}

func either(name, id string) string {
	if name == "" {
		return id
	}
	return name
}

// fillWords says how a projector fills the screen.
func fillWords(p project.Projector) string {
	switch p.Fill {
	case project.Anamorphic:
		return fmt.Sprintf("an anamorphic lens of %.3g for wide pictures", p.Widened())
	case project.Scaled:
		return "scaling into one raster"
	}
	return "zoom"
}

func referenceWords() (out []string) {
	for _, f := range picture.References() {
		text := fmt.Sprintf("%s: %.1f cd/m²", f.Name, f.White)
		if f.Within > 0 {
			text += fmt.Sprintf(" ± %.1f", f.Within)
		}
		out = append(out, strings.ToUpper(text[:1])+text[1:]+" ("+f.Source+").")
	}
	return out
}

// pictureTables returns what there is to say of each shape, each row and each seat.
func pictureTables(r *picture.Result) []lists.Table {
	metric := r.Design.Units != project.Imperial
	length := func(v float64) string { return unit.Length(v).Format(metric) }
	size := lists.Table{Title: "Shapes of picture", Columns: []string{"shape", "of viewing", "wide", "high", "lower edge", "border at each side", "above and below"}, Notes: r.MaskingWords()}
	light := lists.Table{Title: "Light from the main position, cd/m² new / aged (fL aged)", Columns: []string{"shape"}}
	use := lists.Table{Title: "Share of the imager and of its light on the picture; pixels", Columns: []string{"shape"}}
	if !r.Projected {
		light.Title, use.Title = "Light that must reach the screen, lm", "Share of the imager and of its light on the picture"
	}
	for _, fill := range picture.Fills() {
		light.Columns = append(light.Columns, string(fill))
		use.Columns = append(use.Columns, string(fill))
	}
	for i := range r.Shapes {
		s := &r.Shapes[i]
		share := "-"
		if s.Share > 0 {
			share = fmt.Sprintf("%.0f %%", 100*s.Share)
		}
		size.Rows = append(size.Rows, []string{s.Called, share, length(s.Picture.Width), length(s.Picture.Height), length(s.Picture.Bottom()), length(s.Border.Across), length(s.Border.Upright)})
		lit, used := []string{s.Called}, []string{s.Called}
		for k := range s.Fills {
			f := &s.Fills[k]
			if !r.Projected {
				lit, used = append(lit, fmt.Sprintf("%.0f", f.Needed)), append(used, fmt.Sprintf("%.1f %%", 100*f.Used))
				continue
			}
			aged := r.Toward(&r.Main, f.Aged)
			text := fmt.Sprintf("%.1f / %.1f (%.1f)", r.Toward(&r.Main, f.New), aged, aged/picture.FootLambert)
			if k == r.Chosen() {
				text += " *"
			}
			lit, used = append(lit, text), append(used, fmt.Sprintf("%.1f %%, %d x %d", 100*f.Used, f.Wide, f.High))
		}
		light.Rows, use.Rows = append(light.Rows, lit), append(use.Rows, used)
	}
	if r.Projected {
		light.Notes = []string{"* as the design fills the screen."}
	}
	all := []lists.Table{size}
	if len(r.Shapes) > 1 {
		all = append(all, keptTable(r))
	}
	all = append(all, light, use)
	if r.Projected {
		all = append(all, throwTable(r))
		all = append(all, viewTables(r, length)...)
	}
	return all
}

// keptTable returns how large the shapes are, and where their borders fall, by what they
// keep of the screen.
func keptTable(r *picture.Result) lists.Table {
	metric := r.Design.Units != project.Imperial
	length := func(v float64) string { return unit.Length(v).Format(metric) }
	cell := func(f picture.Frame, b picture.Sides) string {
		if metric {
			return fmt.Sprintf("%.3f x %.3f m, %.0f / %.0f mm", f.Width, f.Height, 1000*b.Across, 1000*b.Upright)
		}
		return fmt.Sprintf("%s x %s, %s / %s", length(f.Width), length(f.Height), length(b.Across), length(b.Upright))
	}
	t := lists.Table{Title: "Size, and borders left at each side / above and below, by what the shapes keep of the screen", Columns: []string{"shape"}}
	rows := make([][]string, len(r.Shapes))
	var lost []string
	for i := range r.Shapes {
		rows[i] = []string{r.Shapes[i].Called}
	}
	for _, k := range r.Kepts() {
		head := "its " + string(k.Held)
		if k.Held == "" {
			head = "as large as it holds"
		}
		if k.Held == r.Design.Picture.Held {
			head += " *"
		}
		t.Columns = append(t.Columns, head)
		for i, f := range k.Pictures {
			rows[i] = append(rows[i], cell(f, k.Borders[i]))
			const whole = 0.9995 // prints as 100 %
			if k.Held == "" && k.Filled[i] < whole {
				lost = append(lost, fmt.Sprintf("%s %.0f %%", r.Shapes[i].Called, 100*k.Filled[i]))
			}
		}
	}
	t.Rows = rows
	t.Notes = []string{"* as the design has it. Less than 0: the picture is larger than the screen there."}
	if len(lost) > 0 {
		t.Notes = append(t.Notes, "As large as the screen holds, these fill of its area: "+strings.Join(lost, ", ")+".")
	}
	return t
}

// throwTable returns what each shape asks of the lens, and where that may stand.
func throwTable(r *picture.Result) lists.Table {
	t := lists.Table{Title: "Lens: throw ratio, shift of the raster", Columns: []string{"shape"}, Notes: r.StandWords()}
	for _, fill := range picture.Fills() {
		t.Columns = append(t.Columns, string(fill))
	}
	for i := range r.Shapes {
		cells := []string{r.Shapes[i].Called}
		for k := range r.Shapes[i].Fills {
			f := &r.Shapes[i].Fills[k].Throw
			if !(f.Distance > 0) {
				cells = append(cells, "not before the screen")
				continue
			}
			text := fmt.Sprintf("%.3f, %s", f.Ratio, f.ShiftWords())
			if !f.ZoomFits(&r.Model) || !f.ShiftFits() {
				text += " !"
			}
			cells = append(cells, text)
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}

// viewTables returns what is seen of a projector's picture from each row and each seat, as
// the design fills the screen.
func viewTables(r *picture.Result, length func(float64) string) []lists.Table {
	rows := lists.Table{Title: "From the middle of each row: pixels a degree", Columns: []string{"row", "away"},
		Notes: []string{"60 pixels a degree are one an arc minute, about as fine as good eyes see."}}
	seats := lists.Table{Title: "From each seat, cd/m² aged", Columns: []string{"seat", "off the normal", "gain"}}
	for i := range r.Shapes {
		rows.Columns = append(rows.Columns, r.Shapes[i].Called)
		seats.Columns = append(seats.Columns, r.Shapes[i].Called)
	}
	for _, row := range r.Rows {
		cells := []string{fmt.Sprint(row.Row), length(row.Distance)}
		for _, v := range row.Views {
			cells = append(cells, fmt.Sprintf("%.0f", v.PixelsPerDegree[r.Chosen()]))
		}
		rows.Rows = append(rows.Rows, cells)
	}
	if len(r.Design.Picture.Gains) == 0 {
		return []lists.Table{rows} // every seat sees the same
	}
	for i := range r.Seats {
		s := &r.Seats[i]
		cells := []string{fmt.Sprintf("%d.%d", s.Row, s.Number), fmt.Sprintf("%.1f°", s.Angle), fmt.Sprintf("%.2f", s.Gain)}
		for k := range r.Shapes {
			cells = append(cells, fmt.Sprintf("%.1f", r.Toward(s, r.Shapes[k].Fills[r.Chosen()].Aged)))
		}
		if !s.Before {
			cells = []string{cells[0], "not before the picture"}
		}
		seats.Rows = append(seats.Rows, cells)
	}
	return []lists.Table{rows, seats}
}
