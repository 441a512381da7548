// SPDX-License-Identifier: MIT

package inspector

import (
	"earline/app/field"
	"earline/project"
)

func (in *Inspector) playbackSummary() string {
	p := in.host.Design().Playback.OrUsual()
	return plainNumber(p.Reference) + " dB(C), " + plainNumber(p.Crossover) + " Hz"
}

func (in *Inspector) buildPlayback(f *field.Form) {
	line := func(name, what string, step float64, suffix string, of func(*project.Playback) *float64) {
		usual := func() float64 {
			p := project.Playback{}.OrUsual()
			return *of(&p)
		}
		in.given(f, name, say("change "+what), step, suffix, func() string { return "usual, " + plainNumber(usual()) + suffix }, usual,
			func(d *project.Design) *float64 { return of(&d.Playback) })
	}
	line("Reference level", "the reference level", 1, " dB(C)", func(p *project.Playback) *float64 { return &p.Reference })
	line("Headroom", "the headroom", 1, " dB", func(p *project.Playback) *float64 { return &p.Headroom })
	line("LFE gain", "the LFE gain", 1, " dB", func(p *project.Playback) *float64 { return &p.LFEGain })
	line("Crossover", "the crossover", 5, " Hz", func(p *project.Playback) *float64 { return &p.Crossover })
	choice(in, f, "Slope", say("change the slope of the crossover"),
		func() []project.CrossoverSlope {
			all := project.CrossoverSlopes()
			all[0] = either(in.host.Design().Playback.Slope, all[0])
			return all
		},
		func(s project.CrossoverSlope) string {
			if s == "" {
				s = project.Playback{}.OrUsual().Slope
			}
			return string(s)
		},
		func(d *project.Design) *project.CrossoverSlope { return &d.Playback.Slope })
	line("Delay step", "the processor's delay step", 0.05, " ms", func(p *project.Playback) *float64 { return &p.DelayStep })
	line("Trim step", "the processor's trim step", 0.1, " dB", func(p *project.Playback) *float64 { return &p.TrimStep })
	in.given(f, "Background noise", say("change the background noise"), 1, " NR", func() string { return "not known" }, func() float64 { return 20 },
		func(d *project.Design) *float64 { return &d.Playback.Background })
	f.AddNote("Reference is one main channel at the main position with reference noise; steps are those in which the processor sets delays and levels. Background noise is without the projector. Empty: the usual. Long loud listening harms hearing.")
}
