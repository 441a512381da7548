// SPDX-License-Identifier: MIT

package app

import (
	"context"
	"errors"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"strings"

	"earline/app/ask"
	"earline/app/command"
	"earline/app/document"
	"earline/app/export"
	"earline/project"
	"earline/project/disk"
	"earline/project/handover"
	"earline/project/lesson"
	"earline/project/lists"
	"earline/project/practice"
	"earline/project/setout"
	"earline/project/sight"
	"earline/scene/drawing"
	"earline/scene/gl"
	"earline/scene/gltf"
)

// handed is something that File > Export writes.
type handed struct {
	id   string
	name string // in the menu: "Room book"
	ext  string
	says string
	can  func() error // nil: always
	make func(context.Context, *making) (parts []export.Part, lacking []rune, err error)
}

// making is what is known when something is made: on a goroutine of its own, of a design
// that nobody changes.
type making struct {
	design   *project.Design
	standard practice.Standard
	path     string // of the design's file; empty for none
	version  string
	draw     func(gl.Job) (*image.RGBA, error) // takes stills; nil where there is no 3D view
	tell     func(share float64)
}

// one is the parts of a single file.
func one(data []byte, err error) ([]export.Part, []rune, error) {
	return []export.Part{{Data: data}}, nil, err
}

// handedOut lists what can be exported, in the order of the menu.
func (w *Window) handedOut() []handed {
	var all []handed
	for _, f := range []struct{ ext, says string }{
		{".pdf", "Writes plan, ceiling, walls, sections, cut-outs, list and checks as pages to print at 100 %."},
		{".svg", "Writes every sheet as an SVG drawing of its own."},
		{".dxf", "Writes the drawings in full size for a drawing program."},
	} {
		kind := strings.ToUpper(f.ext[1:])
		all = append(all, handed{id: "drawings-" + f.ext[1:], name: "Set-out drawings, " + kind, ext: f.ext, says: f.says,
			make: func(ctx context.Context, m *making) ([]export.Part, []rune, error) {
				r := sight.Audit(m.design)
				l, err := setout.Of(ctx, r, m.standard)
				if err != nil {
					return nil, nil, err
				}
				face := drawing.NewTypeface(nil)
				drawn, err := export.Sheets(&r.Room, l, drawing.Paper{}, m.path, face)
				if err != nil {
					return nil, nil, err
				}
				return export.Drawings(drawn.Sheets, f.ext, m.design, m.version, face)
			}})
	}
	all = append(all, handed{id: "setout", name: "Set-out list", ext: ".csv", says: "Writes where everything goes as a table.",
		make: func(ctx context.Context, m *making) ([]export.Part, []rune, error) {
			l, err := setout.Of(ctx, sight.Audit(m.design), m.standard)
			if err != nil {
				return nil, nil, err
			}
			return one(l.Table().CSV(), nil)
		}})
	for _, name := range lists.Names() {
		all = append(all, handed{id: name, name: lists.Title(name), ext: ".csv", says: "Writes the " + strings.ToLower(lists.Title(name)) + " as a table.",
			make: func(_ context.Context, m *making) ([]export.Part, []rune, error) {
				l, _ := lists.Find(m.design, name)
				return one(l.CSV(), nil)
			}})
	}
	all = append(all, handed{id: "record-table", name: "Calibration record, CSV", ext: ".csv", says: "Writes the calibration record as a table, a line for each figure.",
		make: func(_ context.Context, m *making) ([]export.Part, []rune, error) {
			return one(handover.Of(m.design, nil).CSV(), nil)
		}})
	for _, f := range []struct{ id, name, ext, says string }{
		{"lesson", "Result of the lesson", ".pdf", "Writes how the lesson is mended as a page to print."},
		{"lesson-table", "Result of the lesson, CSV", ".csv", "Writes how the lesson is mended as a table."},
	} {
		all = append(all, handed{id: f.id, name: f.name, ext: f.ext, says: f.says,
			can: func() error {
				if !w.lesson() {
					return errors.New("this room is no lesson")
				}
				return nil
			},
			make: func(_ context.Context, m *making) ([]export.Part, []rune, error) {
				l, err := lesson.Of(m.design)
				if err != nil {
					return nil, nil, err
				}
				mark := l.Mark(m.design)
				if f.ext == ".csv" {
					return one(mark.CSV(), nil)
				}
				data, lacking, err := export.Result(m.design, mark, m.version, drawing.NewTypeface(nil))
				return []export.Part{{Data: data}}, lacking, err
			}})
	}
	for _, f := range []struct{ paper, name, says string }{
		{export.Book, "Room book", "Writes the book for the client: stills, plan, the view from each row."},
		{export.Proof, "Proof sheet", "Writes who hears every loudspeaker and sees the whole picture, for owner and builder."},
		{export.Cards, "Hole cards", "Writes a card for every hole, four to a page, to take to the wall."},
		{export.Lists, "All lists", "Writes every list as pages to print, with boxes to tick at the stages of the work."},
		{export.Record, "Calibration record", "Writes what the processor is set to and what each figure is to measure, with boxes for what the meter says."},
	} {
		h := handed{id: f.paper, name: f.name, ext: ".pdf", says: f.says, make: func(ctx context.Context, m *making) ([]export.Part, []rune, error) {
			return makePaper(ctx, f.paper, m)
		}}
		if f.paper == export.Book {
			h.can = func() error {
				if w.renderer == nil {
					return errNoPicture
				}
				return nil
			}
		}
		all = append(all, h)
	}
	for _, f := range []struct {
		id, name, says string
		people         bool
	}{
		{"model", "3D model", "Writes the room as binary glTF, which other programs open.", false},
		{"model-people", "3D model with people", "Writes the room with everyone seated as binary glTF.", true},
	} {
		all = append(all, handed{id: f.id, name: f.name, ext: ".glb", says: f.says, make: func(_ context.Context, m *making) ([]export.Part, []rune, error) {
			return one(gltf.Encode(m.design, f.people))
		}})
	}
	return all
}

