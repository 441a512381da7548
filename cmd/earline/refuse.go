// SPDX-License-Identifier: MIT

package main

import (
	"errors"
	"fmt"
	"io/fs"
	"strconv"
	"strings"
	"unicode"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"earline/project"
)

// refuse returns the one line for what cannot be used: where it stands - a flag, a
// file, a command -, what was found there, what is allowed.
func refuse(where, found, allowed string) error {
	return &project.Fault{Field: where, Found: "found " + found, Allowed: allowed}
}

// flagFault says in the program's own words what is wrong with a flag.
func flagFault(c *cobra.Command, err error) error {
	if c == c.Root() { // a mistyped command goes before a flag that only the command has
		if wrong := mistyped(c, c.Flags().Args()); wrong != nil {
			return wrong
		}
	}
	var unknown *pflag.NotExistError
	var missing *pflag.ValueRequiredError
	var syntax *pflag.InvalidSyntaxError
	var invalid *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown):
		name := unknown.GetSpecifiedName()
		if unknown.GetSpecifiedShortnames() != "" {
			name = "-" + name
		} else {
			name = "--" + name
		}
		return refuse(c.Name(), escaped(name)+", which is no flag here", strings.Join(flagNames(c), ", "))
	case errors.As(err, &missing):
		return refuse("--"+missing.GetFlag().Name, "nothing after it", allowedBy(missing.GetFlag()))
	case errors.As(err, &syntax):
		return refuse(c.Name(), strconv.Quote(syntax.GetSpecifiedFlag()), "--FLAG, or --FLAG=VALUE")
	case errors.As(err, &invalid):
		flag := invalid.GetFlag()
		if flag.Value.Type() == "bool" {
			return refuse("--"+flag.Name, strconv.Quote(invalid.GetValue()), "true or false")
		}
		return fmt.Errorf("--%s: %w", flag.Name, invalid.Unwrap())
	}
	return err
}

// allowedBy says what may follow a flag.
func allowedBy(f *pflag.Flag) string {
	kind, usage := pflag.UnquoteUsage(f)
	return kind + " (" + usage + ")"
}

// flagNames returns the flags of a command as they are typed.
func flagNames(c *cobra.Command) (names []string) {
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if !f.Hidden {
			names = append(names, "--"+f.Name)
		}
	})
	return names
}

// fileForWindow lets the window have one word, a file's name.
func fileForWindow(c *cobra.Command, args []string) error {
	if err := mistyped(c, args); err != nil {
		return err
	}
	return takes(0, 1)(c, args)
}

// mistyped returns an error when the first word is neither a command nor what a file
// can be called.
func mistyped(root *cobra.Command, args []string) error {
	if len(args) == 0 || isFile(args[0]) {
		return nil
	}
	return unknownCommand(root, args[0])
}

// unknownCommand says what a word that is no command might have been.
func unknownCommand(root *cobra.Command, word string) error {
	root.SuggestionsMinimumDistance = 2
	line := "unknown command " + strconv.Quote(word)
	if near := root.SuggestionsFor(word); len(near) > 0 {
		return fmt.Errorf("%s; did you mean %s?", line, strings.Join(near, " or "))
	}
	var names []string
	for _, c := range root.Commands() {
		if c.IsAvailableCommand() {
			names = append(names, c.Name())
		}
	}
	return fmt.Errorf("%s, allowed: %s, or a FILE for the window", line, strings.Join(names, ", "))
}

// takes returns the rule for a command that takes so many FILEs.
func takes(least, most int) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		switch {
		case len(args) < least:
			return fmt.Errorf("%s needs a FILE: %s", c.Name(), fileForms)
		case len(args) > most:
			allowed := "one FILE"
			if most == 0 {
				allowed = "flags only"
			}
			return refuse(c.Name(), counted(len(args), "word")+" ("+quoted(args)+")", allowed)
		}
		return nil
	}
}

func quoted(words []string) string {
	q := make([]string, len(words))
	for i, w := range words {
		q[i] = strconv.Quote(w)
	}
	return strings.Join(q, ", ")
}

// escaped returns text with all that would move a terminal's cursor, or turn the
// direction of its writing, written out.
func escaped(text string) string {
	var b strings.Builder
	for _, r := range text {
		if unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || r == unicode.ReplacementChar {
			b.WriteString(strings.Trim(strconv.QuoteRune(r), "'"))
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

// cause returns what went wrong with a file, without the name and the system call.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

// about returns err with the file or flag in front that it is about, unless it says
// so itself.
func about(name string, err error) error {
	if err == nil || errors.Is(err, errShort) {
		return err
	}
	name = escaped(name)
	if text := err.Error(); strings.HasPrefix(text, name+": ") || strings.HasPrefix(text, "--") {
		return err
	}
	var lines []error
	for _, line := range strings.Split(err.Error(), "\n") {
		lines = append(lines, errors.New(name+": "+line))
	}
	return errors.Join(lines...)
}
