// SPDX-License-Identifier: MIT

package handover

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"earline/project"
	"earline/project/noise"
	"earline/project/sound"
	"earline/project/table"
)

// Table is a part of the record.
type Table struct {
	Title   string
	Columns []string
	Rows    [][]string
	Notes   []string
}

// Box reports whether a cell is a box to write in: an empty one under or beside
// "measured".
func (t *Table) Box(row, column int) bool {
	return t.Rows[row][column] == "" && (t.Columns[column] == toMeasure || t.Rows[row][0] == toMeasure)
}

// toMeasure heads the column or the row of what is measured.
const toMeasure = "measured"

// decimalsOf returns how many decimals a step needs, at most three.
func decimalsOf(step float64) int {
	n := 0
	for v := step; n < 3 && math.Abs(v-math.Round(v)) > 1e-6; n++ {
		v *= 10
	}
	return n
}

func polarity(inverted bool) string {
	if inverted {
		return "inverted"
	}
	return "normal"
}

// Tables returns the record in the order in which it is worked through.
func (r *Record) Tables() []Table {
	all := []Table{r.channels()}
	if len(r.Subs) > 0 {
		all = append(all, r.subs())
	}
	return append(all, r.levels(), r.decayTable(), r.others())
}

// delay and trim print what is set, in the steps of the processor.
func (r *Record) delay(c *Channel) string {
	return fmt.Sprintf("%.*f", decimalsOf(r.Playback.DelayStep), c.Delay)
}

func (r *Record) trim(c *Channel) string {
	return fmt.Sprintf("%+.*f", decimalsOf(r.Playback.TrimStep), c.Trim+0)
}

func (r *Record) channels() Table {
	t := Table{Title: "Channels", Columns: []string{"", "", "distance", "delay, ms", "trim, dB", "high-pass", "polarity", "target, dB(C)", toMeasure}}
	own, shared := false, false
	for i := range r.Channels {
		c := &r.Channels[i]
		own, shared = own || len(c.Filters) > 0, shared || c.Sharing > 1
		t.Rows = append(t.Rows, []string{c.Name, strings.TrimSuffix(c.Plain, ", ear level"), r.length(c.Distance), r.delay(c), r.trim(c), c.Crossover, polarity(c.Inverted), fmt.Sprintf("%.1f", c.Target), ""})
	}
	if own {
		for i := range r.Channels {
			if c := &r.Channels[i]; len(c.Filters) > 0 {
				t.Notes = append(t.Notes, c.Name+": "+strings.Join(c.Filters, "; "))
			}
		}
	}
	note := "Each alone with reference noise, at the main position; distance to it from the middle of the front of the box."
	if shared {
		note += " Those that share a channel are set lower, so that together they come out at its level."
	}
	if r.Computed {
		note += " Delays and trims follow from distance and direct sound; they are not in the design yet."
	}
	t.Notes = append(t.Notes, note)
	return t
}

func (r *Record) subs() Table {
	t := Table{Title: "Subwoofers", Columns: []string{"", "", "distance", "delay, ms", "gain, dB", "low-pass", "polarity", "target, dB(C)", toMeasure}}
	for i := range r.Subs {
		c := &r.Subs[i]
		t.Rows = append(t.Rows, []string{c.Name, "subwoofer", r.length(c.Distance), r.delay(c), r.trim(c), lowPassOf(r.Design), polarity(c.Inverted), fmt.Sprintf("%.1f", c.Target), ""})
		if len(c.Filters) > 0 {
			t.Notes = append(t.Notes, c.Name+": "+strings.Join(c.Filters, "; "))
		}
	}
	if slices.ContainsFunc(r.Subs, func(c Channel) bool { return c.Sharing > 1 }) {
		t.Notes = append(t.Notes, "Those that share a channel are set lower, so that together they come out at its level. What aligning gave them stays: gains, delays and polarities against each other are kept, and all move together.")
	}
	filters := "none"
	if f := filtersOf(r.Design, project.AllSubwoofers); len(f) > 0 {
		filters = strings.Join(f, "; ")
	}
	t.Notes = append(t.Notes, fmt.Sprintf("Slope of the crossover: %s. Filters of all subwoofers: %s. Target of the bass: %s. The low-pass is for the bass of the other channels; the LFE channel goes up to 120 Hz (Rec. ITU-R BS.775-3, Annex 7), and the target level is of it, in its band; a filter cannot fill a null.", slopeOf(r.Design), filters, bassTarget(r.Design)))
	return t
}

