// SPDX-License-Identifier: MIT

package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"earline/app"
)

// openWindow opens the window, on the file or demo named if any.
func openWindow(c *cobra.Command, args []string) error {
	cfg := app.Config{Version: version}
	if len(args) == 1 {
		cfg.Path = args[0]
	}
	demo, err := c.Flags().GetString("demo")
	if err != nil {
		return err
	}
	if demo != "" {
		if cfg.Path != "" {
			return fmt.Errorf("--demo %s: found a file too (%s); allowed is one of the two", demo, cfg.Path)
		}
		if _, err := findDemo(demo); err != nil {
			return err
		}
		cfg.Demo = demo
	}
	if err := app.CanOpen(); err != nil {
		return fmt.Errorf("%w; \"earline audit\" and \"earline render\" work without a window", err)
	}
	if cfg.Mark, err = marks(); err != nil {
		return err
	}
	return app.Run(cfg)
}
