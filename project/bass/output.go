// SPDX-License-Identifier: MIT

package bass

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"strings"

	"earline/geometry"
	"earline/project"
	"earline/project/air"
	"earline/project/bass/crossover"
	"earline/project/bass/filter"
	"earline/project/place"
)

// Output is how loud the subwoofers of a design can play together at every seat, and
// how loud they must, by third of an octave. All play one signal, each with the gain
// that the design gives it; the signal rises until the first of them is at a limit:
// its rated power, or its excursion where that is known. The room is in it, and with
// it what walls and corners add.
type Output struct {
	Thirds   []OutputThird
	Seats    []place.Seat
	Speakers []int    // indices in Design.Speakers of the subwoofers
	Names    []string // of the subwoofers
	// Can is the greatest level, dB SPL, [seat][third]; Moves says where excursion, not
	// power, sets it.
	Can   [][]float64
	Moves [][]bool
	// Main is the weakest third that is judged at the seat nearest the main listening
	// position, Worst that of all seats.
	Main, Worst Weakest
	// Rated is what the subwoofers are rated, watts, in the order of Speakers;
	// Needed and NeededWorst what reaches Must in the thirds of Main and Worst.
	Rated, Needed, NeededWorst []float64
	// Redirected is how many channels besides the LFE the subwoofers play below
	// Crossover, hertz, or below those that their loudspeakers have of their own.
	Redirected int
	Crossover  float64
	Remarks    []string // what was assumed

	volts [][]float64 // level for 2.83 V at each before its gain, [seat][third], dB SPL
}

// OutputThird is a third of an octave.
type OutputThird struct {
	Mid float64 // exact middle, hertz
	// Must is the level of the peaks in it, dB SPL: those of the LFE channel and of
	// what is redirected from the other channels, added by energy.
	Must float64
	// Judged is whether the LFE channel fills it: it lies within Lowest to Highest.
	Judged bool
}

// Weakest is where least is left.
type Weakest struct {
	Seat, Third int     // indices
	Reserve     float64 // by which the greatest level is above Must, dB; negative: it falls short
}

// ByExcursion reports whether excursion sets the level at w.
func (o *Output) ByExcursion(w Weakest) bool { return o.Moves[w.Seat][w.Third] }

// Short reports whether the peaks are not reached at the seat nearest the main
// listening position.
func (o *Output) Short() bool { return o.Main.Reserve < 0 }

// Output returns what the subwoofers of st can play, st being a study of d at
// frequencies that cover what is judged: driven as d tunes them.
func (st *Study) Output(d *project.Design) *Output {
	p := st.Plan
	pb := d.Playback.OrUsual()
	o := &Output{Seats: p.Seats, Speakers: p.Speakers, Names: p.names, Crossover: pb.Crossover}
	low := redirection(d)
	for _, r := range low {
		o.Redirected += r.channels
	}
	subs := p.limited(d)
	for i := range subs {
		o.Rated = append(o.Rated, subs[i].model.Power)
	}
	o.assumed(d, subs, low)
	byPower, both := *st.Response, *st.Response
	byPower.Level, both.Level = slices.Clone(both.Level), slices.Clone(both.Level)
	for n, f := range st.Response.Frequencies {
		power, least := bounds(subs, f)
		for seat := range st.Response.Seats {
			at := seat*len(st.Response.Frequencies) + n
			byPower.Level[at] += power
			both.Level[at] += least
		}
	}
	mids, can := both.Thirds()
	_, strong := byPower.Thirds()
	// What a common filter does to the level it does to the signal: the watts for a level
	// at a seat stay.
	bare := *st.Response
	bare.Level = slices.Clone(bare.Level)
	for i := range bare.Level {
		bare.Level[i] -= p.common.Level(bare.Frequencies[i%len(bare.Frequencies)])
	}
	_, o.volts = bare.Thirds()
	o.Can = can
	for _, mid := range mids {
		lo, hi := edges(mid)
		o.Thirds = append(o.Thirds, OutputThird{Mid: mid, Must: must(pb, low, mid) + d.Equalisation.Target.At(mid), Judged: lo >= Lowest && hi <= Highest})
	}
	for seat := range can {
		o.Moves = append(o.Moves, make([]bool, len(mids)))
		for n := range mids {
			const noticed = 0.05 // dB: half the last digit shown
			o.Moves[seat][n] = can[seat][n] < strong[seat][n]-noticed
		}
	}
	o.judge(nearest(p.Ears, place.MainPoint(d)))
	o.Needed, o.NeededWorst = o.needs(subs, o.Main), o.needs(subs, o.Worst)
	return o
}

