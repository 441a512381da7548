// SPDX-License-Identifier: MIT

package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"

	"github.com/spf13/cobra"

	"earline/geometry/unit"
)

// answer is how a verb hands over what it found: in words, as JSON, or by its exit
// status alone.
type answer struct{ json, quiet bool }

// flags adds the flags by which one asks for it.
func (a *answer) flags(c *cobra.Command) {
	c.Flags().BoolVar(&a.json, "json", false, "print the full result as JSON")
	a.quietFlag(c)
}

func (a *answer) quietFlag(c *cobra.Command) {
	c.Flags().BoolVarP(&a.quiet, "quiet", "q", false, "print errors only; the exit status answers")
}

// one returns an error when more than one thing is asked for on standard output:
// the answer as JSON, or what flags write to -. In words, the answer gives way.
func (a *answer) one(c *cobra.Command, flags ...string) error {
	var there []string
	if a.json {
		there = append(there, "--json")
	}
	if a.quiet && a.json {
		return refuse("--quiet", "--json as well", "one of the two")
	}
	for _, name := range flags {
		if f := c.Flags().Lookup(name); f.Value.String() == standard {
			there = append(there, "--"+name+" -")
		}
	}
	if len(there) > 1 {
		return refuse("standard output", strings.Join(there, " and "), "one of them")
	}
	a.quiet = a.quiet || len(there) > 0 && !a.json
	return nil
}

// give prints the answer, of which report is the data.
func (a *answer) give(c *cobra.Command, report func() any, words func(*printer)) error {
	switch {
	case a.json:
		enc := json.NewEncoder(c.OutOrStdout())
		enc.SetIndent("", " ")
		return enc.Encode(report())
	case !a.quiet:
		words(&printer{c.OutOrStdout()})
	}
	return nil
}

// interruptible returns a context that ends when the user interrupts the program.
func interruptible(c *cobra.Command) (context.Context, context.CancelFunc) {
	return signal.NotifyContext(c.Context(), os.Interrupt)
}

// printer prints words; output keeps what goes wrong.
type printer struct{ w io.Writer }

func (p *printer) printf(format string, args ...any) { _, _ = fmt.Fprintf(p.w, format, args...) }

// wrapped breaks text into lines no longer than width, all but the first indented.
func wrapped(text string, width int, indent string) string {
	var b strings.Builder
	n := 0
	for i, word := range unit.Fields(text) {
		switch {
		case i == 0:
		case n+1+len([]rune(word)) > width:
			b.WriteString("\n" + indent)
			n = 0
		default:
			b.WriteByte(' ')
			n++
		}
		b.WriteString(word)
		n += len([]rune(word))
	}
	return b.String()
}

// counted writes a number of things.
func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
