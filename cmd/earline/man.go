// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

func manCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "man",
		Short: "Print the manual page",
		Long: `Man prints the manual page of Earline, made from its commands. To read it:

  earline man > earline.1 && man ./earline.1`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return refuse("man", quoted(args), "nothing after it")
			}
			return nil
		},
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(c *cobra.Command, _ []string) error {
			manual(c.OutOrStdout(), c.Root())
			return nil
		},
	}
}

// manual writes the manual page of a command and those below it in the language of
// man(7).
func manual(w io.Writer, root *cobra.Command) {
	fmt.Fprintf(w, ".TH EARLINE 1 \"\" \"Earline %s\" \"User Commands\"\n", roff(version))
	fmt.Fprintf(w, ".SH NAME\nearline \\- %s\n", roff(strings.ToLower(root.Short[:1])+root.Short[1:]))
	fmt.Fprintf(w, ".SH SYNOPSIS\n")
	for i, c := range commands(root) {
		if i > 0 {
			fmt.Fprintf(w, ".br\n")
		}
		name, rest, _ := strings.Cut(c.UseLine(), " ")
		if c != root {
			verb, more, _ := strings.Cut(rest, " ")
			name, rest = name+" "+verb, more
		}
		fmt.Fprintf(w, "\\fB%s\\fR %s\n", roff(name), roff(rest))
	}
	fmt.Fprintf(w, ".SH DESCRIPTION\n")
	roffText(w, root.Long)
	roffFlags(w, root)
	fmt.Fprintf(w, ".SH COMMANDS\n")
	for _, c := range commands(root)[1:] {
		fmt.Fprintf(w, ".SS \"earline %s\"\n", roff(c.Use))
		text := c.Long
		if text == "" {
			text = c.Short + "."
		}
		roffText(w, text)
		roffFlags(w, c)
	}
	fmt.Fprintf(w, ".SH EXIT STATUS\n")
	roffText(w, `0: answered, and nothing falls short.

1: answered, and something falls short.

2: the input or the command cannot be used; standard error says why, a line for each fault.`)
}

// commands returns root and the commands below it that are shown.
func commands(root *cobra.Command) []*cobra.Command {
	all := []*cobra.Command{root}
	for _, c := range root.Commands() {
		if c.IsAvailableCommand() {
			all = append(all, c)
		}
	}
	return all
}

// roffFlags lists the flags of a command.
func roffFlags(w io.Writer, c *cobra.Command) {
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if f.Hidden || f.Name == "help" && c.HasParent() {
			return
		}
		kind, usage := pflag.UnquoteUsage(f)
		head := "\\fB\\-\\-" + roff(f.Name) + "\\fR"
		if f.Shorthand != "" {
			head = "\\fB\\-" + f.Shorthand + "\\fR, " + head
		}
		if kind != "" {
			head += " \\fI" + roff(kind) + "\\fR"
		}
		if f.DefValue != "" && f.DefValue != "false" && f.DefValue != "[]" {
			usage += " (default " + f.DefValue + ")"
		}
		fmt.Fprintf(w, ".TP\n%s\n%s\n", head, roffLine(usage))
	})
}

// roffText writes paragraphs. Lines that are indented stay as they are.
func roffText(w io.Writer, text string) {
	fmt.Fprintf(w, ".PP\n")
	kept := false
	for _, line := range strings.Split(text, "\n") {
		switch indented := strings.HasPrefix(line, "  "); {
		case line == "" && kept:
			kept = false
			fmt.Fprintf(w, ".fi\n.RE\n.PP\n")
			continue
		case line == "":
			fmt.Fprintf(w, ".PP\n")
			continue
		case indented && !kept:
			kept = true
			fmt.Fprintf(w, ".RS\n.nf\n")
		}
		fmt.Fprintf(w, "%s\n", roffLine(strings.TrimPrefix(line, "  ")))
	}
	if kept {
		fmt.Fprintf(w, ".fi\n.RE\n")
	}
}

// roffLine writes a line so that it is never taken for a request.
func roffLine(line string) string {
	line = roff(line)
	if strings.HasPrefix(line, ".") || strings.HasPrefix(line, "'") {
		return `\&` + line
	}
	return line
}

// roff writes text so that it comes out as it is.
func roff(text string) string {
	return strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(text)
}