// redirection returns how many channels besides the LFE the subwoofers of d play, by the
// crossover below which they do.
func redirection(d *project.Design) []redirected {
	pb := d.Playback.OrUsual()
	channels := map[string]bool{}
	var low []redirected
	for _, l := range d.Speakers {
		if strings.HasPrefix(l.Label, "LFE") || channels[l.Label] {
			continue
		}
		channels[l.Label] = true
		below := pb.CrossoverOf(l)
		at := slices.IndexFunc(low, func(r redirected) bool { return r.crossover == below })
		if at < 0 {
			at, low = len(low), append(low, redirected{crossover: below})
		}
		low[at].channels++
	}
	return low
}

// limited returns the subwoofers of p as d tunes them, with what limits them.
func (p *Plan) limited(d *project.Design) []limited {
	subs := make([]limited, len(p.Speakers))
	a := d.Room.Air.OrUsual()
	for i, k := range p.Speakers {
		m, _ := d.Model(d.Speakers[k].Model)
		subs[i] = limited{model: m, sub: subOf(m), filters: p.Subs[i].Filters, common: p.common,
			gain: d.Speakers[k].Tuning.Gain, density: air.Density(a.Temperature)}
	}
	return subs
}

// judge finds the weakest thirds, main being the seat nearest the main position.
func (o *Output) judge(main int) {
	o.Main.Reserve, o.Worst.Reserve = math.Inf(1), math.Inf(1)
	for seat := range o.Can {
		for n, t := range o.Thirds {
			if !t.Judged {
				continue
			}
			w := Weakest{seat, n, o.Can[seat][n] - t.Must}
			if w.Reserve < o.Worst.Reserve {
				o.Worst = w
			}
			if seat == main && w.Reserve < o.Main.Reserve {
				o.Main = w
			}
		}
	}
}

// needs returns the watts into the nominal impedance of each subwoofer that reach what
// is wanted at w.
func (o *Output) needs(subs []limited, w Weakest) []float64 {
	over := o.Thirds[w.Third].Must - o.volts[w.Seat][w.Third] // dB over 2.83 V, before the gains
	var out []float64
	for i := range subs {
		m := &subs[i].model
		out = append(out, project.Volts*project.Volts/m.Load()*math.Pow(10, (over+subs[i].gain+subs[i].own(o.Thirds[w.Third].Mid))/10))
	}
	return out
}

// assumed collects the remarks.
func (o *Output) assumed(d *project.Design, subs []limited, low []redirected) {
	add := func(format string, args ...any) {
		if text := fmt.Sprintf(format, args...); !slices.Contains(o.Remarks, text) {
			o.Remarks = append(o.Remarks, text)
		}
	}
	pb := d.Playback.OrUsual()
	lfe := pb.Reference + pb.Headroom + pb.LFEGain
	switch o.Redirected {
	case 0:
		add("Subwoofers: all play one signal; it has the peaks of the LFE channel, %.0f dB.", lfe)
	case 1:
		add("Subwoofers: all play one signal; it has the peaks of the LFE channel, %.0f dB, and below %s those of the other channel, %.0f dB, added by energy: a rule of thumb on the safe side, no published demand.",
			lfe, below(low, pb.Crossover), pb.Reference+pb.Headroom)
	default:
		add("Subwoofers: all play one signal; it has the peaks of the LFE channel, %.0f dB, and below %s those of %d other channels at once, %.0f dB each, added by energy: a rule of thumb on the safe side, no published demand.",
			lfe, below(low, pb.Crossover), o.Redirected, pb.Reference+pb.Headroom)
	}
	if t := d.Equalisation.Target; len(t.Points) > 0 {
		add("The level wanted follows the target of the bass, %s: 0 dB of it is the level above.", t.Called())
	}
	for i := range subs {
		m := &subs[i].model
		if m.Space == "" {
			add("%s: what its sensitivity was measured in is not given, taken as %s.", m.Name, m.SensedIn())
		}
		switch {
		case m.Displacement() == 0:
			add("%s: peak excursion not given: power alone limits it, and low down it may play less.", m.Name)
		case m.Enclosure == project.Ported:
			add("%s: its port is taken as tuned to its low end and without a limit of its own.", m.Name)
		}
	}
}

// redirected are channels that the subwoofers play below one crossover, hertz.
type redirected struct {
	crossover float64
	channels  int
}

