// SPDX-License-Identifier: MIT

package asbuilt

import (
	"fmt"
	"path/filepath"
	"strings"

	"earline/app/ask"
	"earline/project"
	"earline/project/built"
	"earline/project/disk"
)

// ext is that of a site list.
const ext = ".csv"

func (p *asBuiltPage) writeList() {
	if p.frame.Busy() {
		return
	}
	p.frame.Commit()
	name := strings.TrimSuffix(p.session.Doc.Title(), filepath.Ext(p.session.Doc.Title()))
	p.frame.Ask.Save("Write the site list as", ask.FileName(name+" site list")+ext, ext, "", func(path string) {
		if err := disk.Replace(path, built.NewSheet(p.session.Design()).List()); err != nil {
			p.frame.Ask.Report("The site list is not written", err)
			return
		}
		p.session.Say("Site list written as " + path)
	})
}

func (p *asBuiltPage) readList() {
	if p.frame.Busy() {
		return
	}
	p.frame.Commit()
	p.frame.Ask.Open(ext, p.takeList)
}

// takeList reads a site list, asks about what looks like slips, and enters it: one step
// of undo.
func (p *asBuiltPage) takeList(path string) {
	name := filepath.Base(path)
	data, err := disk.Read(path, built.MaxSize)
	var r *built.Reading
	if err == nil {
		r, err = built.NewSheet(p.session.Design()).Read(data, name)
	}
	if err != nil {
		p.frame.Ask.Report("This site list cannot be used", err)
		return
	}
	p.frame.Raise(p)
	p.question(r, name)
}

// question asks about the first figure that needs it, then about the next, and enters
// what was taken in the end.
func (p *asBuiltPage) question(r *built.Reading, name string) {
	if len(r.Questions) == 0 {
		p.enter(r, name)
		return
	}
	q := r.Questions[0]
	text := q.Item.Name + ", " + q.Text
	if n := len(r.Questions) - 1; n > 0 {
		text += fmt.Sprintf("\n\n%d more to ask.", n)
	}
	p.frame.Ask.Question("Is this figure right?", text,
		ask.Answer{Text: "Yes", Main: true, Do: func() { r.Answer(true); p.question(r, name) }},
		ask.Answer{Text: "Leave it out", Do: func() { r.Answer(false); p.question(r, name) }},
		ask.Answer{Text: "Cancel"})
}

func (p *asBuiltPage) enter(r *built.Reading, name string) {
	if err := p.session.Do("read "+name, "", func(d *project.Design) { d.AsBuilt = r.AsBuilt }); err != nil {
		p.frame.Ask.Report("This site list cannot be used", err)
		return
	}
	p.session.Say(fmt.Sprintf("%d figures read from %s.", r.Taken, name))
}
