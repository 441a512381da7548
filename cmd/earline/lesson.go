// SPDX-License-Identifier: MIT

package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/app/export"
	"earline/project"
	"earline/project/lesson"
	"earline/scene/drawing"
)

// lessonFlags are what can be asked of lessons.
type lessonFlags struct {
	answer
	seed, level, hint int
	mark, sheet, out  string
	from, fault       string
}

func lessonCommand() *cobra.Command {
	var f lessonFlags
	c := &cobra.Command{
		Use:   "lesson --seed NUMBER | --mark FILE | --from SOUND --fault FAULTY",
		Short: "Make a room with faults to be mended, and mark how it was mended",
		Long: `Lesson makes rooms for people who learn the trade. With --seed it writes a room with
faults; how many is not told. The same seed and level give the same room on every
machine. The room is mended like any other, in the window or with the solvers.

With --mark it marks a room that was mended: two points for a fault that is mended, one
for one that is found - its harm is less by a tenth at least - and one less for each
fault that was made and each thing that was taken away. Each fault is told with why its
rule is there and where its limit is from. --sheet writes the result as CSV, or as a page
to print. Level 3 has lessons whose best answer leaves a remark standing: they say why,
and what each way out comes to.

--mark with --hint 1, 2 and so on tells one hint instead: for each fault that is not
mended, where to look, then which rule, then the cure.

With --from and --fault a trainer makes a lesson of a sound room and the same room with
faults; what is to be found is written in the file, and not hidden.

Exit status: 0 the lesson is written or solved, 1 something is left, 2 a file or a
number cannot be used.` + fileNote,
		Args: takes(0, 0),
		RunE: func(c *cobra.Command, _ []string) error { return runLesson(c, &f) },
	}
	f.flags(c)
	addFlag(c, &f.seed, "seed", "NUMBER", "", fmt.Sprintf("make the lesson of this number, 1 to %d", project.LastLesson), lessonNumber(project.LastLesson))
	addFlag(c, &f.level, "level", "LEVEL", "1", fmt.Sprintf("1, one or two faults, to %d, up to four", project.HardestLesson), lessonNumber(project.HardestLesson))
	addFlag(c, &f.hint, "hint", "NUMBER", "", "tell one hint, counted from 1", notZero(count, "a whole number from 1"))
	fs := c.Flags()
	fs.StringVar(&f.mark, "mark", "", "`FILE` of a lesson to mark, or -")
	fs.StringVar(&f.sheet, "sheet", "", "`FILE` to write the result to: .csv, .pdf, or - for CSV")
	fs.StringVar(&f.from, "from", "", "`FILE` of a sound room")
	fs.StringVar(&f.fault, "fault", "", "`FILE` of the same room with faults")
	fs.StringVarP(&f.out, "output", "o", "", "`FILE` to write the lesson to, or - (default lesson-NUMBER.earline)")
	return c
}

// lessonNumber reads a whole number from 1 to most.
func lessonNumber(most int) func(string) (int, error) {
	return func(text string) (int, error) {
		n, err := strconv.Atoi(strings.TrimSpace(text))
		if err != nil || n < 1 || n > most {
			return 0, found(text, fmt.Sprintf("a whole number from 1 to %d", most))
		}
		return n, nil
	}
}

func runLesson(c *cobra.Command, f *lessonFlags) error {
	if err := errors.Join(f.one(c, "sheet", "output"), named(c, "mark", "sheet", "from", "fault", "output"),
		needs(c, "seed", "level"), needs(c, "mark", "hint", "sheet", "json", "quiet"), needs(c, "from", "fault"), needs(c, "fault", "from")); err != nil {
		return err
	}
	asked := 0
	for _, name := range []string{"seed", "mark", "from"} {
		if c.Flags().Changed(name) {
			asked++
		}
	}
	switch {
	case asked != 1:
		return refuse("lesson", map[bool]string{true: "nothing to do", false: "several things to do"}[asked == 0], "one of --seed, --mark and --from")
	case f.mark != "":
		if f.out != "" {
			return refuse("--output", "--mark as well", "--sheet for the result")
		}
		if f.hint > 0 && (f.json || f.sheet != "") {
			return refuse("--hint", "--json or --sheet as well", "by itself: a hint is a line of words")
		}
		return markLesson(c, f)
	case f.from != "":
		return trainerLesson(c, f)
	}
	l, err := lesson.Make(f.seed, f.level)
	if err != nil {
		return err
	}
	out := f.out
	if out == "" {
		out = fmt.Sprintf("lesson-%d.earline", f.seed)
	}
	return createDesign(c, out, l.Start)
}

func trainerLesson(c *cobra.Command, f *lessonFlags) error {
	sound, err := load(c, f.from)
	if err != nil {
		return err
	}
	faulty, err := load(c, f.fault)
	if err != nil {
		return err
	}
	if f.out == "" {
		return refuse("--output", "none", "the name of the file to write, or -")
	}
	d, err := lesson.From(sound, faulty)
	if err != nil {
		return about(inMessages(f.fault), err)
	}
	if err := createDesign(c, f.out, d); err != nil || f.out == standard {
		return err
	}
	p := &printer{c.OutOrStdout()}
	for _, fault := range d.Lesson.Faults {
		p.printf("%-6s  %s\n", fault.Severity, wrapped(fault.Text, 92, "        "))
	}
	return nil
}

func markLesson(c *cobra.Command, f *lessonFlags) error {
	ending := strings.ToLower(filepath.Ext(f.sheet))
	if f.sheet != "" && f.sheet != standard && ending != ".csv" && ending != ".pdf" {
		return refuse("--sheet", strconv.Quote(f.sheet), "a name that ends in .csv or .pdf, or - for CSV")
	}
	d, err := load(c, f.mark)
	if err != nil {
		return err
	}
	l, err := lesson.Of(d)
	if err != nil {
		return about(inMessages(f.mark), err)
	}
	m := l.Mark(d)
	if f.hint > 0 {
		return hintLesson(c, m, f.hint)
	}
	if f.sheet != "" {
		data := m.CSV()
		if ending == ".pdf" {
			var lacking []rune
			if data, lacking, err = export.Result(d, m, version, drawing.NewTypeface(nil)); err != nil {
				return err
			}
			tellLacking(c, lacking)
		}
		if err := write(c, f.sheet, data); err != nil {
			return err
		}
	}
	if err := f.give(c, func() any { return m.Report() }, func(p *printer) { printMark(p, d.Name, m) }); err != nil {
		return err
	}
	if !m.Solved() {
		return errShort
	}
	return nil
}

func hintLesson(c *cobra.Command, m *lesson.Mark, number int) error {
	p := &printer{c.OutOrStdout()}
	hints := m.Hints()
	if number > len(hints) {
		p.printf("There are no more hints.\n")
		return nil
	}
	p.printf("%s\n", wrapped(hints[number-1], 100, ""))
	return nil
}

// printMark prints how a lesson went.
func printMark(p *printer, name string, m *lesson.Mark) {
	const width, indent = 92, "        "
	p.printf("%s: %s\n", name, m.Sentence())
	for _, l := range m.Lines() {
		switch l.Kind {
		case lesson.Heading:
			p.printf("\n%s\n", wrapped(l.Text, 100, ""))
		case lesson.Aside:
			p.printf("%s\n", wrapped(l.Text, 100, ""))
		default:
			head := l.Head
			if len(head) >= len(indent) { // longer than a state or a severity
				p.printf("%s\n%s%s\n", head, indent, wrapped(l.Text, width, indent))
				continue
			}
			p.printf("%-6s  %s\n", head, wrapped(l.Text, width, indent))
		}
	}
}
