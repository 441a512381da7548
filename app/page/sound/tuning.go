// SPDX-License-Identifier: MIT

package sound

import (
	"errors"
	"path/filepath"

	"earline/app/session"
	"earline/project"
	"earline/project/file"
)

// setDelaysAndLevels sets every loudspeaker's delay and level for the main position: one step
// of undo.
func (p *soundPage) setDelaysAndLevels() {
	p.session.Draft(nil)
	h, state := p.session.Known.Direct.Get()
	if state != session.Fresh {
		p.session.Say("The direct sound is still being worked out.")
		return
	}
	to := h.Tuned(p.session.Doc.Design())
	if err := p.session.Do("set delays and levels", "", func(d *project.Design) { *d = *to }); err != nil {
		p.frame.Ask.Report("Delays and levels are not set", err)
		return
	}
	p.session.Say("Delays and levels are set for the main position, by distance and direct sound. Check them by measurement; align the subwoofers by their response.")
}

// choosePolar asks for a table of measured directivity for the model of the
// loudspeaker that the inspector shows.
func (p *soundPage) choosePolar() {
	if p.frame.Busy() {
		return
	}
	d, k := p.session.Doc.Design(), p.speaker()
	if k < 0 || k >= len(d.Speakers) {
		p.frame.Ask.Report("There is no loudspeaker", errors.New("choose one in the inspector: its model gets the data"))
		return
	}
	model := d.Speakers[k].Model
	p.frame.Ask.Open(".csv", func(path string) {
		if err := p.readPolar(model, path); err != nil {
			p.frame.Ask.Report("The directivity cannot be read", err)
		}
	})
}

// readPolar gives a model the directivity in the table at path.
func (p *soundPage) readPolar(model, path string) error {
	polar, err := file.ReadPolar(path, filepath.Base(path))
	if err != nil {
		return err
	}
	polar.Source = filepath.Base(path)
	if err := p.session.Do("read the directivity", "", func(d *project.Design) {
		for i := range d.Models {
			if d.Models[i].ID == model {
				d.Models[i].Polar = polar
			}
		}
	}); err != nil {
		return err
	}
	p.session.Say("Every loudspeaker of this model now has the directivity of " + filepath.Base(path) + ".")
	return nil
}
