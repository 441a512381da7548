// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"fmt"
	"image"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"earline/project"
	"earline/project/file"
	"earline/project/practice"
	"earline/project/setout"
	"earline/project/sight"
	"earline/scene"
	"earline/scene/drawing"
	"earline/scene/drawing/pdf"
	"earline/scene/gl"
	"earline/scene/handout"
)

// papers are what the handout verb makes.
var papers = []string{"book", "proof", "cards"}

func handoutCommand() *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "handout FILE book|proof|cards -o OUT.pdf",
		Short: "Make the papers that are handed to people",
		Long: `Handout makes, as PDF,

  book   the room book for the client: cover, plan, the view from each row, before and
         after, options beside each other, in plain words
  proof  the proof sheet for owner and builder: who hears every loudspeaker and sees
         the whole picture, the worst path, the height of every hole
  cards  a card for every hole, four to a page` + fileNote,
		Args: takes(2, 2),
		ValidArgsFunction: func(c *cobra.Command, args []string, start string) ([]string, cobra.ShellCompDirective) {
			if len(args) == 1 {
				return papers, cobra.ShellCompDirectiveNoFileComp
			}
			return completeFile(c, args, start)
		},
		RunE: func(c *cobra.Command, args []string) error {
			switch {
			case !slices.Contains(papers, args[1]):
				return refuse("handout", strconv.Quote(args[1]), strings.Join(papers, ", "))
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
	var sheets []drawing.Sheet
	r := sight.Audit(d)
	if paper == "book" {
		var err error
		if sheets, err = handout.Book(d, shoot, face); err != nil {
			return nil, err
		}
	} else {
		l, err := setout.Of(c.Context(), r, practice.Standard{})
		if err != nil {
			return nil, err
		}
		sheets = handout.Cards(d, l, face)
		if paper == "proof" {
			print, err := file.Fingerprint(d)
			if err != nil {
				return nil, err
			}
			sheets = handout.Proof(r, l, print, face)
		}
		if len(sheets) == 0 {
			return nil, refuse("loudspeakers", "no cut-outs", "one at least that is built into a wall or the ceiling")
		}
	}
	var b bytes.Buffer
	lacking, err := pdf.Write(&b, sheets, pdf.Info{Title: d.Name, Creator: "Earline", Made: madeOn(d)}, face)
	if len(lacking) > 0 {
		fmt.Fprintf(c.ErrOrStderr(), "earline: no letter for %q: ? stands for each\n", string(lacking))
	}
	return b.Bytes(), err
}

// shoot takes a still as a client sees the room.
func shoot(d *project.Design, view string, w, h int, paper bool) (image.Image, error) {
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
	return gl.Still(gl.Job{W: w, H: h, Camera: v.Camera, List: scene.Build(d, r, o), Samples: 4, Scale: float32(h) / 800})
}

// madeOn returns the day of the design's revision, so that a paper is the same whenever
// it is made; the zero time where none is given.
func madeOn(d *project.Design) time.Time {
	t, err := time.Parse(time.DateOnly, string(d.Job.RevisedOn))
	if err != nil {
		return time.Time{}
	}
	return t
}