// levels are the reference levels by purpose, each with its source.
func (r *Record) levels() Table {
	share := 0.0 // of channels
	for i := range r.Channels {
		share += 1 / float64(r.Channels[i].Sharing)
	}
	t := Table{Title: "Reference levels", Columns: []string{"for", "each channel at the main position", "source"}}
	t.Rows = [][]string{
		{"this room", fmt.Sprintf("%g dB(C), LFE %+g dB in its band", r.Playback.Reference, r.Playback.LFEGain), "the design"},
		{"films, pink noise at -20 dBFS", "85 dB(C), two surround arrays 82, LFE 95", "ISO 21727:2016, Table 2 (levels of ISO 22234), second hand"},
		{"programme at -23 LUFS, band noise", "73 dB(C), rooms of 125 to 250 m³", "EBU Tech 3343, 8.2, as announced"},
	}
	if n := int(math.Round(share)); n > 0 {
		t.Rows = append(t.Rows, []string{"listening tests, pink noise at -18 dBFS", fmt.Sprintf("85 - 10 lg n dB(A): %.1f for %d", 85-10*math.Log10(float64(n)), n), "Rec. ITU-R BS.1116-3, 8.4.1, from memory"})
	}
	t.Notes = []string{"Surrounds at 82 dB(C) are for two arrays, 3 dB under the fronts; single surrounds at home are set to the level of the fronts (common practice, no source)."}
	return t
}

func (r *Record) decayTable() Table {
	t := Table{Title: "Reverberation, s", Columns: []string{""}}
	wanted, computed, measured := []string{"wanted"}, []string{"computed"}, []string{toMeasure}
	for _, o := range r.Decay {
		t.Columns = append(t.Columns, hertz(o.Hz))
		w, m := "", ""
		if o.Judged {
			w = fmt.Sprintf("%.2f", r.Wanted)
		}
		if o.Measured > 0 {
			m = fmt.Sprintf("%.2f", o.Measured)
		}
		wanted, computed, measured = append(wanted, w), append(computed, fmt.Sprintf("%.2f", o.Computed)), append(measured, m)
	}
	t.Rows = [][]string{wanted, computed, measured}
	t.Notes = []string{fmt.Sprintf("Within %.2f s from 250 Hz to 4 kHz (Tm = 0.25 (V/100 m³)^⅓, Rec. ITU-R BS.1116). Measured: the mean of the thirds.", sound.Tolerance)}
	return t
}

// others are the figures that there is one of.
func (r *Record) others() Table {
	t := Table{Title: "Noise and picture", Columns: []string{"", "target", "as planned", toMeasure}}
	quiet, have := "not known", ""
	if r.Noise.Verdict != noise.Unknown {
		quiet = fmt.Sprintf("NR %.0f", r.Noise.NR)
		if r.Noise.Measured {
			quiet, have = "", quiet
		}
	}
	t.Rows = append(t.Rows, []string{"background noise, all that runs in a film", fmt.Sprintf("NR %d, never over NR %d", noise.Preferred, noise.Limit), quiet, have})
	p := r.Picture
	planned := "no projector in the design"
	if p.New > 0 {
		planned = fmt.Sprintf("%.0f new, %.0f aged", p.New, p.Aged)
	}
	white := "white, middle of the picture, cd/m²"
	if p.Shape != "" {
		white = fmt.Sprintf("white, middle of %s, cd/m²", p.Shape)
	}
	t.Rows = append(t.Rows,
		[]string{white, fmt.Sprintf("%g ± %g", p.Reference.White, p.Reference.Within), planned, ""},
		[]string{"white at left and right edge, of the middle", "85 %, from 75 to 90 %", "", ""},
		[]string{"white, colour x, y", "0.314, 0.351 ± 0.006", "", ""})
	t.Notes = []string{
		"Noise: " + noise.Source + ". Picture: " + p.Reference.Source + "; theatre; a meter of 2° at most, from the main position. Pictures of high dynamic range have no luminance that all follow.",
	}
	return t
}

