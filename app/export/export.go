// SPDX-License-Identifier: MIT

// Package export makes the files that are handed out of a design: drawings, room book,
// proof sheet and hole cards. The command line and the window write what it makes, so
// that they write the same.
//
// All is made in memory, and who writes it puts it in its place whole or not at all; only
// Film, which may take minutes, writes what it makes itself.
package export

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"path/filepath"
	"strings"
	"time"

	"earline/project"
	"earline/project/file"
	"earline/project/handover"
	"earline/project/lesson"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/setout"
	"earline/project/sight"
	"earline/scene"
	"earline/scene/drawing"
	"earline/scene/drawing/dxf"
	"earline/scene/drawing/pdf"
	"earline/scene/drawing/svg"
	"earline/scene/gl"
	"earline/scene/handout"
	"earline/scene/sheet"
)

// Part is one file. A set of drawings may be one for each sheet.
type Part struct {
	Sheet string // its number, where there is a file for each; else empty
	Data  []byte
}

// Path returns where the part goes when the whole is to go to path: room.svg becomes
// room-S1.svg.
func (p Part) Path(path string) string {
	if p.Sheet == "" {
		return path
	}
	ending := filepath.Ext(path)
	return strings.TrimSuffix(path, ending) + "-" + p.Sheet + ending
}

// Sheets draws a room, whose list l is. The zero paper is what the list's units are
// printed on; name is that of the design's file, or empty.
func Sheets(r *place.Room, l *setout.List, paper drawing.Paper, name string, face *drawing.Typeface) (*sheet.Drawings, error) {
	print, err := file.Fingerprint(r.Design)
	if err != nil {
		return nil, err
	}
	o := sheet.Options{Paper: paper, Fingerprint: print, Typeface: face}
	if name != "" {
		o.File = filepath.Base(name)
	}
	return sheet.Draw(r, l, o), nil
}

// Drawings keeps sheets of d as the ending says: .pdf, .dxf, or .svg, a file for each
// sheet. lacking are the letters that no typeface of a PDF has.
func Drawings(sheets []drawing.Sheet, ending string, d *project.Design, version string, face *drawing.Typeface) (parts []Part, lacking []rune, err error) {
	switch ending {
	case ".pdf":
		data, lacking, err := PDF(sheets, d, version, face)
		return []Part{{Data: data}}, lacking, err
	case ".dxf":
		var b bytes.Buffer
		err := dxf.Write(&b, sheet.Unmasked(sheets), face)
		return []Part{{Data: b.Bytes()}}, nil, err
	}
	for i := range sheets {
		parts = append(parts, Part{sheets[i].Number, svg.Sheet(&sheets[i], face)})
	}
	return parts, nil, nil
}

// PDF keeps sheets of d as one document. lacking are the letters that no typeface has.
func PDF(sheets []drawing.Sheet, d *project.Design, version string, face *drawing.Typeface) (data []byte, lacking []rune, err error) {
	var b bytes.Buffer
	lacking, err = pdf.Write(&b, sheets, pdf.Info{Title: d.Name, Creator: strings.TrimSpace("Earline " + version), Made: madeOn(d)}, face)
	return b.Bytes(), lacking, err
}

// Result keeps the result sheet of a lesson d as PDF. lacking are the letters that no
// typeface has.
func Result(d *project.Design, m *lesson.Mark, version string, face *drawing.Typeface) (data []byte, lacking []rune, err error) {
	return PDF(handout.Result(d, m, face), d, version, face)
}

// madeOn returns the day of the design's revision, so that a paper is the same whenever
// it is made; the zero time where none is given.
func madeOn(d *project.Design) time.Time {
	t, err := time.Parse(time.DateOnly, d.Job.RevisedOn)
	if err != nil {
		return time.Time{}
	}
	return t
}

// Lacking says in one line which letters no typeface has; empty for none.
func Lacking(letters []rune) string {
	if len(letters) == 0 {
		return ""
	}
	return fmt.Sprintf("no typeface has %q: a ? stands for each", string(letters))
}

// The papers that are handed to people.
const (
	Book   = "book"   // for the client
	Proof  = "proof"  // for owner and builder
	Cards  = "cards"  // one for every hole
	Lists  = "lists"  // equipment, cables, masses ..., to be printed
	Record = "record" // what the processor is set to, and what is measured
)

// Papers returns their names.
func Papers() []string { return []string{Book, Proof, Cards, Lists, Record} }

// Handout makes a paper of d. shoot takes the stills of a room book; tell is told the
// share of them that is taken, and may be nil. The error is that of ctx, of shoot, or a
// *project.Fault of a design that has nothing to put on such a paper.
func Handout(ctx context.Context, d *project.Design, paper string, std practice.Standard, shoot handout.Shoot, tell func(share float64), face *drawing.Typeface) ([]drawing.Sheet, error) {
	if paper == Book {
		taken, all := 0, handout.Stills(d)
		return handout.Book(d, func(d *project.Design, view string, w, h int, white bool) (image.Image, error) {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			img, err := shoot(d, view, w, h, white)
			if taken++; tell != nil {
				tell(float64(taken) / float64(all))
			}
			return img, err
		}, face)
	}
	if paper == Lists {
		return handout.Lists(d, face), nil
	}
	if paper == Record {
		print, err := file.Fingerprint(d)
		if err != nil {
			return nil, err
		}
		return handout.Record(handover.Of(d, nil), print, face), nil
	}
	r := sight.Audit(d)
	l, err := setout.Of(ctx, r, std)
	if err != nil {
		return nil, err
	}
	var sheets []drawing.Sheet
	if paper == Proof {
		print, err := file.Fingerprint(d)
		if err != nil {
			return nil, err
		}
		sheets = handout.Proof(r, l, print, face)
	} else {
		sheets = handout.Cards(d, l, face)
	}
	if len(sheets) == 0 {
		return nil, &project.Fault{Field: "loudspeakers", Found: "found no cut-outs", Allowed: "one at least that is built into a wall or the ceiling"}
	}
	return sheets, nil
}

// Shoot takes stills as a client sees the room, with what draws a picture.
func Shoot(draw func(gl.Job) (*image.RGBA, error)) handout.Shoot {
	return func(d *project.Design, view string, w, h int, paper bool) (image.Image, error) {
		r := sight.Audit(d)
		v, err := scene.Named(d, r, view, float32(w)/float32(h))
		if err != nil {
			return nil, err
		}
		o := v.Apply(scene.Default())
		o.Client = true
		if paper {
			o.Palette = scene.Paper()
		}
		return draw(gl.Job{W: w, H: h, Camera: v.Camera, List: scene.Build(d, r, o), Samples: 4, Scale: float32(h) / 800})
	}
}
