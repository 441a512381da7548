// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/app/export"
	"earline/project"
	"earline/project/practice"
	"earline/scene/drawing"
	"earline/scene/gl"
)

func handoutCommand() *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "handout FILE book|proof|cards|lists|record -o OUT.pdf",
		Short: "Make the papers that are handed to people",
		Long: `Handout makes, as PDF,

  book   the room book for the client: cover, plan, the view from each row, before and
         after, options beside each other, in plain words
  proof  the proof sheet for owner and builder: who hears every loudspeaker and sees
         the whole picture, the worst path, the height of every hole
  cards  a card for every hole, four to a page
  lists  what "earline lists" prints, stages of the work with boxes to tick
  record what "earline handover" prints: the calibration record` + fileNote,
		Args: takes(2, 2),
		ValidArgsFunction: func(c *cobra.Command, args []string, start string) ([]string, cobra.ShellCompDirective) {
			if len(args) == 1 {
				return export.Papers(), cobra.ShellCompDirectiveNoFileComp
			}
			return completeFile(c, args, start)
		},
		RunE: func(c *cobra.Command, args []string) error {
			switch {
			case !slices.Contains(export.Papers(), args[1]):
				return refuse("handout", strconv.Quote(args[1]), strings.Join(export.Papers(), ", "))
			case out == "":
				return refuse("--out", "none", "the name of the PDF file to write, or -")
			case out != standard && !strings.EqualFold(filepath.Ext(out), ".pdf"):
				return refuse("--out", strconv.Quote(out), "a name that ends in .pdf, or -")
			}
			d, err := load(c, args[0])
			if err != nil {
				return err
			}
			data, err := handoutOf(c, d, args[1])
			if err != nil {
				return about(inMessages(args[0]), err)
			}
			return write(c, out, data)
		},
	}
	c.Flags().StringVarP(&out, "out", "o", "", "PDF `FILE` to write, or -")
	return c
}

// handoutOf returns that paper of d as PDF.
func handoutOf(c *cobra.Command, d *project.Design, paper string) ([]byte, error) {
	face := drawing.NewTypeface(nil)
	sheets, err := export.Handout(c.Context(), d, paper, practice.Standard{}, export.Shoot(gl.Still), nil, face)
	if err != nil {
		return nil, err
	}
	data, lacking, err := export.PDF(sheets, d, version, face)
	tellLacking(c, lacking)
	return data, err
}

// tellLacking says which letters of a document no typeface has.
func tellLacking(c *cobra.Command, letters []rune) {
	if text := export.Lacking(letters); text != "" {
		fmt.Fprintf(c.ErrOrStderr(), "earline: %s\n", text)
	}
}
