// SPDX-License-Identifier: MIT

package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/spf13/cobra"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/disk"
	"earline/project/file"
	"earline/project/place"
	"earline/project/sight"
	"earline/project/sound"
)

// soundFlags are what the command line can ask of a study, as typed.
type soundFlags struct {
	json, second, empty, all, tune bool
	target, seat, out              string
	polar                          []string
	mapTo, speaker, octave, step   string
}

func soundCommand() *cobra.Command {
	var f soundFlags
	c := &cobra.Command{
		Use:   "sound FILE",
		Short: "Say what every seat will hear above the bass",
		Long: `Sound answers, for every loudspeaker: how far it is from the main listening
position, its delay and trim there, how its level differs over the seats, the watts
that it needs and what its rated power has over them; for the room: how long it
rings in each octave against a published target; which first reflections come too
early and too strong, and where on which wall to treat them.

FILE is a design, or demo:NAME. Exit status: 0 nothing falls short, 1 something
does, 2 the file or the command cannot be used.`,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			d, err := load(args[0])
			if err != nil {
				return err
			}
			ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
			defer stop()
			return runSound(ctx, c.OutOrStdout(), d, &f)
		},
	}
	fs := c.Flags()
	fs.BoolVar(&f.json, "json", false, "print the full result as JSON")
	fs.BoolVar(&f.all, "all", false, "treat for every seat, not for the main listening position only")
	fs.StringVar(&f.seat, "seat", "", "also what that seat hears of each loudspeaker, ROW.SEAT, such as 2.3")
	fs.StringVar(&f.target, "target", "reference", "reverberation time wanted: reference (ITU-R BS.1116) or private (CEDIA/CTA-RP22)")
	fs.BoolVar(&f.empty, "empty", false, "nobody sits in the chairs")
	fs.BoolVar(&f.second, "second", false, "also reflections by way of two surfaces")
	fs.StringArrayVar(&f.polar, "polar", nil, "measured directivity for a model, MODEL=TABLE.csv; may be repeated")
	fs.BoolVar(&f.tune, "tune", false, "put the delays and trims into the design written with --output")
	fs.StringVarP(&f.out, "output", "o", "", "file to write the design to, with what --polar and --tune put in it")
	fs.StringVar(&f.mapTo, "map", "", "file to write the level over the plane of the ears to, comma separated")
	fs.StringVar(&f.speaker, "loudspeaker", "", "of what loudspeaker the map is, such as M+030 or \"M+090 b\"; left out: how far all lie apart")
	fs.StringVar(&f.octave, "octave", "4000", "octave of the map, hertz")
	fs.StringVar(&f.step, "step", "", "from one point of the map to the next (default 15 cm)")
	return c
}

func runSound(ctx context.Context, w io.Writer, d *project.Design, f *soundFlags) error {
	if f.tune && f.out == "" {
		return fmt.Errorf("--tune: no file to write to; name it with --output")
	}
	if err := takePolars(d, f.polar); err != nil {
		return err
	}
	o := sound.Options{Empty: f.empty, Second: f.second}
	switch f.target {
	case "reference":
	case "private":
		o.Target = sound.PrivateRoom
	default:
		return fmt.Errorf("--target %s: allowed is reference or private", f.target)
	}
	audit := sight.Audit(d)
	seat := -1
	if f.seat != "" {
		seat = slices.IndexFunc(audit.Seats, func(s place.Seat) bool { return s.Name() == f.seat })
		if seat < 0 {
			return fmt.Errorf("--seat %s: no such seat; allowed is ROW.SEAT, such as 1.1", f.seat)
		}
	}
	var mapped *sound.Grid
	if f.mapTo != "" {
		g, err := soundMap(ctx, d, f)
		if err != nil {
			return err
		}
		mapped = &g
	}
	r, err := sound.Study(ctx, d, audit, o)
	if err != nil {
		return err
	}
	if f.json {
		enc := json.NewEncoder(w)
		enc.SetIndent("", " ")
		err = enc.Encode(r.Report())
	} else {
		p := &printer{w: w}
		printSound(p, d, r, seat, f.all)
		err = p.err
	}
	if err != nil {
		return err
	}
	if mapped != nil {
		if err := writeMap(f.mapTo, mapped); err != nil {
			return err
		}
	}
	if f.out != "" {
		if f.tune {
			d = r.Direct.Tuned(d)
		}
		if err := file.Write(f.out, d); err != nil {
			return err
		}
	}
	if r.Short() {
		return errShort
	}
	return nil
}

