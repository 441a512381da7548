// SPDX-License-Identifier: MIT

package main

import (
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"earline/project/lists"
)

func listsCommand() *cobra.Command {
	var list, out string
	c := &cobra.Command{
		Use:   "lists FILE",
		Short: "List equipment, cables, masses, outlets, air, panels, lights and stages of the work",
		Long: `Lists prints what the room is built with: loudspeakers and equipment by what they do;
a cable for every loudspeaker with its way along the walls from the rack, cross-section
and loss; the mass on each wall and on the ceiling; outlets; heat and air; panels; light
groups; and what is to be done and checked at each stage of the work.

With -o one list, named by --list, is written as CSV.` + fileNote,
		Args:              takes(1, 1),
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if out != "" && list == "" {
				return refuse("--list", "none", strings.Join(lists.Names(), ", "))
			}
			if out != "" && out != standard && !strings.EqualFold(filepath.Ext(out), ".csv") {
				return refuse("--out", strconv.Quote(out), "a name that ends in .csv, or -")
			}
			d, err := load(c, args[0])
			if err != nil {
				return err
			}
			all := lists.All(d)
			if list != "" {
				one, _ := lists.Find(d, list)
				all = []lists.Table{one}
			}
			if out != "" {
				return write(c, out, all[0].CSV())
			}
			p := &printer{c.OutOrStdout()}
			for i := range all {
				printTable(p, &all[i])
			}
			return nil
		},
	}
	addFlag(c, &list, "list", "NAME", "", "only that list: "+strings.Join(lists.Names(), ", "), oneOf(lists.Names()...))
	c.Flags().StringVarP(&out, "out", "o", "", "CSV `FILE` to write, or -")
	_ = c.RegisterFlagCompletionFunc("list", completeWords(lists.Names))
	return c
}

// printTable prints a list in columns; the last is as wide as it likes.
func printTable(p *printer, t *lists.Table) {
	p.printf("%s\n", t.Title)
	rows := [][]string{t.Columns}
	rows = append(rows, t.Rows...)
	if t.Sums != nil {
		rows = append(rows, t.Sums)
	}
	const most = 46 // of a column, before what follows is pushed right
	wide := make([]int, len(t.Columns))
	for _, row := range rows {
		for i, cell := range row {
			wide[i] = max(wide[i], min(utf8.RuneCountInString(cell), most))
		}
	}
	for _, row := range rows {
		line := " "
		for i, cell := range row {
			line += " " + cell + strings.Repeat(" ", max(wide[i]-utf8.RuneCountInString(cell), 0)+1)
		}
		p.printf("%s\n", strings.TrimRight(line, " "))
	}
	if len(t.Rows) == 0 {
		p.printf("  nothing\n")
	}
	for _, n := range slices.Concat(t.Notes, []string{t.Caution}) {
		if n != "" {
			p.printf("%s\n", wrapped(n, 100, "  "))
		}
	}
	p.printf("\n")
}
