// SPDX-License-Identifier: MIT

package figure

import (
	"fmt"
	"math"
	"strings"

	"earline/project"
	"earline/project/place"
	"earline/project/sound"
	"earline/scene/chart"
)

// Overall stands for all octaves that a loudspeaker plays, where an octave is
// asked for.
const Overall = -1

// Decay charts how long the room rings in each octave, with the target and its
// tolerance.
func Decay(r *sound.Reverb, target sound.Target) chart.Chart {
	octaves := project.Octaves()
	f := octaves[:]
	first, last := len(f), -1
	for o, judged := range r.Judged {
		if judged {
			first, last = min(first, o), max(last, o)
		}
	}
	words := "Reference room, 0.25 s (V/100 m³)^⅓"
	if target == sound.PrivateRoom {
		words = "Private room, 0.3 s (V/100 m³)^⅓"
	}
	c := chart.Chart{
		Title: "Reverberation time",
		X:     chart.Axis{Kind: chart.Frequency, Min: 50, Max: 10000},
		Y:     chart.Axis{Label: "T", Unit: "s", Min: 0, Max: top(r)},
		Series: []chart.Series{
			{Name: "Eyring", Kind: chart.Line, X: f, Y: r.Eyring[:], Heavy: true},
			{Name: "Sabine", Kind: chart.Line, X: f, Y: r.Sabine[:], Dash: chart.Dashed},
		},
		Note: "Both suppose a field that is the same everywhere. " + words + fmt.Sprintf(": %.2f s ± %.2f s for %.0f m³.", r.Wanted, sound.Tolerance, r.Volume),
	}
	if last >= first {
		lo, hi := max(r.Wanted-sound.Tolerance, 0), r.Wanted+sound.Tolerance
		c.Bands = []chart.Band{{Label: "wanted", X: []float64{f[first], f[last]}, Low: []float64{lo, lo}, High: []float64{hi, hi}}}
	}
	if r.Schroeder > 50 {
		c.Outside = []chart.Span{{From: math.Inf(-1), To: r.Schroeder, Label: "modes rule below the Schroeder frequency"}}
	}
	return c
}

// top is the end of the axis of times: over what is there, and at least so high
// that a short time does not look long.
func top(r *sound.Reverb) float64 {
	most := 2 * r.Wanted
	for o := range r.Eyring {
		most = max(most, r.Eyring[o], r.Sabine[o])
	}
	return math.Ceil(most*10+0.5) / 10
}

// Spread charts how loud every seat hears each loudspeaker against the main
// position, in an octave or Overall: a bar from the quietest seat to the loudest,
// a sign for the mean. Subwoofers are left out: their level is that of the room.
func Spread(h *sound.Direct, room *place.Room, octave int) chart.Chart {
	c := chart.Chart{
		Title: "Level at the seats, " + OctaveName(octave),
		X:     chart.Axis{Kind: chart.Category},
		Y:     chart.Axis{Label: "against the main position", Unit: "dB", Kind: chart.Decibel},
		Note:  "Direct sound with nothing in its way. What a blocked path costs more stands in the table of sight.",
	}
	var at, lo, hi, mean []float64
	var names []string
	for k := range room.Speakers {
		s := &h.Speakers[k]
		if room.Speakers[k].Spec.Subwoofer() || octave != Overall && !s.Plays[octave] {
			continue
		}
		l, u, sum := math.Inf(1), math.Inf(-1), 0.0
		for i := range room.Seats {
			v := h.At(i, k).Overall - s.Main.Overall
			if octave != Overall {
				v = h.Relative(i, k)[octave]
			}
			l, u, sum = min(l, v), max(u, v), sum+v
		}
		name := room.Speakers[k].Name()
		at = append(at, float64(len(c.X.Categories)))
		lo, hi, mean = append(lo, l), append(hi, u), append(mean, sum/float64(len(room.Seats)))
		names = append(names, fmt.Sprintf("%s, %.1f dB apart", name, u-l))
		c.X.Categories = append(c.X.Categories, name)
	}
	c.Series = []chart.Series{
		{Name: "quietest to loudest seat", Kind: chart.Bars, X: at, Y: hi, Low: lo, Names: names},
		{Name: "mean of the seats", Kind: chart.Points, X: at, Y: mean},
	}
	c.Bands = []chart.Band{chart.Across(-3, 3, "±3 dB, common practice")}
	return c
}

