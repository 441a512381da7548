// SPDX-License-Identifier: MIT

package main

import (
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/scene/gltf"
)

func exportCommand() *cobra.Command {
	var out string
	var people bool
	c := &cobra.Command{
		Use:   "export FILE -o MODEL.glb",
		Short: "Write the room as a 3D model that other programs open",
		Long: `Export writes the room as binary glTF 2.0: metres, y up, each wall, row, feature and
loudspeaker a part of its own that can be hidden or moved, and a light under every
light.` + fileNote,
		Args:              takes(1, 1),
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			switch {
			case out == "":
				return refuse("--out", "none", "the name of the .glb file to write, or -")
			case out != standard && !strings.EqualFold(filepath.Ext(out), ".glb"):
				return refuse("--out", strconv.Quote(out), "a name that ends in .glb, or -")
			}
			d, err := load(c, args[0])
			if err != nil {
				return err
			}
			data, err := gltf.Encode(d, people)
			if err != nil {
				return about(inMessages(args[0]), err)
			}
			return write(c, out, data)
		},
	}
	c.Flags().StringVarP(&out, "out", "o", "", "binary glTF `FILE` to write, or -")
	c.Flags().BoolVar(&people, "people", false, "seat the sitters too")
	return c
}
