// SPDX-License-Identifier: MIT

package main

import (
	"encoding/json"
	"errors"
	"path/filepath"

	"github.com/spf13/cobra"

	"earline/project"
	"earline/project/fit"
	"earline/project/practice"
	"earline/project/settle"
	"earline/project/sight"
)

// auditFlags are what the command line can ask of an audit.
type auditFlags struct {
	answer
	all, tolerance, cures bool
	rules                 string
}

func auditCommand() *cobra.Command {
	var f auditFlags
	c := &cobra.Command{
		Use:   "audit FILE...",
		Short: "Say who hears every loudspeaker and sees the whole picture",
		Long: `Audit answers, for every seat and loudspeaker, whether both ears see the driver
that decides, by how much, and what stands in the way; for every seat whether it
sees the whole picture; and for every placement rule whether the room keeps it.
What falls short is told cause by cause, the most harmful first; what cannot be built
and what is unsafe is always told.

Given several FILEs, audit prints a line for each, or everything with --all or
--tolerance; with --json, a line for each is a JSON document that begins with its
"file". A file that cannot be used does not stop the others, and the worst exit
status counts.

Exit status: 0 nothing blocked and no rule broken that must hold, 1 otherwise,
2 a file cannot be used.` + fileNote,
		Args:              takes(1, 10_000),
		ValidArgsFunction: completeFiles,
		RunE:              func(c *cobra.Command, args []string) error { return runAudit(c, args, &f) },
	}
	f.flags(c)
	c.Flags().BoolVar(&f.all, "all", false, "list every pair and every rule measured, not only what falls short")
	c.Flags().BoolVar(&f.tolerance, "tolerance", false, "also say how far each loudspeaker may be misplaced")
	c.Flags().BoolVar(&f.cures, "cures", false, "also work out what cures the most harmful, and what that costs")
	c.Flags().StringVar(&f.rules, "rules", "", "house standard in `FILE`: rules switched off or with other limits (*"+practice.Extension+")")
	_ = c.RegisterFlagCompletionFunc("rules", completeEnding(practice.Extension))
	return c
}

// runAudit audits each of the files. What is wrong with one is told when all are done.
func runAudit(c *cobra.Command, files []string, f *auditFlags) error {
	if err := f.one(c); err != nil {
		return err
	}
	if err := named(c, "rules"); err != nil {
		return err
	}
	rules, err := readRules(c, f.rules)
	if err != nil {
		return err
	}
	var faults []error
	short := false
	for i, name := range files {
		a, err := auditOf(c, name, rules)
		if err == nil && f.cures {
			a.cures, err = remediesOf(c.Context(), a.design, a.causes, rules)
		}
		if err == nil {
			err = f.print(c, a, i, len(files))
		}
		if err != nil {
			faults = append(faults, about(inMessages(name), err))
			continue
		}
		short = short || a.short()
	}
	if len(faults) > 0 {
		return errors.Join(faults...)
	}
	if short {
		return errShort
	}
	return nil
}

// readRules reads the house standard that --rules names.
func readRules(c *cobra.Command, name string) (practice.Standard, error) {
	if !c.Flags().Changed("rules") {
		return practice.Standard{}, nil
	}
	data, err := read(c, name, practice.MaxSize)
	if err != nil {
		return practice.Standard{}, about("--rules", err)
	}
	s, err := practice.DecodeStandard(data, inMessages(name))
	return s, about("--rules", err)
}

// audited is what the audit of a file found.
type audited struct {
	file     string
	design   *project.Design
	sight    *sight.Result
	rules    *practice.Result
	everyone *sight.RangeResult
	causes   *settle.List
	cures    remedies // nil where nobody asked
}

func auditOf(c *cobra.Command, name string, rules practice.Standard) (*audited, error) {
	d, err := load(c, name)
	if err != nil {
		return nil, err
	}
	r := sight.Audit(d)
	everyone, err := sight.Range(c.Context(), d)
	if err != nil {
		return nil, err
	}
	kept := practice.Check(d, r, rules)
	return &audited{file: name, design: d, sight: r, rules: kept, everyone: everyone, causes: settle.Causes(r, kept, nil)}, nil
}

// short reports whether anything falls short.
func (a *audited) short() bool {
	return a.sight.Count[sight.Blocked] > 0 || a.sight.PictureCount[sight.Blocked] > 0 || len(fit.Findings(a.design)) > 0 || broken(a.rules)
}

// auditReport is an audit as data.
type auditReport struct {
	sight.Report
	Practice   practice.Report   `json:"practice"`
	Causes     settle.Report     `json:"causes"`
	Range      rangeReport       `json:"range"`
	Tolerances []toleranceReport `json:"tolerances"`
}

func (a *audited) report() auditReport {
	return auditReport{a.sight.Report(a.design), a.rules.Report(a.sight), a.causes.Report(a.sight, a.rules), reportRange(a.everyone, a.design.Units), reportTolerances(a.design, a.sight)}
}

// print prints audit number i of n.
func (f *auditFlags) print(c *cobra.Command, a *audited, i, n int) error {
	if f.json && n > 1 {
		return json.NewEncoder(c.OutOrStdout()).Encode(struct {
			File string `json:"file"`
			auditReport
		}{filepath.ToSlash(a.file), a.report()})
	}
	return f.give(c, func() any { return a.report() }, func(p *printer) {
		switch {
		case n > 1 && !f.all && !f.tolerance:
			printAuditLine(p, a)
			return
		case n > 1 && i > 0:
			p.printf("\n\n")
		}
		if n > 1 {
			p.printf("%s: ", escaped(a.file))
		}
		printAudit(p, a, f.all)
		printRange(p, a.everyone, a.design.Units, f.all)
		if f.tolerance {
			printTolerances(p, a.design, a.sight)
		}
		p.printf("\n%s\n", wrapped(a.causes.Sentence(), 92, "  "))
	})
}
