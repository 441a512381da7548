// SPDX-License-Identifier: MIT

package main

import (
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"earline/assets"
	"earline/project"
	"earline/project/place"
	"earline/scene"
)

// completer offers what may stand where a user has typed start.
type completer = func(c *cobra.Command, args []string, start string) ([]cobra.Completion, cobra.ShellCompDirective)

// completeFile offers designs and demo rooms for the first word only.
func completeFile(c *cobra.Command, args []string, start string) ([]cobra.Completion, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return completeFiles(c, args, start)
}

// completeFiles offers the demo rooms and what ends in .earline.
func completeFiles(_ *cobra.Command, _ []string, start string) ([]cobra.Completion, cobra.ShellCompDirective) {
	var words []cobra.Completion
	for _, d := range assets.Demos() {
		if name := "demo:" + d.Name; strings.HasPrefix(name, start) {
			words = append(words, cobra.CompletionWithDesc(name, d.Title))
		}
	}
	return withFiles(words, start, ".earline")
}

// completeEnding offers files whose names end so.
func completeEnding(ending string) completer {
	return func(_ *cobra.Command, _ []string, start string) ([]cobra.Completion, cobra.ShellCompDirective) {
		return withFiles(nil, start, ending)
	}
}

// withFiles adds files of that ending, and folders on the way to others.
func withFiles(words []cobra.Completion, start, ending string) ([]cobra.Completion, cobra.ShellCompDirective) {
	folder, begin := filepath.Split(start)
	entries, _ := os.ReadDir(filepath.Join(".", folder))
	if filepath.IsAbs(folder) {
		entries, _ = os.ReadDir(folder)
	}
	folders := 0
	for _, e := range entries {
		name := e.Name()
		if !strings.HasPrefix(name, begin) || strings.HasPrefix(name, ".") && begin == "" {
			continue
		}
		switch info, err := os.Stat(filepath.Join(folder, name)); {
		case err != nil:
		case info.IsDir():
			folders++
			words = append(words, folder+name+"/")
		case strings.HasSuffix(name, ending):
			words = append(words, folder+name)
		}
	}
	if folders == len(words) && folders == 1 {
		return words, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	}
	return words, cobra.ShellCompDirectiveNoFileComp
}

// completeWords offers fixed words.
func completeWords(words func() []string) completer {
	return func(*cobra.Command, []string, string) ([]cobra.Completion, cobra.ShellCompDirective) {
		return words(), cobra.ShellCompDirectiveNoFileComp
	}
}

// completeFrom offers what the design has that stands on the line already; without
// one, what an empty design has.
func completeFrom(words func(*project.Design) []string) completer {
	return func(c *cobra.Command, args []string, start string) ([]cobra.Completion, cobra.ShellCompDirective) {
		d := &project.Design{}
		if len(args) > 0 && args[0] != standard {
			if read, err := load(c, args[0]); err == nil {
				d = read
			}
		}
		var fit []cobra.Completion
		directive := cobra.ShellCompDirectiveNoFileComp
		for _, w := range words(d) {
			if !strings.HasPrefix(w, start) {
				continue
			}
			if fit = append(fit, w); strings.HasSuffix(w, ":") || strings.HasSuffix(w, "=") { // there is more to type
				directive |= cobra.ShellCompDirectiveNoSpace
			}
		}
		return fit, directive
	}
}

// viewNames returns the views of a design by name.
func viewNames(d *project.Design) []string {
	var names []string
	for _, name := range strings.Split(scene.ViewNames, ", ") {
		if kind, _, more := strings.Cut(name, ":"); !more {
			names = append(names, kind)
		} else if len(d.Seating.Rows) == 0 || kind == "walk" {
			names = append(names, kind+":")
		}
	}
	for _, s := range place.Seats(d) {
		names = append(names, "seat:"+s.Name())
	}
	for _, s := range place.Seats(d) {
		for _, l := range d.Speakers {
			names = append(names, "ear:"+s.Name()+":"+l.Name())
		}
	}
	return append(names, viewpointNames(d)...)
}

func completionCommand() *cobra.Command {
	shells := []string{"bash", "zsh", "fish", "powershell"}
	return &cobra.Command{
		Use:   "completion " + strings.Join(shells, "|"),
		Short: "Print the completion script of a shell",
		Long: `Completion prints a script by which a shell completes commands, flags, designs and
demo rooms, views, loudspeakers and seats. To have it in every new shell:

  bash        earline completion bash > ~/.local/share/bash-completion/completions/earline
  zsh         earline completion zsh > DIR/_earline, DIR being a folder of $fpath
  fish        earline completion fish > ~/.config/fish/completions/earline.fish
  powershell  earline completion powershell >> $PROFILE`,
		ValidArgs: shells,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) != 1 {
				return refuse("completion", counted(len(args), "word"), "one of "+strings.Join(shells, ", "))
			}
			_, err := oneOf(shells...)(args[0])
			return about("completion", err)
		},
		RunE: func(c *cobra.Command, args []string) error {
			root, w := c.Root(), c.OutOrStdout()
			switch args[0] {
			case "zsh":
				return root.GenZshCompletion(w)
			case "fish":
				return root.GenFishCompletion(w, true)
			case "powershell":
				return root.GenPowerShellCompletionWithDesc(w)
			}
			return root.GenBashCompletionV2(w, true)
		},
	}
}
