// SPDX-License-Identifier: MIT

package sound

import (
	"fmt"
	"slices"

	"earline/app/ask"
	"earline/app/session"
	"earline/project"
	"earline/project/bass"
)

// output returns what the subwoofers can play; nil where that is not known, or there
// are none.
func (p *soundPage) output() *bass.Output {
	st, state := p.session.Known.Bass.Get()
	if state != session.Fresh || st == nil {
		return nil
	}
	return st.Output(p.session.Design())
}

// outputFacts say what the subwoofers of st, a study of d, can play.
func outputFacts(d *project.Design, st *bass.Study) []fact {
	o := st.Output(d)
	facts := []fact{
		{Text: "At rated power, main position: " + o.Sentence(o.Main), weight: weightOf(o.Main)},
		{Text: "Weakest: " + o.Sentence(o.Worst), weight: weightOf(o.Worst)},
	}
	for i := range o.Names {
		facts = append(facts, fact{Text: needWords(o, i)})
	}
	for _, text := range o.Remarks {
		facts = append(facts, fact{Text: text, weight: asFootnote})
	}
	return facts
}

// needWords says what watts subwoofer i of o takes, and where.
func needWords(o *bass.Output, i int) string {
	return fmt.Sprintf("%s: needs %.0f W at the main position, %.0f W at the weakest seat; it is rated %.0f W", o.Names[i], o.Needed[i], o.NeededWorst[i], o.Rated[i])
}

func weightOf(w bass.Weakest) weight {
	if w.Reserve < 0 {
		return asFailing
	}
	return asPlain
}

// subwooferFacts say what loudspeaker k, a subwoofer, takes; none for another.
func (p *soundPage) subwooferFacts(k int) []fact {
	o := p.output()
	if o == nil {
		why := "the bass of the room is still being worked out"
		if err := p.session.Known.Bass.Err(); err != nil {
			why = ask.Lines(err)
		}
		return []fact{{Text: "What it needs is not known: " + why, weight: asFootnote}}
	}
	i := slices.Index(o.Speakers, k)
	if i < 0 {
		return nil
	}
	return []fact{{Text: needWords(o, i)}, {Text: "All subwoofers, main position: " + o.Sentence(o.Main), weight: weightOf(o.Main)}}
}
