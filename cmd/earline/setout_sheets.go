// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/project/file"
	"earline/project/place"
	"earline/project/setout"
	"earline/scene/drawing"
	"earline/scene/drawing/dxf"
	"earline/scene/drawing/pdf"
	"earline/scene/drawing/svg"
	"earline/scene/sheet"
)

// sheetFlags are what the command line can ask of drawings.
type sheetFlags struct {
	paper drawing.Paper
	sheet string
}

func (f *sheetFlags) flags(c *cobra.Command) {
	var names []string
	for _, p := range drawing.Papers() {
		names = append(names, p.Name)
	}
	addFlag(c, &f.paper, "paper", "SIZE", "", "paper of drawings: "+strings.Join(names, ", ")+" (default A3, or Tabloid for feet)", paperNamed(names))
	addFlag(c, &f.sheet, "sheet", "NUMBER", "", "draw that sheet only, such as S1", anyText)
	_ = c.RegisterFlagCompletionFunc("paper", completeWords(func() []string { return names }))
}

// paperNamed reads the name of a paper, in capitals or not.
func paperNamed(names []string) func(string) (drawing.Paper, error) {
	return func(text string) (drawing.Paper, error) {
		for _, p := range drawing.Papers() {
			if strings.EqualFold(p.Name, text) {
				return p, nil
			}
		}
		_, err := oneOf(names...)(text)
		return drawing.Paper{}, err
	}
}

// check refuses flags for drawings where none is written.
func (f *sheetFlags) check(c *cobra.Command, out setoutFile) error {
	for _, name := range [2]string{"paper", "sheet"} {
		if c.Flags().Changed(name) && (out.name == "" || out.ending == ".csv") {
			return refuse("--"+name, "no drawing to write", "together with --output FILE.pdf, .svg or .dxf")
		}
	}
	return nil
}

// write draws the sheets of a room and writes them. name is that of the design on the
// command line.
func (f *sheetFlags) write(c *cobra.Command, out setoutFile, name string, r *place.Room, l *setout.List) error {
	print, err := file.Fingerprint(r.Design)
	if err != nil {
		return err
	}
	face := drawing.NewTypeface(nil)
	o := sheet.Options{Paper: f.paper, Fingerprint: print, Typeface: face}
	if name != standard {
		o.File = filepath.Base(name)
	}
	sheets := sheet.Of(r, l, o)
	if f.sheet != "" {
		if sheets, err = f.only(sheets); err != nil {
			return err
		}
	}
	var b bytes.Buffer
	switch out.ending {
	case ".pdf":
		lacking, err := pdf.Write(&b, sheets, pdf.Info{Title: r.Design.Name, Creator: "Earline " + version}, face)
		if err != nil {
			return err
		}
		if len(lacking) > 0 {
			fmt.Fprintf(c.ErrOrStderr(), "earline: no typeface has %q; there is a ? instead\n", string(lacking))
		}
	case ".dxf":
		if err := dxf.Write(&b, sheet.Unmasked(sheets), face); err != nil {
			return err
		}
	default:
		for i := range sheets {
			to := out.name
			if f.sheet == "" {
				to = strings.TrimSuffix(to, filepath.Ext(to)) + "-" + sheets[i].Number + filepath.Ext(to)
			}
			if err := write(c, to, svg.Sheet(&sheets[i], face)); err != nil {
				return err
			}
		}
		return nil
	}
	return write(c, out.name, b.Bytes())
}

// only returns the sheet that is asked for.
func (f *sheetFlags) only(sheets []drawing.Sheet) ([]drawing.Sheet, error) {
	var numbers []string
	for i := range sheets {
		if strings.EqualFold(sheets[i].Number, f.sheet) {
			one := sheets[i]
			one.Links = nil // what they lead to is not there
			return []drawing.Sheet{one}, nil
		}
		numbers = append(numbers, sheets[i].Number)
	}
	return nil, refuse("--sheet", strconv.Quote(f.sheet), strings.Join(numbers, ", "))
}