// makePaper makes a paper that is handed to people.
func makePaper(ctx context.Context, paper string, m *making) ([]export.Part, []rune, error) {
	face := drawing.NewTypeface(nil)
	sheets, err := export.Handout(ctx, m.design, paper, m.standard, export.Shoot(m.draw), m.tell, face)
	if err != nil {
		return nil, nil, err
	}
	data, lacking, err := export.PDF(sheets, m.design, m.version, face)
	return []export.Part{{Data: data}}, lacking, err
}

// exportCommands are the lines of File > Export.
func (w *Window) exportCommands() []command.Command {
	var all []command.Command
	for _, h := range w.handedOut() {
		all = append(all, command.Command{ID: "file.export." + h.id, Name: h.name + "…", Says: h.says, Can: h.can, Do: func() { w.export(h) }})
	}
	return all
}

// export asks where to, makes it and writes it.
func (w *Window) export(h handed) {
	if w.ask.Busy() {
		return
	}
	w.commit()
	room := strings.TrimSuffix(w.session.Doc.Title(), document.Ext)
	w.ask.Save("Write as", ask.FileName(room+" "+strings.ToLower(strings.TrimSuffix(h.name, ", "+strings.ToUpper(h.ext[1:]))))+h.ext, h.ext, "", func(path string) { w.makeAndWrite(h, path) })
}

// makeAndWrite makes something in the background and writes it, whole or not at all.
func (w *Window) makeAndWrite(h handed, path string) {
	ctx, cancel := context.WithCancel(context.Background())
	tell, done := w.ask.Work("Export", "Making "+filepath.Base(path)+"…", cancel)
	m := &making{design: w.session.Doc.Design(), standard: w.session.Standard(), path: w.session.Doc.Path(), version: w.cfg.Version,
		tell: func(share float64) {
			w.cfg.Post(func() {
				if ctx.Err() == nil && !w.closed {
					tell(share)
				}
			})
		}}
	if w.renderer != nil {
		m.draw = w.renderer.Draw
	}
	w.session.Background(func() {
		parts, lacking, err := h.make(ctx, m)
		w.cfg.Post(func() {
			defer cancel()
			switch {
			case w.closed:
			case ctx.Err() != nil:
				w.session.Say("Cancelled: nothing is written.")
			case err != nil:
				done()
				w.ask.Report(h.name+": nothing is written", err)
			default:
				done()
				w.writeParts(h, path, parts, export.Lacking(lacking))
			}
		})
	})
}

// writeParts writes what was made, and asks first where that replaces files that were not
// named.
func (w *Window) writeParts(h handed, path string, parts []export.Part, remark string) {
	put := func() {
		w.session.Background(func() {
			var err error
			for _, p := range parts {
				if err = disk.Replace(p.Path(path), p.Data); err != nil {
					break
				}
			}
			w.cfg.Post(func() { w.written(h, path, parts, remark, err) })
		})
	}
	there := 0
	for _, p := range parts {
		if to := p.Path(path); to != path {
			if _, err := os.Stat(to); err == nil {
				there++
			}
		}
	}
	if there == 0 {
		put()
		return
	}
	w.ask.Question("Replace the files?", fmt.Sprintf("%d of the %d files are there already, such as %s.", there, len(parts), filepath.Base(parts[0].Path(path))),
		ask.Answer{Text: "Replace", Main: true, Do: put}, ask.Answer{Text: "Cancel"})
}

// written says what came of writing.
func (w *Window) written(h handed, path string, parts []export.Part, remark string, err error) {
	if w.closed {
		return
	}
	if err != nil {
		w.ask.Report(h.name+" is not written", err)
		return
	}
	text := h.name + " written as " + path
	if len(parts) > 1 {
		text = fmt.Sprintf("%s written as %d files, %s to %s", h.name, len(parts), parts[0].Path(path), filepath.Base(parts[len(parts)-1].Path(path)))
	}
	if remark != "" {
		text += "; " + remark
	}
	w.session.Say(text + ".")
}
