// SPDX-License-Identifier: MIT

package sound

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"earline/app/ask"
	"earline/project"
	"earline/project/bass"
	"earline/project/disk"
	"earline/project/measured"
	"earline/project/place"
)

// measuredFacts say how what was measured lies over st, the study of the design, and
// returns what was measured at seat; nil where nothing was.
func (p *soundPage) measuredFacts(st *bass.Study, seat int) ([]fact, *measured.Seat) {
	c, err := measured.Compare(p.session.Design(), st)
	if err != nil {
		return []fact{{Text: ask.Lines(err), weight: asFailing}}, nil
	}
	at := c.At(seat)
	facts := []fact{{Text: "As measured", weight: asHeading}}
	if at != nil {
		facts = append(facts, fact{Text: "Measured less computed at seat " + at.Name() + ": " + at.Differences()})
	} else if seat >= 0 && seat < len(st.Plan.Seats) {
		facts = append(facts, fact{Text: "Nothing was measured of all subwoofers at seat " + st.Plan.Seats[seat].Name() + ".", weight: asFootnote})
	}
	for k := range c.Groups {
		g := &c.Groups[k]
		for i := range g.Seats {
			text := g.Seats[i].Sentence() + "."
			if g.Of != project.AllSubwoofers {
				text = g.Name + ", " + text
			}
			facts = append(facts, fact{Text: strings.ToUpper(text[:1]) + text[1:]})
		}
		if text := g.SpreadSentence(); text != "" {
			facts = append(facts, fact{Text: text + "."})
		}
	}
	for _, text := range c.Remarks {
		facts = append(facts, fact{Text: text, weight: asFootnote})
	}
	facts = append(facts, fact{Text: "The subwoofers", weight: asHeading})
	return facts, at
}

func (p *soundPage) needSeat() error {
	if len(place.Seats(p.session.Doc.Design())) == 0 {
		return errors.New("the room has no seat")
	}
	return nil
}

// chooseResponses asks for a table of measured responses.
func (p *soundPage) chooseResponses() {
	if p.frame.Busy() {
		return
	}
	p.frame.Commit()
	p.frame.Ask.OpenAny([]string{".csv", ".txt"}, func(path string) {
		if err := p.readResponses(path); err != nil {
			p.frame.Ask.Report("The measured responses cannot be read", err)
		}
	})
}

// readResponses takes the responses of the table at path into the design. Of a table that
// names no seat it asks first whether it is of the seat on show.
func (p *soundPage) readResponses(path string) error {
	data, err := disk.Read(path, measured.MaxSize)
	if err != nil {
		return err
	}
	name := filepath.Base(path)
	take := func(seat string) error {
		r, err := measured.Read(data, p.session.Doc.Design(), measured.Options{Seat: seat, Name: name, Source: name})
		if err != nil {
			return err
		}
		replaced := 0
		if err := p.session.Do("read measured responses", "", func(d *project.Design) { replaced = r.Into(d) }); err != nil {
			return err
		}
		text := fmt.Sprintf("%d measured responses read from %s", len(r.Responses), name)
		if replaced > 0 {
			text += fmt.Sprintf(", %d in the place of what was there", replaced)
		}
		p.session.Say(strings.Join(append([]string{text}, r.Remarks...), "; ") + ".")
		p.open(bassTopic)
		return nil
	}
	if measured.NamesSeats(data) {
		return take("")
	}
	seats := place.Seats(p.session.Doc.Design())
	i := p.panel.Choice().Seat - 1
	if i < 0 {
		i = p.mainSeat()
	}
	if i < 0 || i >= len(seats) {
		return take("")
	}
	seat := seats[i].Name()
	if _, err := measured.Read(data, p.session.Doc.Design(), measured.Options{Seat: seat, Name: name}); err != nil {
		return err // before anything is asked
	}
	p.frame.Ask.Question("Whose response is it?", fmt.Sprintf("%s names no seat. Is it the response at seat %s, which the page shows? For another, choose that seat first.", name, seat),
		ask.Answer{Text: "Leave it out"}, ask.Answer{Text: "Take it for seat " + seat, Main: true, Do: func() {
			if err := take(seat); err != nil {
				p.frame.Ask.Report("The measured responses cannot be read", err)
			}
		}})
	return nil
}

// removeResponses takes the measured responses out of the design.
func (p *soundPage) removeResponses() {
	if err := p.session.Do("remove measured responses", "", func(d *project.Design) { d.Measured.Responses = nil }); err != nil {
		p.frame.Ask.Report("The measured responses cannot be removed", err)
	}
}