// takePolars reads measured data into the models that are named.
func takePolars(d *project.Design, polars []string) error {
	for _, p := range polars {
		id, name, ok := strings.Cut(p, "=")
		if !ok || name == "" {
			return fmt.Errorf("--polar %s: allowed is MODEL=TABLE.csv", p)
		}
		k := slices.IndexFunc(d.Models, func(m project.Model) bool { return m.ID == id })
		if k < 0 {
			ids := make([]string, len(d.Models))
			for i, m := range d.Models {
				ids[i] = m.ID
			}
			return fmt.Errorf("--polar %s: no such model; there are %s", id, strings.Join(ids, ", "))
		}
		polar, err := file.ReadPolar(name, name)
		if err != nil {
			return err
		}
		d.Models[k].Polar = polar
		d.Models[k].Polar.Source = strings.ToValidUTF8(strings.Map(func(r rune) rune {
			if unicode.IsControl(r) {
				return -1
			}
			return r
		}, filepath.Base(name)), "")
	}
	return nil
}

func soundMap(ctx context.Context, d *project.Design, f *soundFlags) (sound.Grid, error) {
	o := sound.MapOptions{Speaker: sound.AllSpeakers}
	if f.speaker != "" {
		o.Speaker = slices.IndexFunc(d.Speakers, func(l project.Loudspeaker) bool { return l.Name() == f.speaker })
		if o.Speaker < 0 {
			return sound.Grid{}, fmt.Errorf("--loudspeaker %s: no such loudspeaker; allowed is its label, with its copy if it has one, such as \"M+090 b\"", f.speaker)
		}
	}
	hz, err := strconv.ParseFloat(f.octave, 64)
	octaves := project.Octaves()
	if o.Octave = slices.Index(octaves[:], hz); err != nil || o.Octave < 0 {
		return sound.Grid{}, fmt.Errorf("--octave %s: allowed is 63, 125, 250, 500, 1000, 2000, 4000 or 8000", f.octave)
	}
	step, err := lengthFlag("step", f.step)
	if err != nil {
		return sound.Grid{}, err
	}
	if f.step != "" && (step < 0.02 || step > 10) {
		return sound.Grid{}, fmt.Errorf("--step %s: allowed is 2 cm to 10 m", f.step)
	}
	o.Step = float64(step)
	return sound.Map(ctx, d, o)
}

// writeMap writes the points of g that lie in the room.
func writeMap(name string, g *sound.Grid) error {
	var b strings.Builder
	b.WriteString("x_m,y_m,z_m,level_db\n")
	for i, v := range g.Values {
		if g.Inside[i] {
			fmt.Fprintf(&b, "%.3f,%.3f,%.3f,%.2f\n", g.X0+float64(i%g.NX)*g.Step, g.Y0+float64(i/g.NX)*g.Step, g.Heights[i], v)
		}
	}
	return disk.Replace(name, []byte(b.String()))
}

