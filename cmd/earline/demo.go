// SPDX-License-Identifier: MIT

package main

import (
	"errors"
	"fmt"
	"io/fs"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/assets"
	"earline/project/disk"
)

func demoCommand() *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "demo [NAME]",
		Short: "List the demo rooms, or write one to a file",
		Long: `With no NAME, demo lists the demo rooms. With one it writes that room to a file
that is not there yet, to be changed and saved. Wherever a FILE is read, demo:NAME
stands for the room itself.`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 1 {
				return refuse("demo", quoted(args), "one NAME, or none for a list")
			}
			return nil
		},
		ValidArgsFunction: func(c *cobra.Command, args []string, start string) ([]cobra.Completion, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return completeWords(demoNames)(c, args, start)
		},
		RunE: func(c *cobra.Command, args []string) error {
			if err := named(c, "output"); err != nil {
				return err
			}
			if len(args) == 0 {
				if out != "" {
					return refuse("--output", "no NAME", "together with the demo room to write")
				}
				for _, d := range assets.Demos() {
					fmt.Fprintf(c.OutOrStdout(), "%-10s %s\n           %s\n", d.Name, d.Title, d.Story)
				}
				return nil
			}
			return writeDemo(c, args[0], out)
		},
	}
	c.Flags().StringVarP(&out, "output", "o", "", "`FILE` to write, or - (default NAME.earline)")
	return c
}

// writeDemo writes a demo room to a file that is not there yet.
func writeDemo(c *cobra.Command, name, out string) error {
	demo, err := findDemo(name)
	if err != nil {
		return err
	}
	if out == "" {
		out = demo.Name + ".earline"
	}
	if out == standard {
		return write(c, out, demo.Data)
	}
	err = disk.Create(out, demo.Data)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s: is there already; give another name with -o", escaped(out))
	}
	if err != nil {
		return fmt.Errorf("%s: %w", escaped(out), cause(err))
	}
	_, err = fmt.Fprintln(c.OutOrStdout(), escaped(out))
	return err
}

func findDemo(name string) (assets.Demo, error) {
	demo, ok := assets.DemoNamed(name)
	if !ok {
		return demo, refuse("demo", strconv.Quote(name), strings.Join(demoNames(), ", "))
	}
	return demo, nil
}

func demoNames() (names []string) {
	for _, d := range assets.Demos() {
		names = append(names, d.Name)
	}
	return names
}
