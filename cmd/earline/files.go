// SPDX-License-Identifier: MIT

package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"earline/assets"
	"earline/project"
	"earline/project/disk"
	"earline/project/file"
)

// standard is the name of standard input among files that are read, and of standard
// output among those that are written.
const standard = "-"

// fileForms says what FILE may be.
const fileForms = "a design, demo:NAME, or - for standard input"

// fileNote ends the help of commands that read a FILE.
const fileNote = "\n\nFILE is " + fileForms + "."

// isFile reports whether a word on the command line is meant as a file: there is one,
// or it is called as files are.
func isFile(word string) bool {
	if word == standard || strings.ContainsAny(word, `./\:`) {
		return true
	}
	_, err := os.Stat(word)
	return err == nil
}

// input is standard input, which can be read once.
type input struct {
	r     io.Reader
	taken bool
}

// Read implements io.Reader.
func (in *input) Read(p []byte) (int, error) { return in.r.Read(p) }

// read returns what is in the file of that name, or on standard input, but no more
// than a byte over limit. The error names it.
func read(c *cobra.Command, name string, limit int) ([]byte, error) {
	if name == standard {
		if in, ok := c.InOrStdin().(*input); ok {
			if in.taken {
				return nil, refuse("standard input", "a second time", "once")
			}
			in.taken = true
		}
		return io.ReadAll(io.LimitReader(c.InOrStdin(), int64(limit)+1))
	}
	data, err := disk.Read(name, limit)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", inMessages(name), cause(err))
	}
	return data, nil
}

// inMessages is how a file that is read is called in messages.
func inMessages(name string) string {
	if name == standard {
		return "standard input"
	}
	return escaped(name)
}

// load reads the design in FILE.
func load(c *cobra.Command, arg string) (*project.Design, error) {
	if name, ok := strings.CutPrefix(arg, "demo:"); ok {
		demo, err := findDemo(name)
		if err != nil {
			return nil, err
		}
		return file.Decode(demo.Data, arg)
	}
	if arg == "" {
		return nil, refuse("FILE", "an empty name", fileForms)
	}
	data, err := read(c, arg, file.MaxSize)
	if err != nil {
		if _, known := assets.DemoNamed(arg); known && errors.Is(err, fs.ErrNotExist) {
			err = fmt.Errorf("%w; the demo room of that name is demo:%s", err, arg)
		}
		return nil, err
	}
	return file.Decode(data, inMessages(arg))
}

// output is standard output. It keeps the first error, so that printing reads as
// printing and no full disk goes unnoticed.
type output struct {
	w   io.Writer
	err error
}

// Write implements io.Writer.
func (o *output) Write(p []byte) (int, error) {
	if o.err != nil {
		return 0, o.err
	}
	n, err := o.w.Write(p)
	o.err = err
	return n, err
}

// write puts data into the file of that name, wholly or not at all, or on standard
// output.
func write(c *cobra.Command, name string, data []byte) error {
	if name == standard {
		_, err := c.OutOrStdout().Write(data)
		return err
	}
	if err := disk.Replace(name, data); err != nil {
		return fmt.Errorf("%s: %w", escaped(name), cause(err))
	}
	return nil
}

// writeDesign writes a design to the file of that name, or to standard output.
func writeDesign(c *cobra.Command, name string, d *project.Design) error {
	data, err := file.Encode(d)
	if err != nil {
		return about(name, err)
	}
	return write(c, name, data)
}

// createDesign writes a new file and prints its name; one that is there is kept.
func createDesign(c *cobra.Command, name string, d *project.Design) error {
	data, err := file.Encode(d)
	if err != nil {
		return about(name, err)
	}
	if name == standard {
		return write(c, name, data)
	}
	err = disk.Create(name, data)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s: is there already; give another name with -o", escaped(name))
	}
	if err != nil {
		return err
	}
	fmt.Fprintln(c.OutOrStdout(), name)
	return nil
}

// named refuses flags for a file that were given an empty name.
func named(c *cobra.Command, flags ...string) error {
	for _, name := range flags {
		if f := c.Flags().Lookup(name); f.Changed && f.Value.String() == "" {
			return refuse("--"+name, "an empty name", "a file's name, or "+standard)
		}
	}
	return nil
}