// MicrophoneWords says where the microphone stands, and whether the room allows it.
func (r *Record) MicrophoneWords() []string {
	const (
		low, high     = 0.9, 1.2 // m
		screen, walls = 4.9, 1.5
	)
	out := []string{fmt.Sprintf("Microphone places of cinemas: %s to %s high, %s or more above the seat, %s apart, %s from the screen, %s from walls (SMPTE ST 202, Figure 4, as shown in a SMPTE webinar of 2013, second hand).",
		r.length(low), r.length(high), r.length(0.15), r.length(0.9), r.length(screen), r.length(walls))}
	var short []string
	if r.Place.Height < low || r.Place.Height > high {
		short = append(short, fmt.Sprintf("the ears there are %s high", r.length(r.Place.Height)))
	}
	if r.Place.Screen < screen {
		short = append(short, fmt.Sprintf("the picture is %s away", r.length(r.Place.Screen)))
	}
	if r.Place.Wall < walls {
		short = append(short, fmt.Sprintf("the nearest wall %s", r.length(r.Place.Wall)))
	}
	if len(short) > 0 {
		out = append(out, "The main position cannot keep that: "+strings.Join(short, ", ")+". Measure at ear height at the main position and at every seat (common practice, no source).")
	}
	return out
}

// Steps are the work in its order (common practice, no source).
func Steps() []string {
	return []string{
		"Polarity of every loudspeaker, then of the subwoofers: before any delay, and delays before any filter.",
		"Delays, from the distances above or as measured.",
		"Trims, one channel at a time with reference noise. Know whether the processor applies them before or after bass management: before, a trim also changes what the subwoofers get of that channel.",
		"Subwoofers among themselves, then with the others about the crossover.",
		"Filters last: they cut peaks that the seats have in common; a filter cannot fill a null.",
		"All levels once more; keep the settings, and write down what the meter says.",
	}
}

// Cautions are about levels, as the answers about sound have them.
func (r *Record) Cautions() string { return r.Loudness.Sentence() + " " + sound.Caution }

// hertz writes the middle of an octave.
func hertz(f float64) string {
	if f >= 1000 {
		return fmt.Sprintf("%g kHz", f/1000)
	}
	return fmt.Sprintf("%g Hz", f)
}

// CSV returns the record as a table that spreadsheets open: a line for each figure, with an
// empty cell for what is measured.
func (r *Record) CSV() []byte {
	t := table.Table{Header: []string{"part", "of", "what", "set or wanted", "unit", toMeasure}}
	text := func(part, of, what, value, unit string) {
		t.Add(table.Text(part), table.Text(of), table.Text(what), table.Text(value), table.Text(unit), table.Empty())
	}
	number := func(part, of, what string, v float64, decimals int, unit string, measured table.Cell) {
		t.Add(table.Text(part), table.Text(of), table.Text(what), table.Number(v, decimals), table.Text(unit), measured)
	}
	both := func(part string, all []Channel, pass func(c *Channel) string, passed, level string) {
		for i := range all {
			c := &all[i]
			number(part, c.Name, "distance", c.Distance, 3, "m", table.Empty())
			number(part, c.Name, "delay", c.Delay, decimalsOf(r.Playback.DelayStep), "ms", table.Empty())
			number(part, c.Name, level, c.Trim, decimalsOf(r.Playback.TrimStep), "dB", table.Empty())
			text(part, c.Name, passed, pass(c), "")
			text(part, c.Name, "polarity", polarity(c.Inverted), "")
			for _, f := range c.Filters {
				text(part, c.Name, "filter", f, "")
			}
			number(part, c.Name, "level", c.Target, 1, "dB(C)", table.Empty())
		}
	}
	both("channels", r.Channels, func(c *Channel) string { return c.Crossover }, "high-pass", "trim")
	both("subwoofers", r.Subs, func(*Channel) string { return lowPassOf(r.Design) }, "low-pass", "gain")
	for _, f := range filtersOf(r.Design, project.AllSubwoofers) {
		text("subwoofers", "all", "filter", f, "")
	}
	text("subwoofers", "all", "target", bassTarget(r.Design), "")
	text("crossover", "all", "slope", slopeOf(r.Design), "")
	for _, o := range r.Decay {
		measured := table.Empty()
		if o.Measured > 0 {
			measured = table.Number(o.Measured, 3)
		}
		if o.Judged {
			number("reverberation", hertz(o.Hz), "time", r.Wanted, 2, "s", measured)
		} else {
			t.Add(table.Text("reverberation"), table.Text(hertz(o.Hz)), table.Text("time"), table.Empty(), table.Text("s"), measured)
		}
	}
	have := table.Empty()
	if r.Noise.Measured {
		have = table.Number(r.Noise.NR, 0)
	}
	number("noise", "room", "background, at most", noise.Limit, 0, "NR", have)
	number("picture", r.Picture.Shape, "white in the middle", r.Picture.Reference.White, 0, "cd/m²", table.Empty())
	number("picture", r.Picture.Shape, "white at left and right edge, of the middle", 85, 0, "%", table.Empty())
	return t.CSV()
}
