// SPDX-License-Identifier: MIT

package sound

import (
	"earline/geometry/unit"
	"earline/project"
	"earline/project/noise"
	"earline/project/sound"
)

// noiseFacts say how quiet the room is, whose reverberation v is.
func noiseFacts(d *project.Design, v *sound.Reverb) []fact {
	quiet := noise.Of(d, v.RoomConstant())
	line := fact{Text: quiet.Line(func(m float64) string { return unit.Length(m).Format(d.Units != project.Imperial) }) + "."}
	if quiet.Verdict == noise.Over {
		line.weight = asFailing
	}
	facts := []fact{line}
	if text := quiet.Remark(); text != "" {
		facts = append(facts, fact{Text: text, weight: asFootnote})
	}
	return facts
}