// below says below which crossovers channels are redirected; usual is that of none.
func below(low []redirected, usual float64) string {
	least, most := usual, usual
	for i, r := range low {
		if i == 0 {
			least, most = r.crossover, r.crossover
		}
		least, most = min(least, r.crossover), max(most, r.crossover)
	}
	if least == most {
		return fmt.Sprintf("%.0f Hz", least)
	}
	return fmt.Sprintf("their crossovers, %.0f to %.0f Hz,", least, most)
}

// must returns the level of the peaks in the third about mid, dB SPL. Levels are those
// of project.Playback; the LFE channel and the others are added by energy, as signals
// that do not agree in phase. What is redirected is filtered by the low-pass of its
// crossover.
func must(pb project.Playback, low []redirected, mid float64) float64 {
	peak := pb.Reference + pb.Headroom
	sum := math.Pow(10, (peak+pb.LFEGain)/10)
	for _, r := range low {
		passed := cmplx.Abs(crossover.Of(pb.Slope).Low.Response(mid, r.crossover))
		sum += float64(r.channels) * passed * passed * math.Pow(10, peak/10)
	}
	return 10 * math.Log10(sum)
}

// subOf returns a model as a subwoofer, its sensitivity that in the free field, as
// field.Transfer wants it.
func subOf(m project.Model) Sub {
	return Sub{Enclosure: m.Enclosure, Corner: m.Cutoff, Sensitivity: m.BassSensitivity()}
}

// limited is a subwoofer with what limits it.
type limited struct {
	model   project.Model
	sub     Sub
	gain    float64      // dB
	filters filter.Chain // all that it has
	common  filter.Chain // those of them that all subwoofers have
	density float64      // of air, kg/m3
}

// own returns by how much its own filters raise a signal of f hertz, dB.
func (l *limited) own(f float64) float64 { return l.filters.Level(f) - l.common.Level(f) }

// bounds returns how far a signal of f hertz may be raised above 2.83 V before the first
// of subs is at its rated power, and before it is at that or at its excursion, dB. What
// gain and filters add to the signal is taken off.
func bounds(subs []limited, f float64) (power, least float64) {
	power, least = math.Inf(1), math.Inf(1)
	for i := range subs {
		s := &subs[i]
		raised := s.gain + s.filters.Level(f)
		power = min(power, s.byPower()-raised)
		least = min(least, s.byPower()-raised, s.byExcursion(f)-raised)
	}
	return power, least
}

// byPower returns how far above 2.83 V the rated power is, dB.
func (l *limited) byPower() float64 {
	return 10 * math.Log10(l.model.Power*l.model.Load()/(project.Volts*project.Volts))
}

// byExcursion returns how far above 2.83 V at f hertz the drivers reach their peak
// excursion, dB; infinite where that is not known.
//
// In a ported box the port adds to or takes from what the cone moves: cone by whole is
// |1 - (tuning/f)^2| in a box without losses (Small, Vented-Box Loudspeaker Systems,
// JAES 1973; from memory), its tuning taken as the corner, as in a Butterworth
// alignment.
func (l *limited) byExcursion(f float64) float64 {
	v := l.model.Displacement()
	if v == 0 {
		return math.Inf(1)
	}
	at1m := l.sub.Sensitivity + 20*math.Log10(cmplx.Abs(l.sub.Response(f)))
	free := DisplacementLevel(v, f, l.density) - at1m
	if l.sub.Enclosure == project.Ported {
		tuned := l.sub.Corner / f
		free -= 20 * math.Log10(max(math.Abs(1-tuned*tuned), 1e-6))
	}
	return free
}

// DisplacementLevel returns the level at 1 m in the free field, dB SPL, of a source much
// smaller than the wavelength that moves v m3 of air to either side, peak, at f hertz,
// in air of the density, kg/m3.
//
// Formula: p = rho w^2 v/(4 pi r), the pressure of a simple source of volume velocity
// w v (Morse and Ingard, Theoretical Acoustics, 7.1), by sqrt 2 for its root mean
// square.
func DisplacementLevel(v, f, density float64) float64 {
	const reference = 20e-6 // Pa
	w := 2 * math.Pi * f
	return 20 * math.Log10(density*w*w*v/(4*math.Pi*math.Sqrt2*reference))
}

// nearest returns the index of the point nearest to q.
func nearest(points []geometry.Vec, q geometry.Vec) int {
	best, at := math.Inf(1), -1
	for i, p := range points {
		if d := p.Dist(q); d < best {
			best, at = d, i
		}
	}
	return at
}
