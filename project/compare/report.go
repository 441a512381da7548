// SPDX-License-Identifier: MIT

package compare

import "earline/project/sight"

// Report is a comparison as data, as `earline compare --json` prints it. Lengths are
// metres.
type Report struct {
	Format  string        `json:"format"` // always "earline-compare"
	Version int           `json:"version"`
	Name    string        `json:"name"`
	Was     ReportState   `json:"was"`
	Is      ReportState   `json:"is"`
	Things  []ReportThing `json:"things"`
	Holes   []ReportHole  `json:"holes"`
	Cables  []ReportCable `json:"cables"`
}

// ReportState is one of the two designs.
type ReportState struct {
	Name     string       `json:"name"`
	Totals   sight.Totals `json:"totals"`
	Pictures sight.Totals `json:"picture_totals"`
	Settle   int          `json:"causes_to_settle"`
}

// ReportThing is what becomes of a thing.
type ReportThing struct {
	ID      string     `json:"id"`
	Name    string     `json:"name"`
	Fate    string     `json:"fate"`
	By      [3]float64 `json:"moved_m"`
	Changes []string   `json:"changes"`
}

// ReportHole is what becomes of a cut-out.
type ReportHole struct {
	Surface     string  `json:"surface"`
	Loudspeaker string  `json:"loudspeaker"`
	Fate        string  `json:"fate"`
	From        float64 `json:"from_m"`
	To          float64 `json:"to_m"`
	Low         float64 `json:"low_m"`
	High        float64 `json:"high_m"`
	Area        float64 `json:"area_m2"`
	With        string  `json:"with"`
	Overlap     float64 `json:"overlap_m2"`
}

// ReportCable is whether the cable of a loudspeaker serves again.
type ReportCable struct {
	Loudspeaker string  `json:"loudspeaker"`
	There       float64 `json:"length_there_m"`
	Measured    bool    `json:"measured"`
	Needed      float64 `json:"length_needed_m"`
	ThereArea   float64 `json:"area_there_mm2"`
	Wanted      float64 `json:"area_wanted_mm2"`
	Serves      bool    `json:"serves_again"`
}

// Report returns r as data.
func (r *Result) Report() Report {
	out := Report{Format: "earline-compare", Version: 1, Name: r.Is.Design.Name,
		Was: r.Was.report(), Is: r.Is.report(), Things: []ReportThing{}, Holes: []ReportHole{}, Cables: []ReportCable{}}
	for _, t := range r.Things {
		rt := ReportThing{ID: t.ID, Name: t.Name, Fate: t.Fate.String(), By: [3]float64{t.By.X, t.By.Y, t.By.Z}, Changes: []string{}}
		for _, c := range t.Changes {
			rt.Changes = append(rt.Changes, c.Sentence(r.Is.Design.Units))
		}
		out.Things = append(out.Things, rt)
	}
	for _, h := range r.Holes {
		out.Holes = append(out.Holes, ReportHole{Surface: h.Surface, Loudspeaker: h.Name, Fate: h.Fate.String(),
			From: h.Rect.From, To: h.Rect.To, Low: h.Rect.Low, High: h.Rect.High, Area: h.Rect.Area(),
			With: h.With, Overlap: h.Overlap.Area()})
	}
	for _, c := range r.Cables {
		out.Cables = append(out.Cables, ReportCable{c.Name, c.There, c.Measured, c.Needed, c.ThereArea, c.Wanted, c.Serves})
	}
	return out
}

func (s *State) report() ReportState {
	n, _ := s.Causes.Count()
	return ReportState{Name: s.Name, Settle: n, Totals: sight.TotalsOf(s.Sight.Count), Pictures: sight.TotalsOf(s.Sight.PictureCount)}
}
