// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"earline/assets"
)

func helpCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND|TOPIC]",
		Short: "Print the help of a command, or a chapter of the manual",
		Long: `Help prints the help of a command, or a chapter of the manual:

` + topicList() + `
Without either it lists the commands.`,
		ValidArgsFunction: func(c *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
			var names []cobra.Completion
			if len(args) > 0 {
				return names, cobra.ShellCompDirectiveNoFileComp
			}
			for _, verb := range c.Root().Commands() {
				if verb.IsAvailableCommand() {
					names = append(names, cobra.CompletionWithDesc(verb.Name(), verb.Short))
				}
			}
			for _, t := range assets.Manual() {
				names = append(names, cobra.CompletionWithDesc(t.Name, t.Story))
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(c *cobra.Command, args []string) error {
			verb, rest, err := c.Root().Find(args)
			if err == nil && len(rest) == 0 {
				verb.InitDefaultHelpFlag()
				return verb.Help()
			}
			if t, ok := assets.TopicNamed(args[0]); ok && len(args) == 1 {
				fmt.Fprint(c.OutOrStdout(), plain(t.Text))
				return nil
			}
			err = unknownCommand(c.Root(), args[0])
			if len(c.Root().SuggestionsFor(args[0])) == 0 {
				err = fmt.Errorf("%w; topics: %s", err, strings.Join(topicNames(), ", "))
			}
			return err
		},
	}
}

// topicList lists the chapters of the manual, indented.
func topicList() string {
	var b strings.Builder
	for _, t := range assets.Manual() {
		fmt.Fprintf(&b, "  %-11s %s\n", t.Name, t.Story)
	}
	return b.String()
}

func topicNames() (names []string) {
	for _, t := range assets.Manual() {
		names = append(names, t.Name)
	}
	return names
}

// plain returns Markdown for a terminal: as it is written, without its comments.
func plain(text string) string {
	var b strings.Builder
	for _, line := range strings.SplitAfter(text, "\n") {
		if !strings.HasPrefix(line, "<!--") {
			b.WriteString(line)
		}
	}
	return b.String()
}
