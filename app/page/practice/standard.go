// SPDX-License-Identifier: MIT

package practice

import (
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2/widget"

	"earline/app/ask"
	"earline/app/words"
	"earline/project/practice"
)

// setStandard puts a house standard in force and keeps it for the next start.
func (p *practicePage) setStandard(s practice.Standard) {
	p.session.SetStandard(s)
	if p.kept == "" {
		return
	}
	err := os.MkdirAll(filepath.Dir(p.kept), 0o777)
	if err == nil {
		err = practice.WriteStandard(p.kept, s)
	}
	if err != nil {
		p.session.Say("The house standard cannot be kept for the next start: " + err.Error())
	}
}

// readStandard puts the house standard of the last time in force.
func (p *practicePage) readStandard() {
	if p.kept == "" {
		return
	}
	s, err := practice.ReadStandard(p.kept)
	switch {
	case err == nil:
		p.session.SetStandard(s)
	case !errors.Is(err, fs.ErrNotExist):
		p.frame.Ask.Report("The house standard cannot be read", err)
	}
}

// changeRule changes one rule of the house standard; nil puts it back to its
// own.
func (p *practicePage) changeRule(id string, c *practice.Change) error {
	s := practice.Standard{Name: p.session.Standard().Name, Changes: maps.Clone(p.session.Standard().Changes)}
	if s.Changes == nil {
		s.Changes = map[string]practice.Change{}
	}
	if c == nil {
		delete(s.Changes, id)
	} else {
		next := *c
		if !next.Off && next.Layers == nil {
			next.Layers = s.Changes[id].Layers // what is set by layer, in the file, stays
		}
		s.Changes[id] = next
	}
	if err := s.Validate(); err != nil {
		return err
	}
	p.setStandard(s)
	return nil
}

// resetRule puts a rule back to its own limits.
func (p *practicePage) resetRule(r practice.Rule) { _ = p.changeRule(r.ID, nil) }

// switchRule switches a rule off, for a reason, or on again.
func (p *practicePage) switchRule(r practice.Rule) {
	if p.session.Standard().Changes[r.ID].Off {
		p.resetRule(r)
		return
	}
	reason := ask.NewEntry()
	reason.SetPlaceHolder(words.Of("why this house does without it"))
	p.frame.Ask.Form("Switch off: "+r.Title, r.Why, "Switch off", []*widget.FormItem{widget.NewFormItem(words.Of("Reason"), reason)}, reason, func() error {
		if strings.TrimSpace(reason.Text) == "" {
			return errors.New("a reason is needed")
		}
		return p.changeRule(r.ID, &practice.Change{Off: true, Reason: strings.TrimSpace(reason.Text)})
	})
}

// limitRule sets other limits, for a reason.
func (p *practicePage) limitRule(r practice.Rule) {
	units := p.session.Design().Units
	least, most, reason := ask.NewEntry(), ask.NewEntry(), ask.NewEntry()
	fill := func(e *ask.Entry, own, now *float64) {
		e.SetPlaceHolder(words.Of("no limit"))
		if own != nil {
			e.SetPlaceHolder(words.Of(valueWords(*own, r.Unit, units)))
		}
		if now != nil {
			e.SetText(words.Figure(valueWords(*now, r.Unit, units)))
		}
	}
	c := p.session.Standard().Changes[r.ID]
	fill(least, r.Limits.Min, c.Min)
	fill(most, r.Limits.Max, c.Max)
	reason.SetText(c.Reason)
	reason.SetPlaceHolder(words.Of("why this house asks for something else"))
	p.frame.Ask.Form("Other limits: "+r.Title, "Its own: "+limitWords(r.Limits, r.Unit, units)+". Measured: "+r.Measures+".", "Set",
		[]*widget.FormItem{widget.NewFormItem(words.Of("At least"), least), widget.NewFormItem(words.Of("At most"), most), widget.NewFormItem(words.Of("Reason"), reason)},
		least, func() error {
			c, err := changedLimits(least.Text, most.Text, reason.Text, r, units)
			if err != nil {
				return err
			}
			return p.changeRule(r.ID, &c)
		})
}

// openStandard asks for a file with a house standard.
func (p *practicePage) openStandard() {
	p.frame.Ask.Open(practice.Extension, p.loadStandard)
}

func (p *practicePage) loadStandard(path string) {
	s, err := practice.ReadStandard(path)
	if err != nil {
		p.frame.Ask.Report("This house standard cannot be read", err)
		return
	}
	p.setStandard(s)
	p.frame.Raise(p)
}

// saveStandard writes the house standard to a file, to be passed on.
func (p *practicePage) saveStandard() {
	p.frame.Ask.Save("Save the house standard", "house", practice.Extension, "", func(path string) {
		if err := practice.WriteStandard(path, p.session.Standard()); err != nil {
			p.frame.Ask.Report("The house standard could not be saved", err)
		}
	})
}