// printSound prints a study for people.
func printSound(p *printer, d *project.Design, r *sound.Result, seat int, all bool) {
	pb := r.Direct.Playback
	p.printf("%s\n%d seats, %d loudspeakers; reference %g dB(C), peaks %g dB over it; %.1f m/s at %g °C\n\n",
		d.Name, len(r.Audit.Seats), len(r.Audit.Speakers), pb.Reference, pb.Headroom, r.Direct.Speed, r.Air.Temperature)
	printSpeakers(p, d, r)
	if seat >= 0 {
		printHeard(p, d, r, seat)
	}
	printReverb(p, r)
	printReflections(p, d, r, all)
	p.printf("\nHow far this holds:\n")
	for _, text := range r.Remarks {
		p.printf("- %s\n", wrapped(text, 96, "  "))
	}
	l := r.Loudness
	p.printf("\n%s\n", wrapped(fmt.Sprintf("Hearing: %s a day at %.0f dB is a full dose, %s at the peaks of one channel (%.0f dB), %s with all at their peaks (%.0f dB). %s",
		span(l.ReferenceMinutes), l.Reference, span(l.PeakMinutes), l.Peak, span(l.AllMinutes), l.All, sound.Caution), 100, ""))
}

// span writes minutes as people say them.
func span(minutes float64) string {
	switch {
	case minutes < 1:
		return fmt.Sprintf("%.0f s", 60*minutes)
	case minutes < 100:
		return fmt.Sprintf("%.0f min", minutes)
	}
	return fmt.Sprintf("%.0f h", minutes/60)
}

// watts writes a power in three digits.
func watts(w float64) string {
	switch {
	case w >= 99_500:
		return ">99 kW"
	case w >= 9950:
		return fmt.Sprintf("%.0f kW", w/1000)
	case w >= 995:
		return fmt.Sprintf("%.1f kW", w/1000)
	case w >= 9.95:
		return fmt.Sprintf("%.0f W", w)
	}
	return fmt.Sprintf("%.1f W", w)
}

func printSpeakers(p *printer, d *project.Design, r *sound.Result) {
	show := lengths(d.Units)
	p.printf("Set up for the main listening position; levels of 500 Hz to 2 kHz (subwoofers: 63 Hz), direct sound\n")
	p.printf("%-10s %9s %9s %8s %8s %8s %8s %8s %8s %9s\n",
		"", "distance", "delay", "trim", "over the", "blocked", "seats", "needs", "rated", "power")
	p.printf("%-10s %9s %9s %8s %8s %8s %8s %8s %8s %9s\n",
		"", "", "ms", "dB", "seats dB", "dB", "outside", "", "", "left dB")
	for k := range r.Direct.Speakers {
		sp, s := &r.Audit.Speakers[k], &r.Direct.Speakers[k]
		note := " "
		if s.Headroom < 0 {
			note = "X"
		}
		p.printf("%-10s %9s %9.*f %+8.*f %8.1f %8.1f %8d %8s %8s %+8.1f%s\n", sp.Name(), show(s.Main.Distance),
			places(r.Direct.Playback.DelayStep), s.Delay, places(r.Direct.Playback.TrimStep), s.Trim,
			s.SpreadOverall, s.SpreadBlocked, len(r.Outside(k)), watts(s.Power), watts(sp.Spec.Power), s.Headroom, note)
	}
	p.printf("over the seats: loudest less quietest; blocked: with what stands in the way, at most; outside the\n" +
		"nominal coverage; X the rated power does not reach the peaks\n")
}

// places returns how many decimals a step needs, at most three.
func places(step float64) int {
	n := 0
	for v := step; n < 3 && math.Abs(v-math.Round(v)) > 1e-6; n++ {
		v *= 10
	}
	return n
}

func lengths(u project.Units) func(float64) string {
	return func(v float64) string { return unit.Length(v).Format(u != project.Imperial) }
}

