// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/app"
)

// openWindow opens the window, on the file or demo named if any.
func openWindow(c *cobra.Command, args []string) error {
	cfg := app.Config{Version: version}
	demo, err := c.Flags().GetString("demo")
	if err != nil {
		return err
	}
	if len(args) == 1 {
		if c.Flags().Changed("demo") {
			return refuse("--demo", "a FILE too ("+strconv.Quote(args[0])+")", "one of the two")
		}
		name, isDemo := strings.CutPrefix(args[0], "demo:")
		switch {
		case isDemo:
			demo = name
		case args[0] == standard:
			if cfg.Design, err = load(c, standard); err != nil {
				return err
			}
		default:
			cfg.Path = args[0]
		}
	}
	if demo != "" || c.Flags().Changed("demo") {
		room, err := findDemo(demo)
		if err != nil {
			return err
		}
		cfg.Demo = room.Name
	}
	if err := app.CanOpen(); err != nil {
		return fmt.Errorf("%w; \"earline audit\" and \"earline render\" work without a window", err)
	}
	if cfg.Mark, err = marks(); err != nil {
		return err
	}
	return app.Run(cfg)
}
