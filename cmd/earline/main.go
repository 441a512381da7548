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

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run runs the command line and returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	root := rootCommand()
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	switch err := root.ExecuteContext(context.Background()); {
	case err == nil:
		return statusFine
	case errors.Is(err, errShort):
		return statusShort
	default:
		for _, line := range strings.Split(strings.TrimRight(err.Error(), "\n"), "\n") {
			fmt.Fprintln(stderr, "earline: "+line)
		}
		return statusUnusable
	}
}

func rootCommand() *cobra.Command {
	root := &cobra.Command{
		Use:   "earline [FILE]",
		Short: "Plan private cinema rooms and prove who hears and sees what",
		Long: `Earline plans private cinema rooms: every ear must see every driver, and every
eye the whole screen, and the plan must prove it.

With no verb it opens the window, on FILE if one is given. The verbs give the
same answers without a window.`,
		Version:       version,
		Args:          cobra.MaximumNArgs(1),
		SilenceUsage:  true,
		SilenceErrors: true,
		RunE:          openWindow,
	}
	root.Flags().String("demo", "", "open the demo room of that name")
	root.CompletionOptions.HiddenDefaultCmd = true
	root.AddCommand(newCommand(), auditCommand(), renderCommand(), demoCommand(), solveCommand(), soundCommand(), bassCommand())
	return root
}