func printHeard(p *printer, d *project.Design, r *sound.Result, seat int) {
	show := lengths(d.Units)
	p.printf("\nRow %d seat %d, against the main listening position, dB\n", r.Audit.Seats[seat].Row, r.Audit.Seats[seat].Number)
	p.printf("%-10s %9s %7s %8s %7s", "", "distance", "across", "upright", "4 kHz")
	for _, f := range project.Octaves() {
		p.printf(" %6s", hertz(f))
	}
	p.printf(" hidden\n")
	for k := range r.Audit.Speakers {
		h := r.Direct.At(seat, k)
		inside := " "
		if !h.Inside {
			inside = "o"
		}
		p.printf("%-10s %9s %6.0f° %7.0f° %6.1f%s", r.Audit.Speakers[k].Name(), show(h.Distance),
			tidy(h.Bearing.Across/unit.Degree, 1), tidy(h.Bearing.Upright/unit.Degree, 1), tidy(h.Directivity[6], 0.1), inside)
		for o, v := range r.Direct.Relative(seat, k) {
			if !r.Direct.Speakers[k].Plays[o] {
				p.printf(" %6s", "-")
				continue
			}
			p.printf(" %+6.1f", tidy(v, 0.1))
		}
		if h.OverallLoss > 0.05 {
			p.printf(" %6.1f", h.OverallLoss)
		}
		p.printf("\n")
	}
	p.printf("4 kHz: what the angle costs there; o outside the coverage; hidden: what is in the way takes, at most\n")
	for i := range r.Reflections.All {
		if f := &r.Reflections.All[i]; f.Seat == seat && f.Breaks {
			p.printf("%s\n", wrapped(r.Sentence(f, d.Units), 100, "  "))
		}
	}
}

// tidy rounds v to steps, without a negative zero.
func tidy(v, step float64) float64 { return math.Round(v/step)*step + 0 }

func hertz(f float64) string {
	if f >= 1000 {
		return fmt.Sprintf("%gk", f/1000)
	}
	return fmt.Sprintf("%g", f)
}

func printReverb(p *printer, r *sound.Result) {
	v := r.Reverb
	people := "with a person in every chair"
	if r.Options.Empty {
		people = "with nobody in it"
	}
	p.printf("\nReverberation of %.1f m³ %s: target %.2f s, ±%.2f from 250 Hz to 4 kHz; now %.2f s\n%-22s",
		v.Volume, people, v.Wanted, sound.Tolerance, v.Mid, "octave, Hz")
	for _, f := range project.Octaves() {
		p.printf(" %7s", hertz(f))
	}
	row := func(name, format string, values [project.OctaveCount]float64, mark bool) {
		p.printf("\n%-22s", name)
		for o, x := range values {
			text := fmt.Sprintf(format, x+0)
			if mark && v.Judged[o] && !v.Within[o] {
				text = "X" + text
			}
			p.printf(" %7s", text)
		}
	}
	row("Eyring, s", "%.2f", v.Eyring, true)
	row("Sabine, s", "%.2f", v.Sabine, false)
	row("absorption, m²", "%.1f", v.Area, false)
	row("to change, m²", "%+.1f", v.Change, false)
	p.printf("\n")
}

func printReflections(p *printer, d *project.Design, r *sound.Result, all bool) {
	main, seats := 0, 0
	worst := map[int]*sound.Reflection{} // by first surface, at the main position
	var order []int
	for i := range r.Reflections.All {
		f := &r.Reflections.All[i]
		if !f.Breaks {
			continue
		}
		if f.Seat != sound.MainSeat {
			seats++
			continue
		}
		main++
		k := f.Surfaces[0]
		if worst[k] == nil {
			order = append(order, k)
		}
		if w := worst[k]; w == nil || f.Strongest > w.Strongest {
			worst[k] = f
		}
	}
	p.printf("\nFirst reflections within %.0f ms and less than %.0f dB below the direct sound from 1 to 8 kHz (limit of\nITU-R BS.1116): %d at the main position, %d at the seats\n",
		sound.EarlyTime, sound.EarlyDrop, main, seats)
	slices.SortStableFunc(order, func(a, b int) int {
		switch x, y := worst[a].Strongest, worst[b].Strongest; {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	for _, k := range order {
		p.printf("%s\n", wrapped(r.Sentence(worst[k], d.Units), 100, "  "))
	}
	patches, whom := r.TreatMain, "the main listening position"
	if all {
		patches, whom = r.TreatSeats, "every seat"
	}
	if len(patches) == 0 {
		return
	}
	p.printf("\nTreat for %s:\n", whom)
	for i := range patches {
		p.printf("%s\n", wrapped(r.PatchSentence(&patches[i], d.Units), 100, "  "))
	}
}
