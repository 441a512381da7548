// SPDX-License-Identifier: MIT

// Command licences prints the terms of everything that a program is made of: its own,
// those of Go's library, and those of every module that is linked into it on any of the
// systems named.
//
//	licences -tags TAGS [-and TITLE=FILE]... FOLDER PACKAGE SYSTEM...
//
// FOLDER has the program's go.mod and LICENSE. It fails where a module has no terms.
package main

import (
	"bufio"
	"bytes"
	"cmp"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "licences:", err)
		os.Exit(1)
	}
}

func run(args []string, to io.Writer) error {
	flags := flag.NewFlagSet("licences", flag.ContinueOnError)
	tags := flags.String("tags", "", "the program's build `tags`")
	var more []part
	flags.Func("and", "`TITLE=FILE`, terms of what is no Go module", func(s string) error {
		title, file, ok := strings.Cut(s, "=")
		if !ok {
			return errors.New("allowed: TITLE=FILE")
		}
		more = append(more, part{title: title, files: []string{file}})
		return nil
	})
	if err := flags.Parse(args); err != nil {
		return err
	}
	if flags.NArg() < 3 {
		return errors.New("allowed: a folder, a package, and one system or more")
	}
	folder, program, systems := flags.Arg(0), flags.Arg(1), flags.Args()[2:]

	linked := map[module][]string{}
	for _, system := range systems {
		if err := list(linked, folder, program, system, *tags); err != nil {
			return err
		}
	}
	goroot, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return err
	}
	root := strings.TrimSpace(string(goroot))
	parts := []part{
		{title: "Earline", files: []string{filepath.Join(folder, "LICENSE")}},
		{title: "Go's library, " + runtime.Version(), files: []string{filepath.Join(root, "LICENSE"), filepath.Join(root, "PATENTS")}},
	}
	modules, err := partsOf(linked)
	if err != nil {
		return err
	}
	return write(to, slices.Concat(parts, modules, more))
}

// part is something that a program is made of.
type part struct {
	title string
	files []string // its terms
}

// module is a Go module in the module cache.
type module struct{ path, version, dir string }

// list adds to linked the modules that are in a program on one system, each with the
// folders of its packages.
func list(linked map[module][]string, folder, program, system, tags string) error {
	const line = "{{with .Module}}{{if not .Main}}{{.Path}}\t{{.Version}}\t{{.Dir}}\t{{$.Dir}}{{end}}{{end}}"
	cmd := exec.Command("go", "list", "-deps", "-tags", tags, "-f", line, program)
	cmd.Dir = folder
	cmd.Env = append(os.Environ(), "CGO_ENABLED=1", "GOARCH=amd64", "GOOS="+system)
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil {
		return fmt.Errorf("go list for %s: %w\n%s", system, err, &said)
	}
	for lines := bufio.NewScanner(bytes.NewReader(out)); lines.Scan(); {
		f := strings.Split(lines.Text(), "\t")
		if len(f) != 4 {
			continue // Go's library, or the program itself
		}
		m := module{path: f[0], version: f[1], dir: f[2]}
		if !slices.Contains(linked[m], f[3]) {
			linked[m] = append(linked[m], f[3])
		}
	}
	return nil
}

// partsOf finds the terms of modules, and names all that have none.
func partsOf(linked map[module][]string) ([]part, error) {
	var parts []part
	var faults []error
	for m, packages := range linked {
		files, err := terms(m.dir, packages)
		switch {
		case err != nil:
			faults = append(faults, err)
		case len(files) == 0:
			faults = append(faults, fmt.Errorf("%s %s has no file with its terms", m.path, m.version))
		}
		parts = append(parts, part{title: m.path + " " + m.version, files: files})
	}
	slices.SortFunc(parts, func(a, b part) int { return cmp.Compare(a.title, b.title) })
	return parts, errors.Join(faults...)
}

// terms returns the files with terms for packages of the module in dir. A file speaks
// for the nearest folder above it that has Go files, for what lies below that without
// (C, fonts), and at the top for all of the module.
func terms(dir string, packages []string) (files []string, err error) {
	err = filepath.WalkDir(dir, func(path string, entry os.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir() && entry.Name() == "testdata":
			return filepath.SkipDir
		case entry.IsDir() || !isTerms(path[len(dir):]):
			return nil
		}
		of := filepath.Dir(path)
		for of != dir && !hasGo(of) {
			of = filepath.Dir(of)
		}
		if of == dir || slices.Contains(packages, of) {
			files = append(files, path)
		}
		return nil
	})
	return files, err
}

// isTerms tells by its name, or its folder's, whether a file holds terms.
func isTerms(path string) bool {
	if filepath.Ext(path) == ".go" {
		return false
	}
	for name := range strings.SplitSeq(strings.ToLower(path), string(filepath.Separator)) {
		for _, word := range []string{"license", "licence", "copying", "notice", "patents"} {
			if strings.Contains(name, word) {
				return true
			}
		}
	}
	return false
}

func hasGo(dir string) bool {
	found, err := filepath.Glob(filepath.Join(dir, "*.go"))
	return err == nil && len(found) > 0
}

func write(to io.Writer, parts []part) error {
	var b bytes.Buffer
	b.WriteString("Earline is made of what follows, each under its own terms.\n\n")
	for _, p := range parts {
		fmt.Fprintf(&b, "  %s\n", p.title)
	}
	for _, p := range parts {
		for _, file := range p.files {
			text, err := os.ReadFile(file)
			if err != nil {
				return err
			}
			text = bytes.ReplaceAll(text, []byte("\r"), nil)
			fmt.Fprintf(&b, "\n%[1]s\n%[2]s: %[3]s\n%[1]s\n\n%[4]s\n", strings.Repeat("-", 72), p.title, filepath.Base(file), bytes.Trim(text, "\n"))
		}
	}
	_, err := to.Write(b.Bytes())
	return err
}