// Seats charts how loud every seat hears loudspeaker k against the main position,
// octave by octave.
func Seats(h *sound.Direct, room *place.Room, k int) chart.Chart {
	s, name := &h.Speakers[k], room.Speakers[k].Name()
	c := chart.Chart{
		Title: name + " at the seats",
		X:     chart.Axis{Kind: chart.Frequency},
		Y:     chart.Axis{Label: "against the main position", Unit: "dB", Kind: chart.Decibel},
		Bands: []chart.Band{chart.Across(-3, 3, "±3 dB, common practice")},
		Note:  "Direct sound with nothing in its way. What a blocked path costs more stands in the table of sight.",
	}
	var f, lo, hi []float64
	octaves := project.Octaves()
	for o := range octaves {
		if s.Plays[o] {
			f = append(f, octaves[o])
			lo, hi = append(lo, math.Inf(1)), append(hi, math.Inf(-1))
		}
	}
	if len(f) == 0 {
		return c
	}
	c.X.Min, c.X.Max = f[0]/math.Sqrt2, f[len(f)-1]*math.Sqrt2
	for i := range room.Seats {
		line := chart.Series{Name: SeatName(room, i), X: f, Quiet: true, Group: "seats"}
		r := h.Relative(i, k)
		for o := range octaves {
			if s.Plays[o] {
				n := len(line.Y)
				line.Y = append(line.Y, r[o])
				lo[n], hi[n] = min(lo[n], r[o]), max(hi[n], r[o])
			}
		}
		c.Series = append(c.Series, line)
	}
	if len(room.Seats) > 0 {
		c.Series = append(c.Series, chart.Series{Name: "quietest to loudest", Kind: chart.Area, X: f, Y: hi, Low: lo})
	}
	return c
}

// OctaveName names an octave by its index, or Overall.
func OctaveName(octave int) string {
	if octave < 0 || octave >= project.OctaveCount {
		return "all it plays"
	}
	f := project.Octaves()[octave]
	if f >= 1000 {
		return fmt.Sprintf("%g kHz", f/1000)
	}
	return fmt.Sprintf("%g Hz", f)
}

// Arrivals charts what one seat (sound.MainSeat for the main position) hears of
// one loudspeaker, or of sound.AllSpeakers, after its direct sound.
func Arrivals(r *sound.Reflections, room *place.Room, speaker, seat int) chart.Chart {
	c := chart.Chart{
		X: chart.Axis{Label: "after the direct sound", Kind: chart.Time, Min: 0, Max: 0.03},
		Y: chart.Axis{Label: "against the direct sound", Unit: "dB", Kind: chart.Decibel, Min: -30, Max: 3},
		Bands: []chart.Band{{Label: "limit: 10 dB down", Tone: chart.Unwanted,
			X: []float64{0, sound.EarlyTime / 1000}, Low: []float64{-sound.EarlyDrop, -sound.EarlyDrop}, High: []float64{math.Inf(1), math.Inf(1)}}},
		Note: "The strongest octave of 1 to 8 kHz. Limit: Rec. ITU-R BS.1116, EBU Tech 3276, for reference rooms. Images in flat surfaces; people neither reflect nor shade.",
	}
	switch {
	case speaker == sound.AllSpeakers:
		c.Title = "All loudspeakers at " + SeatName(room, seat)
		c.Note = "Each against its own direct sound. " + c.Note
	case speaker < 0 || speaker >= len(room.Speakers):
		return c
	default:
		c.Title = room.Speakers[speaker].Name() + " at " + SeatName(room, seat)
	}
	kept := chart.Series{Name: "reflections", Kind: chart.Stems}
	strong := chart.Series{Name: "too strong", Kind: chart.Stems, Heavy: true}
	latest := 0.0
	for i := range r.All {
		f := &r.All[i]
		if speaker != sound.AllSpeakers && f.Speaker != speaker || f.Seat != seat {
			continue
		}
		to := &kept
		if f.Breaks {
			to = &strong
		}
		to.X, to.Y = append(to.X, f.Delay/1000), append(to.Y, f.Strongest)
		name := way(r, f)
		if speaker == sound.AllSpeakers {
			name = room.Speakers[f.Speaker].Name() + " by " + name
		}
		to.Names = append(to.Names, name)
		latest = max(latest, f.Delay)
	}
	if latest > 30 {
		c.X.Max = math.Ceil(latest/10) / 100
	}
	c.Series = []chart.Series{{Name: "direct", Kind: chart.Stems, X: []float64{0}, Y: []float64{0}, Names: []string{"direct sound"}}, kept, strong}
	return c
}

// way names the surfaces that a reflection meets.
func way(r *sound.Reflections, f *sound.Reflection) string {
	var words []string
	for _, on := range f.Surfaces[:f.Order] {
		words = append(words, r.Surfaces[on].Words)
	}
	return strings.Join(words, ", then ")
}

// SeatName names a seat by its index in room, or the main position.
func SeatName(room *place.Room, seat int) string {
	if seat < 0 || seat >= len(room.Seats) {
		return "the main position"
	}
	return fmt.Sprintf("row %d seat %d", room.Seats[seat].Row, room.Seats[seat].Number)
}
