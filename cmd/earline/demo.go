// SPDX-License-Identifier: MIT

package main

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"github.com/spf13/cobra"

	"earline/assets"
	"earline/project"
	"earline/project/disk"
	"earline/project/file"
)

func demoCommand() *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "demo [NAME]",
		Short: "List the demo rooms, or write one to a file",
		Args:  cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				for _, d := range assets.Demos() {
					fmt.Fprintf(c.OutOrStdout(), "%-10s %s\n           %s\n", d.Name, d.Title, d.Story)
				}
				return nil
			}
			demo, err := findDemo(args[0])
			if err != nil {
				return err
			}
			if out == "" {
				out = demo.Name + ".earline"
			}
			err = disk.Create(out, demo.Data)
			if errors.Is(err, fs.ErrExist) {
				return fmt.Errorf("%s: is there already; give another name with -o", out)
			}
			if err != nil {
				return err
			}
			fmt.Fprintln(c.OutOrStdout(), out)
			return nil
		},
	}
	c.Flags().StringVarP(&out, "output", "o", "", "file to write (default NAME.earline)")
	return c
}

func findDemo(name string) (assets.Demo, error) {
	var names []string
	for _, d := range assets.Demos() {
		if d.Name == name {
			return d, nil
		}
		names = append(names, d.Name)
	}
	return assets.Demo{}, fmt.Errorf("demo %q: not known; there are %s", name, strings.Join(names, ", "))
}

// load reads the design in FILE; "demo:NAME" is the demo of that name.
func load(arg string) (*project.Design, error) {
	if name, ok := strings.CutPrefix(arg, "demo:"); ok {
		demo, err := findDemo(name)
		if err != nil {
			return nil, err
		}
		return file.Decode(demo.Data, arg)
	}
	return file.Read(arg)
}
