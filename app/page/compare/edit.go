// SPDX-License-Identifier: MIT

package compare

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2/widget"

	"earline/app/ask"
	"earline/app/field"
	"earline/app/words"
	"earline/project"
	"earline/project/compare"
	"earline/project/file"
)

// ext is that of a room.
const ext = ".earline"

// keep keeps the plan as it is now under a name that is asked for.
func (p *comparePage) keep() {
	if p.frame.Busy() {
		return
	}
	if err := p.needRoom(); err != nil {
		p.session.Say("Not done: " + err.Error() + ".")
		return
	}
	p.frame.Commit()
	p.name("Keep the plan as", "A copy of the plan as it is now is kept beside it, in the same file.", "Keep", p.suggested(), func(v project.Variant) error {
		return p.do(fmt.Sprintf("keep the plan as %q", v.Name), v.Name, func(d *project.Design) { d.Keep(v) })
	})
}

// suggested is what a design that is kept now most likely is.
func (p *comparePage) suggested() project.Variant {
	d := p.session.Doc.Design()
	if d.AsFound() < 0 {
		return project.Variant{Name: "As found", Role: project.Existing}
	}
	for n := 1; ; n++ {
		if name := fmt.Sprintf("Option %d", n); d.VariantNamed(name) < 0 && d.Variant.Name != name {
			return project.Variant{Name: name, Role: project.Option}
		}
	}
}

// bring asks for the file of a room and keeps that beside the plan.
func (p *comparePage) bring() {
	if p.frame.Busy() {
		return
	}
	if err := p.needRoom(); err != nil {
		p.session.Say("Not done: " + err.Error() + ".")
		return
	}
	p.frame.Commit()
	p.frame.Ask.Open(ext, p.bringIn)
}

// bringIn keeps the room of a file beside the plan.
func (p *comparePage) bringIn(path string) {
	other, err := file.Read(path)
	if err != nil {
		p.frame.Ask.Report("This room cannot be brought in", err)
		return
	}
	v := p.suggested()
	if v.Role != project.Existing {
		v.Name = strings.TrimSuffix(filepath.Base(path), ext)
	}
	text := fmt.Sprintf("%s is kept beside the plan. What has the same label, or the same place in its list, counts as the same thing.", filepath.Base(path))
	p.name("Bring in a room", text, "Bring in", v, func(v project.Variant) error {
		return p.do("bring in "+filepath.Base(path), v.Name, func(d *project.Design) {
			adopted := compare.Adopt(d, other)
			adopted.Variant = v
			d.Variants = append(append([]project.Design(nil), d.Variants...), *adopted)
		})
	})
}

// name asks for a name and a role.
func (p *comparePage) name(heading, text, button string, v project.Variant, take func(project.Variant) error) {
	name := ask.NewEntry()
	name.SetText(v.Name)
	if heading != renaming { // it is suggested, not the user's own
		name.SetText(words.Of(v.Name))
	}
	var names []string
	at := 0
	for i, r := range roles {
		names = append(names, r.words)
		if r.role == v.Role {
			at = i
		}
	}
	role := field.NewSelect(names, nil)
	role.SetSelectedIndex(at)
	items := []*widget.FormItem{widget.NewFormItem(words.Of("Name"), name), widget.NewFormItem(words.Of("It is"), role)}
	p.frame.Ask.Form(heading, text, button, items, name, func() error {
		w := project.Variant{Name: strings.TrimSpace(name.Text), Role: roles[max(role.SelectedIndex(), 0)].role}
		d := p.session.Doc.Design()
		switch {
		case w.Name == "":
			return errors.New("a design that is kept needs a name, such as \"As found\"")
		case w.Name == d.Variant.Name, w.Name != v.Name && d.VariantNamed(w.Name) >= 0, heading != renaming && d.VariantNamed(w.Name) >= 0:
			return fmt.Errorf("there is a design called %q already: each name once", w.Name)
		}
		return take(w)
	})
}

// renaming is the heading of the dialog in which a name may stay as it is.
const renaming = "Rename"

// do makes one step of undo, and compares the plan with the design of that name after it.
func (p *comparePage) do(label, with string, edit func(*project.Design)) error {
	p.with, p.chosen = with, ""
	if err := p.session.Do(label, "", edit); err != nil {
		return err
	}
	p.raise()
	return nil
}

// swap makes the design that is compared the plan, and keeps the plan in its place.
func (p *comparePage) swap() {
	if p.frame.Busy() || p.other() == nil {
		return
	}
	p.frame.Commit()
	name := p.other().Variant.Name
	plan := p.session.Doc.Design().VariantName()
	p.frame.Ask.Question(fmt.Sprintf("Make %q the plan?", name),
		fmt.Sprintf("What is the plan now is kept in its place, as %q: nothing is lost, and Undo swaps them back.", plan),
		ask.Answer{Text: "Swap", Main: true, Do: func() {
			i := p.index()
			if err := p.do(fmt.Sprintf("make %q the plan", name), "", func(d *project.Design) { d.Take(i) }); err != nil {
				p.frame.Ask.Report("They cannot be swapped", err)
				return
			}
			p.compareWith(i)
		}},
		ask.Answer{Text: "Cancel"})
}

// rename gives the design that is compared another name or role.
func (p *comparePage) rename() {
	if p.frame.Busy() || p.other() == nil {
		return
	}
	p.frame.Commit()
	was := p.other().Variant
	p.name(renaming, "Names are told apart in the choice of designs, and stand on every paper.", "Rename", was, func(v project.Variant) error {
		i := p.session.Doc.Design().VariantNamed(was.Name)
		return p.do(fmt.Sprintf("rename %q", was.Name), v.Name, func(d *project.Design) { d.Variants[i].Variant = v })
	})
}

// drop takes the design that is compared out of the file.
func (p *comparePage) drop() {
	if p.frame.Busy() || p.other() == nil {
		return
	}
	p.frame.Commit()
	name := p.other().Variant.Name
	p.frame.Ask.Question(fmt.Sprintf("Drop %q?", name), "It is taken out of this file. The plan stays as it is, and Undo brings the design back.",
		ask.Answer{Text: "Drop", Main: true, Do: func() {
			i := p.index()
			if err := p.do(fmt.Sprintf("drop %q", name), "", func(d *project.Design) { d.Drop(i) }); err != nil {
				p.frame.Ask.Report("It cannot be dropped", err)
			}
		}},
		ask.Answer{Text: "Cancel"})
}
