// SPDX-License-Identifier: MIT

package main

import (
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/app/export"
	"earline/project/place"
	"earline/project/setout"
	"earline/scene/drawing"
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
	face := drawing.NewTypeface(nil)
	if name == standard {
		name = ""
	}
	drawn, err := export.Sheets(r, l, f.paper, name, face)
	if err != nil {
		return err
	}
	sheets := drawn.Sheets
	if f.sheet != "" {
		if sheets, err = f.only(sheets); err != nil {
			return err
		}
	}
	parts, lacking, err := export.Drawings(sheets, out.ending, r.Design, version, face)
	if err != nil {
		return err
	}
	tellLacking(c, lacking)
	for _, p := range parts {
		if f.sheet != "" { // one file, whatever its kind
			p.Sheet = ""
		}
		if err := write(c, p.Path(out.name), p.Data); err != nil {
			return err
		}
	}
	return nil
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
