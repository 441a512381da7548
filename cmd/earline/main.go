// SPDX-License-Identifier: MIT

// Command earline plans private cinema rooms and proves who hears and sees
// what. With no verb it opens the window; the verbs give the same answers
// without one.
//
// Exit status: 0 answered and nothing blocked, 1 answered and something falls
// short, 2 the input or the command cannot be used.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"
)

// version is set by the linker for a release.
var version = "0.1.0-dev"

// Exit statuses.
const (
	statusFine = iota
	statusShort
	statusUnusable
)

// errShort ends a verb that answered and found something that falls short; the
// answer itself has been printed.
var errShort = errors.New("something falls short")

func main() {
	cobra.MousetrapHelpText = "" // on Windows cobra refuses to start by a double click otherwise
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run runs the command line and returns the exit status.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	out := &output{w: stdout}
	root := rootCommand()
	root.SetArgs(args)
	root.SetIn(&input{r: stdin})
	root.SetOut(out)
	root.SetErr(stderr)
	err := root.ExecuteContext(context.Background())
	if out.err != nil { // whoever reads half an answer must not take it for a whole one
		err = fmt.Errorf("standard output: %w", cause(out.err))
	}
	switch {
	case err == nil:
		return statusFine
	case errors.Is(err, errShort):
		return statusShort
	}
	report(stderr, err)
	return statusUnusable
}

// report prints an error, a line for each fault.
func report(w io.Writer, err error) {
	for _, line := range strings.Split(strings.TrimRight(err.Error(), "\n"), "\n") {
		fmt.Fprintln(w, "earline: "+escaped(line))
	}
}

func rootCommand() *cobra.Command {
	root := &cobra.Command{
		Use:   "earline [FILE]",
		Short: "Plan private cinema rooms and prove who hears and sees what",
		Long: `Earline plans private cinema rooms: every ear must see every driver, and every
eye the whole screen, and the plan must prove it.

With no command it opens the window, on FILE if one is given. The commands give
the same answers without a window.

FILE is a design, demo:NAME for a demo room, or - for standard input. What is
written to - goes to standard output, in place of the answer in words. Numbers may
have a decimal point or a decimal comma; lengths have a unit, such as 2.4 m, 60cm
or 7' 10".`,
		Version:           version,
		Args:              fileForWindow,
		ValidArgsFunction: completeFile,
		SilenceUsage:      true,
		SilenceErrors:     true,
		RunE:              openWindow,
	}
	root.Flags().Bool("version", false, "print the version")
	root.Flags().String("demo", "", "open the demo room of that `NAME`")
	_ = root.RegisterFlagCompletionFunc("demo", completeWords(demoNames))
	root.SetFlagErrorFunc(flagFault)
	root.SetHelpCommand(helpCommand())
	root.AddCommand(newCommand(), auditCommand(), renderCommand(), demoCommand(), solveCommand(), soundCommand(), bassCommand(), equaliseCommand(), crossoverCommand(),
		setoutCommand(), decayCommand(), pictureCommand(), lightCommand(), lessonCommand(), tourCommand(), asBuiltCommand(), responsesCommand(), compareCommand(), listsCommand(), handoutCommand(), handoverCommand(), exportCommand(), importCommand(),
		completionCommand(), manCommand())
	for _, c := range append(root.Commands(), root) {
		c.Flags().BoolP("help", "h", false, "print this help")
	}
	return root
}
