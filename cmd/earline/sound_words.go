// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"math"
	"slices"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/sound"
)

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
	p.printf("\n%s\n", wrapped(r.Noise.Line(lengths(d.Units))+".", 100, "  "))
	printReflections(p, d, r, all)
	p.printf("\nHow far this holds:\n")
	for _, text := range r.Remarks {
		p.printf("- %s\n", wrapped(text, 96, "  "))
	}
	p.printf("\n%s\n", wrapped(r.Loudness.Sentence()+" "+sound.Caution, 100, ""))
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
	p.printf("Set up for the main listening position; levels of 500 Hz to 2 kHz (subwoofers: 63 Hz), direct sound;\nneeds and reserve of the subwoofers: together, in the room, in their weakest third\n")
	p.printf("%-10s %9s %9s %8s %9s %9s %9s %8s %8s %9s\n",
		"", "distance", "delay", "trim", "level", "with what", "seats off", "needs", "rated", "reserve")
	p.printf("%-10s %9s %9s %8s %9s %9s %9s %8s %8s %9s\n",
		"", "", "ms", "dB", "spread dB", "blocks dB", "coverage", "", "", "dB")
	for k := range r.Direct.Speakers {
		sp, s := &r.Audit.Speakers[k], &r.Direct.Speakers[k]
		note := " "
		if s.Headroom < 0 {
			note = "X"
		}
		p.printf("%-10s %9s %9.*f %+8.*f %9.1f %9.1f %9d %8s %8s %+8.1f%s\n", sp.Name(), show(s.Main.Distance),
			places(r.Direct.Playback.DelayStep), s.Delay, places(r.Direct.Playback.TrimStep), s.Trim,
			s.SpreadOverall, s.SpreadBlocked, len(r.Outside(k)), watts(s.Power), watts(sp.Spec.Power), s.Headroom, note)
	}
	p.printf("spread: loudest seat less quietest, and with what blocks the way, at most; seats off the nominal\n" +
		"coverage; reserve: what the rated power has over the need; X it does not reach the peaks\n")
	if r.Bass != nil {
		p.printf("\nSubwoofers together, in the room; by third of an octave: earline bass\n")
		printNeeds(p, r.Bass)
	}
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
	p.printf("%-9s %9s %10s %8s %7s", "", "distance", "horizontal", "vertical", "4 kHz")
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
		p.printf("%-9s %9s %9.0f° %7.0f° %6.1f%s", r.Audit.Speakers[k].Name(), show(h.Distance),
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
