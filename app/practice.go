// SPDX-License-Identifier: MIT

package app

import (
	"errors"
	"io/fs"
	"maps"
	"math"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"earline/app/remarks"
	"earline/app/session"
	"earline/geometry"
	"earline/project/place"
	"earline/project/practice"
	"earline/scene"
)

// findings returns what the rules of placement find; nil until that is known.
func (w *Window) findings() *practice.Result {
	r, _ := w.session.Known.Practice.Get()
	return r
}

// check shows what the rules of placement find. A chosen remark that is mended, or
// whose rule is off, is no longer drawn.
func (w *Window) check() {
	w.remarks.Set(w.findings(), w.session.Standard(), w.session.Design().Units)
	if c := w.session.Chosen; c.Remark != nil && w.remarks.Chosen() == nil {
		w.session.Choose(session.Selection{Seat: c.Seat, Speaker: c.Speaker})
	}
}

// chooseRemark draws a remark in the picture and selects what it is about; nil
// draws none.
func (w *Window) chooseRemark(m *practice.Remark) {
	c := session.Nothing()
	c.Remark = m
	if m != nil {
		c.Seat = w.markedSeat(m)
		switch {
		case len(m.Speakers) > 0:
			c.Speaker = m.Speakers[0]
			c.Item = place.Item{Kind: place.SpeakerItem, Index: c.Speaker}
		case len(m.Rows) > 0:
			c.Item = place.Item{Kind: place.RowItem, Index: m.Rows[0]}
		case c.Seat != session.None:
			c.Item = w.rowOf(c.Seat)
		}
	}
	w.session.Choose(c)
}

// markedSeat returns the one of a remark's seats at which its mark is drawn, or
// scene.None.
func (w *Window) markedSeat(m *practice.Remark) int {
	best, at := math.Inf(1), scene.None
	for _, i := range m.Seats {
		if w.session.Result() == nil || i < 0 || i >= len(w.session.Result().Bodies) {
			continue
		}
		head := w.session.Result().Bodies[i].Ear()
		places := [3]geometry.Vec{m.Mark.From, m.Mark.To, m.Mark.At}
		if m.Mark.Kind == practice.DistanceMark {
			places[2] = m.Mark.From // its At is where something stands in between
		}
		for _, p := range places {
			if d := p.Dist(head); d < best {
				best, at = d, i
			}
		}
	}
	return at
}

// unmark takes the mark of a remark out of the picture; false when there is
// none.
func (w *Window) unmark() bool {
	if w.session.Marked() == nil {
		return false
	}
	w.session.Choose(session.Nothing())
	return true
}

// setStandard puts a house standard in force and keeps it for the next start.
func (w *Window) setStandard(s practice.Standard) {
	w.session.SetStandard(s)
	if w.cfg.Standard == "" {
		return
	}
	err := os.MkdirAll(filepath.Dir(w.cfg.Standard), 0o777)
	if err == nil {
		err = practice.WriteStandard(w.cfg.Standard, s)
	}
	if err != nil {
		w.session.Say("The house standard cannot be kept for the next start: " + err.Error())
	}
}

// readStandard puts the house standard of the last time in force.
func (w *Window) readStandard() {
	if w.cfg.Standard == "" {
		return
	}
	s, err := practice.ReadStandard(w.cfg.Standard)
	switch {
	case err == nil:
		w.session.SetStandard(s)
	case !errors.Is(err, fs.ErrNotExist):
		w.report("The house standard cannot be read", err)
	}
}

// changeRule changes one rule of the house standard; nil puts it back to its
// own.
func (w *Window) changeRule(id string, c *practice.Change) error {
	s := practice.Standard{Name: w.session.Standard().Name, Changes: maps.Clone(w.session.Standard().Changes)}
	if s.Changes == nil {
		s.Changes = map[string]practice.Change{}
	}
	if c == nil {
		delete(s.Changes, id)
	} else {
		s.Changes[id] = *c
	}
	if err := s.Validate(); err != nil {
		return err
	}
	w.setStandard(s)
	return nil
}

// resetRule puts a rule back to its own limits.
func (w *Window) resetRule(r practice.Rule) { _ = w.changeRule(r.ID, nil) }

// switchRule switches a rule off, for a reason, or on again.
func (w *Window) switchRule(r practice.Rule) {
	if w.session.Standard().Changes[r.ID].Off {
		w.resetRule(r)
		return
	}
	reason := newFormEntry()
	reason.SetPlaceHolder("why this house does without it")
	w.askForm("Switch off: "+r.Title, r.Why, "Switch off", []*widget.FormItem{widget.NewFormItem("Reason", reason)}, reason, func() error {
		if strings.TrimSpace(reason.Text) == "" {
			return errors.New("a reason is needed")
		}
		return w.changeRule(r.ID, &practice.Change{Off: true, Reason: strings.TrimSpace(reason.Text)})
	})
}

// limitRule sets other limits, for a reason.
func (w *Window) limitRule(r practice.Rule) {
	units := w.session.Design().Units
	least, most, reason := newFormEntry(), newFormEntry(), newFormEntry()
	fill := func(e *formEntry, own, now *float64) {
		e.SetPlaceHolder("no limit")
		if own != nil {
			e.SetPlaceHolder(remarks.Show(*own, r.Unit, units))
		}
		if now != nil {
			e.SetText(remarks.Show(*now, r.Unit, units))
		}
	}
	c := w.session.Standard().Changes[r.ID]
	fill(least, r.Limits.Min, c.Min)
	fill(most, r.Limits.Max, c.Max)
	reason.SetText(c.Reason)
	reason.SetPlaceHolder("why this house asks for something else")
	w.askForm("Other limits: "+r.Title, "Its own: "+remarks.Range(r.Limits, r.Unit, units)+". Measured: "+r.Measures+".", "Set",
		[]*widget.FormItem{widget.NewFormItem("At least", least), widget.NewFormItem("At most", most), widget.NewFormItem("Reason", reason)},
		least, func() error {
			c, err := remarks.Changed(least.Text, most.Text, reason.Text, r, units)
			if err != nil {
				return err
			}
			return w.changeRule(r.ID, &c)
		})
}

// openStandard asks for a file with a house standard.
func (w *Window) openStandard() {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil || r == nil {
			return
		}
		path := r.URI().Path()
		_ = r.Close() // it is read by name, with its limits
		w.loadStandard(path)
	}, w.win)
	d.SetFilter(storage.NewExtensionFileFilter([]string{practice.Extension}))
	if l, err := storage.ListerForURI(storage.NewFileURI(w.folder())); err == nil {
		d.SetLocation(l)
	}
	w.pop(d, 860, 560)
}

func (w *Window) loadStandard(path string) {
	s, err := practice.ReadStandard(path)
	if err != nil {
		w.report("This house standard cannot be read", err)
		return
	}
	w.setStandard(s)
	w.drawer.show(practicePage)
}

// saveStandard writes the house standard to a file, to be passed on.
func (w *Window) saveStandard() {
	w.askPath("Save the house standard", "house", practice.Extension, func(path string) {
		if err := practice.WriteStandard(path, w.session.Standard()); err != nil {
			w.report("The house standard could not be saved", err)
		}
	})
}
