// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/app/export"
	"earline/project/handover"
	"earline/project/lists"
)

func handoverCommand() *cobra.Command {
	var f answer
	var out string
	c := &cobra.Command{
		Use:   "handover FILE",
		Short: "Make the calibration record: what to set, what to measure",
		Long: `Handover makes the calibration record: for every loudspeaker distance, delay, trim,
crossover, polarity, filters and the level it is to have; the subwoofers; reference
levels by purpose; reverberation, noise and the white of the picture, wanted and as
planned; where the microphone stands and in what order the work is done. What the
design has as measured stands beside it; what it has not is left empty, to be filled in.

Delays and trims are those of the design; where it has none they follow from distance
and direct sound, and the record says so.

-o writes it as a page to print (.pdf) or as a table (.csv).

Exit status: 0 answered, 2 the file or the command cannot be used.` + fileNote,
		Args:              takes(1, 1),
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.one(c, "output"); err != nil {
				return err
			}
			if err := named(c, "output"); err != nil {
				return err
			}
			kind := strings.ToLower(filepath.Ext(out))
			if out == standard {
				kind = ".csv"
			}
			if out != "" && kind != ".pdf" && kind != ".csv" {
				return refuse("--output", strconv.Quote(out), "a name that ends in .pdf or .csv, or - for .csv")
			}
			d, err := load(c, args[0])
			if err != nil {
				return err
			}
			r := handover.Of(d, nil)
			if err := f.give(c, func() any { return r.Report() }, func(p *printer) { printRecord(p, r) }); err != nil {
				return err
			}
			switch kind {
			case ".csv":
				return write(c, out, r.CSV())
			case ".pdf":
				data, err := handoutOf(c, d, export.Record)
				if err != nil {
					return about(inMessages(args[0]), err)
				}
				return write(c, out, data)
			}
			return nil
		},
	}
	f.flags(c)
	c.Flags().StringVarP(&out, "output", "o", "", "`FILE` to write the record to: .pdf, or .csv, or - for comma separated")
	return c
}

// printRecord prints the record for people.
func printRecord(p *printer, r *handover.Record) {
	p.printf("%s, calibration record\n\n", r.Design.Name)
	tables := r.Tables()
	for i := range tables {
		t := &tables[i]
		shown := lists.Table{Title: t.Title, Columns: t.Columns, Notes: t.Notes}
		for n, row := range t.Rows {
			cells := append([]string{}, row...)
			for k := range cells {
				if t.Box(n, k) {
					cells[k] = "____"
				}
			}
			shown.Rows = append(shown.Rows, cells)
		}
		printTable(p, &shown)
	}
	for _, text := range r.MicrophoneWords() {
		p.printf("%s\n", wrapped(text, 100, "  "))
	}
	p.printf("\nOrder of work (common practice, no source)\n")
	for i, s := range handover.Steps() {
		p.printf("%s\n", wrapped(fmt.Sprintf("%d. %s", i+1, s), 100, "   "))
	}
	p.printf("\n%s\n", wrapped(r.Cautions(), 100, ""))
}
